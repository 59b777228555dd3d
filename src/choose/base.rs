//! The front curve: the job's, the stock lens's, or by Vogel's rule from the bases that the material comes in.
//!
//! Units: dioptres as marked at index 1.530.

use super::{LensOption, Substance, Supply};
use crate::eye::{Eye, Eyes};
use crate::material::INLINE_BASES_D;
use crate::rx::Power;
use serde::Serialize;

/// Vogel's rule is held within these for single vision (ours).
pub const VOGEL_RANGE_D: (f64, f64) = (0.5, 8.0);
/// Eyes whose wanted bases differ by less than this take one.
const SHARED_WITHIN_D: f64 = 2.0;

/// Where a base curve comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum ChosenBy {
    /// The job gives it.
    Job,
    /// Vogel's rule on the spherical equivalent.
    Vogel,
    /// The stock row has it.
    Stock,
}

/// A base curve and why it is that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Base {
    /// The curve.
    pub base_curve_d: f64,
    /// Where it comes from.
    pub chosen_by: ChosenBy,
    /// What the rule asked for before it was brought to the list; the curve itself otherwise.
    pub wanted_d: f64,
    /// Is it one for both eyes by the rule, where they would have differed?
    pub shared: bool,
}

/// Vogel's rule: spherical equivalent + 6 for plus, half of it + 6 for zero and minus.
#[must_use]
pub fn vogel_d(spherical_equivalent_d: f64) -> f64 {
    if spherical_equivalent_d > 0.0 { spherical_equivalent_d + 6.0 } else { 0.5 * spherical_equivalent_d + 6.0 }
}

/// What the rule asks for a power, held within what single-vision lenses are made in.
fn wanted_d(power: &Power) -> f64 {
    vogel_d(power.spherical_equivalent()).clamp(VOGEL_RANGE_D.0, VOGEL_RANGE_D.1)
}

/// The base for one eye alone. `None` where no stock row covers the power.
#[must_use]
pub fn alone(option: &LensOption, power: &Power) -> Option<Base> {
    given(option, power).unwrap_or_else(|| Some(by_rule(option, wanted_d(power), false)))
}

/// The bases for a pair: one for both where the rule's values differ by less than 2 D.
#[must_use]
pub fn pair(option: &LensOption, powers: &Eyes<Power>) -> Eyes<Option<Base>> {
    let wanted = powers.map(wanted_d);
    let any_plus = powers.iter().any(|(_, power)| power.spherical_equivalent() > 0.0);
    let close = (wanted.right - wanted.left).abs() < SHARED_WITHIN_D;
    let one = if any_plus { wanted.right.max(wanted.left) } else { wanted.right.min(wanted.left) };
    let base = |eye: Eye| {
        let own = *wanted.of(eye);
        let rule = || if close { by_rule(option, one, own != one) } else { by_rule(option, own, false) };
        given(option, powers.of(eye)).unwrap_or_else(|| Some(rule()))
    };
    Eyes::from_fn(base)
}

/// The base that needs no rule: outer `None` where the rule is wanted, inner `None` where no stock row covers the power.
fn given(option: &LensOption, power: &Power) -> Option<Option<Base>> {
    let fixed = |base_curve_d, chosen_by| Base { base_curve_d, chosen_by, wanted_d: base_curve_d, shared: false };
    match (option.supply, &option.substance, option.base_curve_d) {
        (Supply::Stock, Substance::Listed(material), _) => {
            let row = material.stock_for(power.sphere(), power.cylinder());
            Some(row.map(|row| fixed(row.base_curve_d, ChosenBy::Stock)))
        }
        (Supply::Stock, Substance::Inline(_), _) => Some(None),
        (Supply::Surfaced, _, Some(base)) => Some(Some(fixed(base, ChosenBy::Job))),
        (Supply::Surfaced, _, None) => None,
    }
}

fn by_rule(option: &LensOption, wanted_d: f64, shared: bool) -> Base {
    Base { base_curve_d: nearest(listed_bases(option), wanted_d), chosen_by: ChosenBy::Vogel, wanted_d, shared }
}

/// The bases that a material comes in.
pub(crate) fn listed_bases(option: &LensOption) -> impl Iterator<Item = f64> + Clone {
    let (listed, inline) = match &option.substance {
        Substance::Listed(material) => (material.semi_finished.as_slice(), [].as_slice()),
        Substance::Inline(_) => ([].as_slice(), INLINE_BASES_D.as_slice()),
    };
    listed.iter().map(|row| row.base_curve_d).chain(inline.iter().copied())
}

/// The nearest of the list, of two equally near the flatter; the wish itself where nothing is listed.
pub(crate) fn nearest(bases: impl Iterator<Item = f64>, wanted_d: f64) -> f64 {
    let nearer = |best: f64, base: f64| {
        let (a, b) = ((best - wanted_d).abs(), (base - wanted_d).abs());
        let better = b < a - 1e-9 || (b <= a + 1e-9 && base < best);
        if better { base } else { best }
    };
    bases.reduce(nearer).unwrap_or(wanted_d)
}
