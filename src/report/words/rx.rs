//! A prescription as it is written: −6.25 −1.50 × 175, 1.50 Δ base in, pd 31.5.

use super::super::number::{self, with_unit};
use crate::eye::Eye;
use crate::rx::{EyeRx, Power, Prism};

/// Less than this in a direction is no prism there, prism dioptres.
const NO_PRISM_PD: f64 = 0.005;

/// The minus-cylinder form of a power.
#[must_use]
pub fn power(power: &Power) -> String {
    let sphere = number::power(power.sphere());
    if power.cylinder() == 0.0 {
        return sphere;
    }
    format!("{sphere} {} × {}", number::power(power.cylinder()), number::axis(power.axis()))
}

/// The resultant of the prisms by its parts, in or out and up or down; `None` where there is none.
#[must_use]
pub fn prism(prism: Prism, eye: Eye) -> Option<String> {
    let part = |amount: f64, positive, negative| {
        let base = if amount > 0.0 { positive } else { negative };
        (amount.abs() >= NO_PRISM_PD).then(|| format!("{} base {base}", with_unit(amount.abs(), 2, "Δ")))
    };
    let parts: Vec<String> = [part(prism.x_pd * eye.nasal_sign(), "in", "out"), part(prism.y_pd, "up", "down")]
        .into_iter()
        .flatten()
        .collect();
    (!parts.is_empty()).then(|| super::list(&parts))
}

/// "pd 31.5 mm".
#[must_use]
pub fn pd(rx: &EyeRx) -> String {
    format!("pd {}", number::mm(rx.pd_mm))
}
