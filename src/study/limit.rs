//! The other way round: how large an eye size, how strong a sphere, how low an index and which pd still stay within a
//! wish for the thickest edge.
//!
//! Units: mm in the names.

use super::largest::{EyeSize, edges_mm, largest_eye_size, sized, thicker};
use super::mend::{Mends, in_material};
use super::sure::Sure;
use super::tip::{Tip, Varied};
use crate::assess::{Fit, Mounting, Pair};
use crate::choose::LensOption;
use crate::eye::Eye;
use crate::job::Addressed;
use crate::material::Shelf;
use rayon::prelude::*;

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
    /// Where no eye size is within the wish: what would be, at the size asked of.
    pub mends: Option<Mends>,
}

/// A lens option in a material of the shelf, the rest as the job has it.
#[derive(Clone, Debug)]
pub struct InMaterial {
    /// The option in that material.
    pub option: LensOption,
    /// The largest eye size.
    pub eye_size: EyeSize,
    /// Thickest edge at the size asked of; `None` where it cannot be made.
    pub edge_mm: Option<f64>,
    /// Mass of the pair there.
    pub mass_g: Option<f64>,
}

/// The whole answer, of one lens option or of several in the same frame at the same size.
#[derive(Clone, Debug)]
pub struct Limits<'a> {
    /// For each lens option.
    pub each: Vec<Limit<'a>>,
    /// Of a single lens option: that option first, then in each other material of the shelf, by rising index.
    pub materials: Vec<InMaterial>,
}

impl<'a> Limit<'a> {
    /// Works it out. The shelf holds what may be tried where no eye size helps.
    #[must_use]
    pub fn of(at: &Addressed<'a>, wish_mm: f64, shelf: &Shelf) -> Limit<'a> {
        let eye_size = largest_eye_size(at, wish_mm);
        let varied = Varied::new(at);
        let fit = varied.fit();
        let (eye, edge_mm) = match &fit.outcome {
            Ok(pair) => (thicker(&edges_mm(pair)), Some(pair.edge_max_mm())),
            Err(why) => (why.eye, None),
        };
        let mends = eye_size.is_none().then(|| Mends::of(at, wish_mm, shelf));
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
            mends,
            eye_size,
        }
    }

    /// Is the wish kept as prescribed, at the size that was asked of, in the eye that is worse?
    #[must_use]
    pub fn is_kept(&self) -> bool {
        self.edge_mm.is_some_and(|edge_mm| edge_mm <= self.wish_mm)
    }
}

impl<'a> Limits<'a> {
    /// Works them out.
    #[must_use]
    pub fn of(options: &[Addressed<'a>], wish_mm: f64, shelf: &Shelf) -> Limits<'a> {
        let materials = match options {
            [only] => in_materials(only, wish_mm, shelf),
            _ => Vec::new(),
        };
        Limits { each: options.par_iter().map(|at| Limit::of(at, wish_mm, shelf)).collect(), materials }
    }

    /// The option with the largest size, the first of equal ones; `None` of none.
    #[must_use]
    pub fn best(&self) -> Option<&Limit<'a>> {
        let size = |limit: &Limit<'a>| limit.eye_size.largest_mm().unwrap_or(f64::NEG_INFINITY);
        self.each.iter().reduce(|best, next| if size(next) > size(best) { next } else { best })
    }
}

fn in_materials(at: &Addressed<'_>, wish_mm: f64, shelf: &Shelf) -> Vec<InMaterial> {
    let own = at.option.substance.id();
    let others = shelf.materials.iter().filter(|material| own != Some(&material.id));
    let options: Vec<LensOption> =
        std::iter::once(at.option.clone()).chain(others.map(|material| in_material(at.option, material))).collect();
    let one = |option: LensOption| {
        let fit = Fit::new(&Mounting::new(at.frame, at.boxing), at.prescription, &option);
        let (edge_mm, mass_g) = (fit.pair().map(Pair::edge_max_mm), fit.pair().map(Pair::mass_g));
        let eye_size = largest_eye_size(&Addressed { option: &option, ..*at }, wish_mm);
        InMaterial { eye_size, edge_mm, mass_g, option }
    };
    options.into_par_iter().map(one).collect()
}
