//! What the lenses of a frame are shaped like: a built-in shape, or one that was measured.

use super::{Measured, Outline, Shape};
use crate::eye::Eye;
use std::sync::Arc;

/// What the lenses of a frame are shaped like, still without a size.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A built-in shape.
    Built(Shape),
    /// A measured outline.
    Measured(Arc<Measured>),
}

impl From<Shape> for Form {
    fn from(shape: Shape) -> Form {
        Form::Built(shape)
    }
}

impl Form {
    /// The word of a built-in shape in job files; of a measured outline, which has none there, what it is.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Form::Built(shape) => shape.word(),
            Form::Measured(_) => "measured outline",
        }
    }

    /// The outline of this eye's lens in its box.
    #[must_use]
    pub fn outline(&self, eye: Eye, width_mm: f64, depth_mm: f64) -> Outline {
        match self {
            Form::Built(shape) => shape.outline(eye, width_mm, depth_mm),
            Form::Measured(measured) => measured.outline(eye, width_mm, depth_mm),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_built_in_shape_has_the_word_of_job_files() {
        assert_eq!(Form::from(Shape::Oval).word(), "oval");
    }
}
