"""The work on the edge and on the back of one lens: the program's groups `edging` and `surfacing` beside the references.

What the program leaves out must not exist here either: its absence is held too.
"""

import math

import edging
import order
import surfacing


def share(ours, theirs):
    return ours / theirs, 1.0


def most_and_where(ours, name, f, outline):
    """The most of f(x, y, …) round an outline, and what it is in the direction that the program tells of it."""
    value, deg = ours
    found = {name: (value, outline.most(f)[0])}
    if deg is not None:
        found[f"{name}, where told"] = value, float(f(*outline.at(outline.toward(deg))))
    return found


def held(lens, group, key, there):
    """Is there such a figure? Both must say the same."""
    value = lens.ours[group][key]
    if (value is not None) != there:
        raise ValueError(f"{group}.{key} is {value}: should there be one? {there}")
    return there


def on_edge(lens, shelf, mounted, blank, mass):
    """All of the work on the edge."""
    edge = edging.Edge(mounted, lens.frame)
    path = {"cutting path": (lens.ours["edging"]["path_mm"], mounted.outline.perimeter())}
    density = order.substance(lens, shelf)[1]
    found = path | bevel(lens, edge) | off_rim(lens, edge) | chamfers(lens, edge, density)
    return found | wheel(lens, shelf, mounted, blank, mass)


def bevel(lens, edge):
    ours, outline = lens.ours["edging"], edge.outline
    if not held(lens, "edging", "bevel_behind_min_mm", edge.goes_round):
        return {}
    found = {
        "bevel behind the front, least": (ours["bevel_behind_min_mm"], outline.least(edge.behind)[0]),
        "bevel behind the front, most": (ours["bevel_behind_max_mm"], outline.most(edge.behind)[0]),
    }
    curve = edge.curve()
    if held(lens, "edging", "bevel_curve_d", curve is not None):
        found["curve of the bevel, D"] = ours["bevel_curve_d"], curve
    return found | most_and_where((ours["bevel_moved_mm"], ours["bevel_moved_deg"]), "bevel moved", edge.moved, outline)


def off_rim(lens, edge):
    if not held(lens, "edging", "bevel_off_rim_mm", edge.goes_round and "rim_curve_d" in lens.frame):
        return {}
    found = {}
    for what, z in (("bevel", edge.tip), ("front", edge.front)):
        told = tuple(lens.ours["edging"][f"{what}_off_rim_{unit}"] for unit in ("mm", "deg"))
        found |= most_and_where(told, f"{what} off the rim", edge.off_rim(z), edge.outline)
    return found


def chamfers(lens, edge, density):
    ours, theirs = lens.ours["edging"], edge.chamfered()
    # A chamfer of no width takes off nothing.
    if not (held(lens, "edging", "chamfer_removed_mm3", theirs is not None) and theirs):
        return {}
    return {
        "taken off by chamfers, share of it": share(ours["chamfer_removed_mm3"], theirs),
        "mass of that, share of it": share(ours["chamfer_removed_g"], density * theirs / 1000),
    }


def wheel(lens, shelf, mounted, blank, mass):
    ours = lens.ours["edging"]
    if not held(lens, "edging", "depth_max_mm", order.is_listed(lens)):
        return {}
    if order.is_stock(lens):
        uncut = edging.uncut_volume(mounted.solid, blank.diameter)
    else:
        uncut = edging.blank_volume(surfacing.Unworked(order.blank_row(lens, shelf)).thickness, blank.diameter)
    cut = edging.Wheel(mounted.outline, blank.middle, blank.diameter)
    told = ours["depth_max_mm"], ours["depth_max_deg"]
    return most_and_where(told, "greatest depth of cut", cut.depth, mounted.outline) | {
        "mean depth of cut": (ours["depth_mean_mm"], cut.mean()),
        "swarf, share of it": share(ours["swarf_g"], order.substance(lens, shelf)[1] * uncut / 1000 - mass),
    }


def on_back(lens, shelf, mounted, blank):
    """All of the work on the back."""
    ours = lens.ours["surfacing"]
    found = {
        "blank's middle in": (ours["blank_middle_in_mm"], order.nose(lens) * blank.middle[0]),
        "blank's middle up": (ours["blank_middle_up_mm"], blank.middle[1]),
    }
    if held(lens, "blank", "diameter_mm", order.is_listed(lens)):
        found["blank"] = lens.ours["blank"]["diameter_mm"], blank.diameter
    found |= calliper(lens, mounted)
    if not held(lens, "surfacing", "tool_along_d", not order.is_stock(lens)):
        return found
    return found | rough(lens, shelf, mounted, blank) | crib(lens, mounted, blank) | tools(lens, shelf, mounted, blank)


def calliper(lens, mounted):
    """The thickest place, and both places that the program tells."""
    ours, at, outline = lens.ours["surfacing"], mounted.at, mounted.outline
    thinnest, thickest = lens.ours["thickness"]["thinnest_mm"], ours["thickest_mm"]
    found = {"thickest place": (thickest, -surfacing.least_in(outline, lambda x, y: -mounted.field(x, y)))}
    for name, value in (("thickest", thickest), ("thinnest", thinnest)):
        x, y = at[0] + order.nose(lens) * ours[f"{name}_in_mm"], at[1] + ours[f"{name}_up_mm"]
        found[f"{name} place, where told"] = value, float(mounted.field(x, y))
        found[f"{name} place told, outside the shape"] = max(0.0, -outline.nearest(x, y)), 0.0
    return found


def rough(lens, shelf, mounted, blank):
    """What surfacing takes off."""
    if not held(lens, "surfacing", "least_taken_mm", order.is_listed(lens)):
        return {}
    at, solid = mounted.at, mounted.solid
    before = surfacing.Unworked(order.blank_row(lens, shelf)).laid(at, blank.middle)
    taken = surfacing.least_in(mounted.outline, lambda x, y: before(x, y) - solid.t - solid.back(x - at[0], y - at[1]))
    return {"least that surfacing takes off": (lens.ours["surfacing"]["least_taken_mm"], taken)}


def crib(lens, mounted, blank):
    ours = lens.ours["surfacing"]
    most = blank.diameter if order.is_listed(lens) else surfacing.INLINE_DIAMETERS[-1]
    radius = surfacing.crib(mounted.solid, mounted.at, blank.middle, most / 2)
    if not held(lens, "surfacing", "crib_mm", radius is not None):
        return {}
    holds = radius >= mounted.outline.farthest(*blank.middle) + surfacing.ALLOWANCE
    if ours["crib_holds"] != holds:
        raise ValueError(f"does the crib of {2 * radius} mm hold the lens? {holds}, and not {ours['crib_holds']}")
    return {"crib": (ours["crib_mm"], 2 * radius)}


def tools(lens, shelf, mounted, blank):
    """Tools for both meridians, and the prism to grind."""
    ours, index = lens.ours["surfacing"], order.substance(lens, shelf)[0]
    along, across = surfacing.tools(mounted.solid, index, lens.option.get("tool_step_d", surfacing.TOOL_STEP))
    x, y = surfacing.prism_to_grind(mounted.solid.lens, mounted.at, blank.middle)
    amount, turn = ours["prism_pd"], math.radians(ours["prism_base_deg"] or 0)
    return {
        "back curve along, D": (ours["curve_along_d"], along.wanted),
        "back curve across, D": (ours["curve_across_d"], across.wanted),
        "tool along, D": (ours["tool_along_d"], along.tool),
        "tool across, D": (ours["tool_across_d"], across.tool),
        "sphere off by the tools, D": (ours["sphere_error_d"], along.off),
        "cylinder off by the tools, D": (ours["cylinder_error_d"], across.off - along.off),
        "prism to grind, Δ": (math.hypot(amount * math.cos(turn) - x, amount * math.sin(turn) - y), 0.0),
    }
