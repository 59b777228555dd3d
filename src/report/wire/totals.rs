//! The JSON of totals over orders, which is read back when parts are added up. Sums are whole numbers of millionths, so
//! that the same orders give the same totals to the digit, however they were shared out.

use super::FORMAT;
use crate::choose::Supply;
use crate::study::totals::{Group, Sums, Totals};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

/// `totals.json`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TotalsWire {
    /// The number of this format.
    pub format: i64,
    /// Rows that were read.
    pub rows: u64,
    /// Rows that were refused.
    pub refused: u64,
    /// Lenses that were made.
    pub lenses: u64,
    /// Lenses whose swarf is not known.
    pub swarf_unknown: u64,
    /// Cautions on rows, by their ids.
    pub cautions: BTreeMap<String, u64>,
    /// Over all lenses.
    pub millionths: MillionthsWire,
    /// The same by material, supply, base curve and diameter.
    pub groups: Vec<GroupWire>,
}

/// Sums in millionths of the unit in each key's name.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MillionthsWire {
    /// Of the lenses cut square out.
    pub volume_mm3: u128,
    /// Of the finished lenses.
    pub mass_g: u128,
    /// Once round each outline.
    pub path_mm: u128,
    /// Blank or uncut less the finished lens.
    pub swarf_g: u128,
}

/// Lenses of one material, supplied alike, from the same blank.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GroupWire {
    /// Its id; null for materials given by their numbers.
    pub material: Option<String>,
    /// surfaced or stock.
    pub supply: Supply,
    /// As marked at index 1.530, to two decimals.
    pub base_curve_d: f64,
    /// Of the blank or uncut, to two decimals; null where none is listed.
    pub diameter_mm: Option<f64>,
    /// Lenses made.
    pub lenses: u64,
    /// Lenses whose swarf is not known.
    pub swarf_unknown: u64,
    /// Sums.
    pub millionths: MillionthsWire,
}

/// Why totals cannot be added up.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum TotalsFault {
    /// It is not what this program writes; the reader's words.
    Unreadable(String),
    /// Another format.
    Format(i64),
    /// The groups do not add up to the whole.
    Sum,
}

impl fmt::Display for TotalsFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TotalsFault::Unreadable(said) => write!(f, "these are no totals of this program: {said}"),
            TotalsFault::Format(found) => write!(f, "the totals are of format {found}; {FORMAT} is the one known"),
            TotalsFault::Sum => f.write_str("the groups do not add up to the whole; the file was changed"),
        }
    }
}

impl From<&Sums> for MillionthsWire {
    fn from(sums: &Sums) -> MillionthsWire {
        let Sums { lenses: _, swarf_unknown: _, volume_mm3, mass_g, path_mm, swarf_g } = *sums;
        MillionthsWire { volume_mm3, mass_g, path_mm, swarf_g }
    }
}

/// The totals as they go over the wire.
#[must_use]
pub fn totals(totals: &Totals) -> TotalsWire {
    let sums = totals.sums();
    let group = |(group, sums): (&Group, &Sums)| GroupWire {
        material: group.material.clone(),
        supply: group.supply,
        base_curve_d: group.base_curve_d(),
        diameter_mm: group.diameter_mm(),
        lenses: sums.lenses,
        swarf_unknown: sums.swarf_unknown,
        millionths: MillionthsWire::from(sums),
    };
    TotalsWire {
        format: FORMAT,
        rows: totals.rows,
        refused: totals.refused,
        lenses: sums.lenses,
        swarf_unknown: sums.swarf_unknown,
        cautions: totals.cautions.clone(),
        millionths: MillionthsWire::from(&sums),
        groups: totals.groups.iter().map(group).collect(),
    }
}

/// The text of `totals.json`.
#[must_use]
pub fn totals_text(of: &Totals) -> String {
    let mut text = serde_json::to_string_pretty(&totals(of)).unwrap_or_default();
    text.push('\n');
    text
}

/// Totals read back.
///
/// # Errors
/// [`TotalsFault`] where the text is not what this program writes.
pub fn read_totals(text: &str) -> Result<Totals, TotalsFault> {
    let wire: TotalsWire = serde_json::from_str(text).map_err(|error| TotalsFault::Unreadable(error.to_string()))?;
    if wire.format != FORMAT {
        return Err(TotalsFault::Format(wire.format));
    }
    let mut found =
        Totals { rows: wire.rows, refused: wire.refused, cautions: wire.cautions.clone(), ..Totals::default() };
    for group in &wire.groups {
        let MillionthsWire { volume_mm3, mass_g, path_mm, swarf_g } = group.millionths;
        let (lenses, swarf_unknown) = (group.lenses, group.swarf_unknown);
        let key = Group::new(group.material.clone(), group.supply, group.base_curve_d, group.diameter_mm);
        let sums = Sums { lenses, swarf_unknown, volume_mm3, mass_g, path_mm, swarf_g };
        if sums.is_beyond_any_count() || found.groups.insert(key, sums).is_some() {
            return Err(TotalsFault::Sum);
        }
    }
    let whole = found.sums();
    let most = wire.cautions.values().fold(wire.rows.max(wire.refused), |most, cautions| most.max(*cautions));
    if Sums::are_beyond_any_count(most) {
        return Err(TotalsFault::Sum);
    }
    let agrees = totals(&found) == wire && wire.refused.checked_add(whole.lenses) == Some(wire.rows);
    if agrees { Ok(found) } else { Err(TotalsFault::Sum) }
}
