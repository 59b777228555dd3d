//! The largest eye size of a frame within a wish for the thickest edge; where none is, why.
//!
//! Units: mm. Base curve and height above the boxed centre stay as they are. What cannot be made passes any wish.

use super::tip::{range, toward, with_jumps};
use crate::assess::{Fit, Mounting, Pair, PairImpossible};
use crate::choose::centre::SetBy;
use crate::eye::{Eye, Eyes};
use crate::job::Addressed;
use crate::keys;
use crate::math::change::{NARROW, last_before_change, places};
use crate::measure::EdgePoint;

/// From eye size to eye size that is looked at.
const STEP_MM: f64 = 0.5;
/// So far beyond the last size that can be made, it is said why the next cannot.
const PLAIN_MM: f64 = 0.2;
/// An edge this near to the wish has reached it.
const REACHED_MM: f64 = 1e-4;

/// The largest eye size of a frame, in its own proportions and on its first bridge, up to which every size from the
/// smallest stays within the wish.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub enum EyeSize {
    /// Up to this one.
    UpTo {
        /// The size.
        eye_size_mm: f64,
        /// Thickest edges there.
        edges_mm: Eyes<f64>,
        /// What comes beyond it.
        beyond: Beyond,
    },
    /// Every size that is looked at.
    Every {
        /// The largest.
        eye_size_mm: f64,
        /// Thickest edges there.
        edges_mm: Eyes<f64>,
    },
    /// Not even the smallest size that is looked at.
    No {
        /// The smallest.
        eye_size_mm: f64,
        /// What comes out there.
        at_smallest: Result<AtSmallest, PairImpossible>,
    },
}

impl EyeSize {
    /// The largest, where there is one.
    #[must_use]
    pub fn largest_mm(&self) -> Option<f64> {
        match self {
            EyeSize::UpTo { eye_size_mm, .. } | EyeSize::Every { eye_size_mm, .. } => Some(*eye_size_mm),
            EyeSize::No { .. } => None,
        }
    }

    /// The first sizes within the wish all the same, from and to, where the smallest is not.
    #[must_use]
    pub fn kept_mm(&self) -> Option<[f64; 2]> {
        match self {
            EyeSize::No { at_smallest: Ok(smallest), .. } => smallest.kept_mm,
            _ => None,
        }
    }

    /// Is no size at all within the wish?
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.largest_mm().is_none() && self.kept_mm().is_none()
    }
}

/// What comes beyond the largest eye size.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Beyond {
    /// The wish is passed.
    Wish,
    /// The lens cannot be made.
    Impossible(PairImpossible),
    /// The edge jumps past the wish, as a ready-made lens of the next diameter is needed.
    Larger,
}

/// The smallest size that is looked at, where it is not within the wish.
#[derive(Clone, Debug, PartialEq)]
pub struct AtSmallest {
    /// Thickest edges.
    pub edges_mm: Eyes<f64>,
    /// What passes the wish there.
    pub cause: NoSize,
    /// The first larger sizes that are within the wish all the same, from and to.
    pub kept_mm: Option<[f64; 2]>,
}

/// Why even the smallest size passes the wish.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum NoSize {
    /// The least edge that is kept is thicker than the wish.
    MinEdge {
        /// That minimum.
        min_edge_mm: f64,
    },
    /// The nasal edge alone passes it, and no larger size is within it: nasal reach hangs on no eye size.
    Nasal {
        /// Of this eye.
        eye: Eye,
        /// On the horizontal line through the boxed centre.
        nasal_mm: f64,
    },
    /// Another place of the edge does.
    Edge {
        /// Of this eye.
        eye: Eye,
        /// The thickest.
        point: EdgePoint,
    },
}

/// An option in its frame at an eye size, in the frame's own proportions and on its first bridge.
pub(super) fn sized<'a>(at: &Addressed<'a>, eye_size_mm: f64) -> Fit<'a> {
    // A frame has one size or more.
    let boxing = at.frame.sizes[0].at_eye_size(eye_size_mm);
    Fit::new(&Mounting::new(at.frame, boxing), at.prescription, at.option)
}

pub(super) fn edges_mm(pair: &Pair) -> Eyes<f64> {
    pair.eyes.map(|made| made.thickness.edges.max.thickness_mm)
}

pub(super) fn thicker(edges_mm: &Eyes<f64>) -> Eye {
    if edges_mm.left > edges_mm.right { Eye::Left } else { Eye::Right }
}

/// The thickest edge of either eye of an option at any eye size; `None` where it cannot be made.
#[must_use]
pub fn edge_at_size(at: &Addressed<'_>, eye_size_mm: f64) -> Option<f64> {
    sized(at, eye_size_mm).pair().map(Pair::edge_max_mm)
}

/// The largest eye size within the wish.
#[must_use]
pub fn largest_eye_size(at: &Addressed<'_>, wish_mm: f64) -> EyeSize {
    let [smallest, largest] = range(&keys::EYE_SIZES);
    let first = sized(at, smallest);
    match &first.outcome {
        Err(why) => return EyeSize::No { eye_size_mm: smallest, at_smallest: Err(*why) },
        Ok(pair) if pair.edge_max_mm() > wish_mm => {
            return EyeSize::No {
                eye_size_mm: smallest,
                at_smallest: Ok(AtSmallest::new(at, smallest, pair, wish_mm)),
            };
        }
        Ok(_) => {}
    }
    let edge = |size| edge_at_size(at, size);
    let last = last_before_change(excess(&edge, wish_mm), &sizes_to_look_at(at));
    let eye_size_mm = last.unwrap_or(largest);
    let fit = sized(at, eye_size_mm);
    // It is within the wish, so it was made.
    let edges_mm = edges_mm(fit.pair().expect("made"));
    match last {
        None => EyeSize::Every { eye_size_mm, edges_mm },
        Some(_) => EyeSize::UpTo { eye_size_mm, beyond: beyond(at, eye_size_mm, &edges_mm, wish_mm), edges_mm },
    }
}

/// How far a thickness is beyond a wish; what cannot be made passes any.
pub(super) fn excess(thickness: &impl Fn(f64) -> Option<f64>, wish_mm: f64) -> impl Fn(f64) -> f64 {
    move |size| thickness(size).map_or(f64::INFINITY, |thickness_mm| thickness_mm - wish_mm)
}

/// All eye sizes to look at, rising.
pub(super) fn sizes_to_look_at(at: &Addressed<'_>) -> Vec<f64> {
    let [smallest, largest] = range(&keys::EYE_SIZES);
    sizes(at, smallest, largest, STEP_MM)
}

/// The eye sizes to look at, both sides of each jump of a ready-made lens among them.
pub(super) fn sizes(at: &Addressed<'_>, from_mm: f64, to_mm: f64, step_mm: f64) -> Vec<f64> {
    let placed = |size, eye| (at.frame.sizes[0].at_eye_size(size), at.prescription.eyes.of(eye).pd_mm);
    with_jumps(at, &Eye::BOTH, places(from_mm, to_mm, step_mm, &[]), placed)
}

/// What comes beyond the largest size.
fn beyond(at: &Addressed<'_>, eye_size_mm: f64, edges_mm: &Eyes<f64>, wish_mm: f64) -> Beyond {
    if edges_mm.right.max(edges_mm.left) > wish_mm - REACHED_MM {
        return Beyond::Wish;
    }
    match sized(at, eye_size_mm + 2.0 * NARROW).outcome {
        // A little farther on, numbers differ enough to be told apart.
        Err(why) => Beyond::Impossible(sized(at, eye_size_mm + PLAIN_MM).outcome.err().unwrap_or(why)),
        Ok(_) => Beyond::Larger,
    }
}

impl AtSmallest {
    fn new(at: &Addressed<'_>, smallest_mm: f64, pair: &Pair, wish_mm: f64) -> AtSmallest {
        let kept_mm = kept_mm(at, smallest_mm, wish_mm);
        let cause = NoSize::of(pair, kept_mm.is_none(), wish_mm);
        AtSmallest { edges_mm: edges_mm(pair), cause, kept_mm }
    }
}

/// The first sizes within the wish, beyond a smallest one that is not.
fn kept_mm(at: &Addressed<'_>, smallest_mm: f64, wish_mm: f64) -> Option<[f64; 2]> {
    let [_, largest_mm] = range(&keys::EYE_SIZES);
    let edge = |size| edge_at_size(at, size);
    let from = toward(&edge, wish_mm, &sizes(at, smallest_mm, largest_mm, STEP_MM)).value()?;
    let to = toward(&edge, wish_mm, &sizes(at, from, largest_mm, STEP_MM)).value().unwrap_or(largest_mm);
    Some([from, to])
}

impl NoSize {
    /// Of a pair at the smallest size; `at_all` where no larger one is within the wish either.
    fn of(pair: &Pair, at_all: bool, wish_mm: f64) -> NoSize {
        let eye = thicker(&edges_mm(pair));
        let thickness = |eye| &pair.eyes.of(eye).thickness;
        let min_edge_mm = pair.eyes.of(eye).minima.kept.edge_mm;
        if min_edge_mm > wish_mm {
            return NoSize::MinEdge { min_edge_mm };
        }
        // Where the edge sets the thickness, as in plus, all of it hangs on the size.
        let other = if eye == Eye::Right { Eye::Left } else { Eye::Right };
        let nasal = |eye: &Eye| thickness(*eye).nasal_mm > wish_mm && thickness(*eye).set_by != SetBy::Edge;
        match [eye, other].into_iter().find(nasal).filter(|_| at_all) {
            Some(eye) => NoSize::Nasal { eye, nasal_mm: thickness(eye).nasal_mm },
            None => NoSize::Edge { eye, point: thickness(eye).edges.max },
        }
    }
}
