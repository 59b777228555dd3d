"""Jobs to ask for: chance that is the same every time, and every kind of lens that the program makes.

`random.Random` with a number for seed gives the same `random()` on every machine and in every version of Python.
"""

import random
import tomllib

from traced import Form

SEED = 20_260_310
SHAPES = (
    "circle oval panto crown-panto square rectangle soft-rectangle pilot square-pilot cat-eye butterfly hexagon octagon"
    " half-eye trapezoid"
).split()
RIMS = "metal plastic supra reverse-supra rimless".split()
KINDS = "minus plus mixed plano-meridian sphere stock blank".split()
# So many jobs from one measured outline to the next.
MEASURED_EVERY = 9
TRACE = "trace.csv"


def jobs(shelf):
    """Jobs without end, each a dictionary in the shape of a job file: one frame, one size, one lens, both eyes. What is not
    part of the file stands under `aside`: the form that an outline was traced of, and the files that the job names."""
    chance = random.Random(SEED)
    number = 0
    while True:
        kind = KINDS[number % len(KINDS)]
        shape = SHAPES[(number // len(KINDS) + number) % len(SHAPES)]
        aside = {"kind": kind, "files": {}}
        frame = a_frame(chance, shape, narrow=kind == "stock")
        if number % MEASURED_EVERY == MEASURED_EVERY - 1:
            frame, aside = measured(chance, frame, aside)
        if kind == "stock":
            lens, powers = a_stock_lens(chance, shelf)
        else:
            lens, powers = a_blank_lens(chance, shelf) if kind == "blank" else a_surfaced_lens(chance, kind)
            lens |= a_tool_step(chance)
        prescription = {}
        for eye in ("right", "left"):
            prescription[eye] = powers(chance) | {"pd_mm": within(chance, 27.0, 36.0, 1)}
            if kind != "stock" and chance.random() < 0.5:
                prescription[eye]["prism"] = prisms(chance)
        yield {"aside": aside, "format": 1, "prescription": prescription, "frame": [frame], "lens": [lens]}
        number += 1


def within(chance, low, high, digits=2):
    """A number as a person would write it."""
    return round(low + (high - low) * chance.random(), digits)


def one_of(chance, of):
    return of[int(chance.random() * len(of))]


def a_frame(chance, shape, narrow):
    size = within(chance, 40.0 if narrow else 44.0, 50.0 if narrow else 57.0, 1)
    depth = size if shape == "circle" else round(size * (0.6 + 0.35 * chance.random()), 1)
    height = depth * (0.4 + 0.3 * chance.random())
    place = chance.random()
    if place < 0.1 and not narrow:
        # Above the shape, or just inside its rim.
        height = depth + (within(chance, 0.5, 3.0, 1) if place < 0.05 else within(chance, -4.0, -1.0, 1))
    return {
        "name": "Frame",
        "shape": shape,
        "eye_sizes_mm": [size],
        "depth_mm": depth,
        "bridge_mm": within(chance, 14.0, 22.0, 1),
        "rim": one_of(chance, RIMS),
        "optical_centre_height_mm": round(height, 1),
    } | an_edge(chance)


def an_edge(chance):
    """What is wished of the edge, and what is known of the rim. In a drilled lens some of it is idle."""
    place = chance.random()
    edge = {"rim_curve_d": one_of(chance, (1.0, 2.5, 4.0, 6.0, 8.0))} if chance.random() < 0.5 or place < 0.25 else {}
    if place < 0.25:
        edge |= {"bevel_position": "rim-curve"}
    elif place < 0.45:
        edge |= {"bevel_position": "front", "bevel_behind_mm": within(chance, 0.3, 2.5)}
    elif place < 0.6:
        edge |= {"bevel_position": "share", "bevel_share": within(chance, 0.1, 0.7)}
    elif place < 0.7:
        edge |= {"bevel_position": "share"}
    return edge | ({"chamfer_mm": within(chance, 0.0, 0.5)} if chance.random() < 0.5 else {})


def measured(chance, frame, aside):
    """The same frame with a lens shape that was traced, in about the same box; every other one keeps its measured size."""
    size, depth = frame["eye_sizes_mm"][0], frame["depth_mm"]
    nasal, top = within(chance, 0.46, 0.54) * size, within(chance, 0.42, 0.58) * depth
    form = Form(tuple(round(v, 2) for v in (nasal, top, size - nasal, depth - top)), within(chance, 2.1, 3.6))
    points = one_of(chance, (240, 360, 400, 720))
    trace = form.trace(points, int(chance.random() * points), one_of(chance, (1, -1)))
    frame = {"name": frame["name"], "outline": TRACE} | {k: v for k, v in frame.items() if k not in ("shape", "depth_mm")}
    if chance.random() < 0.5:
        del frame["eye_sizes_mm"]
    return frame, aside | {"form": form, "files": {TRACE: trace}}


def a_tool_step(chance):
    return {"tool_step_d": one_of(chance, (0.0625, 0.1, 0.25))} if chance.random() < 0.5 else {}


def a_blank_lens(chance, shelf):
    """Surfaced from a blank that is listed."""
    material = one_of(chance, [m for m in shelf.values() if m.get("semi_finished")])
    rows = [row for row in material["semi_finished"] if 2.0 <= row["base_curve_d"] <= 6.0]
    lens = {
        "name": "lens",
        "material": material["id"],
        "base_curve_d": one_of(chance, rows)["base_curve_d"],
        "min_centre_mm": within(chance, 1.0, 2.2),
        "min_edge_mm": within(chance, 0.5, 2.0),
    }
    cylinder = within(chance, -3.0, -0.25)
    return lens, lambda chance: {
        "sphere": within(chance, -7.0, 3.0),
        "cylinder": cylinder,
        "axis": within(chance, 0.5, 180.0, 1),
    }


def a_surfaced_lens(chance, kind):
    substance = {
        "index": within(chance, 1.49, 1.9, 3),
        "abbe": within(chance, 30.0, 58.0, 1),
        "density": within(chance, 1.1, 4.0),
    }
    lens = {
        "name": "lens",
        "material": substance,
        "base_curve_d": one_of(chance, (0.0, 0.5, 2.0, 4.0, 6.0, 8.0)) if kind != "plus" else one_of(chance, (4.0, 6.0, 8.0)),
        "min_centre_mm": within(chance, 1.0, 2.2),
        "min_edge_mm": within(chance, 0.5, 2.0),
    }
    return lens, lambda chance: a_power(chance, kind)


def a_power(chance, kind):
    cylinder = within(chance, -4.0, -0.25)
    axis = within(chance, 0.5, 180.0, 1)
    if kind == "sphere":
        return {"sphere": within(chance, -10.0, 7.0)}
    sphere = {
        "minus": within(chance, -10.0, -0.25),
        "plus": within(chance, 0.25, 6.0) - cylinder,
        "mixed": within(chance, 0.1, 0.9) * -cylinder,
        # One meridian of the lens has no power at all.
        "plano-meridian": one_of(chance, (0.0, -cylinder)),
    }[kind]
    return {"sphere": round(sphere, 2), "cylinder": cylinder, "axis": axis}


def prisms(chance):
    """One prism by degrees, or two by words."""
    if chance.random() < 0.6:
        return [{"amount_pd": within(chance, 0.25, 6.0), "base": within(chance, 0.0, 359.0, 0)}]
    return [
        {"amount_pd": within(chance, 0.25, 4.0), "base": one_of(chance, ("in", "out"))},
        {"amount_pd": within(chance, 0.25, 4.0), "base": one_of(chance, ("up", "down"))},
    ]


def a_stock_lens(chance, shelf):
    material = one_of(chance, [m for m in shelf.values() if m.get("stock")])
    row = one_of(chance, material["stock"])
    low, high = row["sphere"]

    def power(chance):
        rx = {"sphere": within(chance, low, high)}
        if row["cylinder_to"] < 0.0 and chance.random() < 0.6:
            rx |= {"cylinder": within(chance, row["cylinder_to"], -0.25), "axis": within(chance, 0.5, 180.0, 1)}
        return rx

    # Minima that every finished uncut keeps: they are only checked.
    lens = {"name": "lens", "material": material["id"], "supply": "stock", "min_centre_mm": 0.5, "min_edge_mm": 0.5}
    return lens, power


def read_shelf(folder):
    """The materials as their files have them: data, not code."""
    found = [tomllib.loads(path.read_text()) for path in sorted(folder.glob("*.toml"))]
    return {material["id"]: material for material in found}


def written(job):
    """A job as a file."""

    def value(v):
        if isinstance(v, str):
            return f'"{v}"'
        if isinstance(v, dict):
            return "{ " + ", ".join(f"{k} = {value(x)}" for k, x in v.items()) + " }"
        if isinstance(v, list):
            return "[" + ", ".join(value(x) for x in v) + "]"
        return repr(v)

    return "".join(f"{key} = {value(v)}\n" for key, v in job.items() if key != "aside")


def put(job, folder):
    """A job in a folder of its own, with the files that it names beside it; the path of the job."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in job["aside"]["files"].items():
        (folder / name).write_text(text)
    path = folder / "job.toml"
    path.write_text(written(job))
    return path
