//! Brute force that other tests lean on: an outline walked in small steps, integrals over its whole area, extremes by
//! looking everywhere. Of the program only the outline's points and derivatives are used; the Gauss rule is kurbo's table.
//!
//! Units: mm.

use kurbo::Vec2;
use kurbo::common::GAUSS_LEGENDRE_COEFFS_16;
use rimwise::outline::{Curve, Outline};

/// Sixteen Gauss nodes on from … to: (where, weight).
pub(crate) fn gauss(from: f64, to: f64) -> impl Iterator<Item = (f64, f64)> {
    let half = 0.5 * (to - from);
    GAUSS_LEGENDRE_COEFFS_16.iter().map(move |&(weight, x)| (from + half * (1.0 + x), half * weight))
}

/// Stretches of the parameter along which an outline is smooth and turns little.
pub(crate) fn stretches(outline: &Outline) -> Vec<(f64, f64)> {
    let period = outline.curve().period();
    let count = match outline.curve() {
        Curve::Ellipse { .. } => 24,
        Curve::Pieces(pieces) => 2 * pieces.len(),
    };
    let step = period / count as f64;
    (0..count).map(|i| (step * i as f64, step * (i + 1) as f64)).collect()
}

/// ∮ f du once round.
pub(crate) fn round(outline: &Outline, f: impl Fn(f64) -> f64) -> f64 {
    let stretch = |(from, to)| gauss(from, to).map(|(u, weight)| weight * f(u)).sum::<f64>();
    stretches(outline).into_iter().map(stretch).sum()
}

/// ∬ f over the shape, in two dimensions: a fan from the boxed centre, two panels along each spoke.
pub(crate) fn over(outline: &Outline, f: impl Fn(Vec2) -> f64) -> f64 {
    fan(outline, &[0.0, 0.5, 1.0], f)
}

/// The same with panels that narrow toward the outline, for what ends hardly beyond it.
pub(crate) fn over_steep(outline: &Outline, f: impl Fn(Vec2) -> f64) -> f64 {
    fan(outline, &[0.0, 0.5, 0.75, 0.88, 0.95, 0.98, 1.0], f)
}

fn fan(outline: &Outline, ends: &[f64], f: impl Fn(Vec2) -> f64) -> f64 {
    round(outline, |u| {
        let jet = outline.curve().jet(u);
        let panel = |ends: &[f64]| gauss(ends[0], ends[1]).map(|(s, weight)| weight * s * f(jet.p * s)).sum::<f64>();
        jet.p.cross(jet.d1) * ends.windows(2).map(panel).sum::<f64>()
    })
}

/// Parameters in `count` equal steps once round.
pub(crate) fn steps(outline: &Outline, count: usize) -> impl Iterator<Item = f64> {
    let step = outline.curve().period() / count as f64;
    (0..count).map(move |i| step * i as f64)
}

/// The place and the value of the least f(u) once round: the best of 2000 steps, narrowed by golden section.
pub(crate) fn least(outline: &Outline, f: impl Fn(f64) -> f64) -> (f64, f64) {
    const STEPS: usize = 2000;
    let step = outline.curve().period() / STEPS as f64;
    let best = steps(outline, STEPS).map(|u| (u, f(u))).min_by(|a, b| a.1.total_cmp(&b.1)).expect("steps");
    let golden = 0.5 * (5f64.sqrt() - 1.0);
    let (mut a, mut b) = (best.0 - step, best.0 + step);
    for _ in 0..50 {
        let (c, d) = (b - golden * (b - a), a + golden * (b - a));
        if f(c) < f(d) { b = d } else { a = c }
    }
    let middle = 0.5 * (a + b);
    if f(middle) < best.1 { (middle, f(middle)) } else { best }
}

/// Distance of a point from the outline, negative outside, by looking everywhere.
pub(crate) fn depth_inside(outline: &Outline, p: Vec2) -> f64 {
    let curve = outline.curve();
    let (_, distance) = least(outline, |u| (curve.jet(u).p - p).hypot());
    if is_inside(outline, p) { distance } else { -distance }
}

/// Is the point inside? By the winding of a polygon of 2000 corners.
pub(crate) fn is_inside(outline: &Outline, p: Vec2) -> bool {
    let corners: Vec<Vec2> = steps(outline, 2000).map(|u| outline.curve().jet(u).p - p).collect();
    let turned: f64 =
        corners.iter().zip(corners.iter().cycle().skip(1)).map(|(a, b)| a.cross(*b).atan2(a.dot(*b))).sum();
    turned > 3.0
}

/// Points of a square grid that lie inside a star-shaped outline, `across` to the width of its box.
pub(crate) fn grid(outline: &Outline, across: usize) -> Vec<Vec2> {
    let step = outline.width_mm() / across as f64;
    let rows = (outline.depth_mm() / step) as i32 / 2 + 1;
    let columns = across as i32 / 2 + 1;
    let mut points = Vec::new();
    for i in -columns..=columns {
        for k in -rows..=rows {
            let p = Vec2::new(f64::from(i), f64::from(k)) * step;
            if outline.depth_inside_mm(p) >= 0.0 {
                points.push(p);
            }
        }
    }
    points
}
