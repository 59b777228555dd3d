"""Differences as a table: within bounds, and kept in results.md in powers of ten, which are the same on every machine."""

import math
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import dispersion
import lenses

KEPT = Path(__file__).parent / "results.md"
ACCURACY = Path(__file__).parents[2] / "docs" / "accuracy.md"
OPEN, CLOSE = "<!-- worst -->", "<!-- /worst -->"
# Rows of places and directions: results.md alone has them.
TOLD = " told"
# No hard case is met less often.
LEAST_MET = 4

# Where nothing else is said, mm. Doubles hold the textbook's square roots to 1e-13 and what hangs on a search to 1e-9; the
# kernel's own tolerance for a point is 1e-7.
PLAIN = {"quadrature": 1e-8, "thirty digits": 1e-12, "CAD solid": 1e-6, "traced form": 1e-2}
BOUNDS = {
    # As promised in docs/model.md.
    ("quadrature", "volume, share of it"): 1e-7,
    ("thirty digits", "volume, share of it"): 1e-7,
    ("thirty digits", "thickest edge"): 1e-7,
    ("thirty digits", "thinnest edge"): 1e-7,
    # As promised for a groove on an edge that is hardly thicker: tests/core/edging.rs.
    ("quadrature", "taken by edging, share of it"): 1e-4,
    ("quadrature", "mass, share of it"): 5e-6,
    ("quadrature", "swarf, share of it"): 5e-6,
    # A bevel that is moved by what the edge has room for has kinks; where it lies is worked over the nodes of the outline.
    ("quadrature", "bevel behind the front, least"): 1e-4,
    ("quadrature", "bevel behind the front, most"): 1e-4,
    ("quadrature", "bevel moved"): 1e-4,
    ("quadrature", "bevel moved, where told"): 1e-4,
    ("quadrature", "bevel off the rim"): 1e-4,
    ("quadrature", "bevel off the rim, where told"): 1e-4,
    ("quadrature", "curve of the bevel, D"): 2e-3,
    # A chamfer is worked on faces that are straight inward, here on the curved ones.
    ("quadrature", "taken off by chamfers, share of it"): 2e-2,
    ("quadrature", "mass of that, share of it"): 2e-2,
    # A place on the outline is told to this.
    ("quadrature", "thickest place told, outside the shape"): 1e-6,
    ("quadrature", "thinnest place told, outside the shape"): 1e-6,
    # As promised in docs/model.md of traces rounded to 0.01 mm; their own box, by which they are scaled, is sure to 0.01 mm,
    # and an outline lies off by three quarters of that and by what scaling makes of it.
    ("traced form", "volume, share of it"): 3e-4,
    ("traced form", "area, share of it"): 3e-4,
    ("traced form", "volume where scaled, share of it"): 1e-3,
    ("traced form", "area where scaled, share of it"): 1e-3,
    ("traced form", "outline off it"): 2e-2,
}


# What is asked first: its bound, and the reference and the word of the rows that it is taken from.
FIRST = (
    ("volume, share of it, against the solid of a CAD kernel", 1e-6, "CAD solid", "volume"),
    ("thickness, mm, against thirty digits", 1e-7, "thirty digits", "edge"),
)


@dataclass
class Row:
    """All differences of one quantity from one reference."""

    reference: str
    name: str
    lenses: int
    median: float
    worst: float
    where: Any

    @property
    def bound(self):
        return BOUNDS.get((self.reference, self.name), PLAIN[self.reference])


def first(rows):
    """Those two: what it is, the worst over their rows, how many lenses, the bound."""
    for name, bound, reference, word in FIRST:
        chosen = [row for row in rows if row.reference == reference and word in row.name]
        yield name, max(row.worst for row in chosen), min(row.lenses for row in chosen), bound


def first_table(rows):
    lines = ["| worst difference of | lenses | worst | bound |", "|---|---|---|---|"]
    return lines + [f"| {name} | {count} | 1e{decade(off)} | within {bound:.0e} |" for name, off, count, bound in first(rows)]


def faults(rows, met):
    """Bounds passed and hard cases not met."""
    found = [
        f"{row.name} against {row.reference}: {row.worst:.1e} off, bound {row.bound}: {row.where.job}, {row.where.eye}"
        for row in rows
        if not row.worst <= row.bound
    ]
    found += [f"worst {name}: {off:.1e}, bound {bound}" for name, off, _, bound in first(rows) if not off <= bound]
    wanted = set(met) | set(lenses.SHAPES) | set(lenses.RIMS)
    return found + [f"only {met.get(k, 0)} lenses of: {k}" for k in sorted(wanted) if met.get(k, 0) < LEAST_MET]


def decade(value):
    """The power of ten that a difference stays below; below 1e-15 there is only rounding."""
    return max(-15, math.floor(math.log10(value)) + 1) if value > 0 else -15


def exact(rows, met, refused):
    """All digits, for the screen."""
    lines = [
        f"{row.reference:14} {row.name:34} {row.lenses:4} lenses  median {row.median:8.1e}  worst {row.worst:8.1e}"
        f"  bound {row.bound:.0e}"
        for row in rows
    ]
    return "\n".join(lines + [cases(met), f"{refused} pairs could not be made"])


def cases(met):
    return ", ".join(f"{kind} {count}" for kind, count in met.items())


def page(rows, met, refused, indices):
    lines = [
        "# How far the program is from references outside it",
        "",
        "Written and held by `tests/reference/run.py`, which `tests/run` calls. What the references are is told in [the tests'",
        "README](../README.md#references-outside-the-program), what it means for a user in",
        "[docs/accuracy.md](../../docs/accuracy.md). Lengths in mm; each difference is below the number given. *Told* is a place or",
        "a direction that the program tells: what is measured there is held to the extreme, and the place lies in the shape.",
        "",
        *first_table(rows),
        "",
        "All of them:",
        "",
        "| reference | quantity | lenses | median | worst | bound |",
        "|---|---|---|---|---|---|",
    ]
    lines += [
        f"| {row.reference} | {row.name} | {row.lenses} | 1e{decade(row.median)} | 1e{decade(row.worst)}"
        f" | within {row.bound:.0e} |"
        for row in rows
    ]
    lines += ["", f"The cases met: {cases(met)}. {refused} pairs of the chance's choice could not be made.", ""]
    lines += ["## Indices and Abbe numbers against open data", "", dispersion.table(indices), ""]
    lines.append(f"No open data for {', '.join(f'`{name}`' for name in dispersion.NO_DATA)}: common practice.")
    return "\n".join(lines) + "\n"


def worst(rows):
    """The worst of every quantity, a column a reference: the table of docs/accuracy.md."""
    references = list(dict.fromkeys(row.reference for row in rows))
    found = {(row.name, row.reference): f"1e{decade(row.worst)}" for row in rows}
    lines = [f"| quantity | {' | '.join(references)} |", "|" + "---|" * (1 + len(references))]
    for name in dict.fromkeys(row.name for row in rows if TOLD not in row.name):
        lines.append(f"| {name} | {' | '.join(found.get((name, reference), '–') for reference in references)} |")
    return "\n".join(lines)


def keep(rows, met, refused, indices, update):
    """Writes results.md and the table of docs/accuracy.md, or holds them to this run: the same rows, and no difference that
    has grown tenfold."""
    faults = kept(KEPT, page(rows, met, refused, indices), update)
    before, rest = ACCURACY.read_text().split(OPEN)
    after = rest.split(CLOSE)[1]
    return faults + kept(ACCURACY, f"{before}{OPEN}\n{worst(rows)}\n{CLOSE}{after}", update)


def kept(path, text, update):
    if update:
        path.write_text(text)
    old, new = (path.read_text() if path.exists() else "").splitlines(), text.splitlines()
    if len(old) != len(new):
        return [f"{path.name} is of another run: write it anew with UPDATE=1, and read the difference"]
    return [f"{path.name} has\n  {a}\nand this run\n  {b}" for a, b in zip(old, new) if not agree(a, b)]


def agree(old, new):
    """Equal, but for powers of ten that lie next to each other or have become smaller. Bounds have a
    word before them, and do not move."""
    olds, news = old.split(" | "), new.split(" | ")
    if len(olds) != len(news):
        return False
    return all(a == b or near(a, b) for a, b in zip(olds, news))


def near(old, new):
    powers = [re.fullmatch(r"1e(-\d+)(?: \|)?", cell) for cell in (old, new)]
    return all(powers) and int(powers[1][1]) <= int(powers[0][1]) + 1
