"""What a check says when something is wrong."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Finding:
    """One fault of a page: where it is, what was measured, and the bound it breaks."""

    check: str
    view: str
    element: str
    measured: str
    bound: str

    def __str__(self) -> str:
        return f"[{self.view}] {self.check}: {self.element}: {self.measured}, bound {self.bound}"


def of_page(view: str, faults: list[dict]) -> list[Finding]:
    """Findings from faults that were measured inside the page."""
    return [Finding(view=view, **fault) for fault in faults]
