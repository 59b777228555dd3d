"""A lens from its prescription by the formulas of the textbooks, in plain radii.

Written from docs/model.md without the program's code: its surfaces work in curvatures, with other forms of the same
equations. `m` is a module of mathematics: numpy for arrays of doubles, mpmath for as many digits as wanted.

Units: mm, dioptres. Points are measured from the reference point: x to the observer's right, y up, z toward the eye.
"""


def prism_sum(prisms, eye, m):
    """Components of several prisms: base toward +x and toward +y."""
    toward = {"up": 90, "down": 270, "in": 0 if eye == "right" else 180, "out": 180 if eye == "right" else 0}
    x = y = 0 * m.pi
    for prism in prisms:
        angle = m.pi * toward.get(prism["base"], prism["base"]) / 180
        x += prism["amount_pd"] * m.cos(angle)
        y += prism["amount_pd"] * m.sin(angle)
    return x, y


class Textbook:
    """What is to be made, before its thickness is known."""

    def __init__(self, rx, eye, index, base_curve_d, m):
        self.m, self.index = m, index * (m.pi / m.pi)
        one = m.pi / m.pi
        self.sphere, self.cylinder = one * rx["sphere"], one * rx.get("cylinder", 0)
        # Either way of writing a power: here the cylinder is minus.
        self.axis = m.pi * (one * rx.get("axis", 0)) / 180
        self.front_radius = 530 * one / base_curve_d if base_curve_d else None
        self.prism = prism_sum(rx.get("prism", []), eye, m)

    def radii(self, t):
        """Back radii along the axis and across it at a centre thickness; None is plane."""
        n = self.index
        front = 1000 * (n - 1) / self.front_radius if self.front_radius else 0 * n
        arriving = front / (1 - t / 1000 / n * front)
        powers = (self.sphere - arriving, self.sphere + self.cylinder - arriving)
        return tuple(1000 * (1 - n) / power if power else None for power in powers)

    def at(self, t):
        return Solid(self, t)


class Solid:
    """Two surfaces a centre thickness apart."""

    def __init__(self, lens, t):
        self.lens, self.t, self.m = lens, t, lens.m
        self.along, self.across = lens.radii(t)
        m, n = self.m, lens.index
        x, y = lens.prism
        amount = m.sqrt(x * x + y * y)
        self.tilt = self.base = None
        if amount:
            # A ray along the front's normal is turned by δ at the back: n sin a = sin(a + δ), so tan a = sin δ/(n − cos δ).
            delta = m.atan(amount / 100)
            slope = m.sin(delta) / (n - m.cos(delta))
            self.tilt = m.atan(slope)
            self.base = (x / amount, y / amount)

    def circle(self, r, y):
        """Sag of a circle of radius r."""
        if r is None:
            return 0 * y
        root = self.m.sqrt(r * r - y * y)
        return r - root if r > 0 else r + root

    def upright(self, x, y):
        """The circle of the smaller radius carried round with the larger one."""
        m = self.m
        c, s = m.cos(self.lens.axis), m.sin(self.lens.axis)
        u, w = x * c + y * s, y * c - x * s
        large, small = self.along, self.across
        if large is not None and (small is None or abs(large) < abs(small)):
            large, small, u, w = small, large, w, u
        sag = self.circle(small, w)
        if large is None:
            return sag
        # The point of the circle at height `sag` goes round an axis one large radius away.
        root = m.sqrt((large - sag) * (large - sag) - u * u)
        return large - root if large > 0 else large + root

    def back(self, x, y):
        """Height of the back over its vertex: turned by the tilt in the plane of the base."""
        if self.tilt is None:
            return self.upright(x, y)
        m = self.m
        c, s = m.cos(self.tilt), m.sin(self.tilt)
        bx, by = self.base
        along, aside = x * bx + y * by, y * bx - x * by

        def above(z):
            # Turned back: what lay up the slope comes down to the level.
            own, height = along * c + z * s, z * c - along * s
            return height - self.upright(own * bx - aside * by, own * by + aside * bx)

        # Secants from the slope alone.
        z0 = along * s / c
        z1 = z0 + self.upright(x, y)
        f0, f1 = above(z0), above(z1)
        for _ in range(SECANTS[m.__name__]):
            step = f1 - f0
            still = step == 0
            if hasattr(m, "where"):
                move = m.where(still, 0.0, f1 * (z1 - z0) / m.where(still, 1.0, step))
            else:
                move = 0 if still else f1 * (z1 - z0) / step
            z0, f0, z1 = z1, f1, z1 - move
            f1 = above(z1)
        return z1

    def thickness(self, x, y):
        """Parallel to z."""
        h = self.m.sqrt(x * x + y * y)
        return self.t + self.back(x, y) - self.circle(self.lens.front_radius, h)


# Secants gain digits by a factor of 1.6 a step.
SECANTS = {"numpy": 9, "mpmath": 10}
