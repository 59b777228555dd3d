//! What a smaller eye size and a higher index do, and where they do nothing.
//!
//! Units: mm.

use super::{Seen, check, frames, near};
use crate::case::Case;
use crate::support::inline;
use proptest::prelude::*;
use rimwise::assess::Made;
use rimwise::choose::centre::SetBy;
use rimwise::eye::Eye;
use rimwise::frame::{Boxing, Centration};
use rimwise::outline::Shape;
use rimwise::rim::Rim;
use rimwise::rx::{EyeRx, Power, Prism};

/// Thicknesses are solved and found to this.
const FOUND_MM: f64 = 1e-9;

fn thickest(made: &Made) -> f64 {
    made.thickness.edges.max.thickness_mm
}

/// A case of one power, its minima and base within the limits under which the law is stated.
fn ordered(power: Power, (shape, boxing): (Shape, Boxing), pd_mm: f64, up: f64, minima: (f64, f64), base: f64) -> Case {
    let mut option = inline(1.5, 40.0, 1.3, minima.0, minima.1);
    option.base_curve_d = Some(base);
    Case {
        eye: Eye::Right,
        rx: EyeRx { power, prism: Prism::default(), pd_mm, add: None },
        shape,
        boxing,
        up_mm: up * 0.5 * boxing.depth_mm,
        rim: Rim::Metal,
        option,
    }
}

fn with_index(case: &Case, index: f64) -> Case {
    let mut other = case.clone();
    let option = inline(index, 40.0, 1.3, 1.0, 1.0);
    other.option.substance = option.substance;
    other
}

#[test]
fn a_higher_index_is_thinner() {
    let seen = Seen::default();
    let minus = (0.25..12.0f64, 0.0..4.0f64, 0.0..180.0f64).prop_map(|(s, c, axis)| Power::new(-s, -c, axis));
    let plus = (0.25..7.0f64, 0.0..4.0f64, 0.0..180.0f64).prop_map(|(s, c, axis)| Power::new(s + c, -c, axis));
    let power = prop_oneof![minus, plus];
    let minima = (0.6..2.5, 0.6..2.2);
    let place = (25.0..38.0, -0.9..1.3);
    let index = (1.49..1.85, 0.01..0.3);
    check(300, &(power, frames(), place, minima, 0.0..8.0, index), |(power, frame, place, minima, base, index)| {
        let case = ordered(power, frame, place.0, place.1, minima, base);
        let (low, high) = (with_index(&case, index.0).make(), with_index(&case, index.0 + index.1).make());
        let (Ok(low), Ok(high)) = (low, high) else { return Ok(()) };
        let minus = power.sphere() < 0.0;
        let lead = |made: &Made| if minus { thickest(made) } else { made.lens.centre_mm() };
        let saved = lead(&low) - lead(&high);
        if minus {
            prop_assert!(saved > -FOUND_MM, "{} at the higher index, {} at the lower", lead(&high), lead(&low));
        } else if low.thickness.centre_mm.is_some() {
            prop_assert!(saved > -FOUND_MM, "{} at the higher index, {} at the lower", lead(&high), lead(&low));
        }
        seen.count("minus", minus && saved > 0.01);
        seen.count("plus", !minus && saved > 0.01);
        seen.count("reference point outside", low.thickness.centre_mm.is_none());
        seen.count("toric", power.cylinder() < -1.0);
        seen.count("weak", saved < 0.2);
        Ok(())
    });
    seen.at_least(4);
}

/// Where the law ends: a meridian of next to no power behind a steep base on a thick lens.
#[test]
fn a_higher_index_is_not_always_thinner() {
    let frame = (Shape::Oval, Boxing { eye_size_mm: 50.0, depth_mm: 40.0, bridge_mm: 18.0 });
    let case = ordered(Power::spherical(-0.05), frame, 31.0, 0.0, (6.0, 1.0), 12.0);
    let at = |index| thickest(&with_index(&case, index).make().expect("can be made"));
    let (low, high) = (at(1.5), at(1.9));
    assert!(high > low + 0.01, "{high} at 1.9, {low} at 1.5: the limits of the law are wider than thought");
}

#[test]
fn a_smaller_eye_size_is_never_thicker() {
    let seen = Seen::default();
    let shape = prop_oneof![Just(Shape::Circle), Just(Shape::Oval)];
    let power = (0.25..12.0f64, 0.0..4.0f64, 0.0..180.0f64).prop_map(|(s, c, axis)| Power::new(-s, -c, axis));
    let place = (25.0..40.0, -0.3..0.4, 14.0..22.0);
    let sizes = (44.0..58.0, 0.5..8.0, 0.5..1.0);
    check(
        300,
        &(shape, power, place, sizes, (0.6..2.5, 0.4..1.0), 0.0..8.0),
        |(shape, power, place, sizes, minima, base)| {
            let (eye_size_mm, less, share) = sizes;
            let depth_mm = if shape == Shape::Circle { eye_size_mm } else { share * eye_size_mm };
            let large = Boxing { eye_size_mm, depth_mm, bridge_mm: place.2 };
            // No more wanted of the edge than of the centre: see below for where the law ends.
            let minima = (minima.0, minima.0 * minima.1);
            let case = ordered(power, (shape, large), place.0, place.1, minima, base);
            // The height above the boxed centre stays.
            let mut smaller = case.clone();
            smaller.boxing = large.at_eye_size(eye_size_mm - less);
            let (Ok(large), Ok(small)) = (case.make(), smaller.make()) else { return Ok(()) };
            let saved = thickest(&large) - thickest(&small);
            prop_assert!(saved >= -FOUND_MM, "{} smaller, {} larger", thickest(&small), thickest(&large));
            let reach = [large.centration.reach, small.centration.reach];
            near("nasal reach", reach[1].nasal_mm, reach[0].nasal_mm, 1e-12)?;
            near("temporal reach", reach[0].temporal_mm - reach[1].temporal_mm, less, 1e-12)?;
            seen.count("saves", saved > 0.1);
            seen.count("saves next to nothing", saved < 0.02);
            seen.count("nasal edge is the thickest", reach[0].nasal_mm > reach[0].temporal_mm);
            Ok(())
        },
    );
    seen.at_least(8);
}

/// Where the law ends: an edge that must be thicker than the centre, as a cord's groove wants it. Then the near side sets
/// the thickness, a smaller eye size brings it nearer, and the far nasal edge grows with the whole lens.
#[test]
fn a_smaller_eye_size_is_thicker_where_the_near_edge_sets_the_thickness() {
    let large = Boxing { eye_size_mm: 48.0, depth_mm: 38.0, bridge_mm: 14.0 };
    let mut case = ordered(Power::spherical(-1.25), (Shape::Oval, large), 37.0, 0.0, (1.4, 1.9), 4.0);
    let before = case.make().expect("can be made");
    case.boxing = large.at_eye_size(44.0);
    let after = case.make().expect("can be made");
    assert_eq!([before.thickness.set_by, after.thickness.set_by], [SetBy::Edge; 2]);
    let more = thickest(&after) - thickest(&before);
    assert!((0.05..0.3).contains(&more), "{more} more at the smaller size: {} {}", thickest(&before), thickest(&after));
}

#[test]
fn the_nasal_edge_does_not_move_with_the_eye_size() {
    let seen = Seen::default();
    let power = (0.25..12.0f64, 0.0..4.0f64, 0.0..180.0f64).prop_map(|(s, c, axis)| Power::new(-s, -c, axis));
    let place = (27.0..38.0, -0.2..0.3, 14.0..22.0);
    check(200, &(power, place, (44.0..58.0, 0.5..8.0, 30.0..42.0), 0.0..6.0), |(power, place, sizes, base)| {
        let (eye_size_mm, less, depth_mm) = sizes;
        let large = Boxing { eye_size_mm, depth_mm, bridge_mm: place.2 };
        let mut case = ordered(power, (Shape::Oval, large), place.0, place.1, (2.0, 1.0), base);
        let Ok(before) = case.make() else { return Ok(()) };
        case.boxing.eye_size_mm -= less;
        let Ok(after) = case.make() else { return Ok(()) };
        // The law is for a centre that is set by a reference point well inside.
        let deep = |made: &Made, width| {
            let outline = Shape::Oval.outline(Eye::Right, width, depth_mm);
            let reference = kurbo::Vec2::new(made.centration.in_mm, made.centration.up_mm);
            made.thickness.set_by == SetBy::Centre && outline.depth_inside_mm(reference) >= 5.0
        };
        if !(deep(&before, eye_size_mm) && deep(&after, eye_size_mm - less)) {
            return Ok(());
        }
        near("nasal edge", after.thickness.nasal_mm, before.thickness.nasal_mm, FOUND_MM)?;
        seen.count("stays", true);
        seen.count("while the temporal edge goes", before.thickness.temporal_mm - after.thickness.temporal_mm > 0.1);
        Ok(())
    });
    seen.at_least(60);
}

#[test]
fn two_mm_of_eye_size_are_taken_from_the_temporal_side() {
    check(64, &(40.0..60.0f64, 14.0..24.0f64, 24.0..38.0f64), |(eye_size_mm, bridge_mm, pd_mm)| {
        let at = |eye_size_mm| Centration::new(&Boxing { eye_size_mm, depth_mm: 30.0, bridge_mm }, pd_mm, 0.0);
        let (large, small) = (at(eye_size_mm), at(eye_size_mm - 2.0));
        near("both reaches", large.reach.nasal_mm + large.reach.temporal_mm, eye_size_mm, 1e-12)?;
        near("nasal", large.reach.nasal_mm, small.reach.nasal_mm, 1e-12)?;
        near("temporal", large.reach.temporal_mm, small.reach.temporal_mm + 2.0, 1e-12)?;
        // One of the two from half the width, one from decentration.
        near("decentration", large.in_mm, small.in_mm + 1.0, 1e-12)?;
        near("from the boxed centre", large.reach.temporal_mm, 0.5 * eye_size_mm + large.in_mm, 1e-12)?;
        // The size without decentration is 2 pd - bridge.
        near("without decentration", at(2.0 * pd_mm - bridge_mm).in_mm, 0.0, 1e-12)
    });
}
