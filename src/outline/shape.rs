//! The shapes that a job can name.

use super::shapes::{DRAWN, Drawn};
use super::{Curve, Outline};
use crate::eye::Eye;

/// A lens shape, still without a size.
#[derive(Clone, Copy, Debug)]
pub enum Shape {
    /// As deep as it is wide.
    Circle,
    /// An ellipse.
    Oval,
    /// One of the drawn shapes.
    Drawn(DrawnShape),
}

/// A drawn built-in shape.
#[derive(Clone, Copy, Debug)]
pub struct DrawnShape(&'static Drawn);

impl PartialEq for Shape {
    fn eq(&self, other: &Shape) -> bool {
        self.word() == other.word()
    }
}

impl Shape {
    /// All built-in shapes, in the order in which they are listed anywhere.
    pub fn all() -> impl Iterator<Item = Shape> {
        [Shape::Circle, Shape::Oval].into_iter().chain(DRAWN.iter().map(|drawn| Shape::Drawn(DrawnShape(drawn))))
    }

    /// The word used in job files.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Shape::Circle => "circle",
            Shape::Oval => "oval",
            Shape::Drawn(DrawnShape(drawn)) => drawn.name,
        }
    }

    /// The shape of this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Shape> {
        Shape::all().find(|shape| shape.word() == word)
    }

    /// Depth over width at which the shape looks as it was drawn.
    #[must_use]
    pub fn depth_ratio(&self) -> f64 {
        match self {
            Shape::Circle => 1.0,
            Shape::Oval => 0.8,
            Shape::Drawn(DrawnShape(drawn)) => drawn.depth_ratio,
        }
    }

    /// The outline of this eye's lens in its box.
    #[must_use]
    pub fn outline(&self, eye: Eye, width_mm: f64, depth_mm: f64) -> Outline {
        match self {
            Shape::Circle | Shape::Oval => Outline::ellipse(width_mm, depth_mm),
            Shape::Drawn(DrawnShape(drawn)) => {
                let right = Curve::drawn(drawn, width_mm, depth_mm);
                let curve = match eye {
                    Eye::Right => right,
                    Eye::Left => right.mirrored(),
                };
                Outline::new(curve, width_mm, depth_mm)
            }
        }
    }
}
