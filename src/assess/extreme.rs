//! The lowest place of a smooth field inside an outline, by steps to all sides that shrink: bounded, without derivatives.
//!
//! Units: mm. Points from the boxed centre.

use crate::outline::Outline;
use kurbo::Vec2;

/// The first step, and the one at which it is settled: the field is then as low as it gets to some 1e-12.
const FIRST_MM: f64 = 2.0;
const LAST_MM: f64 = 1e-6;
/// Many more steps than a smooth field takes.
const MOST_STEPS: usize = 400;

/// From a place inside down to a place that no neighbour undercuts, and the field there; it does not leave the outline.
/// `None` where the field has no value at the start.
pub(super) fn lowest(outline: &Outline, start: Vec2, field: impl Fn(Vec2) -> Option<f64>) -> Option<(Vec2, f64)> {
    let (mut at, mut value, mut step) = (start, field(start)?, FIRST_MM);
    for _ in 0..MOST_STEPS {
        if step < LAST_MM {
            break;
        }
        let ways =
            [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (0.7, 0.7), (-0.7, 0.7), (-0.7, -0.7), (0.7, -0.7)];
        let tried = ways.into_iter().map(|(x, y)| at + step * Vec2::new(x, y));
        let lower = tried
            .filter_map(|p| Some((p, field(p)?)))
            .filter(|(p, found)| *found < value && outline.depth_inside_mm(*p) >= 0.0)
            .reduce(|a, b| if b.1 < a.1 { b } else { a });
        match lower {
            Some((p, found)) => (at, value) = (p, found),
            None => step *= 0.5,
        }
    }
    Some((at, value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bowl_is_followed_to_its_ground_and_not_over_the_outline() {
        let outline = Outline::ellipse(50.0, 40.0);
        let bowl = |ground: Vec2| {
            move |p: Vec2| Some(3.0 + 0.02 * (p - ground).hypot2() + 0.01 * (p.x - ground.x) * (p.y - ground.y))
        };
        let ground = Vec2::new(7.3, -4.1);
        let (at, value) = lowest(&outline, Vec2::new(-15.0, 3.0), bowl(ground)).expect("a value");
        assert!((at - ground).hypot() < 1e-5 && (value - 3.0).abs() < 1e-11, "{at:?} {value}");
        let (at, _) = lowest(&outline, Vec2::ZERO, bowl(Vec2::new(60.0, 0.0))).expect("a value");
        assert!(outline.depth_inside_mm(at) >= 0.0 && at.x > 20.0, "{at:?}");
    }
}
