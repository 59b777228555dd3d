//! What is in a job file, read and judged.

use super::OutlineFiles;
use super::files::{FileFault, read_job};
use super::messages::Source;
use super::toml::{MOST_BYTES, too_large};
use crate::job::{Job, Judged};
use crate::material::Shelf;
use std::path::Path;

/// A job file, read and judged.
#[derive(Clone, Debug)]
pub struct JobFile {
    /// Its name as given.
    pub name: String,
    /// Its text; what is no text in it is replaced.
    pub text: String,
    /// What it means, with all that is wrong.
    pub judged: Judged<Job>,
}

impl JobFile {
    /// What messages about it are printed with.
    #[must_use]
    pub fn source(&self) -> Source<'_> {
        Source { name: &self.name, text: &self.text }
    }
}

/// Opens, reads and judges a job file, and the outline files that it names.
///
/// # Errors
/// [`FileFault`] if it cannot be opened; what is wrong in it is in the findings.
pub fn open_job(path: &Path, shelf: &Shelf) -> Result<JobFile, FileFault> {
    let read = read_job(path)?;
    let name = path.display().to_string();
    if read.size_bytes > MOST_BYTES as u64 {
        let judged = Judged { value: None, findings: vec![too_large(read.size_bytes)] };
        return Ok(JobFile { name, text: String::new(), judged });
    }
    let text = String::from_utf8_lossy(&read.bytes).into_owned();
    Ok(JobFile { name, text, judged: super::job_with(&read.bytes, shelf, &OutlineFiles::beside(path)) })
}
