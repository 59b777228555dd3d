//! What is in files, read and judged.

use super::OutlineFiles;
use super::files::{FileFault, read_job, read_materials};
use super::messages::Source;
use super::toml::{MOST_BYTES, too_large};
use crate::job::{Job, Judged};
use crate::material::{Material, Shelf, ShelfFault};
use std::fmt;
use std::path::{Path, PathBuf};

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

/// Why there is no shelf.
#[derive(Debug)]
pub enum ShelfTrouble {
    /// The folder cannot be read.
    File(FileFault),
    /// Materials in it are wrong.
    Materials {
        /// The folder.
        dir: PathBuf,
        /// What is wrong.
        faults: Vec<ShelfFault>,
    },
}

impl fmt::Display for ShelfTrouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ShelfTrouble::File(fault) => write!(f, "{fault}"),
            ShelfTrouble::Materials { dir, faults } => {
                let lines: Vec<String> = faults.iter().map(|fault| format!("{}/{fault}", dir.display())).collect();
                f.write_str(&lines.join("\n"))
            }
        }
    }
}

/// The built-in shelf, with the materials of a folder added or put in the place of those of the same id.
///
/// # Errors
/// [`ShelfTrouble`] if the folder cannot be read, or with everything that is wrong in its materials.
pub fn shelf(dir: Option<&Path>) -> Result<Shelf, ShelfTrouble> {
    let mut shelf = Shelf::built_in();
    let Some(dir) = dir else { return Ok(shelf) };
    let mut wrong = Vec::new();
    for (id, text) in read_materials(dir).map_err(ShelfTrouble::File)? {
        match Material::read(&id, &text) {
            Ok(material) => shelf.put(material),
            Err(faults) => wrong.extend(faults),
        }
    }
    if wrong.is_empty() { Ok(shelf) } else { Err(ShelfTrouble::Materials { dir: dir.to_owned(), faults: wrong }) }
}
