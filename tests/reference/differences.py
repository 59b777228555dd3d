"""What the references make of one lens, and how far the program is from each.

Every number of the program is set against one worked here from the job alone, but for the path of the outline and, where it
says so, the centre thickness.
"""

import math

import exact
import mpmath
import numpy as np
import order
import quadrature
import solid
import surfacing
import work
from outline import Outline
from traced import Formed


def settled(lens, shelf, book, outline, at):
    """The centre thickness, worked from the demands."""
    found = -lens.told["back"]["vertex"][2]
    if order.is_stock(lens):
        return quadrature.stock(book, order.stock_row(lens, shelf), order.blank_of(lens, shelf, outline, at).diameter), found
    minima = lens.option["min_centre_mm"], lens.option["min_edge_mm"]
    return quadrature.surfaced(book, outline, at, minima, found), found


def by_quadrature(lens, shelf, outline, at):
    """Everything in double precision, on the reference's own centre thickness."""
    book, ours, thickness = order.textbook(lens, shelf, np), lens.ours, lens.ours["thickness"]
    t, found = settled(lens, shelf, book, outline, at)
    mounted = quadrature.Mounted(book.at(t), outline, at)
    volume, removed = mounted.volume(), mounted.removed(lens.frame["rim"])
    least, most = mounted.edge(), mounted.edge(least=False)
    inside = [float(mounted.field(*at))] if outline.nearest(*at) >= 0 else []
    low = mounted.lowest() if mounted.solid.tilt is not None else None
    low = [float(mounted.field(low[0], low[1]))] if low else []
    farthest, (_, density) = outline.farthest(*at), order.substance(lens, shelf)
    point, box, mass = ours["reference_point"], outline.box(), density * (volume - removed) / 1000
    found = {
        "box width": (lens.box[0], box[0]),
        "box depth": (lens.box[1], box[1]),
        "reference point in": (point["in_mm"], order.nose(lens) * at[0]),
        "reference point up": (point["up_mm"], at[1]),
        "centre thickness": (found, t),
        "thickest edge": (thickness["edge_max_mm"], most),
        "thinnest edge": (thickness["edge_min_mm"], least),
        "thinnest anywhere": (thickness["thinnest_mm"], min([least] + inside + low)),
        "bulge": (ours["bulge_mm"], float(mounted.solid.circle(book.front_radius, farthest))),
        "smallest blank": (ours["blank"]["minimum_mm"], 2 * (farthest + surfacing.ALLOWANCE)),
        "effective diameter": (ours["outline"]["effective_diameter_mm"], 2 * outline.farthest(0, 0)),
        "perimeter": (ours["outline"]["perimeter_mm"], outline.perimeter()),
        "area, share of it": work.share(ours["outline"]["area_mm2"], outline.area()),
        "volume, share of it": work.share(ours["volume_mm3"], volume),
        "taken by edging, share of it": work.share(ours["edging_removed_mm3"], removed),
        "mass, share of it": work.share(ours["mass_g"], mass),
    }
    if (shoulder := mounted.shoulder(lens.frame["rim"])) is not None:
        found["thickest shoulder"] = thickness["shoulder_max_mm"], shoulder
    blank = order.blank_of(lens, shelf, outline, at)
    return found | work.on_edge(lens, shelf, mounted, blank, mass) | work.on_back(lens, shelf, mounted, blank)


def by_form(lens, shelf):
    """What a traced lens would be in the form itself that was traced, at the program's own centre thickness."""
    form, width = lens.form, lens.frame.get("eye_sizes_mm", [lens.form.box[0]])[0]
    scale = width / form.box[0]
    outline, depth = Formed(form, lens.eye, width), form.box[1] * scale
    at = order.in_box(lens, width, depth)
    mounted = quadrature.Mounted(order.textbook(lens, shelf, np).at(-lens.told["back"]["vertex"][2]), outline, at)
    thickness, scaled = lens.ours["thickness"], " where scaled" if "eye_sizes_mm" in lens.frame else ""
    return {
        "box width": (lens.box[0], width),
        "box depth": (lens.box[1], depth),
        "outline off it": (form.off(Outline(lens.told["outline"]), lens.eye, scale), 0.0),
        f"area{scaled}, share of it": work.share(lens.ours["outline"]["area_mm2"], form.area() * scale**2),
        f"volume{scaled}, share of it": work.share(lens.ours["volume_mm3"], mounted.volume()),
        "thickest edge": (thickness["edge_max_mm"], mounted.edge(least=False)),
        "thinnest edge": (thickness["edge_min_mm"], mounted.edge()),
    }


def by_digits(lens, shelf, outline, at, rule):
    """To thirty digits, at the program's own centre thickness; the volume where a rule is given."""
    book = order.textbook(lens, shelf, mpmath)
    made = book.at(mpmath.mpf(-lens.told["back"]["vertex"][2]))
    found = extremes_by_digits(lens, shelf, outline, at, made)
    for side, point in zip(order.sides(lens), exact.crossings(outline)):
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
    rough = quadrature.Mounted(order.textbook(lens, shelf, np).at(-lens.told["back"]["vertex"][2]), outline, at)
    places = {"thickest edge": outline.most(rough.thick)[1], "thinnest edge": outline.least(rough.thick)[1]}
    ours = {"thickest edge": "edge_max_mm", "thinnest edge": "edge_min_mm"}
    return {name: (lens.ours["thickness"][ours[name]], exact.extreme(made, outline, at, u)) for name, u in places.items()}


def by_cad(lens, shelf, outline, at):
    """A solid, at the program's own centre thickness."""
    t, book = -lens.told["back"]["vertex"][2], order.textbook(lens, shelf, np)
    made = book.at(t)
    lean = (0.0, 0.0) if made.tilt is None else tuple(float(np.tan(made.tilt) * b) for b in made.base)
    back = solid.back_of((made.along, made.across), float(book.axis), lean, t, at)
    cad = solid.Cad(outline, solid.front_of(book.front_radius, at), back)
    thickness = np.vectorize(lambda x, y, *_: cad.thickness(float(x), float(y)))
    found = {
        "volume, share of it": work.share(lens.ours["volume_mm3"], cad.volume),
        "thickest edge": (lens.ours["thickness"]["edge_max_mm"], outline.most(thickness, samples=12)[0]),
        "thinnest edge": (lens.ours["thickness"]["edge_min_mm"], outline.least(thickness, samples=12)[0]),
    }
    for side, point in zip(order.sides(lens), outline.crossings()):
        found[f"{side} edge"] = lens.ours["thickness"][f"{side}_mm"], cad.thickness(*point)
    return found


def kinds(lens, outline, at):
    """Which hard cases a lens is."""
    thickness, made = lens.ours["thickness"], lens.told["back"]
    edge, back = lens.ours["edging"], lens.ours["surfacing"]
    middle = back["blank_middle_in_mm"], back["blank_middle_up_mm"]
    along, across = made["radius_along"] or math.inf, made["radius_across"] or math.inf
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
        "stock": order.is_stock(lens),
        "blank": order.is_listed(lens) and not order.is_stock(lens),
        "measured outline": lens.form is not None,
        "measured outline at its own size": lens.form is not None and "eye_sizes_mm" not in lens.frame,
        "blank off the reference point": bool(math.dist(middle, (order.nose(lens) * at[0], at[1])) > 1e-6),
        "bevel moved": (edge["bevel_moved_mm"] or 0) > 0.05,
        "bevel on the rim's curve": lens.frame.get("bevel_position") == "rim-curve" and lens.frame["rim"] != "rimless",
        "rim's curve known": edge["rim_curve_d"] is not None,
        "cribbed": back["crib_mm"] is not None,
        "thickest inside": back["thickest_mm"] > thickness["edge_max_mm"] + 1e-6,
        "left": lens.eye == "left",
        "reference point outside": inside < 0,
        "reference point near the rim": 0 < inside < quadrature.BELT,
        "set by the centre": thickness["set_by"] == "centre",
        "set by the lowest point": thickness["set_by"] == "lowest point",
        "set by the edge": thickness["set_by"] == "edge",
    } | ({} if lens.form else {lens.frame["shape"]: True}) | {lens.frame["rim"]: True}


def of_lens(asked):
    """All differences of a lens, by reference and quantity, and its kinds."""
    lens, shelf, rule = asked
    outline = Outline(lens.told["outline"])
    at = order.reference_point(lens, outline)
    found = {
        "quadrature": by_quadrature(lens, shelf, outline, at),
        "thirty digits": by_digits(lens, shelf, outline, at, rule),
        "CAD solid": by_cad(lens, shelf, outline, at),
    } | ({"traced form": by_form(lens, shelf)} if lens.form else {})
    away = {
        reference: {name: abs(float(ours - theirs)) for name, (ours, theirs) in figures.items()}
        for reference, figures in found.items()
    }
    return away, kinds(lens, outline, at)
