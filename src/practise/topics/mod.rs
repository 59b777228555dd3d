//! The topics: each a kind of question, that takes its numbers from a grid by chance or is given them.

mod axis_error;
mod blank;
mod boxing;
mod crossed;
mod decentration;
mod edge;
mod imbalance;
mod jump;
mod meridian;
mod near;
mod prentice;
mod prism;
mod sag;
mod surface;
mod thinner;
mod transposition;
mod vertex;
mod vertex_power;

pub use axis_error::{LeftOver, MostOff};
pub use blank::Blank;
pub use boxing::{Corners, OvalRadius};
pub use crossed::{Crossed, Equivalent};
pub use decentration::{Decentration, Wanted};
pub use edge::{MinusEdge, PlusCentre, TwoCurves};
pub use imbalance::Imbalance;
pub use jump::{Jump, SegmentPrism, Style};
pub use meridian::Meridian;
pub use near::{Corridor, NearPd, Thinning};
pub use prentice::{Prentice, Toward};
pub use prism::{Degrees, Part, Resultant};
pub use sag::{ConicSag, Sag, Spoken};
pub use surface::{CurveVariation, FromReading, IndexByReadings, OfRadius, Vogel};
pub use thinner::Thinner;
pub use transposition::{Sum, Transposition};
pub use vertex::Vertex;
pub use vertex_power::{BackCurve, BackRadius, Separated, VertexPower, Wants};

use super::{Chance, Exercise, Form, Takes};
use crate::draw::number::{axis, figure, power};

/// A kind of question.
#[derive(Clone, Copy, Debug)]
pub struct Topic {
    /// Its word on the command line.
    pub id: &'static str,
    /// What stands above its questions.
    pub title: &'static str,
    /// What is asked at the three levels.
    pub about: &'static str,
    /// What it can ask with given numbers.
    pub forms: &'static [Form],
    make: fn(u8, &mut Chance) -> Exercise,
}

impl PartialEq for Topic {
    fn eq(&self, other: &Topic) -> bool {
        self.id == other.id
    }
}

impl Topic {
    /// A question of a level from 1 to 3, its numbers by chance.
    #[must_use]
    pub fn exercise(&self, level: u8, chance: &mut Chance) -> Exercise {
        let made = (self.make)(level, chance).offered(chance);
        Exercise { topic: self.id, level: Some(level), ..made }
    }

    /// The topic of this word.
    #[must_use]
    pub fn from_id(id: &str) -> Option<&'static Topic> {
        TOPICS.iter().find(|topic| topic.id == id)
    }
}

/// All topics, in the order in which they are learned.
pub static TOPICS: [Topic; 18] = [
    Topic {
        id: "transposition",
        title: "Transposition",
        about: "the other sign of cylinder; at level 3 two powers added",
        forms: transposition::FORMS,
        make: transposition::any,
    },
    Topic {
        id: "meridian",
        title: "Power in a meridian",
        about: "along, across and between, by the sin² law",
        forms: meridian::FORMS,
        make: meridian::any,
    },
    Topic {
        id: "crossed",
        title: "Crossed cylinders",
        about: "spherical equivalent; two cylinders at any angle, by power vectors",
        forms: crossed::FORMS,
        make: crossed::any,
    },
    Topic {
        id: "axis-error",
        title: "Cylinder off its axis",
        about: "what is left over, and how far off an axis may be",
        forms: axis_error::FORMS,
        make: axis_error::any,
    },
    Topic {
        id: "boxing",
        title: "Boxing",
        about: "effective diameter of a rectangle, radii of an oval",
        forms: boxing::FORMS,
        make: boxing::any,
    },
    Topic {
        id: "decentration",
        title: "Decentration and reach",
        about: "from both pds together, from one eye's, and the reach to the rim",
        forms: decentration::FORMS,
        make: decentration::any,
    },
    Topic {
        id: "prentice",
        title: "Prentice’s rule",
        about: "prism away from the optical centre: spheres, axes at 90 and 180, oblique axes",
        forms: prentice::FORMS,
        make: prentice::any,
    },
    Topic {
        id: "prism",
        title: "Prisms added",
        about: "amount and base of two prisms at right angles; the parts of an oblique one; in degrees",
        forms: prism::FORMS,
        make: prism::any,
    },
    Topic {
        id: "imbalance",
        title: "Vertical imbalance",
        about: "the difference of both eyes' prism below the centres",
        forms: imbalance::FORMS,
        make: imbalance::any,
    },
    Topic {
        id: "jump",
        title: "Image jump",
        about: "round, flat-top and full-width segments; at level 3 the segment's prism at the reading level",
        forms: jump::FORMS,
        make: jump::any,
    },
    Topic {
        id: "vertex",
        title: "Vertex distance",
        about: "the power that does the same elsewhere: contact lenses, other frames, cylinders",
        forms: vertex::FORMS,
        make: vertex::any,
    },
    Topic {
        id: "surface",
        title: "Surface power",
        about: "from radius and index, from a lens-measure reading, and back to the radius; base curve by Vogel’s rule; curve variation; the index by readings",
        forms: surface::FORMS,
        make: surface::any,
    },
    Topic {
        id: "vertex-power",
        title: "Back vertex power",
        about: "back curves of thin lenses; back and front vertex power of thick ones, and of two lenses apart; the back's radius",
        forms: vertex_power::FORMS,
        make: vertex_power::any,
    },
    Topic {
        id: "sag",
        title: "Sag",
        about: "from a radius, from a power, from a lens-measure reading; of a conicoid",
        forms: sag::FORMS,
        make: sag::any,
    },
    Topic {
        id: "edge",
        title: "Edge and centre thickness",
        about: "round uncuts; lenses in a frame; both surfaces curved, with the thickness taken into account",
        forms: edge::FORMS,
        make: edge::any,
    },
    Topic {
        id: "blank",
        title: "Blank size",
        about: "least diameter of a round lens, of an oval, and decentred both ways",
        forms: blank::FORMS,
        make: blank::any,
    },
    Topic {
        id: "near",
        title: "Near vision and varifocals",
        about: "prism thinning, near pd, the width of a corridor",
        forms: near::FORMS,
        make: near::any,
    },
    Topic {
        id: "thinner",
        title: "Which is thinner, and why",
        about: "two lenses of one prescription that differ in one thing",
        forms: &[],
        make: thinner::any,
    },
];

const SPHERE: Takes = Takes::number("sphere", "D", [-40.0, 30.0], 2);
const CYLINDER: Takes = Takes::number("cylinder", "D", [-12.0, 12.0], 2);
const AXIS: Takes = Takes::number("axis", "°", [0.0, 180.0], 1);
const OTHER_SPHERE: Takes = Takes::number("other_sphere", "D", [-40.0, 30.0], 2);
const OTHER_CYLINDER: Takes = Takes::number("other_cylinder", "D", [-12.0, 12.0], 2);
const OTHER_AXIS: Takes = Takes::number("other_axis", "°", [0.0, 180.0], 1);
const ADD: Takes = Takes::number("add", "D", [0.25, 5.0], 2);
const INDEX: Takes = Takes::number("index", "", [1.3, 2.1], 3);
const EYE: Takes = Takes::word("eye", &["right", "left"]).or("right");
const EYE_SIZE: Takes = mm("eye_size_mm", 30.0, 70.0);
const BRIDGE: Takes = mm("bridge_mm", 8.0, 30.0);
const PD: Takes = mm("pd_mm", 15.0, 45.0);
const DIAMETER: Takes = Takes::number("diameter_mm", "mm", [1.0, 90.0], 1);
/// Thicknesses are asked for and shown to a tenth.
const CENTRE: Takes = Takes::number("centre_mm", "mm", [0.3, 30.0], 1);

/// A length that a question takes to hundredths.
const fn mm(key: &'static str, from: f64, to: f64) -> Takes {
    Takes::number(key, "mm", [from, to], 2)
}

/// A power that a question takes to hundredths.
const fn dioptres(key: &'static str, from: f64, to: f64) -> Takes {
    Takes::number(key, "D", [from, to], 2)
}

/// A power as prescriptions write it; plain where it has no cylinder.
fn written([sphere, cylinder, deg]: [f64; 3]) -> String {
    match cylinder {
        0.0 => power(sphere),
        cylinder => format!("{} {} × {}", power(sphere), power(cylinder), axis(deg)),
    }
}

/// A number of a sum as it was given, to four decimals at the most: a negative one in brackets.
fn as_given(value: f64) -> String {
    let text = figure(value, 4);
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short.starts_with('−') { format!("({short})") } else { short.to_owned() }
}

/// A number of a sum: a negative one in brackets.
fn bracketed(value: f64, decimals: usize) -> String {
    let text = figure(value, decimals);
    if text.starts_with('−') { format!("({text})") } else { text }
}
