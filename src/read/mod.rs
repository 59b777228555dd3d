//! The doors by which something comes in: the text of a job file, the flags of the command line; and the one opener and
//! writer of files.

#[cfg(feature = "cli")]
pub mod files;
pub mod flags;
#[cfg(feature = "cli")]
pub mod messages;
#[cfg(feature = "cli")]
mod opened;
#[cfg(feature = "cli")]
pub mod orders;
#[cfg(feature = "cli")]
pub mod pieces;
pub mod toml;

#[cfg(feature = "cli")]
pub use opened::{JobFile, ShelfTrouble, open_job, shelf};

use crate::job::{self, Job, Judged};
use crate::material::Shelf;

/// The job that the text of a job file means.
pub fn job(bytes: &[u8], shelf: &Shelf) -> Judged<Job> {
    match toml::parse(bytes) {
        Ok(written) => job::judge(written, shelf),
        Err(findings) => Judged { value: None, findings },
    }
}
