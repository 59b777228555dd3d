//! The files of `sweep --out DIR`: the page, the JSON, the CSV, and each chart as SVG and as PNG.

use super::{PAGE, Store, held};
use crate::draw::png::png;
use crate::job::Job;
use crate::report::{html, pictures, sweep_rows, wire};
use crate::study::sweep::{Show, Sweep};
use std::collections::BTreeMap;

/// The JSON's name.
pub const SWEEP: &str = "sweep.json";
/// The CSV's name.
pub const SWEEP_CSV: &str = "sweep.csv";

/// Draws and writes every file of a sweep.
///
/// # Errors
/// The first fault of the store.
pub fn write_sweep<S: Store>(job: &Job, sweep: &Sweep<'_>, shows: &[Show], store: &S) -> Result<(), S::Fault> {
    let pictures = pictures::sweep(sweep, shows);
    store.put(SWEEP, wire::sweep_text(sweep).as_bytes())?;
    store.put(SWEEP_CSV, &sweep_rows::csv(sweep, shows))?;
    for one in &pictures {
        store.put(&format!("{}.svg", one.name), one.picture.to_file().as_bytes())?;
        store.put(&format!("{}.png", one.name), &png(&one.picture))?;
    }
    store.put(PAGE, html::sweep_page(job, sweep, shows, &pictures).as_bytes())
}

/// Name and contents of every file, for whoever wants them in memory.
#[must_use]
pub fn sweep_files(job: &Job, sweep: &Sweep<'_>, shows: &[Show]) -> BTreeMap<String, Vec<u8>> {
    held(|store| write_sweep(job, sweep, shows, store))
}
