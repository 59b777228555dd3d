//! From which listed blanks and finished uncuts a lens can be cut.
//!
//! Units: mm.

use super::Made;
use crate::choose::blank;
use crate::choose::centre::Place;
use crate::choose::stock;
use crate::choose::{LensOption, Substance, Supply};
use crate::eye::Eye;
use crate::lens::Recipe;
use crate::outline::Outline;

/// What a lens can be cut from; empty lists where nothing serves, or nothing is listed.
#[derive(Clone, Debug, PartialEq)]
pub struct CutsFrom {
    /// Semi-finished blanks of its base with the reference point in their middle: listed diameters, smallest first.
    pub surfaced_mm: Vec<f64>,
    /// One that is large enough only with the reference point off its middle.
    pub decentred_mm: Option<f64>,
    /// Finished uncuts of its power that keep every minimum, cut out.
    pub stock_mm: Vec<f64>,
    /// Is anything listed of its material?
    pub listed: bool,
}

impl CutsFrom {
    /// Of a lens. A surfaced one lies in its blank already; a finished uncut comes on the curve and as thick as listed.
    #[must_use]
    pub fn of(made: &Made, eye: Eye, outline: &Outline, option: &LensOption) -> CutsFrom {
        let Substance::Listed(material) = &option.substance else {
            return CutsFrom { surfaced_mm: Vec::new(), decentred_mm: None, stock_mm: Vec::new(), listed: false };
        };
        let (power, minimum_mm) = (&made.recipe.power, made.blank.minimum_mm);
        let surfaced = option.supply == Supply::Surfaced;
        let centred = surfaced && !made.blank.decentred;
        let holding = |option: &LensOption| -> Vec<f64> {
            blank::holding(option, power, made.base.base_curve_d, minimum_mm).collect()
        };
        let mut ready = option.clone();
        ready.supply = Supply::Stock;
        let row = material.stock_for(power.sphere(), power.cylinder()).filter(|_| made.recipe.prism.is_none());
        let stock_mm = row.map_or(Vec::new(), |row| {
            let place = Place::new(outline, made.centration.point(eye));
            let recipe = Recipe { base_curve_d: row.base_curve_d, ..made.recipe };
            let mut listed = holding(&ready);
            listed.retain(|&diameter_mm| stock::stock(&recipe, row, diameter_mm, &place, &made.minima.kept).is_ok());
            listed
        });
        CutsFrom {
            surfaced_mm: if centred { holding(option) } else { Vec::new() },
            decentred_mm: made.blank.diameter_mm.filter(|_| made.blank.decentred),
            stock_mm,
            listed: true,
        }
    }
}
