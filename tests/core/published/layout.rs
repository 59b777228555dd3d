//! The boxing system, blanks, decentration, base curves.

use super::*;
use crate::case::Case;
use kurbo::Vec2;
use rimwise::choose::base::vogel_d;
use rimwise::frame::{Boxing, Centration};
use rimwise::outline::Outline;

pub(super) fn boxing(eye_size_mm: f64, bridge_mm: f64) -> Boxing {
    Boxing { eye_size_mm, depth_mm: 36.0, bridge_mm }
}

pub(super) fn boxing_blanks_and_layout() -> Vec<Row> {
    the_rule_of_thumb_must_take_both_parts();
    let round = Outline::ellipse(54.0, 54.0);
    let sixty = Outline::ellipse(60.0, 60.0);
    let oval = Outline::ellipse(50.0, 36.0);
    let far = |o: &Outline, x: f64| 2.0 * o.farthest_mm(Vec2::new(x, 0.0));
    let radius = |deg: f64| {
        // Radius of the oval in a direction, by stepping out to the outline.
        let toward = Vec2::from_angle(deg.to_radians());
        let (mut near, mut far) = (0.0, 60.0);
        for _ in 0..60 {
            let middle = 0.5 * (near + far);
            if oval.depth_inside_mm(toward * middle) > 0.0 { near = middle } else { far = middle }
        }
        near
    };
    let reach = Centration::new(&boxing(52.0, 18.0), 31.0, 0.0);
    let left = Centration::new(&boxing(52.0, 18.0), 32.5, 0.0);
    let effective = {
        let mut case = Case::plain();
        case.boxing = Boxing { eye_size_mm: 56.0, depth_mm: 40.0, bridge_mm: 14.0 };
        case.rx.pd_mm = 30.0;
        case.make().expect("can be made").blank
    };
    vec![
        row("BX-01", far(&round, 3.0), 60.0, 1e-9, FORMULA),
        // BX-02 has 1 mm of allowance, ours is 2: ED 56, 5 mm in.
        row("BX-02", effective.rule_of_thumb_mm - 1.0, 67.0, 1e-9, FORMULA),
        row("BX-03", far(&oval, 4.0), 58.0, 1e-3, GEOMETRY),
        row("BX-05 length", sixty.perimeter_mm(), 188.496, 5e-4, GEOMETRY),
        row("BX-05 ED", sixty.effective_diameter_mm(), 60.0, 5e-4, GEOMETRY),
        row("BX-06 0", radius(0.0), 25.0, 0.005, GEOMETRY),
        row("BX-06 45", radius(45.0), 20.66, 0.005, GEOMETRY),
        row("BX-06 90", radius(90.0), 18.0, 0.005, GEOMETRY),
        row("BX-07", oval.perimeter_mm(), 135.985, 5e-4, GEOMETRY),
        row("BX-10 plus", vogel_d(2.5), 8.5, 1e-9, "derived: Vogel's rule"),
        row("BX-10 minus", vogel_d(-5.5), 3.25, 1e-9, "derived: Vogel's rule"),
        row("BX-12 right", reach.in_mm, 4.0, 1e-9, FORMULA),
        row("BX-12 left", left.in_mm, 2.5, 1e-9, FORMULA),
        row("BX-14 oval", oval.effective_diameter_mm(), 50.0, 1e-9, FORMULA),
    ]
}

/// The rule of thumb is exact only when the farthest point lies on the line of decentration; with the horizontal part
/// alone it can be too small.
fn the_rule_of_thumb_must_take_both_parts() {
    let mut case = Case::plain();
    case.rx.pd_mm = 33.0;
    case.up_mm = 6.0;
    let blank = case.make().expect("can be made").blank;
    let horizontal_alone = 50.0 + 2.0 * 1.0 + 2.0;
    assert!(blank.rule_of_thumb_mm > blank.minimum_mm, "{blank:?}");
    assert!(horizontal_alone < blank.minimum_mm, "{horizontal_alone} against {}", blank.minimum_mm);
}
