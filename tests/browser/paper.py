"""Printed: every picture is whole, on one sheet, at its true size, and no sheet is nearly empty.

Four small squares, one in each corner of every picture, are printed with it. Their colours say which they are; the PDF
says on which sheet each of them came to lie, and where.

Units: mm on paper, from the lower left corner, unless a name says otherwise.
"""

import base64
import ctypes
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw
from playwright.sync_api import Browser, Page

from chrome import HEIGHT, opened
from finding import Finding, of_page

INCH, POINT = 25.4, 25.4 / 72
# Width and height.
SHEETS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
# The sides of the style sheet's margins: left, right, top, bottom.
MARGINS = (12.0, 12.0, 13.0, 11.0)
# What the rounding of the layout to whole pixels may move.
SLACK = 0.3
# A sheet, apart from the last, is used to this part of its height.
USED = 0.10

MARK = """() => measure.pictures().map((picture, number) => {
    const SIDE = 0.5, view = picture.viewBox.baseVal;
    for (const [corner, x, y] of [[0, 0, 0], [1, 1, 0], [2, 0, 1], [3, 1, 1]]) {
        const mark = document.createElementNS("http://www.w3.org/2000/svg", "rect");
        const place = { x: view.x + x * (view.width - SIDE), y: view.y + y * (view.height - SIDE), width: SIDE, height: SIDE };
        Object.entries(place).forEach(([name, value]) => mark.setAttribute(name, value));
        mark.style.cssText = `fill: rgb(${250 + corner}, ${number >> 8}, ${number & 255}); stroke: none; print-color-adjust: exact`;
        picture.append(mark);
    }
    const [width, height] = ["width", "height"].map((side) => parseFloat(picture.getAttribute(side)));
    return { name: measure.nameOf(picture), width, height };
})"""


@dataclass(frozen=True)
class Corner:
    """Where a corner of a picture was printed."""

    sheet: int
    left: float
    right: float
    bottom: float
    top: float


def check(browser: Browser, path: Path) -> tuple[list[Finding], dict]:
    """Both sheets, from a screen in dark mode; the words as they are laid out for paper."""
    with opened(browser, path) as page:
        findings, facts = [], {}
        for name, (width, _) in SHEETS.items():
            findings += words(page, name, width)
        page.emulate_media(media="null", color_scheme="dark")
        pictures = page.evaluate(MARK)
        for name, (width, height) in SHEETS.items():
            document = pdfium.PdfDocument(printed(page, width, height))
            findings += places(name, (width, height), pictures, corners(document))
            findings += sheets(name, document)
            facts[f"sheets of {name}"] = len(document)
        return findings, facts


def printed(page: Page, width: float, height: float) -> bytes:
    """The page as a PDF."""
    wanted = {"paperWidth": width / INCH, "paperHeight": height / INCH, "preferCSSPageSize": False, "printBackground": False}
    return base64.b64decode(page.context.new_cdp_session(page).send("Page.printToPDF", wanted)["data"])


def words(page: Page, name: str, width: float) -> list[Finding]:
    """Faults of the layout in a window as wide as the sheet's inside."""
    page.emulate_media(media="print", color_scheme="light")
    page.set_viewport_size({"width": round((width - MARGINS[0] - MARGINS[1]) / INCH * 96), "height": HEIGHT})
    return of_page(f"{name}, print layout", page.evaluate("measure.layout()")["faults"])


def corners(document: pdfium.PdfDocument) -> dict[tuple[int, int], list[Corner]]:
    """The marks in the document: picture and corner to where they lie."""
    found: dict[tuple[int, int], list[Corner]] = {}
    for number, sheet in enumerate(document, 1):
        for i in range(raw.FPDFPage_CountObjects(sheet.raw)):
            drawn = raw.FPDFPage_GetObject(sheet.raw, i)
            if raw.FPDFPageObj_GetType(drawn) != raw.FPDF_PAGEOBJ_PATH:
                continue
            red, green, blue, _ = numbers(raw.FPDFPageObj_GetFillColor, drawn, ctypes.c_uint)
            if 250 <= red <= 253:
                left, bottom, right, top = (side * POINT for side in numbers(raw.FPDFPageObj_GetBounds, drawn, ctypes.c_float))
                if max(right - left, top - bottom) < 1:
                    found.setdefault((green << 8 | blue, red - 250), []).append(Corner(number, left, right, bottom, top))
    return found


def numbers(what: object, drawn: object, kind: type) -> list:
    """The four numbers that PDFium says of something drawn."""
    four = [kind() for _ in range(4)]
    what(drawn, *four)
    return [number.value for number in four]


def places(name: str, size: tuple[float, float], pictures: list[dict], found: dict) -> list[Finding]:
    """Whether each picture lies whole within the margins of one sheet, at its size; so where it is shown again."""
    findings = []
    for number, picture in enumerate(pictures):
        shown: dict[int, list[list[Corner]]] = {}
        for corner in range(4):
            for mark in found.get((number, corner), []):
                shown.setdefault(mark.sheet, [[], [], [], []])[corner].append(mark)
        counts = {sheet: [len(marks) for marks in corners] for sheet, corners in shown.items()}
        if not counts or any(len(set(count)) != 1 for count in counts.values()):
            findings.append(Finding("picture cut", name, picture["name"], f"corners by sheet {counts}", "4 on one sheet"))
            continue
        for sheet, all_corners in shown.items():
            for four in zip(*all_corners, strict=True):
                findings += place(f"{name}, sheet {sheet}", size, picture, four)
    return findings


def place(view: str, size: tuple[float, float], picture: dict, four: tuple[Corner, ...]) -> list[Finding]:
    """Whether a picture with these corners lies within the margins, at its size."""
    findings = []
    left, right = min(mark.left for mark in four), max(mark.right for mark in four)
    bottom, top = min(mark.bottom for mark in four), max(mark.top for mark in four)
    out = max(MARGINS[0] - left, right - size[0] + MARGINS[1], MARGINS[3] - bottom, top - size[1] + MARGINS[2])
    if out > SLACK:
        findings.append(Finding("picture in the margin", view, picture["name"], f"{out:.1f} mm", f"{SLACK} mm"))
    for side, measured in (("width", right - left), ("height", top - bottom)):
        if abs(measured - picture[side]) > SLACK:
            findings.append(Finding("picture not true", view, picture["name"], f"{side} {measured:.1f} mm", f"{picture[side]} mm"))
    return findings


def sheets(name: str, document: pdfium.PdfDocument) -> list[Finding]:
    """Whether sheets are white, and used."""
    findings = []
    for number, sheet in enumerate(document, 1):
        pixels = sheet.render(scale=0.5, grayscale=True).to_numpy()
        pixels = pixels.reshape(pixels.shape[0], -1)
        per_mm = 0.5 / POINT
        inside = pixels[int(MARGINS[2] * per_mm) : -int(MARGINS[3] * per_mm)]
        rows = np.flatnonzero(inside.min(axis=1) < 200)
        used = (rows[-1] - rows[0] + 1) / inside.shape[0] if rows.size else 0.0
        view = f"{name}, sheet {number}"
        if number < len(document) and used < USED:
            findings.append(Finding("sheet nearly empty", view, "sheet", f"{used:.0%} of its height used", f"{USED:.0%}"))
        if np.median(pixels) < 250:
            findings.append(Finding("sheet not white", view, "sheet", f"median {np.median(pixels):.0f}", "250 of 255"))
    return findings
