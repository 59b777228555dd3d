//! A fit: one frame at one eye size with one lens option, both eyes.
//!
//! Units: mm and grams in the names.

use super::{Ask, EdgeWork, Impossible, Made, Surfacing, make};
use crate::choose::LensOption;
use crate::choose::base::{self, Base};
use crate::eye::{Eye, Eyes};
use crate::frame::{Boxing, Centration, Frame};
use crate::light::ReferenceLine;
use crate::outline::Outline;
use crate::rx::{EyeRx, Prescription};
use std::sync::Arc;

/// A frame at one eye size, its outlines prepared once for all lens options.
#[derive(Clone, Debug)]
pub struct Mounting<'a> {
    /// The frame.
    pub frame: &'a Frame,
    /// The eye size.
    pub boxing: Boxing,
    /// The outlines of both lenses.
    pub outlines: Arc<Eyes<Outline>>,
}

/// What a laboratory wants to know of one lens.
#[derive(Clone, Debug, PartialEq)]
pub struct LabWork {
    /// The work on its edge.
    pub edging: EdgeWork,
    /// The work on its back.
    pub surfacing: Surfacing,
}

/// One frame at one eye size with one lens option.
#[derive(Clone, Debug)]
pub struct Fit<'a> {
    /// The frame at its size.
    pub mounting: Mounting<'a>,
    /// The lens option.
    pub option: &'a LensOption,
    /// What it is made for.
    pub prescription: &'a Prescription,
    /// Both lenses, or why the pair cannot be made.
    pub outcome: Result<Pair, PairImpossible>,
}

/// Both lenses of a fit.
#[derive(Clone, Debug)]
pub struct Pair {
    /// Each lens.
    pub eyes: Eyes<Made>,
    /// Of the frame without lenses, where known.
    pub frame_g: Option<f64>,
}

/// Why a pair cannot be made: the first eye that cannot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PairImpossible {
    /// Which eye.
    pub eye: Eye,
    /// Why.
    pub why: Impossible,
}

impl Pair {
    /// Both lenses together.
    #[must_use]
    pub fn mass_g(&self) -> f64 {
        self.eyes.right.mass_g + self.eyes.left.mass_g
    }

    /// The larger thickest edge of the two.
    #[must_use]
    pub fn edge_max_mm(&self) -> f64 {
        let edge = |eye| self.eyes.of(eye).thickness.edges.max.thickness_mm;
        edge(Eye::Right).max(edge(Eye::Left))
    }

    /// The larger centre of the two; `None` where a reference point lies outside its shape.
    #[must_use]
    pub fn centre_max_mm(&self) -> Option<f64> {
        Some(self.eyes.right.thickness.centre_mm?.max(self.eyes.left.thickness.centre_mm?))
    }

    /// Lenses and frame, where the frame's mass is known.
    #[must_use]
    pub fn with_frame_g(&self) -> Option<f64> {
        self.frame_g.map(|frame| frame + self.mass_g())
    }
}

impl<'a> Mounting<'a> {
    /// A frame at a size of its own or another one.
    #[must_use]
    pub fn new(frame: &'a Frame, boxing: Boxing) -> Mounting<'a> {
        let outline = |eye| frame.shape.outline(eye, boxing.eye_size_mm, boxing.depth_mm);
        Mounting { frame, boxing, outlines: Arc::new(Eyes::from_fn(outline)) }
    }

    /// Where the reference point of an eye lies.
    #[must_use]
    pub fn centration(&self, eye: Eye, pd_mm: f64) -> Centration {
        Centration::new(&self.boxing, pd_mm, *self.frame.centre_up_mm.of(eye))
    }

    /// What is asked of one eye.
    #[must_use]
    pub fn ask(
        &'a self,
        eye: Eye,
        rx: &'a EyeRx,
        line: ReferenceLine,
        option: &'a LensOption,
        base: Option<Base>,
    ) -> Ask<'a> {
        Ask {
            eye,
            rx,
            line,
            outline: self.outlines.of(eye),
            centration: self.centration(eye, rx.pd_mm),
            rim: self.frame.rim,
            rim_depth_mm: self.frame.rim_depth_mm,
            position: self.frame.edge.position,
            option,
            base,
        }
    }
}

impl<'a> Fit<'a> {
    /// Both lenses of an option in a frame.
    #[must_use]
    pub fn new(mounting: &Mounting<'a>, prescription: &'a Prescription, option: &'a LensOption) -> Fit<'a> {
        let bases = base::pair(option, &prescription.eyes.map(|rx| rx.power));
        Fit::on_bases(mounting, prescription, option, &bases)
    }

    /// The same on base curves that were chosen before.
    #[must_use]
    pub fn on_bases(
        mounting: &Mounting<'a>,
        prescription: &'a Prescription,
        option: &'a LensOption,
        bases: &Eyes<Option<Base>>,
    ) -> Fit<'a> {
        let lens = |eye| {
            let rx = prescription.eyes.of(eye);
            let ask = mounting.ask(eye, rx, prescription.reference_line, option, *bases.of(eye));
            make(&ask).map_err(|why| PairImpossible { eye, why })
        };
        let outcome = lens(Eye::Right).and_then(|right| {
            let left = lens(Eye::Left)?;
            Ok(Pair { eyes: Eyes { right, left }, frame_g: mounting.frame.mass_g })
        });
        Fit { mounting: mounting.clone(), option, prescription, outcome }
    }

    /// FRAME/SIZE/LENS, as options are addressed.
    #[must_use]
    pub fn address(&self) -> String {
        format!("{}/{}/{}", self.mounting.frame.name, self.mounting.boxing.eye_size_mm, self.option.name)
    }

    /// The work on edge and back of one of its lenses.
    #[must_use]
    pub fn lab_work(&self, eye: Eye, made: &Made) -> LabWork {
        let (frame, outline, option) = (self.mounting.frame, self.mounting.outlines.of(eye), self.option);
        LabWork {
            edging: made.edge_work(eye, frame, outline, option, self.prescription.reference_line),
            surfacing: made.surfacing(eye, outline, option),
        }
    }

    /// The pair, where it can be made.
    #[must_use]
    pub fn pair(&self) -> Option<&Pair> {
        self.outcome.as_ref().ok()
    }
}
