//! Many fits: what a job asks to be compared, what is learned from it, and why options differ.

pub mod choosing;
pub mod compare;
pub mod gauge;
#[cfg(feature = "cli")]
pub mod holding;
pub mod index_curve;
#[cfg(feature = "cli")]
pub mod invented;
pub mod largest;
pub mod lessons;
pub mod limit;
pub mod limit_curves;
pub mod mend;
pub mod mixture;
#[cfg(feature = "cli")]
pub mod one_more;
pub mod orders;
pub mod saving;
pub mod size_curve;
pub mod sure;
pub mod sweep;
pub mod tip;
pub mod totals;
pub mod trade_curve;
pub mod why;
pub mod wishes;

use crate::assess::{Impossible, LabWork, Made, Mounting, make};
use crate::choose::base;
use crate::job::OneLens;

/// The lens that was asked for alone: its base is chosen for this eye only.
///
/// # Errors
/// [`Impossible`] where it cannot be made.
pub fn one_lens(one: &OneLens) -> Result<Made, Impossible> {
    let boxing = one.frame.sizes[0];
    let mounting = Mounting::new(&one.frame, boxing);
    make(&mounting.ask(one.eye, &one.rx, one.reference_line, &one.lens, base::alone(&one.lens, &one.rx.power)))
}

/// The work on edge and back of a lens that was asked for alone.
#[must_use]
pub fn lab_work_of_one(one: &OneLens, made: &Made) -> LabWork {
    let mounting = Mounting::new(&one.frame, one.frame.sizes[0]);
    let outline = mounting.outlines.of(one.eye);
    LabWork {
        edging: made.edge_work(one.eye, &one.frame, outline, &one.lens, one.reference_line),
        surfacing: made.surfacing(one.eye, outline, &one.lens),
    }
}
