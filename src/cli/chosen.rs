//! Which frame, size and lens option of a job the flags `--frame`, `--size` and `--lens` mean.

use super::{Exit, refuse};
use crate::choose::LensOption;
use crate::frame::{Boxing, Frame};
use crate::job::{AddressFault, Addressed, Job, NOW, frame_size};
use crate::report::words;

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
