//! A real lens in the hand: what calliper, lens measure and focimeter read on it, and what that says of its index, its
//! curves and its thickness. One meridian of a lens with spherical surfaces there; every figure with what the steps of
//! the readings leave open.
//!
//! Units: mm and dioptres in the names. Readings of a lens measure are signed: a hollow surface reads minus.

use crate::lens::{Recipe, TOOLING_INDEX};
use crate::math::roots;
use crate::rx::{Power, Prism};
use crate::surface::Surface;
use kurbo::Vec2;

/// A calliper is read to this, mm (common practice, no source).
pub const CALLIPER_STEP_MM: f64 = 0.1;
/// Lens measure and focimeter are read to this, D (common practice, no source).
pub const READING_STEP_D: f64 = 0.125;
/// An index is looked for between these, as a job may name it.
const INDICES: [f64; 2] = [1.4, 2.0];
/// To this the index is settled.
const SETTLED: f64 = 1e-9;
/// A slope less than this explains nothing, mm a unit.
const FLAT: f64 = 1e-4;

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readings {
    /// Of the lens measure on the front.
    pub front_d: f64,
    /// On the back, in the same meridian.
    pub back_d: f64,
    /// The index for which the lens measure is made.
    pub measure_index: f64,
    /// Thickness at the optical centre.
    pub centre_mm: f64,
    /// Thickness at the edge, and how far from the optical centre.
    pub edge: Option<EdgeReading>,
    /// Back vertex power in that meridian, as read on a focimeter.
    pub power_d: Option<f64>,
    /// Where known.
    pub index: Option<f64>,
}

/// A thickness off the centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeReading {
    /// As read.
    pub thickness_mm: f64,
    /// From the optical centre.
    pub out_mm: f64,
}

/// A figure, and how far the steps of the readings leave it open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct About {
    /// The figure.
    pub value: f64,
    /// Give or take.
    pub give: f64,
}

/// What the readings come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauged {
    /// From power and curves, where a power was read; `None` where no index gives it with those curves.
    pub index: Option<About>,
    /// True powers of front and back at the index found or given; `None` where there is neither.
    pub surfaces_d: Option<[About; 2]>,
    /// Back vertex power by the curves and the index given, where one was given.
    pub power_d: Option<About>,
    /// The edge, where one was read and both surfaces reach so far.
    pub edge: Option<EdgeGauged>,
}

/// The edge as the curves have it, against the one that was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeGauged {
    /// By the centre and the two curves.
    pub predicted_mm: About,
    /// As read.
    pub measured_mm: f64,
    /// What would make up the difference alone: change of the front's reading, of the back's (D), of the place (mm).
    pub explained_by: [Option<f64>; 3],
}

impl EdgeGauged {
    /// Measured less predicted.
    #[must_use]
    pub fn difference_mm(&self) -> f64 {
        self.measured_mm - self.predicted_mm.value
    }

    /// Is it within what the steps of the readings leave open?
    #[must_use]
    pub fn agrees(&self) -> bool {
        self.difference_mm().abs() <= self.predicted_mm.give.hypot(0.5 * CALLIPER_STEP_MM)
    }
}

/// The readings that bear on a figure, one after the other, each off by half its step.
fn shifted(readings: &Readings) -> [Readings; 5] {
    let (d, mm) = (0.5 * READING_STEP_D, 0.5 * CALLIPER_STEP_MM);
    let edge = |edge: EdgeReading| EdgeReading { out_mm: edge.out_mm + mm, ..edge };
    [
        Readings { front_d: readings.front_d + d, ..*readings },
        Readings { back_d: readings.back_d + d, ..*readings },
        Readings { centre_mm: readings.centre_mm + mm, ..*readings },
        Readings { power_d: readings.power_d.map(|power| power + d), ..*readings },
        Readings { edge: readings.edge.map(edge), ..*readings },
    ]
}

impl Readings {
    /// What they come to.
    #[must_use]
    pub fn gauged(&self) -> Gauged {
        let index = self.power_d.and_then(|_| self.about(Readings::found_index));
        Gauged {
            index,
            surfaces_d: self.surfaces(),
            power_d: self.index.and_then(|_| self.about(Readings::power_by_curves_d)),
            edge: self.edge_gauged(),
        }
    }

    /// A figure and its openness: the root of the sum of squares of what each step does alone.
    fn about(&self, figure: impl Fn(&Readings) -> Option<f64>) -> Option<About> {
        let value = figure(self)?;
        // Where a step leads out of what can be, the figure is as open as the other way makes it.
        let moved = |other: Readings| figure(&other).map_or(0.0, |moved| moved - value);
        let give = shifted(self).map(moved).iter().map(|by| by * by).sum::<f64>().sqrt();
        Some(About { value, give })
    }

    /// A curve of a reading, 1/mm, positive toward the observer.
    fn curvature(&self, reading_d: f64) -> f64 {
        reading_d / (1000.0 * (self.measure_index - 1.0))
    }

    fn recipe(&self, power_d: f64, index: f64) -> Recipe {
        let base_curve_d = 1000.0 * (TOOLING_INDEX - 1.0) * self.curvature(self.front_d);
        Recipe { power: Power::spherical(power_d), prism: Prism::default(), index, base_curve_d }
    }

    /// The index at which the power read goes with both curves.
    fn found_index(&self) -> Option<f64> {
        let power_d = self.power_d?;
        let hollow = -self.curvature(self.back_d);
        let off = |index: f64| match self.recipe(power_d, index).at_centre(self.centre_mm) {
            Ok(lens) => lens.back_curvatures()[0] - hollow,
            Err(_) => f64::NAN,
        };
        let [low, high] = INDICES;
        let (at_low, at_high) = (off(low), off(high));
        let apart = at_low * at_high;
        if apart.is_nan() || apart > 0.0 || at_low == at_high {
            return None;
        }
        roots::between(off, (low, at_low), (high, at_high), SETTLED).ok()
    }

    /// The index given, else the one found.
    fn any_index(&self) -> Option<f64> {
        self.index.or_else(|| self.found_index())
    }

    fn surfaces(&self) -> Option<[About; 2]> {
        let power = |readings: &Readings, reading: f64| {
            let index = readings.any_index()?;
            Some(1000.0 * (index - 1.0) * readings.curvature(reading))
        };
        Some([self.about(|r| power(r, r.front_d))?, self.about(|r| power(r, r.back_d))?])
    }

    fn power_by_curves_d(&self) -> Option<f64> {
        let index = self.index?;
        // The back that a lens of no power would have takes all of the front's light away.
        let plano = self.recipe(0.0, index).at_centre(self.centre_mm).ok()?;
        Some(1000.0 * (index - 1.0) * self.curvature(self.back_d) - plano.back_powers_d()[0])
    }

    fn predicted_mm(&self) -> Option<f64> {
        let at = Vec2::new(self.edge?.out_mm, 0.0);
        let back = Surface::sphere(-self.curvature(self.back_d)).sag(at)?;
        Some(self.centre_mm + back - Surface::sphere(self.curvature(self.front_d)).sag(at)?)
    }

    fn edge_gauged(&self) -> Option<EdgeGauged> {
        let edge = self.edge?;
        let predicted_mm = self.about(Readings::predicted_mm)?;
        let difference = edge.thickness_mm - predicted_mm.value;
        let alone = |step: f64, moved: Readings| {
            let slope = (moved.predicted_mm()? - predicted_mm.value) / step;
            (slope.abs() > FLAT).then(|| difference / slope)
        };
        let [front, back, _, _, place] = shifted(self);
        let (d, mm) = (0.5 * READING_STEP_D, 0.5 * CALLIPER_STEP_MM);
        Some(EdgeGauged {
            predicted_mm,
            measured_mm: edge.thickness_mm,
            explained_by: [alone(d, front), alone(d, back), alone(mm, place)],
        })
    }
}
