//! What is told of orders: the fields of `lenses.csv`, `blanks.csv`, `refused.csv` and `cautions.csv`, and what all of them come to. Numbers in
//! fields have all their digits and a decimal point, and no unit but the one in the column's name.

use super::findings::{self, grouped};
use super::number::{figure, plain};
use super::words;
use crate::assess::{Impossible, Made};
use crate::choose::Supply;
use crate::finding::{Finding, rules};
use crate::job::{FORMULA_SIGNS, MOST_NAME_SIGNS, OneLens, Order};
use crate::study::totals::Totals;

/// The header of `lenses.csv`.
pub const LENSES: [&str; 9] =
    ["order", "eye", "centre_mm", "edge_max_mm", "edge_min_mm", "mass_g", "volume_mm3", "minimum_blank_mm", "blank"];
/// The header of `blanks.csv`.
pub const BLANKS: [&str; 5] = ["material", "supply", "base_curve_d", "diameter_mm", "count"];
/// The header of `refused.csv`.
pub const REFUSED: [&str; 3] = ["row", "order", "reason"];
/// The header of `cautions.csv`.
pub const CAUTIONS: [&str; 4] = ["row", "order", "id", "caution"];

/// A lens that was made. A field is empty where there is no such figure.
#[must_use]
pub fn lens(order: &Order, made: &Made) -> [String; 9] {
    let thickness = &made.thickness;
    let base_d = made.base.base_curve_d;
    [
        text(&order.order),
        order.lens.eye.word().to_owned(),
        thickness.centre_mm.map(|centre| centre.to_string()).unwrap_or_default(),
        thickness.edges.max.thickness_mm.to_string(),
        thickness.edges.min.thickness_mm.to_string(),
        made.mass_g.to_string(),
        made.volume_mm3.to_string(),
        made.blank.minimum_mm.to_string(),
        made.blank
            .diameter_mm
            .map(|diameter_mm| blank(order.lens.lens.supply, base_d, diameter_mm))
            .unwrap_or_default(),
    ]
}

fn blank(supply: Supply, base_curve_d: f64, diameter_mm: f64) -> String {
    format!("{}/{base_curve_d:.2}/{diameter_mm}", supply.word())
}

/// Every listed blank that was cut, and how many of it.
pub fn blanks(totals: &Totals) -> impl Iterator<Item = [String; 5]> {
    totals.groups.iter().filter_map(|(group, sums)| {
        Some([
            text(group.material.as_deref()?),
            group.supply.word().to_owned(),
            format!("{:.2}", group.base_curve_d()),
            group.diameter_mm()?.to_string(),
            sums.lenses.to_string(),
        ])
    })
}

/// A row that was refused; `order` as it stands in it.
#[must_use]
pub fn refused(row: u64, order: &str, reason: &str) -> [String; 3] {
    [row.to_string(), whatever(order), reason.to_owned()]
}

/// A caution on a row; `order` as it stands in it.
#[must_use]
pub fn caution(row: u64, order: &str, finding: &Finding) -> [String; 4] {
    [row.to_string(), whatever(order), finding.id(), plain(&findings::sentence(finding, None))]
}

/// The number of an order, whatever it is, fit for a spreadsheet.
fn whatever(order: &str) -> String {
    let plain = |sign: char| if sign.is_control() { char::REPLACEMENT_CHARACTER } else { sign };
    text(&order.chars().take(MOST_NAME_SIGNS).map(plain).collect::<String>())
}

/// What a kind of caution means, by its id: one sentence.
#[must_use]
pub fn meaning(id: &str) -> &'static str {
    let rule = rules().find(|rule| rule.ids().iter().any(|known| known == id));
    rule.map_or("This program does not know this kind.", |rule| rule.help)
}

/// Why a row is refused for what is written in it.
#[must_use]
pub fn faults(found: &[Finding]) -> String {
    let faults = found.iter().filter(|finding| finding.is_fault());
    let said: Vec<String> = faults.map(|finding| findings::sentence(finding, None)).collect();
    plain(&said.join(" "))
}

/// Why a lens that is sound as it is written cannot be made.
#[must_use]
pub fn impossible(why: &Impossible, lens: &OneLens) -> String {
    let said = words::impossible(why, &lens.lens, &lens.rx.power);
    format!("{}: {}", words::eye(lens.eye), plain(&said))
}

/// What the totals come to.
#[must_use]
pub fn sentences(totals: &Totals) -> Vec<String> {
    let sums = totals.sums();
    let lenses = if sums.lenses == 1 { "lens" } else { "lenses" };
    let mut said = vec![format!("{} {lenses} of {} rows.", grouped(sums.lenses), grouped(totals.rows))];
    if totals.refused > 0 {
        let are = if totals.refused == 1 { "row was" } else { "rows were" };
        said.push(format!(
            "{} {are} refused; refused.csv beside the lenses says which and why.",
            grouped(totals.refused)
        ));
    }
    let cautions: u64 = totals.cautions.values().sum();
    if cautions > 0 {
        let are =
            if cautions == 1 { "There is 1 caution" } else { &format!("There are {} cautions", grouped(cautions)) };
        let kinds: Vec<String> = totals.cautions.iter().map(|(id, rows)| format!("{id} {}", grouped(*rows))).collect();
        said.push(format!("{are}: {}; cautions.csv beside the lenses has each.", kinds.join(", ")));
    }
    if sums.lenses > 0 {
        said.push(format!(
            "The finished lenses weigh {} kg; the cut round their edges is {} m long; {} kg go to swarf.",
            figure(kilograms(sums.mass_g), 3),
            figure(sums.path_mm as f64 / 1e9, 1),
            figure(kilograms(sums.swarf_g), 3),
        ));
    }
    if sums.swarf_unknown > 0 {
        let is =
            if sums.swarf_unknown == 1 { "1 lens is" } else { &format!("{} lenses are", grouped(sums.swarf_unknown)) };
        said.push(format!("In the swarf {is} left out: no blank is listed."));
    }
    said
}

/// Millionths of a gram in kilograms.
pub(super) fn kilograms(millionths_g: u128) -> f64 {
    millionths_g as f64 / 1e9
}

/// A text that no spreadsheet takes for a formula.
pub(super) fn text(text: &str) -> String {
    if text.starts_with(FORMULA_SIGNS) { format!("'{text}") } else { text.to_owned() }
}
