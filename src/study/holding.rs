//! What to hold of each blank: the demand of past weeks, and the stock that lasts over a lead time in a given share of
//! cases, by drawing weeks from the past again and, beside it, by the textbook formula.
//!
//! Demands are lenses a week, stock is lenses. Days are counted from 1970-01-01.

use super::totals::Group;
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use statrs::distribution::{ContinuousCDF, Normal};
use std::collections::BTreeMap;

/// Lead times drawn for one level.
const DRAWS: usize = 4_000;
/// Pasts drawn for its interval, and lead times drawn from each.
const PASTS: (usize, usize) = (200, 400);
/// The interval holds this share of the levels that such pasts give.
const INTERVAL: f64 = 0.9;
/// The part of the weeks that the levels of a backtest are set from.
const LEARNED: f64 = 0.75;

/// Lenses of each blank by the day of their order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    days: BTreeMap<Group, BTreeMap<i64, u64>>,
    /// The first and the last day on which a lens was ordered, made or not.
    span: Option<[i64; 2]>,
    /// Lenses without a date, which tell nothing.
    pub undated: u64,
}

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    /// From ordering a blank to having it.
    pub lead_weeks: usize,
    /// The share of lead times over which the stock shall last, 0 to 1.
    pub service: f64,
    /// The same seed draws the same weeks.
    pub seed: u64,
}

/// What to hold of one blank.
#[derive(Clone, Debug, PartialEq)]
pub struct Holding {
    /// The blank.
    pub group: Group,
    /// In all whole weeks.
    pub sold: u64,
    /// Mean of the weeks.
    pub mean: f64,
    /// Their standard deviation.
    pub spread: f64,
    /// The level that lasts, by drawing weeks again.
    pub level: u64,
    /// Where that level would lie, had the past weeks been others like them.
    pub interval: [u64; 2],
    /// The level by the formula: mean × lead + z × spread × √lead.
    pub by_formula: u64,
}

/// How levels set from the earlier weeks would have done in the later ones.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Backtest {
    /// Weeks that the levels were set from, and weeks that they were tried on.
    pub weeks: [usize; 2],
    /// Lead times in the later weeks, of all blanks that were sold before.
    pub lead_times: u64,
    /// Those over which the level lasted.
    pub lasted: u64,
    /// The same by the formula.
    pub lasted_by_formula: u64,
}

/// The number of a day from 1970-01-01 (Hinnant, "chrono-compatible low-level date algorithms", days_from_civil).
/// `None` where the text is not year-month-day.
#[must_use]
pub fn day_number(date: &str) -> Option<i64> {
    let mut parts = date.splitn(3, '-').map(|part| part.parse::<i64>().ok());
    let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
    let year = if month <= 2 { year - 1 } else { year };
    let era = year.div_euclid(400);
    let of_era = year.rem_euclid(400);
    let of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    Some(era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719_468)
}

impl History {
    /// Counts a lens; one without a date is only counted as such.
    pub fn count(&mut self, group: Group, date: Option<&str>) {
        match date.and_then(day_number) {
            Some(day) => self.count_on(group, day),
            None => self.undated += 1,
        }
    }

    fn count_on(&mut self, group: Group, day: i64) {
        self.reach([day; 2]);
        *self.days.entry(group).or_default().entry(day).or_default() += 1;
    }

    /// A lens that could not be made was ordered on this day: it is held by no blank, but the history goes as far.
    pub fn count_unmade(&mut self, date: Option<&str>) {
        if let Some(day) = date.and_then(day_number) {
            self.reach([day; 2]);
        }
    }

    fn reach(&mut self, [from, to]: [i64; 2]) {
        let [first, last] = self.span.unwrap_or([from, to]);
        self.span = Some([first.min(from), last.max(to)]);
    }

    /// Adds another history.
    pub fn add(&mut self, other: History) {
        self.undated += other.undated;
        if let Some(span) = other.span {
            self.reach(span);
        }
        for (group, days) in other.days {
            let here = self.days.entry(group).or_default();
            for (day, lenses) in days {
                *here.entry(day).or_default() += lenses;
            }
        }
    }

    /// Days from the first to the last.
    #[must_use]
    pub fn length_days(&self) -> u64 {
        self.span.map_or(0, |[first, last]| u64::try_from(last - first + 1).unwrap_or(0))
    }

    /// The whole weeks of the history, counted back from its last day.
    #[must_use]
    pub fn weeks(&self) -> usize {
        usize::try_from(self.length_days() / 7).unwrap_or(0)
    }

    /// Was it ever sold?
    #[must_use]
    pub fn has(&self, group: &Group) -> bool {
        self.days.contains_key(group)
    }

    /// Ids of the materials that were sold.
    pub fn materials(&self) -> impl Iterator<Item = &str> {
        self.days.keys().filter_map(|group| group.material.as_deref())
    }

    /// Lenses by day brought together by week, the oldest first.
    fn by_week(&self, days: impl Iterator<Item = (i64, u64)>) -> Vec<u64> {
        let weeks = self.weeks();
        let mut demand = vec![0; weeks];
        let Some([_, last]) = self.span else { return demand };
        for (day, lenses) in days {
            let back = usize::try_from((last - day) / 7).unwrap_or(usize::MAX);
            if let Some(week) = weeks.checked_sub(back.saturating_add(1)) {
                demand[week] += lenses;
            }
        }
        demand
    }

    /// Demand of each blank by week, the oldest first. Lenses without a listed blank are left out.
    fn demands(&self) -> impl Iterator<Item = (&Group, Vec<u64>)> {
        let listed = self.days.iter().filter(|(group, _)| group.diameter_cmm.is_some());
        listed.map(|(group, days)| (group, self.by_week(days.iter().map(|(day, lenses)| (*day, *lenses)))))
    }

    /// The level of each blank that was sold.
    #[must_use]
    pub fn levels(&self, wish: &Wish) -> BTreeMap<&Group, u64> {
        self.demands().map(|(group, demand)| (group, level_of(group, &demand, wish))).collect()
    }

    /// The level of a blank had some lenses more, or fewer, been cut from it on some days.
    #[must_use]
    pub fn level_moved(&self, group: &Group, moved: &BTreeMap<i64, i64>, wish: &Wish) -> u64 {
        let mut days: BTreeMap<i64, u64> = self.days.get(group).cloned().unwrap_or_default();
        for (day, more) in moved {
            let lenses = days.entry(*day).or_default();
            *lenses = lenses.saturating_add_signed(*more);
        }
        level_of(group, &self.by_week(days.into_iter()), wish)
    }

    /// What to hold of each blank that was sold.
    #[must_use]
    pub fn holdings(&self, wish: &Wish) -> Vec<Holding> {
        if self.weeks() == 0 {
            return Vec::new();
        }
        let holding = |(group, demand): (&Group, Vec<u64>)| {
            let mut chance = chance_of(wish, group);
            let (mean, spread) = moments(&demand);
            Holding {
                group: group.clone(),
                sold: demand.iter().sum(),
                mean,
                spread,
                level: level(&demand, wish, DRAWS, &mut chance),
                interval: interval(&demand, wish, &mut chance),
                by_formula: by_formula(mean, spread, wish),
            }
        };
        self.demands().map(holding).collect()
    }

    /// Tries levels set from the earlier weeks on the later ones; `None` where the history is too short for one lead time.
    #[must_use]
    pub fn backtest(&self, wish: &Wish) -> Option<Backtest> {
        let weeks = self.weeks();
        // The cast rounds down.
        let learned = (LEARNED * weeks as f64) as usize;
        if learned == 0 || weeks - learned < wish.lead_weeks {
            return None;
        }
        let mut test = Backtest { weeks: [learned, weeks - learned], ..Backtest::default() };
        for (group, demand) in self.demands() {
            let (before, after) = demand.split_at(learned);
            if before.iter().all(|week| *week == 0) {
                continue;
            }
            let drawn = level_of(group, before, wish);
            let (mean, spread) = moments(before);
            let formula = by_formula(mean, spread, wish);
            for lead in after.windows(wish.lead_weeks) {
                let wanted: u64 = lead.iter().sum();
                test.lead_times += 1;
                test.lasted += u64::from(wanted <= drawn);
                test.lasted_by_formula += u64::from(wanted <= formula);
            }
        }
        (test.lead_times > 0).then_some(test)
    }
}

/// Chance for one blank, whatever else is sold: its stream is numbered by its name (FNV-1a, by Fowler, Noll and Vo).
fn chance_of(wish: &Wish, group: &Group) -> ChaCha8Rng {
    let Group { material, supply, base_curve_cd, diameter_cmm } = group;
    let name = format!("{material:?} {} {base_curve_cd} {diameter_cmm:?}", supply.word());
    let mix = |number: u64, byte: u8| (number ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    let mut chance = ChaCha8Rng::seed_from_u64(wish.seed);
    chance.set_stream(name.bytes().fold(0xcbf2_9ce4_8422_2325, mix));
    chance
}

/// The level of a blank with this demand by week; nothing where there is no week.
fn level_of(group: &Group, demand: &[u64], wish: &Wish) -> u64 {
    if demand.is_empty() {
        return 0;
    }
    level(demand, wish, DRAWS, &mut chance_of(wish, group))
}

/// Mean and standard deviation, that of a sample.
fn moments(demand: &[u64]) -> (f64, f64) {
    let count = demand.len() as f64;
    let mean = demand.iter().sum::<u64>() as f64 / count;
    let squares: f64 = demand.iter().map(|week| (*week as f64 - mean).powi(2)).sum();
    (mean, if demand.len() > 1 { (squares / (count - 1.0)).sqrt() } else { 0.0 })
}

/// The least level that lasts over a share of so many lead times, each of weeks drawn from the past.
fn level(demand: &[u64], wish: &Wish, draws: usize, chance: &mut ChaCha8Rng) -> u64 {
    let lead = |chance: &mut ChaCha8Rng| -> u64 {
        (0..wish.lead_weeks).map(|_| demand[chance.random_range(0..demand.len())]).sum()
    };
    let mut wanted: Vec<u64> = (0..draws).map(|_| lead(chance)).collect();
    quantile(&mut wanted, wish.service)
}

/// The least of the values that is not passed by this share of them.
fn quantile(values: &mut [u64], share: f64) -> u64 {
    values.sort_unstable();
    let place = (share * values.len() as f64 - 1e-9).ceil().max(1.0) as usize;
    values[place.min(values.len()) - 1]
}

/// Levels of pasts that are drawn from this one, the middle of them.
fn interval(demand: &[u64], wish: &Wish, chance: &mut ChaCha8Rng) -> [u64; 2] {
    let mut levels: Vec<u64> = (0..PASTS.0)
        .map(|_| {
            let past: Vec<u64> = demand.iter().map(|_| demand[chance.random_range(0..demand.len())]).collect();
            level(&past, wish, PASTS.1, chance)
        })
        .collect();
    let outside = 0.5 * (1.0 - INTERVAL);
    [quantile(&mut levels, outside), quantile(&mut levels, 1.0 - outside)]
}

/// Mean × lead + z × spread × √lead, rounded up: right where weeks are normal and independent.
fn by_formula(mean: f64, spread: f64, wish: &Wish) -> u64 {
    let lead = wish.lead_weeks as f64;
    let z = Normal::standard().inverse_cdf(wish.service);
    // The cast saturates.
    (mean * lead + z * spread * lead.sqrt() - 1e-9).ceil().max(0.0) as u64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choose::Supply;

    fn group(diameter_mm: f64) -> Group {
        Group::new(Some("resin-1.60".to_owned()), Supply::Surfaced, 4.0, Some(diameter_mm))
    }

    const WISH: Wish = Wish { lead_weeks: 2, service: 0.95, seed: 1 };

    #[test]
    fn days_are_numbered_as_the_calendar_has_them() {
        assert_eq!(day_number("1970-01-01"), Some(0));
        assert_eq!(day_number("2000-02-29"), Some(11_016));
        assert_eq!(day_number("2000-03-01"), Some(11_017));
        assert_eq!(day_number("2025-12-31").zip(day_number("2025-01-01")).map(|(b, a)| b - a), Some(364));
        assert_eq!(day_number("1969-12-31"), Some(-1));
        assert_eq!(day_number("soon"), None);
    }

    #[test]
    fn a_steady_demand_wants_just_what_it_takes() {
        let mut history = History::default();
        for week in 0..40 {
            let day = 20_000 + 7 * week;
            for _ in 0..5 {
                history.count_on(group(70.0), day);
            }
        }
        // From the first day to the last there are 39 whole weeks and a day.
        assert_eq!(history.weeks(), 39);
        let held = &history.holdings(&WISH)[0];
        assert_eq!((held.sold, held.mean, held.spread), (195, 5.0, 0.0));
        assert_eq!((held.level, held.interval, held.by_formula), (10, [10, 10], 10));
        let test = history.backtest(&WISH).expect("long enough");
        assert_eq!((test.lasted, test.lasted_by_formula), (test.lead_times, test.lead_times));
        assert_eq!(test.weeks, [29, 10]);
    }

    #[test]
    fn the_level_is_the_quantile_of_the_sum() {
        // Nought or ten, each in half the weeks: two weeks take 0, 10 or 20, the last in a quarter of the cases.
        let demand: Vec<u64> = (0..50).map(|week| if week % 2 == 0 { 0 } else { 10 }).collect();
        let at = |service: f64| level(&demand, &Wish { service, ..WISH }, 4_000, &mut chance_of(&WISH, &group(70.0)));
        assert_eq!((at(0.2), at(0.7), at(0.8)), (0, 10, 20));
        // By hand: 10 + 1.645 × 5.05 × √2 = 21.7.
        let (mean, spread) = moments(&demand);
        assert_eq!(by_formula(mean, spread, &WISH), 22);
    }

    #[test]
    fn what_is_held_of_a_blank_does_not_hang_on_the_others() {
        let mut history = History::default();
        for day in 20_000..20_100 {
            for _ in 0..day * day % 7 {
                history.count_on(group(70.0), day);
            }
        }
        let held = history.holdings(&WISH)[0].clone();
        history.count_on(group(65.0), 20_050);
        assert_eq!(history.holdings(&WISH)[1], held);
        assert_eq!(history.levels(&WISH)[&group(70.0)], held.level);
        // All of it moved to another blank, and nothing to itself.
        let moved: BTreeMap<i64, i64> =
            history.days[&group(70.0)].iter().map(|(day, n)| (*day, -(*n as i64))).collect();
        assert_eq!(history.level_moved(&group(70.0), &moved, &WISH), 0);
        assert_eq!(history.level_moved(&group(70.0), &BTreeMap::new(), &WISH), held.level);
    }

    #[test]
    fn a_lens_that_was_not_made_makes_the_history_longer() {
        let mut history = History::default();
        history.count(group(70.0), Some("2025-01-01"));
        history.count_unmade(Some("2025-01-14"));
        history.count_unmade(None);
        assert_eq!((history.length_days(), history.weeks(), history.undated), (14, 2, 0));
    }

    #[test]
    fn lenses_without_a_date_are_counted_apart() {
        let mut history = History::default();
        history.count(group(70.0), None);
        history.count(group(65.0), Some("2025-03-01"));
        assert_eq!((history.undated, history.has(&group(65.0)), history.has(&group(70.0))), (1, true, false));
        assert!(history.holdings(&WISH).is_empty() && history.backtest(&WISH).is_none());
    }
}
