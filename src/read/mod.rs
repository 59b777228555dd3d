//! The doors by which something comes in: the text of a job file, the flags of the command line; and the one opener and
//! writer of files.

mod built_in;
#[cfg(feature = "cli")]
pub mod files;
pub mod flags;
#[cfg(feature = "cli")]
pub mod messages;
#[cfg(feature = "cli")]
mod opened;
#[cfg(feature = "cli")]
pub mod orders;
pub mod outline;
#[cfg(feature = "cli")]
mod outlines;
#[cfg(feature = "cli")]
mod shelf;
pub mod toml;
#[cfg(feature = "cli")]
pub mod vary;

#[cfg(feature = "cli")]
pub use opened::{JobFile, open_job};
#[cfg(feature = "cli")]
pub use outlines::{OutlineFiles, outline_paths};
#[cfg(feature = "cli")]
pub use shelf::{MaterialTrouble, ShelfTrouble, shelf};

use crate::job::{self, Job, Judged, NoOutlines, Outlines};
use crate::material::{Material, Shelf};

/// The job that the text of a job file means; it may name no measured outlines.
pub fn job(bytes: &[u8], shelf: &Shelf) -> Judged<Job> {
    job_with(bytes, shelf, &NoOutlines)
}

/// The job that the text of a job file means, with the measured outlines that it names.
pub fn job_with(bytes: &[u8], shelf: &Shelf, outlines: &dyn Outlines) -> Judged<Job> {
    match toml::parse(bytes) {
        Ok(written) => job::judge(written, shelf, outlines),
        Err(findings) => Judged { value: None, findings },
    }
}

/// The material that the text of a material file means, whose id should be `stem`.
pub fn material(bytes: &[u8], stem: &str) -> Judged<Material> {
    match toml::parse(bytes) {
        Ok(written) => job::judge_material(written, stem),
        Err(findings) => Judged { value: None, findings },
    }
}
