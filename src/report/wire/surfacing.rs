//! The work on the back of a lens over the wire.
//!
//! Units: mm, dioptres, prism dioptres, degrees in the names.

use super::super::{number, words};
use super::finite;
use crate::assess::{Made, Surfacing};
use crate::figures;
use serde::Serialize;

/// The work on the back of one lens.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SurfacingWire {
    /// What the lens can be cut from.
    pub cuts_from: CutsFromWire,
    /// The blank's middle, toward the nose from the boxed centre.
    pub blank_middle_in_mm: Option<f64>,
    /// Upward from there.
    pub blank_middle_up_mm: Option<f64>,
    /// The least that surfacing takes off; null where no blank is listed, and of a stock lens.
    pub least_taken_mm: Option<f64>,
    /// The largest uncut with half a millimetre of edge; null where the blank's whole diameter has it, and of a stock lens.
    pub crib_mm: Option<f64>,
    /// Does the crib hold the shape? Null where nothing is cribbed.
    pub crib_holds: Option<bool>,
    /// The back's curve at index 1.530, positive where hollow; null of a stock lens.
    pub curve_along_d: Option<f64>,
    /// The nearest tool.
    pub tool_along_d: Option<f64>,
    /// The same across the axis.
    pub curve_across_d: Option<f64>,
    /// The nearest tool.
    pub tool_across_d: Option<f64>,
    /// Power made with the tools less power wanted, along the axis.
    pub sphere_error_d: Option<f64>,
    /// The same of the cylinder.
    pub cylinder_error_d: Option<f64>,
    /// Prescribed prism and that of a reference point off the blank's middle; null of a stock lens.
    pub prism_pd: Option<f64>,
    /// Its base; null where there is none.
    pub prism_base_deg: Option<f64>,
    /// Thickest place anywhere in the shape.
    pub thickest_mm: Option<f64>,
    /// Where, toward the nose from the reference point.
    pub thickest_in_mm: Option<f64>,
    /// Where, upward.
    pub thickest_up_mm: Option<f64>,
    /// Thinnest place, toward the nose from the reference point.
    pub thinnest_in_mm: Option<f64>,
    /// Thinnest place, upward.
    pub thinnest_up_mm: Option<f64>,
    /// How far the thickness at the reference point may be off.
    pub centre_tolerance_mm: Option<f64>,
}

/// What a lens can be cut from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutsFromWire {
    /// Listed blanks that hold it with the reference point in their middle.
    pub surfaced_mm: Vec<f64>,
    /// The listed blank that holds it with the reference point off its middle; null where that is not wanted.
    pub decentred_mm: Option<f64>,
    /// Finished uncuts that serve.
    pub stock_mm: Vec<f64>,
    /// The same in words.
    pub text: String,
}

/// The work on the back of a lens, for other programs.
#[must_use]
pub fn surfacing(made: &Made, work: &Surfacing) -> SurfacingWire {
    let read = |id: &str| {
        figures::OF_SURFACING.iter().find(|figure| figure.id == id).and_then(|figure| (figure.read)(work)).map(finite)
    };
    let cuts = &work.cuts_from;
    SurfacingWire {
        cuts_from: CutsFromWire {
            surfaced_mm: cuts.surfaced_mm.iter().copied().map(finite).collect(),
            decentred_mm: cuts.decentred_mm.map(finite),
            stock_mm: cuts.stock_mm.iter().copied().map(finite).collect(),
            text: number::plain(&words::cuts_from(cuts, made.recipe.prism.is_none())),
        },
        blank_middle_in_mm: read("surfacing.blank_middle_in_mm"),
        blank_middle_up_mm: read("surfacing.blank_middle_up_mm"),
        least_taken_mm: read("surfacing.least_taken_mm"),
        crib_mm: read("surfacing.crib_mm"),
        crib_holds: work.crib.map(|crib| crib.holds),
        curve_along_d: read("surfacing.curve_along_d"),
        tool_along_d: read("surfacing.tool_along_d"),
        curve_across_d: read("surfacing.curve_across_d"),
        tool_across_d: read("surfacing.tool_across_d"),
        sphere_error_d: read("surfacing.sphere_error_d"),
        cylinder_error_d: read("surfacing.cylinder_error_d"),
        prism_pd: read("surfacing.prism_pd"),
        prism_base_deg: read("surfacing.prism_base_deg"),
        thickest_mm: read("surfacing.thickest_mm"),
        thickest_in_mm: read("surfacing.thickest_in_mm"),
        thickest_up_mm: read("surfacing.thickest_up_mm"),
        thinnest_in_mm: read("surfacing.thinnest_in_mm"),
        thinnest_up_mm: read("surfacing.thinnest_up_mm"),
        centre_tolerance_mm: read("surfacing.centre_tolerance_mm"),
    }
}
