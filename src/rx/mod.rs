//! The prescription: power, prism and where the pupil is.
//!
//! Units: dioptres, degrees, prism dioptres (`_pd`) and mm. Axes and bases run anticlockwise from x as the observer
//! facing the wearer sees them, for both eyes (ISO 8429).

mod power;
mod prism;
mod segment;

pub use power::Power;
pub use prism::{Base, Prism};
pub use segment::Segment;

use crate::eye::Eyes;
use crate::light::ReferenceLine;

/// What is prescribed for one eye.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EyeRx {
    /// The power, worked in minus-cylinder form.
    pub power: Power,
    /// The sum of the prescribed prisms.
    pub prism: Prism,
    /// From the middle of the bridge to this pupil, distance vision.
    pub pd_mm: f64,
    /// Near addition, where prescribed.
    pub add: Option<f64>,
}

/// A pair of spectacles as prescribed.
#[derive(Clone, Debug, PartialEq)]
pub struct Prescription {
    /// What each eye needs.
    pub eyes: Eyes<EyeRx>,
    /// The distance from lens to cornea at which it was tested, where known.
    pub vertex_mm: Option<f64>,
    /// The wavelength at which its powers are meant.
    pub reference_line: ReferenceLine,
}

impl Prescription {
    /// Is this a plus pair: the sum of the spherical equivalents above zero? A plus pair is judged by its centre, a
    /// minus pair by its thickest edge.
    #[must_use]
    pub fn is_plus(&self) -> bool {
        self.eyes.iter().map(|(_, rx)| rx.power.spherical_equivalent()).sum::<f64>() > 0.0
    }
}
