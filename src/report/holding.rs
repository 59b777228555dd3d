//! What is told of what to hold: a row of CSV for each blank, and what it comes to in sentences.

use super::findings::grouped;
use super::number::figure;
use super::orders::text;
use crate::choose::Supply;
use crate::material::Shelf;
use crate::study::holding::{Backtest, History, Holding, Wish};
use crate::study::totals::Group;
use std::collections::BTreeSet;

/// The header.
pub const COLUMNS: [&str; 11] = [
    "material",
    "supply",
    "base_curve_d",
    "diameter_mm",
    "sold",
    "weekly_mean",
    "weekly_spread",
    "hold",
    "hold_low",
    "hold_high",
    "hold_by_formula",
];

/// A blank that was sold.
#[must_use]
pub fn row(holding: &Holding) -> [String; 11] {
    let Holding { group, sold, mean, spread, level, interval: [low, high], by_formula } = holding;
    let [material, supply, base, diameter] = blank(group);
    let lenses = [level, low, high, by_formula].map(u64::to_string);
    let [level, low, high, by_formula] = lenses;
    let (mean, spread) = (format!("{mean:.3}"), format!("{spread:.3}"));
    [material, supply, base, diameter, sold.to_string(), mean, spread, level, low, high, by_formula]
}

/// A blank that never was.
#[must_use]
pub fn unsold_row(group: &Group) -> [String; 11] {
    let [material, supply, base, diameter] = blank(group);
    let nought = || "0".to_owned();
    let none = || "0.000".to_owned();
    [material, supply, base, diameter, nought(), none(), none(), nought(), nought(), nought(), nought()]
}

fn blank(group: &Group) -> [String; 4] {
    [
        text(group.material.as_deref().unwrap_or_default()),
        group.supply.word().to_owned(),
        format!("{:.2}", group.base_curve_d()),
        group.diameter_mm().map(|diameter| diameter.to_string()).unwrap_or_default(),
    ]
}

/// Listed blanks that were never sold, of the materials that were.
#[must_use]
pub fn never_sold(history: &History, shelf: &Shelf) -> Vec<Group> {
    let sold: BTreeSet<&str> = history.materials().collect();
    let mut unsold = BTreeSet::new();
    for material in shelf.materials.iter().filter(|material| sold.contains(material.id.as_str())) {
        let made = material.semi_finished.iter().map(|row| (Supply::Surfaced, row.base_curve_d, &row.diameters_mm));
        let ready = material.stock.iter().map(|row| (Supply::Stock, row.base_curve_d, &row.diameters_mm));
        for (supply, base_curve_d, diameters_mm) in made.chain(ready) {
            let groups = diameters_mm
                .iter()
                .map(|diameter_mm| Group::new(Some(material.id.clone()), supply, base_curve_d, Some(*diameter_mm)));
            unsold.extend(groups.filter(|group| !history.has(group)));
        }
    }
    unsold.into_iter().collect()
}

/// A share as percent.
pub(super) fn percent(share: f64) -> String {
    format!("{} %", figure(100.0 * share, 1))
}

/// What it comes to.
#[must_use]
pub fn sentences(history: &History, holdings: &[Holding], unsold: usize, wish: &Wish, refused: u64) -> Vec<String> {
    let sold: u64 = holdings.iter().map(|holding| holding.sold).sum();
    let held: u64 = holdings.iter().map(|holding| holding.level).sum();
    let mut said = vec![format!(
        "{} lenses in {} whole weeks, from {} blanks; {} blanks held last over {} weeks in {} of cases.",
        grouped(sold),
        history.weeks(),
        grouped(holdings.len() as u64),
        grouped(held),
        wish.lead_weeks,
        percent(wish.service)
    )];
    if unsold > 0 {
        said.push(format!("{} listed blanks of these materials were never sold.", grouped(unsold as u64)));
    }
    match history.backtest(wish) {
        Some(Backtest { weeks: [before, after], lead_times, lasted, lasted_by_formula }) => {
            let share = |lasted: u64| percent(lasted as f64 / lead_times as f64);
            said.push(format!(
                "Set from the first {before} weeks and tried on the last {after}, the levels last in {} of cases, those by \
                 the formula in {}.",
                share(lasted),
                share(lasted_by_formula)
            ));
        }
        None => said.push("The history is too short to try the levels on its later weeks.".to_owned()),
    }
    said.extend(left_out(history, refused));
    said
}

/// What was not counted.
pub(super) fn left_out(history: &History, refused: u64) -> Vec<String> {
    let mut said = Vec::new();
    if history.undated > 0 {
        let lenses = if history.undated == 1 { "lens has no date and is" } else { "lenses have no date and are" };
        said.push(format!("{} {lenses} left out.", grouped(history.undated)));
    }
    if refused > 0 {
        let rows = if refused == 1 { "row was" } else { "rows were" };
        said.push(format!("{} {rows} refused; rimwise stock says which and why.", grouped(refused)));
    }
    said
}
