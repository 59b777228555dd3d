//! The smallest circle that holds a closed curve, from a function that finds its farthest point.
//!
//! Grows a set of touching points: the smallest circle of those found so far, then the curve's farthest point from its
//! centre, until nothing sticks out. The set stays small, so its circle is found by trying pairs and triples.

use kurbo::Vec2;

/// Sticking out by less than this (mm) is not sticking out.
const SETTLED_MM: f64 = 1e-9;
/// More rounds than any curve with a handful of corners wants.
const MOST_ROUNDS: usize = 40;
/// Three points hold a circle; a few more may touch it by chance.
const MOST_POINTS: usize = 8;
/// A point this far (mm) inside the circle does not hold it.
const SLACK_MM: f64 = 1e-6;

/// Its middle and its radius.
pub(super) fn circle(farthest: impl Fn(Vec2) -> Vec2) -> (Vec2, f64) {
    let first = farthest(Vec2::ZERO);
    let mut touching = [first; MOST_POINTS];
    touching[1] = farthest(first);
    let mut len = 2;
    let mut circle = smallest(&touching[..len]);
    for _ in 0..MOST_ROUNDS {
        let out = farthest(circle.0);
        let distance = (out - circle.0).hypot();
        if distance <= circle.1 + SETTLED_MM || len == MOST_POINTS {
            break;
        }
        touching[len] = out;
        circle = smallest(&touching[..=len]);
        let mut kept = 0;
        for i in 0..=len {
            if (touching[i] - circle.0).hypot() > circle.1 - SLACK_MM {
                touching[kept] = touching[i];
                kept += 1;
            }
        }
        len = kept;
    }
    (circle.0, circle.1.max((farthest(circle.0) - circle.0).hypot()))
}

fn smallest(points: &[Vec2]) -> (Vec2, f64) {
    let holds = |(centre, radius): &(Vec2, f64)| points.iter().all(|p| (*p - *centre).hypot() <= radius + SETTLED_MM);
    let mut best: Option<(Vec2, f64)> = None;
    let mut offer = |circle: (Vec2, f64)| {
        if holds(&circle) && best.is_none_or(|(_, radius)| circle.1 < radius) {
            best = Some(circle);
        }
    };
    for (i, a) in points.iter().enumerate() {
        for (j, b) in points.iter().enumerate().skip(i + 1) {
            let centre = 0.5 * (*a + *b);
            offer((centre, (*a - centre).hypot()));
            for c in points.iter().skip(j + 1) {
                if let Some(centre) = circumcentre(*a, *b, *c) {
                    offer((centre, (*a - centre).hypot()));
                }
            }
        }
    }
    best.unwrap_or((points[0], 0.0))
}

fn circumcentre(a: Vec2, b: Vec2, c: Vec2) -> Option<Vec2> {
    let (p, q) = (b - a, c - a);
    let d = 2.0 * p.cross(q);
    (d.abs() > 1e-12).then(|| {
        let (pp, qq) = (p.hypot2(), q.hypot2());
        a + Vec2::new(q.y * pp - p.y * qq, p.x * qq - q.x * pp) / d
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The farthest of these points.
    fn radius_of(points: &[Vec2]) -> f64 {
        let far =
            |from: Vec2| points.iter().copied().max_by(|a, b| (*a - from).hypot().total_cmp(&(*b - from).hypot()));
        circle(|from| far(from).expect("points")).1
    }

    #[test]
    fn circles_through_two_and_three_points_by_hand() {
        let at = |x: f64, y: f64| Vec2::new(x, y);
        let right_angle = [at(0.0, 0.0), at(6.0, 0.0), at(0.0, 8.0)];
        assert!((radius_of(&right_angle) - 5.0).abs() < 1e-9, "half of the longest side");
        let side = 10.0;
        let even = [at(0.0, 0.0), at(side, 0.0), at(0.5 * side, 0.75f64.sqrt() * side)];
        assert!((radius_of(&even) - side / 3f64.sqrt()).abs() < 1e-9, "all three hold it");
        let square = [at(-3.0, -3.0), at(3.0, -3.0), at(3.0, 3.0), at(-3.0, 3.0)].map(|p| p + at(7.0, -2.0));
        assert!((radius_of(&square) - 18f64.sqrt()).abs() < 1e-9);
        let flat = [at(-30.0, 0.0), at(30.0, 0.1), at(0.0, 2.0), at(11.0, -3.0)];
        assert!((radius_of(&flat) - 0.5 * (60.0f64 * 60.0 + 0.01).sqrt()).abs() < 1e-9, "two hold it");
    }

    /// Against trying all pairs and triples of points strewn at random.
    #[test]
    fn no_smaller_circle_holds_them() {
        let mut state = 1_u32;
        let mut share = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 8) / f64::from(1 << 24)
        };
        for _ in 0..60 {
            let points: Vec<Vec2> = (0..14).map(|_| Vec2::new(60.0 * share() - 20.0, 30.0 * share())).collect();
            let wanted = smallest(&points).1;
            let found = radius_of(&points);
            assert!((found - wanted).abs() < 1e-8, "{found} for {wanted}");
            let (centre, radius) = smallest(&points);
            assert!(points.iter().all(|p| (*p - centre).hypot() <= radius + 2.0 * SETTLED_MM));
        }
    }
}
