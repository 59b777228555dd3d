//! Which frame, size, lens option and eye the flags `--frame`, `--size`, `--lens` and `--eye` mean.

use super::{Exit, refuse};
use crate::choose::LensOption;
use crate::eye::Eye;
use crate::frame::{Boxing, Frame};
use crate::job::{AddressFault, Addressed, Job, NOW, frame_size};
use crate::report::words;
use clap::builder::{PossibleValuesParser, TypedValueParser};

/// `--eye`: right or left.
pub(super) fn eye_word() -> impl TypedValueParser<Value = Eye> {
    let words = PossibleValuesParser::new(Eye::BOTH.map(Eye::word));
    words.map(|word| if word == Eye::Left.word() { Eye::Left } else { Eye::Right })
}

fn wrong(flag: &str, written: &str, fault: &AddressFault) -> Exit {
    refuse(&words::address_fault(flag, written, fault))
}

/// The frame and its size: the first, where left out.
pub(super) fn frame<'j>(job: &'j Job, name: Option<&str>, size: Option<&str>) -> Result<(&'j Frame, Boxing), Exit> {
    let frame = match name {
        Some(name) => job.frame(name).map_err(|fault| wrong("--frame", name, &fault))?,
        // A job has one frame or more, and a frame one size or more.
        None => &job.frames[0],
    };
    let boxing = match size {
        Some(size) => frame_size(frame, size).map_err(|fault| wrong("--size", size, &fault))?,
        None => frame.sizes[0],
    };
    Ok((frame, boxing))
}

/// The lens option of this name.
pub(super) fn lens<'j>(job: &'j Job, name: &str) -> Result<&'j LensOption, Exit> {
    job.lens(name).map_err(|fault| wrong("--lens", name, &fault))
}

/// The spectacles worn now.
pub(super) fn present<'j>(job: &'j Job, flag: &str) -> Result<Addressed<'j>, Exit> {
    job.at(NOW).map_err(|fault| wrong(flag, NOW, &fault))
}
