//! What the workshop is told of one lens: what it is cut from, how far it is cribbed, tools and prism.

use super::super::number::{figure, mm, with_unit};
use crate::assess::{Crib, CutsFrom, Made, Surfacing, Tools};
use crate::eye::Eye;
use crate::rx::Prism;

/// What is less prints as nought: dioptres and prism dioptres.
const TOLD_D: f64 = 0.0005;
const TOLD_PD: f64 = 0.005;

/// What a lens can be cut from, in a sentence. `centred`: it has no prescribed prism, which no finished uncut has.
#[must_use]
pub fn cuts_from(cuts: &CutsFrom, centred: bool) -> String {
    let CutsFrom { surfaced_mm, decentred_mm, stock_mm, listed } = cuts;
    if !listed {
        return "No blanks are listed of its material.".to_owned();
    }
    let ready = match (stock_mm.is_empty(), centred) {
        (false, _) => format!("As a finished lens it cuts from {}; surfaced", sizes(stock_mm)),
        (true, true) => "No finished lens that is listed serves: it needs surfacing".to_owned(),
        (true, false) => "No finished lens has its prism: it needs surfacing".to_owned(),
    };
    match (surfaced_mm.is_empty(), decentred_mm) {
        (false, _) => format!("{ready}, from {}.", sizes(surfaced_mm)),
        (true, Some(diameter)) => {
            format!("{ready}, from {} with the reference point off the blank’s middle.", with_unit(*diameter, 0, "mm"))
        }
        (true, None) if stock_mm.is_empty() => format!("{ready}."),
        (true, None) => format!("As a finished lens it cuts from {}.", sizes(stock_mm)),
    }
}

/// "65, 70 or 75 mm".
fn sizes(diameters_mm: &[f64]) -> String {
    let texts: Vec<String> = diameters_mm.iter().map(|diameter| figure(*diameter, 0)).collect();
    let listed = match texts.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    };
    format!("{listed}\u{202f}mm")
}

/// Everything that is to be said of surfacing, a sentence or two each.
#[must_use]
pub fn workshop(made: &Made, eye: Eye, work: &Surfacing) -> Vec<String> {
    let mut said = vec![cuts_from(&work.cuts_from, made.recipe.prism.is_none())];
    said.extend(work.crib.map(crib));
    said.extend(work.tools.map(tools));
    said.extend(work.prism.and_then(|prism| to_grind(made, eye, prism)));
    said
}

/// How far the uncut is cribbed.
fn crib(crib: Crib) -> String {
    let diameter = mm(crib.diameter_mm);
    if crib.holds {
        format!("Beyond {diameter} the uncut’s edge is under 0.5\u{202f}mm: crib it to that or less.")
    } else {
        format!(
            "Beyond {diameter} the uncut’s edge is under 0.5\u{202f}mm and the shape wants more: crib it to an oval, or order \
             a thicker edge."
        )
    }
}

fn tools(tools: Tools) -> String {
    let Tools { along, across, sphere_error_d, cylinder_error_d } = tools;
    let off = |value: f64| if value > 0.0 { format!("+{}", figure(value, 3)) } else { figure(value, 3) };
    let exact = sphere_error_d.abs() < TOLD_D && cylinder_error_d.abs() < TOLD_D;
    if along == across {
        let tool = with_unit(along.tool_d, 3, "D");
        return if exact {
            format!("Tool {tool}: it gives the power exactly.")
        } else {
            format!("Tool {tool}: with it the sphere comes out {}\u{202f}D off.", off(sphere_error_d))
        };
    }
    let tools =
        format!("{} along the axis and {} across it", figure(along.tool_d, 3), with_unit(across.tool_d, 3, "D"));
    if exact {
        format!("Tools {tools}: they give the power exactly.")
    } else {
        format!(
            "Tools {tools}: with them the sphere comes out {} and the cylinder {}\u{202f}D off.",
            off(sphere_error_d),
            off(cylinder_error_d)
        )
    }
}

fn to_grind(made: &Made, eye: Eye, prism: Prism) -> Option<String> {
    if prism.amount_pd() < TOLD_PD {
        return None;
    }
    let written = super::prism(prism, eye)?;
    let why = match (made.blank.decentred, made.recipe.prism.is_none()) {
        (false, _) => "as prescribed",
        (true, true) => "for the reference point off the blank’s middle",
        (true, false) => "the prescribed one, and that of the reference point off the blank’s middle",
    };
    Some(format!("Prism to grind: {written}, {why}."))
}
