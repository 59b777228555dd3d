"""Faults that are known, and wait to be mended. The list only gets shorter: one that nobody finds any more fails too."""

import re
from typing import NamedTuple

from finding import Finding


class Known(NamedTuple):
    """The module that finds it, what the finding says (a pattern), and why it is there still."""

    check: str
    said: str
    reason: str


KNOWN = [
    Known("checker", r"axe landmark-unique", "sections and the scrollers in them have one name"),
    Known("checker", r"axe scrollable-region-focusable: .*figure", "a figure scrolls on a phone, and has no tabindex"),
    Known("contrast", r"text contrast: “\d” in “Edge thickness round", "the edge's line and its hands run over numbers of rings"),
    Known("contrast", r"line contrast: line <path> #(d0d0d0|303030) in “Thickness map", "some lines are too like the bands beside them"),
    Known("contrast", r"line contrast: surface <circle> f-accent in “Thickest edge", "dots lie close together on lines"),
    Known("paper", r"sheet nearly empty", "a card ends with a line on the next sheet"),
]


def sorted_out(check: str, findings: list[Finding]) -> tuple[list[Finding], list[int]]:
    """Findings that nobody knew of, and the places in the list of those that are known."""
    new, met = [], set()
    for finding in findings:
        places = [i for i, known in enumerate(KNOWN) if known.check == check and re.search(known.said, str(finding))]
        met.update(places)
        if not places:
            new.append(finding)
    return new, sorted(met)
