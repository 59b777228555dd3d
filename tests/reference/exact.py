"""Sags, thicknesses and volumes to thirty digits.

Units: mm, mm³.
"""

import mpmath as mp
import numpy as np

mp.mp.dps = 30
NODES = 12
# Where an edge is thickest or thinnest is narrowed down with so many digits, until a step is shorter than STEP of a piece.
NARROWED, STEP, ROUNDS = 60, mp.mpf("1e-20"), 40


def crossings(outline):
    """The outermost points on the lines through the boxed centre: right, top, left, bottom."""
    if outline.ellipse:
        a, b = (mp.mpf(v) for v in outline.ellipse)
        return (a, 0), (0, b), (-a, 0), (0, -b)
    found = {}
    for piece in outline.bezier:
        for axis in (0, 1):
            across = [mp.mpf(float(p[1 - axis])) for p in piece]
            if min(across) > 0 or max(across) < 0:
                continue
            a, b, c, d = across
            for root in mp.polyroots([d - a + 3 * (b - c), 3 * (a - 2 * b + c), 3 * (b - a), a], maxsteps=400, extraprec=200):
                t = mp.re(root)
                if abs(mp.im(root)) < mp.mpf("1e-20") and -mp.mpf("1e-20") <= t <= 1:
                    v = bernstein([mp.mpf(float(p[axis])) for p in piece], t)
                    found[axis, v > 0] = max(found.get((axis, v > 0), v), v, key=abs)
    return (found[0, True], 0), (0, found[1, True]), (found[0, False], 0), (0, found[1, False])


def bernstein(p, t):
    v = 1 - t
    return v**3 * p[0] + 3 * v * v * t * p[1] + 3 * v * t * t * p[2] + t**3 * p[3]


def thickness(solid, at, point):
    return solid.thickness(point[0] - mp.mpf(at[0]), point[1] - mp.mpf(at[1]))


def extreme(solid, outline, at, u):
    """The thickness at the level place of the edge near u, which doubles have found: the tops of parabolas through three close
    places, each piece by itself. Where both pieces that meet send it to the other, their end is the place."""
    with mp.workdps(NARROWED):
        apart = mp.mpf(10) ** (-NARROWED // 4)
        piece, t, came_from = *divmod(mp.mpf(float(u)), 1), None
        for _ in range(ROUNDS):
            i = int(piece) % outline.count
            before, here, after = (thickness(solid, at, jet(outline, i, t + k * apart)[:2]) for k in (-1, 0, 1))
            bend = (after - 2 * here + before) / apart**2
            # An edge that is equally thick all along has no place to be narrowed down.
            step = -(after - before) / (2 * apart) / bend if bend else mp.mpf(0)
            if 0 <= t + step <= 1:
                t, came_from = t + step, None
                if abs(step) < STEP:
                    return here
                continue
            way = 1 if step > 0 else -1
            if came_from == way:
                return here
            piece, t, came_from = piece + way, mp.mpf(0 if way > 0 else 1), -way
    raise ValueError(f"the place of the edge near {u} is not settled")


def gauss(count):
    """Nodes and weights on 0 … 1: numpy's, sharpened by Newton's method on the Legendre polynomial."""
    rule = []
    for start in np.polynomial.legendre.leggauss(count)[0]:
        x = mp.mpf(float(start))
        for _ in range(3):
            value, before = mp.legendre(count, x), mp.legendre(count - 1, x)
            slope = count * (x * value - before) / (x * x - 1)
            x -= value / slope
        slope = count * mp.legendre(count - 1, x) / (1 - x * x)
        rule.append(((1 + x) / 2, 1 / ((1 - x * x) * slope * slope)))
    return rule


def volume(solid, outline, at, rule):
    """∬ thickness over the outline: a fan of each piece from the boxed centre."""
    total = mp.mpf(0)
    for i in range(outline.count):
        for t, wt in rule:
            x, y, dx, dy = jet(outline, i, t)
            spoke = mp.mpf(0)
            for s, ws in rule:
                spoke += ws * s * thickness(solid, at, (s * x, s * y))
            total += wt * (x * dy - y * dx) * spoke
    return total


def jet(outline, i, t):
    if outline.ellipse:
        a, b = (mp.mpf(v) for v in outline.ellipse)
        k = 2 * mp.pi / outline.count
        c, s = mp.cos(k * (i + t)), mp.sin(k * (i + t))
        return a * c, b * s, -a * k * s, b * k * c
    piece = [[mp.mpf(float(v)) for v in p] for p in outline.bezier[i]]
    x, y = (bernstein([p[k] for p in piece], t) for k in (0, 1))
    v = 1 - t
    dx, dy = (
        3 * (v * v * (piece[1][k] - piece[0][k]) + 2 * v * t * (piece[2][k] - piece[1][k]) + t * t * (piece[3][k] - piece[2][k]))
        for k in (0, 1)
    )
    return x, y, dx, dy
