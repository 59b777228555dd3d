//! Which option of a job is meant: FRAME/SIZE/LENS, or `now` for the present spectacles.
//!
//! Names hold no `/`. Units: mm.

use super::judge::near::nearest;
use super::{Job, NOW};
use crate::choose::LensOption;
use crate::frame::{Boxing, Frame};
use crate::rx::Prescription;

/// An option of a job: a frame at one of its sizes with a lens, and what it is made for.
#[derive(Clone, Copy, Debug)]
pub struct Addressed<'a> {
    /// The frame.
    pub frame: &'a Frame,
    /// At this size.
    pub boxing: Boxing,
    /// The lens option.
    pub option: &'a LensOption,
    /// What it is made for.
    pub prescription: &'a Prescription,
}

/// Why no option is meant.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum AddressFault {
    /// Neither three parts nor `now`.
    Form,
    /// The job says nothing of present spectacles.
    NoPresent,
    /// No frame of this name.
    Frame(NoSuchName),
    /// No lens option of this name.
    Lens(NoSuchName),
    /// The frame is not offered in this size.
    Size {
        /// The frame.
        frame: String,
        /// What was asked for.
        found: String,
        /// What it is offered in.
        sizes_mm: Vec<f64>,
    },
}

/// A name that nothing has.
#[derive(Clone, Debug, PartialEq)]
pub struct NoSuchName {
    /// What was asked for.
    pub found: String,
    /// The names nearest to it.
    pub near: Vec<String>,
    /// All names.
    pub all: Vec<String>,
}

impl NoSuchName {
    fn new<'a>(found: &str, names: impl Iterator<Item = &'a str> + Clone) -> NoSuchName {
        let near = nearest(found, names.clone());
        NoSuchName { found: found.to_owned(), near, all: names.map(str::to_owned).collect() }
    }
}

impl Job {
    /// The option at an address.
    ///
    /// # Errors
    /// [`AddressFault`] where none is there.
    pub fn at(&self, address: &str) -> Result<Addressed<'_>, AddressFault> {
        if address == NOW {
            return self.present_option().ok_or(AddressFault::NoPresent);
        }
        let parts: Vec<&str> = address.split('/').collect();
        let [frame, size, lens] = parts[..] else { return Err(AddressFault::Form) };
        let frame = self.frame(frame)?;
        let boxing = frame_size(frame, size)?;
        Ok(Addressed { frame, boxing, option: self.lens(lens)?, prescription: &self.prescription })
    }

    fn present_option(&self) -> Option<Addressed<'_>> {
        let present = self.present.as_ref()?;
        let prescription = present.prescription.as_ref().unwrap_or(&self.prescription);
        let boxing = *present.frame.sizes.first()?;
        Some(Addressed { frame: &present.frame, boxing, option: &present.lens, prescription })
    }

    /// The frame of this name.
    ///
    /// # Errors
    /// [`AddressFault::Frame`] where none has it.
    pub fn frame(&self, name: &str) -> Result<&Frame, AddressFault> {
        let names = self.frames.iter().map(|frame| frame.name.as_str());
        let found = self.frames.iter().find(|frame| frame.name == name);
        found.ok_or_else(|| AddressFault::Frame(NoSuchName::new(name, names)))
    }

    /// The lens option of this name.
    ///
    /// # Errors
    /// [`AddressFault::Lens`] where none has it.
    pub fn lens(&self, name: &str) -> Result<&LensOption, AddressFault> {
        let names = self.lenses.iter().map(|option| option.name.as_str());
        let found = self.lenses.iter().find(|option| option.name == name);
        found.ok_or_else(|| AddressFault::Lens(NoSuchName::new(name, names)))
    }
}

/// The size of a frame that is written so.
///
/// # Errors
/// [`AddressFault::Size`] where the frame is not offered in it.
pub fn frame_size(frame: &Frame, written: &str) -> Result<Boxing, AddressFault> {
    let wanted_mm = written.trim().parse::<f64>().ok();
    let found = frame.sizes.iter().find(|boxing| Some(boxing.eye_size_mm) == wanted_mm);
    // A measured size is shown with two decimals.
    let as_shown = |boxing: &&Boxing| wanted_mm.is_some_and(|wanted| (boxing.eye_size_mm - wanted).abs() < 0.005);
    found.or_else(|| frame.sizes.iter().find(as_shown)).copied().ok_or_else(|| AddressFault::Size {
        frame: frame.name.clone(),
        found: written.to_owned(),
        sizes_mm: frame.sizes.iter().map(|boxing| boxing.eye_size_mm).collect(),
    })
}
