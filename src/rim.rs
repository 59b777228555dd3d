//! The five rims, and what each asks of an edge: a bevel, a groove or two holes.
//!
//! Units: mm and degrees in the names.

use serde::{Deserialize, Serialize};

/// How the frame holds the lens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rim {
    /// A metal rim all round.
    Metal,
    /// A plastic rim all round.
    Plastic,
    /// Rim above, nylon cord below (semi-rimless).
    Supra,
    /// Rim below, cord or nothing above.
    ReverseSupra,
    /// Drilled lens, no rim.
    Rimless,
}

/// What is done to the edge so that the rim can hold it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edging {
    /// A V-bevel of this height; the apex angle is [`BEVEL_APEX_DEG`].
    Bevel {
        /// From the shoulder to the tip.
        height_mm: f64,
    },
    /// A groove all round for the cord.
    Groove {
        /// Along the edge, front to back.
        width_mm: f64,
        /// Into the edge.
        depth_mm: f64,
    },
    /// Two holes on the horizontal line through the boxed centre.
    Holes {
        /// Of each hole.
        diameter_mm: f64,
        /// From the outline to the middle of the hole, along the line.
        inset_mm: f64,
    },
}

/// Where on the edge tip of the bevel or middle of the groove are wished, all round.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Position {
    /// Nothing is wished: [`SEAT_MM`] behind the front corner, or in the middle of a thinner edge.
    #[default]
    Usual,
    /// It follows the front surface.
    Front {
        /// Behind the front corner.
        behind_mm: f64,
    },
    /// It shares out the edge.
    Share {
        /// What of the edge thickness lies before it, 0 to 1.
        before: f64,
    },
    /// It lies on a sphere of the rim's own curve.
    RimCurve {
        /// Of the rim, as marked at index 1.530.
        rim_curve_d: f64,
    },
}

impl Position {
    /// The words used in job files.
    pub const WORDS: [&'static str; 3] = ["front", "share", "rim-curve"];

    /// Behind the front corner of an edge of this thickness; `None` where the edge alone does not tell.
    #[must_use]
    pub fn behind_mm(self, edge_mm: f64) -> Option<f64> {
        match self {
            Position::Usual => Some(SEAT_MM.min(0.5 * edge_mm)),
            Position::Front { behind_mm } => Some(behind_mm),
            Position::Share { before } => Some(before * edge_mm),
            Position::RimCurve { rim_curve_d: _ } => None,
        }
    }
}

/// What is wished of an edge, and what is known of the rim that it goes into.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeWish {
    /// Where bevel or groove are wished.
    pub position: Position,
    /// The rim's own curve, as marked at index 1.530, where known.
    pub rim_curve_d: Option<f64>,
    /// Width of the safety chamfer's face, at 45° to the edge.
    pub chamfer_mm: f64,
}

impl Default for EdgeWish {
    fn default() -> EdgeWish {
        EdgeWish { position: Position::Usual, rim_curve_d: None, chamfer_mm: CHAMFER_MM }
    }
}

/// Where bevel or groove and the rim sit on an edge, behind its front corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// Tip of the bevel, middle of the groove.
    pub tip_mm: f64,
    /// Half of what bevel or groove take up of the edge.
    pub half_mm: f64,
    /// Front of the rim: negative where the rim stands before the lens.
    pub rim_front_mm: f64,
    /// Back of the rim.
    pub rim_back_mm: f64,
}

impl Seat {
    /// How far inside of the outline a bevel that takes up this much has its shoulder.
    #[must_use]
    pub fn inset_mm(&self) -> f64 {
        self.half_mm / bevel_flank()
    }
}

/// Half of what a bevel takes up of the edge, for each millimetre of its height.
fn bevel_flank() -> f64 {
    (0.5 * BEVEL_APEX_DEG).to_radians().tan()
}

/// A rim whose depth is not known is taken to be so deep from front to back (ours).
pub const USUAL_DEPTH_MM: f64 = 2.0;
/// Bevels and grooves sit so far behind the front corner, or in the middle of a thinner edge (ours: the lens then lies
/// flush with the front of a usual rim).
pub const SEAT_MM: f64 = 0.5 * USUAL_DEPTH_MM;

/// A bevel or groove that is moved by less lies where it is wished (ours).
pub const MOVED_MM: f64 = 0.05;

/// Face of the safety chamfer on both corners, where nothing else is wished (common practice, no source: 0.2 to 0.3).
pub const CHAMFER_MM: f64 = 0.25;
/// What a bevel shares an edge out to, where nothing else is wished (common practice, no source: a third to the front).
pub const SHARE_BEFORE: f64 = 1.0 / 3.0;

/// Apex angle of a V-bevel (common practice, no source).
pub const BEVEL_APEX_DEG: f64 = 110.0;

impl Rim {
    /// All rims, in the order in which they are listed anywhere.
    pub const ALL: [Rim; 5] = [Rim::Metal, Rim::Plastic, Rim::Supra, Rim::ReverseSupra, Rim::Rimless];

    /// The word used in job files, CSV and on screen.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Rim::Metal => "metal",
            Rim::Plastic => "plastic",
            Rim::Supra => "supra",
            Rim::ReverseSupra => "reverse-supra",
            Rim::Rimless => "rimless",
        }
    }

    /// The rim of this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Rim> {
        Rim::ALL.into_iter().find(|rim| rim.word() == word)
    }

    /// What is done to the edge: sizes are common practice, no source.
    #[must_use]
    pub fn edging(self) -> Edging {
        match self {
            Rim::Metal => Edging::Bevel { height_mm: 0.5 },
            Rim::Plastic => Edging::Bevel { height_mm: 0.7 },
            Rim::Supra | Rim::ReverseSupra => Edging::Groove { width_mm: 0.6, depth_mm: 0.4 },
            Rim::Rimless => Edging::Holes { diameter_mm: 1.4, inset_mm: 3.0 },
        }
    }

    /// Does a bevel or a groove go round its lenses?
    #[must_use]
    pub fn goes_round(self) -> bool {
        !matches!(self.edging(), Edging::Holes { .. })
    }

    /// Has its lens a bevel?
    #[must_use]
    pub fn has_bevel(self) -> bool {
        matches!(self.edging(), Edging::Bevel { .. })
    }

    /// Where the lens sits in a rim of this depth, by its edge thickness: tip of the bevel or middle of the groove so far
    /// behind the front corner as is wanted, or as near to that as bevel or groove stay within the edge.
    #[must_use]
    pub fn seat(self, edge_mm: f64, wanted_mm: f64, depth_mm: Option<f64>) -> Seat {
        let edge_mm = edge_mm.max(0.0);
        let whole_mm = match self.edging() {
            Edging::Bevel { height_mm } => height_mm * bevel_flank(),
            Edging::Groove { width_mm, depth_mm: _ } => 0.5 * width_mm,
            Edging::Holes { .. } => 0.0,
        };
        let half_mm = whole_mm.min(0.5 * edge_mm);
        let tip_mm = wanted_mm.clamp(half_mm, (edge_mm - half_mm).max(half_mm));
        let depth_mm = depth_mm.unwrap_or(USUAL_DEPTH_MM);
        let rim_front_mm = tip_mm - (0.5 * depth_mm).min(SEAT_MM).max(half_mm);
        Seat { tip_mm, half_mm, rim_front_mm, rim_back_mm: (rim_front_mm + depth_mm).max(tip_mm + half_mm) }
    }

    /// The least (centre, edge) thickness in mm that this rim bears whatever the material says (common practice, no
    /// source): a groove wants 1.6 of edge, drilled points 1.5 of both.
    #[must_use]
    pub fn floor_mm(self) -> (f64, f64) {
        match self {
            Rim::Metal | Rim::Plastic => (0.0, 0.0),
            Rim::Supra | Rim::ReverseSupra => (0.0, 1.6),
            Rim::Rimless => (1.5, 1.5),
        }
    }
}
