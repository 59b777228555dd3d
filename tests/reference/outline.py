"""An outline as the program hands it to a CAD program: half axes of an ellipse, or cubic Bézier pieces.

Units: mm, from the boxed centre.
"""

from itertools import combinations

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

ELLIPSE_PIECES = 8


class Outline:
    """Pieces numbered from nought; the parameter of piece i runs from i to i + 1."""

    def __init__(self, told):
        self.ellipse = told.get("ellipse")
        self.bezier = None if self.ellipse else np.array(told["bezier"])
        self.count = ELLIPSE_PIECES if self.ellipse else len(self.bezier)

    def at(self, u):
        """x, y and their first and second derivatives, for any array of parameters."""
        u = np.asarray(u, dtype=float)
        if self.ellipse:
            (a, b), k = self.ellipse, 2 * np.pi / self.count
            c, s = np.cos(k * u), np.sin(k * u)
            return a * c, b * s, -a * k * s, b * k * c, -a * k * k * c, -b * k * k * s
        u = np.mod(u, self.count)
        i = np.minimum(u.astype(int), self.count - 1)
        t = (u - i)[..., None]
        p0, p1, p2, p3 = (self.bezier[i, k] for k in range(4))
        v = 1 - t
        p = v**3 * p0 + 3 * v * v * t * p1 + 3 * v * t * t * p2 + t**3 * p3
        d = 3 * (v * v * (p1 - p0) + 2 * v * t * (p2 - p1) + t * t * (p3 - p2))
        dd = 6 * (v * (p2 - 2 * p1 + p0) + t * (p3 - 2 * p2 + p1))
        return p[..., 0], p[..., 1], d[..., 0], d[..., 1], dd[..., 0], dd[..., 1]

    def least(self, f, samples=60):
        """The least of f(x, y, …) round the outline, f of what `at` gives: so many looks at each piece, then narrowed."""
        u = np.linspace(0, self.count, samples * self.count, endpoint=False)
        values = f(*self.at(u))
        step = u[1]
        rough = [i for i in range(len(u)) if values[i] <= values[i - 1] and values[i] <= values[(i + 1) % len(u)]]
        best = np.inf, 0.0
        for i in sorted(rough, key=lambda i: values[i])[:4]:
            narrowed = minimize_scalar(
                lambda v: float(f(*self.at(v))), bounds=(u[i] - step, u[i] + step), method="bounded", options={"xatol": 1e-10}
            )
            best = min(best, (float(narrowed.fun), float(narrowed.x)), (float(values[i]), float(u[i])))
        return best

    def most(self, f, samples=60):
        value, u = self.least(lambda *jet: -f(*jet), samples)
        return -value, u

    def round(self, f):
        """∮ f du, adaptively, piece by piece."""
        return sum(quad(lambda u: float(f(*self.at(u))), i, i + 1, epsabs=0, epsrel=1e-12)[0] for i in range(self.count))

    def area(self):
        return self.round(lambda x, y, dx, dy, *_: 0.5 * (x * dy - y * dx))

    def perimeter(self):
        return self.round(lambda x, y, dx, dy, *_: np.hypot(dx, dy))

    def box(self):
        """Width and height."""
        return tuple(self.most(pick)[0] - self.least(pick)[0] for pick in (lambda x, *_: x, lambda x, y, *_: y))

    def nodes(self, count=24):
        """Parameters and weights of a rule round it: so many Gauss nodes on each piece."""
        x, w = np.polynomial.legendre.leggauss(count)
        u = np.arange(self.count)[:, None] + (1 + x) / 2
        return u.ravel(), np.tile(w / 2, self.count)

    def toward(self, deg):
        """The parameter where it lies in this direction from the boxed centre, farthest out."""
        way = np.cos(np.radians(deg)), np.sin(np.radians(deg))

        def aside(v):
            x, y, *_ = self.at(v)
            return way[0] * y - way[1] * x

        u = np.linspace(0, self.count, 50 * self.count + 1)
        values = aside(u)
        found = []
        for i in np.nonzero((values[:-1] < 0) != (values[1:] < 0))[0]:
            v = brentq(lambda v: float(aside(v)), u[i], u[i + 1], xtol=1e-14)
            x, y, *_ = self.at(v)
            found.append((float(way[0] * x + way[1] * y), v))
        return max(found)[1]

    def enclosing(self):
        """Middle and radius of the smallest circle round it: of the fewest points that none lies outside of."""
        points = np.stack(self.at(np.linspace(0, self.count, 3, endpoint=False))[:2], axis=1)
        for _ in range(30):
            circles = (round_of(*some) for n in (2, 3) for some in combinations(points, n))
            holding = [c for c in circles if np.all(np.hypot(*(points - c[0]).T) <= c[1] + 1e-12)]
            middle, radius = min(holding, key=lambda circle: circle[1])
            farthest, u = self.most(lambda x, y, *_: np.hypot(x - middle[0], y - middle[1]))
            if farthest <= radius + 1e-11:
                return middle, radius
            points = np.vstack([points, self.at(u)[:2]])
        raise ValueError("the smallest circle round an outline is not settled")

    def nearest(self, px, py):
        """Distance of a point: negative outside."""
        distance, u = self.least(lambda x, y, *_: np.hypot(x - px, y - py))
        x, y, dx, dy = (float(v) for v in self.at(u)[:4])
        return distance if (x - px) * dy - (y - py) * dx >= 0 else -distance

    def farthest(self, px, py):
        return self.most(lambda x, y, *_: np.hypot(x - px, y - py))[0]

    def crossings(self):
        """The outermost points on the lines through the boxed centre: right, top, left, bottom, as (x, y)."""
        if self.ellipse:
            a, b = self.ellipse
            return [(a, 0.0), (0.0, b), (-a, 0.0), (0.0, -b)]
        found = []
        for component, axis, sign in ((1, 0, 1), (0, 1, 1), (1, 0, -1), (0, 1, -1)):
            u = np.linspace(0, self.count, 200 * self.count + 1)
            values, others = self.at(u)[component], self.at(u)[axis]
            best = None
            for i in np.nonzero((values[:-1] < 0) != (values[1:] < 0))[0]:
                if sign * others[i] <= 0:
                    continue
                low, high = u[i], u[i + 1]
                for _ in range(60):
                    middle = 0.5 * (low + high)
                    same = (float(self.at(middle)[component]) < 0) == (values[i] < 0)
                    low, high = (middle, high) if same else (low, middle)
                reach = sign * float(self.at(0.5 * (low + high))[axis])
                best = reach if best is None else max(best, reach)
            point = [0.0, 0.0]
            point[axis] = sign * best
            found.append(tuple(point))
        return found


def round_of(p, q, r=None):
    """Middle and radius of the smallest circle through two points, or of the one through three."""
    if r is None:
        return (p + q) / 2, np.hypot(*(p - q)) / 2
    sides = np.array([q - p, r - p])
    middle = p + np.linalg.solve(sides, np.sum(sides**2, axis=1) / 2)
    return middle, np.hypot(*(p - middle))
