"""What an order means: box, reference point, index, blank and prescription of a lens, from its job and the shelf.
"""

import surfacing
from textbook import Textbook


def box_of(lens, outline):
    """Of a built-in shape as it was asked for; of a measured one that of the curve."""
    frame = lens.frame
    return outline.box() if lens.form else (frame["eye_sizes_mm"][0], frame["depth_mm"])


def nose(lens):
    return 1 if lens.eye == "right" else -1


def reference_point(lens, outline):
    """From the boxed centre: toward +x, up."""
    return in_box(lens, *box_of(lens, outline))


def in_box(lens, width, depth):
    """The reference point in a box of this size."""
    inward = (width + lens.frame["bridge_mm"]) / 2 - lens.rx["pd_mm"]
    return nose(lens) * inward, lens.frame["optical_centre_height_mm"] - depth / 2


def blank_row(lens, shelf):
    """The semi-finished blanks of its base curve."""
    rows = shelf[lens.option["material"]]["semi_finished"]
    return next(row for row in rows if row["base_curve_d"] == lens.option["base_curve_d"])


def stock_row(lens, shelf):
    """The first row that covers the power."""
    rx = lens.rx
    for row in shelf[lens.option["material"]]["stock"]:
        if row["sphere"][0] <= rx["sphere"] <= row["sphere"][1] and row["cylinder_to"] <= rx.get("cylinder", 0):
            return row
    raise ValueError("no row covers the power")


def is_stock(lens):
    return lens.option.get("supply") == "stock"


def is_listed(lens):
    return not isinstance(lens.option["material"], dict)


def substance(lens, shelf):
    """Index and density."""
    material = lens.option["material"]
    if isinstance(material, dict):
        return material["index"], material["density"]
    return shelf[material]["n_d"], shelf[material]["density"]


def blank_of(lens, shelf, outline, at):
    if is_stock(lens):
        return surfacing.Blank(outline, at, stock_row(lens, shelf)["diameters_mm"])
    listed = blank_row(lens, shelf)["diameters_mm"] if is_listed(lens) else surfacing.INLINE_DIAMETERS
    return surfacing.Blank(outline, at, listed)


def textbook(lens, shelf, m):
    base = stock_row(lens, shelf)["base_curve_d"] if is_stock(lens) else lens.option["base_curve_d"]
    return Textbook(lens.rx, lens.eye, substance(lens, shelf)[0], base, m)


def sides(lens):
    """The names of right, top, left and bottom."""
    return ("nasal", "top", "temporal", "bottom") if lens.eye == "right" else ("temporal", "top", "nasal", "bottom")
