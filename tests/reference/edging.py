"""The work on one edge: where bevel or groove lie, how they suit the rim, what chamfers and the wheel take off.

Written from docs/model.md. Units: mm, mm³, dioptres as marked at index 1.530. Points from the boxed centre, z from the front's
vertex toward the eye.
"""

from dataclasses import dataclass

import numpy as np
from quadrature import BEVEL, GROOVE
from scipy.integrate import cubature, quad
from scipy.optimize import brentq

USUAL = 1.0
SLOPE = np.tan(np.radians(55.0))
SHARE = 1 / 3
CHAMFER = 0.25
# With less than this a dioptre more or less makes no difference on an outline: it is as good as round.
TELLING = 0.01


@dataclass
class Ball:
    """z = d + a x + b y + c (h² + z²)/2, worked by its middle and radius."""

    d: float
    a: float
    b: float
    c: float

    def z(self, x, y):
        if self.c == 0:
            return self.d + self.a * x + self.b * y
        middle = -self.a / self.c, -self.b / self.c
        radius2 = (1 + self.a**2 + self.b**2) / self.c**2 - 2 * self.d / self.c
        root = np.sqrt(radius2 - (x - middle[0]) ** 2 - (y - middle[1]) ** 2)
        return 1 / self.c - np.sign(self.c) * root

    def stretch(self):
        """Its curvature is c over this."""
        return np.sqrt(1 + self.a**2 + self.b**2 - 2 * self.d * self.c)


class Edge:
    """The edge of a lens in its outline, and what is wished of it in its frame."""

    def __init__(self, mounted, frame):
        self.mounted, self.outline, self.frame = mounted, mounted.outline, frame
        rim = frame["rim"]
        self.goes_round = rim != "rimless"
        self.bevelled = rim in BEVEL
        self.whole = SLOPE * BEVEL[rim] if self.bevelled else GROOVE[0] / 2 if self.goes_round else 0.0
        u, self.weights = self.outline.nodes()
        self.x, self.y, dx, dy, *_ = self.outline.at(u)
        self.weights = self.weights * np.hypot(dx, dy)
        # Where nothing goes round, nothing comes of a place wished for it.
        self.position = frame.get("bevel_position") if self.goes_round else None
        self.ball, self.shift = None, 0.0
        if self.position == "rim-curve":
            self.ball, self.shift = self.laid_on_the_rim(frame["rim_curve_d"] / 530)

    def front(self, x, y, *_):
        at, solid = self.mounted.at, self.mounted.solid
        return solid.circle(solid.lens.front_radius, np.hypot(x - at[0], y - at[1]))

    def back(self, x, y):
        at, solid = self.mounted.at, self.mounted.solid
        return solid.t + solid.back(x - at[0], y - at[1])

    def half(self, x, y):
        """Half of what bevel or groove take up of the edge."""
        return np.minimum(self.whole, self.mounted.field(x, y) / 2)

    def usual(self, x, y):
        return self.within(x, y, np.minimum(USUAL, self.mounted.field(x, y) / 2))

    def within(self, x, y, behind):
        """Behind the front corner, as near to there as stays within the edge."""
        half, thick = self.half(x, y), self.mounted.field(x, y)
        return np.minimum(np.maximum(behind, half), np.maximum(thick - half, half))

    def wanted(self, x, y):
        """Behind the front corner."""
        thick = self.mounted.field(x, y)
        if self.ball:
            return self.ball.z(x, y) + self.shift - self.front(x, y)
        if self.position == "front":
            return self.frame.get("bevel_behind_mm", USUAL) + 0 * thick
        if self.position == "share":
            return self.frame.get("bevel_share", SHARE) * thick
        return np.minimum(USUAL, thick / 2)

    def behind(self, x, y, *_):
        """Tip of the bevel, middle of the groove, behind the front corner."""
        return self.within(x, y, self.wanted(x, y))

    def tip(self, x, y, *_):
        return self.front(x, y) + self.behind(x, y)

    def moved(self, x, y, *_):
        return abs(self.behind(x, y) - self.wanted(x, y))

    def laid_on_the_rim(self, curvature):
        """The sphere of that curvature nearest to the usual place, and how far back it comes to lie from there."""
        ball = self.nearest(curvature, self.front(self.x, self.y) + self.usual(self.x, self.y))

        def most(f):
            return self.outline.most(lambda x, y, *_: f(x, y) - ball.z(x, y))[0]

        wished = most(lambda x, y: self.front(x, y) + self.usual(x, y))
        least = most(lambda x, y: self.front(x, y) + self.half(x, y))
        room = self.outline.least(lambda x, y, *_: self.back(x, y) - self.half(x, y) - ball.z(x, y))[0]
        return ball, min(wished, room) if least <= room else (least + room) / 2

    def solved(self, columns, wanted):
        root = np.sqrt(self.weights)
        return np.linalg.lstsq(np.stack(columns, axis=1) * root[:, None], wanted * root)[0]

    def nearest(self, curvature, z):
        """Of this curvature, nearest to points over the nodes: least squares for every c, and the c that it belongs to."""
        x, y, one = self.x, self.y, np.ones_like(self.x)

        def ball(c):
            return Ball(*self.solved([one, x, y], z - c * (x * x + y * y + z * z) / 2), c)

        if curvature == 0:
            return ball(0.0)
        return ball(brentq(lambda c: c - curvature * ball(c).stretch(), 0.2 * curvature, 3 * curvature, xtol=1e-16))

    def curve(self):
        """Of the tip, D; None where nothing goes round or the outline is as good as round."""
        x, y, one = self.x, self.y, np.ones_like(self.x)
        z = self.tip(x, y)
        bent = (x * x + y * y + z * z) / 2
        left = bent - np.stack([one, x, y], axis=1) @ self.solved([one, x, y], bent)
        makes = np.sqrt(np.sum(self.weights * left**2) / np.sum(self.weights)) / 530
        if not self.goes_round or makes < TELLING:
            return None
        ball = Ball(*self.solved([one, x, y, bent], z))
        return 530 * ball.c / ball.stretch()

    def off_rim(self, z):
        """A function of the place: how far along z it lies off the rim where it suits it best."""
        ball = self.nearest(self.frame["rim_curve_d"] / 530, z(self.x, self.y))
        return lambda x, y, *_: abs(z(x, y) - ball.z(x, y))

    def chamfered(self):
        """What chamfers take off both corners: the corners as they are, curved faces and all. None where a face falls at 45°
        or more somewhere, and so has no corner."""
        leg = self.frame.get("chamfer_mm", CHAMFER) / np.sqrt(2)
        u, weights = self.outline.nodes()
        x, y, dx, dy, ddx, ddy = self.outline.at(u)
        speed = np.hypot(dx, dy)
        normal, bends = (dy / speed, -dx / speed), (dx * ddy - dy * ddx) / speed**3
        inset = self.half(x, y) / SLOPE if self.bevelled else 0 * x
        tip, half = self.tip(x, y), self.half(x, y)

        def inward(face, q):
            return face(x - q * normal[0], y - q * normal[1])

        total = 0.0
        for face, side in ((self.front, 1), (self.back, -1)):
            corner, beside = inward(face, inset), inward(face, inset + 1e-6)
            if np.any(side * (corner - beside) >= 1e-6):
                return None
            legs = np.clip(side * (tip - corner) - half, 0, leg)

            def gone(s, face=face, side=side, corner=corner, legs=legs):
                """How much is taken off so far inward of the corner."""
                return legs - s - side * (inward(face, inset + s) - corner)

            # Where the chamfer runs out into the face.
            low, high = 0 * x, 3 * legs
            for _ in range(45):
                middle = (low + high) / 2
                low, high = np.where(gone(middle) > 0, middle, low), np.where(gone(middle) > 0, high, middle)
            for node, weight in zip(*np.polynomial.legendre.leggauss(6)):
                s = high * (1 + node) / 2
                total += np.sum(weights * speed * weight / 2 * high * gone(s) * (1 - bends * (inset + s)))
        return float(total)


class Wheel:
    """How deep the wheel goes into a round blank, on rays from the boxed centre."""

    def __init__(self, outline, middle, diameter):
        self.outline, self.middle, self.diameter = outline, middle, diameter

    def depth(self, x, y, *_):
        out = np.hypot(x, y)
        along, aside = ((x * self.middle[0] + y * self.middle[1]) / out, (x * self.middle[1] - y * self.middle[0]) / out)
        return along + np.sqrt((self.diameter / 2) ** 2 - aside**2) - out

    def mean(self):
        return self.outline.round(lambda x, y, dx, dy, *_: self.depth(x, y) * (x * dy - y * dx) / (x * x + y * y)) / (2 * np.pi)


def uncut_volume(solid, diameter):
    """A finished round uncut: the lens itself."""

    def ring(v):
        r, a = diameter / 2 * v[:, 0], 2 * np.pi * v[:, 1]
        return np.pi * diameter * r * solid.thickness(r * np.cos(a), r * np.sin(a))

    return float(cubature(ring, [0, 0], [1, 1], rtol=1e-11).estimate)


def blank_volume(thickness, diameter):
    """Of a blank that is the same all round."""
    return quad(lambda r: 2 * np.pi * r * thickness(r), 0, diameter / 2, epsabs=0, epsrel=1e-12)[0]
