//! Frame and pupil: where the reference point lies, and how far the sides of the box are from it.
//!
//! Units: mm.

use super::expr::Expr;
use super::sheet::{Head, Section};
use super::{BOXING, GIVEN, OURS, Work};
use crate::eye::Eye;

/// What the other parts want of the layout.
pub(super) struct Layout {
    pub(super) eye_size: Expr,
    pub(super) inward: Expr,
    pub(super) up: Expr,
    /// Of the reference point, from the boxed centre.
    pub(super) x: Expr,
    pub(super) y: Expr,
}

impl Work<'_> {
    pub(super) fn layout(&mut self) -> Layout {
        let (boxing, centration) = (self.fit.mounting.boxing, self.made.centration);
        let sheet = &mut self.sheet;
        sheet.section = Section::Layout;
        let mm = |id: &str, symbol, meaning: &str, source| Head::new(id, symbol, meaning, "mm", source);
        let eye_size = sheet.given(mm("layout.eye_size", ("A", ""), "eye size", GIVEN), boxing.eye_size_mm);
        sheet.given(mm("layout.depth", ("B", ""), "depth of the box", GIVEN), boxing.depth_mm);
        let bridge =
            sheet.given(mm("layout.bridge", ("DBL", ""), "bridge, between the boxes", GIVEN), boxing.bridge_mm);
        let pd_mm = self.fit.prescription.eyes.of(self.eye).pd_mm;
        let pd = sheet.given(mm("layout.pd", ("PD", ""), "pupil distance of this eye", GIVEN), pd_mm);
        let centres = sheet.known(
            mm("layout.centre_distance", ("c", ""), "distance between the boxed centres", BOXING),
            &eye_size + &bridge,
            boxing.centre_distance_mm(),
        );
        let inward = sheet.known(
            mm("layout.decentration", ("d", ""), "decentration, toward the nose", BOXING),
            &centres / 2.0 - &pd,
            centration.in_mm,
        );
        sheet.figure("reference_point.in_mm");
        let above = "reference point above the boxed centre";
        let up = sheet.given(mm("layout.up", ("v", ""), above, GIVEN), centration.up_mm);
        sheet.figure("reference_point.up_mm");
        let nasal = mm("layout.nasal_reach", ("e", "n"), "reach toward the nose", OURS);
        sheet.known(nasal, &pd - &bridge / 2.0, centration.reach.nasal_mm);
        sheet.figure("reach.nasal_mm");
        let temporal = mm("layout.temporal_reach", ("e", "t"), "reach toward the temple", OURS);
        sheet.known(temporal, &eye_size + &bridge / 2.0 - &pd, centration.reach.temporal_mm);
        sheet.figure("reach.temporal_mm");
        let toward_nose = match self.eye {
            Eye::Right => inward.clone(),
            Eye::Left => -&inward,
        };
        let x = "reference point, to the observer's right of the boxed centre";
        let x = sheet.known(mm("layout.x", ("X", "r"), x, OURS), toward_nose, centration.x_mm(self.eye));
        let y = sheet.worked(mm("layout.y", ("Y", "r"), above, OURS), up.clone());
        Layout { eye_size, inward, up, x, y }
    }
}
