//! The files of `--out DIR`: the page, the JSON, and each picture as its own SVG. They are drawn and handed on a few at a
//! time, so that a large report is never held whole.

use super::html::{Page, Piece};
use super::number::size;
use super::pictures::{Drawing, FitPictures, FrameCharts};
use super::wire;
use crate::draw::Picture;
use crate::eye::Eye;
use crate::finding::Finding;
use crate::job::NOW;
use crate::study::compare::Comparison;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;
use std::sync::{Mutex, PoisonError};

/// The page's name.
pub const PAGE: &str = "index.html";
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

/// Draws and writes every file of a report, on all cores. The findings are those of a job without a fault.
///
/// # Errors
/// The first fault of the store.
pub fn write<S: Store>(comparison: &Comparison<'_>, findings: &[Finding], store: &S) -> Result<(), S::Fault> {
    let drawing = Drawing::of(comparison);
    let (written, page) = rayon::join(
        || store.put(RESULT, wire::compare_text(comparison, findings).as_bytes()),
        || Page::of(comparison, findings, &drawing),
    );
    written?;
    let mut names = Names::default();
    for (kind, picture) in [(&["edges"][..], drawing.edges()), (&["map", "key"], drawing.key())] {
        if let Some(picture) = picture {
            store.put(&names.unique(kind), picture.to_file().as_bytes())?;
        }
    }
    let draw = |pieces: &[Piece]| pieces.par_iter().map(|piece| Drawn::of(piece, &page, &drawing)).collect();
    let mut put = |drawn: Vec<Drawn>| store_drawn(&drawn, comparison, &mut names, store);
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
    fn named(&self, comparison: &Comparison<'_>, names: &mut Names) -> Vec<(String, &Picture)> {
        match &self.pictures {
            Pictures::None => Vec::new(),
            Pictures::OfFit(index, drawn) => of_fit(*index, drawn, comparison, names),
            Pictures::OfFrame(index, drawn) => {
                let frame = &comparison.job.frames[*index].name;
                drawn.all().map(|chart| (names.unique(&[chart.kind, frame]), chart)).collect()
            }
        }
    }
}

fn of_fit<'d>(
    index: usize,
    drawn: &'d FitPictures,
    comparison: &Comparison<'_>,
    names: &mut Names,
) -> Vec<(String, &'d Picture)> {
    let fit = &comparison.fits[index];
    let eye_size = size(fit.mounting.boxing.eye_size_mm);
    let (frame, lens) = if comparison.is_now(index) {
        (NOW, NOW)
    } else {
        (fit.mounting.frame.name.as_str(), fit.option.name.as_str())
    };
    let name = |(eye, picture): (Option<Eye>, &'d Picture)| {
        let parts = [picture.kind, frame, &eye_size, lens].into_iter().chain(eye.map(Eye::word));
        (names.unique(&parts.collect::<Vec<_>>()), picture)
    };
    drawn.all().map(name).collect()
}

fn store_drawn<S: Store>(
    drawn: &[Drawn],
    comparison: &Comparison<'_>,
    names: &mut Names,
    store: &S,
) -> Result<(), S::Fault> {
    let pictures: Vec<(String, &Picture)> = drawn.iter().flat_map(|drawn| drawn.named(comparison, names)).collect();
    pictures.par_iter().try_for_each(|(name, picture)| store.put(name, picture.to_file().as_bytes()))?;
    let text: String = drawn.iter().map(|drawn| drawn.text.as_str()).collect();
    if text.is_empty() { Ok(()) } else { store.add(PAGE, text.as_bytes()) }
}

/// Name and contents of every file, for whoever wants them in memory.
#[must_use]
pub fn files(comparison: &Comparison<'_>, findings: &[Finding]) -> BTreeMap<String, Vec<u8>> {
    let held = Held::default();
    let Ok(()) = write(comparison, findings, &held);
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

/// Names given so far.
#[derive(Default)]
struct Names(BTreeSet<String>);

impl Names {
    /// A name of these parts that no other file has: lower case, other characters `-`, a number added on collision.
    fn unique(&mut self, parts: &[&str]) -> String {
        let plain = |sign: char| if sign.is_ascii_alphanumeric() { sign.to_ascii_lowercase() } else { '-' };
        let stem: String = parts.join("-").chars().map(plain).collect();
        let candidates = std::iter::once(stem.clone()).chain((2..).map(|number| format!("{stem}-{number}")));
        let free = candidates.map(|stem| format!("{stem}.svg")).find(|name| !self.0.contains(name)).unwrap_or_default();
        self.0.insert(free.clone());
        free
    }
}

#[cfg(test)]
mod tests {
    use super::Names;

    #[test]
    fn names_are_plain_and_their_own() {
        let mut names = Names::default();
        assert_eq!(names.unique(&["plan", "Öre & Co", "46.5", "thin"]), "plan--re---co-46-5-thin.svg");
        assert_eq!(names.unique(&["plan", "a b"]), "plan-a-b.svg");
        assert_eq!(names.unique(&["plan", "A-B"]), "plan-a-b-2.svg");
        assert_eq!(names.unique(&["plan", "a/b"]), "plan-a-b-3.svg");
    }
}
