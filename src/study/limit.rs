//! The other way round: how large an eye size, how strong a sphere, how low an index and which pd still stay within a
//! wish for the thickest edge.
//!
//! Units: mm in the names.

use super::largest::{EyeSize, edges_mm, largest_eye_size, sized, thicker};
use super::sure::Sure;
use super::tip::{Tip, Varied};
use crate::eye::Eye;
use crate::job::Addressed;

/// What stays within a wish for the thickest edge, with one lens option.
#[derive(Clone, Debug)]
pub struct Limit<'a> {
    /// What was asked of: the sphere, the index and the pd are looked for at its size.
    pub at: Addressed<'a>,
    /// The wish.
    pub wish_mm: f64,
    /// The largest eye size.
    pub eye_size: EyeSize,
    /// The eye with the thicker edge, or the one that cannot be made: sphere and pd are looked for in it.
    pub eye: Eye,
    /// Its thickest edge as prescribed; `None` where it cannot be made.
    pub edge_mm: Option<f64>,
    /// The strongest sphere (minus-cylinder form; cylinder, axis and prism kept): stronger than prescribed as far as the
    /// wish is kept, or weaker until it is.
    pub sphere: Tip,
    /// The least index within the wish, of both eyes, with the same minima and base.
    pub index: Tip,
    /// The nearest pd at which the wish begins to be passed, or to be kept.
    pub pd: Tip,
    /// How sure the edge is at the largest eye size, or else as asked.
    pub sure: Option<Sure>,
}

impl<'a> Limit<'a> {
    /// Works it out.
    #[must_use]
    pub fn of(at: &Addressed<'a>, wish_mm: f64) -> Limit<'a> {
        let eye_size = largest_eye_size(at, wish_mm);
        let varied = Varied::new(at);
        let fit = varied.fit();
        let (eye, edge_mm) = match &fit.outcome {
            Ok(pair) => (thicker(&edges_mm(pair)), Some(pair.edge_max_mm())),
            Err(why) => (why.eye, None),
        };
        let answer = match &eye_size {
            EyeSize::UpTo { eye_size_mm, .. } => Some(sized(at, *eye_size_mm)),
            EyeSize::Every { .. } | EyeSize::No { .. } => None,
        };
        Limit {
            at: *at,
            wish_mm,
            eye,
            edge_mm,
            sphere: varied.strongest_sphere(eye, wish_mm),
            index: varied.least_index(wish_mm),
            pd: varied.pd_tips(eye, wish_mm),
            sure: Sure::of(answer.as_ref().unwrap_or(&fit)),
            eye_size,
        }
    }

    /// Is the wish kept as prescribed, at the size that was asked of, in the eye that is worse?
    #[must_use]
    pub fn is_kept(&self) -> bool {
        self.edge_mm.is_some_and(|edge_mm| edge_mm <= self.wish_mm)
    }
}
