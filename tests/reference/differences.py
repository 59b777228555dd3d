"""What the references make of one lens, and how far the program is from each.

Every number of the program is set against one worked here from the job alone, but for the path of the outline and, where it
says so, the centre thickness.
"""

import math

import exact
import mpmath
import numpy as np
import quadrature
import solid
from outline import Outline
from textbook import Textbook


def reference_point(lens):
    """From the boxed centre: toward +x, up."""
    frame, nose = lens.frame, 1 if lens.eye == "right" else -1
    inward = (frame["eye_sizes_mm"][0] + frame["bridge_mm"]) / 2 - lens.rx["pd_mm"]
    return nose * inward, frame["optical_centre_height_mm"] - frame["depth_mm"] / 2


def stock_row(lens, shelf):
    """The first row that covers the power."""
    rx = lens.rx
    for row in shelf[lens.option["material"]]["stock"]:
        if row["sphere"][0] <= rx["sphere"] <= row["sphere"][1] and row["cylinder_to"] <= rx.get("cylinder", 0):
            return row
    raise ValueError("no row covers the power")


def textbook(lens, shelf, m):
    material = lens.option["material"]
    if isinstance(material, dict):
        return Textbook(lens.rx, lens.eye, material["index"], lens.option["base_curve_d"], m)
    return Textbook(lens.rx, lens.eye, shelf[material]["n_d"], stock_row(lens, shelf)["base_curve_d"], m)


def sides(lens):
    """The names of right, top, left and bottom."""
    return ("nasal", "top", "temporal", "bottom") if lens.eye == "right" else ("temporal", "top", "nasal", "bottom")


def settled(lens, shelf, book, outline, at):
    """The centre thickness, worked from the demands."""
    found = -lens.told["back"]["vertex"][2]
    if lens.option.get("supply") == "stock":
        row = stock_row(lens, shelf)
        wanted = 2 * (outline.farthest(*at) + quadrature.ALLOWANCE)
        diameter = min(d for d in row["diameters_mm"] if d >= wanted)
        return quadrature.stock(book, row, diameter), found
    minima = lens.option["min_centre_mm"], lens.option["min_edge_mm"]
    return quadrature.surfaced(book, outline, at, minima, found), found


def by_quadrature(lens, shelf, outline, at):
    """Everything in double precision, on the reference's own centre thickness."""
    book, ours, thickness = textbook(lens, shelf, np), lens.ours, lens.ours["thickness"]
    t, found = settled(lens, shelf, book, outline, at)
    mounted = quadrature.Mounted(book.at(t), outline, at)
    volume, removed = mounted.volume(), mounted.removed(lens.frame["rim"])
    least, most = mounted.edge(), mounted.edge(least=False)
    inside = [float(mounted.field(*at))] if outline.nearest(*at) >= 0 else []
    low = mounted.lowest() if mounted.solid.tilt is not None else None
    low = [float(mounted.field(low[0], low[1]))] if low else []
    material = lens.option["material"]
    density = (material if isinstance(material, dict) else shelf[material])["density"]
    farthest = outline.farthest(*at)
    found = {
        "centre thickness": (found, t),
        "thickest edge": (thickness["edge_max_mm"], most),
        "thinnest edge": (thickness["edge_min_mm"], least),
        "thinnest anywhere": (thickness["thinnest_mm"], min([least] + inside + low)),
        "bulge": (ours["bulge_mm"], float(mounted.solid.circle(book.front_radius, farthest))),
        "smallest blank": (ours["blank"]["minimum_mm"], 2 * (farthest + quadrature.ALLOWANCE)),
        "effective diameter": (ours["outline"]["effective_diameter_mm"], 2 * outline.farthest(0, 0)),
        "perimeter": (ours["outline"]["perimeter_mm"], outline.perimeter()),
        "area, share of it": share(ours["outline"]["area_mm2"], outline.area()),
        "volume, share of it": share(ours["volume_mm3"], volume),
        "taken by edging, share of it": share(ours["edging_removed_mm3"], removed),
        "mass, share of it": share(ours["mass_g"], density * (volume - removed) / 1000),
    }
    if (shoulder := mounted.shoulder(lens.frame["rim"])) is not None:
        found["thickest shoulder"] = thickness["shoulder_max_mm"], shoulder
    return found


def share(ours, theirs):
    return ours / theirs, 1.0


def by_digits(lens, shelf, outline, at, rule):
    """To thirty digits, at the program's own centre thickness; the volume where a rule is given."""
    book = textbook(lens, shelf, mpmath)
    made = book.at(mpmath.mpf(-lens.told["back"]["vertex"][2]))
    found = extremes_by_digits(lens, shelf, outline, at, made)
    for side, point in zip(sides(lens), exact.crossings(outline)):
        found[f"{side} edge"] = lens.ours["thickness"][f"{side}_mm"], exact.thickness(made, at, point)
    for name, ours, theirs in (
        ("front curvature × 100 mm", lens.ours["front"]["radius_mm"], book.front_radius),
        ("back curvature along × 100 mm", lens.ours["back"]["radii_mm"][0], made.along),
        ("back curvature across × 100 mm", lens.ours["back"]["radii_mm"][1], made.across),
    ):
        found[name] = 100 / ours if ours else 0, 100 / theirs if theirs else 0
    if rule:
        volume = exact.volume(made, outline, at, rule)
        found["volume, share of it"] = lens.ours["volume_mm3"] / volume, 1
    return found


def extremes_by_digits(lens, shelf, outline, at, made):
    """The thickest and the thinnest edge: from the places that doubles find."""
    rough = quadrature.Mounted(textbook(lens, shelf, np).at(-lens.told["back"]["vertex"][2]), outline, at)
    places = {"thickest edge": outline.most(rough.thick)[1], "thinnest edge": outline.least(rough.thick)[1]}
    ours = {"thickest edge": "edge_max_mm", "thinnest edge": "edge_min_mm"}
    return {name: (lens.ours["thickness"][ours[name]], exact.extreme(made, outline, at, u)) for name, u in places.items()}


def by_cad(lens, shelf, outline, at):
    """A solid, at the program's own centre thickness."""
    t, book = -lens.told["back"]["vertex"][2], textbook(lens, shelf, np)
    made = book.at(t)
    lean = (0.0, 0.0) if made.tilt is None else tuple(float(np.tan(made.tilt) * b) for b in made.base)
    back = solid.back_of((made.along, made.across), float(book.axis), lean, t, at)
    cad = solid.Cad(outline, solid.front_of(book.front_radius, at), back)
    thickness = np.vectorize(lambda x, y, *_: cad.thickness(float(x), float(y)))
    found = {
        "volume, share of it": share(lens.ours["volume_mm3"], cad.volume),
        "thickest edge": (lens.ours["thickness"]["edge_max_mm"], outline.most(thickness, samples=12)[0]),
        "thinnest edge": (lens.ours["thickness"]["edge_min_mm"], outline.least(thickness, samples=12)[0]),
    }
    for side, point in zip(sides(lens), outline.crossings()):
        found[f"{side} edge"] = lens.ours["thickness"][f"{side}_mm"], cad.thickness(*point)
    return found


def kinds(lens, outline, at):
    """Which hard cases a lens is."""
    thickness, back = lens.ours["thickness"], lens.told["back"]
    along, across = back["radius_along"] or math.inf, back["radius_across"] or math.inf
    sphere, cylinder, prism = lens.rx["sphere"], lens.rx.get("cylinder", 0), lens.rx.get("prism")
    meridians = sphere, sphere + cylinder
    inside = outline.nearest(*at)
    return {
        "minus": max(meridians) < 0,
        "plus": min(meridians) > 0,
        "mixed": min(meridians) < 0 < max(meridians),
        "plano meridian": abs(meridians[0]) < 1e-9 or abs(meridians[1]) < 1e-9,
        "torus": cylinder != 0,
        "turned torus": cylinder != 0 and bool(prism),
        "capstan": along * across < 0,
        "torus that overlaps itself": cylinder != 0 and 0.5 < abs(along / across) < 2,
        "prism": bool(prism),
        "stock": lens.option.get("supply") == "stock",
        "left": lens.eye == "left",
        "reference point outside": inside < 0,
        "reference point near the rim": 0 < inside < quadrature.BELT,
        "set by the centre": thickness["set_by"] == "centre",
        "set by the lowest point": thickness["set_by"] == "lowest point",
        "set by the edge": thickness["set_by"] == "edge",
    } | {lens.frame["shape"]: True, lens.frame["rim"]: True}


def of_lens(asked):
    """All differences of a lens, by reference and quantity, and its kinds."""
    lens, shelf, rule = asked
    outline, at = Outline(lens.told["outline"]), reference_point(lens)
    found = {
        "quadrature": by_quadrature(lens, shelf, outline, at),
        "thirty digits": by_digits(lens, shelf, outline, at, rule),
        "CAD solid": by_cad(lens, shelf, outline, at),
    }
    away = {
        reference: {name: abs(float(ours - theirs)) for name, (ours, theirs) in figures.items()}
        for reference, figures in found.items()
    }
    return away, kinds(lens, outline, at)
