//! Choices and their reasons: the base curve, the thickness.

use super::super::number::{base_curve, mm};
use crate::assess::Made;
use crate::choose::LensOption;
use crate::choose::Supply;
use crate::choose::base::{self, Base, ChosenBy, VOGEL_RANGE_D};
use crate::choose::centre::SetBy;
use crate::choose::minimum::Minima;
use crate::eye::Eyes;
use crate::rx::Prescription;

/// Bases nearer than this are the same, D.
const SAME_D: f64 = 0.005;

/// Where a base curve comes from: a clause.
#[must_use]
pub fn base(base: &Base) -> String {
    let curve = base_curve(base.base_curve_d);
    match base.chosen_by {
        ChosenBy::Job => format!("base {curve}, as the job asks"),
        ChosenBy::Stock => format!("base {curve}, as the ready-made lens has it"),
        ChosenBy::Vogel => {
            let wish = wished(base.wanted_d);
            let whose = if base.shared { ", one for both eyes" } else { "" };
            if (base.wanted_d - base.base_curve_d).abs() < SAME_D {
                format!("base {curve}, as Vogel’s rule has it{whose}")
            } else {
                format!("base {curve}, the nearest listed to the {wish} of Vogel’s rule{whose}")
            }
        }
    }
}

/// Where the base curves of a pair come from: a sentence, or one for each eye.
#[must_use]
pub fn bases_of_pair(bases: &Eyes<Base>) -> String {
    let Eyes { right, left } = bases;
    let alike =
        right.chosen_by == left.chosen_by && right.base_curve_d == left.base_curve_d && right.wanted_d == left.wanted_d;
    if alike {
        super::both(base(if left.shared { left } else { right }), String::new())
    } else {
        super::both(base(right), base(left))
    }
}

/// Why the options have the base curves that they have: a sentence for each reason, said once.
#[must_use]
pub fn bases(options: &[LensOption], prescription: &Prescription) -> Vec<String> {
    let powers = prescription.eyes.map(|rx| rx.power);
    let mut said: Vec<String> = Vec::new();
    for option in options {
        let bases = base::pair(option, &powers);
        let sentence = match (bases.right, bases.left) {
            (Some(right), Some(left)) if by_rule(&right) && by_rule(&left) => rule(&right, &left),
            _ => continue,
        };
        if !said.contains(&sentence) {
            said.push(sentence);
        }
    }
    said
}

fn by_rule(base: &Base) -> bool {
    base.chosen_by == ChosenBy::Vogel
}

fn rule(right: &Base, left: &Base) -> String {
    let wish = if right.wanted_d == left.wanted_d {
        let whose = if right.shared || left.shared { ", one for both eyes" } else { "" };
        format!("{}{whose}", wished(right.wanted_d))
    } else {
        format!("{} for the right eye and {} for the left", wished(right.wanted_d), wished(left.wanted_d))
    };
    format!(
        "Base curves left open were chosen: Vogel’s rule asks for {wish}, and the nearest that the material comes in was \
         taken; a ready-made lens has its own."
    )
}

/// What the rule asks for, and whether it was held.
fn wished(wanted_d: f64) -> String {
    let (least, most) = VOGEL_RANGE_D;
    match wanted_d {
        held if held <= least || held >= most => format!("{} (held there)", base_curve(held)),
        free => base_curve(free),
    }
}

/// Which demand set the thickness: a clause.
#[must_use]
pub fn thickness(made: &Made, option: &LensOption) -> String {
    let set_by = made.thickness.set_by;
    if option.supply == Supply::Stock {
        let what = if set_by == SetBy::Edge { "edge" } else { "centre" };
        return format!("the thickness is that of the ready-made lens, set by its listed {what}");
    }
    let (what, minimum_mm, given) = minimum(set_by, &made.minima);
    let whose = if given { "asked for in the job" } else { "usual for the material and the rim" };
    format!("the thickness is set by the minimum of {} {what}, {whose}", mm(minimum_mm))
}

fn minimum(set_by: SetBy, minima: &Minima) -> (&'static str, f64, bool) {
    match set_by {
        SetBy::Centre => ("at the centre", minima.kept.centre_mm, minima.centre_given),
        SetBy::LowestPoint => ("at the thinnest place inside", minima.kept.centre_mm, minima.centre_given),
        SetBy::Edge => ("at the edge", minima.kept.edge_mm, minima.edge_given),
    }
}
