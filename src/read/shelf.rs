//! The shelf of materials: those that come with the program, held inside it, and those of a folder.

use super::files::{FileFault, read_materials};
use super::material;
use super::messages::{self, Source};
use crate::finding::Finding;
use crate::material::Shelf;
use std::path::Path;

/// What is wrong with a folder of materials.
#[derive(Debug)]
pub enum ShelfTrouble {
    /// The folder itself.
    Folder(FileFault),
    /// Files in it.
    Files(Vec<MaterialTrouble>),
}

/// What is wrong with a material file.
#[derive(Debug)]
pub enum MaterialTrouble {
    /// It cannot be read.
    File(FileFault),
    /// It holds what is not so.
    Faulty {
        /// Its name as given.
        name: String,
        /// Its text; what is no text in it is replaced.
        text: String,
        /// All that is wrong.
        findings: Vec<Finding>,
    },
}

impl ShelfTrouble {
    /// All of it, as messages and a last line that counts them.
    #[must_use]
    pub fn print(&self) -> (String, String) {
        match self {
            ShelfTrouble::Folder(fault) => (String::new(), fault.to_string()),
            ShelfTrouble::Files(files) => {
                let said = files.iter().map(MaterialTrouble::print).collect();
                let all: Vec<Finding> = files.iter().flat_map(MaterialTrouble::findings).cloned().collect();
                let unread = files.len() - files.iter().filter(|file| !file.findings().is_empty()).count();
                let tally = match (all.is_empty(), unread) {
                    (false, 0) => messages::tally(&all),
                    (false, unread) => format!("{}, {}", messages::tally(&all), unread_files(unread)),
                    (true, unread) => unread_files(unread),
                };
                (said, format!("materials: {tally}; nothing was computed"))
            }
        }
    }
}

fn unread_files(count: usize) -> String {
    format!("{count} file{} not read", if count == 1 { "" } else { "s" })
}

impl MaterialTrouble {
    fn print(&self) -> String {
        match self {
            MaterialTrouble::File(fault) => format!("error: {fault}\n\n"),
            MaterialTrouble::Faulty { name, text, findings } => messages::print(Source { name, text }, findings),
        }
    }

    fn findings(&self) -> &[Finding] {
        match self {
            MaterialTrouble::File(_) => &[],
            MaterialTrouble::Faulty { findings, .. } => findings,
        }
    }
}

/// The built-in shelf, with the materials of a folder added or put in the place of those of the same id.
///
/// # Errors
/// [`ShelfTrouble`] if the folder cannot be read, or with everything that is wrong in its files.
pub fn shelf(dir: Option<&Path>) -> Result<Shelf, ShelfTrouble> {
    let mut shelf = Shelf::built_in();
    let Some(dir) = dir else { return Ok(shelf) };
    let mut wrong = Vec::new();
    for file in read_materials(dir).map_err(ShelfTrouble::Folder)? {
        let bytes = match file.bytes {
            Ok(bytes) => bytes,
            Err(fault) => {
                wrong.push(MaterialTrouble::File(fault));
                continue;
            }
        };
        let judged = material(&bytes, &file.stem);
        match judged.value {
            Some(material) => shelf.put(material),
            None => wrong.push(MaterialTrouble::Faulty {
                name: file.path.display().to_string(),
                text: String::from_utf8_lossy(&bytes).into_owned(),
                findings: judged.findings,
            }),
        }
    }
    if wrong.is_empty() { Ok(shelf) } else { Err(ShelfTrouble::Files(wrong)) }
}
