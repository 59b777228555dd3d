//! All that can be answered of a lens and of a pair: each figure once, with its unit, how many decimals are shown, how it
//! is read off a fit, its formula and its source. Tables, charts, JSON tests and the reference page loop over these.

use crate::assess::{CENTRE_TOLERANCE_MM, EdgeWork, Made, Pair, Surfacing};
use crate::measure::Worst;

/// What a figure is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Square millimetres.
    Mm2,
    /// Cubic millimetres.
    Mm3,
    /// Grams.
    G,
    /// Dioptres.
    D,
    /// Degrees.
    Deg,
    /// Prism dioptres.
    Pd,
}

impl Unit {
    /// As printed behind a number.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Mm2 => "mm²",
            Unit::Mm3 => "mm³",
            Unit::G => "g",
            Unit::D => "D",
            Unit::Deg => "°",
            Unit::Pd => "Δ",
        }
    }
}

/// Which way a figure is better for the wearer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// The smaller the better.
    Less,
    /// Neither: it is there for another reason.
    Neither,
}

/// One figure of `T`.
#[derive(Clone, Copy, Debug)]
pub struct Figure<T> {
    /// Its path in the JSON of `compare`, from the eye or the pair: `thickness.edge_max_mm`.
    pub id: &'static str,
    /// Its name on screen.
    pub name: &'static str,
    /// Its unit.
    pub unit: Unit,
    /// Decimals on screen.
    pub decimals: usize,
    /// Which way is better.
    pub better: Better,
    /// How it is read off; `None` where it does not exist.
    pub read: fn(&T) -> Option<f64>,
    /// What it is, in symbols or words.
    pub formula: &'static str,
    /// Where that comes from.
    pub source: &'static str,
}

const BOXING: &str = "ISO 8624 boxing system";
const TEXTBOOK: &str = "textbooks of ophthalmic lenses";
const OURS: &str = "our convention, docs/model.md";
const PRACTICE: &str = "common practice, no source";

macro_rules! figures {
    ($of:ty: $($id:literal $name:literal $unit:ident $decimals:literal $better:ident $read:expr, $formula:literal, $source:expr;)*) => {
        &[$(Figure::<$of> {
            id: $id,
            name: $name,
            unit: Unit::$unit,
            decimals: $decimals,
            better: Better::$better,
            read: $read,
            formula: $formula,
            source: $source,
        }),*]
    };
}

/// Figures of one lens.
pub const OF_EYE: &[Figure<Made>] = figures! { Made:
    "reference_point.in_mm" "decentration in" Mm 1 Neither |m| Some(m.centration.in_mm),
        "(eye size + bridge)/2 − pd", BOXING;
    "reference_point.up_mm" "reference point up" Mm 1 Neither |m| Some(m.centration.up_mm),
        "height above the lowest point of the shape − depth/2", BOXING;
    "reach.nasal_mm" "nasal reach" Mm 1 Neither |m| Some(m.centration.reach.nasal_mm),
        "pd − bridge/2", BOXING;
    "reach.temporal_mm" "temporal reach" Mm 1 Neither |m| Some(m.centration.reach.temporal_mm),
        "eye size + bridge/2 − pd", BOXING;
    "front.base_curve_d" "base curve" D 2 Neither |m| Some(m.base.base_curve_d),
        "front power as marked at index 1.530", TEXTBOOK;
    "front.power_d" "front power" D 2 Neither |m| Some(m.recipe.front_power_d()),
        "F1 = (n − 1)/r1, r1 = 530/base curve", TEXTBOOK;
    "front.radius_mm" "front radius" Mm 2 Neither |m| radius_mm(m.recipe.front_curvature()),
        "r1 = 530/base curve", TEXTBOOK;
    "thickness.centre_mm" "centre" Mm 1 Neither |m| m.thickness.centre_mm,
        "smallest at which no demand is missed", OURS;
    "thickness.thinnest_mm" "thinnest" Mm 1 Neither |m| Some(m.thickness.thinnest_mm),
        "least thickness in the closed shape", OURS;
    "thickness.edge_max_mm" "thickest edge" Mm 1 Less |m| Some(m.thickness.edges.max.thickness_mm),
        "t = tc + z2 − z1 at the outline, before bevelling", TEXTBOOK;
    "thickness.edge_max_deg" "direction of the thickest edge" Deg 0 Neither |m| Some(m.thickness.edges.max.deg),
        "from the boxed centre, anticlockwise from the observer's right", OURS;
    "thickness.edge_min_mm" "thinnest edge" Mm 1 Neither |m| Some(m.thickness.edges.min.thickness_mm),
        "t = tc + z2 − z1 at the outline, before bevelling", TEXTBOOK;
    "thickness.edge_min_deg" "direction of the thinnest edge" Deg 0 Neither |m| Some(m.thickness.edges.min.deg),
        "from the boxed centre, anticlockwise from the observer's right", OURS;
    "thickness.nasal_mm" "nasal edge" Mm 1 Less |m| Some(m.thickness.nasal_mm),
        "edge on the horizontal centre line", BOXING;
    "thickness.temporal_mm" "temporal edge" Mm 1 Less |m| Some(m.thickness.temporal_mm),
        "edge on the horizontal centre line", BOXING;
    "thickness.top_mm" "top edge" Mm 1 Less |m| Some(m.thickness.top_mm),
        "edge on the vertical line through the boxed centre", BOXING;
    "thickness.bottom_mm" "bottom edge" Mm 1 Less |m| Some(m.thickness.bottom_mm),
        "edge on the vertical line through the boxed centre", BOXING;
    "thickness.shoulder_max_mm" "thickest shoulder" Mm 1 Neither |m| m.thickness.shoulder_max_mm,
        "thickest place the bevel's height inside the outline", PRACTICE;
    "thickness.before_rim_mm" "thickest edge before the rim" Mm 1 Less |m| Some(m.thickness.beside_rim?.before_mm),
        "front of the rim to the bevel's shoulder; below nought where the rim stands before it", OURS;
    "thickness.behind_rim_mm" "thickest edge behind the rim" Mm 1 Less |m| Some(m.thickness.beside_rim?.behind_mm),
        "bevel's shoulder to the back of the rim; below nought where the rim hides it", OURS;
    "thickness.hole_nasal_mm" "at the nasal hole" Mm 1 Less |m| m.thickness.holes_mm.map(|[nasal, _]| nasal),
        "t at 3 mm in from the outline on the horizontal centre line", PRACTICE;
    "thickness.hole_temporal_mm" "at the temporal hole" Mm 1 Less |m| m.thickness.holes_mm.map(|[_, temporal]| temporal),
        "t at 3 mm in from the outline on the horizontal centre line", PRACTICE;
    "bulge_mm" "bulge" Mm 1 Less |m| Some(m.bulge_mm),
        "sag of the front at the farthest point of the outline", TEXTBOOK;
    "outline.area_mm2" "area" Mm2 0 Neither |m| Some(m.outline.area_mm2),
        "∮ x dy", BOXING;
    "outline.perimeter_mm" "perimeter" Mm 1 Neither |m| Some(m.outline.perimeter_mm),
        "∮ ds", BOXING;
    "outline.effective_diameter_mm" "effective diameter" Mm 1 Neither |m| Some(m.outline.effective_diameter_mm),
        "twice the longest radius from the boxed centre", BOXING;
    "volume_mm3" "volume" Mm3 0 Neither |m| Some(m.volume_mm3),
        "∬ t dA over the outline", TEXTBOOK;
    "edging_removed_mm3" "taken away in edging" Mm3 0 Neither |m| Some(m.edging_removed_mm3),
        "∮∫ (t − 2q tan 55°) dq ds for a bevel; groove and holes likewise", PRACTICE;
    "mass_g" "mass" G 1 Less |m| Some(m.mass_g),
        "density × (volume − edging)", TEXTBOOK;
    "blank.minimum_mm" "smallest blank" Mm 1 Less |m| Some(m.blank.minimum_mm),
        "2 × the longest distance from the reference point to the outline + 2", TEXTBOOK;
    "blank.rule_of_thumb_mm" "smallest blank by the rule of thumb" Mm 1 Less |m| Some(m.blank.rule_of_thumb_mm),
        "effective diameter + 2 × decentration + 2", TEXTBOOK;
    "blank.diameter_mm" "blank" Mm 0 Less |m| m.blank.diameter_mm,
        "the smallest listed one that holds the lens", OURS;
};

/// Figures of the work on one edge.
pub const OF_EDGING: &[Figure<EdgeWork>] = figures! { EdgeWork:
    "edging.path_mm" "cutting path" Mm 1 Neither |e| Some(e.path_mm),
        "∮ ds", BOXING;
    "edging.depth_max_mm" "greatest depth of cut" Mm 1 Neither |e| Some(e.depth?.most.mm),
        "blank's edge to the outline, on a ray from the boxed centre", OURS;
    "edging.depth_max_deg" "direction of the greatest depth of cut" Deg 0 Neither |e| Some(e.depth?.most.deg),
        "from the boxed centre, anticlockwise from the observer's right", OURS;
    "edging.depth_mean_mm" "mean depth of cut" Mm 1 Neither |e| Some(e.depth?.mean_mm),
        "mean over the turn of the lens", OURS;
    "edging.swarf_g" "swarf" G 1 Neither |e| e.swarf_g,
        "blank or uncut − mass", OURS;
    "edging.bevel_curve_d" "curve of the bevel" D 2 Neither |e| e.bevel_curve_d,
        "sphere nearest to the tip of the bevel (middle of the groove), at index 1.530", OURS;
    "edging.bevel_behind_min_mm" "bevel behind the front, least" Mm 2 Neither |e| Some(e.behind_mm?[0]),
        "tip of the bevel (middle of the groove) behind the front corner", OURS;
    "edging.bevel_behind_max_mm" "bevel behind the front, most" Mm 2 Neither |e| Some(e.behind_mm?[1]),
        "tip of the bevel (middle of the groove) behind the front corner", OURS;
    "edging.bevel_moved_mm" "bevel moved" Mm 2 Less |e| Some(e.moved?.mm),
        "most that it has to leave its wished place, to stay within the edge", OURS;
    "edging.bevel_moved_deg" "direction in which the bevel is moved most" Deg 0 Neither |e| deg_of(e.moved?),
        "from the boxed centre, anticlockwise from the observer's right", OURS;
    "edging.rim_curve_d" "rim's own curve" D 2 Neither |e| Some(e.off_rim?.rim_curve_d),
        "as a front that follows it is marked at index 1.530", PRACTICE;
    "edging.bevel_off_rim_mm" "bevel off the rim's curve" Mm 2 Less |e| Some(e.off_rim?.bevel.mm),
        "most along z between the bevel and the rim's sphere, where it fits best", OURS;
    "edging.bevel_off_rim_deg" "direction in which the bevel is farthest off" Deg 0 Neither |e| deg_of(e.off_rim?.bevel),
        "from the boxed centre, anticlockwise from the observer's right", OURS;
    "edging.front_off_rim_mm" "front off the rim's curve" Mm 2 Less |e| Some(e.off_rim?.front.mm),
        "most along z between the front and the rim's sphere, where it fits best", OURS;
    "edging.front_off_rim_deg" "direction in which the front is farthest off" Deg 0 Neither |e| deg_of(e.off_rim?.front),
        "from the boxed centre, anticlockwise from the observer's right", OURS;
    "edging.chamfer_mm" "safety chamfer" Mm 2 Neither |e| Some(e.chamfer_mm),
        "width of its face, at 45°", PRACTICE;
    "edging.chamfer_removed_mm3" "taken off by the chamfers" Mm3 1 Neither |e| e.chamfered_mm3,
        "∮ of both triangles; not in the mass", OURS;
    "edging.chamfer_removed_g" "mass of that" G 3 Neither |e| e.chamfered_g,
        "density × what the chamfers take off; not in the mass", OURS;
};

/// Figures of the work on the back of one lens.
pub const OF_SURFACING: &[Figure<Surfacing>] = figures! { Surfacing:
    "surfacing.blank_middle_in_mm" "blank's middle in" Mm 1 Neither |s| Some(s.middle_in_mm),
        "from the boxed centre: the reference point, or the middle of the smallest circle round the shape", OURS;
    "surfacing.blank_middle_up_mm" "blank's middle up" Mm 1 Neither |s| Some(s.middle_up_mm),
        "from the boxed centre", OURS;
    "surfacing.least_taken_mm" "least that surfacing takes off" Mm 1 Neither |s| s.least_taken_mm,
        "least of blank − lens within the shape; a blank that leaves less than 0.5 mm will not do", OURS;
    "surfacing.crib_mm" "crib diameter" Mm 1 Neither |s| Some(s.crib?.diameter_mm),
        "largest uncut about the blank's middle with 0.5 mm of edge all round", PRACTICE;
    "surfacing.curve_along_d" "back curve along the axis" D 3 Neither |s| Some(s.tools?.along.wanted_d),
        "530/r2; positive where the back is hollow", TEXTBOOK;
    "surfacing.tool_along_d" "tool along the axis" D 3 Neither |s| Some(s.tools?.along.tool_d),
        "the nearest step of the lab's tools", PRACTICE;
    "surfacing.curve_across_d" "back curve across the axis" D 3 Neither |s| Some(s.tools?.across.wanted_d),
        "530/r2; positive where the back is hollow", TEXTBOOK;
    "surfacing.tool_across_d" "tool across the axis" D 3 Neither |s| Some(s.tools?.across.tool_d),
        "the nearest step of the lab's tools", PRACTICE;
    "surfacing.sphere_error_d" "sphere off by the tools" D 3 Neither |s| Some(s.tools?.sphere_error_d),
        "(1 − n)/0.53 × (tool − curve) along the axis", TEXTBOOK;
    "surfacing.cylinder_error_d" "cylinder off by the tools" D 3 Neither |s| Some(s.tools?.cylinder_error_d),
        "the same across the axis, less that along it", TEXTBOOK;
    "surfacing.prism_pd" "prism to grind" Pd 2 Neither |s| Some(s.prism?.amount_pd()),
        "prescribed + −F c at the blank's middle (Prentice), as vectors", TEXTBOOK;
    "surfacing.prism_base_deg" "base of the prism to grind" Deg 0 Neither |s| s.prism.filter(|p| !p.is_none()).map(|p| p.base_deg()),
        "anticlockwise from the observer's right", OURS;
    "surfacing.thickest_mm" "thickest place" Mm 1 Neither |s| Some(s.thickest.thickness_mm),
        "greatest thickness in the closed shape", OURS;
    "surfacing.thickest_in_mm" "thickest place in" Mm 1 Neither |s| Some(s.thickest.in_mm),
        "from the reference point, toward the nose", OURS;
    "surfacing.thickest_up_mm" "thickest place up" Mm 1 Neither |s| Some(s.thickest.up_mm),
        "from the reference point", OURS;
    "surfacing.thinnest_in_mm" "thinnest place in" Mm 1 Neither |s| Some(s.thinnest.in_mm),
        "from the reference point, toward the nose", OURS;
    "surfacing.thinnest_up_mm" "thinnest place up" Mm 1 Neither |s| Some(s.thinnest.up_mm),
        "from the reference point", OURS;
    "surfacing.centre_tolerance_mm" "tolerance of the centre" Mm 1 Neither |_| Some(CENTRE_TOLERANCE_MM),
        "± of the thickness at the reference point", "ISO 21987, from memory";
};

/// Figures of a pair.
pub const OF_PAIR: &[Figure<Pair>] = figures! { Pair:
    "mass_g" "mass of both lenses" G 1 Less |p| Some(p.mass_g()),
        "right + left", TEXTBOOK;
    "edge_max_mm" "thickest edge of both lenses" Mm 1 Less |p| Some(p.edge_max_mm()),
        "the larger of right and left", OURS;
    "with_frame_g" "mass with the frame" G 1 Less |p| p.with_frame_g(),
        "right + left + frame", OURS;
};

/// What is nought but for rounding is nought everywhere.
fn deg_of(worst: Worst) -> Option<f64> {
    (worst.mm > 1e-9).then_some(worst.deg)
}

/// Radius of a curvature in 1/mm; `None` for a plane.
#[must_use]
pub fn radius_mm(curvature: f64) -> Option<f64> {
    (curvature != 0.0).then(|| 1.0 / curvature)
}

/// The figure of one lens with this id.
#[must_use]
pub fn of_eye(id: &str) -> Option<&'static Figure<Made>> {
    OF_EYE.iter().find(|figure| figure.id == id)
}
