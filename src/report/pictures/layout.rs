//! The layout card of a lens: its outline laid in the blank that it is cut from.
//!
//! Units: mm.

use super::super::words;
use super::SCALE;
use super::profile::Held;
use crate::assess::{Made, Mounting, Surfacing};
use crate::choose::LensOption;
use crate::choose::blank::ALLOWANCE_MM;
use crate::draw::Picture;
use crate::draw::dimension::scale_words;
use crate::draw::layout::Layout;
use crate::job::OneLens;
use crate::study;
use kurbo::Vec2;

/// Draws it.
pub(super) fn layout(held: &Held<'_>, option: &LensOption, subject: &str) -> Picture {
    card(held, &held.made.surfacing(held.eye, held.outline, option), subject)
}

fn card(held: &Held<'_>, work: &Surfacing, subject: &str) -> Picture {
    let (made, eye) = (held.made, held.eye);
    let said = words::workshop(made, eye, work);
    let (blank_mm, blank_figure) = match made.blank.diameter_mm {
        Some(listed) => (listed, "blank.diameter_mm"),
        None => (made.blank.minimum_mm, "blank.minimum_mm"),
    };
    let card = Layout {
        title: &format!("Layout in the blank, {subject}, {} lens, {}", eye.word(), scale_words(SCALE)),
        description: &said.join(" "),
        eye,
        outline: held.outline,
        centration: made.centration,
        middle: Vec2::new(work.middle_in_mm * eye.nasal_sign(), work.middle_up_mm),
        blank_mm,
        blank_figure,
        allowance_mm: ALLOWANCE_MM,
        crib_mm: work.crib.map(|crib| crib.diameter_mm),
        said: &said,
        scale: SCALE,
    };
    card.draw()
}

/// The layout card of a lens that was asked for alone.
#[must_use]
pub fn layout_card(one: &OneLens, made: &Made) -> Picture {
    let mounting = Mounting::new(&one.frame, one.frame.sizes[0]);
    let held = Held { frame: &one.frame, outline: mounting.outlines.of(one.eye), eye: one.eye, made };
    card(&held, &study::lab_work_of_one(one, made).surfacing, &words::material(&one.lens))
}
