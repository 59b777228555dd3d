"""Contrast of what pictures show, against what is really behind it, by the pixels of screenshots.

A text is measured where its letters are: a screenshot with letters tells where, one without them tells the ground. A
line is measured against the ground on both sides, and has to stand out from one of them: the outline of something dark
stands out from what is outside. Words outside pictures are measured against the ground that the style sheet gives
them; that nothing else lies there is checked in `layout`.

Units: CSS pixels; contrast as WCAG 2 has it, 1 to 21.
"""

import re
from pathlib import Path

import numpy as np
from playwright.sync_api import Browser, Page

from chrome import Camera, ask, opened
from finding import Finding

# WCAG 2.2, 1.4.3 and 1.4.11. A picture's texts are all counted as small.
TEXT, LARGE, LINE = 4.5, 3.0, 3.0
# How much of a text or a line may have less (ours): where a thin line passes under a letter, or an end meets another.
TEXT_SHARE, LINE_SHARE = 0.05, 0.34
# Pictures are taken together up to this height, so that there are few screenshots.
BAND = 4000
# What is hidden for a look.
LETTERS, LINES = "no-letters", "no-letters no-lines"
# A pixel shows a letter if it changes by this much when letters go (0 to 765).
CHANGED = 60


def rgb(colour: str) -> np.ndarray:
    """A colour as the browser says it."""
    return np.array([float(part) for part in re.findall(r"[\d.]+", colour)[:3]])


def luminance(colours: np.ndarray) -> np.ndarray:
    """Relative luminance (WCAG 2, from IEC 61966-2-1) of colours of 0 to 255 in the last axis."""
    part = np.asarray(colours, dtype=float) / 255
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return linear @ np.array([0.2126, 0.7152, 0.0722])


def ratio(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """Contrast of colours."""
    a, b = luminance(one), luminance(other)
    return (np.maximum(a, b) + 0.05) / (np.minimum(a, b) + 0.05)


def check(browser: Browser, path: Path) -> tuple[list[Finding], dict]:
    """Every text and every line of every picture, light and dark, at one width: pictures are the same at all."""
    with opened(browser, path) as page:
        page.evaluate("measure.openAll()")
        pictures = ask(page, "marks.all()")
        findings, facts, colours = [], {"texts": 0, "lines": 0, "least text": 21.0, "least line": 21.0}, {}
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            colours[scheme] = ask(page, "marks.colours()")
            findings += of_words(ask(page, "measure.words()"), scheme, facts)
        seen = looks(page, pictures)
    for i, picture in enumerate(pictures):
        for scheme in ("light", "dark"):
            findings += of_picture(picture, colours[scheme][i], {kind: seen[kind][i] for kind in seen}, scheme, facts)
    return findings, facts


def of_words(words: list[dict], scheme: str, facts: dict) -> list[Finding]:
    """Whether words outside pictures stand out; large ones (24 px, or 18.66 px and bold) may do so less."""
    findings = []
    for word in words:
        view, bound = f"1280 px, {scheme}", LARGE if word["size"] >= (18.66 if word["weight"] >= 700 else 24) else TEXT
        if word["ground"] is None:
            findings.append(Finding("text contrast", view, word["name"], "the ground is not plain", "a plain ground"))
            continue
        found = float(ratio(rgb(word["colour"]), rgb(word["ground"])))
        facts["least text"] = min(facts["least text"], round(found, 2))
        if found < bound:
            findings.append(Finding("text contrast", view, word["name"], f"{found:.2f}", f"{bound}"))
    return findings


def bands(pictures: list[dict]) -> list[list[int]]:
    """The pictures in groups, each of which fits into one screenshot."""
    groups, top = [], None
    for i in sorted(range(len(pictures)), key=lambda i: pictures[i]["box"]["top"]):
        if top is None or pictures[i]["box"]["bottom"] - top > BAND:
            groups.append([])
            top = pictures[i]["box"]["top"]
        groups[-1].append(i)
    return groups


def looks(page: Page, pictures: list[dict]) -> dict[tuple[str, str], list[list[np.ndarray]]]:
    """By mode and what is hidden, for each picture: the pixels of its texts; with lines hidden, those beside its lines.

    One look after the other, since each change makes the browser work through the whole page.
    """
    camera, taken = Camera(page, 1280, BAND + 20), {}
    for scheme, hidden in (("light", ""), *((mode, what) for mode in ("light", "dark") for what in (LETTERS, LINES))):
        page.emulate_media(color_scheme=scheme)
        page.evaluate("(hidden) => marks.show(hidden)", hidden)
        cut = beside_lines if hidden == LINES else texts
        taken[scheme, hidden] = [[]] * len(pictures)
        for band in bands(pictures):
            boxes = [pictures[i]["box"] for i in band]
            left, top = (int(min(box[side] for box in boxes)) for side in ("left", "top"))
            right, bottom = (int(max(box[side] for box in boxes)) + 2 for side in ("right", "bottom"))
            pixels = camera.shot((left, top, right - left, bottom - top))
            for i in band:
                taken[scheme, hidden][i] = cut(pictures[i], pixels, (left, top))
    return taken


def texts(picture: dict, pixels: np.ndarray, corner: tuple[int, int]) -> list[np.ndarray]:
    """The pixels in the boxes of a picture's texts."""
    parts = []
    for text in picture["texts"]:
        left, right, top, bottom = (text["box"][side] - corner[side in ("top", "bottom")] for side in ("left", "right", "top", "bottom"))
        parts.append(pixels[max(int(top), 0) : int(bottom) + 1, max(int(left), 0) : int(right) + 1].copy())
    return parts


def beside_lines(picture: dict, pixels: np.ndarray, corner: tuple[int, int]) -> list[np.ndarray]:
    """The pixels round points of a picture's lines, in eight directions."""
    parts, turn = [], np.arange(8) * np.pi / 4
    round_about = np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    for line in picture["lines"]:
        points = np.array(line["points"]).reshape(-1, 2) - corner
        around = points[:, None, :] + (line["width"] / 2 + 1.5) * round_about
        x = np.clip(around[..., 0].astype(int), 0, pixels.shape[1] - 1)
        y = np.clip(around[..., 1].astype(int), 0, pixels.shape[0] - 1)
        parts.append(pixels[y, x])
    return parts


def of_picture(picture: dict, colours: dict, seen: dict, scheme: str, facts: dict) -> list[Finding]:
    """What is hard to see in a picture."""
    findings, view = [], f"1280 px, {scheme}"
    for i, (text, colour) in enumerate(zip(picture["texts"], colours["texts"], strict=True)):
        element = f"“{text['text']}” in “{picture['name']}”"
        shown, light, ground = (seen[kind][i] for kind in (("light", ""), ("light", LETTERS), (scheme, LETTERS)))
        findings += of_text(view, element, rgb(colour), (shown, light, ground), facts)
    for i, (line, colour) in enumerate(zip(picture["lines"], colours["lines"], strict=True)):
        element = f"{line['name']} in “{picture['name']}”"
        findings += of_line(view, element, rgb(colour), seen[scheme, LINES][i], facts)
    return findings


def of_text(view: str, element: str, colour: np.ndarray, pixels: tuple, facts: dict) -> list[Finding]:
    """Whether the letters stand out from what lies behind them, and whether they are there at all."""
    shown, light, ground = pixels
    letters = np.abs(shown.astype(int) - light.astype(int)).sum(axis=-1) > CHANGED
    if not letters.any():
        return [Finding("text not seen", view, element, "no pixel", "letters")]
    found = ratio(ground[letters], colour)
    least, low = float(np.quantile(found, TEXT_SHARE)), float((found < TEXT).mean())
    facts["texts"] += 1
    facts["least text"] = min(facts["least text"], round(least, 2))
    if low <= TEXT_SHARE:
        return []
    return [Finding("text contrast", view, element, f"{least:.2f}, {low:.0%} of the letters under the bound", f"{TEXT}")]


def of_line(view: str, element: str, colour: np.ndarray, around: np.ndarray, facts: dict) -> list[Finding]:
    """Whether a line stands out from the ground on one of its sides along most of its length."""
    if not around.size:
        return []
    best = ratio(around, colour).max(axis=1)
    low, least = float((best < LINE).mean()), float(np.quantile(best, LINE_SHARE))
    facts["lines"] += 1
    facts["least line"] = min(facts["least line"], round(least, 2))
    if low <= LINE_SHARE:
        return []
    return [Finding("line contrast", view, element, f"{least:.2f}, {low:.0%} of it under the bound", f"{LINE}")]
