//! Any lens keeps its minima everywhere and no more than that, is the same in a mirror and when turned with its outline,
//! and its thickness does not jump.
//!
//! Units: mm.

use super::{Seen, check, lenses, near};
use crate::case::Case;
use crate::dense;
use kurbo::Vec2;
use proptest::prelude::*;
use rimwise::assess::Made;
use rimwise::choose::centre::{self, Place, SetBy, guard_mm};
use rimwise::eye::Eye;
use rimwise::lens::{Lens, Recipe};
use rimwise::light::ReferenceLine;
use rimwise::measure::Mounted;
use rimwise::outline::{Density, Outline, Shape};
use rimwise::rim::Rim;
use rimwise::rx::{Power, Prism};

/// Thicknesses are solved to 1e-11 mm and extremes found to 1e-9: a minimum may be missed by no more.
const KEPT_MM: f64 = 1e-9;

fn reference(case: &Case) -> Vec2 {
    Vec2::new(case.centration().x_mm(case.eye), case.up_mm)
}

/// Points round a point.
fn ring(p: Vec2, radius: f64) -> impl Iterator<Item = Vec2> {
    (0..32).map(move |i| p + radius * Vec2::from_angle(f64::from(i) * std::f64::consts::TAU / 32.0))
}

/// The inside points of a grid at which the thickness is less than all round.
fn hollows(outline: &Outline, thickness: impl Fn(Vec2) -> f64) -> Vec<Vec2> {
    let step = outline.width_mm() / 30.0;
    let hollow = |p: &Vec2| {
        let here = thickness(*p);
        outline.depth_inside_mm(*p) > 1.5 * step && ring(*p, step).all(|q| thickness(q) > here)
    };
    dense::grid(outline, 30).into_iter().filter(hollow).collect()
}

/// Downhill by halving steps from a point known to have a hollow near it.
fn bottom(thickness: impl Fn(Vec2) -> f64, start: Vec2) -> Vec2 {
    let (mut p, mut step) = (start, 1.0);
    while step > 1e-6 {
        let next = ring(p, step).min_by(|a, b| thickness(*a).total_cmp(&thickness(*b))).expect("a ring");
        if thickness(next) < thickness(p) { p = next } else { step *= 0.5 }
    }
    p
}

#[test]
fn no_point_is_thinner_than_the_minima_and_the_thinnest_is_found() {
    let seen = Seen::default();
    check(160, &lenses(), |case| {
        let outline = case.outline();
        let Ok(made) = case.make_in(&outline) else { return Ok(()) };
        seen.count("made", true);
        let (minimum, reference) = (made.minima.kept, reference(&case));
        let thickness = |p: Vec2| made.lens.thickness(p - reference).unwrap_or(f64::NAN);
        let curve = outline.curve();
        let (_, edge) = dense::least(&outline, |u| thickness(curve.jet(u).p));
        prop_assert!(edge >= minimum.edge_mm - KEPT_MM, "edge {edge} under {}", minimum.edge_mm);
        near("thinnest edge", made.thickness.edges.min.thickness_mm, edge, KEPT_MM)?;
        let (_, thick) = dense::least(&outline, |u| -thickness(curve.jet(u).p));
        near("thickest edge", made.thickness.edges.max.thickness_mm, -thick, KEPT_MM)?;
        let floor = minimum.edge_mm.min(minimum.centre_mm);
        let grid = dense::grid(&outline, 40);
        let thinnest = grid.iter().map(|p| thickness(*p)).fold(edge, f64::min);
        prop_assert!(thinnest >= floor - KEPT_MM, "{thinnest} somewhere inside, floor {floor}");
        prop_assert!(
            thinnest >= made.thickness.thinnest_mm - KEPT_MM,
            "{thinnest}, said {}",
            made.thickness.thinnest_mm
        );
        // On a grid of 1.5 mm the true thinnest is within a sag of 0.75² × 0.03/2 of it.
        near("thinnest", made.thickness.thinnest_mm, thinnest, 0.02)?;
        // The guarded points, found by looking.
        let depth = dense::depth_inside(&outline, reference);
        if depth >= 0.0 {
            let wanted = guard_mm(&minimum, depth);
            let found = made.lens.centre_mm();
            prop_assert!(found >= wanted - 1e-7, "reference point {found} under {wanted}");
            prop_assert_eq!(made.thickness.centre_mm, Some(found));
        } else {
            prop_assert_eq!(made.thickness.centre_mm, None);
        }
        for start in hollows(&outline, thickness) {
            let at = bottom(thickness, start);
            // Along the level valley of a plano meridian there is nothing but rounding.
            let bend = made.lens.jet(at - reference).expect("reaches");
            if bend.zxx * bend.zyy - bend.zxy * bend.zxy < 1e-8 {
                continue;
            }
            let wanted = guard_mm(&minimum, dense::depth_inside(&outline, at));
            // The bottom is flat: a micrometre beside it nothing is lost, but the demand rises with the depth inside.
            prop_assert!(thickness(at) >= wanted - 1e-6, "hollow at {at:?}: {} under {wanted}", thickness(at));
            match made.thickness.lowest {
                Some(lowest) => near("lowest point", (lowest.point - at).hypot(), 0.0, 1e-3)?,
                None => near("lowest point is the reference point", (reference - at).hypot(), 0.0, 1e-3)?,
            }
            seen.count("lowest point inside, away from the reference point", (at - reference).hypot() > 1.0);
        }
        if let Some(lowest) = made.thickness.lowest {
            let here = thickness(lowest.point);
            near("lowest thickness", lowest.thickness_mm, here, 1e-12)?;
            near("lowest inside", lowest.inside_mm, dense::depth_inside(&outline, lowest.point), 1e-8)?;
            prop_assert!(ring(lowest.point, 0.05).all(|q| thickness(q) > here), "no hollow at {lowest:?}");
        }
        let rim = made.thickness.lowest.map_or(depth, |lowest| lowest.inside_mm);
        seen.count("guarded point near the rim", rim > 0.0 && rim < 5.0);
        seen.count("reference point outside", depth < 0.0);
        let [along, across] = made.lens.back_curvatures();
        seen.count("capstan", along * across < 0.0);
        seen.count(
            "plano meridian",
            case.rx.power.cylinder() != 0.0
                && (case.rx.power.sphere() == 0.0 || case.rx.power.sphere() == -case.rx.power.cylinder()),
        );
        seen.count("turned torus", case.rx.power.cylinder() != 0.0 && !case.rx.prism.is_none());
        seen.count("steep", Mounted { lens: &made.lens, outline: &outline, reference }.density() != Density::Plain);
        seen.count("set by the edge", made.thickness.set_by == SetBy::Edge);
        seen.count("set by the centre", made.thickness.set_by == SetBy::Centre);
        seen.count("set by the lowest point", made.thickness.set_by == SetBy::LowestPoint);
        seen.count("edge wanted thicker than centre", minimum.edge_mm > minimum.centre_mm);
        Ok(())
    });
    seen.at_least(4);
}

/// How much each demand lacks of a lens, found by looking: at the edge, at the reference point, at the lowest point.
fn lacks(lens: &Lens, made: &Made, outline: &Outline, reference: Vec2) -> [(SetBy, f64); 3] {
    let minimum = made.minima.kept;
    let mounted = Mounted { lens, outline, reference };
    let curve = outline.curve();
    let (_, edge) = dense::least(outline, |u| mounted.thickness(curve.jet(u).p).expect("reaches"));
    let inside = dense::depth_inside(outline, reference);
    let centre = if inside >= 0.0 { guard_mm(&minimum, inside) - lens.centre_mm() } else { f64::NEG_INFINITY };
    let lowest = if made.recipe.prism.is_none() { None } else { mounted.lowest_point() };
    let low = lowest.map_or(f64::NEG_INFINITY, |low| guard_mm(&minimum, low.inside_mm) - low.thickness_mm);
    [(SetBy::Edge, minimum.edge_mm - edge), (SetBy::Centre, centre), (SetBy::LowestPoint, low)]
}

#[test]
fn a_little_less_centre_breaks_a_demand_and_the_one_named_is_tight() {
    /// Less centre by this much must be missed by about as much somewhere.
    const LESS_MM: f64 = 1e-3;
    let seen = Seen::default();
    check(160, &lenses(), |case| {
        let outline = case.outline();
        let Ok(made) = case.make_in(&outline) else { return Ok(()) };
        let reference = reference(&case);
        let lacks_now = lacks(&made.lens, &made, &outline, reference);
        for (by, lack) in lacks_now {
            prop_assert!(lack <= 1e-7, "{by:?} lacks {lack}");
        }
        let named = lacks_now.iter().find(|(by, _)| *by == made.thickness.set_by).map_or(f64::NAN, |(_, lack)| *lack);
        near("the demand that set it", named, 0.0, 1e-7)?;
        let Ok(thinner) = made.recipe.at_centre(made.lens.centre_mm() - LESS_MM) else { return Ok(()) };
        let worst =
            lacks(&thinner, &made, &outline, reference).into_iter().map(|(_, lack)| lack).fold(f64::NAN, f64::max);
        prop_assert!(worst > 0.5 * LESS_MM && worst < 1.5 * LESS_MM, "{worst} lacks after {LESS_MM} less");
        seen.count("set by the edge", made.thickness.set_by == SetBy::Edge);
        seen.count("set by the centre", made.thickness.set_by == SetBy::Centre);
        seen.count("set by the lowest point", made.thickness.set_by == SetBy::LowestPoint);
        let second = lacks_now.iter().filter(|(_, lack)| *lack > -0.1).count() > 1;
        seen.count("two demands close together", second);
        Ok(())
    });
    seen.at_least(8);
}

fn mirrored(case: &Case) -> Case {
    let mut other = case.clone();
    other.eye = if case.eye == Eye::Right { Eye::Left } else { Eye::Right };
    let power = case.rx.power;
    other.rx.power = Power::new(power.sphere(), power.cylinder(), 180.0 - power.axis());
    other.rx.prism = Prism { x_pd: -case.rx.prism.x_pd, y_pd: case.rx.prism.y_pd };
    other
}

/// All figures of a lens.
fn figures(made: &Made) -> Vec<(&'static str, f64)> {
    let t = &made.thickness;
    let mut all = vec![
        ("in", made.centration.in_mm),
        ("nasal reach", made.centration.reach.nasal_mm),
        ("temporal reach", made.centration.reach.temporal_mm),
        ("centre", made.lens.centre_mm()),
        ("thinnest", t.thinnest_mm),
        ("thickest edge", t.edges.max.thickness_mm),
        ("thinnest edge", t.edges.min.thickness_mm),
        ("nasal", t.nasal_mm),
        ("temporal", t.temporal_mm),
        ("top", t.top_mm),
        ("bottom", t.bottom_mm),
        ("shoulder", t.shoulder_max_mm.unwrap_or(0.0)),
        ("lowest", t.lowest.map_or(0.0, |lowest| lowest.thickness_mm)),
        ("area", made.outline.area_mm2),
        ("perimeter", made.outline.perimeter_mm),
        ("effective diameter", made.outline.effective_diameter_mm),
        ("volume", made.volume_mm3),
        ("removed", made.edging_removed_mm3),
        ("mass", made.mass_g),
        ("blank", made.blank.minimum_mm),
        ("rule of thumb", made.blank.rule_of_thumb_mm),
        ("bulge", made.bulge_mm),
    ];
    all.extend(made.lens.back_curvatures().map(|c| ("back curvature", c)));
    all
}

#[test]
fn a_lens_and_its_mirror_image_have_the_same_figures() {
    let seen = Seen::default();
    check(400, &lenses(), |case| {
        let other = mirrored(&case);
        let (made, image) = match (case.make(), other.make()) {
            (Ok(made), Ok(image)) => (made, image),
            (Err(a), Err(b)) => {
                prop_assert_eq!(std::mem::discriminant(&a), std::mem::discriminant(&b));
                return Ok(());
            }
            (a, b) => return Err(TestCaseError::fail(format!("{a:?} but {b:?}"))),
        };
        for ((what, ours), (_, mirrored)) in figures(&made).into_iter().zip(figures(&image)) {
            // Where a thin edge becomes thick enough for the whole bevel is found from one side, and the integral up to
            // there by few nodes: good to 1e-5 of what edging takes away, which is under a hundredth of the mass.
            let relative = match what {
                "removed" => 1e-5,
                "mass" => 1e-7,
                _ => 1e-9,
            };
            near(what, mirrored, ours, relative * ours.abs().max(1.0))?;
            seen.worst(what, (ours - mirrored) / ours.abs().max(1.0));
        }
        prop_assert_eq!(made.thickness.set_by, image.thickness.set_by);
        // Directions are mirrored too. The thickness is level at an extreme, so its place is found less sharply; of two
        // extremes that are equal the mirror image may name the other.
        let [edges, seen_in_mirror] = [&made, &image].map(|m| m.thickness.edges);
        for (edge, image) in [(edges.max, seen_in_mirror.max), (edges.min, seen_in_mirror.min)] {
            let off = (edge.deg + image.deg - 180.0).rem_euclid(360.0);
            let off = off.min(360.0 - off);
            let apart = (edge.point - Vec2::new(-image.point.x, image.point.y)).hypot();
            let twins = apart > 1.0;
            if !twins {
                near("direction", off, 0.0, 1e-4)?;
                seen.worst("direction, deg", off);
            }
            seen.count("a direction that changes", (edge.deg - image.deg).abs() > 1.0);
        }
        // Without swapping the eye, or the base, it would not have been the same lens.
        let mut careless = other.clone();
        careless.rx.prism = case.rx.prism;
        if let Ok(wrong) = careless.make() {
            let apart = (wrong.thickness.edges.max.thickness_mm - made.thickness.edges.max.thickness_mm).abs();
            seen.count("base must be mirrored", apart > 0.01);
        }
        let mut careless = other;
        careless.rx.power = case.rx.power;
        if let Ok(wrong) = careless.make() {
            let apart = (wrong.thickness.edges.max.thickness_mm - made.thickness.edges.max.thickness_mm).abs();
            seen.count("axis must be mirrored", apart > 0.01);
        }
        seen.count("drawn shape", matches!(case.shape, Shape::Drawn(_)));
        seen.count(case.shape.word(), true);
        Ok(())
    });
    seen.at_least(10);
}

/// A lens solved in an outline, without a frame.
fn solved(recipe: &Recipe, outline: &Outline, reference: Vec2, case: &Case) -> Option<Vec<(&'static str, f64)>> {
    let place = Place::new(outline, reference);
    let minimum = rimwise::choose::minimum::minima(&case.option, case.rim).kept;
    let settled = centre::surfaced(recipe, &place, &minimum).ok()?;
    let mounted = Mounted { lens: &settled.lens, outline, reference };
    let cut = mounted.cut_out(case.rim.edging(), settled.density)?;
    // Holes lie on the horizontal line, which does not turn with the outline.
    let removed = if case.rim == Rim::Rimless { 0.0 } else { cut.removed_mm3 };
    Some(vec![
        ("centre", settled.lens.centre_mm()),
        ("thickest edge", settled.edges.max.thickness_mm),
        ("thinnest edge", settled.edges.min.thickness_mm),
        ("thinnest", settled.thinnest_mm()),
        ("lowest", settled.lowest.map_or(0.0, |lowest| lowest.thickness_mm)),
        ("volume", cut.volume_mm3),
        ("removed", removed),
    ])
}

fn turned(power: &Power, prism: Prism, by_deg: f64) -> (Power, Prism) {
    let (sin, cos) = by_deg.to_radians().sin_cos();
    let prism = Prism { x_pd: prism.x_pd * cos - prism.y_pd * sin, y_pd: prism.x_pd * sin + prism.y_pd * cos };
    (Power::new(power.sphere(), power.cylinder(), power.axis() + by_deg), prism)
}

#[test]
fn a_lens_turned_with_its_outline_is_the_same() {
    let seen = Seen::default();
    check(250, &(lenses(), 0.0..360.0f64, 0.0..14.0f64, 0.0..6.3f64), |(case, by_deg, off_mm, toward)| {
        let index = case.option.substance.glass(ReferenceLine::D).index;
        let recipe =
            |power, prism| Recipe { power, prism, index, base_curve_d: case.option.base_curve_d.expect("given") };
        let reference = off_mm * Vec2::from_angle(toward);
        let straight = recipe(case.rx.power, case.rx.prism);
        let (width, depth) = (case.boxing.eye_size_mm, case.boxing.depth_mm);
        let (sin, cos) = by_deg.to_radians().sin_cos();
        let moved = Vec2::new(reference.x * cos - reference.y * sin, reference.x * sin + reference.y * cos);
        let quarter = Vec2::new(-reference.y, reference.x);
        // A circle is its own outline whatever the turn; an ellipse by a right angle has its box on its side.
        let circle = Outline::ellipse(width, width);
        let ellipse = [Outline::ellipse(width, depth), Outline::ellipse(depth, width)];
        for (name, by_deg, from, to, moved) in
            [("circle", by_deg, &circle, &circle, moved), ("ellipse", 90.0, &ellipse[0], &ellipse[1], quarter)]
        {
            let (power, prism) = turned(&case.rx.power, case.rx.prism, by_deg);
            let (a, b) = (solved(&straight, from, reference, &case), solved(&recipe(power, prism), to, moved, &case));
            prop_assert_eq!(a.is_some(), b.is_some(), "{} turned by {}", name, by_deg);
            for (a, b) in a.iter().flatten().zip(b.iter().flatten()) {
                seen.worst(a.0, (a.1 - b.1) / a.1.abs().max(1.0));
                // On a circle the nodes fall on other places: then the quadrature's own error shows, which for what the
                // bevel takes away may be 1e-5.
                let relative = match a.0 {
                    "volume" => 1e-8,
                    "removed" => 1e-5,
                    _ => 1e-9,
                };
                prop_assert!(a.0 == b.0);
                near(&format!("{name}, {}", a.0), b.1, a.1, relative * a.1.abs().max(1.0))?;
            }
            // The axis left as it was would have been another lens.
            let unturned = solved(&recipe(case.rx.power, case.rx.prism), to, moved, &case);
            let other = unturned.iter().flatten().zip(a.iter().flatten()).any(|(a, b)| (a.1 - b.1).abs() > 0.01);
            seen.count("axis and base must turn", other);
        }
        seen.count("solved", true);
        seen.count("turned torus", case.rx.power.cylinder() != 0.0 && !case.rx.prism.is_none());
        Ok(())
    });
    seen.at_least(40);
}

/// The centre thickness while one thing is moved in small steps: the steepest slope, and how often a guarded point
/// crossed the outline on the way. A step may change it by no more than `slope` × `step`.
fn sweep(from: &Case, to: f64, step: f64, slope: f64, set: impl Fn(&mut Case, f64)) -> (f64, usize) {
    let mut case = from.clone();
    let outline = case.outline();
    let (mut before, mut steepest, mut crossed) = (None, 0f64, 0);
    for i in 0..=(to / step) as usize {
        let value = step * i as f64;
        set(&mut case, value);
        let made = case.make_in(&outline).expect("can be made all along");
        let guarded = (made.thickness.centre_mm.is_some(), made.thickness.lowest.is_some());
        let now = made.lens.centre_mm();
        if let Some((last, last_guarded)) = before {
            let change: f64 = now - last;
            assert!(
                change.abs() <= slope * step,
                "the centre jumps from {last} to {now} at {value} (bound {}): {case:?}",
                slope * step
            );
            steepest = steepest.max(change.abs() / step);
            // The first bit of prism moves the lowest point off the reference point: that is no crossing.
            crossed += usize::from(i > 1 && guarded != last_guarded);
        }
        before = Some((now, guarded));
    }
    (steepest, crossed)
}

#[test]
fn the_centre_does_not_jump_as_a_guarded_point_crosses_the_outline() {
    /// No spectacle lens's faces stand at more than 45° to each other.
    const SLOPE: f64 = 1.0;
    const STEP_MM: f64 = 0.005;
    let mut chance = crate::support::Chance(11);
    let (mut crossings, mut would_have_jumped) = (0, 0);
    for shape in Shape::all() {
        let mut case = Case::plain();
        case.shape = shape;
        case.boxing.depth_mm = if shape == Shape::Circle { 50.0 } else { 27.0 };
        case.rim = Rim::Supra;
        let power = |chance: &mut crate::support::Chance| {
            Power::new(chance.within(-5.0, -1.0), chance.within(-3.0, 0.0), chance.within(0.0, 180.0))
        };
        (case.option.min_centre_mm, case.option.min_edge_mm) = (Some(2.2), Some(1.0));
        // The reference point goes up and out of the shape, or sideways.
        case.rx.power = power(&mut chance);
        let (_, up) = sweep(&case, 30.0, STEP_MM, SLOPE, |case, up| case.up_mm = up);
        case.rx.pd_mm = 30.0;
        let (_, aside) = sweep(&case, 24.0, STEP_MM, SLOPE, |case, more| case.rx.pd_mm = 34.0 + more);
        crossings += up + aside;
        // With the whole minimum demanded up to the very rim it would have jumped by all that it lies above the edge's.
        case.up_mm = 0.5 * case.boxing.depth_mm - 1e-6;
        case.rx.pd_mm = case.boxing.centre_distance_mm() / 2.0;
        case.option.min_centre_mm = case.option.min_edge_mm;
        let by_edge = case.make().expect("can be made").lens.centre_mm();
        would_have_jumped += usize::from(2.2 - by_edge > 0.3);
        (case.option.min_centre_mm, case.option.min_edge_mm) = (Some(2.2), Some(1.0));
        // Prism drives the lowest point out of the shape, in any direction.
        case.up_mm = 1.0;
        case.rx.pd_mm = 32.0;
        case.rx.power = power(&mut chance);
        let base = chance.within(0.0, 360.0);
        // It takes a weak lens 10 mm of its way for a prism dioptre, over a demand that rises by 0.24 a mm.
        let (_, out) = sweep(&case, 8.0, 0.002, 3.0, |case, amount| case.rx.prism = Prism::new(amount, base));
        crossings += out;
    }
    assert!(crossings > 25 && would_have_jumped > 8, "{crossings} crossings, {would_have_jumped} would have jumped");
}

#[test]
fn next_to_no_cylinder_or_prism_is_none() {
    let seen = Seen::default();
    check(80, &lenses(), |mut case| {
        case.rx.prism = Prism::default();
        // Not where the faces are so nearly parallel that the least prism moves the lowest point right across the lens.
        case.rx.power = Power::spherical(case.rx.power.sphere() + f64::copysign(0.5, case.rx.power.sphere()));
        let Ok(plain) = case.make() else { return Ok(()) };
        // A millionth of a dioptre bends 1e-6 × 40²/2000/0.5; a millionth of a prism dioptre leans 2e-8 × 40.
        for (what, cylinder, prism) in [("torus", -1e-6, 0.0), ("turned", 0.0, 1e-6), ("turned torus", -1e-6, 1e-6)] {
            let mut other = case.clone();
            other.rx.power = Power::new(case.rx.power.sphere(), cylinder, 33.0);
            other.rx.prism = Prism::new(prism, 200.0);
            let Ok(made) = other.make() else { return Err(TestCaseError::fail(format!("{what} cannot be made"))) };
            for ((name, ours), (_, plain)) in figures(&made).into_iter().zip(figures(&plain)) {
                if name != "lowest" {
                    near(&format!("{what}, {name}"), ours, plain, 1e-5 * plain.abs().max(1.0))?;
                }
            }
        }
        seen.count("made", true);
        seen.count("minus", case.rx.power.sphere() < 0.0);
        Ok(())
    });
    seen.at_least(20);
}

/// The volume by going round the outline, at the few nodes that the program spends, against the whole area at many.
#[test]
fn the_volume_is_right_however_steep_the_surfaces_stand() {
    /// As promised.
    const VOLUME: f64 = 1e-7;
    let seen = Seen::default();
    let prism =
        prop_oneof![1 => Just(Prism::default()), 2 => (0.5..20.0, 0.0..360.0).prop_map(|(p, b)| Prism::new(p, b))];
    let steep = prop_oneof![2 => Just(0.0), 1 => -14.0..0.0f64];
    check(200, &(lenses(), prism, steep), |(mut case, prism, steep)| {
        case.rx.prism = prism;
        case.rx.power = Power::new(case.rx.power.sphere() + steep, case.rx.power.cylinder(), case.rx.power.axis());
        let outline = case.outline();
        let Ok(made) = case.make_in(&outline) else { return Ok(()) };
        let reference = reference(&case);
        let mounted = Mounted { lens: &made.lens, outline: &outline, reference };
        // Within 4° of upright the quadrature of the test is no surer than the program's.
        let slope =
            |u| mounted.lens.back().slope(outline.curve().jet(u).p - reference).map_or(0.0, |s| s.gradient.hypot());
        if dense::steps(&outline, 500).map(slope).fold(0.0, f64::max) > 15.0 {
            return Ok(());
        }
        let plain = dense::over_steep(&outline, |p| mounted.thickness(p).unwrap_or(f64::NAN));
        let off = made.volume_mm3 / plain - 1.0;
        seen.worst("volume", off);
        prop_assert!(
            off.abs() < VOLUME,
            "{} by going round, {plain} over the area, {off:e} off, {:?}",
            made.volume_mm3,
            mounted.density()
        );
        seen.count("plain", mounted.density() == Density::Plain);
        seen.count("fine", mounted.density() == Density::Fine);
        seen.count("finest", mounted.density() == Density::Finest);
        seen.count("strong prism", prism.amount_pd() > 8.0);
        seen.count("steep and turned", mounted.density() != Density::Plain && !prism.is_none());
        Ok(())
    });
    seen.at_least(2);
}
