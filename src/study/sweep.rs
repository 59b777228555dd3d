//! One or two things varied, all else as the job has it: each value worked as a pair of its own.
//!
//! Units: those of the keys and figures. A pair that cannot be made is a row like the others, with its reason.
//!
//! The height of the reference point above the boxed centre stays as it is. What an order leaves open is chosen for each
//! value as it would be for an order with that value, so that every row is what `compare` has for it. So the base curve
//! stays while sizes and pupil distances vary, since Vogel's rule looks at the power alone, and may change with the power
//! or the material. Only where the bare index varies are base curve and minima those of the material that it began with,
//! since a bare index comes in no list.

mod order;
mod show;
mod what;

pub use order::Order;
pub use show::{Show, defaults};
pub use what::{Value, Vary, VaryFault, WHAT, What};

use crate::advice::{self, Caution};
use crate::assess::{Fit, LabWork, Mounting, Pair, PairImpossible};
use crate::choose::base::Base;
use crate::choose::{Substance, Supply, base, minimum};
use crate::eye::{Eye, Eyes};
use crate::job::{Addressed, MOST_COMBINATIONS};
use crate::keys;
use crate::outline::Outline;
use rayon::prelude::*;
use std::sync::Arc;

/// No more things are varied at once.
pub const MOST_VARIED: usize = 2;
/// No more rows are worked.
pub const MOST_ROWS: usize = MOST_COMBINATIONS;

/// What a sweep is asked.
#[derive(Clone, Debug)]
pub struct Asked<'a> {
    /// The option that is varied.
    pub at: Addressed<'a>,
    /// The eye in which sphere, cylinder, axis, prism and pd vary; `None` for both.
    pub eye: Option<Eye>,
    /// One thing, or two.
    pub vary: Vec<Vary>,
}

/// A sweep, worked.
#[derive(Clone, Debug)]
pub struct Sweep<'a> {
    /// What was asked.
    pub asked: Asked<'a>,
    /// For each value of the first thing each of the second.
    pub rows: Vec<Row>,
}

/// The values of what is varied, and the pair that comes of them.
#[derive(Clone, Debug)]
pub struct Row {
    /// One for each thing that is varied.
    pub values: Vec<Value>,
    /// What was made.
    pub order: Order,
    /// Both lenses, or why the pair cannot be made.
    pub outcome: Result<Pair, PairImpossible>,
    outlines: Arc<Eyes<Outline>>,
}

/// A rule of advice that says something within a sweep.
#[derive(Clone, Debug)]
pub struct Cautioned {
    /// What it says in the first row that it is about.
    pub first: Caution,
    /// Places of the rows that it is about, rising.
    pub rows: Vec<usize>,
}

impl<'a> Asked<'a> {
    /// Checks that these can be varied, together and of this option.
    ///
    /// # Errors
    /// The first [`VaryFault`].
    pub fn new(at: Addressed<'a>, eye: Option<Eye>, vary: Vec<Vary>) -> Result<Asked<'a>, VaryFault> {
        let words: Vec<&'static str> = vary.iter().map(|vary| vary.what.word).collect();
        if words.is_empty() || words.len() > MOST_VARIED {
            return Err(VaryFault::HowMany { found: words.len() });
        }
        if let [one, other] = words[..] {
            let exclude = |a: &str, b: &str| (one == a && other == b) || (one == b && other == a);
            if one == other || exclude("material", "index") {
                return Err(VaryFault::Together { one, other });
            }
        }
        let rows = vary.iter().map(|vary| vary.values.len()).product();
        if rows > MOST_ROWS {
            return Err(VaryFault::TooMany { found: rows });
        }
        let order = Order::of(&at);
        for varied in &vary {
            if let Some(why) = (varied.what.unfit)(&order, eye) {
                return Err(VaryFault::Unfit { word: varied.what.word, why });
            }
        }
        let supplies = vary.iter().flat_map(|vary| &vary.values).filter_map(Value::supply);
        let ready_made = supplies.chain([at.option.supply]).any(|supply| supply == Supply::Stock);
        let own = vary.iter().find(|vary| matches!(vary.what.word, "index" | "base_curve_d"));
        if let (true, Some(own)) = (ready_made, own) {
            return Err(VaryFault::Unfit { word: own.what.word, why: what::READY_MADE });
        }
        Ok(Asked { at, eye, vary })
    }

    /// Does this vary?
    #[must_use]
    pub fn varies(&self, word: &str) -> bool {
        self.vary.iter().any(|vary| vary.what.word == word)
    }

    /// How many rows there will be.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.vary.iter().map(|vary| vary.values.len()).product()
    }

    fn values(&self) -> Vec<Vec<Value>> {
        match &self.vary[..] {
            [one] => one.values.iter().map(|value| vec![value.clone()]).collect(),
            [one, other, ..] => {
                let beside = |a: &Value| other.values.iter().map(|b| vec![a.clone(), b.clone()]).collect::<Vec<_>>();
                one.values.iter().flat_map(beside).collect()
            }
            [] => Vec::new(),
        }
    }

    fn row(&self, values: Vec<Value>) -> Row {
        let mut order = Order::of(&self.at);
        // In the order of the table, whatever was named first: a depth counts after the eye size has set another.
        for what in WHAT {
            for (_, value) in self.vary.iter().zip(&values).filter(|(vary, _)| std::ptr::eq(vary.what, what)) {
                (what.put)(&mut order, self.eye, value);
            }
        }
        let bases = self.fixed_bases(&order);
        Row::of(order, bases, values)
    }

    /// Where the bare index varies: from those that the material as it was comes in.
    fn fixed_bases(&self, order: &Order) -> Option<Eyes<Option<Base>>> {
        let fixed = self.varies("index") && !self.varies("base_curve_d");
        fixed.then(|| base::pair(self.at.option, &order.prescription.eyes.map(|rx| rx.power)))
    }
}

impl<'a> Sweep<'a> {
    /// Works it out on all cores, and tells of each row that is done.
    #[must_use]
    pub fn of(asked: Asked<'a>, done: &(dyn Fn() + Sync)) -> Sweep<'a> {
        let one = |values| {
            let row = asked.row(values);
            done();
            row
        };
        let rows = asked.values().into_par_iter().map(one).collect();
        Sweep { asked, rows }
    }

    /// What the option has of one of the things that vary; `None` where its eyes differ.
    #[must_use]
    pub fn own_value(&self, at: usize) -> Option<Value> {
        let vary = self.asked.vary.get(at)?;
        (vary.what.own)(&Order::of(&self.asked.at), self.asked.eye)
    }

    /// The cautions of all pairs, each rule once, in the order of the rules.
    #[must_use]
    pub fn cautions(&self) -> Vec<Cautioned> {
        let of_rows: Vec<Vec<Caution>> = self.rows.par_iter().map(|row| advice::cautions(&row.fit())).collect();
        let of_rule = |rule: &advice::Rule| {
            let said = |cautions: &[Caution]| cautions.iter().copied().find(|caution| caution.rule.id == rule.id);
            let all = of_rows.iter().enumerate().filter_map(|(place, cautions)| Some((place, said(cautions)?)));
            let (rows, cautions): (Vec<usize>, Vec<Caution>) = all.unzip();
            cautions.first().map(|first| Cautioned { first: *first, rows })
        };
        advice::RULES.iter().filter_map(of_rule).collect()
    }

    /// The row that is the option as the job has it, where it is among them.
    #[must_use]
    pub fn own(&self) -> Option<&Row> {
        let own = Order::of(&self.asked.at);
        let is_own = |row: &&Row| {
            let pairs = self.asked.vary.iter().zip(&row.values);
            pairs.into_iter().all(|(vary, value)| (vary.what.own)(&own, self.asked.eye).as_ref() == Some(value))
        };
        self.rows.iter().find(is_own)
    }
}

impl Row {
    fn of(order: Order, bases: Option<Eyes<Option<Base>>>, values: Vec<Value>) -> Row {
        let mounting = Mounting::new(&order.frame, order.boxing);
        let fit = match bases {
            Some(bases) => Fit::on_bases(&mounting, &order.prescription, &order.option, &bases),
            None => Fit::new(&mounting, &order.prescription, &order.option),
        };
        let (outcome, outlines) = (fit.outcome, mounting.outlines.clone());
        Row { values, outcome, outlines, order }
    }

    /// The pair as a fit.
    #[must_use]
    pub fn fit(&self) -> Fit<'_> {
        let (frame, boxing) = (&self.order.frame, self.order.boxing);
        Fit {
            mounting: Mounting { frame, boxing, outlines: self.outlines.clone() },
            option: &self.order.option,
            prescription: &self.order.prescription,
            outcome: self.outcome.clone(),
        }
    }

    /// The pair, where it can be made.
    #[must_use]
    pub fn pair(&self) -> Option<&Pair> {
        self.outcome.as_ref().ok()
    }

    /// The work on edge and back of one of its lenses.
    #[must_use]
    pub fn lab_work(&self, eye: Eye) -> Option<LabWork> {
        let made = self.pair()?.eyes.of(eye);
        Some(self.fit().lab_work(eye, made))
    }

    /// Is a step to be expected between this row and the next: another base curve, or a ready-made lens of another
    /// diameter?
    #[must_use]
    pub fn steps_to(&self, next: &Row) -> bool {
        let ready_made = self.order.option.supply == Supply::Stock;
        let of = |row: &Row| {
            let eyes = row.pair().map(|pair| [&pair.eyes.right, &pair.eyes.left]);
            eyes.map(|eyes| eyes.map(|made| (made.base.base_curve_d, made.blank.diameter_mm.filter(|_| ready_made))))
        };
        let chosen = self.order.option.base_curve_d.is_none();
        chosen && matches!((of(self), of(next)), (Some(a), Some(b)) if a != b)
    }
}

/// Index, Abbe number and density of bare numbers; minima stay those of the material in the rim.
fn of_index(order: &mut Order, index: f64) {
    let line = order.prescription.reference_line;
    let minima = minimum::minima(&order.option, order.frame.rim).kept;
    let was = order.option.substance.glass(line);
    order.option.substance = Substance::Inline(crate::material::Glass::new(index, was.abbe, was.density, line));
    order.option.min_centre_mm.get_or_insert(minima.centre_mm);
    order.option.min_edge_mm.get_or_insert(minima.edge_mm);
}

/// From … to of a key that has a range in any shape.
fn allowed(key: &keys::Key) -> [f64; 2] {
    super::tip::range(key)
}
