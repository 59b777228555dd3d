//! What a lens is cut from: the uncut of a stock lens, or the unworked semi-finished blank.
//!
//! Units: mm, mm³.

use super::Made;
use super::unworked::Unworked;
use crate::choose::{LensOption, Substance, Supply};
use crate::measure::Mounted;
use crate::outline::Outline;
use crate::rim::Edging;
use kurbo::Vec2;

/// The volume of the blank that a lens of this option was made from; `None` where no blank is listed, or a surface ends
/// within it. `circle` is asked for the round outline of a diameter.
pub fn uncut_mm3<O: AsRef<Outline>>(made: &Made, option: &LensOption, circle: impl FnOnce(f64) -> O) -> Option<f64> {
    let diameter_mm = made.blank.diameter_mm?;
    match (&option.substance, option.supply) {
        (Substance::Inline(_), _) => None,
        (Substance::Listed(_), Supply::Stock) => round_mm3(made, circle(diameter_mm).as_ref(), diameter_mm),
        (Substance::Listed(_), Supply::Surfaced) => {
            Unworked::listed(option, made.base.base_curve_d)?.volume_mm3(0.5 * diameter_mm)
        }
    }
}

impl Made {
    /// What is left of an uncut of this volume beside the finished lens. Never below nought: an uncut that holds the lens
    /// may come out lighter by rounding alone.
    #[must_use]
    pub fn swarf_g(&self, uncut_mm3: f64, density: f64) -> f64 {
        (density * uncut_mm3 / 1000.0 - self.mass_g).max(0.0)
    }
}

/// A finished uncut: the lens itself, round. Nothing is edged, as with holes of nothing.
fn round_mm3(made: &Made, outline: &Outline, diameter_mm: f64) -> Option<f64> {
    let mounted = Mounted { lens: &made.lens, outline, reference: Vec2::ZERO };
    let whole = Edging::Holes { diameter_mm: 0.0, inset_mm: 0.0 };
    mounted.cut_out(whole, mounted.density_within(0.5 * diameter_mm)).map(|cut| cut.volume_mm3)
}
