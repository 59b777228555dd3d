//! Where on a lens a point of the edge lies, as one would point at it: "lower temporal corner".
//!
//! Units: mm.

use crate::eye::Eye;
use crate::outline::Outline;
use kurbo::Vec2;

/// Nearer to an axis of the box than this, in degrees of the box drawn as a square, a point lies at a side and not at a
/// corner (ours: the half of a right angle is shared out evenly between side and corner).
const SIDE_DEG: f64 = 22.5;

/// The place of a point of the outline, from the boxed centre.
#[must_use]
pub fn corner(eye: Eye, outline: &Outline, point: Vec2) -> &'static str {
    let across = point.x * eye.nasal_sign() / outline.width_mm();
    let up = point.y / outline.depth_mm();
    let from_side = up.abs().atan2(across.abs()).to_degrees();
    match (from_side, up > 0.0, across > 0.0) {
        (deg, _, true) if deg < SIDE_DEG => "nasal side",
        (deg, _, false) if deg < SIDE_DEG => "temporal side",
        (deg, true, _) if deg > 90.0 - SIDE_DEG => "top",
        (deg, false, _) if deg > 90.0 - SIDE_DEG => "bottom",
        (_, true, true) => "upper nasal corner",
        (_, true, false) => "upper temporal corner",
        (_, false, true) => "lower nasal corner",
        (_, false, false) => "lower temporal corner",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_eyes_have_their_temple_outside() {
        let outline = Outline::ellipse(50.0, 30.0);
        let said = |eye, x, y| corner(eye, &outline, Vec2::new(x, y));
        assert_eq!(said(Eye::Right, -20.0, -9.0), "lower temporal corner");
        assert_eq!(said(Eye::Left, -20.0, -9.0), "lower nasal corner");
        assert_eq!(said(Eye::Right, 24.0, 3.0), "nasal side");
        assert_eq!(said(Eye::Left, 2.0, -15.0), "bottom");
        assert_eq!(said(Eye::Left, 2.0, 15.0), "top");
        assert_eq!(said(Eye::Left, 17.0, 11.0), "upper temporal corner");
    }
}
