//! The files of `explain --out DIR`: the page, the JSON, and the drawing as its own SVG.

use super::{PAGE, Store, held};
use crate::explain::Explained;
use crate::job::Job;
use crate::report::{html, pictures, wire};
use std::collections::BTreeMap;

/// The JSON's name.
pub const EXPLAIN: &str = "explain.json";

/// Draws and writes every file of the page with the calculation.
///
/// # Errors
/// The first fault of the store.
pub fn write_explain<S: Store>(job: &Job, explained: &Explained<'_>, store: &S) -> Result<(), S::Fault> {
    let picture = pictures::explained(explained);
    store.put(EXPLAIN, wire::explain_text(explained).as_bytes())?;
    if let Some(picture) = &picture {
        store.put(&format!("{}.svg", picture.kind), picture.to_file().as_bytes())?;
    }
    store.put(PAGE, html::explain_page(job, explained, picture.as_ref()).as_bytes())
}

/// Name and contents of every file, for whoever wants them in memory.
#[must_use]
pub fn explain_files(job: &Job, explained: &Explained<'_>) -> BTreeMap<String, Vec<u8>> {
    held(|store| write_explain(job, explained, store))
}
