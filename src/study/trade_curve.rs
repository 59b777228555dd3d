//! Eye size traded against bridge: one distance between the boxed centres, so that the frame is as wide on the face and
//! the pupils lie where they did; from the true solve.
//!
//! Units: mm in the names. Shape, proportions, height above the boxed centre and base curve stay as they are at the
//! frame's first size.

use super::size_curve::{self, SizeCurve, Way};
use crate::choose::LensOption;
use crate::frame::{Boxing, Frame};
use crate::keys;
use crate::rx::Prescription;

/// How far the eye size is traded both ways.
const MOST_MM: f64 = 6.0;
/// Steps of a curve.
const STEP_MM: f64 = 1.0;

/// A frame's first box with this eye size, and as much bridge as keeps the distance between the boxed centres.
fn traded(first: &Boxing, eye_size_mm: f64) -> Boxing {
    Boxing { bridge_mm: first.centre_distance_mm() - eye_size_mm, ..first.at_eye_size(eye_size_mm) }
}

/// The boxes of a frame's first size, its eye size traded against the bridge: rising eye sizes, as far as bridges are
/// usual. Fewer than two where there is nothing to trade.
#[must_use]
pub fn boxings(frame: &Frame) -> Vec<Boxing> {
    let Some(first) = frame.sizes.first() else { return Vec::new() };
    let [narrow, wide] = keys::BRIDGE.usual.unwrap_or([first.bridge_mm; 2]);
    let [small, large] = keys::EYE_SIZES.refused.allowed(0.0).unwrap_or([first.eye_size_mm; 2]);
    let steps = (MOST_MM / STEP_MM).round() as i32;
    let by = |step: i32| {
        if step == 0 { *first } else { traded(first, first.eye_size_mm + STEP_MM * f64::from(step)) }
    };
    let usual = |boxing: &Boxing| {
        boxing == first || (narrow..=wide).contains(&boxing.bridge_mm) && (small..=large).contains(&boxing.eye_size_mm)
    };
    (-steps..=steps).map(by).filter(usual).collect()
}

/// The curves of a frame, a line for each lens option.
#[must_use]
pub fn trade_curves<'a>(
    frame: &'a Frame,
    options: &'a [LensOption],
    prescription: &'a Prescription,
) -> Vec<SizeCurve<'a>> {
    let at = |size| frame.sizes.first().map(|first| traded(first, size));
    size_curve::curves(&Way { frame, prescription, boxings: boxings(frame), at: &at }, options)
}
