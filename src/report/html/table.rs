//! The table of all options, and its notes.
//!
//! Units: in the heads of the columns.

use super::super::notes::{Notes, WORST};
use super::super::number::{grams, mm, size};
use super::super::{findings, words};
use super::one_decimal;
use crate::assess::{Fit, Pair};
use crate::eye::Eye;
use crate::finding::Finding;
use crate::study::compare::{Comparison, EQUAL_G, EQUAL_MM, Lead};
use maud::{Markup, html};

/// Heights of the letters' body for a millimetre of the bars: with the letters they shrink on paper.
const BAR_EM_PER_MM: f64 = 0.56;

/// The section.
pub(super) fn section(comparison: &Comparison<'_>, notes: &Notes, findings: &[Finding]) -> Markup {
    html! {
        section aria-labelledby="all" {
            h2 #all { "All options side by side" }
            div.scroller tabindex="0" role="group" aria-labelledby="all" { (table(comparison, notes)) }
            p.small { (legend(comparison)) }
            (notes_list(comparison, notes, findings))
        }
    }
}

/// The two thicknesses in the order in which they are noticed.
#[derive(Clone, Copy)]
enum Thick {
    Edge,
    Centre,
}

impl Thick {
    fn order(lead: Lead) -> [Thick; 2] {
        match lead {
            Lead::Edge => [Thick::Edge, Thick::Centre],
            Lead::Centre => [Thick::Centre, Thick::Edge],
        }
    }

    fn name(self) -> &'static str {
        match self {
            Thick::Edge => "Thickest edge,\u{a0}mm",
            Thick::Centre => "Centre,\u{a0}mm",
        }
    }

    fn leads(self, lead: Lead) -> bool {
        matches!((self, lead), (Thick::Edge, Lead::Edge) | (Thick::Centre, Lead::Centre))
    }

    fn of(self, pair: &Pair, eye: Eye) -> Option<f64> {
        let thickness = &pair.eyes.of(eye).thickness;
        match self {
            Thick::Edge => Some(thickness.edges.max.thickness_mm),
            Thick::Centre => thickness.centre_mm,
        }
    }
}

fn knows_frame_mass(comparison: &Comparison<'_>) -> bool {
    comparison.fits.iter().filter_map(Fit::pair).any(|pair| pair.with_frame_g().is_some())
}

fn table(comparison: &Comparison<'_>, notes: &Notes) -> Markup {
    let thick = Thick::order(comparison.lead);
    let (bulge, with_frame) = (comparison.lead == Lead::Centre, knows_frame_mass(comparison));
    html! {
        table.options {
            caption { "Every frame and eye size with every lens, right and left eye" }
            thead {
                tr {
                    th.words rowspan="2" scope="col" { "Frame" }
                    th rowspan="2" scope="col" { "Eye size,\u{a0}mm" }
                    th.words rowspan="2" scope="col" { "Lens" }
                    th colspan="2" scope="colgroup" { (thick[0].name()) }
                    th.bar rowspan="2" { span.hidden { "Larger of the two, as a bar" } }
                    th rowspan="2" scope="col" { "Pair,\u{a0}g" }
                    @if with_frame { th rowspan="2" scope="col" { "With frame,\u{a0}g" } }
                    th colspan="2" scope="colgroup" { (thick[1].name()) }
                    @if bulge { th rowspan="2" scope="col" { "Bulge,\u{a0}mm" } }
                    @if !notes.notes.is_empty() { th rowspan="2" scope="col" { "Note" } }
                }
                tr { @for _ in thick { @for eye in Eye::BOTH { th scope="col" { (eye.letter()) } } } }
            }
            @for group in groups(comparison) { (rows(comparison, notes, &group, thick, bulge, with_frame)) }
        }
    }
}

/// The fits of one frame at one size.
struct Group {
    first: usize,
    count: usize,
    /// Is the frame another one than before?
    new_frame: bool,
}

fn groups(comparison: &Comparison<'_>) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (i, fit) in comparison.fits.iter().enumerate() {
        let before = i.checked_sub(1).and_then(|before| comparison.fits.get(before));
        let same_frame = before.is_some_and(|before| std::ptr::eq(before.mounting.frame, fit.mounting.frame));
        let same = same_frame && before.is_some_and(|before| before.mounting.boxing == fit.mounting.boxing);
        match groups.last_mut() {
            Some(group) if same => group.count += 1,
            _ => groups.push(Group { first: i, count: 1, new_frame: !same_frame }),
        }
    }
    groups
}

fn rows(
    comparison: &Comparison<'_>,
    notes: &Notes,
    group: &Group,
    thick: [Thick; 2],
    bulge: bool,
    with_frame: bool,
) -> Markup {
    html! {
        tbody.starts[group.new_frame] {
            @for index in group.first..group.first + group.count {
                @let fit = &comparison.fits[index];
                @let pair = fit.pair();
                tr.now[comparison.is_now(index)] {
                    @if index == group.first {
                        th.words rowspan=(group.count) scope="rowgroup" { (frame_name(comparison, group, fit)) }
                        td.size rowspan=(group.count) { (size(fit.mounting.boxing.eye_size_mm)) }
                    }
                    th.words scope="row" { a href={ "#fit" (index) } { (lens_name(comparison, index, fit)) } }
                    @for eye in Eye::BOTH { (thickness(comparison, index, pair, thick[0], eye)) }
                    td.bar { (bar(pair.and_then(|pair| comparison.lead.of(pair)))) }
                    (best_cell(one_decimal(pair.map(Pair::mass_g)), comparison.is_lightest(index), "lightest"))
                    @if with_frame { td { (one_decimal(pair.and_then(Pair::with_frame_g))) } }
                    @for eye in Eye::BOTH { (thickness(comparison, index, pair, thick[1], eye)) }
                    @if bulge { td { (one_decimal(pair.map(|p| p.eyes.right.bulge_mm.max(p.eyes.left.bulge_mm)))) } }
                    @if !notes.notes.is_empty() { td.notes { (marks(notes, index)) } }
                }
            }
        }
    }
}

fn frame_name(comparison: &Comparison<'_>, group: &Group, fit: &Fit<'_>) -> Markup {
    let name = if comparison.is_now(group.first) { "Worn now" } else { fit.mounting.frame.name.as_str() };
    html! { @if group.new_frame { (name) } @else { span.hidden { (name) } } }
}

fn lens_name<'f>(comparison: &Comparison<'_>, index: usize, fit: &'f Fit<'_>) -> std::borrow::Cow<'f, str> {
    if comparison.is_now(index) { words::substance(fit.option).into() } else { fit.option.name.as_str().into() }
}

fn thickness(comparison: &Comparison<'_>, index: usize, pair: Option<&Pair>, thick: Thick, eye: Eye) -> Markup {
    let value = pair.and_then(|pair| thick.of(pair, eye));
    let lead = pair.and_then(|pair| comparison.lead.of(pair));
    let best = thick.leads(comparison.lead) && comparison.is_thinnest(index) && value.is_some() && value == lead;
    best_cell(one_decimal(value), best, "thinnest")
}

fn best_cell(text: String, best: bool, word: &str) -> Markup {
    html! {
        @if best { td.best { (text) span.mark aria-hidden="true" { "*" } span.hidden { " " (word) } } }
        @else { td { (text) } }
    }
}

/// The leading thickness as a bar, all to one scale.
fn bar(value_mm: Option<f64>) -> Markup {
    html! {
        @if let Some(value_mm) = value_mm {
            @let width = format!("{:.2}em", BAR_EM_PER_MM * value_mm.max(0.0));
            svg.bar width=(width) height="0.5em" aria-hidden="true" { rect width="100%" height="100%" {} }
        }
    }
}

/// The numbers of the notes on an option; the notes stand right below the table.
fn marks(notes: &Notes, index: usize) -> String {
    let numbers = notes.at.get(index).map_or(&[][..], Vec::as_slice);
    numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

/// What marks and bars mean; nothing where there are none.
fn legend(comparison: &Comparison<'_>) -> String {
    if comparison.lightest().is_none() {
        return String::new();
    }
    let (what, bulge) = match comparison.lead {
        Lead::Edge => ("thickest edge", ""),
        Lead::Centre => ("centre", " Bulge: how far the front stands out before its rim."),
    };
    format!(
        "Bold with a star: the least {what}, and every one within {} of it; the lightest pair, and every one within {}, before rounding.\
         {bulge} Bars, where there is room for them, show the larger of right and left, all to one scale.",
        mm(EQUAL_MM),
        grams(EQUAL_G)
    )
}

fn notes_list(comparison: &Comparison<'_>, notes: &Notes, findings: &[Finding]) -> Markup {
    html! {
        @if notes.worst { p.small { (WORST) } }
        @if !notes.notes.is_empty() {
            ol.notes {
                @for (i, note) in notes.notes.iter().enumerate() {
                    li #{ "note" (i + 1) } {
                        strong { (words::capital(note.head())) ":" } " "
                        @match &note.wearer {
                            Some(wearer) => { (wearer) " " span.trade { (note.text) } },
                            None => (note.text),
                        }
                    }
                }
            }
        }
        @if !findings.is_empty() {
            h3 { "About the job" }
            ul.notes {
                @for finding in findings {
                    li {
                        strong { (words::capital(finding.severity().word())) ":" } " "
                        (findings::sentence(finding, Some(comparison.job)))
                    }
                }
            }
        }
    }
}
