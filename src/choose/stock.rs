//! A stock lens: a finished round uncut with its optical centre in the middle, cut out. Nothing is made to measure, so
//! the job's minima are only checked.
//!
//! Units: mm.

use super::centre::{self, Looked, Place, SetBy, Settled, Unsolved};
use crate::lens::Recipe;
use crate::material::{Minimum, StockRow};
use crate::math::angle;
use kurbo::Vec2;

/// A minimum missed by less than this is kept.
const SLACK_MM: f64 = 1e-9;

/// Why a stock lens will not do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoStock {
    /// It cannot be worked out at all.
    Unsolved(Unsolved),
    /// Cut out, it is thinner than the minimum somewhere.
    TooThin {
        /// Which minimum.
        demand: SetBy,
        /// The thickness there.
        found_mm: f64,
        /// The minimum there.
        wanted_mm: f64,
    },
}

impl From<Unsolved> for NoStock {
    fn from(unsolved: Unsolved) -> NoStock {
        NoStock::Unsolved(unsolved)
    }
}

/// The lens that comes of an uncut of `diameter_mm`: its centre is the larger of the listed one and the one that gives
/// the uncut's own thinnest edge as listed.
///
/// # Errors
/// [`NoStock`] where a minimum is not kept.
pub fn stock(
    recipe: &Recipe,
    row: &StockRow,
    diameter_mm: f64,
    place: &Place<'_>,
    minimum: &Minimum,
) -> Result<Settled, NoStock> {
    let by_edge = centre_for_uncut_edge(recipe, row, diameter_mm)?;
    let (centre_mm, set_by) =
        if by_edge > row.centre_mm { (by_edge, SetBy::Edge) } else { (row.centre_mm, SetBy::Centre) };
    let looked = Looked::at(recipe, place, minimum, centre_mm)?;
    match looked.unmet(SLACK_MM) {
        Some((demand, found_mm, wanted_mm)) => Err(NoStock::TooThin { demand, found_mm, wanted_mm }),
        None => Ok(looked.settled(place, set_by)?),
    }
}

/// A round uncut without prism is thinnest where it has most plus: along the axis of the minus-cylinder form.
fn centre_for_uncut_edge(recipe: &Recipe, row: &StockRow, diameter_mm: f64) -> Result<f64, Unsolved> {
    let (c, s) = angle::cos_sin_deg(recipe.power.axis());
    let rim = Vec2::new(c, s) * (0.5 * diameter_mm);
    centre::centre_for(recipe, rim, row.edge_mm, row.centre_mm)
}
