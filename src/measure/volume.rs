//! Volume of a lens cut square out to its outline.
//!
//! Units: mm³.

use super::Mounted;
use crate::outline::Density;

impl Mounted<'_> {
    /// Volume inside the outline, integrated round it (Green); `None` where a surface ends too soon.
    #[must_use]
    pub fn volume_mm3(&self, density: Density) -> Option<f64> {
        let (front, back) = (self.lens.front(), self.lens.back());
        let mut sum = 0.0;
        for node in self.outline.nodes(density) {
            let p = node.jet.p - self.reference;
            sum += node.weight * (back.green(p, node.jet.d1)? - front.green(p, node.jet.d1)?);
        }
        Some(sum + self.lens.centre_mm() * self.outline.area_mm2())
    }
}
