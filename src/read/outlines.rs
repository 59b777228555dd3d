//! Outline files, each read and prepared once, however many rows name it.

use super::files::{self, FileFault, read_outline};
use super::toml;
use crate::job::{Judged, Outlines};
use crate::keys;
use crate::outline::Measured;
use crate::written::Data;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// The outline files of a folder, by their names there.
#[derive(Debug)]
pub struct OutlineFiles {
    dir: PathBuf,
    read: Mutex<BTreeMap<String, Judged<Arc<Measured>>>>,
}

impl OutlineFiles {
    /// Those beside a job or a file of orders; where that came through a pipe or standard input, those where the program was
    /// started.
    #[must_use]
    pub fn beside(job: &Path) -> OutlineFiles {
        OutlineFiles::of(files::beside(job))
    }

    /// Those where the program was started.
    #[must_use]
    pub fn here() -> OutlineFiles {
        OutlineFiles::of(PathBuf::from("."))
    }

    fn of(dir: PathBuf) -> OutlineFiles {
        OutlineFiles { dir, read: Mutex::default() }
    }
}

impl Outlines for OutlineFiles {
    fn named(&self, name: &str) -> Judged<Arc<Measured>> {
        let mut read = self.read.lock().unwrap_or_else(PoisonError::into_inner);
        read.entry(name.to_owned()).or_insert_with(|| open(&self.dir.join(name), name)).clone()
    }
}

/// The outline files that the text of a job names; none where its text cannot be made out.
pub fn outline_paths(job: &Path, bytes: &[u8]) -> Vec<PathBuf> {
    let mut names = Vec::new();
    if let Ok(written) = toml::parse(bytes) {
        collect(Data::Table(written), &mut names);
    }
    let dir = files::beside(job);
    names.iter().map(|name| dir.join(name)).collect()
}

fn collect(data: Data, names: &mut Vec<String>) {
    match data {
        Data::List(items) => items.into_iter().for_each(|item| collect(item.data, names)),
        Data::Table(mut table) => {
            for entry in table.take_rest() {
                match entry.value.data {
                    Data::Text(name) if entry.name == keys::OUTLINE.name => names.push(name),
                    other => collect(other, names),
                }
            }
        }
        _ => {}
    }
}

fn open(path: &Path, name: &str) -> Judged<Arc<Measured>> {
    match read_outline(path) {
        Ok(bytes) => super::outline::outline(name, &bytes),
        // Told by the name that it has in the job.
        Err(fault) => Judged::unreadable(&FileFault { path: PathBuf::from(name), ..fault }.to_string()),
    }
}
