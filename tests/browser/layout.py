"""Boxes: labels and lines of text keep apart, nothing is cut, pictures measure true, the page keeps to its width.

Units: CSS pixels.
"""

from pathlib import Path

from playwright.sync_api import Browser, Page

from chrome import opened, resize
from finding import Finding, of_page

# The narrowest that WCAG 2.2 asks for (1.4.10), two phones, a tablet, two desks.
WIDTHS = (320, 360, 390, 768, 1280, 1600)


def check(browser: Browser, path: Path) -> tuple[list[Finding], dict]:
    """At every width, everything unfolded, and folded at the narrowest; what is asked for; and without scripts."""
    with opened(browser, path, WIDTHS[0]) as page:
        findings = of_page(f"{WIDTHS[0]} px, folded", page.evaluate("measure.layout()")["faults"])
        page.evaluate("measure.openAll()")
        for width in WIDTHS:
            resize(page, width)
            result = page.evaluate("measure.layout()")
            findings += of_page(f"{width} px, unfolded", result["faults"])
        findings += of_page("every width", page.evaluate("measure.labels()"))
        findings += outside(page, path)
    return findings + without_scripts(browser, path, result["facts"]), result["facts"]


def outside(page: Page, path: Path) -> list[Finding]:
    """What the page said to the console, and what it asked for beside itself."""
    view = "all widths"
    findings = [Finding("console", view, "page", said, "silence") for said in page.said]
    foreign = [url for url in page.asked if url != path.as_uri() and not url.startswith("data:")]
    return findings + [Finding("request", view, "page", url, "none but the file itself") for url in foreign]


def without_scripts(browser: Browser, path: Path, with_scripts: dict) -> list[Finding]:
    """Whether the same is there for those who run no scripts."""
    with opened(browser, path, WIDTHS[-1], java_script_enabled=False) as page:
        page.evaluate("measure.openAll()")
        facts = page.evaluate("measure.layout()")["facts"]
    if facts == with_scripts:
        return []
    return [Finding("needs scripts", f"{WIDTHS[-1]} px", "page", f"{facts} without scripts", f"{with_scripts} as with them")]
