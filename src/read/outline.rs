//! The text of an outline file → a measured outline: columns of angles and radii, or the plain text trace records of the
//! trade's data standard (ISO 16284).
//!
//! Units: mm and degrees. Both lenses as the observer facing the wearer sees them, angles anticlockwise from the observer's
//! right. In the records the first radius is at 0° (3 o'clock), angles run anticlockwise and a length is a whole number of
//! hundredths of a millimetre; that this holds as seen from the front for both eyes is from memory.

mod columns;
mod records;

use crate::eye::{Eye, Eyes};
use crate::finding::{At, Finding, Named, Place, Problem, Unfit};
use crate::job::Judged;
use crate::outline::{Measured, Reading, Trace, Traced};
use std::ops::Range;
use std::sync::Arc;

/// The box may be off by this from what the file says, mm (ours).
const BOX_OFF_MM: f64 = 0.5;
/// The length round may be off by this share: some tracers follow the rim's own curve in space, some its view (ours).
const GIRTH_OFF: f64 = 0.03;
/// More faults of one kind than these say nothing new.
const MOST_FAULTS: usize = 8;

/// A number and where it stands.
#[derive(Clone, Debug)]
struct Spot {
    value: f64,
    bytes: Range<usize>,
}

/// The radii of one lens as they stand in a file.
#[derive(Clone, Debug)]
struct Lens {
    trace: Trace,
    /// Where its radii stand, in their order.
    spots: Vec<Range<usize>>,
    /// Where it begins.
    head: Range<usize>,
    /// Width and height of the box as the file says it.
    boxed: [Option<Spot>; 2],
    /// Length round as the file says it.
    girth: Option<Spot>,
}

/// All that an outline file says.
struct Contents {
    lenses: Eyes<Option<Lens>>,
    bridge: Option<Spot>,
}

/// Something wrong and the bytes it is about.
type Wrong = (Range<usize>, Unfit);

/// The measured outline that the contents of a file of this name mean. Findings stand in that file.
pub fn outline(name: &str, bytes: &[u8]) -> Judged<Arc<Measured>> {
    let text = String::from_utf8_lossy(bytes);
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let file = Named::new(name, text);
    let place = |bytes: Range<usize>| Place { path: String::new(), at: At::File(file.clone(), bytes) };
    let mut findings = Vec::new();
    let value = match (std::str::from_utf8(bytes), contents(text)) {
        // What is no text may be told by its head all the same.
        (Err(error), Ok(_) | Err(_)) if !records::are_binary(text) => {
            let at_byte = error.valid_up_to();
            findings.push(Finding::new(Problem::NotUtf8 { at_byte }, place(at_byte..at_byte)));
            None
        }
        (_, Ok(contents)) => {
            let mut wrong = Vec::new();
            let measured = measured(&contents, &mut wrong);
            findings
                .extend(wrong.into_iter().map(|(bytes, unfit)| Finding::new(Problem::Outline(unfit), place(bytes))));
            measured
        }
        (_, Err(wrong)) => {
            findings
                .extend(wrong.into_iter().map(|(bytes, unfit)| Finding::new(Problem::Outline(unfit), place(bytes))));
            None
        }
    };
    let sound = !findings.iter().any(Finding::is_fault);
    Judged { value: value.filter(|_| sound).map(Arc::new), findings }
}

fn contents(text: &str) -> Result<Contents, Vec<Wrong>> {
    if text.trim().is_empty() {
        return Err(vec![(0..0, Unfit::Empty)]);
    }
    if records::are(text) { records::read(text) } else { columns::read(text) }
}

fn measured(contents: &Contents, wrong: &mut Vec<Wrong>) -> Option<Measured> {
    let traced = contents.lenses.map(|lens| lens.as_ref().and_then(|lens| traced(lens, wrong)));
    if let (Some(right), Some(left)) = (&traced.right, &traced.left) {
        let (right_mm, left_mm) = (right.box_mm(), left.box_mm());
        let uneven = right_mm.iter().zip(left_mm).any(|(right, left)| (right - left).abs() > BOX_OFF_MM);
        if let (true, Some(lens)) = (uneven, &contents.lenses.left) {
            wrong.push((lens.head.clone(), Unfit::Uneven { right_mm, left_mm }));
        }
    }
    Measured::new(traced, contents.bridge.as_ref().map(|bridge| bridge.value))
}

fn traced(lens: &Lens, wrong: &mut Vec<Wrong>) -> Option<Traced> {
    let traced = match lens.trace.curve() {
        Ok(traced) => traced,
        Err(faults) => {
            let place = |index: Option<usize>| index.and_then(|i| lens.spots.get(i)).unwrap_or(&lens.head).clone();
            wrong.extend(faults.into_iter().map(|(index, unfit)| (place(index), unfit)));
            return None;
        }
    };
    for ((label, said), found_mm) in ["HBOX", "VBOX"].into_iter().zip(&lens.boxed).zip(traced.box_mm()) {
        if let Some(said) = said
            && (said.value - found_mm).abs() > BOX_OFF_MM
        {
            wrong
                .push((said.bytes.clone(), Unfit::Boxed { label, said_mm: said.value, found_mm, most_mm: BOX_OFF_MM }));
        }
    }
    if let Some(said) = &lens.girth {
        let found_mm = traced.girth_mm();
        if (said.value - found_mm).abs() > GIRTH_OFF * found_mm {
            wrong.push((said.bytes.clone(), Unfit::Girth { said_mm: said.value, found_mm, most_share: GIRTH_OFF }));
        }
    }
    Some(traced)
}

impl Lens {
    fn new(angles_deg: impl Iterator<Item = f64>, radii: &[Spot], step_mm: f64, head: Range<usize>) -> Lens {
        let reading = |(angle_deg, radius): (f64, &Spot)| Reading { angle_deg, radius_mm: radius.value };
        Lens {
            trace: Trace { readings: angles_deg.zip(radii).map(reading).collect(), step_mm },
            spots: radii.iter().map(|radius| radius.bytes.clone()).collect(),
            head,
            boxed: [None, None],
            girth: None,
        }
    }
}

/// No number of an outline is larger.
const MOST: f64 = 1e6;

/// A text as a number that an outline may hold.
fn number(text: &str) -> Option<f64> {
    text.parse::<f64>().ok().filter(|value| value.abs() <= MOST)
}

/// Where a part of a text stands in it.
fn bytes_of(part: &str, whole: &str) -> Range<usize> {
    let start = (part.as_ptr() as usize).saturating_sub(whole.as_ptr() as usize);
    start..start + part.len()
}

/// The lenses of columns: the right one alone.
fn right_alone(lens: Lens) -> Eyes<Option<Lens>> {
    Eyes::from_fn(|eye| (eye == Eye::Right).then(|| lens.clone()))
}
