"""Faults that are known, and wait to be mended. The list only gets shorter: one that nobody finds any more fails too."""

import re
from typing import NamedTuple

from finding import Finding


class Known(NamedTuple):
    """The module that finds it, what the finding says (a pattern), and why it is there still."""

    check: str
    said: str
    reason: str


KNOWN: list[Known] = []


def sorted_out(check: str, findings: list[Finding]) -> tuple[list[Finding], list[int]]:
    """Findings that nobody knew of, and the places in the list of those that are known."""
    new, met = [], set()
    for finding in findings:
        places = [i for i, known in enumerate(KNOWN) if known.check == check and re.search(known.said, str(finding))]
        met.update(places)
        if not places:
            new.append(finding)
    return new, sorted(met)
