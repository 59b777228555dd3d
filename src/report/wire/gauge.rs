//! The JSON of `gauge`.

use super::{FORMAT, finite, text};
use crate::study::gauge::{About, Gauged};
use serde::Serialize;

/// What the readings of a real lens come to.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct GaugeWire {
    /// The number of this format.
    pub format: i64,
    /// From power and curves; null where no power was read or none gives it.
    pub index: Option<AboutWire>,
    /// True power of the front.
    pub front_power_d: Option<AboutWire>,
    /// True power of the back.
    pub back_power_d: Option<AboutWire>,
    /// Back vertex power by the curves; null where no index was given.
    pub power_d: Option<AboutWire>,
    /// Null where no edge was read.
    pub edge: Option<EdgeGaugedWire>,
}

/// A figure and how far it is open.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AboutWire {
    /// The figure.
    pub value: f64,
    /// Give or take.
    pub give_or_take: f64,
}

/// The edge by the curves, against the one that was read.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct EdgeGaugedWire {
    /// By centre and curves.
    pub predicted_mm: AboutWire,
    /// As read.
    pub measured_mm: f64,
    /// Measured less predicted.
    pub difference_mm: f64,
    /// Within what the steps of the readings leave open.
    pub agrees: bool,
}

/// The answer to `gauge` as JSON.
#[must_use]
pub fn gauge_text(gauged: &Gauged) -> String {
    let about = |of: About| AboutWire { value: finite(of.value), give_or_take: finite(of.give) };
    text(&GaugeWire {
        format: FORMAT,
        index: gauged.index.map(about),
        front_power_d: gauged.surfaces_d.map(|[front, _]| about(front)),
        back_power_d: gauged.surfaces_d.map(|[_, back]| about(back)),
        power_d: gauged.power_d.map(about),
        edge: gauged.edge.map(|edge| EdgeGaugedWire {
            predicted_mm: about(edge.predicted_mm),
            measured_mm: edge.measured_mm,
            difference_mm: finite(edge.difference_mm()),
            agrees: edge.agrees(),
        }),
    })
}
