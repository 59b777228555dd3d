"""How long a lens takes, here and by other ways, and how exact each is: the same lenses, one run.

    tests/.venv/bin/python benches/beside.py [--lenses N] [--profile PROFILE]

Ways: this program; a CAD kernel's solid; adaptive quadrature; a mesh of flat triangles, coarse to fine. All are given the same
centre thickness and work the volume and the thickest edge; both are held to thirty digits. Times are those of the working
alone: nothing is read, started or prepared in them, except that a solid has to be built to be measured. `tests/run` sets the
environment up.
"""

import argparse
import json
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests/reference"))

import ask  # noqa: E402
import exact  # noqa: E402
import lenses  # noqa: E402
import mpmath  # noqa: E402
import numpy as np  # noqa: E402
import order  # noqa: E402
import quadrature  # noqa: E402
import solid  # noqa: E402
from outline import Outline  # noqa: E402

# Rings and spokes of the meshes: each has four times the triangles of the one before.
MESHES = (20, 90), (40, 180), (80, 360), (320, 1440)
# This program, in the table.
OURS = "rimwise"


class Asked:
    """A lens to be worked: what every way is given."""

    def __init__(self, lens, shelf):
        self.lens = lens
        self.outline = Outline(lens.told["outline"])
        self.at = order.reference_point(lens, self.outline)
        self.t = -lens.told["back"]["vertex"][2]
        self.book = order.textbook(lens, shelf, np)
        self.made = self.book.at(self.t)
        digits = order.textbook(lens, shelf, mpmath)
        self.exact = digits.at(mpmath.mpf(self.t))
        self.front_radius = self.book.front_radius


def truth(asked, rule):
    """Volume and thickest edge to thirty digits."""
    mounted = quadrature.Mounted(asked.made, asked.outline, asked.at)
    _, u = asked.outline.most(mounted.thick)
    volume = exact.volume(asked.exact, asked.outline, asked.at, rule)
    return volume, exact.extreme(asked.exact, asked.outline, asked.at, u)


def by_quadrature(asked):
    mounted = quadrature.Mounted(asked.made, asked.outline, asked.at)
    return mounted.volume(), mounted.edge(least=False)


def by_cad(asked):
    made = asked.made
    lean = (0.0, 0.0) if made.tilt is None else tuple(float(np.tan(made.tilt) * b) for b in made.base)
    back = solid.back_of((made.along, made.across), float(asked.book.axis), lean, asked.t, asked.at)
    cad = solid.Cad(asked.outline, solid.front_of(asked.front_radius, asked.at), back)
    thickness = np.vectorize(lambda x, y, *_: cad.thickness(float(x), float(y)))
    return cad.volume, asked.outline.most(thickness, samples=12)[0]


def by_mesh(rings, spokes):
    """The solid between two nets of flat triangles, one above the other: prisms, as high as their corners on average."""

    def work(asked):
        u = np.linspace(0, asked.outline.count, spokes, endpoint=False)
        x, y = asked.outline.at(u)[:2]
        share = np.linspace(0, 1, rings + 1)[:, None]
        x, y = share * x, share * y
        mounted = quadrature.Mounted(asked.made, asked.outline, asked.at)
        height = mounted.field(x, y)
        corner = lambda v, ring, spoke: np.roll(v, -spoke, axis=1)[ring : rings + ring]  # noqa: E731
        volume = 0.0
        for corners in (((0, 0), (1, 0), (1, 1)), ((0, 0), (1, 1), (0, 1))):
            (ax, bx, cx), (ay, by, cy), tall = ([corner(v, *place) for place in corners] for v in (x, y, height))
            volume += float(np.sum(((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)) / 2 * sum(tall) / 3))
        return volume, float(np.max(height[-1]))

    return work


def ours(asked, profile):
    """What the program makes of the same lenses, and its nanoseconds."""
    with tempfile.TemporaryDirectory() as folder:
        files = [lenses.put(one.lens.job, Path(folder) / str(i)) for i, one in enumerate(asked)]
        command = ["cargo", "bench", "--locked", "--quiet", "--profile", profile, "--bench", "beside", "--", *map(str, files)]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(done.stderr)
    told = [json.loads(line) for line in done.stdout.splitlines() if line.startswith("[")]
    for one, pair in zip(asked, told, strict=True):
        (mine,) = (lens for lens in pair if lens["eye"] == one.lens.eye)
        if mine["centre_mm"] != one.t:
            raise RuntimeError(f"not the same lens: {mine['centre_mm']} mm and {one.t} mm")
        yield mine["ns"] * 1e-9, mine["volume_mm3"], mine["edge_max_mm"]


def timed(way, asked):
    for one in asked:
        start = time.perf_counter()
        volume, edge = way(one)
        yield time.perf_counter() - start, volume, edge


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--lenses", type=int, default=24)
    parser.add_argument("--profile", default="bench")
    chosen = parser.parse_args()
    found, _, shelf = ask.at_least(chosen.lenses)
    asked = [Asked(lens, shelf) for lens in found[: chosen.lenses]]
    rule = exact.gauss(exact.NODES)
    true = [truth(one, rule) for one in asked]
    ways = {OURS: list(ours(asked, chosen.profile)), "adaptive quadrature": list(timed(by_quadrature, asked))}
    ways["CAD kernel"] = list(timed(by_cad, asked))
    for rings, spokes in MESHES:
        ways[f"mesh of {2 * rings * spokes:,} triangles"] = list(timed(by_mesh(rings, spokes), asked))
    print("| way | a lens takes | times ours | volume off by, median and worst | thickest edge off by, mm, median and worst |")
    print("|---|---|---|---|---|")
    own = statistics.median(seconds for seconds, *_ in ways[OURS])
    for name, worked in ways.items():
        seconds = statistics.median(seconds for seconds, *_ in worked)
        volumes = [abs(float(volume / wanted - 1)) for (_, volume, _), (wanted, _) in zip(worked, true)]
        edges = [abs(float(edge - wanted)) for (_, _, edge), (_, wanted) in zip(worked, true)]
        off = [f"{statistics.median(all_):.0e} {max(all_):.0e}" for all_ in (volumes, edges)]
        print(f"| {name} | {seconds * 1e6:,.0f} µs | {seconds / own:,.0f} | {off[0]} | {off[1]} |")
    print(f"\n{len(asked)} lenses of every kind that the references hold, {chosen.profile} build.")
    # Whatever the machine: the exact ways are exact.
    worst = max(abs(float(volume / wanted - 1)) for (_, volume, _), (wanted, _) in zip(ways[OURS], true))
    if not worst < 1e-7:
        print(f"FAILED: {OURS} is off by {worst:.1e} of a volume, where 1e-7 is promised", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
