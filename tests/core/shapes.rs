//! The built-in shapes stay what they are: an order repeated in a year gets the lens that it got.
//!
//! Units: mm, degrees.

use crate::case::Case;
use crate::snapshot::compare_with_snapshot;
use rimwise::eye::Eye;
use rimwise::outline::{Outline, Shape, direction_deg};
use std::fmt::Write as _;
use std::path::Path;

/// Radius from the boxed centre in a direction: every shape is seen whole from there, so the direction rises.
fn radius_mm(outline: &Outline, deg: f64) -> f64 {
    let curve = outline.curve();
    // How far past the wanted direction, −180 … 180.
    let past = |u: f64| {
        let p = curve.jet(u).p;
        (direction_deg(p) - deg + 540.0).rem_euclid(360.0) - 180.0
    };
    let steps = 4_000;
    let at = |i: i32| curve.period() * f64::from(i) / f64::from(steps);
    let before = (0..steps).find(|&i| past(at(i)) <= 0.0 && past(at(i + 1)) > 0.0 && past(at(i)) > -90.0);
    let (mut from, mut to) = before.map(|i| (at(i), at(i + 1))).expect("every direction is passed");
    for _ in 0..60 {
        let middle = 0.5 * (from + to);
        if past(middle) <= 0.0 { from = middle } else { to = middle }
    }
    curve.jet(from).p.hypot()
}

#[test]
fn shapes_stay_what_they_are() {
    let mut text = String::from(
        "Right lenses, 50 x 40 mm (the circle 50): area mm2, perimeter and effective diameter mm, and the radius from the\n\
         boxed centre every 30 degrees.\n\n",
    );
    for shape in Shape::all() {
        let outline = shape.outline(Eye::Right, 50.0, if shape == Shape::Circle { 50.0 } else { 40.0 });
        let (area, round, across) = (outline.area_mm2(), outline.perimeter_mm(), outline.effective_diameter_mm());
        write!(text, "{:<10} {area:>9.3} {round:>8.3} {across:>7.3}  ", shape.word()).expect("a text");
        for deg in (0..360).step_by(30) {
            write!(text, " {:.3}", radius_mm(&outline, f64::from(deg))).expect("a text");
        }
        text.push('\n');
    }
    let kept = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/golden/shapes.txt");
    if let Err(other) = compare_with_snapshot(Path::new(kept), &text) {
        panic!("{other}");
    }
}

/// A curve is closed: a hair before its start is its start, for any number of turns.
#[test]
fn a_curve_is_closed() {
    for shape in Shape::all() {
        let outline = shape.outline(Eye::Left, 50.0, if shape == Shape::Circle { 50.0 } else { 40.0 });
        let (curve, period) = (outline.curve(), outline.curve().period());
        let start = curve.jet(0.0).p;
        for u in [-1e-18, -1e-12, period, -period, 2.0 * period, period - 1e-12, period * (1.0 - f64::EPSILON)] {
            assert!((curve.jet(u).p - start).hypot() < 1e-9, "{} at {u}", shape.word());
        }
    }
}

/// A lens without cylinder, centred in a shape that is the same above and below, is as thick in two places, or all round:
/// the place of the smallest direction is told.
#[test]
fn of_equal_thickest_places_the_smallest_direction_is_told() {
    for word in ["oval", "octagon"] {
        let mut case = Case::plain();
        case.shape = Shape::from_word(word).expect("a shape");
        case.rx.pd_mm = 0.5 * (case.boxing.eye_size_mm + case.boxing.bridge_mm);
        let outline = case.outline();
        let made = case.make_in(&outline).expect("a lens");
        let max = made.thickness.edges.max;
        const STEPS: usize = 7_200;
        let thickness = |i: usize| {
            let p = outline.curve().jet(outline.curve().period() * (i % STEPS) as f64 / STEPS as f64).p;
            (p, made.lens.thickness(p).expect("whole"))
        };
        // Places where small steps pass a peak as high as the one told.
        let peaks: Vec<f64> = (0..STEPS)
            .filter(|&i| {
                let [before, here, after] = [i + STEPS - 1, i, i + 1].map(|i| thickness(i).1);
                here >= before && here > after && here > max.thickness_mm - 1e-4
            })
            .map(|i| direction_deg(thickness(i).0))
            .collect();
        let smallest = peaks.iter().map(|deg| if *deg > 359.9 { deg - 360.0 } else { *deg }).fold(360.0, f64::min);
        assert_eq!(peaks.len(), 2, "{word}: {peaks:?}");
        assert!((max.deg - smallest).abs() < 0.2, "{word}: {} of {peaks:?}", max.deg);
    }
    let mut case = Case::plain();
    case.shape = Shape::Circle;
    case.boxing.depth_mm = 50.0;
    case.rx.pd_mm = 0.5 * (case.boxing.eye_size_mm + case.boxing.bridge_mm);
    let edges = case.make().expect("a lens").thickness.edges;
    assert_eq!((edges.max.deg, edges.min.deg), (0.0, 0.0), "as thick all round: the point at 0°");
}
