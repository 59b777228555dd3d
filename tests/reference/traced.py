"""Lens shapes that are traced: a closed form, the file that a tracer would write of it, and the form itself as an outline.

The form is r(θ) = (|cos θ/a|^e + |sin θ/b|^e)^(−1/e) about the point that it is traced from, with reaches of its own toward
each side: its box and its area have closed expressions, and it is smooth across the axes.

Units: mm.
"""

import math
from dataclasses import dataclass

import numpy as np
from outline import Outline


@dataclass
class Form:
    """Of the right lens, the nose at +x: how far it reaches right, up, left and down."""

    reaches: tuple
    exponent: float

    @property
    def box(self):
        right, top, left, bottom = self.reaches
        return right + left, top + bottom

    def area(self):
        e = self.exponent
        return math.prod(self.box) * math.gamma(1 + 1 / e) ** 2 / math.gamma(1 + 2 / e)

    def radius(self, theta):
        """The radius, and how fast it grows with θ."""
        c, s, e = np.cos(theta), np.sin(theta), self.exponent
        right, top, left, bottom = self.reaches
        a, b = np.where(c > 0, right, left), np.where(s > 0, top, bottom)
        r = (abs(c / a) ** e + abs(s / b) ** e) ** (-1 / e)
        grows = np.sign(c) * s * abs(c) ** (e - 1) / a**e - np.sign(s) * c * abs(s) ** (e - 1) / b**e
        return r, r ** (e + 1) * grows

    def trace(self, points, start, way):
        """So many radii in columns, rounded as tracers round; `way` is 1 or −1."""
        angles = [(start + way * k) * 360 / points % 360 for k in range(points)]
        rows = [f"{angle:.6f},{float(self.radius(math.radians(angle))[0]):.2f}" for angle in angles]
        return "\n".join(["angle_deg,radius_mm", *rows, ""])

    def off(self, outline, eye, scale):
        """How far an outline, so many times as large, lies off it at most along the rays that it was traced on."""
        x, y, *_ = outline.at(np.linspace(0, outline.count, 100 * outline.count, endpoint=False))
        x, y = (x if eye == "right" else -x) / scale + self.middle[0], y / scale + self.middle[1]
        return float(np.max(abs(np.hypot(x, y) - self.radius(np.arctan2(y, x))[0])))

    @property
    def middle(self):
        """The boxed centre."""
        right, top, left, bottom = self.reaches
        return (right - left) / 2, (top - bottom) / 2


class Formed(Outline):
    """A form as the outline of an eye's lens, brought to a width: eight pieces, that end on the axes and between them."""

    def __init__(self, form, eye, width):
        self.form, self.ellipse, self.count = form, None, 8
        self.scale = width / form.box[0]
        self.mirror = 1 if eye == "right" else -1

    def at(self, u):
        """x, y and their first derivatives."""
        k = np.pi / 4
        theta = k * np.asarray(u, dtype=float)
        own = theta if self.mirror > 0 else np.pi - theta
        r, grows = self.form.radius(own)
        c, s = np.cos(own), np.sin(own)
        (mx, my), flip, scale = self.form.middle, self.mirror, self.scale
        # Against the way that the mirrored one goes round, both derivatives change their signs.
        dx, dy = grows * c - r * s, grows * s + r * c
        return flip * scale * (r * c - mx), scale * (r * s - my), scale * k * dx, flip * scale * k * dy
