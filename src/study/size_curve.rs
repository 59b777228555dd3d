//! One frame, every eye size: thickest edge, centre and mass for each lens option, from the true solve.
//!
//! Units: mm and grams in the names. Base curve and height above the boxed centre stay as they are; bridge and proportions
//! follow the sizes that the frame is offered in.

use crate::assess::{Fit, Mounting};
use crate::choose::LensOption;
use crate::frame::Frame;
use crate::keys;
use crate::rx::Prescription;

/// How far beyond the offered sizes a curve is drawn.
const MARGIN_MM: f64 = 4.0;
/// Steps of a curve.
const STEP_MM: f64 = 1.0;

/// A pair at one eye size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizePoint {
    /// The size.
    pub eye_size_mm: f64,
    /// The larger thickest edge of the two.
    pub edge_max_mm: f64,
    /// The larger centre of the two; `None` where a reference point lies outside its shape.
    pub centre_mm: Option<f64>,
    /// Both lenses.
    pub mass_g: f64,
}

impl SizePoint {
    /// That of a fit, where it can be made.
    #[must_use]
    pub fn of(fit: &Fit<'_>) -> Option<SizePoint> {
        fit.pair().map(|pair| SizePoint {
            eye_size_mm: fit.mounting.boxing.eye_size_mm,
            edge_max_mm: pair.edge_max_mm(),
            centre_mm: pair.centre_max_mm(),
            mass_g: pair.mass_g(),
        })
    }
}

/// A lens option over eye sizes.
#[derive(Clone, Debug)]
pub struct SizeCurve<'a> {
    /// The lens option.
    pub option: &'a LensOption,
    /// Rising eye sizes; those that cannot be made are left out.
    pub points: Vec<SizePoint>,
}

/// The eye sizes over which a frame's curves run, rising: those offered, and a little beyond.
#[must_use]
pub fn sizes_mm(frame: &Frame) -> Vec<f64> {
    let offered = || frame.sizes.iter().map(|boxing| boxing.eye_size_mm);
    let (low, high) = (offered().fold(f64::INFINITY, f64::min), offered().fold(f64::NEG_INFINITY, f64::max));
    let [least, most] = keys::EYE_SIZES.refused.allowed(0.0).unwrap_or([low, high]);
    let (from, to) = ((low - MARGIN_MM).max(least), (high + MARGIN_MM).min(most));
    let steps = ((to - from) / STEP_MM).floor() as usize;
    let mut sizes: Vec<f64> = (0..=steps).map(|step| from + STEP_MM * step as f64).chain(offered()).collect();
    sizes.sort_by(f64::total_cmp);
    sizes.dedup();
    sizes
}

/// The curves of a frame, a line for each lens option.
#[must_use]
pub fn size_curves<'a>(
    frame: &'a Frame,
    options: &'a [LensOption],
    prescription: &'a Prescription,
) -> Vec<SizeCurve<'a>> {
    let boxings = sizes_mm(frame).into_iter().filter_map(|size| frame.at_eye_size(size));
    let mountings: Vec<Mounting<'_>> = boxings.map(|boxing| Mounting::new(frame, boxing)).collect();
    options
        .iter()
        .map(|option| SizeCurve {
            option,
            points: mountings
                .iter()
                .filter_map(|mounting| SizePoint::of(&Fit::new(mounting, prescription, option)))
                .collect(),
        })
        .collect()
}
