//! Where the thickest edge begins to pass a wish, or to keep it, as one thing varies: sphere, index, pd.
//!
//! Units: mm and dioptres in the names. All other things stay as they were resolved, the base curve and the minima among
//! them. What cannot be made passes any wish.

use crate::assess::{Fit, Mounting, make};
use crate::choose::base::{self, Base};
use crate::choose::centre::{self, Place, Settled};
use crate::choose::{Supply, blank, minimum};
use crate::eye::{Eye, Eyes};
use crate::frame::{Boxing, Centration};
use crate::job::Addressed;
use crate::keys::{self, Key};
use crate::lens::Recipe;
use crate::math::change::{NARROW, last_before_change, places};
use crate::rx::{EyeRx, Power};

const SPHERE_STEP_D: f64 = 0.25;
const INDEX_STEP: f64 = 0.02;
const PD_STEP_MM: f64 = 0.5;
/// So far beside a jump it is looked at.
const BESIDE_MM: f64 = 1e-7;
/// The smallest blank grows on both sides of a least one.
const MOST_CROSSINGS: usize = 4;

/// The value at which something tips from within the wish to beyond it, or back.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Tip {
    /// The last value within the wish.
    At(f64),
    /// It does not tip as far as these ends.
    Not(Vec<End>),
    /// A ready-made lens comes as it is listed.
    ReadyMade,
}

impl Tip {
    /// The value, where there is one.
    #[must_use]
    pub fn value(&self) -> Option<f64> {
        match self {
            Tip::At(value) => Some(*value),
            Tip::Not(_) | Tip::ReadyMade => None,
        }
    }
}

/// An end that was reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// Sphere, index or pd there.
    pub value: f64,
    /// The thickest edge there; `None` where the lens cannot be made.
    pub edge_mm: Option<f64>,
}

/// An option at its own size, of which one thing is varied.
pub struct Varied<'a> {
    at: Addressed<'a>,
    mounting: Mounting<'a>,
    bases: Eyes<Option<Base>>,
}

impl<'a> Varied<'a> {
    /// The option as it is.
    #[must_use]
    pub fn new(at: &Addressed<'a>) -> Varied<'a> {
        let bases = base::pair(at.option, &at.prescription.eyes.map(|rx| rx.power));
        Varied { at: *at, mounting: Mounting::new(at.frame, at.boxing), bases }
    }

    pub(super) fn fit(&self) -> Fit<'a> {
        Fit::new(&self.mounting, self.at.prescription, self.at.option)
    }

    fn rx(&self, eye: Eye) -> &EyeRx {
        self.at.prescription.eyes.of(eye)
    }

    fn edge_for(&self, eye: Eye, rx: &EyeRx) -> Option<f64> {
        let line = self.at.prescription.reference_line;
        let ask = self.mounting.ask(eye, rx, line, self.at.option, *self.bases.of(eye));
        make(&ask).ok().map(|made| made.thickness.edges.max.thickness_mm)
    }

    /// The thickest edge of one eye with another sphere (minus-cylinder form), mm; `None` where it cannot be made.
    #[must_use]
    pub fn edge_at_sphere(&self, eye: Eye, sphere_d: f64) -> Option<f64> {
        let rx = self.rx(eye);
        let power = Power::new(sphere_d, rx.power.cylinder(), rx.power.axis());
        self.edge_for(eye, &EyeRx { power, ..*rx })
    }

    /// The thickest edge of one eye with another pd, mm; `None` where it cannot be made.
    #[must_use]
    pub fn edge_at_pd(&self, eye: Eye, pd_mm: f64) -> Option<f64> {
        self.edge_for(eye, &EyeRx { pd_mm, ..*self.rx(eye) })
    }

    /// The thickest edge of either eye made to order in a material of another index, whatever its blanks, mm; `None`
    /// where it cannot be made.
    #[must_use]
    pub fn edge_at_index(&self, index: f64) -> Option<f64> {
        let edge = |eye| self.of_index(eye, index).map(|settled| settled.edges.max.thickness_mm);
        Some(edge(Eye::Right)?.max(edge(Eye::Left)?))
    }

    pub(super) fn of_index(&self, eye: Eye, index: f64) -> Option<Settled> {
        let rx = self.rx(eye);
        let base_curve_d = self.bases.of(eye).as_ref()?.base_curve_d;
        let recipe = Recipe { power: rx.power, prism: rx.prism, index, base_curve_d };
        let centration = self.mounting.centration(eye, rx.pd_mm);
        let reference = centration.point(eye);
        let place = Place::new(self.mounting.outlines.of(eye), reference);
        let minima = minimum::minima(self.at.option, self.at.frame.rim);
        centre::surfaced(&recipe, &place, &minima.kept).ok()
    }

    pub(super) fn strongest_sphere(&self, eye: Eye, wish_mm: f64) -> Tip {
        if self.is_ready_made() {
            return Tip::ReadyMade;
        }
        let power = self.rx(eye).power;
        let edge = |sphere_d| self.edge_at_sphere(eye, sphere_d);
        let [least, most] = range(&keys::SPHERE);
        let strongest = if power.spherical_equivalent() > 0.0 { most } else { least };
        let kept = edge(power.sphere()).is_some_and(|edge| edge <= wish_mm);
        // Weaker as far as a spherical equivalent of none.
        let to = if kept { strongest } else { -0.5 * power.cylinder() };
        toward(&edge, wish_mm, &places(power.sphere(), to, SPHERE_STEP_D, &[]))
    }

    pub(super) fn least_index(&self, wish_mm: f64) -> Tip {
        if self.is_ready_made() {
            return Tip::ReadyMade;
        }
        let [least, most] = range(&keys::INDEX);
        let edge = |index| self.edge_at_index(index);
        match edge(most) {
            Some(edge_mm) if edge_mm <= wish_mm => toward(&edge, wish_mm, &places(most, least, INDEX_STEP, &[])),
            edge_mm => Tip::Not(vec![End { value: most, edge_mm }]),
        }
    }

    /// The nearer of the two sides.
    pub(super) fn pd_tips(&self, eye: Eye, wish_mm: f64) -> Tip {
        let pd_mm = self.rx(eye).pd_mm;
        let edge = |pd_mm| self.edge_at_pd(eye, pd_mm);
        let pds = |end| {
            let even = places(pd_mm, end, PD_STEP_MM, &[]);
            with_jumps(&self.at, &[eye], even, |pd_mm, _| (self.at.boxing, pd_mm))
        };
        let sides = range(&keys::PD).map(|end| toward(&edge, wish_mm, &pds(end)));
        let nearest =
            sides.iter().filter_map(Tip::value).min_by(|a, b| (a - pd_mm).abs().total_cmp(&(b - pd_mm).abs()));
        nearest.map_or_else(|| Tip::Not(range(&keys::PD).map(|end| End::new(&edge, end)).to_vec()), Tip::At)
    }

    fn is_ready_made(&self) -> bool {
        self.at.option.supply == Supply::Stock
    }
}

impl End {
    fn new(edge: &impl Fn(f64) -> Option<f64>, value: f64) -> End {
        End { value, edge_mm: edge(value) }
    }
}

/// Where an edge begins to pass the wish, or to keep it, on the way along these places: the last value within it.
pub(super) fn toward(edge: &impl Fn(f64) -> Option<f64>, wish_mm: f64, places: &[f64]) -> Tip {
    let excess = |value| edge(value).map_or(f64::INFINITY, |edge| edge - wish_mm);
    let (Some(from), Some(to)) = (places.first(), places.last()) else { return Tip::Not(Vec::new()) };
    let Some(last) = last_before_change(excess, places) else { return Tip::Not(vec![End::new(edge, *to)]) };
    // From beyond the wish the last value before the change is still beyond it; the next narrow step is not.
    let within = [last, last + 2.0 * NARROW * (to - from).signum()].into_iter().find(|value| excess(*value) <= 0.0);
    Tip::At(within.unwrap_or(last))
}

/// From … to of a key that has a range.
pub(super) fn range(key: &Key) -> [f64; 2] {
    // These keys have a range in any shape.
    key.refused.allowed(0.0).unwrap_or([f64::NEG_INFINITY, f64::INFINITY])
}

/// The same places, and both sides of each between them at which a ready-made lens of another diameter is needed, where
/// the edge jumps. A place and an eye have a box and a pd.
pub(super) fn with_jumps(
    at: &Addressed<'_>,
    eyes: &[Eye],
    even: Vec<f64>,
    placed: impl Fn(f64, Eye) -> (Boxing, f64),
) -> Vec<f64> {
    let (Some(&from), Some(&to)) = (even.first(), even.last()) else { return even };
    let mut jumps = Vec::new();
    for &eye in eyes {
        let minimum_mm = |value: f64| {
            let (boxing, pd_mm) = placed(value, eye);
            let outline = at.frame.shape.outline(eye, boxing.eye_size_mm, boxing.depth_mm);
            let centration = Centration::new(&boxing, pd_mm, *at.frame.centre_up_mm.of(eye));
            blank::minimum_mm(&Place::new(&outline, centration.point(eye)))
        };
        for diameter_mm in blank::stock_diameters_mm(at.option, &at.prescription.eyes.of(eye).power) {
            crossings(|value| minimum_mm(value) - diameter_mm, &even, &mut jumps);
        }
    }
    let step = (to - from).abs() / (even.len() - 1).max(1) as f64;
    places(from, to, step, &jumps)
}

/// Both sides of each place along `even` at which a function changes its sign.
fn crossings(of: impl Fn(f64) -> f64, even: &[f64], into: &mut Vec<f64>) {
    let mut left = even.to_vec();
    for _ in 0..MOST_CROSSINGS {
        let (Some(last), Some(&end)) = (last_before_change(&of, &left), left.last()) else { return };
        into.extend([last - BESIDE_MM, last + BESIDE_MM]);
        let next = last + BESIDE_MM * (end - last).signum();
        left.retain(|place| (place - next) * (end - next) > 0.0);
        left.insert(0, next);
    }
}
