//! What the sheet at true size shows: a ruler, and the outlines of a frame at a size.
//!
//! Units: mm.

use super::super::number::mm;
use super::super::words;
use super::SCALE;
use crate::assess::Mounting;
use crate::choose::blank::minimum_mm;
use crate::choose::centre::Place;
use crate::draw::dimension::scale_words;
use crate::draw::outlines::{OutlinedLens, Outlines};
use crate::draw::{Picture, ruler};
use crate::eye::{Eye, Eyes};
use crate::rx::Prescription;

/// The ruler and the card.
#[must_use]
pub fn ruler() -> Picture {
    ruler::draw(
        &format!("A ruler and a bank card, {}", scale_words(SCALE)),
        "The line is 100 mm long, the box 85.60 mm wide and 53.98 mm high.",
    )
}

/// The outlines of a frame at a size, centred for a prescription.
#[must_use]
pub fn outlines(mounting: &Mounting<'_>, prescription: &Prescription) -> Picture {
    let lenses = Eyes::from_fn(|eye| lens(mounting, prescription, eye));
    let blanks = lenses.iter().map(|(eye, lens)| format!("{} {}", eye.word(), mm(lens.blank_mm)));
    let blanks: Vec<String> = blanks.collect();
    let place = words::place(mounting.frame, &mounting.boxing);
    let outlines = Outlines {
        title: &format!("Outlines of both lenses, {place}, {}", scale_words(SCALE)),
        description: &format!("Least blank: {}.", words::list(&blanks)),
        boxing: mounting.boxing,
        lenses,
    };
    outlines.draw()
}

fn lens<'m>(mounting: &'m Mounting<'_>, prescription: &Prescription, eye: Eye) -> OutlinedLens<'m> {
    let (outline, pd_mm) = (mounting.outlines.of(eye), prescription.eyes.of(eye).pd_mm);
    let centration = mounting.centration(eye, pd_mm);
    let place = Place::new(outline, centration.point(eye));
    OutlinedLens { outline, centration, pd_mm, blank_mm: minimum_mm(&place) }
}
