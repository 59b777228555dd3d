"""The keyboard: Tab reaches every link, every fold and every part that scrolls, and shows where it is.

Units: CSS pixels.
"""

from pathlib import Path

from playwright.sync_api import Browser, Page

from chrome import opened, resize
from contrast import ratio, rgb
from finding import Finding

# WCAG 2.2, 1.4.11: what shows the focus stands out from what lies beside it.
LEAST = 3.0

WANTED = """() => {
    const scrolls = (element) => ["X", "Y"].some((axis) =>
        ["auto", "scroll"].includes(getComputedStyle(element)[`overflow${axis}`])
        && (axis === "X" ? element.scrollWidth > element.clientWidth + 1 : element.scrollHeight > element.clientHeight + 1));
    globalThis.wanted = [...document.body.querySelectorAll("*")].filter((element) => measure.seen(element)
        && (element.matches("a[href], summary, button, input, select, textarea, [tabindex='0']") || scrolls(element)));
    return wanted.map(measure.nameOf);
}"""

FOCUSED = """() => {
    const element = document.activeElement, style = getComputedStyle(element), box = element.getBoundingClientRect();
    const ground = (up) => !up ? "rgb(255, 255, 255)"
        : getComputedStyle(up).backgroundColor === "rgba(0, 0, 0, 0)" ? ground(up.parentElement) : getComputedStyle(up).backgroundColor;
    const spots = [...element.getClientRects()].slice(0, 1).flatMap((rect) => [0.1, 0.5, 0.9].map((part) =>
        document.elementFromPoint(rect.left + part * Math.min(rect.width, innerWidth - 4), rect.top + Math.min(rect.height / 2, 200))));
    return {
        index: wanted.indexOf(element), name: measure.nameOf(element), body: element === document.body,
        outline: style.outlineStyle, width: parseFloat(style.outlineWidth), colour: style.outlineColor,
        ground: ground(element.parentElement), hidden: !spots.some((spot) => spot && (element.contains(spot) || spot.contains(element))),
    };
}"""


def check(browser: Browser, path: Path) -> tuple[list[Finding], dict]:
    """Tab through the page as it opens, on a desk and on a phone."""
    with opened(browser, path) as page:
        findings = []
        for width in (1280, 390):
            resize(page, width)
            findings += walk(page, f"{width} px")
        return findings, {"tab stops": page.evaluate("wanted.length")}


def walk(page: Page, view: str) -> list[Finding]:
    """One way through the page with Tab."""
    names = page.evaluate(WANTED)
    page.evaluate("document.activeElement.blur(), scrollTo(0, 0)")
    findings, met = [], set()
    for _ in range(len(names) + 20):
        page.keyboard.press("Tab")
        at = page.evaluate(FOCUSED)
        if at["body"] or at["index"] in met:
            break
        met.add(at["index"])
        findings += shown(view, at)
    missing = [name for i, name in enumerate(names) if i not in met]
    return findings + [Finding("not reached by Tab", view, name, "not reached", "every link, fold and scroller") for name in missing]


def shown(view: str, at: dict) -> list[Finding]:
    """Whether somebody sees where the focus is."""
    findings = []
    if at["outline"] == "none" or at["width"] < 1:
        findings.append(Finding("focus not visible", view, at["name"], f"outline {at['outline']} {at['width']} px", "an outline"))
    elif at["outline"] != "auto" and ratio(rgb(at["colour"]), rgb(at["ground"])) < LEAST:
        measured = f"{ratio(rgb(at['colour']), rgb(at['ground'])):.2f}"
        findings.append(Finding("focus not visible", view, at["name"], measured, f"{LEAST}"))
    if at["hidden"]:
        findings.append(Finding("focus covered", view, at["name"], "something lies over it", "seen (WCAG 2.4.11)"))
    return findings
