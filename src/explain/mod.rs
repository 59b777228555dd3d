//! The whole calculation for one lens, worked as a textbook would: each line from the lines above it, but for those that
//! were searched or integrated, which tell their point or their nodes. Beside an exact value stands the rule of the hand.
//!
//! Units: mm, dioptres, degrees, grams, in each line. Nothing new is computed here: values are those of [`assess`], and a
//! test holds every formula to them.
//!
//! [`assess`]: crate::assess

mod back;
mod expr;
mod front;
mod layout;
mod point;
mod prescription;
mod sheet;
mod thickness;
mod through;
mod whole;

pub use expr::{Expr, Extreme, Function, Rule};
pub use sheet::{HandRule, Head, How, Line, Node, Section, Symbol};

use crate::assess::{Fit, Made};
use crate::eye::Eye;
use kurbo::Vec2;
use point::Marked;
use sheet::Sheet;

const BOXING: &str = "ISO 8624 boxing system";
const TEXTBOOK: &str = "textbooks of ophthalmic lenses";
const OURS: &str = "our convention, docs/model.md";
const PRACTICE: &str = "common practice, no source";
const GIVEN: &str = "the job";
const MATERIAL: &str = "the material";
const AXES: &str = "ISO 8429 axis notation";

/// A point that the lines use, with the letter that its symbols bear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Below the symbols, and on the drawing.
    pub letter: &'static str,
    /// In words.
    pub name: &'static str,
    /// Where, from the boxed centre.
    pub at: Vec2,
    /// Thickness there.
    pub thickness_mm: f64,
}

/// The calculation for one lens.
#[derive(Clone, Debug)]
pub struct Explained<'a> {
    /// The frame at its size and the lens option.
    pub fit: &'a Fit<'a>,
    /// Which lens.
    pub eye: Eye,
    /// The lens.
    pub made: &'a Made,
    /// The points that the lines use.
    pub spots: Vec<Spot>,
    /// The lines.
    pub lines: Vec<Line>,
}

impl<'a> Explained<'a> {
    /// Works one lens of a fit; `None` where the pair cannot be made.
    #[must_use]
    pub fn of(fit: &'a Fit<'a>, eye: Eye) -> Option<Explained<'a>> {
        let made = fit.pair()?.eyes.of(eye);
        let mut work = Work { fit, eye, made, sheet: Sheet::new(), spots: Vec::new() };
        let layout = work.layout();
        let power = work.prescription();
        let front = work.front(&power);
        let lean = work.prism(&front, &layout);
        let back = work.back(&power, front, lean);
        let marked = work.points(&layout, &power, &back)?;
        work.demand(&power, &layout, &back, &marked)?;
        work.mass(&back)?;
        work.blank(&layout, &back)?;
        work.through(&power, &back, &marked);
        Some(Explained { fit, eye, made, spots: work.spots, lines: work.sheet.lines })
    }
}

/// A calculation under way.
struct Work<'a> {
    fit: &'a Fit<'a>,
    eye: Eye,
    made: &'a Made,
    sheet: Sheet,
    spots: Vec<Spot>,
}

/// The thickest and the thinnest point of the edge, those on the lines through the boxed centre.
struct Points {
    nasal: Marked,
    temporal: Marked,
    top: Marked,
    bottom: Marked,
    thinnest: Marked,
}

impl Work<'_> {
    /// The reference point, from the boxed centre.
    fn reference(&self) -> Vec2 {
        let centration = &self.made.centration;
        centration.point(self.eye)
    }
}
