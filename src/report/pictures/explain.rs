//! The drawing of a worked calculation.
//!
//! Units: mm.

use super::super::number::mm;
use super::super::words;
use crate::draw::Picture;
use crate::draw::dimension::scale_words;
use crate::draw::worked::{Station, Tie, Worked};
use crate::explain::{Explained, Spot};

/// Millimetres on paper for one of the lens.
const SCALE: f64 = 2.0;
/// Places along the section.
const STATIONS: u32 = 60;

/// Draws it; `None` where a surface ends on the horizontal centre line, which no lens that is made does.
#[must_use]
pub fn explained(explained: &Explained<'_>) -> Option<Picture> {
    let (made, fit) = (explained.made, explained.fit);
    let (lens, reference) = (&made.lens, made.centration.point(explained.eye));
    let cardinal = fit.mounting.outlines.of(explained.eye).cardinal();
    let station = |x: f64| {
        let p = kurbo::Vec2::new(x, 0.0) - reference;
        Some(Station { x, front_z: lens.front().sag(p)?, back_z: lens.centre_mm() + lens.back().sag(p)? })
    };
    let along =
        |i: u32| station(cardinal.left.x + (cardinal.right.x - cardinal.left.x) * f64::from(i) / f64::from(STATIONS));
    let stations: Option<Vec<Station>> = (0..=STATIONS).map(along).collect();
    let said: Vec<String> = explained
        .spots
        .iter()
        .map(|spot| format!("{}: {}, {}", spot.letter, spot.name, mm(spot.thickness_mm)))
        .collect();
    let worked = Worked {
        title: &format!("Points of the calculation, {}, {}", words::explain_subject(explained), scale_words(SCALE)),
        description: &format!("r: reference point. {}.", said.join("; ")),
        outline: fit.mounting.outlines.of(explained.eye),
        eye: explained.eye,
        reference,
        centre_mm: lens.centre_mm(),
        ties: explained.spots.iter().map(|spot: &Spot| Tie { letter: spot.letter, at: spot.at }).collect(),
        stations: stations?,
        scale: SCALE,
    };
    Some(worked.draw())
}
