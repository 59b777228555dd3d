//! What would keep a wish for the thickest edge where no eye size does. Nothing is named that was not tried.
//!
//! Units: mm and dioptres in the names. One thing is changed at a time, at the eye size that was asked of.

use super::tip::{range, toward, with_jumps};
use crate::assess::{Fit, Mounting, Pair};
use crate::choose::base::{self, listed_bases};
use crate::choose::{LensOption, Substance, Supply, minimum};
use crate::eye::Eye;
use crate::frame::Boxing;
use crate::job::Addressed;
use crate::keys;
use crate::material::{Material, Shelf};
use crate::math::change::places;
use std::sync::Arc;

/// From bridge to bridge and from least edge to least edge that is looked at.
const STEP_MM: f64 = 0.5;
/// No wider bridge is tried (ours: the widest that a job is not warned of).
pub const WIDEST_BRIDGE_MM: f64 = 26.0;
/// Bases nearer than this are one, D.
const SAME_D: f64 = 1e-9;

/// One thing changed.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Change {
    /// This bridge, or one between it and [`WIDEST_BRIDGE_MM`].
    Bridge(f64),
    /// This material of the shelf, the rest as the job has it: of those that keep the wish the lightest.
    Material(Arc<Material>),
    /// This base curve in both eyes, among those that the material comes in.
    Base(f64),
    /// Made to order in place of ready-made.
    ToOrder,
    /// A least edge of this much.
    MinEdge(f64),
}

impl Change {
    /// The word used in JSON.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Change::Bridge(_) => "bridge",
            Change::Material(_) => "material",
            Change::Base(_) => "base",
            Change::ToOrder => "supply",
            Change::MinEdge(_) => "min_edge",
        }
    }
}

/// A change, and the thickest edge of either eye that comes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What is changed.
    pub change: Change,
    /// The edge then.
    pub edge_mm: f64,
}

/// What was tried: of each kind the least change that keeps the wish, or the lightest, else the one that comes nearest to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Mends {
    /// One of each kind that there is.
    pub tried: Vec<Mend>,
    /// The wish.
    pub wish_mm: f64,
}

impl Mends {
    /// Tries them.
    #[must_use]
    pub fn of(at: &Addressed<'_>, wish_mm: f64, shelf: &Shelf) -> Mends {
        let kinds = [bridges(at, wish_mm), materials(at, shelf), bases(at), to_order(at), min_edges(at, wish_mm)];
        let thinner = |best: Mend, next: Mend| if next.edge_mm < best.edge_mm { next } else { best };
        let best = |kind: Vec<Mend>| {
            let keeps = kind.iter().find(|mend| mend.edge_mm <= wish_mm).cloned();
            keeps.or_else(|| kind.into_iter().reduce(thinner))
        };
        Mends { tried: kinds.into_iter().filter_map(best).collect(), wish_mm }
    }

    /// Does this one keep the wish?
    #[must_use]
    pub fn keeps(&self, mend: &Mend) -> bool {
        mend.edge_mm <= self.wish_mm
    }
}

/// The thickest edge of another option in the same frame.
fn edge_with(at: &Addressed<'_>, option: &LensOption) -> Option<f64> {
    Fit::new(&Mounting::new(at.frame, at.boxing), at.prescription, option).pair().map(Pair::edge_max_mm)
}

fn tried(at: &Addressed<'_>, change: Change, option: &LensOption) -> Option<Mend> {
    edge_with(at, option).map(|edge_mm| Mend { change, edge_mm })
}

/// An option in another material, the rest as the job has it.
pub(super) fn in_material(option: &LensOption, material: &Arc<Material>) -> LensOption {
    LensOption {
        name: material.id.clone(),
        substance: Substance::Listed(material.clone()),
        price: None,
        worn: false,
        ..option.clone()
    }
}

/// Those of a higher index, the lightest pair first.
fn materials(at: &Addressed<'_>, shelf: &Shelf) -> Vec<Mend> {
    let line = at.prescription.reference_line;
    let index = at.option.substance.glass(line).index;
    let mounting = Mounting::new(at.frame, at.boxing);
    let one = |material: &Arc<Material>| {
        let option = in_material(at.option, material);
        let fit = Fit::new(&mounting, at.prescription, &option);
        let pair = fit.pair()?;
        Some((pair.mass_g(), Mend { change: Change::Material(material.clone()), edge_mm: pair.edge_max_mm() }))
    };
    let mut found: Vec<(f64, Mend)> =
        shelf.materials.iter().filter(|material| material.glass(line).index > index).filter_map(one).collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.into_iter().map(|(_, mend)| mend).collect()
}

/// Those nearest to the present one first.
fn bases(at: &Addressed<'_>) -> Vec<Mend> {
    let powers = at.prescription.eyes.map(|rx| rx.power);
    let present = base::pair(at.option, &powers);
    let (Supply::Surfaced, Some(right)) = (at.option.supply, present.right) else { return Vec::new() };
    let off = |base_d: f64| (base_d - right.base_curve_d).abs();
    let is_present = |base_d: f64| {
        present.iter().all(|(_, base)| base.is_some_and(|base| (base.base_curve_d - base_d).abs() < SAME_D))
    };
    let mut others: Vec<f64> = listed_bases(at.option).filter(|base_d| !is_present(*base_d)).collect();
    others.sort_by(|a, b| off(*a).total_cmp(&off(*b)));
    let on = |base_d: f64| LensOption { base_curve_d: Some(base_d), ..at.option.clone() };
    others.into_iter().filter_map(|base_d| tried(at, Change::Base(base_d), &on(base_d))).collect()
}

fn to_order(at: &Addressed<'_>) -> Vec<Mend> {
    let made = LensOption { supply: Supply::Surfaced, ..at.option.clone() };
    let is_other = at.option.supply == Supply::Stock;
    is_other.then(|| tried(at, Change::ToOrder, &made)).flatten().into_iter().collect()
}

/// The least bridge, no narrower than that of the size, from which on up to the widest that is usual the wish is kept; else
/// that widest.
fn bridges(at: &Addressed<'_>, wish_mm: f64) -> Vec<Mend> {
    let boxing = |bridge_mm| Boxing { bridge_mm, ..at.boxing };
    let edge = |bridge_mm| {
        let mounting = Mounting::new(at.frame, boxing(bridge_mm));
        Fit::new(&mounting, at.prescription, at.option).pair().map(Pair::edge_max_mm)
    };
    if WIDEST_BRIDGE_MM <= at.boxing.bridge_mm {
        return Vec::new();
    }
    let placed = |bridge_mm, eye| (boxing(bridge_mm), at.prescription.eyes.of(eye).pd_mm);
    let places = places(WIDEST_BRIDGE_MM, at.boxing.bridge_mm, STEP_MM, &[]);
    let keeps = edge(WIDEST_BRIDGE_MM).is_some_and(|edge| edge <= wish_mm);
    let least = keeps.then(|| toward(&edge, wish_mm, &with_jumps(at, &Eye::BOTH, places, placed)).value()).flatten();
    let bridge_mm = least.unwrap_or(WIDEST_BRIDGE_MM);
    edge(bridge_mm).map(|edge_mm| Mend { change: Change::Bridge(bridge_mm), edge_mm }).into_iter().collect()
}

/// The largest least edge with which the wish is kept; else the smallest that may be asked for.
fn min_edges(at: &Addressed<'_>, wish_mm: f64) -> Vec<Mend> {
    let [thinnest, _] = range(&keys::MIN_EDGE);
    let present = minimum::minima(at.option, at.frame.rim).kept.edge_mm;
    if at.option.supply == Supply::Stock || present <= wish_mm {
        return Vec::new();
    }
    let option = |min_edge_mm| LensOption { min_edge_mm: Some(min_edge_mm), ..at.option.clone() };
    let edge = |min_edge_mm| edge_with(at, &option(min_edge_mm));
    let mend = |value| edge(value).map(|edge_mm| Mend { change: Change::MinEdge(value), edge_mm });
    let kept = edge(thinnest).is_some_and(|edge| edge <= wish_mm);
    let most = if kept { toward(&edge, wish_mm, &places(thinnest, present, STEP_MM, &[])).value() } else { None };
    mend(most.unwrap_or(thinnest)).into_iter().collect()
}
