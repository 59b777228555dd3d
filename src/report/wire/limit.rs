//! The JSON of `limit`.
//!
//! Units: mm, dioptres and grams, each in the key's name.

use super::{FORMAT, finite, text};
use crate::choose::Supply;
use crate::eye::Eye;
use crate::job::Addressed;
use crate::report::{number, words};
use crate::study::compare::Lead;
use crate::study::largest::EyeSize;
use crate::study::limit::{InMaterial, Limit, Limits};
use crate::study::limit_curves::{Curves, Point};
use crate::study::mend::{Change, Mend, Mends};
use crate::study::sure::{Spread, Sure};
use crate::study::tip::Tip;
use serde::Serialize;

/// The answer to `limit`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitWire {
    /// The number of this format.
    pub format: i64,
    /// Name of the frame.
    pub frame: String,
    /// At this size sphere, index and pd are looked for.
    pub eye_size_mm: f64,
    /// The wish for the thickest edge of either eye.
    pub edge_max_mm: f64,
    /// The lens option that was asked for, or the first.
    #[serde(flatten)]
    pub first: LimitOfLensWire,
    /// Where none was asked for: every lens option of the job, in its order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lenses: Vec<LimitOfLensWire>,
    /// Where one was asked for: in its own material, then in every other of the shelf, the rest as the job has it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub materials: Vec<LimitInMaterialWire>,
}

/// A lens option in another material.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitInMaterialWire {
    /// Its id; null where the job gives its numbers.
    pub material: Option<String>,
    /// At the reference line.
    pub index: f64,
    /// From the smallest size that is looked at up to this one none passes the wish.
    pub largest_eye_size_mm: Option<f64>,
    /// Why there is none, or nothing larger though the wish is not reached.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// Thickest edge of either eye at the size asked of; null if it cannot be made.
    pub edge_max_mm: Option<f64>,
    /// Mass of the pair there.
    pub mass_g: Option<f64>,
}

/// What stays within the wish with one lens option. A limit is null where there is none, and then has a reason.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitOfLensWire {
    /// Name of the lens option.
    pub lens: String,
    /// From the smallest size that is looked at up to this one none passes the wish.
    pub largest_eye_size_mm: Option<f64>,
    /// Why there is none, or nothing larger though the wish is not reached.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// Where the smallest size is not within the wish: the first that are, from and to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kept_eye_sizes_mm: Option<[f64; 2]>,
    /// Where no size is: what was tried at the size asked of, one thing changed at a time.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub mends: Vec<MendWire>,
    /// The right lens at that size, or at the smallest where none is within the wish; null if it cannot be made.
    pub right: Option<EdgeMaxWire>,
    /// The left lens.
    pub left: Option<EdgeMaxWire>,
    /// The eye in which sphere and pd are looked for: the one with the thicker edge.
    pub eye: Eye,
    /// Of the minus-cylinder form.
    pub strongest_sphere_d: Option<f64>,
    /// Why there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strongest_sphere_reason: Option<String>,
    /// Of both eyes, with the same minima and base.
    pub least_index: Option<f64>,
    /// Why there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_index_reason: Option<String>,
    /// The nearest pd at which the wish begins to be passed, or to be kept.
    pub pd_tips_mm: Option<f64>,
    /// Why there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pd_tips_reason: Option<String>,
    /// How sure the pair is at the largest size, or else as asked; null where it cannot be made.
    pub sure: Option<SureWire>,
    /// The thickest edge on the way to each limit.
    pub curves: CurvesWire,
}

/// One thing changed, and the edge that comes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MendWire {
    /// bridge, material, base, supply or min_edge.
    pub change: &'static str,
    /// To what: millimetres, dioptres or a word.
    pub to: ChangedToWire,
    /// Thickest edge of either eye then.
    pub edge_max_mm: f64,
    /// Is that within the wish?
    pub within: bool,
}

/// What something is changed to.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
#[non_exhaustive]
pub enum ChangedToWire {
    /// Millimetres of a bridge or of a least edge, dioptres of a base curve.
    Number(f64),
    /// The id of a material; surfaced.
    Word(String),
}

/// Rising values of one thing, with the thickest edge there; null where it cannot be made.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CurvesWire {
    /// Over the eye size: of either eye.
    pub eye_size_mm: Vec<PointWire>,
    /// Over the sphere: of the eye named. Empty of a ready-made lens, as is the next.
    pub sphere_d: Vec<PointWire>,
    /// Over the index: of either eye.
    pub index: Vec<PointWire>,
    /// Over the pd: of the eye named.
    pub pd_mm: Vec<PointWire>,
}

/// A point of a curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PointWire {
    /// In the unit that the curve's name has.
    pub value: f64,
    /// Thickest edge there.
    pub edge_max_mm: Option<f64>,
}

/// Thickest edge.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct EdgeMaxWire {
    /// Of one lens.
    pub edge_max_mm: f64,
}

/// A pair, and how sure it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SureWire {
    /// The larger of the two.
    pub edge_max_mm: f64,
    /// Give or take this.
    pub edge_give_or_take_mm: f64,
    /// Centre, the larger of the two; null where a reference point lies outside its shape.
    pub centre_mm: Option<f64>,
    /// Give or take this; null also where a doubt moves it outside.
    pub centre_give_or_take_mm: Option<f64>,
    /// Of both lenses.
    pub mass_g: f64,
    /// Give or take this.
    pub mass_give_or_take_g: f64,
    /// What each doubt changes.
    pub spreads: Vec<SpreadWire>,
}

/// The least and the most that a doubt changes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SpreadWire {
    /// pd, base or centre.
    pub doubt: &'static str,
    /// From, to.
    pub edge_max_mm: [f64; 2],
    /// From, to.
    pub centre_mm: Option<[f64; 2]>,
    /// From, to.
    pub mass_g: [f64; 2],
}

/// The answer to `limit`, for other programs, as text: of the one lens option that was asked for, or of all.
#[must_use]
pub fn limit_text(limits: &Limits<'_>) -> String {
    limit(limits).map_or(String::new(), |limit| text(&limit))
}

/// The answer to `limit`, for other programs; `None` of no lens option.
#[must_use]
pub fn limit(limits: &Limits<'_>) -> Option<LimitWire> {
    let first = limits.each.first()?;
    Some(LimitWire {
        format: FORMAT,
        frame: first.at.frame.name.clone(),
        eye_size_mm: finite(first.at.boxing.eye_size_mm),
        edge_max_mm: finite(first.wish_mm),
        first: of_lens(first),
        lenses: if limits.each.len() > 1 { limits.each.iter().map(of_lens).collect() } else { Vec::new() },
        materials: limits.materials.iter().map(|one| in_material(first, one)).collect(),
    })
}

fn in_material(limit: &Limit<'_>, one: &InMaterial) -> LimitInMaterialWire {
    let at = Addressed { option: &one.option, ..limit.at };
    LimitInMaterialWire {
        material: one.option.substance.id().cloned(),
        index: finite(one.option.substance.glass(at.prescription.reference_line).index),
        largest_eye_size_mm: one.eye_size.largest_mm().map(finite),
        reason: words::limit_size_reason(&at, &one.eye_size).map(|reason| number::plain(&reason)),
        edge_max_mm: one.edge_mm.map(finite),
        mass_g: one.mass_g.map(finite),
    }
}

fn mends(of: &Mends) -> Vec<MendWire> {
    let to = |change: &Change| match change {
        Change::Bridge(value) | Change::Base(value) | Change::MinEdge(value) => ChangedToWire::Number(finite(*value)),
        Change::Material(material) => ChangedToWire::Word(material.id.clone()),
        Change::ToOrder => ChangedToWire::Word(Supply::Surfaced.word().to_owned()),
    };
    let one = |mend: &Mend| MendWire {
        change: mend.change.word(),
        to: to(&mend.change),
        edge_max_mm: finite(mend.edge_mm),
        within: of.keeps(mend),
    };
    of.tried.iter().map(one).collect()
}

fn curves(of: &Curves) -> CurvesWire {
    let point = |&(value, edge_mm): &Point| PointWire { value: finite(value), edge_max_mm: edge_mm.map(finite) };
    let points = |of: &[Point]| of.iter().map(point).collect();
    CurvesWire {
        eye_size_mm: points(&of.eye_size),
        sphere_d: points(&of.sphere),
        index: points(&of.index),
        pd_mm: points(&of.pd),
    }
}

fn of_lens(limit: &Limit<'_>) -> LimitOfLensWire {
    let (largest_eye_size_mm, edges_mm) = match &limit.eye_size {
        EyeSize::UpTo { eye_size_mm, edges_mm, .. } | EyeSize::Every { eye_size_mm, edges_mm } => {
            (Some(finite(*eye_size_mm)), Some(edges_mm))
        }
        EyeSize::No { at_smallest, .. } => (None, at_smallest.as_ref().ok().map(|smallest| &smallest.edges_mm)),
    };
    let edge = |eye| edges_mm.map(|edges| EdgeMaxWire { edge_max_mm: finite(*edges.of(eye)) });
    let reason = |tip: &Tip, told: String| tip.value().is_none().then(|| number::plain(&told));
    LimitOfLensWire {
        lens: limit.at.option.name.clone(),
        largest_eye_size_mm,
        reason: words::limit_reason(limit).map(|reason| number::plain(&reason)),
        kept_eye_sizes_mm: limit.eye_size.kept_mm().map(|sizes| sizes.map(finite)),
        mends: limit.mends.as_ref().map_or(Vec::new(), mends),
        right: edge(Eye::Right),
        left: edge(Eye::Left),
        eye: limit.eye,
        strongest_sphere_d: limit.sphere.value().map(finite),
        strongest_sphere_reason: reason(&limit.sphere, words::limit_sphere(limit)),
        least_index: limit.index.value().map(finite),
        least_index_reason: reason(&limit.index, words::limit_index(limit)),
        pd_tips_mm: limit.pd.value().map(finite),
        pd_tips_reason: reason(&limit.pd, words::limit_pd(limit)),
        sure: limit.sure.as_ref().map(sure),
        curves: curves(&Curves::of(limit)),
    }
}

/// How sure a pair is, for other programs.
#[must_use]
pub fn sure(of: &Sure) -> SureWire {
    let spread = |spread: &Spread| SpreadWire {
        doubt: spread.doubt.word(),
        edge_max_mm: spread.edge_mm.map(finite),
        centre_mm: spread.centre_mm.map(|change| change.map(finite)),
        mass_g: spread.mass_g.map(finite),
    };
    SureWire {
        edge_max_mm: finite(of.edge_max_mm),
        edge_give_or_take_mm: finite(of.give_or_take_mm()),
        centre_mm: of.centre_mm.map(finite),
        centre_give_or_take_mm: of.leading(Lead::Centre).map(|(_, give_or_take_mm)| finite(give_or_take_mm)),
        mass_g: finite(of.mass_g),
        mass_give_or_take_g: finite(of.give_or_take_g()),
        spreads: of.spreads.iter().map(spread).collect(),
    }
}
