//! One frame, every eye size: thickest edge, centre and mass for each lens option, from the true solve.
//!
//! Units: mm and grams in the names. Base curve and height above the boxed centre stay as they are; bridge and proportions
//! follow the sizes that the frame is offered in.

use crate::assess::{Fit, Mounting};
use crate::choose::{LensOption, Supply};
use crate::frame::{Boxing, Frame};
use crate::keys;
use crate::rx::Prescription;

/// How far beyond the offered sizes a curve is drawn.
const MARGIN_MM: f64 = 4.0;
/// Steps of a curve.
const STEP_MM: f64 = 1.0;
/// The place of a break is found to this.
const BREAK_MM: f64 = 0.01;
/// Breaks between two sizes that are looked for: both eyes may go to the next diameter, and few materials list more.
const MOST_BREAKS: usize = 4;

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
    /// Rising eye sizes, in pieces without a break: broken where a size cannot be made, and where a ready-made lens is cut
    /// from the next diameter, which has another thickness.
    pub pieces: Vec<Vec<SizePoint>>,
}

impl SizeCurve<'_> {
    /// The points of all pieces.
    pub fn points(&self) -> impl DoubleEndedIterator<Item = &SizePoint> {
        self.pieces.iter().flatten()
    }
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
    let boxings = sizes_mm(frame).into_iter().filter_map(|size| frame.at_eye_size(size)).collect();
    curves(&Way { frame, prescription, boxings, at: &|size| frame.at_eye_size(size) }, options)
}

/// A frame on its way through eye sizes.
pub(super) struct Way<'a, 'f> {
    pub(super) frame: &'a Frame,
    pub(super) prescription: &'a Prescription,
    /// Those to look at, rising.
    pub(super) boxings: Vec<Boxing>,
    /// One between them.
    pub(super) at: &'f dyn Fn(f64) -> Option<Boxing>,
}

/// The curves along a way.
pub(super) fn curves<'a>(way: &Way<'a, '_>, options: &'a [LensOption]) -> Vec<SizeCurve<'a>> {
    let mountings: Vec<Mounting<'_>> = way.boxings.iter().map(|&boxing| Mounting::new(way.frame, boxing)).collect();
    options.iter().map(|option| SizeCurve { option, pieces: way.pieces(&mountings, option) }).collect()
}

/// A pair, and the diameters of the ready-made lenses that it is cut from.
#[derive(Clone, Copy)]
struct Worked {
    point: SizePoint,
    cut_from_mm: [Option<f64>; 2],
}

impl Way<'_, '_> {
    fn worked(&self, mounting: &Mounting<'_>, option: &LensOption) -> Option<Worked> {
        let fit = Fit::new(mounting, self.prescription, option);
        let ready_made = option.supply == Supply::Stock;
        let eyes = &fit.pair()?.eyes;
        let cut_from_mm = [&eyes.right, &eyes.left].map(|made| made.blank.diameter_mm.filter(|_| ready_made));
        Some(Worked { point: SizePoint::of(&fit)?, cut_from_mm })
    }

    fn pieces(&self, mountings: &[Mounting<'_>], option: &LensOption) -> Vec<Vec<SizePoint>> {
        let mut pieces: Vec<Vec<SizePoint>> = Vec::new();
        let mut before: Option<Worked> = None;
        for now in mountings.iter().map(|mounting| self.worked(mounting, option)) {
            match (before, now) {
                (None, Some(now)) => pieces.push(vec![now.point]),
                (Some(before), Some(now)) => self.go_on(&mut pieces, option, before, now),
                (_, None) => {}
            }
            before = now;
        }
        pieces
    }

    /// From one size to the next, over what breaks lie between.
    fn go_on(&self, pieces: &mut Vec<Vec<SizePoint>>, option: &LensOption, mut from: Worked, to: Worked) {
        for _ in 0..MOST_BREAKS {
            if from.cut_from_mm == to.cut_from_mm {
                break;
            }
            let (last, first) = self.around_break(option, from, to);
            if last.point != from.point {
                put(pieces, last.point);
            }
            pieces.push(Vec::new());
            if first.point == to.point {
                break;
            }
            put(pieces, first.point);
            from = first;
        }
        put(pieces, to.point);
    }

    /// The last before the first break found, and the first behind it.
    fn around_break(&self, option: &LensOption, mut from: Worked, mut to: Worked) -> (Worked, Worked) {
        while to.point.eye_size_mm - from.point.eye_size_mm > BREAK_MM {
            let middle = 0.5 * (from.point.eye_size_mm + to.point.eye_size_mm);
            let boxing = (self.at)(middle);
            let worked = boxing.and_then(|boxing| self.worked(&Mounting::new(self.frame, boxing), option));
            match worked {
                Some(worked) if worked.cut_from_mm == from.cut_from_mm => from = worked,
                Some(worked) => to = worked,
                None => break,
            }
        }
        (from, to)
    }
}

fn put(pieces: &mut [Vec<SizePoint>], point: SizePoint) {
    if let Some(piece) = pieces.last_mut() {
        piece.push(point);
    }
}
