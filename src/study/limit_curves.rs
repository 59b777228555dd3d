//! The thickest edge on the way to each limit: over eye size, sphere, index and pd.
//!
//! Units: mm and dioptres in the names. What cannot be made leaves a gap.

use super::largest::{EyeSize, edge_at_size, sizes};
use super::limit::Limit;
use super::tip::{Tip, Varied, range};
use crate::keys;
use crate::math::change::places;

const SIZE_STEP_MM: f64 = 0.5;
const SPHERE_STEP_D: f64 = 0.25;
const INDEX_STEP: f64 = 0.02;
const PD_STEP_MM: f64 = 0.5;
/// So far a curve goes beyond what is offered, prescribed or found.
const SIZE_MARGIN_MM: f64 = 4.0;
const SPHERE_MARGIN_D: f64 = 2.0;
const PD_MARGIN_MM: f64 = 4.0;

/// A value and the thickest edge there; `None` where it cannot be made.
pub type Point = (f64, Option<f64>);

/// A curve for each limit, rising; the values prescribed, offered and found are points of it. Empty where there is nothing
/// to vary.
#[derive(Clone, Debug, PartialEq)]
pub struct Curves {
    /// Of either eye, over the eye size.
    pub eye_size: Vec<Point>,
    /// Of the eye in which sphere and pd are looked for, over its sphere.
    pub sphere: Vec<Point>,
    /// Of either eye, over the index.
    pub index: Vec<Point>,
    /// Of the same eye as the sphere, over its pd.
    pub pd: Vec<Point>,
}

impl Curves {
    /// Works them out.
    #[must_use]
    pub fn of(limit: &Limit<'_>) -> Curves {
        let (at, varied) = (&limit.at, Varied::new(&limit.at));
        let rx = at.prescription.eyes.of(limit.eye);
        let index = at.option.substance.glass(at.prescription.reference_line).index;
        let found = |tip: &Tip, from: f64| [Some(from), tip.value()].into_iter().flatten().collect::<Vec<f64>>();
        let ready_made = limit.sphere == Tip::ReadyMade;
        let made_to_order = |points: Vec<Point>| if ready_made { Vec::new() } else { points };
        let (spheres, indices) = (found(&limit.sphere, rx.power.sphere()), found(&limit.index, index));
        Curves {
            eye_size: over_size(limit),
            sphere: made_to_order(curve(sphere_range(limit, &spheres), SPHERE_STEP_D, &spheres, |sphere_d| {
                varied.edge_at_sphere(limit.eye, sphere_d)
            })),
            index: made_to_order(curve(range(&keys::INDEX), INDEX_STEP, &indices, |index| varied.edge_at_index(index))),
            pd: over_pd(limit, &varied, &found(&limit.pd, rx.pd_mm)),
        }
    }
}

fn over_pd(limit: &Limit<'_>, varied: &Varied<'_>, pds: &[f64]) -> Vec<Point> {
    let run = within(beyond(pds, PD_MARGIN_MM), range(&keys::PD));
    curve(run, PD_STEP_MM, pds, |pd_mm| varied.edge_at_pd(limit.eye, pd_mm))
}

/// From the smallest that is looked at where it is not within the wish.
fn over_size(limit: &Limit<'_>) -> Vec<Point> {
    let offered = limit.at.frame.sizes.iter().map(|boxing| boxing.eye_size_mm);
    let kept = limit.eye_size.kept_mm().into_iter().flatten();
    let also: Vec<f64> = offered.chain(limit.eye_size.largest_mm()).chain(kept).collect();
    let whole = range(&keys::EYE_SIZES);
    let [from, to] = within(beyond(&also, SIZE_MARGIN_MM), whole);
    let from = if matches!(limit.eye_size, EyeSize::No { .. }) { whole[0] } else { from };
    let mut places = sizes(&limit.at, from, to, SIZE_STEP_MM);
    places.extend(also);
    points(places, |size| edge_at_size(&limit.at, size))
}

/// Weaker no farther than to a spherical equivalent of none.
fn sphere_range(limit: &Limit<'_>, spheres: &[f64]) -> [f64; 2] {
    let power = limit.at.prescription.eyes.of(limit.eye).power;
    let none = -0.5 * power.cylinder();
    let run = within(beyond(spheres, SPHERE_MARGIN_D), range(&keys::SPHERE));
    // A weaker sphere that was found lies on the way there.
    if power.spherical_equivalent() > 0.0 { [run[0].max(none), run[1]] } else { [run[0], run[1].min(none)] }
}

/// The least and the most of these, and a margin.
fn beyond(values: &[f64], margin: f64) -> [f64; 2] {
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    [low - margin, values.iter().copied().fold(low, f64::max) + margin]
}

fn within([from, to]: [f64; 2], [least, most]: [f64; 2]) -> [f64; 2] {
    [from.max(least), to.min(most)]
}

fn curve([from, to]: [f64; 2], step: f64, also: &[f64], edge: impl Fn(f64) -> Option<f64>) -> Vec<Point> {
    let mut run = places(from, to, step, &[]);
    run.extend(also);
    points(run, edge)
}

/// Rising, each value once.
fn points(mut run: Vec<f64>, edge: impl Fn(f64) -> Option<f64>) -> Vec<Point> {
    run.sort_by(f64::total_cmp);
    run.dedup();
    run.into_iter().map(|value| (value, edge(value))).collect()
}
