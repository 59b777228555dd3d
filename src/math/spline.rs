//! A smooth closed curve through measured points: a periodic cubic spline with no more knots than the reading step of
//! the instrument asks for, by least squares.
//!
//! Units: those of the points. The parameter is the length of the chords between them. Where the curve strays farther from
//! the points than reading them can explain, knots are added halfway, until it does not (after Dierckx 1993, Curve and
//! Surface Fitting with Splines, ch. 5). Few knots are what keeps the steps of the reading out of the curve.

use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, Vec2};
use nalgebra::{Cholesky, DMatrix};

/// Pieces to begin with, where there are points enough: a circle of 30 mm is then right to 0.0001 mm.
const FIRST_PIECES: usize = 32;
/// More pieces than any lens shape wants; beyond them a curve follows the hand, not the shape.
const MOST_PIECES: usize = 128;
/// A reading is off by half a step at most; the rest is for the angle's own step and for the curve (ours).
const MOST_OFF_STEPS: f64 = 0.75;
/// Mean square of a number rounded to a step of 1, and the deviation of that of one number.
const ROUNDED: (f64, f64) = (1.0 / 12.0, 0.0745);
/// How many deviations of its mean are still chance.
const CHANCE: f64 = 3.0;
/// Stretches this near to the worst are mended in the same round.
const AS_BAD: f64 = 0.3;
/// Points times pieces up to which knots are tried one by one.
const MOST_TRIED: usize = 200_000;

/// A closed curve through points.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// Its pieces, in the order of the points; they join with equal first and second derivatives.
    pub pieces: Vec<CubicBez>,
    /// The farthest that it passes a point by.
    pub off: f64,
}

/// The curve through at least eight points in their order round, each read to `step`; `None` where there is none.
#[must_use]
pub fn closed(points: &[Vec2], step: f64) -> Option<Fitted> {
    let at = Lengths::of(points);
    let first = at.even(FIRST_PIECES.min(points.len() / 2));
    let mut knots = first.clone();
    loop {
        let spline = Spline::through(points, &at, &knots)?;
        let off = spline.off(points, &at);
        let wanted = wanted(&knots, &off, &at, step);
        if wanted.is_empty() && points.len() * knots.len() <= MOST_TRIED {
            return without_needless(points, &at, (&first, knots), step, spline).fitted(points, &at);
        }
        if wanted.is_empty() || knots.len() == MOST_PIECES {
            return spline.fitted(points, &at);
        }
        knots.extend(wanted.into_iter().take(MOST_PIECES - knots.len()));
        knots.sort_unstable();
    }
}

/// The same without added knots that the points do not ask for, tried one by one.
fn without_needless(
    points: &[Vec2],
    at: &Lengths,
    (first, mut knots): (&[usize], Vec<usize>),
    step: f64,
    whole: Spline,
) -> Spline {
    let mut best = whole;
    let mut index = 0;
    while index < knots.len() {
        if first.binary_search(&knots[index]).is_ok() {
            index += 1;
            continue;
        }
        let mut fewer = knots.clone();
        fewer.remove(index);
        let explained = |spline: &Spline| {
            let off = spline.off(points, at);
            stretches(&fewer, off.len()).all(|(from, to)| excess(from..=to, &off, step) <= 1.0)
        };
        match Spline::through(points, at, &fewer).filter(explained) {
            Some(spline) => (best, knots) = (spline, fewer),
            None => index += 1,
        }
    }
    best
}

/// From knot to knot, the last counted on beyond the first round.
fn stretches(knots: &[usize], count: usize) -> impl Iterator<Item = (usize, usize)> {
    let next = move |i: usize| knots.get(i + 1).copied().unwrap_or(knots[0] + count);
    knots.iter().enumerate().map(move |(i, &from)| (from, next(i)))
}

/// How far along the chords each point lies.
struct Lengths {
    at: Vec<f64>,
    round: f64,
}

impl Lengths {
    fn of(points: &[Vec2]) -> Lengths {
        let mut round = 0.0;
        let mut at = Vec::with_capacity(points.len());
        for (i, point) in points.iter().enumerate() {
            at.push(round);
            round += (points[(i + 1) % points.len()] - *point).hypot();
        }
        Lengths { at, round }
    }

    /// The place of a point, counted on beyond the first round.
    fn of_point(&self, index: usize) -> f64 {
        self.at[index % self.at.len()] + self.round * (index / self.at.len()) as f64
    }

    /// The point nearest to a place, of those strictly between two points.
    fn nearest(&self, place: f64, between: (usize, usize)) -> Option<usize> {
        let off = |index: &usize| (self.of_point(*index) - place).abs();
        (between.0 + 1..between.1).min_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// About `count` points at equal lengths.
    fn even(&self, count: usize) -> Vec<usize> {
        let place = |i: usize| self.round * i as f64 / count as f64;
        let mut knots: Vec<usize> =
            (0..count).map(|i| self.at.partition_point(|at| *at < place(i)).min(self.at.len() - 1)).collect();
        knots.dedup();
        knots
    }
}

/// Points that are to become knots too: halfway along stretches where the curve strays, the worst first.
fn wanted(knots: &[usize], off: &[f64], at: &Lengths, step: f64) -> Vec<usize> {
    let count = off.len();
    let mut stray: Vec<(f64, usize)> = Vec::new();
    for (from, to) in stretches(knots, count) {
        let middle = 0.5 * (at.of_point(from) + at.of_point(to));
        if let (excess, Some(split)) = (excess(from..=to, off, step), at.nearest(middle, (from, to)))
            && excess > 1.0
        {
            stray.push((excess, split % count));
        }
    }
    stray.sort_by(|a, b| b.0.total_cmp(&a.0));
    let worst = stray.first().map_or(0.0, |first| first.0);
    stray.into_iter().take_while(|(excess, _)| *excess >= AS_BAD * worst).map(|(_, split)| split).collect()
}

/// How far points stray, as a multiple of what reading them explains.
fn excess(stretch: std::ops::RangeInclusive<usize>, off: &[f64], step: f64) -> f64 {
    let (mut most, mut squares, mut count) = (0.0_f64, 0.0, 0.0);
    for index in stretch {
        let steps = off[index % off.len()] / step;
        most = most.max(steps);
        squares += steps * steps;
        count += 1.0;
    }
    let (mean, deviation) = ROUNDED;
    let explained = mean + CHANCE * deviation / f64::sqrt(count);
    (most / MOST_OFF_STEPS).max((squares / count / explained).sqrt())
}

/// The spline of least squares on some knots.
struct Spline {
    /// Where each piece begins.
    starts: Vec<f64>,
    pieces: Vec<CubicBez>,
}

impl Spline {
    fn through(points: &[Vec2], at: &Lengths, knots: &[usize]) -> Option<Spline> {
        let starts: Vec<f64> = knots.iter().map(|&index| at.at[index]).collect();
        let basis = Basis { starts: &starts, round: at.round };
        let count = starts.len();
        let mut normal = DMatrix::<f64>::zeros(count, count);
        let mut right = DMatrix::<f64>::zeros(count, 2);
        for (point, &place) in points.iter().zip(&at.at) {
            let piece = basis.piece_at(place);
            let shares = basis.shares(piece, place);
            for (i, share) in shares.iter().enumerate() {
                let row = basis.control(piece, i);
                right[(row, 0)] += share * point.x;
                right[(row, 1)] += share * point.y;
                for (j, other) in shares.iter().enumerate() {
                    normal[(row, basis.control(piece, j))] += share * other;
                }
            }
        }
        let controls = Cholesky::new(normal)?.solve(&right);
        let control = |index: usize| Vec2::new(controls[(index, 0)], controls[(index, 1)]);
        let pieces = (0..count).map(|piece| basis.bezier(piece, &control)).collect();
        Some(Spline { starts, pieces })
    }

    fn fitted(self, points: &[Vec2], at: &Lengths) -> Option<Fitted> {
        let off = self.off(points, at).into_iter().fold(0.0, f64::max);
        off.is_finite().then_some(Fitted { pieces: self.pieces, off })
    }

    /// How far each point lies from the curve, across it.
    fn off(&self, points: &[Vec2], at: &Lengths) -> Vec<f64> {
        let basis = Basis { starts: &self.starts, round: at.round };
        let across = |(point, &place): (&Vec2, &f64)| {
            let piece = basis.piece_at(place);
            let (from, to) = (basis.knot(piece as isize), basis.knot(piece as isize + 1));
            let t = (place - from) / (to - from);
            let along = self.pieces[piece].deriv().eval(t).to_vec2();
            ((*point - self.pieces[piece].eval(t).to_vec2()).cross(along) / along.hypot()).abs()
        };
        points.iter().zip(&at.at).map(across).collect()
    }
}

/// Cubic B-splines on knots that go round.
struct Basis<'a> {
    starts: &'a [f64],
    round: f64,
}

impl Basis<'_> {
    fn knot(&self, index: isize) -> f64 {
        let count = self.starts.len() as isize;
        self.starts[index.rem_euclid(count) as usize] + self.round * index.div_euclid(count) as f64
    }

    /// The piece that a place of the first round lies on: the first knot is the first point, where the round begins.
    fn piece_at(&self, place: f64) -> usize {
        self.starts.partition_point(|start| *start <= place).saturating_sub(1)
    }

    /// Which control point is the `i`th of the four of a piece.
    fn control(&self, piece: usize, i: usize) -> usize {
        (piece + i) % self.starts.len()
    }

    /// The shares of the four control points at a place of a piece (de Boor 1978).
    fn shares(&self, piece: usize, place: f64) -> [f64; 4] {
        let piece = piece as isize;
        let left = |k: usize| place - self.knot(piece + 1 - k as isize);
        let right = |k: usize| self.knot(piece + k as isize) - place;
        let mut shares = [1.0, 0.0, 0.0, 0.0];
        for degree in 1..=3 {
            let mut saved = 0.0;
            for (r, share) in shares.iter_mut().enumerate().take(degree) {
                let part = *share / (right(r + 1) + left(degree - r));
                *share = saved + right(r + 1) * part;
                saved = left(degree - r) * part;
            }
            shares[degree] = saved;
        }
        shares
    }

    /// A piece as a Bézier curve, by its blossom (Ramshaw 1989).
    fn bezier(&self, piece: usize, control: &impl Fn(usize) -> Vec2) -> CubicBez {
        let index = piece as isize;
        let (a, b) = (self.knot(index), self.knot(index + 1));
        let blossom = |arguments: [f64; 3]| {
            let mut d: [Vec2; 4] = std::array::from_fn(|i| control(self.control(piece, i)));
            for (level, argument) in arguments.into_iter().enumerate() {
                for k in (level + 1..4).rev() {
                    let from = self.knot(index - 3 + k as isize);
                    let to = self.knot(index + k as isize - level as isize);
                    d[k] = d[k - 1].lerp(d[k], (argument - from) / (to - from));
                }
            }
            d[3].to_point()
        };
        CubicBez::new(blossom([a, a, a]), blossom([a, a, b]), blossom([a, b, b]), blossom([b, b, b]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    /// An ellipse seen from its middle at equal angles, radii rounded to `step`.
    fn ellipse(a: f64, b: f64, count: usize, step: f64) -> Vec<Vec2> {
        let radius = |angle: f64| a * b / (b * angle.cos()).hypot(a * angle.sin());
        (0..count)
            .map(|i| {
                let angle = TAU * i as f64 / count as f64;
                (radius(angle) / step).round() * step * Vec2::from_angle(angle)
            })
            .collect()
    }

    fn curvature(piece: &CubicBez, t: f64) -> f64 {
        let d1 = piece.deriv().eval(t).to_vec2();
        let d2 = piece.deriv().deriv().eval(t).to_vec2();
        d1.cross(d2) / d1.hypot().powi(3)
    }

    #[test]
    fn steps_of_the_reading_make_no_waves() {
        for (count, bound) in [(36, 0.10), (72, 0.10), (400, 0.06), (1000, 0.05)] {
            let fitted = closed(&ellipse(25.0, 18.0, count, 0.01), 0.01).expect("a curve");
            assert!(
                fitted.off < 0.0075 && fitted.pieces.len() <= 36,
                "{count}: {} {}",
                fitted.off,
                fitted.pieces.len()
            );
            let mut worst = 0.0_f64;
            for piece in &fitted.pieces {
                for t in [0.0, 0.25, 0.5, 0.75, 1.0] {
                    let p = piece.eval(t).to_vec2();
                    // Of an ellipse: a b / (a² sin² + b² cos²)^1.5 at the eccentric angle.
                    let (s, c) = (p.y / 18.0, p.x / 25.0);
                    let exact = 25.0 * 18.0 / (25.0 * s).hypot(18.0 * c).powi(3);
                    worst = worst.max((curvature(piece, t) / exact - 1.0).abs());
                }
            }
            assert!(worst < bound, "{count}: curvature is off by a share of {worst}, bound {bound}");
        }
    }

    #[test]
    fn pieces_join_smoothly() {
        let fitted = closed(&ellipse(25.0, 14.0, 100, 0.01), 0.01).expect("a curve");
        for (i, piece) in fitted.pieces.iter().enumerate() {
            let next = &fitted.pieces[(i + 1) % fitted.pieces.len()];
            assert!((piece.p3 - next.p0).hypot() < 1e-10);
            assert!((curvature(piece, 1.0) - curvature(next, 0.0)).abs() < 1e-9);
        }
    }

    /// Four points of a square with a side of 2, and one in the middle of the last side.
    fn square() -> Vec<Vec2> {
        [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0), (0.0, 0.5)].map(|(x, y)| Vec2::new(x, y)).to_vec()
    }

    #[test]
    fn lengths_along_the_chords_by_hand() {
        let at = Lengths::of(&square());
        assert_eq!((at.at.as_slice(), at.round), ([0.0, 2.0, 4.0, 6.0, 7.5].as_slice(), 8.0));
        assert_eq!([2, 4, 5, 7, 11].map(|i| at.of_point(i)), [4.0, 7.5, 8.0, 12.0, 18.0], "counted on");
        assert_eq!(at.nearest(3.9, (0, 4)), Some(2));
        assert_eq!(at.nearest(9.9, (3, 7)), Some(6), "a round on");
        assert_eq!(at.nearest(3.9, (2, 3)), None, "none between neighbours");
        assert_eq!(at.even(4), [0, 1, 2, 3]);
        // The last place lies on the last chord, beyond the last point.
        assert_eq!(Lengths::of(&square()[..4]).even(7), [0, 1, 2, 3]);
    }

    #[test]
    fn what_reading_explains_by_hand() {
        // Four points off by half a step: a mean square of ¼, where 1/12 + 3 · 0.0745 / √4 is explained.
        let explained: f64 = 1.0 / 12.0 + 3.0 * 0.0745 / 2.0;
        let found = excess(0..=3, &[0.005, 0.005, 0.005, 0.005], 0.01);
        assert!((found - (0.25 / explained).sqrt()).abs() < 1e-12, "{found}");
        // One far off: four steps where three quarters are allowed.
        let found = excess(0..=8, &[0.0, 0.0, 0.04, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0], 0.01);
        assert!((found - 4.0 / 0.75).abs() < 1e-12, "{found}");
    }

    #[test]
    fn a_knot_is_added_halfway_where_the_curve_strays() {
        let points: Vec<Vec2> = (0..40).map(|i| 20.0 * Vec2::from_angle(TAU * f64::from(i) / 40.0)).collect();
        let at = Lengths::of(&points);
        let mut off = vec![0.0; 40];
        off[13] = 0.05;
        assert_eq!(wanted(&[0, 10, 20, 30], &off, &at, 0.01), [15]);
        off[33] = 0.5;
        assert_eq!(wanted(&[0, 10, 20, 30], &off, &at, 0.01), [35], "the other is far less bad");
        off[13] = 0.4;
        assert_eq!(wanted(&[0, 10, 20, 30], &off, &at, 0.01), [35, 15], "the worst first");
        off[33] = 0.004;
        off[13] = 0.004;
        assert!(wanted(&[0, 10, 20, 30], &off, &at, 0.01).is_empty());
    }

    #[test]
    fn knots_that_nothing_asks_for_are_taken_out() {
        let points = ellipse(25.0, 18.0, 200, 0.01);
        let at = Lengths::of(&points);
        let first = at.even(32);
        let mut knots = first.clone();
        knots.extend([3, 51, 102, 177].iter().filter(|index| !first.contains(index)));
        knots.sort_unstable();
        assert!(knots.len() > first.len());
        let whole = Spline::through(&points, &at, &knots).expect("a spline");
        let kept = without_needless(&points, &at, (&first, knots), 0.01, whole);
        assert_eq!(kept.pieces.len(), first.len());
    }
}
