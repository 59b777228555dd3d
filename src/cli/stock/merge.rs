//! The totals of parts, added up.

use super::super::{Exit, refuse, refuse_file};
use super::estimate::{told_of, write_totals};
use crate::read::files::{self, FileFault, write_folder};
use crate::report::wire;
use crate::study::totals::Totals;
use std::io;
use std::path::{Path, PathBuf};

/// Adds up the totals of folders into another.
pub(super) fn run(parts: &[PathBuf], out: &Path) -> io::Result<Exit> {
    if let Some(twice) = files::named_twice(parts.iter().map(PathBuf::as_path).chain([out])) {
        return Ok(refuse(&format!("{}: this folder is named twice; each part counts once", twice.display())));
    }
    let mut totals = Totals::default();
    for part in parts {
        let text = match files::read_totals(part) {
            Ok(text) => text,
            Err(fault) => return Ok(refuse_file(&fault)),
        };
        match wire::read_totals(&text) {
            Ok(found) => totals.add(found),
            Err(fault) => return Ok(refuse(&format!("{}: {fault}", part.join(files::TOTALS).display()))),
        }
    }
    let written: Result<(), FileFault> = write_folder(out, |new| write_totals(new, &totals));
    match written {
        // What was refused was refused before.
        Ok(()) => told_of(out, &totals).map(|_| Exit::Done),
        Err(fault) => Ok(refuse_file(&fault)),
    }
}
