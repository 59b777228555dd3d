//! The frame: its boxed sizes, its rim, and where a pupil puts the reference point (ISO 8624 boxing system).
//!
//! Units: mm and grams. Directions as the observer facing the wearer sees them; `in` is toward the nose.

mod centration;

pub use centration::{Centration, Reach};

use crate::eye::Eyes;
use crate::outline::Form;
use crate::rim::{EdgeWish, Rim};

/// A frame in the eye sizes it is offered in.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Frame {
    /// Its name in the job.
    pub name: String,
    /// What its lenses are shaped like.
    pub shape: Form,
    /// One or more, in the order of the job; the first is the one that heights refer to.
    pub sizes: Vec<Boxing>,
    /// How it holds the lens.
    pub rim: Rim,
    /// Of the rim, front to back, where known.
    pub rim_depth_mm: Option<f64>,
    /// What is wished of the edges of its lenses.
    pub edge: EdgeWish,
    /// Of the frame without lenses, where known.
    pub mass_g: Option<f64>,
    /// Of the reference points above the boxed centre (0 on the horizontal centre line).
    pub centre_up_mm: Eyes<f64>,
}

impl Frame {
    /// A frame of which nothing more is known; the optical centres lie on the horizontal centre line.
    #[must_use]
    pub fn new(name: &str, shape: impl Into<Form>, sizes: Vec<Boxing>, rim: Rim) -> Frame {
        Frame {
            name: name.to_owned(),
            shape: shape.into(),
            sizes,
            rim,
            rim_depth_mm: None,
            edge: EdgeWish::default(),
            mass_g: None,
            centre_up_mm: Eyes { right: 0.0, left: 0.0 },
        }
    }

    /// The frame at an eye size of its own or another: bridge and proportions between those of the sizes offered, and as
    /// at the nearest of them beyond.
    #[must_use]
    pub fn at_eye_size(&self, eye_size_mm: f64) -> Option<Boxing> {
        let below = self.sizes.iter().filter(|b| b.eye_size_mm <= eye_size_mm);
        let above = self.sizes.iter().filter(|b| b.eye_size_mm >= eye_size_mm);
        let by_size = |a: &&Boxing, b: &&Boxing| a.eye_size_mm.total_cmp(&b.eye_size_mm);
        match (below.max_by(by_size), above.min_by(by_size)) {
            (Some(low), Some(high)) if low.eye_size_mm < high.eye_size_mm => {
                let share = (eye_size_mm - low.eye_size_mm) / (high.eye_size_mm - low.eye_size_mm);
                let between = |a: f64, b: f64| a + share * (b - a);
                Some(Boxing {
                    eye_size_mm,
                    depth_mm: eye_size_mm * between(low.depth_mm / low.eye_size_mm, high.depth_mm / high.eye_size_mm),
                    bridge_mm: between(low.bridge_mm, high.bridge_mm),
                })
            }
            (Some(near), _) | (None, Some(near)) => Some(near.at_eye_size(eye_size_mm)),
            (None, None) => None,
        }
    }
}

/// One eye size of a frame: the box round a lens and the bridge between two of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boxing {
    /// Width of the box round one lens shape (A).
    pub eye_size_mm: f64,
    /// Its height (B).
    pub depth_mm: f64,
    /// Horizontal distance between the two boxes (DBL).
    pub bridge_mm: f64,
}

impl Boxing {
    /// Distance between the two boxed centres.
    #[must_use]
    pub fn centre_distance_mm(&self) -> f64 {
        self.eye_size_mm + self.bridge_mm
    }

    /// The same frame at another eye size, its depth in proportion and its bridge kept.
    #[must_use]
    pub fn at_eye_size(&self, eye_size_mm: f64) -> Boxing {
        if eye_size_mm == self.eye_size_mm {
            return *self;
        }
        Boxing { eye_size_mm, depth_mm: self.depth_mm * eye_size_mm / self.eye_size_mm, bridge_mm: self.bridge_mm }
    }
}
