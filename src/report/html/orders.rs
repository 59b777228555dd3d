//! The page of many orders: how many lenses, what they weigh, from which blanks they are cut, and what goes to swarf.
//!
//! Units: in the heads of the columns and behind every number.

use super::super::findings::grouped;
use super::super::number::figure;
use super::super::orders::{self as told, kilograms};
use super::{document, figure_of};
use crate::draw::Picture;
use crate::draw::bars::{Bar, BarChart};
use crate::study::totals::{Group, Sums, Totals};
use maud::{Markup, html};

const TITLE: &str = "Orders worked";
/// What materials given by their numbers are called together.
const INLINE: &str = "given by numbers";
/// Width of a chart on the page: one fits on a phone, two beside each other on a sheet.
const CHART_MM: f64 = 88.0;

/// The charts of the page, each with its caption.
fn charts(totals: &Totals) -> Vec<(Picture, &'static str)> {
    let count = |sums: &Sums| (sums.lenses as f64, grouped(sums.lenses));
    let swarf = |sums: &Sums| (kilograms(sums.swarf_g), figure(kilograms(sums.swarf_g), 3));
    let material = |group: &Group| group.material.clone().unwrap_or_else(|| INLINE.to_owned());
    let supplied = |group: &Group| group.supply.word().to_owned();
    let base = |group: &Group| group.base_curve_cd;
    let diameter = |group: &Group| group.diameter_cmm;
    let bars_by_material = |value: &dyn Fn(&Sums) -> (f64, String)| bars(totals.by(material), Clone::clone, value);
    vec![
        (chart("chart-material", "Lenses by material", "Lenses", bars_by_material(&count)), "By material"),
        (
            chart(
                "chart-base",
                "Lenses by base curve",
                "Lenses, by base curve in D",
                bars(totals.by(base), |base| figure(f64::from(*base) / 100.0, 2), &count),
            ),
            "By base curve",
        ),
        (
            chart(
                "chart-diameter",
                "Lenses by diameter",
                "Lenses, by diameter of blank or uncut in mm",
                bars(totals.by(diameter), diameter_text, &count),
            ),
            "By diameter",
        ),
        (
            chart("chart-supply", "Lenses by supply", "Lenses", bars(totals.by(supplied), Clone::clone, &count)),
            "By supply",
        ),
        (chart("chart-swarf", "Swarf by material", "Swarf, kg", bars_by_material(&swarf)), "Swarf by material"),
    ]
}

/// The charts as files.
#[must_use]
pub fn order_charts(totals: &Totals) -> Vec<Picture> {
    charts(totals).into_iter().map(|(picture, _)| picture).collect()
}

fn diameter_text(diameter_cmm: &Option<u32>) -> String {
    diameter_cmm.map_or("none listed".to_owned(), |diameter| (f64::from(diameter) / 100.0).to_string())
}

fn bars<K>(
    by: std::collections::BTreeMap<K, Sums>,
    name: impl Fn(&K) -> String,
    value: &dyn Fn(&Sums) -> (f64, String),
) -> Vec<Bar> {
    let bar = |(key, sums): (&K, &Sums)| {
        let (value, text) = value(sums);
        Bar { name: name(key), value, text }
    };
    by.iter().map(bar).collect()
}

fn chart(kind: &'static str, title: &str, label: &str, bars: Vec<Bar>) -> Picture {
    let said: Vec<String> = bars.iter().map(|bar| format!("{} {}", bar.name, bar.text)).collect();
    let description = if said.is_empty() { "Nothing to show.".to_owned() } else { format!("{}.", said.join("; ")) };
    BarChart { title: title.to_owned(), description, label: label.to_owned(), bars, width_mm: CHART_MM }.draw(kind)
}

/// The page.
#[must_use]
pub fn orders(totals: &Totals) -> String {
    let body = html! {
        header { h1 { (TITLE) } }
        main {
            section.answer aria-labelledby="answer" {
                h2 #answer { "In all" }
                @for (i, sentence) in told::sentences(totals).iter().enumerate() { p.lead[i == 0] { (sentence) } }
            }
            @if !totals.cautions.is_empty() {
                section aria-labelledby="cautions" {
                    h2 #cautions { "Cautions on what was ordered" }
                    div.scroller tabindex="0" role="group" aria-labelledby="cautions" { (cautions(totals)) }
                }
            }
            section aria-labelledby="charts" {
                h2 #charts { "What they are cut from" }
                div.charts {
                    @for (i, (picture, caption)) in charts(totals).iter().enumerate() {
                        (figure_of(picture, &format!("o{i}-"), caption))
                    }
                }
            }
            section aria-labelledby="blanks" {
                h2 #blanks { "By material, supply, base curve and diameter" }
                div.scroller tabindex="0" role="group" aria-labelledby="blanks" { (table(totals)) }
            }
            (method())
        }
    };
    document(TITLE, None, None, &body)
}

fn cautions(totals: &Totals) -> Markup {
    html! {
        table {
            caption { "Cautions by kind; cautions.csv has each with its row" }
            thead {
                tr {
                    th.words scope="col" { "Id" }
                    th scope="col" { "Cautions" }
                    th.words scope="col" { "What it means" }
                }
            }
            tbody {
                @for (id, rows) in &totals.cautions {
                    tr {
                        th.words scope="row" { (id) }
                        td { (grouped(*rows)) }
                        td.words { (told::meaning(id)) }
                    }
                }
            }
        }
    }
}

fn table(totals: &Totals) -> Markup {
    html! {
        table {
            caption { "Blanks and uncuts, and what is made of them" }
            thead {
                tr {
                    th.words scope="col" { "Material" }
                    th.words scope="col" { "Supply" }
                    th scope="col" { "Base, D" }
                    th scope="col" { "Diameter, mm" }
                    th scope="col" { "Lenses" }
                    th scope="col" { "Volume, cm³" }
                    th scope="col" { "Mass, g" }
                    th scope="col" { "Path, m" }
                    th scope="col" { "Swarf, g" }
                }
            }
            tbody {
                @for (group, sums) in &totals.groups {
                    tr {
                        th.words scope="row" { (group.material.as_deref().unwrap_or(INLINE)) }
                        td.words { (group.supply.word()) }
                        td { (figure(group.base_curve_d(), 2)) }
                        td { (group.diameter_mm().map_or("–".to_owned(), |diameter| diameter.to_string())) }
                        (sums_cells(sums))
                    }
                }
                tr.sum {
                    th.words scope="row" colspan="4" { "Together" }
                    (sums_cells(&totals.sums()))
                }
            }
        }
    }
}

fn sums_cells(sums: &Sums) -> Markup {
    let swarf_known = sums.swarf_unknown < sums.lenses;
    html! {
        td { (grouped(sums.lenses)) }
        td { (figure(sums.volume_mm3 as f64 / 1e9, 1)) }
        td { (figure(sums.mass_g as f64 / 1e6, 1)) }
        td { (figure(sums.path_mm as f64 / 1e9, 1)) }
        td { (if swarf_known { figure(sums.swarf_g as f64 / 1e6, 1) } else { "–".to_owned() }) }
    }
}

fn method() -> Markup {
    html! {
        section aria-labelledby="method" {
            h2 #method { "How it was worked out" }
            p {
                "Each lens is worked as a job would work it; both lenses of one order share a base curve that was left open. \
                 Swarf is the blank, or the finished uncut, less the edged lens. The back of an unworked blank is taken as a \
                 sphere that leaves the listed thicknesses. Volumes are those of the lens cut square out, masses those of \
                 the edged lens, the path is once round the outline."
            }
            p {
                "Every lens is rounded once, to a millionth of the unit, and added as a whole number, so the totals do not \
                 depend on the order of the rows or on how they were shared out; totals.json has them to the last digit."
            }
        }
        section.safety aria-labelledby="safety" {
            h2 #safety { "Calculated, not measured" }
            p {
                "These figures are calculated from the orders; nothing here was measured. Minimum thicknesses are those usual \
                 for everyday wear: for driving, for safety eyewear, for children and for tints, local standards and codes \
                 of practice decide."
            }
        }
    }
}
