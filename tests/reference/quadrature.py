"""The figures of a lens in double precision: demands solved by Brent's method, volumes by adaptive quadrature.

Units: mm, mm³.
"""

import numpy as np
from scipy.integrate import cubature
from scipy.optimize import brentq, minimize

BELT = 5.0
BEVEL = {"metal": 0.5, "plastic": 0.7}
FLANK = 2 * np.tan(np.radians(55.0))
GROOVE = 0.6, 0.4
HOLE = 0.7, 3.0


class Mounted:
    """A solid in its outline, `at` from the boxed centre."""

    def __init__(self, solid, outline, at):
        self.solid, self.outline, self.at = solid, outline, at

    def field(self, x, y):
        """Thickness; nan beyond a surface."""
        with np.errstate(invalid="ignore"):
            return self.solid.thickness(x - self.at[0], y - self.at[1])

    def thick(self, x, y, *_):
        """Thickness, of all that `Outline.at` gives."""
        return self.field(x, y)

    def edge(self, least=True):
        look = self.outline.least if least else self.outline.most
        return look(self.thick)[0]

    def lowest(self):
        """The point where the thickness has level ground and rises on all sides, if that lies inside."""
        start = np.array(self.at)
        grid = [np.linspace(-34.0, 34.0, 69) + c for c in start]
        values = self.field(*np.meshgrid(*grid, indexing="ij"))
        values[np.isnan(values)] = np.inf
        inner = values[1:-1, 1:-1]
        low = np.ones_like(inner, dtype=bool)
        for i, k in ((0, 1), (2, 1), (1, 0), (1, 2), (0, 0), (0, 2), (2, 0), (2, 2)):
            low &= inner <= values[i : i + inner.shape[0], k : k + inner.shape[1]]
        places = [np.array((grid[0][i + 1], grid[1][k + 1])) for i, k in np.argwhere(low)]
        found = [self.settle(place) for place in places]
        found = [(x, y, depth) for x, y, depth in found if depth >= 0]
        return min(found, key=lambda place: self.field(place[0], place[1])) if found else None

    def settle(self, place):
        """Downhill from near by, then Newton on central differences."""

        def height(p):
            value = float(self.field(p[0], p[1]))
            return value if np.isfinite(value) else 1e9

        p = minimize(height, place, method="Nelder-Mead", options={"xatol": 1e-2, "fatol": 1e-6}).x
        h = 1e-3
        for _ in range(4):
            f = {(i, k): self.field(p[0] + i * h, p[1] + k * h) for i in (-1, 0, 1) for k in (-1, 0, 1)}
            gradient = np.array([f[1, 0] - f[-1, 0], f[0, 1] - f[0, -1]]) / (2 * h)
            xx, yy = f[1, 0] - 2 * f[0, 0] + f[-1, 0], f[0, 1] - 2 * f[0, 0] + f[0, -1]
            xy = (f[1, 1] - f[1, -1] - f[-1, 1] + f[-1, -1]) / 4
            p = p - np.linalg.solve(np.array([[xx, xy], [xy, yy]]) / h**2, gradient)
        return p[0], p[1], self.outline.nearest(*p)

    def volume(self):
        """∬ thickness over the outline, a fan from the boxed centre, adaptively."""

        def ring(v):
            i, t, s = np.arange(self.outline.count)[None, :], v[:, :1], v[:, 1:2]
            x, y, dx, dy = self.outline.at(i + t)[:4]
            return s * (x * dy - y * dx) * self.field(s * x, s * y)

        # To rounding: a hundredth of a thousandth of a millionth.
        done = cubature(ring, [0, 0], [1, 1], rtol=1e-11, atol=1e-9, max_subdivisions=400)
        return float(np.sum(done.estimate))

    def inward(self, u, q):
        """Thickness at depth q inside of the outline, and mm² per unit of u and of q there."""
        x, y, dx, dy, ddx, ddy = self.outline.at(u)
        speed = np.hypot(dx, dy)
        area = np.maximum(speed - q * (dx * ddy - dy * ddx) / speed**2, 0.0)
        return self.field(x - q * dy / speed, y + q * dx / speed), area

    def removed(self, rim):
        """What bevel, groove or holes take away."""
        if rim == "rimless":
            return self.holes()
        height = BEVEL.get(rim, GROOVE[1])

        def cut(v):
            q = height * v[:, 1:2]
            t, area = self.inward(np.arange(self.outline.count)[None, :] + v[:, :1], q)
            gone = np.maximum(t - FLANK * q, 0.0) if rim in BEVEL else np.minimum(t, GROOVE[0])
            return height * area * gone

        # Where the cut runs out of a face there is a kink: a millionth of the cut is wanted, not rounding.
        done = cubature(cut, [0, 0], [1, 1], rtol=1e-6, atol=1e-5, max_subdivisions=60)
        return float(np.sum(done.estimate))

    def holes(self):
        radius, inset = HOLE
        right, _, left, _ = self.outline.crossings()
        total = 0.0
        for x, inward in ((right[0], -inset), (left[0], inset)):

            def disc(v, centre=x + inward):
                r, a = radius * v[:, 0], 2 * np.pi * v[:, 1]
                return 2 * np.pi * radius * r * self.field(centre + r * np.cos(a), r * np.sin(a))

            total += float(cubature(disc, [0, 0], [1, 1], rtol=1e-11).estimate)
        return total

    def shoulder(self, rim):
        """The thickest place on the line one bevel's height inside."""
        if rim not in BEVEL:
            return None

        def at(x, y, dx, dy, *_):
            speed, q = np.hypot(dx, dy), BEVEL[rim]
            return self.field(x - q * dy / speed, y + q * dx / speed)

        return self.outline.most(at)[0]


def guard(minima, depth):
    """How thick a guarded point must be, so deep inside."""
    centre, edge = minima
    edge = min(edge, centre)
    return edge + (centre - edge) * min(1.0, depth / BELT)


def surfaced(lens, outline, at, minima, near):
    """The smallest centre thickness that keeps every demand, looked for within half a millimetre of `near`."""
    depth = outline.nearest(*at)

    def lack(t):
        mounted = Mounted(lens.at(t), outline, at)
        lacks = [minima[1] - mounted.edge()]
        if depth >= 0:
            lacks.append(guard(minima, depth) - t)
        if mounted.solid.tilt is not None and (low := mounted.lowest()):
            lacks.append(guard(minima, low[2]) - float(mounted.field(low[0], low[1])))
        return max(lacks)

    return brentq(lack, near - 0.5, near + 0.5, xtol=1e-12)


def stock(lens, row, diameter):
    """The larger of the listed centre and the one at which the round uncut's own thinnest edge is as listed."""

    def lack(t):
        angle = np.linspace(0.0, 2 * np.pi, 721)
        solid = lens.at(t)
        along = lens.axis + np.array([0.0, 0.5 * np.pi])
        angle = np.concatenate([angle, along])
        return row["edge_mm"] - np.min(solid.thickness(0.5 * diameter * np.cos(angle), 0.5 * diameter * np.sin(angle)))

    low = row["centre_mm"]
    return low if lack(low) <= 0 else brentq(lack, low, low + 15.0, xtol=1e-12)
