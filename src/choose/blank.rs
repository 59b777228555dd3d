//! The blank that a lens is cut from.
//!
//! Units: mm.

use super::centre::Place;
use super::{LensOption, Substance, Supply, base};
use crate::material::INLINE_DIAMETERS_MM;
use crate::outline::Outline;
use crate::rx::Power;
use kurbo::Vec2;

/// What edging wants beyond the outline, all round (common practice, no source).
pub const ALLOWANCE_MM: f64 = 1.0;

/// The blank of a lens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blank {
    /// Twice the longest distance from the reference point to the outline, plus the allowance.
    pub minimum_mm: f64,
    /// Effective diameter + 2 × decentration + allowance, as textbooks estimate it.
    pub rule_of_thumb_mm: f64,
    /// The listed one that it is cut from; `None` for an inline material, and where nothing is listed.
    pub diameter_mm: Option<f64>,
    /// Must the lab put the reference point off the blank's middle, because no listed one is large enough?
    pub decentred: bool,
}

impl Blank {
    /// Where its middle lies, from the boxed centre: at the reference point, or where the outline lies in it best.
    #[must_use]
    pub fn middle(&self, outline: &Outline, reference: Vec2) -> Vec2 {
        if self.decentred { outline.enclosing_middle() } else { reference }
    }
}

/// No blank is large enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoBlank {
    /// What is wanted: with the reference point off the middle for a surfaced lens, in it for a stock lens.
    pub wanted_mm: f64,
    /// The largest there is.
    pub largest_mm: f64,
}

/// Twice the longest distance from the reference point to the outline, plus the allowance all round.
#[must_use]
pub fn minimum_mm(place: &Place<'_>) -> f64 {
    2.0 * (place.farthest_mm + ALLOWANCE_MM)
}

/// The diameters of ready-made lenses of this option and power; none of one that is made to order.
#[must_use]
pub fn stock_diameters_mm<'a>(option: &'a LensOption, power: &Power) -> &'a [f64] {
    match option.supply {
        Supply::Stock => diameters(option, power, 0.0),
        Supply::Surfaced => &[],
    }
}

/// The listed diameters of this supply that hold a lens about its reference point, smallest first.
pub fn holding<'a>(
    option: &'a LensOption,
    power: &Power,
    base_curve_d: f64,
    minimum_mm: f64,
) -> impl Iterator<Item = f64> + 'a {
    diameters(option, power, base_curve_d).iter().copied().filter(move |diameter| *diameter >= minimum_mm - 1e-9)
}

/// The smallest listed blank that holds the lens.
///
/// # Errors
/// [`NoBlank`] where even the largest is too small: for a surfaced lens, even with the reference point off its middle. Not for
/// one made to order that is worn already: its blank is then not known.
pub fn blank(option: &LensOption, power: &Power, base_curve_d: f64, place: &Place<'_>) -> Result<Blank, NoBlank> {
    let outline = place.outline;
    let minimum_mm = minimum_mm(place);
    let rule_of_thumb_mm = outline.effective_diameter_mm() + 2.0 * place.reference.hypot() + 2.0 * ALLOWANCE_MM;
    let listed = diameters(option, power, base_curve_d);
    let named = matches!(option.substance, Substance::Listed(_));
    let fit = |diameter_mm: Option<f64>, decentred| Blank {
        minimum_mm,
        rule_of_thumb_mm,
        diameter_mm: diameter_mm.filter(|_| named),
        decentred,
    };
    let Some(largest_mm) = listed.iter().copied().reduce(f64::max) else { return Ok(fit(None, false)) };
    let least = holding(option, power, base_curve_d, minimum_mm).reduce(f64::min);
    if least.is_some() {
        return Ok(fit(least, false));
    }
    let wanted_mm = match option.supply {
        Supply::Stock => minimum_mm,
        Supply::Surfaced => 2.0 * (outline.enclosing_radius_mm() + ALLOWANCE_MM),
    };
    match wanted_mm <= largest_mm + 1e-9 {
        true => Ok(fit(Some(largest_mm), true)),
        false if option.worn && option.supply == Supply::Surfaced => Ok(fit(None, false)),
        false => Err(NoBlank { wanted_mm, largest_mm }),
    }
}

/// The diameters listed for this base (a base that is not listed: those of the nearest one), or of the stock row.
fn diameters<'a>(option: &'a LensOption, power: &Power, base_curve_d: f64) -> &'a [f64] {
    match (&option.substance, option.supply) {
        (Substance::Inline(_), _) => &INLINE_DIAMETERS_MM,
        (Substance::Listed(material), Supply::Stock) => {
            material.stock_for(power.sphere(), power.cylinder()).map_or(&[], |row| &row.diameters_mm)
        }
        (Substance::Listed(material), Supply::Surfaced) => {
            let near = base::nearest(base::listed_bases(option), base_curve_d);
            material.semi_finished.iter().find(|row| row.base_curve_d == near).map_or(&[], |row| &row.diameters_mm)
        }
    }
}
