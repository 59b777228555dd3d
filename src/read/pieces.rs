//! A folder whose files come in pieces, written whole or not at all.

#![expect(clippy::disallowed_methods, reason = "written beside its place, then renamed by the writer of folders")]

use super::files::{Ancestors, FileFault, MANIFEST, all_may_read, manifest, parent_of, replaceable, swap};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A folder that is being written beside the place where it will stand.
#[derive(Debug)]
pub struct NewFolder {
    shown: PathBuf,
    path: PathBuf,
    files: RefCell<BTreeMap<String, File>>,
}

impl NewFolder {
    /// Writes a whole file.
    ///
    /// # Errors
    /// [`FileFault`] if it cannot be written.
    pub fn put(&self, name: &str, bytes: &[u8]) -> Result<(), FileFault> {
        self.add(name, bytes)
    }

    /// Writes a further piece of a file.
    ///
    /// # Errors
    /// [`FileFault`] if it cannot be written.
    pub fn add(&self, name: &str, piece: &[u8]) -> Result<(), FileFault> {
        self.try_add(name, piece).map_err(|error| FileFault::of(&self.shown, error))
    }

    fn try_add(&self, name: &str, piece: &[u8]) -> io::Result<()> {
        let mut files = self.files.borrow_mut();
        if let Some(file) = files.get_mut(name) {
            return file.write_all(piece);
        }
        let mut file = File::create_new(self.path.join(name))?;
        file.write_all(piece)?;
        files.insert(name.to_owned(), file);
        Ok(())
    }
}

/// Writes a folder with the files that `fill` puts into it, and the list of them. A folder of the name is replaced if it
/// is empty or holds only what its own list names.
///
/// # Errors
/// A [`FileFault`] if such a folder holds anything else or if anything cannot be written, or what `fill` fails with; then
/// nothing was changed.
pub fn write_folder_in_pieces<E: From<FileFault>>(
    dir: &Path,
    fill: impl FnOnce(&NewFolder) -> Result<(), E>,
) -> Result<(), E> {
    let fault = |error| FileFault::of(dir, error);
    let there = replaceable(dir)?;
    let dir = there.as_deref().unwrap_or(dir);
    let parent = parent_of(dir);
    let made = Ancestors::make(parent).map_err(fault)?;
    let beside = all_may_read(0o777).tempdir_in(parent).map_err(fault)?;
    let new = NewFolder { shown: dir.to_owned(), path: beside.path().to_owned(), files: RefCell::default() };
    fill(&new)?;
    let names = new.files.borrow().keys().cloned().collect();
    new.put(MANIFEST, &manifest(names))?;
    for file in new.files.borrow().values() {
        file.sync_all().map_err(fault)?;
    }
    match there {
        Some(_) => swap(beside.path(), dir, parent),
        None => fs::rename(beside.path(), dir),
    }
    .map_err(fault)?;
    made.keep();
    Ok(())
}
