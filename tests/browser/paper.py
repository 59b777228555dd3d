"""Printed: every picture is whole, on one sheet, at its true size, and no sheet is nearly empty.

Four links without ink, one in each corner of every picture, are printed with it; the PDF says on which sheet and where
each of them came to lie.

Units: mm on paper, from the lower left corner, unless a name says otherwise.
"""

import base64
import ctypes
import re
from dataclasses import dataclass

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw
from playwright.sync_api import Page

from chrome import HEIGHT
from finding import Finding, of_page

INCH, POINT = 25.4, 25.4 / 72
# Width and height.
SHEETS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
# The sides of the style sheet's margins: left, right, top, bottom.
MARGINS = (12.0, 12.0, 14.0, 12.0)
# Links are put out in whole pixels, and a little larger than their mark.
SLACK = 0.6
# A sheet, apart from the last, is used to this part of its height.
USED = 0.10

MARK = """() => {
    const SVG = "http://www.w3.org/2000/svg", SIDE = 0.5;
    return measure.pictures().map((picture, number) => {
        const view = picture.viewBox.baseVal;
        for (const [corner, x, y] of [[0, 0, 0], [1, 1, 0], [2, 0, 1], [3, 1, 1]]) {
            const link = document.createElementNS(SVG, "a"), mark = document.createElementNS(SVG, "rect");
            link.setAttribute("href", `https://mark.invalid/${number}/${corner}`);
            Object.entries({ x: view.x + x * (view.width - SIDE), y: view.y + y * (view.height - SIDE), width: SIDE, height: SIDE, fill: "transparent" })
                .forEach(([name, value]) => mark.setAttribute(name, value));
            link.append(mark);
            picture.append(link);
        }
        return { name: measure.nameOf(picture), width: parseFloat(picture.getAttribute("width")), height: parseFloat(picture.getAttribute("height")) };
    });
}"""


@dataclass(frozen=True)
class Corner:
    """Where a corner of a picture was printed."""

    sheet: int
    left: float
    right: float
    bottom: float
    top: float


def check(page: Page) -> tuple[list[Finding], dict]:
    """Both sheets, from a screen in dark mode; the words as they are laid out for paper."""
    findings, facts = [], {}
    for name, (width, height) in SHEETS.items():
        findings += words(page, name, width)
        page.emulate_media(media="null", color_scheme="dark")
        pictures = page.evaluate(MARK) if not facts else pictures
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
    text = ctypes.create_string_buffer(256)
    for number, sheet in enumerate(document):
        for i in range(raw.FPDFPage_GetAnnotCount(sheet.raw)):
            note, box = raw.FPDFPage_GetAnnot(sheet.raw, i), raw.FS_RECTF()
            action = raw.FPDFLink_GetAction(raw.FPDFAnnot_GetLink(note))
            raw.FPDFAction_GetURIPath(document.raw, action, text, 256)
            raw.FPDFAnnot_GetRect(note, box)
            raw.FPDFPage_CloseAnnot(note)
            if mark := re.search(rb"mark\.invalid/(\d+)/(\d)", text.value):
                key = int(mark[1]), int(mark[2])
                sides = (side * POINT for side in (box.left, box.right, box.bottom, box.top))
                found.setdefault(key, []).append(Corner(number + 1, *sides))
            text.value = b""
    return found


def places(name: str, size: tuple[float, float], pictures: list[dict], found: dict) -> list[Finding]:
    """Whether each picture lies whole within the margins of one sheet, at its size."""
    findings = []
    for number, picture in enumerate(pictures):
        marks = [mark for corner in range(4) for mark in found.get((number, corner), [])]
        on = sorted({mark.sheet for mark in marks})
        if len(marks) != 4 or len(on) != 1:
            findings.append(Finding("picture cut", name, picture["name"], f"{len(marks)} corners on sheets {on}", "4 corners on one sheet"))
            continue
        view = f"{name}, sheet {on[0]}"
        left, right = min(mark.left for mark in marks), max(mark.right for mark in marks)
        bottom, top = min(mark.bottom for mark in marks), max(mark.top for mark in marks)
        out = max(MARGINS[0] - left, right - size[0] + MARGINS[1], MARGINS[3] - bottom, top - size[1] + MARGINS[2])
        if out > SLACK:
            findings.append(Finding("picture in the margin", view, picture["name"], f"{out:.1f} mm", f"{SLACK} mm"))
        for side, measured in (("width", right - left), ("height", top - bottom)):
            if abs(measured - picture[side]) > SLACK + 0.005 * picture[side]:
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
