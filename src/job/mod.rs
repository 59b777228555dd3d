//! A job: a client's prescription, the frames and the lens options to be compared, checked and complete.
//!
//! Everything after the judge trusts this meaning. Units: mm, dioptres, grams in the names.

mod address;
mod judge;
mod words;

pub use address::{AddressFault, Addressed, NoSuchName, frame_size};
pub use judge::near::nearest;
pub use judge::{
    FORMULA_SIGNS, Judged, MOST_COMBINATIONS, MOST_DRAWN, NoOutlines, OneLens, Order, Outlines, judge, judge_material,
    judge_one, judge_order, limits,
};
pub use words::words;

use crate::choose::LensOption;
use crate::frame::Frame;
use crate::rx::Prescription;

/// The only format number that is known.
pub const FORMAT: i64 = 1;
/// No name of a frame or a lens option is longer, in signs.
pub const MOST_NAME_SIGNS: usize = 60;
/// What the present spectacles are called; nothing else may be.
pub const NOW: &str = "now";

/// What a dispenser wants compared.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// A practice's own reference.
    pub reference: Option<String>,
    /// As written in the job: year-month-day.
    pub date: Option<String>,
    /// What is prescribed.
    pub prescription: Prescription,
    /// The frames, in the order of the job.
    pub frames: Vec<Frame>,
    /// The lens options, in the order of the job.
    pub lenses: Vec<LensOption>,
    /// The spectacles worn now.
    pub present: Option<Present>,
}

/// The spectacles worn now: one frame of one size with one lens.
#[derive(Clone, Debug, PartialEq)]
pub struct Present {
    /// The frame; it has one size.
    pub frame: Frame,
    /// The lens.
    pub lens: LensOption,
    /// What they were made for, where known; else the new prescription.
    pub prescription: Option<Prescription>,
}

impl Job {
    /// How many combinations it asks for, the present spectacles among them.
    #[must_use]
    pub fn combinations(&self) -> usize {
        let sizes: usize = self.frames.iter().map(|frame| frame.sizes.len()).sum();
        sizes * self.lenses.len() + usize::from(self.present.is_some())
    }
}
