//! The front view of a fit.
//!
//! Units: mm.

use super::super::number::{mm, size};
use super::super::words;
use super::{SCALE, edge_point, subject};
use crate::assess::{Fit, Made, Pair};
use crate::draw::Picture;
use crate::draw::dimension::scale_words;
use crate::draw::front::{Front, FrontLens};
use crate::eye::{Eye, Eyes};

/// Draws it.
pub(super) fn front(fit: &Fit<'_>, pair: &Pair) -> Picture {
    let lenses = Eyes::from_fn(|eye| lens(fit, eye, pair.eyes.of(eye)));
    let said =
        pair.eyes.iter().map(|(eye, made)| format!("{}: {}", words::eye(eye), thickest_in_words(fit, eye, made)));
    let said: Vec<String> = said.collect();
    let front = Front {
        title: &format!("Front view, {}, {}", subject(fit), scale_words(SCALE)),
        description: &said.join(" "),
        boxing: fit.mounting.boxing,
        lenses,
        scale: SCALE,
    };
    front.draw()
}

fn lens<'f>(fit: &'f Fit<'_>, eye: Eye, made: &Made) -> FrontLens<'f> {
    FrontLens {
        outline: fit.mounting.outlines.of(eye),
        centration: made.centration,
        pd_mm: fit.prescription.eyes.of(eye).pd_mm,
        blank_mm: made.blank.minimum_mm,
        thickest: edge_point(&made.thickness.edges.max),
        said: format!("{} {}", thickest_in_words(fit, eye, made), blank_in_words(made)),
    }
}

/// "Thickest edge 6.2 mm at the lower temporal corner, 33 mm from the reference point."
fn thickest_in_words(fit: &Fit<'_>, eye: Eye, made: &Made) -> String {
    let edge = &made.thickness.edges.max;
    let from_mm = (edge.point - made.centration.point(eye)).hypot();
    format!(
        "Thickest edge {} at the {}, {} from the reference point.",
        mm(edge.thickness_mm),
        words::corner(eye, fit.mounting.outlines.of(eye), edge.point),
        super::super::number::with_unit(from_mm, 0, "mm"),
    )
}

/// "Blank at least 66.9 mm across; cut from one of 70 mm."
fn blank_in_words(made: &Made) -> String {
    let blank = &made.blank;
    let least = mm(blank.minimum_mm);
    match (blank.diameter_mm, blank.decentred) {
        (Some(listed), false) => format!("Blank at least {least} across; cut from one of {} mm.", size(listed)),
        (Some(listed), true) => format!(
            "Blank at least {least} across if centred; surfaced off the middle of one of {} mm, the largest.",
            size(listed)
        ),
        (None, _) => format!("Blank at least {least} across."),
    }
}
