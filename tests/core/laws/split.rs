//! A lens cut in two along a straight line weighs as much as its halves.
//!
//! Units: mm, mm³, g.

use super::{Seen, check, lenses, near};
use crate::dense;
use kurbo::Vec2;
use rimwise::light::ReferenceLine;
use rimwise::outline::{Density, Outline};
use rimwise::surface::Surface;

/// As the program's volume is promised.
const VOLUME: f64 = 1e-7;

/// ∫ f(p, dp/du) du along the outline from one parameter to a later one, by the stretches along which it is smooth.
fn along(outline: &Outline, (from, to): (f64, f64), f: impl Fn(Vec2, Vec2) -> f64) -> f64 {
    let period = outline.curve().period();
    let ends = dense::stretches(outline).into_iter().flat_map(|(start, _)| [start, start + period]);
    let mut ends: Vec<f64> = ends.filter(|u| *u > from && *u < to).chain([from, to]).collect();
    ends.sort_by(f64::total_cmp);
    let stretch = |ends: &[f64]| {
        dense::gauss(ends[0], ends[1]).map(|(u, weight)| {
            let jet = outline.curve().jet(u);
            weight * f(jet.p, jet.d1)
        })
    };
    ends.windows(2).flat_map(stretch).sum()
}

/// The same along the straight line from one point to another.
fn straight(from: Vec2, to: Vec2, f: impl Fn(Vec2, Vec2) -> f64) -> f64 {
    let panels = [0.0, 0.25, 0.5, 0.75, 1.0];
    let panel =
        |ends: &[f64]| dense::gauss(ends[0], ends[1]).map(|(s, w)| w * f(from.lerp(to, s), to - from)).sum::<f64>();
    panels.windows(2).map(panel).sum()
}

#[test]
fn the_halves_of_a_lens_weigh_as_much_as_the_whole() {
    let seen = Seen::default();
    check(80, &(lenses(), 0.0..1.0f64, 0.2..0.8f64), |(case, from, share)| {
        let outline = case.outline();
        let Ok(made) = case.make_in(&outline) else { return Ok(()) };
        let reference = made.centration.point(case.eye);
        let mounted = rimwise::measure::Mounted { lens: &made.lens, outline: &outline, reference };
        // Steep surfaces are the question of another law.
        if mounted.density() != Density::Plain {
            return Ok(());
        }
        let period = outline.curve().period();
        let (start, end) = (from * period, (from + share) * period);
        let [a, b] = [start, end].map(|u| outline.curve().jet(u).p);
        // Going round: what the surfaces say of each step along the rim, the program's way.
        let below = |surface: &Surface, p: Vec2, d: Vec2| surface.rim(p - reference, d).expect("reaches").below;
        let step = |p: Vec2, d: Vec2| {
            0.5 * made.lens.centre_mm() * p.cross(d) + below(made.lens.back(), p, d) - below(made.lens.front(), p, d)
        };
        // Over the area: a fan from the middle of the cut.
        let (middle, thickness) = ((a + b) * 0.5, |p: Vec2| mounted.thickness(p).unwrap_or(f64::NAN));
        let fan = |p: Vec2, d: Vec2| {
            let spoke = |(s, w): (f64, f64)| w * s * thickness(middle.lerp(p, s));
            (p - middle).cross(d) * dense::gauss(0.0, 0.5).chain(dense::gauss(0.5, 1.0)).map(spoke).sum::<f64>()
        };
        let density = case.option.substance.glass(ReferenceLine::D).density / 1000.0;
        let mut mass = 0.0;
        for (arc, cut) in [((start, end), (b, a)), ((end, start + period), (a, b))] {
            let round = along(&outline, arc, step) + straight(cut.0, cut.1, step);
            let area = along(&outline, arc, fan);
            near("a half", round, area, VOLUME * made.volume_mm3)?;
            mass += density * round;
            let inside = (cut.1 - cut.0).cross(reference - cut.0) > 0.0;
            seen.count("reference point in the other half", !inside);
        }
        let whole = made.mass_g + density * made.edging_removed_mm3;
        near("both halves", mass, whole, VOLUME * whole)?;
        seen.count("turned torus", case.rx.power.cylinder() != 0.0 && !case.rx.prism.is_none());
        seen.count("torus", case.rx.power.cylinder() != 0.0);
        seen.count("made", true);
        // Halves differ: they do not agree by symmetry.
        let half = density * (along(&outline, (start, end), step) + straight(b, a, step));
        seen.count("unequal", (half / whole - 0.5).abs() > 0.05);
        Ok(())
    });
    seen.at_least(10);
}
