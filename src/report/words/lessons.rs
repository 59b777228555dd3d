//! Lessons in plain words: what helps here, by how much, why; and what does not.
//!
//! Differences are those of the figures on show, 0.1 mm and 0.1 g, so that a reader who subtracts finds the same.

use super::super::number::{difference, figure, grams, mm, size};
use super::likened::{cards, lighter, thinner};
use super::{list, option, place, quoted};
use crate::assess::Fit;
use crate::choose::{LensOption, Supply};
use crate::eye::Eyes;
use crate::frame::{Boxing, Frame};
use crate::keys;
use crate::material::Glass;
use crate::rx::Prescription;
use crate::study::compare::{Comparison, EQUAL_G, EQUAL_MM, Lead};
use crate::study::lessons::{Change, Lesson, SizeStep};

/// Less than this is shown as none, mm and g.
const SHOWN: f64 = 0.05;

/// A step in index that is a dearer material.
const STEP_OF_INDEX: f64 = 0.02;

/// One thing learned, in words.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Told {
    /// In a wearer's words.
    pub title: &'static str,
    /// The trade's word for it.
    pub trade: &'static str,
    /// What it changes here, for the wearer: a sentence or two without a term of the trade.
    pub plain: String,
    /// The same for the dispenser, with all that it was worked from: two or three sentences.
    pub text: String,
    /// Why, where that wants saying.
    pub reason: Option<String>,
}

/// What a comparison teaches, in words: one paragraph for each kind of lesson.
#[must_use]
pub fn lessons(comparison: &Comparison<'_>, lessons: &[Lesson<'_>]) -> Vec<Told> {
    let lead = comparison.lead;
    let mut told = Vec::new();
    let (mut sizes, mut nasal) = (Vec::new(), Vec::new());
    for lesson in lessons {
        match lesson {
            Lesson::EyeSize(step) => sizes.push(*step),
            Lesson::NasalEdge { step, wider_bridge } => nasal.push((*step, *wider_bridge)),
            _ => {}
        }
    }
    told.extend(smaller(comparison, &sizes));
    told.extend(nasal_edge(lead, &nasal));
    told.extend(lessons.iter().filter_map(|lesson| single(comparison, lesson)));
    told
}

fn told(title: &'static str, trade: &'static str, plain: String, text: String) -> Told {
    Told { title, trade, plain, text, reason: None }
}

/// Thickness saved, of the figures on show.
fn less_mm(change: &Change) -> f64 {
    difference(change.from_mm, change.to_mm, 1)
}

/// Mass saved, of the figures on show.
fn less_g(change: &Change) -> f64 {
    difference(change.from_g, change.to_g, 1)
}

/// What a change does, for the wearer: "makes the thickest edge 1.3 mm thinner (…) and the pair 2.0 g lighter (…)".
fn makes(lead: Lead, change: &Change) -> String {
    let (less_mm, less_g) = (less_mm(change), less_g(change));
    let thick = (less_mm.abs() >= SHOWN).then(|| thinner(lead, less_mm));
    let mass = (less_g.abs() >= SHOWN).then(|| lighter(less_g));
    let parts: Vec<String> = thick.into_iter().chain(mass).collect();
    if parts.is_empty() { "changes nothing that shows".to_owned() } else { format!("makes {}", list(&parts)) }
}

fn single(comparison: &Comparison<'_>, lesson: &Lesson<'_>) -> Option<Told> {
    let lead = comparison.lead;
    match lesson {
        Lesson::Alike { change } => Some(told(
            "Choose by fit and price",
            "a mild prescription",
            alike_plainly(lead, change),
            alike(lead, change),
        )),
        Lesson::Index { frame, boxing, options, glasses, change } => {
            let place = place(frame, boxing);
            let [from, to] = options.map(quoted);
            let plain = format!("In {place}, {to} in place of {from} {}.", makes(lead, change));
            let text = index(lead, &place, options, glasses, change);
            Some(told("A thinner material", "higher index", plain, text))
        }
        Lesson::Supply { frame, boxing, options, change } => Some(supply(lead, &place(frame, boxing), options, change)),
        Lesson::Centration { change, .. } if change.saved_mm().abs() < EQUAL_MM => None,
        Lesson::Centration { frame, boxing, option, in_mm, change } => {
            let plain = centration_plainly(lead, &place(frame, boxing), change);
            let text = centration(comparison, frame, boxing, option, in_mm, change);
            Some(told("Where the eyes sit in the lenses", "centration", plain, text))
        }
        Lesson::EyeSize(_) | Lesson::NasalEdge { .. } => None,
    }
}

fn supply(lead: Lead, place: &str, [stock, surfaced]: &[&LensOption; 2], change: &Change) -> Told {
    let plain = format!("In {place}, a lens made for the frame in place of one off the shelf {}.", makes(lead, change));
    let text = format!("In {place}, {} in place of {} {}.", option(surfaced), option(stock), takes(lead, change));
    let reason = (lead == Lead::Centre && change.saved_mm() > 0.0).then(|| {
        "A ready-made plus lens is as thick as its full round needs; made to order, it is only as thick as this frame needs."
            .to_owned()
    });
    Told { reason, ..told("Made to measure", "surfaced, not stock", plain, text) }
}

fn alike_plainly(lead: Lead, change: &Change) -> String {
    let less_mm = less_mm(change);
    format!(
        "These lenses are all alike to the eye: {} differs by {} at most, {}. Choose by how the frame fits, and by price.",
        super::lead(lead),
        at_least_shown(less_mm),
        cards(less_mm)
    )
}

fn centration_plainly(lead: Lead, place: &str, change: &Change) -> String {
    let (less_mm, what) = (less_mm(change), super::lead(lead));
    let word = if less_mm > 0.0 { "thicker" } else { "thinner" };
    format!(
        "In {place} the eyes do not look through the middle of the lenses. That makes {what} {} {word} ({}).",
        mm(less_mm.abs()),
        cards(less_mm.abs())
    )
}

/// What a change does: "takes 1.3 mm off the thickest edge, to 7.1 mm, and 4.1 g off the pair".
fn takes(lead: Lead, change: &Change) -> String {
    let what = super::lead(lead);
    let (saved_mm, saved_g) = (less_mm(change), less_g(change));
    let thickness = if saved_mm.abs() < SHOWN {
        format!("changes {what} by less than {}", mm(0.1))
    } else if saved_mm > 0.0 {
        format!("takes {} off {what}, to {},", mm(saved_mm), mm(change.to_mm))
    } else {
        format!("adds {} to {what}, to {},", mm(-saved_mm), mm(change.to_mm))
    };
    let mass = if saved_g.abs() < SHOWN {
        format!("the mass of the pair changes by less than {}", grams(0.1))
    } else if saved_g > 0.0 {
        format!("{} off the pair", grams(saved_g))
    } else {
        format!("adds {} to the pair", grams(-saved_g))
    };
    let verb = if saved_g >= SHOWN && saved_mm < SHOWN { "takes " } else { "" };
    format!("{thickness} and {verb}{mass}")
}

fn smaller(comparison: &Comparison<'_>, sizes: &[SizeStep<'_>]) -> Option<Told> {
    let first = sizes.first()?;
    let smaller = |plain, text| told("A smaller lens", "eye size", plain, text);
    let [large, small] = first.sizes.map(|boxing| size(boxing.eye_size_mm));
    let frame = &first.frame.name;
    if !first.change.is_notable() {
        let changes = takes(comparison.lead, &first.change);
        let plain = format!("{frame} {small} in place of {large} makes no difference that you could see or feel.");
        let text = format!(
            "{frame} at {small} in place of {large}, in {}, {changes}: too little to see or to feel.",
            option(first.option)
        );
        return Some(smaller(plain, text));
    }
    let advised = if first.change.saved_mm() > 0.0 { ", if its bridge fits your nose" } else { "" };
    let mut sentences = vec![format!(
        "{frame} at {small} in place of {large}, in {}, {}{advised}.",
        option(first.option),
        takes(comparison.lead, &first.change)
    )];
    let plain = format!("{frame} {small} in place of {large} {}{advised}.", makes(comparison.lead, &first.change));
    sentences.extend(likewise(&sizes[1..]));
    sentences.extend(beats_index(comparison, sizes));
    Some(Told { reason: Some(reason(comparison.lead, first)), ..smaller(plain, sentences.join(" ")) })
}

/// The other frames, shortly.
fn likewise(sizes: &[SizeStep<'_>]) -> Option<String> {
    let parts: Vec<String> = sizes
        .iter()
        .filter(|one| one.change.saved_mm() >= EQUAL_MM)
        .map(|one| {
            let [large, small] = one.sizes.map(|boxing| size(boxing.eye_size_mm));
            format!("{} {large} to {small} {}", one.frame.name, mm(less_mm(&one.change)))
        })
        .collect();
    (!parts.is_empty()).then(|| format!("In the other frames, likewise: {}.", parts.join(", ")))
}

/// Where the smaller size in a plainer material is thinner than the larger size in a dearer one: of all frames the case
/// with the widest step in index.
fn beats_index(comparison: &Comparison<'_>, sizes: &[SizeStep<'_>]) -> Option<String> {
    let line = comparison.job.prescription.reference_line;
    let index = |fit: &Fit<'_>| fit.option.substance.glass(line).index;
    let cases = sizes.iter().flat_map(|one| {
        let [large, small] = one.sizes.map(|boxing| values(comparison, one.frame, boxing));
        small.into_iter().flat_map(move |plain| large.clone().into_iter().map(move |dear| (plain, dear)))
    });
    let (plain, dear) = cases
        .filter(|(plain, dear)| plain.0.option.supply == dear.0.option.supply)
        .filter(|(plain, dear)| index(plain.0) < index(dear.0) - STEP_OF_INDEX && plain.1 < dear.1 - EQUAL_MM)
        .max_by(|a, b| (index(a.1.0) - index(a.0.0)).total_cmp(&(index(b.1.0) - index(b.0.0))))?;
    Some(format!(
        "{} at {} in {} comes to {}, less than at {} in {}, {}.",
        plain.0.mounting.frame.name,
        size(plain.0.mounting.boxing.eye_size_mm),
        option(plain.0.option),
        mm(plain.1),
        size(dear.0.mounting.boxing.eye_size_mm),
        option(dear.0.option),
        mm(dear.1),
    ))
}

/// The fits of a frame at a size, with their leading thickness.
fn values<'c, 'a>(comparison: &'c Comparison<'a>, frame: &Frame, boxing: Boxing) -> Vec<(&'c Fit<'a>, f64)> {
    comparison
        .offered()
        .map(|(_, fit)| fit)
        .filter(|fit| std::ptr::eq(fit.mounting.frame, frame) && fit.mounting.boxing == boxing)
        .filter_map(|fit| Some((fit, comparison.lead.of(fit.pair()?)?)))
        .collect()
}

fn reason(lead: Lead, first: &SizeStep<'_>) -> String {
    let [large, small] = first.sizes;
    let [at_large, at_small] = first.reach;
    if lead == Lead::Centre && first.option.supply == Supply::Stock {
        return "The middle of a ready-made lens stays as it is, however small it is cut.".to_owned();
    }
    let law = "The reason is the reach: every 2\u{202f}mm of eye size take 2\u{202f}mm from the temporal side, one from \
               half the width and one from the decentration, and none from the nasal side.";
    let temporal = format!(
        "Here the {} lens reaches {} toward the temple at {} and {} at {}",
        first.eye.word(),
        mm(at_large.temporal_mm),
        size(large.eye_size_mm),
        mm(at_small.temporal_mm),
        size(small.eye_size_mm),
    );
    let nasal = if large.bridge_mm == small.bridge_mm {
        format!("and {} toward the nose at both.", mm(at_large.nasal_mm))
    } else {
        format!(
            "; toward the nose {} and {}, because the bridge is {} and {}.",
            mm(at_large.nasal_mm),
            mm(at_small.nasal_mm),
            size(large.bridge_mm),
            with_unit_of_size(small.bridge_mm)
        )
    };
    let join = if nasal.starts_with(';') { "" } else { ", " };
    let plus = match lead {
        Lead::Edge => "",
        Lead::Centre => " The middle need not be so thick for the edge out there to keep its minimum.",
    };
    format!("{law} {temporal}{join}{nasal}{plus}")
}

fn nasal_edge(lead: Lead, lessons: &[(SizeStep<'_>, Option<(f64, Change)>)]) -> Option<Told> {
    let (SizeStep { frame, option: thin, sizes, change, eye: thickest, reach }, wider_bridge) = lessons.first()?;
    let [large, small] = sizes;
    let same = if large.bridge_mm == small.bridge_mm { " at every size" } else { "" };
    let mut sentences = vec![format!(
        "A smaller eye size does not make {} thinner: its thickest edge is on the nose side of the {} lens, set by pd \
         and bridge (nasal reach {}{same}).",
        frame.name,
        thickest.word(),
        mm(reach[0].nasal_mm)
    )];
    if change.saved_g() >= EQUAL_G {
        sentences.push(format!(
            "At {} in place of {}, in {}, it takes {} off the pair all the same.",
            size(small.eye_size_mm),
            size(large.eye_size_mm),
            option(thin),
            grams(less_g(change))
        ));
    }
    if let Some((bridge_mm, change)) = wider_bridge {
        sentences.push(format!(
            "What helps is a wider bridge, if it fits your nose, or a higher index: at eye size {2} a bridge of {0} in \
             place of {1} {3}.",
            size(*bridge_mm),
            size(small.bridge_mm),
            size(small.eye_size_mm),
            takes(lead, change)
        ));
    }
    let others: Vec<String> = lessons.iter().skip(1).map(|(step, _)| step.frame.name.clone()).collect();
    if !others.is_empty() {
        sentences.push(format!("The same holds for {}.", list(&others)));
    }
    let plain = "A smaller lens is no thinner here, for its thickest edge lies beside the nose. A wider bridge makes it thinner, \
                 if it fits your nose, and so does a thinner material.";
    Some(told("The edge at the nose", "nasal reach", plain.to_owned(), sentences.join(" ")))
}

fn alike(lead: Lead, change: &Change) -> String {
    let what = super::lead(lead);
    let mass = if change.saved_g() < EQUAL_G {
        "and the mass hardly at all".to_owned()
    } else {
        format!("and the pair is between {} and {}", grams(change.to_g), grams(change.from_g))
    };
    format!(
        "This prescription is mild: from one option to another {what} changes by {} at most, too little to see, {mass}. \
         No eye size and no index makes a visible difference; fit, strength and price may decide.",
        at_least_shown(less_mm(change))
    )
}

fn at_least_shown(value_mm: f64) -> String {
    if value_mm < SHOWN { format!("less than {}", mm(0.1)) } else { mm(value_mm) }
}

fn index(lead: Lead, place: &str, options: &[&LensOption; 2], glasses: &[Glass; 2], change: &Change) -> String {
    let [from, to] = options;
    let mut sentences =
        vec![format!("In {place}, {} in place of {} {}.", option(to), option(from), takes(lead, change))];
    if change.saved_mm() < EQUAL_MM {
        sentences.push("That is too little to see.".to_owned());
    }
    let [before, after] = glasses;
    if less_g(change) < -SHOWN && after.density > before.density {
        sentences.push(format!(
            "It is the denser material: {} against {}\u{202f}g/cm³.",
            figure(after.density, 2),
            figure(before.density, 2)
        ));
    }
    if after.abbe < before.abbe - 0.5 {
        sentences.push(format!(
            "Its Abbe number is {} against {}: more colour fringes toward the edge of the lens.",
            figure(after.abbe, 0),
            figure(before.abbe, 0)
        ));
    }
    sentences.join(" ")
}

fn centration(
    comparison: &Comparison<'_>,
    frame: &Frame,
    boxing: &Boxing,
    thin: &LensOption,
    in_mm: &Eyes<f64>,
    change: &Change,
) -> String {
    let side = |value: f64| if value < 0.0 { "nearer the temple" } else { "nearer the nose" };
    let (right, left) = (in_mm.right, in_mm.left);
    let off = if (right < 0.0) == (left < 0.0) {
        let (right_mm, left_mm) = (mm(right.abs()), mm(left.abs()));
        let far = if right_mm == left_mm { right_mm } else { format!("{right_mm} (right) and {left_mm} (left)") };
        format!("{far} {}", side(right))
    } else {
        format!("{} {} (right) and {} {} (left)", mm(right.abs()), side(right), mm(left.abs()), side(left))
    };
    let what = super::lead(comparison.lead);
    let (less_mm, less_g) = (less_mm(change), less_g(change));
    let cost = match (less_mm > 0.0, less_g >= SHOWN) {
        (true, true) => format!("costs {} at {what} and {}", mm(less_mm), grams(less_g)),
        (true, false) => format!("costs {} at {what}", mm(less_mm)),
        (false, _) => format!("saves {} at {what}", mm(-less_mm)),
    };
    let mend = middle(&comparison.job.prescription, boxing, right, left);
    format!(
        "In {} with {} the pupils lie {off} than the middle of the lenses, which {cost}. {mend}",
        place(frame, boxing),
        option(thin)
    )
}

fn with_unit_of_size(value_mm: f64) -> String {
    format!("{}\u{202f}mm", size(value_mm))
}

/// What would put the pupils in the middle, where that makes a lens thinner: a larger eye size only adds on the far side.
fn middle(prescription: &Prescription, boxing: &Boxing, right: f64, left: f64) -> String {
    if right <= 0.0 || left <= 0.0 {
        return "A larger eye size would bring the middle nearer and take nothing off: only a wider bridge does."
            .to_owned();
    }
    let eyes = &prescription.eyes;
    let sizes = [eyes.right.pd_mm, eyes.left.pd_mm].map(|pd| 2.0 * pd - boxing.bridge_mm);
    let [least, most] = keys::EYE_SIZES.usual.unwrap_or([f64::NEG_INFINITY, f64::INFINITY]);
    if sizes.iter().any(|size| !(least..=most).contains(size)) {
        return "No usual eye size on this bridge would put them in the middle.".to_owned();
    }
    let [right, left] = sizes.map(size);
    let sizes = if right == left { right } else { format!("{right} (right) and {left} (left)") };
    format!("On this bridge an eye size of {sizes} would put them in the middle: 2 × pd − bridge.")
}
