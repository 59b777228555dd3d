//! Totals over many lenses. Every lens's volume, mass, path and swarf is rounded once, to a millionth of its unit, and
//! added as a whole number: so the order of the lenses, and how they were shared out over parts, cannot show.
//!
//! Units: mm, mm³, grams, dioptres in the names; sums in millionths of them.

use super::orders::Worked;
use crate::choose::{LensOption, Substance, Supply};
use crate::job::OneLens;
use std::collections::BTreeMap;
use std::ops::AddAssign;

/// Lenses that are counted together: of one material, supplied alike, from the same blank.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Group {
    /// Id of the material; `None` for those given by their numbers.
    pub material: Option<String>,
    /// Made to order or finished.
    pub supply: Supply,
    /// Hundredths of a dioptre, as marked at index 1.530.
    pub base_curve_cd: u32,
    /// Hundredths of a millimetre; `None` where no blank is listed.
    pub diameter_cmm: Option<u32>,
}

/// Sums over some lenses, in millionths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sums {
    /// Lenses made.
    pub lenses: u64,
    /// Lenses whose swarf is not known: no blank is listed.
    pub swarf_unknown: u64,
    /// Of the lenses cut square out, mm³.
    pub volume_mm3: u128,
    /// Of the finished lenses, g.
    pub mass_g: u128,
    /// Once round each outline, mm.
    pub path_mm: u128,
    /// Blank or uncut less the finished lens, where both are known, g.
    pub swarf_g: u128,
}

/// Totals over orders.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Totals {
    /// Rows that were read.
    pub rows: u64,
    /// Rows that were refused.
    pub refused: u64,
    /// Cautions on rows, by their ids.
    pub cautions: BTreeMap<String, u64>,
    /// Sums by group.
    pub groups: BTreeMap<Group, Sums>,
}

/// Millionths of a number that is not negative, to the nearest.
fn millionths(value: f64) -> u128 {
    // The cast saturates; no lens comes near that.
    (value * 1e6).round() as u128
}

/// Hundredths, to the nearest.
fn hundredths(value: f64) -> u32 {
    (value * 100.0).round() as u32
}

impl Group {
    /// The group of a lens.
    #[must_use]
    pub fn of(option: &LensOption, worked: &Worked) -> Group {
        let material = match &option.substance {
            Substance::Listed(material) => Some(material.id.clone()),
            Substance::Inline(_) => None,
        };
        let Worked { made, uncut_mm3: _ } = worked;
        Group::new(material, option.supply, made.base.base_curve_d, made.blank.diameter_mm)
    }

    /// A group; base curve and diameter are rounded to two decimals.
    #[must_use]
    pub fn new(material: Option<String>, supply: Supply, base_curve_d: f64, diameter_mm: Option<f64>) -> Group {
        Group { material, supply, base_curve_cd: hundredths(base_curve_d), diameter_cmm: diameter_mm.map(hundredths) }
    }

    /// As marked at index 1.530.
    #[must_use]
    pub fn base_curve_d(&self) -> f64 {
        f64::from(self.base_curve_cd) / 100.0
    }

    /// Of the blank or uncut, where one is listed.
    #[must_use]
    pub fn diameter_mm(&self) -> Option<f64> {
        self.diameter_cmm.map(|diameter| f64::from(diameter) / 100.0)
    }
}

/// More lenses than were ever made, and more millionths than such a number of lenses can have.
const MOST_LENSES: u64 = 1 << 50;
const MOST_MILLIONTHS: u128 = 1 << 100;

impl Sums {
    /// Are these more lenses than can be?
    #[must_use]
    pub fn are_beyond_any_count(lenses: u64) -> bool {
        lenses > MOST_LENSES
    }

    /// Is there more in it than can be? Sums that are not cannot run over when they are added up.
    #[must_use]
    pub fn is_beyond_any_count(&self) -> bool {
        let Sums { lenses, swarf_unknown, volume_mm3, mass_g, path_mm, swarf_g } = *self;
        lenses.max(swarf_unknown) > MOST_LENSES
            || [volume_mm3, mass_g, path_mm, swarf_g].into_iter().any(|sum| sum > MOST_MILLIONTHS)
    }

    /// Of one lens.
    #[must_use]
    pub fn of(lens: &OneLens, worked: &Worked) -> Sums {
        let made = &worked.made;
        let density = lens.lens.substance.glass(lens.reference_line).density;
        let swarf_g = worked.uncut_mm3.map(|uncut| made.swarf_g(uncut, density));
        Sums {
            lenses: 1,
            swarf_unknown: u64::from(swarf_g.is_none()),
            volume_mm3: millionths(made.volume_mm3),
            mass_g: millionths(made.mass_g),
            path_mm: millionths(made.outline.perimeter_mm),
            swarf_g: swarf_g.map_or(0, millionths),
        }
    }
}

impl AddAssign for Sums {
    fn add_assign(&mut self, other: Sums) {
        let Sums { lenses, swarf_unknown, volume_mm3, mass_g, path_mm, swarf_g } = other;
        self.lenses += lenses;
        self.swarf_unknown += swarf_unknown;
        self.volume_mm3 += volume_mm3;
        self.mass_g += mass_g;
        self.path_mm += path_mm;
        self.swarf_g += swarf_g;
    }
}

impl Totals {
    /// Counts a lens that was made.
    pub fn count(&mut self, lens: &OneLens, worked: &Worked) {
        self.rows += 1;
        *self.groups.entry(Group::of(&lens.lens, worked)).or_default() += Sums::of(lens, worked);
    }

    /// Counts a row that was refused.
    pub fn refuse(&mut self) {
        self.rows += 1;
        self.refused += 1;
    }

    /// Counts a caution of this id.
    pub fn caution(&mut self, id: String) {
        *self.cautions.entry(id).or_default() += 1;
    }

    /// Adds the totals of other orders.
    pub fn add(&mut self, other: Totals) {
        self.rows += other.rows;
        self.refused += other.refused;
        for (id, rows) in other.cautions {
            *self.cautions.entry(id).or_default() += rows;
        }
        for (group, sums) in other.groups {
            *self.groups.entry(group).or_default() += sums;
        }
    }

    /// Over all groups.
    #[must_use]
    pub fn sums(&self) -> Sums {
        self.sums_of(|_| true)
    }

    /// Over some of the groups.
    #[must_use]
    pub fn sums_of(&self, these: impl Fn(&Group) -> bool) -> Sums {
        let mut sum = Sums::default();
        for (_, sums) in self.groups.iter().filter(|(group, _)| these(group)) {
            sum += *sums;
        }
        sum
    }

    /// Sums by something that groups have in common, in its order.
    #[must_use]
    pub fn by<K: Ord>(&self, key: impl Fn(&Group) -> K) -> BTreeMap<K, Sums> {
        let mut by: BTreeMap<K, Sums> = BTreeMap::new();
        for (group, sums) in &self.groups {
            *by.entry(key(group)).or_default() += *sums;
        }
        by
    }
}
