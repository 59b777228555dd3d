"""Faults that are known, and wait to be mended. The list only gets shorter: one that is not found any more fails too."""

import re
from fnmatch import fnmatch
from typing import NamedTuple

from finding import Finding


class Known(NamedTuple):
    """Pages, the module that finds it, what the finding says, and why it is there still."""

    pages: str
    check: str
    said: str
    reason: str


KNOWN: list[Known] = []


def sorted_out(page: str, check: str, findings: list[Finding]) -> tuple[list[Finding], list[str]]:
    """Findings that nobody knew of, and known ones that are gone from this page."""
    here = [known for known in KNOWN if fnmatch(page, known.pages) and known.check == check]
    new = [finding for finding in findings if not any(re.search(known.said, str(finding)) for known in here)]
    gone = [known for known in here if not any(re.search(known.said, str(finding)) for finding in findings)]
    return new, [f"{known.pages} {known.said}" for known in gone]
