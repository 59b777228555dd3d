//! How sure a promise is, in words: give or take, and what each doubt would change.

use super::super::number::{self, mm, size};
use super::{list, signed};
use crate::frame::Frame;
use crate::study::compare::Lead;
use crate::study::saving::Saving;
use crate::study::sure::{CENTRE_MM, Doubt, PD_MM, Spread, Sure};

/// How doubts are put together.
pub const SURE_METHOD: &str = "Each doubt is worked by itself, both ways where it has two, on the full geometry; together: \
                               the root of the sum of their squares, as doubts that have nothing to do with each other.";

/// How sure edge and mass are: "6.0 mm, give or take 0.4 mm: …".
#[must_use]
pub fn sure(sure: &Sure) -> String {
    format!(
        "{}, give or take {}; {}. {}",
        mm(sure.edge_max_mm),
        mm(sure.give_or_take_mm()),
        mass(sure),
        changes(sure, Lead::Edge)
    )
}

fn mass(sure: &Sure) -> String {
    format!("{} the pair, give or take {}", number::grams(sure.mass_g), number::grams(sure.give_or_take_g()))
}

/// "The edge changes by −0.4 to +0.4 mm with 1 mm of either pd, … ."
#[must_use]
pub fn changes(sure: &Sure, lead: Lead) -> String {
    let part = |spread: &Spread| Some(doubt(spread.doubt, spread.of(lead)?));
    let parts: Vec<String> = sure.spreads.iter().filter_map(part).collect();
    let what = match lead {
        Lead::Edge => "edge",
        Lead::Centre => "centre",
    };
    format!("The {what} changes by {}.", list(&parts))
}

/// How sure the option is that a comparison comes to, and what it saves: sentences. `than` is what it is compared with.
#[must_use]
pub fn promise(sure: &Sure, lead: Lead, saving: Option<(&Saving, &str)>) -> Option<String> {
    let (leading_mm, give_or_take_mm) = sure.leading(lead)?;
    let head = format!("{}, give or take {}; {}.", mm(leading_mm), mm(give_or_take_mm), mass(sure));
    let saved = saving.map_or(String::new(), |(saving, than)| {
        let (much, more) =
            if saving.saved_mm < 0.0 { (-saving.saved_mm, "thicker") } else { (saving.saved_mm, "thinner") };
        format!(" It is {} {more} than {than}, give or take {}.", mm(much), mm(saving.give_or_take_mm))
    });
    Some(format!("{head}{saved}"))
}

/// What the largest eye sizes for several wishes say.
#[must_use]
pub fn wishes(frame: &Frame, lead: Lead) -> String {
    let bridge =
        frame.sizes.first().map_or(String::new(), |boxing| format!(" of {}\u{202f}mm", size(boxing.bridge_mm)));
    format!(
        "If {} of {} shall not pass a certain figure, how large may its lenses be? In its own proportions, on its bridge{bridge}:",
        super::lead(lead),
        frame.name
    )
}

fn doubt(doubt: Doubt, change_mm: [f64; 2]) -> String {
    format!("{}\u{202f}mm with {}", change(change_mm), of_doubt(doubt))
}

/// "−0.4 to +0.4", "+0.3" or "0.0".
fn change(change_mm: [f64; 2]) -> String {
    let [low, high] = change_mm.map(signed);
    match change_mm {
        [0.0, _] => high,
        [_, 0.0] => low,
        _ if low == high => high,
        _ => format!("{low} to {high}"),
    }
}

/// What comes out otherwise: "1 mm of either pd".
#[must_use]
pub fn of_doubt(doubt: Doubt) -> String {
    match doubt {
        Doubt::Pd => format!("{}\u{202f}mm of either pd", size(PD_MM)),
        Doubt::Base => "one step of the base curve".to_owned(),
        Doubt::Centre => format!("{} more at the centre", mm(CENTRE_MM)),
    }
}
