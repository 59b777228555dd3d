//! Sentences from data: for the terminal, the page and the `text` of the JSON alike.
//!
//! Units: written out behind every number. UK words; a sentence ends in a full stop.

mod address;
mod answer;
mod choosing;
mod corner;
mod explain;
mod impossible;
mod lessons;
mod likened;
mod limit;
mod mend;
mod reasons;
mod rx;
mod sure;
pub mod sweep;
mod why;
mod workshop;

pub use address::address_fault;
pub use answer::{MUCH_G, NEARLY_MM, answer, because, choice, named, whose};
pub use choosing::{Choosing, Left, choosing};
pub use corner::corner;
pub use explain::{
    EXPLAIN_METHOD, explain_answer, explain_by_hand, explain_lead, explain_marked, explain_off, explain_row,
    explain_section, explain_subject,
};
pub use impossible::{impossible, pair_impossible};
pub use lessons::{Told, lessons};
pub use likened::likened;
pub use limit::{
    answer as limit_answer, index as limit_index, largest_size as limit_largest_size, legend as limit_legend,
    lowest_index as limit_lowest_index, material as limit_material, materials as limit_materials, pd as limit_pd,
    reason as limit_reason, size_reason as limit_size_reason, sphere as limit_sphere,
    strongest_sphere as limit_strongest_sphere, sure_of as limit_sure_of, tipping_pd as limit_tipping_pd, wish,
    wish_figure,
};
pub use mend::mends;
pub use reasons::{base, bases, bases_of_pair, thickness};
pub use rx::{pd, power, prism};
pub use sure::{SURE_METHOD, changes as sure_changes, of_doubt, promise, sure, wishes};
pub use why::{
    METHOD as SHARES_METHOD, SUPPLY as SHARES_SUPPLY, address, answer as why_answer, bar_length, cause,
    causes_by_share, leading as why_leading, no_figure, option_of, share_of, shared, signed, together, unshared,
    values,
};
pub use workshop::{cuts_from, workshop};

use super::number::{THIN, apart, figure, size};
use crate::advice::{Caution, Severity, Shown};
use crate::assess::Fit;
use crate::choose::{LensOption, Substance, Supply};
use crate::eye::Eye;
use crate::frame::{Boxing, Frame};
use crate::measure::EdgePoint;
use crate::outline::Form;
use crate::rim::Rim;
use crate::study::compare::Lead;

/// What no figure here says.
pub const SAFETY: &str = "Calculated, not measured. Driving, safety eyewear, children and tints: local law and standards \
                          and licensed practice decide, not these figures.";

/// Wherever a smaller eye size is found to help.
pub const NOSE: &str = "A smaller eye size serves only if its bridge fits your nose.";

/// The same with a capital first letter.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect()
}

/// "Right eye".
#[must_use]
pub fn eye(eye: Eye) -> &'static str {
    match eye {
        Eye::Right => "Right eye",
        Eye::Left => "Left eye",
    }
}

/// The word used in JSON.
#[must_use]
pub fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "note",
        Severity::Caution => "caution",
        Severity::Warning => "warning",
    }
}

/// A caution of a fit, with the eye that it is about and what would help.
#[must_use]
pub fn caution(caution: &Caution) -> String {
    let text = format!("{} {}", filled(caution, caution.rule.dispenser), filled(caution, caution.rule.mend));
    match caution.eye {
        Some(one) => format!("{}: {}", eye(one), uncapital(&text)),
        None => text,
    }
}

/// The same for the wearer.
#[must_use]
pub fn caution_for_wearer(caution: &Caution) -> String {
    filled(caution, caution.rule.wearer)
}

fn filled(caution: &Caution, text: &str) -> String {
    let found = caution.found;
    let [value, limit] = match caution.rule.shown {
        Shown::Apart => apart(found.value, found.limit),
        Shown::Decimals(decimals) => [figure(found.value, decimals), figure(found.limit, decimals)],
    };
    // What stands behind a number and a space is its unit.
    let place = caution.at_deg.map_or(String::new(), toward);
    let text = text.replace("{where}", &place);
    [("{value}", value), ("{limit}", limit)].into_iter().fold(text, |text, (name, number)| {
        text.replace(&format!("{name} "), &format!("{number}{THIN}")).replace(name, &number)
    })
}

pub(super) fn uncapital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().into_iter().flat_map(char::to_lowercase).chain(letters).collect()
}

/// "at 135°": a direction from the boxed centre.
#[must_use]
pub fn toward(deg: f64) -> String {
    // What rounds to a whole turn is where it began.
    format!("at {}°", figure(deg.round() % 360.0, 0))
}

/// Where on a lens an edge point lies: "toward the temple, above".
#[must_use]
pub fn edge_side(eye: Eye, point: &EdgePoint) -> String {
    let (toward_nose, up) = (point.point.x * eye.nasal_sign(), point.point.y);
    let across = if toward_nose > 0.0 { "toward the nose" } else { "toward the temple" };
    let along = if up > 0.0 { "above" } else { "below" };
    let share = toward_nose.abs().atan2(up.abs()).to_degrees();
    // Within a sixth of a right angle of an axis the other direction is not worth a word.
    match share {
        share if share > 75.0 => across.to_owned(),
        share if share < 15.0 => along.to_owned(),
        _ => format!("{across}, {along}"),
    }
}

/// "Yarrow 46".
#[must_use]
pub fn place(frame: &Frame, boxing: &Boxing) -> String {
    format!("{} {}", frame.name, size(boxing.eye_size_mm))
}

/// "Yarrow 46 with “thin”".
#[must_use]
pub fn fit(fit: &Fit<'_>) -> String {
    format!("{} with {}", place(fit.mounting.frame, &fit.mounting.boxing), quoted(fit.option))
}

/// What an option is made of, within a sentence: "1.60 resin", "polycarbonate".
#[must_use]
pub fn material(option: &LensOption) -> String {
    match &option.substance {
        Substance::Listed(material) => uncapital(&material.name),
        Substance::Inline(glass) => format!("index {}", figure(glass.index, 3)),
    }
}

/// The same standing alone: "Polycarbonate".
#[must_use]
pub fn substance(option: &LensOption) -> String {
    match &option.substance {
        Substance::Listed(material) => material.name.clone(),
        Substance::Inline(_) => "given by its numbers".to_owned(),
    }
}

/// "“thin” (1.60 resin)".
#[must_use]
pub fn option(option: &LensOption) -> String {
    format!("{} ({})", quoted(option), material(option))
}

/// "“thin”".
#[must_use]
pub fn quoted(option: &LensOption) -> String {
    format!("“{}”", option.name)
}

/// How a lens is made.
#[must_use]
pub fn supply(supply: Supply) -> &'static str {
    match supply {
        Supply::Surfaced => "to order",
        Supply::Stock => "ready-made",
    }
}

/// "oval shape", "measured outline".
#[must_use]
pub fn lens_shape(form: &Form) -> String {
    match form {
        Form::Built(shape) => format!("{} shape", shape.word()),
        Form::Measured(_) => form.word().to_owned(),
    }
}

/// How a frame holds its lenses.
#[must_use]
pub fn rim(rim: Rim) -> &'static str {
    match rim {
        Rim::Metal => "metal rim",
        Rim::Plastic => "plastic rim",
        Rim::Supra => "supra (semi-rimless, nylon cord below)",
        Rim::ReverseSupra => "reverse supra (rim below)",
        Rim::Rimless => "rimless, drilled",
    }
}

/// What leads, in words: "the thickest edge".
#[must_use]
pub fn lead(lead: Lead) -> &'static str {
    match lead {
        Lead::Edge => "the thickest edge",
        Lead::Centre => "the centre",
    }
}

/// The same without an article: "thickest edge".
#[must_use]
pub fn lead_name(lead: Lead) -> &'static str {
    match lead {
        Lead::Edge => "thickest edge",
        Lead::Centre => "centre",
    }
}

/// A clause for each eye as a sentence: said once where the left one is the same, or empty.
#[must_use]
pub fn both(right: String, left: String) -> String {
    if left.is_empty() || right == left {
        format!("{}.", capital(&right))
    } else {
        format!("Right: {right}. Left: {left}.")
    }
}

/// "a, b and c".
#[must_use]
pub fn list(parts: &[String]) -> String {
    match parts.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}
