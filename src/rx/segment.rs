//! A segment for near on the front of a lens: where its optical centre lies, and the prism that it adds.
//!
//! Units: mm, dioptres, prism dioptres, each in the name.

use super::Power;

/// A segment, by where its optical centre lies below the middle of its top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// From the top of the segment down to its optical centre.
    pub centre_below_top_mm: f64,
}

impl Segment {
    /// A round segment: its centre is the middle.
    #[must_use]
    pub fn round(diameter_mm: f64) -> Segment {
        Segment { centre_below_top_mm: 0.5 * diameter_mm }
    }

    /// A flat-top or curved-top segment, by its maker's figure.
    #[must_use]
    pub fn flat_top(centre_below_top_mm: f64) -> Segment {
        Segment { centre_below_top_mm }
    }

    /// A full-width segment whose optical centre lies on the dividing line.
    #[must_use]
    pub fn full_width() -> Segment {
        Segment { centre_below_top_mm: 0.0 }
    }

    /// The vertical prism that the addition makes at a depth below the segment's top, by Prentice's rule about the segment's
    /// own optical centre; positive with its base up.
    #[must_use]
    pub fn prism_up_pd(&self, add: f64, below_top_mm: f64) -> f64 {
        Power::spherical(add).prentice_pd(0.0, self.centre_below_top_mm - below_top_mm).1
    }

    /// The jump of the image as the line of sight passes over the top: addition × distance from there to the segment's
    /// optical centre, with its base down.
    #[must_use]
    pub fn image_jump_pd(&self, add: f64) -> f64 {
        -self.prism_up_pd(add, 0.0)
    }
}
