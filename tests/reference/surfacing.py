"""The work on one back: the blank, what surfacing takes off, crib, tools, prism to grind, extremes anywhere in the shape.

Written from docs/model.md. Units: mm, dioptres as marked at index 1.530, prism dioptres. Points from the boxed centre.
"""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq, minimize, minimize_scalar

ALLOWANCE = 1.0
CRIB_EDGE = 0.5
# A material given by its numbers is taken to come in these.
INLINE_DIAMETERS = 65.0, 70.0, 75.0, 80.0
TOOL_STEP = 0.125


class Blank:
    """Where a round blank lies on a lens in its outline: about the reference point, or, where none listed is as large,
    about the middle of the smallest circle."""

    def __init__(self, outline, at, diameters):
        wanted = 2 * (outline.farthest(*at) + ALLOWANCE)
        holding = [d for d in diameters if d >= wanted]
        self.decentred = not holding
        self.diameter = max(diameters) if self.decentred else min(holding)
        self.middle = outline.enclosing()[0] if self.decentred else np.array(at)


class Unworked:
    """A semi-finished blank: two spheres."""

    def __init__(self, row):
        self.centre = row["centre_mm"]
        self.front = 530 / row["base_curve_d"]
        widest = row["diameters_mm"][-1] / 2
        sag = row["edge_mm"] - self.centre + sphere(self.front, widest)
        self.back = (widest**2 + sag**2) / (2 * sag)

    def thickness(self, r):
        return self.centre + sphere(self.back, r) - sphere(self.front, r)

    def laid(self, at, middle):
        """z of its back, from the front's vertex at the reference point: front on front, its middle where the blank's is."""
        off = np.array([middle[0] - at[0], middle[1] - at[1]])
        ball = np.array([0.0, 0.0, self.front])
        start = np.array([*off, sphere(self.front, np.hypot(*off))])
        axis = (ball - start) / self.front
        about = start + (self.centre + self.back) * axis

        def z(x, y):
            root = np.sqrt(self.back**2 - (x - at[0] - about[0]) ** 2 - (y - at[1] - about[1]) ** 2)
            return about[2] - np.sign(self.back) * root

        return z


def sphere(radius, r):
    return radius - np.sign(radius) * np.sqrt(radius**2 - r**2)


def least_in(outline, f):
    """The least of f(x, y) in the closed shape: round the outline, and downhill from the lowest places of a net inside."""
    best = outline.least(lambda x, y, *_: f(x, y))[0]
    share, u = np.linspace(0, 1, 24)[1:, None], np.linspace(0, outline.count, 12 * outline.count, endpoint=False)[None, :]
    x, y, *_ = outline.at(u)
    values = f(share * x, share * y)

    def polar(v):
        x, y, *_ = outline.at(v[1])
        return float(f(min(v[0], 1.0) * x, min(v[0], 1.0) * y))

    for place in np.argsort(values, axis=None)[:2]:
        i, k = np.unravel_index(place, values.shape)
        start = (share[i, 0], u[0, k])
        found = minimize(polar, start, method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-13, "maxiter": 600})
        best = min(best, found.fun)
    return float(best)


def crib(solid, at, middle, most):
    """The largest radius about the blank's middle within which the lens has half a millimetre all round; None where it has on
    all of the blank."""
    off = middle[0] - at[0], middle[1] - at[1]

    def spare(turn, out):
        return solid.thickness(off[0] + out * np.cos(turn), off[1] + out * np.sin(turn)) - CRIB_EDGE

    out = np.append(np.arange(0, most, 0.25), most)
    turns = np.linspace(0, 2 * np.pi, 360, endpoint=False)

    def first(turn):
        with np.errstate(invalid="ignore"):
            values = spare(turn, out)
        for i in np.nonzero((values[:-1] > 0) & (values[1:] <= 0))[0][:1]:
            return brentq(lambda r: float(spare(turn, r)), out[i], out[i + 1], xtol=1e-13)
        return np.inf

    radii = np.array([first(turn) for turn in turns])
    i = int(np.argmin(radii))
    if not np.isfinite(radii[i]):
        return None
    step = turns[1]
    near = minimize_scalar(first, bounds=(turns[i] - step, turns[i] + step), method="bounded", options={"xatol": 1e-9})
    return float(min(radii[i], near.fun))


@dataclass
class Tool:
    """The curve that is wanted, the nearest that there is, and the power that comes of the difference."""

    wanted: float
    tool: float
    off: float


def tools(solid, index, step):
    """For the meridian along the axis and the one across it. The power is off by the difference of two backs' powers."""
    found = []
    for radius in (solid.along, solid.across):
        wanted = 530 / radius if radius else 0.0
        tool = step * round(wanted / step)
        made, meant = (1000 * (1 - index) / (530 / curve) if curve else 0.0 for curve in (tool, wanted))
        found.append(Tool(wanted, tool, made - meant))
    return found


def prism_to_grind(book, at, middle):
    """Toward +x and toward +y: prescribed, and by Prentice's rule −F c in each of the lens's own meridians."""
    cm = np.array([middle[0] - at[0], middle[1] - at[1]]) / 10
    axis = np.array([np.cos(book.axis), np.sin(book.axis)])
    across = np.array([-axis[1], axis[0]])
    # The axis has no power of the cylinder, and across it is all of it.
    own = -book.sphere * (cm @ axis) * axis - (book.sphere + book.cylinder) * (cm @ across) * across
    return np.array(book.prism) + own
