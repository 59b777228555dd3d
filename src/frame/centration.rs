//! Frame and pupil → reference point and reach.
//!
//! Units: mm. Positive `in` is toward the nose.

use super::Boxing;
use crate::eye::Eye;
use kurbo::Vec2;

/// Where the reference point of a lens lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Centration {
    /// From the boxed centre toward the nose: (eye size + bridge)/2 − pd.
    pub in_mm: f64,
    /// From the boxed centre upward.
    pub up_mm: f64,
    /// From the reference point to the sides of the box.
    pub reach: Reach,
}

/// From the reference point to the sides of the box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// pd − bridge/2: no eye size changes it.
    pub nasal_mm: f64,
    /// Eye size + bridge/2 − pd.
    pub temporal_mm: f64,
}

impl Centration {
    /// The reference point of an eye whose pupil is `pd_mm` from the middle of the bridge.
    #[must_use]
    pub fn new(boxing: &Boxing, pd_mm: f64, up_mm: f64) -> Centration {
        Centration {
            in_mm: 0.5 * boxing.centre_distance_mm() - pd_mm,
            up_mm,
            reach: Reach {
                nasal_mm: pd_mm - 0.5 * boxing.bridge_mm,
                temporal_mm: boxing.eye_size_mm + 0.5 * boxing.bridge_mm - pd_mm,
            },
        }
    }

    /// Its x from the boxed centre, to the observer's right.
    #[must_use]
    pub fn x_mm(&self, eye: Eye) -> f64 {
        self.in_mm * eye.nasal_sign()
    }

    /// The reference point of this eye's lens, from the boxed centre.
    #[must_use]
    pub fn point(&self, eye: Eye) -> Vec2 {
        Vec2::new(self.x_mm(eye), self.up_mm)
    }
}
