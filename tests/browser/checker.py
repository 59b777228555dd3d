"""The accessibility checker axe-core: WCAG 2.0 to 2.2, A and AA, and its best practice.

It does not see into pictures, which are images with a name to those who listen; so what they are drawn of is
taken out before it runs.
"""

from pathlib import Path

import axe_playwright_python
from playwright.sync_api import Browser, Page

from chrome import opened, resize
from finding import Finding

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text()
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"]
# It is unsure of many colours of cells and captions, and slow about them.
OPTIONS = {
    "runOnly": {"type": "tag", "values": TAGS},
    "rules": {"color-contrast": {"enabled": False}},
    "resultTypes": ["violations"],
}
EMPTY = """document.querySelectorAll("svg[role=img] > :not(title, desc), svg[aria-hidden=true] > *")
    .forEach((part) => part.remove())"""


def check(browser: Browser, path: Path) -> tuple[list[Finding], dict]:
    """All rules on a desk and on a phone, everything unfolded. Colours are measured in `contrast`, in both modes."""
    with opened(browser, path) as page:
        page.evaluate("measure.openAll()")
        page.evaluate(EMPTY)
        page.evaluate(AXE)
        findings, rules = [], 0
        for width in (1280, 390):
            resize(page, width)
            result = page.evaluate("(options) => axe.run(document, options)", OPTIONS)
            rules += len(result["passes"])
            for rule in result["violations"]:
                findings += of_rule(f"{width} px", rule)
        return findings, {"axe rules passed": rules}


def of_rule(view: str, rule: dict) -> list[Finding]:
    """A finding for each place where a rule is broken."""
    return [
        Finding(f"axe {rule['id']}", view, " ".join(map(str, node["target"])), why(node), rule["help"])
        for node in rule["nodes"]
    ]


def why(node: dict) -> str:
    """What axe measured at a place."""
    return "; ".join(part["message"] for part in node["any"] + node["all"] + node["none"])
