//! The work on an edge over the wire.
//!
//! Units: mm, mm³, grams, dioptres, degrees in the names.

use super::finite;
use crate::assess::EdgeWork;
use crate::figures;
use serde::Serialize;

/// The work on one edge.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct EdgingWire {
    /// Once round the outline.
    pub path_mm: f64,
    /// Blank's edge to the outline, greatest; null where no blank is listed.
    pub depth_max_mm: Option<f64>,
    /// Its direction from the boxed centre.
    pub depth_max_deg: Option<f64>,
    /// Its mean over the turn of the lens.
    pub depth_mean_mm: Option<f64>,
    /// Blank less the finished lens; null where that is not known.
    pub swarf_g: Option<f64>,
    /// Of bevel or groove as it comes out, at index 1.530; null where nothing goes round, or the outline is as good as round.
    pub bevel_curve_d: Option<f64>,
    /// Bevel or groove behind the front corner, least; null where nothing goes round.
    pub bevel_behind_min_mm: Option<f64>,
    /// The same, most.
    pub bevel_behind_max_mm: Option<f64>,
    /// How far it has to leave its wished place at most.
    pub bevel_moved_mm: Option<f64>,
    /// Where; null where it need not.
    pub bevel_moved_deg: Option<f64>,
    /// The rim's own curve; null where not known.
    pub rim_curve_d: Option<f64>,
    /// How far the bevel lies off the rim's own curve at most, put into it as it fits best.
    pub bevel_off_rim_mm: Option<f64>,
    /// Where.
    pub bevel_off_rim_deg: Option<f64>,
    /// The same of the front surface.
    pub front_off_rim_mm: Option<f64>,
    /// Where.
    pub front_off_rim_deg: Option<f64>,
    /// Face of the safety chamfer.
    pub chamfer_mm: f64,
    /// What the chamfers take off; not in the mass.
    pub chamfer_removed_mm3: Option<f64>,
    /// Its mass.
    pub chamfer_removed_g: Option<f64>,
}

/// The work on one edge, for other programs.
#[must_use]
pub fn edging(work: &EdgeWork) -> EdgingWire {
    let read = |id: &str| {
        figures::OF_EDGING.iter().find(|figure| figure.id == id).and_then(|figure| (figure.read)(work)).map(finite)
    };
    EdgingWire {
        path_mm: finite(work.path_mm),
        depth_max_mm: read("edging.depth_max_mm"),
        depth_max_deg: read("edging.depth_max_deg"),
        depth_mean_mm: read("edging.depth_mean_mm"),
        swarf_g: read("edging.swarf_g"),
        bevel_curve_d: read("edging.bevel_curve_d"),
        bevel_behind_min_mm: read("edging.bevel_behind_min_mm"),
        bevel_behind_max_mm: read("edging.bevel_behind_max_mm"),
        bevel_moved_mm: read("edging.bevel_moved_mm"),
        bevel_moved_deg: read("edging.bevel_moved_deg"),
        rim_curve_d: read("edging.rim_curve_d"),
        bevel_off_rim_mm: read("edging.bevel_off_rim_mm"),
        bevel_off_rim_deg: read("edging.bevel_off_rim_deg"),
        front_off_rim_mm: read("edging.front_off_rim_mm"),
        front_off_rim_deg: read("edging.front_off_rim_deg"),
        chamfer_mm: finite(work.chamfer_mm),
        chamfer_removed_mm3: read("edging.chamfer_removed_mm3"),
        chamfer_removed_g: read("edging.chamfer_removed_g"),
    }
}
