//! The files of `--out DIR`: the page, the JSON, and each picture as its own SVG. They are drawn and handed on a few at a
//! time, so that a large report is never held whole.

#[cfg(feature = "cli")]
mod explain;
mod limit;
#[cfg(feature = "cli")]
mod practise;
#[cfg(feature = "cli")]
mod sweep;

#[cfg(feature = "cli")]
pub use explain::{EXPLAIN, explain_files, write_explain};
pub use limit::{LIMIT, limit_files, write_limit};
#[cfg(feature = "cli")]
pub use practise::{ANSWERS, EXERCISES, practise_files, write_practise};
#[cfg(feature = "cli")]
pub use sweep::{SWEEP, SWEEP_CSV, sweep_files, write_sweep};

use super::html::{self, Page, Piece, Watched};
use super::names::Names;
use super::pictures::{Drawing, FitPictures, FrameCharts};
use super::wire;
use crate::draw::Picture;
use crate::finding::Finding;
use crate::study::compare::Comparison;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::convert::Infallible;
use std::sync::{Mutex, PoisonError};

/// The page's name.
pub const PAGE: &str = "index.html";
/// The name of the sheet at true size.
pub const SHEET: &str = "one-to-one.html";
/// The JSON's name.
pub const RESULT: &str = "result.json";

/// So many pieces of the page are drawn at a time.
const AT_A_TIME: usize = 16;

/// Where the files of a report go.
pub trait Store: Sync {
    /// Why one could not be put there.
    type Fault: Send;

    /// Puts a whole file there, whose name is new.
    ///
    /// # Errors
    /// If it cannot; then no more comes.
    fn put(&self, name: &str, bytes: &[u8]) -> Result<(), Self::Fault>;

    /// Adds to the end of a file that comes in pieces, one after the other.
    ///
    /// # Errors
    /// If it cannot; then no more comes.
    fn add(&self, name: &str, piece: &[u8]) -> Result<(), Self::Fault>;
}

/// Draws and writes every file of a report, on all cores. The findings are those of a job without a fault; `watched` is
/// for a report that is written anew whenever its job is saved.
///
/// # Errors
/// The first fault of the store.
pub fn write<S: Store>(
    comparison: &Comparison<'_>,
    findings: &[Finding],
    watched: Option<&Watched>,
    store: &S,
) -> Result<(), S::Fault> {
    let drawing = Drawing::of(comparison);
    let (written, page) = rayon::join(
        || {
            store.put(RESULT, wire::compare_text(comparison, findings).as_bytes())?;
            store.put(SHEET, html::sheet(comparison, &drawing).as_bytes())
        },
        || Page::of(comparison, findings, watched, &drawing),
    );
    written?;
    let single =
        [("chart-edges.svg", drawing.edges()), ("chart-sure.svg", drawing.sure()), ("map-key.svg", drawing.key())];
    for (name, picture) in single {
        if let Some(picture) = picture {
            store.put(name, picture.to_file().as_bytes())?;
        }
    }
    let draw = |pieces: &[Piece]| pieces.par_iter().map(|piece| Drawn::of(piece, &page, &drawing)).collect();
    let put = |drawn: Vec<Drawn>| store_drawn(&drawn, &page.names, store);
    // While some are written the next are drawn.
    let mut drawn: Vec<Drawn> = Vec::new();
    for pieces in page.pieces.chunks(AT_A_TIME) {
        let before = std::mem::take(&mut drawn);
        let written;
        (written, drawn) = rayon::join(|| put(before), || draw(pieces));
        written?;
    }
    put(drawn)
}

/// A piece of the page, written, and the pictures in it.
struct Drawn {
    text: String,
    pictures: Pictures,
}

enum Pictures {
    None,
    OfFit(usize, Box<FitPictures>),
    OfFrame(usize, Box<FrameCharts>),
}

impl Drawn {
    fn of(piece: &Piece, page: &Page<'_>, drawing: &Drawing<'_>) -> Drawn {
        match piece {
            Piece::Text(text) => Drawn { text: text.clone(), pictures: Pictures::None },
            Piece::Fit(index) => {
                let drawn = drawing.fit(*index);
                let text = page.fit(*index, drawn.as_ref());
                let pictures = drawn.map_or(Pictures::None, |drawn| Pictures::OfFit(*index, Box::new(drawn)));
                Drawn { text, pictures }
            }
            Piece::Charts(index) => match drawing.charts(*index) {
                Some(drawn) => {
                    Drawn { text: page.charts(*index, &drawn), pictures: Pictures::OfFrame(*index, Box::new(drawn)) }
                }
                None => Drawn { text: String::new(), pictures: Pictures::None },
            },
        }
    }

    /// The pictures under their names.
    fn named(&self, names: &Names) -> Vec<(String, &Picture)> {
        match &self.pictures {
            Pictures::None => Vec::new(),
            Pictures::OfFit(index, drawn) => {
                drawn.all().map(|(eye, picture)| (names.of_fit(*index, picture.kind, eye), picture)).collect()
            }
            Pictures::OfFrame(index, drawn) => {
                drawn.all().map(|chart| (names.of_frame(*index, chart.kind), chart)).collect()
            }
        }
    }
}

fn store_drawn<S: Store>(drawn: &[Drawn], names: &Names, store: &S) -> Result<(), S::Fault> {
    let pictures: Vec<(String, &Picture)> = drawn.iter().flat_map(|drawn| drawn.named(names)).collect();
    pictures.par_iter().try_for_each(|(name, picture)| store.put(name, picture.to_file().as_bytes()))?;
    let text: String = drawn.iter().map(|drawn| drawn.text.as_str()).collect();
    if text.is_empty() { Ok(()) } else { store.add(PAGE, text.as_bytes()) }
}

/// Name and contents of every file, for whoever wants them in memory.
#[must_use]
pub fn files(comparison: &Comparison<'_>, findings: &[Finding]) -> BTreeMap<String, Vec<u8>> {
    held(|store| write(comparison, findings, None, store))
}

fn held(write: impl FnOnce(&Held) -> Result<(), Infallible>) -> BTreeMap<String, Vec<u8>> {
    let held = Held::default();
    let Ok(()) = write(&held);
    held.0.into_inner().unwrap_or_else(PoisonError::into_inner)
}

#[derive(Default)]
struct Held(Mutex<BTreeMap<String, Vec<u8>>>);

impl Store for Held {
    type Fault = Infallible;

    fn put(&self, name: &str, bytes: &[u8]) -> Result<(), Infallible> {
        self.add(name, bytes)
    }

    fn add(&self, name: &str, piece: &[u8]) -> Result<(), Infallible> {
        let mut files = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        files.entry(name.to_owned()).or_default().extend_from_slice(piece);
        Ok(())
    }
}
