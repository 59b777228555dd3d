//! The JSON of `limit`.
//!
//! Units: mm, dioptres and grams, each in the key's name.

use super::{FORMAT, finite, text};
use crate::eye::Eye;
use crate::report::{number, words};
use crate::study::largest::EyeSize;
use crate::study::limit::Limit;
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
    pub mass_g: [f64; 2],
}

/// The answer to `limit`, for other programs, as text: of the one lens option that was asked for, or of all.
#[must_use]
pub fn limit_text(limits: &[Limit<'_>]) -> String {
    limit(limits).map_or(String::new(), |limit| text(&limit))
}

/// The answer to `limit`, for other programs; `None` of no lens option.
#[must_use]
pub fn limit(limits: &[Limit<'_>]) -> Option<LimitWire> {
    let first = limits.first()?;
    Some(LimitWire {
        format: FORMAT,
        frame: first.at.frame.name.clone(),
        eye_size_mm: finite(first.at.boxing.eye_size_mm),
        edge_max_mm: finite(first.wish_mm),
        first: of_lens(first),
        lenses: if limits.len() > 1 { limits.iter().map(of_lens).collect() } else { Vec::new() },
    })
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
    }
}

/// How sure a pair is, for other programs.
#[must_use]
pub fn sure(of: &Sure) -> SureWire {
    let spread = |spread: &Spread| SpreadWire {
        doubt: spread.doubt.word(),
        edge_max_mm: spread.edge_mm.map(finite),
        mass_g: spread.mass_g.map(finite),
    };
    SureWire {
        edge_max_mm: finite(of.edge_max_mm),
        edge_give_or_take_mm: finite(of.give_or_take_mm()),
        mass_g: finite(of.mass_g),
        mass_give_or_take_g: finite(of.give_or_take_g()),
        spreads: of.spreads.iter().map(spread).collect(),
    }
}
