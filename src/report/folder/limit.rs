//! The files of `limit --out DIR`: the page, the JSON, and each picture as its own SVG.

use super::{PAGE, Store, held};
use crate::job::Job;
use crate::report::pictures::LimitPictures;
use crate::report::{html, wire};
use crate::study::limit::Limits;
use std::collections::BTreeMap;

/// The JSON's name.
pub const LIMIT: &str = "limit.json";

/// Draws and writes every file of the page on limits.
///
/// # Errors
/// The first fault of the store.
pub fn write_limit<S: Store>(job: &Job, limits: &Limits<'_>, store: &S) -> Result<(), S::Fault> {
    let pictures = LimitPictures::of(limits);
    store.put(LIMIT, wire::limit_text(limits).as_bytes())?;
    // One picture of each kind.
    for picture in pictures.iter().flat_map(LimitPictures::all) {
        store.put(&format!("{}.svg", picture.kind), picture.to_file().as_bytes())?;
    }
    store.put(PAGE, html::limit_page(job, limits, pictures.as_ref()).as_bytes())
}

/// Name and contents of every file, for whoever wants them in memory.
#[must_use]
pub fn limit_files(job: &Job, limits: &Limits<'_>) -> BTreeMap<String, Vec<u8>> {
    held(|store| write_limit(job, limits, store))
}
