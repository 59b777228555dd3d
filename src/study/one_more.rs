//! One diameter or one base curve more on a material's list: which lenses would take it, what they would save in swarf, what
//! could then be made that cannot be now, and where the demand would move. Each addition is tried alone, by working again the
//! orders that may be cut from its row, with the material as it would be.
//!
//! Units: mm, dioptres as marked at index 1.530; swarf in millionths of a gram, as in the totals.

use super::holding::{History, Wish, day_number};
use super::orders::{Orders, Worked, powers};
use super::totals::{Group, Sums};
use crate::assess::{Impossible, Unworked};
use crate::choose::base::{self, Base};
use crate::choose::{Substance, Supply};
use crate::job::OneLens;
use crate::material::{Material, SemiFinished, Shelf};
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Diameters that are tried (ours).
pub const DIAMETERS_MM: [f64; 7] = [50.0, 55.0, 60.0, 65.0, 70.0, 75.0, 80.0];
/// Between bases nearer than this none is tried (ours): fronts come in steps of a quarter at the finest.
const LEAST_GAP_D: f64 = 0.5;
/// A blank is cut no larger than to where its rim would be thinner than this (ours).
const LEAST_RIM_MM: f64 = 1.0;
/// A diameter that is this little short is not.
const SLACK_MM: f64 = 1e-9;

/// What is added.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A diameter of a base that is listed.
    Diameter,
    /// A base between two that are listed.
    Base,
}

/// Something more on the list of a material.
#[derive(Clone, Debug, PartialEq)]
pub struct Addition {
    /// What is added.
    pub what: What,
    /// Made to order or finished.
    pub supply: Supply,
    /// Of the row that is new or longer.
    pub base_curve_d: f64,
    /// The diameters that are new, rising.
    pub diameters_mm: Vec<f64>,
    /// Of the blank that is supposed, in the middle and at the rim of its largest diameter; `None` of finished lenses, whose
    /// listed thicknesses stay.
    pub blank_mm: Option<[f64; 2]>,
    /// The material as it would be.
    pub material: Arc<Material>,
}

impl Addition {
    /// A diameter more for a base of a material; `None` where it is listed, or no such blank can be supposed: one larger than
    /// all listed is taken as the same blank cut larger (ours), and may run out before its rim.
    #[must_use]
    pub fn diameter(material: &Material, supply: Supply, base_curve_d: f64, diameter_mm: f64) -> Option<Addition> {
        let mut longer = material.clone();
        let mut blank_mm = None;
        match supply {
            Supply::Surfaced => {
                let row = longer.semi_finished.iter_mut().find(|row| row.base_curve_d == base_curve_d)?;
                *row = cut_to(row, diameter_mm)?;
                blank_mm = Some([row.centre_mm, row.edge_mm]);
            }
            Supply::Stock => {
                let rows = longer.stock.iter_mut().filter(|row| row.base_curve_d == base_curve_d);
                let added: Vec<bool> = rows.map(|row| put(&mut row.diameters_mm, diameter_mm)).collect();
                added.contains(&true).then_some(())?;
            }
        }
        let diameters_mm = vec![diameter_mm];
        Some(Addition {
            what: What::Diameter,
            supply,
            base_curve_d,
            diameters_mm,
            blank_mm,
            material: Arc::new(longer),
        })
    }

    /// A base halfway between two neighbours of a material's list, in all diameters of either and halfway between their blanks
    /// in thickness (ours); `None` where they are too near, or one of them does not reach that far.
    #[must_use]
    pub fn between(material: &Material, flatter: &SemiFinished, steeper: &SemiFinished) -> Option<Addition> {
        if steeper.base_curve_d - flatter.base_curve_d < LEAST_GAP_D {
            return None;
        }
        let half = |one: f64, other: f64| 0.5 * (one + other);
        // As bases are told apart everywhere: to the hundredth.
        let base_curve_d = (100.0 * half(flatter.base_curve_d, steeper.base_curve_d)).round() / 100.0;
        let mut diameters_mm = flatter.diameters_mm.clone();
        for diameter_mm in &steeper.diameters_mm {
            put(&mut diameters_mm, *diameter_mm);
        }
        let rim_mm = |row: &SemiFinished| Unworked::of(row, row.base_curve_d)?.thickness_mm(0.5 * diameters_mm.last()?);
        let edge_mm = half(rim_mm(flatter)?, rim_mm(steeper)?);
        let centre_mm = half(flatter.centre_mm, steeper.centre_mm);
        let mut longer = material.clone();
        longer.semi_finished.push(SemiFinished {
            base_curve_d,
            diameters_mm: diameters_mm.clone(),
            centre_mm,
            edge_mm,
        });
        Some(Addition {
            what: What::Base,
            supply: Supply::Surfaced,
            base_curve_d,
            diameters_mm,
            blank_mm: Some([centre_mm, edge_mm]),
            material: Arc::new(longer),
        })
    }

    /// Is this lens of the material and supply that would have more?
    fn is_of(&self, lens: &OneLens) -> bool {
        let id = lens.lens.substance.id();
        lens.lens.supply == self.supply && id.is_some_and(|id| *id == self.material.id)
    }

    /// Does a front of this curve come from the row that is new or longer?
    fn is_row_of(&self, lens: &OneLens, base_curve_d: f64) -> bool {
        let row = match self.supply {
            Supply::Surfaced => base::nearest(base::listed_bases(&lens.lens), base_curve_d),
            Supply::Stock => base_curve_d,
        };
        self.is_of(lens) && row == self.base_curve_d
    }

    /// Does it leave a lens as it is? A diameter does that is too small for the lens, or no smaller than the one it is cut
    /// from.
    fn leaves(&self, worked: &Worked) -> bool {
        let blank = &worked.made.blank;
        let (What::Diameter, [more], Some(now)) = (self.what, &self.diameters_mm[..], blank.diameter_mm) else {
            return false;
        };
        let too_small = if blank.decentred { *more < now } else { *more < blank.minimum_mm - SLACK_MM };
        too_small || (!blank.decentred && *more >= now)
    }

    /// Would this lens be cut from what is added?
    fn is_taken_by(&self, lens: &OneLens, worked: &Worked) -> bool {
        let diameter_mm = worked.made.blank.diameter_mm;
        self.is_row_of(lens, worked.made.base.base_curve_d)
            && diameter_mm.is_some_and(|diameter_mm| self.diameters_mm.contains(&diameter_mm))
    }
}

/// A row with a diameter more; `None` where it has it.
fn cut_to(row: &SemiFinished, diameter_mm: f64) -> Option<SemiFinished> {
    let largest_mm = *row.diameters_mm.last()?;
    let edge_mm = match diameter_mm > largest_mm {
        true => Unworked::of(row, row.base_curve_d)?.thickness_mm(0.5 * diameter_mm)?,
        false => row.edge_mm,
    };
    let mut longer = SemiFinished { edge_mm, ..row.clone() };
    (put(&mut longer.diameters_mm, diameter_mm) && edge_mm >= LEAST_RIM_MM).then_some(longer)
}

/// Puts a diameter in its place; was it not there?
fn put(rising_mm: &mut Vec<f64>, diameter_mm: f64) -> bool {
    let new = !rising_mm.contains(&diameter_mm);
    if new {
        rising_mm.push(diameter_mm);
        rising_mm.sort_by(f64::total_cmp);
    }
    new
}

/// All that is tried on a shelf, by the id of the material.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Additions {
    of: BTreeMap<String, Vec<Addition>>,
}

impl Additions {
    /// Every diameter and every base that some material could have more.
    #[must_use]
    pub fn of(shelf: &Shelf) -> Additions {
        let all = shelf.materials.iter().map(|material| (material.id.clone(), of_material(material)));
        Additions { of: all.collect() }
    }

    /// Each of them, in the order of their numbers.
    pub fn each(&self) -> impl Iterator<Item = (Number, &Addition)> {
        self.of.iter().flat_map(|(id, all)| all.iter().enumerate().map(|(i, one)| ((id.clone(), i), one)))
    }

    /// Works the lens or the pair again with each addition that may matter to it, and counts what comes of it. `before` is
    /// what came of them as the shelf is; lenses without a date are not counted.
    pub fn try_on(&self, orders: &Orders, lenses: &[Asked<'_>], effects: &mut Effects) {
        let mut ids: Vec<&String> = lenses.iter().filter_map(|asked| asked.lens.lens.substance.id()).collect();
        ids.dedup();
        let mut tried: Vec<OneLens> = lenses.iter().map(|asked| asked.lens.clone()).collect();
        for id in ids {
            for (i, addition) in self.of.get(id).into_iter().flatten().enumerate() {
                for (lens, asked) in tried.iter_mut().zip(lenses) {
                    lens.lens.substance = match addition.is_of(asked.lens) {
                        true => Substance::Listed(Arc::clone(&addition.material)),
                        false => asked.lens.lens.substance.clone(),
                    };
                }
                if may_matter(addition, &tried, lenses) {
                    let effect = effects.of.entry((id.clone(), i)).or_default();
                    for ((lens, asked), after) in tried.iter().zip(lenses).zip(again(orders, &tried)) {
                        effect.count(addition, lens, asked, after.as_ref());
                    }
                }
            }
        }
    }
}

fn of_material(material: &Material) -> Vec<Addition> {
    let mut surfaced: Vec<&SemiFinished> = material.semi_finished.iter().collect();
    surfaced.sort_by(|a, b| a.base_curve_d.total_cmp(&b.base_curve_d));
    surfaced.dedup_by(|b, a| a.base_curve_d == b.base_curve_d);
    let mut ready: Vec<f64> = material.stock.iter().map(|row| row.base_curve_d).collect();
    ready.sort_by(f64::total_cmp);
    ready.dedup();
    let made = surfaced.iter().map(|row| (Supply::Surfaced, row.base_curve_d));
    let rows = made.chain(ready.into_iter().map(|base_curve_d| (Supply::Stock, base_curve_d)));
    let diameters = rows.flat_map(|(supply, base_curve_d)| {
        DIAMETERS_MM.into_iter().filter_map(move |mm| Addition::diameter(material, supply, base_curve_d, mm))
    });
    let bases = surfaced.windows(2).filter_map(|pair| Addition::between(material, pair[0], pair[1]));
    diameters.chain(bases).collect()
}

/// A lens as it is asked for, and what came of it.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The lens.
    pub lens: &'a OneLens,
    /// Year-month-day.
    pub date: Option<&'a str>,
    /// As the shelf is.
    pub before: Result<&'a Worked, &'a Impossible>,
}

/// Could one of the lenses come out otherwise? Only where one may be cut from the row, with the base of the pair or with its
/// own.
fn may_matter(addition: &Addition, tried: &[OneLens], lenses: &[Asked<'_>]) -> bool {
    let shared = match tried {
        [first, second] => Some(powers([first, second])),
        _ => None,
    };
    let reaches = |lens: &OneLens| {
        let own = base::alone(&lens.lens, &lens.rx.power);
        let of_pair = shared.as_ref().and_then(|powers| *base::pair(&lens.lens, powers).of(lens.eye));
        let is_row = |base: Option<Base>| base.is_some_and(|base| addition.is_row_of(lens, base.base_curve_d));
        is_row(own) || is_row(of_pair)
    };
    let all_left = lenses.iter().all(|asked| asked.before.is_ok_and(|worked| addition.leaves(worked)));
    !all_left && tried.iter().any(reaches)
}

fn again(orders: &Orders, tried: &[OneLens]) -> Vec<Result<Worked, Impossible>> {
    match tried {
        [first, second] => orders.pair([first, second]).into(),
        others => others.iter().map(|lens| orders.alone(lens)).collect(),
    }
}

/// Of an addition: its material and its place among those of the material.
pub type Number = (String, usize);

/// What comes of an addition, over all lenses that are dated.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Effect {
    /// Lenses that would be cut from it.
    pub taken: u64,
    /// Swarf less, of the lenses that are made either way.
    pub swarf_saved: i128,
    /// Lenses that could be made and are refused now.
    pub gained: u64,
    /// Lenses that are made now and would be refused: a finished lens that is smaller may be too thin.
    pub lost: u64,
    /// Lenses more, or fewer, from each blank by day.
    moved: BTreeMap<Group, BTreeMap<i64, i64>>,
}

impl Effect {
    fn count(&mut self, addition: &Addition, lens: &OneLens, asked: &Asked<'_>, after: Result<&Worked, &Impossible>) {
        let Some(day) = asked.date.and_then(day_number) else { return };
        if let Ok(before) = asked.before {
            self.moves(Group::of(&asked.lens.lens, before), day, -1);
        }
        if let Ok(after) = after {
            self.moves(Group::of(&lens.lens, after), day, 1);
            self.taken += u64::from(addition.is_taken_by(lens, after));
        }
        match (asked.before, after) {
            (Ok(before), Ok(after)) => self.swarf_saved += saved(asked.lens, before, after),
            (Ok(_), Err(_)) => self.lost += 1,
            (Err(_), Ok(_)) => self.gained += 1,
            (Err(_), Err(_)) => {}
        }
    }

    fn moves(&mut self, group: Group, day: i64, more: i64) {
        *self.moved.entry(group).or_default().entry(day).or_default() += more;
    }

    fn add(&mut self, other: Effect) {
        let Effect { taken, swarf_saved, gained, lost, moved } = other;
        self.taken += taken;
        self.swarf_saved += swarf_saved;
        self.gained += gained;
        self.lost += lost;
        for (group, days) in moved {
            for (day, more) in days {
                self.moves(group.clone(), day, more);
            }
        }
    }
}

/// Swarf less by the second way; nothing where one of them is not known.
fn saved(lens: &OneLens, before: &Worked, after: &Worked) -> i128 {
    let [before, after] = [before, after].map(|worked| Sums::of(lens, worked));
    let known = before.swarf_unknown + after.swarf_unknown == 0;
    // No lens has a swarf near the end of those numbers.
    if known { before.swarf_g as i128 - after.swarf_g as i128 } else { 0 }
}

/// What comes of each addition that matters to some lens.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Effects {
    of: BTreeMap<Number, Effect>,
}

/// An addition weighed.
#[derive(Clone, Debug)]
pub struct Weighed<'a> {
    /// What is added.
    pub addition: &'a Addition,
    /// What comes of it in the orders.
    pub effect: &'a Effect,
    /// Blanks to be held of this material and supply, as the shelf is and with the addition.
    pub held: [u64; 2],
}

impl Effects {
    /// Adds those of other orders.
    pub fn add(&mut self, other: Effects) {
        for (number, effect) in other.of {
            self.of.entry(number).or_default().add(effect);
        }
    }

    /// The additions that some lens would take, that which saves most first; of equal ones that with which more lenses can be
    /// made, and then that which wants fewer blanks held.
    #[must_use]
    pub fn ranked<'a>(&'a self, additions: &'a Additions, history: &History, wish: &Wish) -> Vec<Weighed<'a>> {
        let levels = history.levels(wish);
        let weighed = |(number, addition): (Number, &'a Addition)| {
            let effect = self.of.get(&number).filter(|effect| effect.taken > 0)?;
            let is_of = |group: &Group| group.supply == addition.supply && group.material.as_ref() == Some(&number.0);
            let now: u64 = levels.iter().filter(|(group, _)| is_of(group)).map(|(_, level)| level).sum();
            let listed = || effect.moved.iter().filter(|(group, _)| group.diameter_cmm.is_some() && is_of(group));
            let less: u64 = listed().map(|(group, _)| levels.get(group).copied().unwrap_or(0)).sum();
            let more: u64 = listed().map(|(group, moved)| history.level_moved(group, moved, wish)).sum();
            Some(Weighed { addition, effect, held: [now, now - less + more] })
        };
        let mut all: Vec<Weighed<'a>> = additions.each().filter_map(weighed).collect();
        all.sort_by_key(|Weighed { effect, held, .. }| {
            (Reverse(effect.swarf_saved), Reverse(i128::from(effect.gained) - i128::from(effect.lost)), held[1])
        });
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn resin() -> Material {
        Material::clone(Shelf::built_in().get("resin-1.60").expect("on the shelf"))
    }

    #[test]
    fn what_is_listed_is_no_addition() {
        let resin = resin();
        assert_eq!(Addition::diameter(&resin, Supply::Surfaced, 4.0, 70.0), None);
        // Two rows of finished lenses are on base 2.5, in 65 and 70.
        assert_eq!(Addition::diameter(&resin, Supply::Stock, 2.5, 65.0), None);
        assert_eq!(Addition::diameter(&resin, Supply::Surfaced, 5.0, 60.0), None, "no such base");
        let added = Addition::diameter(&resin, Supply::Stock, 2.5, 60.0).expect("not listed");
        let longer = added.material.stock.iter().filter(|row| row.diameters_mm.contains(&60.0)).count();
        assert_eq!(longer, 2 + 1, "those of base 2.5, and one on base 7.5 that had it");
        assert!(of_material(&added.material).iter().all(|one| one.diameters_mm != [60.0] || one.base_curve_d != 2.5));
    }

    #[test]
    fn a_blank_cut_larger_is_the_same_blank() {
        let resin = resin();
        for (base_curve_d, diameter_mm) in [(0.5, 80.0), (6.0, 80.0), (10.0, 75.0), (4.0, 50.0)] {
            let before = resin.semi_finished.iter().find(|row| row.base_curve_d == base_curve_d).expect("listed");
            let added = Addition::diameter(&resin, Supply::Surfaced, base_curve_d, diameter_mm).expect("not listed");
            let after =
                added.material.semi_finished.iter().find(|row| row.base_curve_d == base_curve_d).expect("there");
            assert!(after.diameters_mm.is_sorted() && after.diameters_mm.len() == before.diameters_mm.len() + 1);
            let [before, after] = [before, after].map(|row| Unworked::of(row, base_curve_d).expect("a blank"));
            for r in [0.0, 10.0, 25.0, 35.0] {
                let [one, other] = [before, after].map(|blank| blank.thickness_mm(r).expect("reaches"));
                assert!((one - other).abs() < 1e-12, "{one} against {other} at {r} mm on base {base_curve_d}");
            }
        }
        // Its rim falls away from 7.5 mm at 35: by hand it is gone before 50.
        assert_eq!(Addition::diameter(&resin, Supply::Surfaced, 10.0, 100.0), None);
    }

    #[test]
    fn a_base_more_lies_halfway() {
        let resin = resin();
        let bases: Vec<Addition> = of_material(&resin).into_iter().filter(|one| one.what == What::Base).collect();
        assert_eq!(bases.iter().map(|one| one.base_curve_d).collect::<Vec<_>>(), [1.25, 3.0, 5.0, 7.0, 9.0]);
        assert_eq!(bases[1].diameters_mm, [65.0, 70.0, 75.0, 80.0]);
        // Bases 2 and 4 both go to 80: 8.0 and 8.0 in the middle, 14.5 and 11.5 at the rim.
        let [centre, edge] = bases[1].blank_mm.expect("a blank");
        assert!(centre == 8.0 && (edge - 13.0).abs() < 1e-12, "{centre} {edge}");
        assert!(bases.iter().all(|one| one.material.semi_finished.len() == resin.semi_finished.len() + 1));
    }
}
