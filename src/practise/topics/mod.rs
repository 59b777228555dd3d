//! The topics: each a kind of question, that takes its numbers from a grid by chance or is given them.

mod blank;
mod decentration;
mod edge;
mod imbalance;
mod jump;
mod meridian;
mod prentice;
mod prism;
mod sag;
mod surface;
mod thinner;
mod transposition;
mod vertex;
mod vertex_power;

pub use blank::Blank;
pub use decentration::{Decentration, Wanted};
pub use edge::{MinusEdge, PlusCentre};
pub use imbalance::Imbalance;
pub use jump::{Jump, SegmentPrism, Style};
pub use meridian::Meridian;
pub use prentice::{Prentice, Toward};
pub use prism::Resultant;
pub use sag::{Sag, Spoken};
pub use surface::{FromReading, OfRadius};
pub use thinner::Thinner;
pub use transposition::{Sum, Transposition};
pub use vertex::Vertex;
pub use vertex_power::{BackCurve, BackRadius, BackVertexPower};

use super::{Chance, Exercise};
use crate::draw::number::figure;

/// A kind of question.
#[derive(Clone, Copy, Debug)]
pub struct Topic {
    /// Its word on the command line.
    pub id: &'static str,
    /// What stands above its questions.
    pub title: &'static str,
    /// What is asked at the three levels.
    pub about: &'static str,
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
        Exercise { topic: self.id, level, ..made }
    }

    /// The topic of this word.
    #[must_use]
    pub fn from_id(id: &str) -> Option<&'static Topic> {
        TOPICS.iter().find(|topic| topic.id == id)
    }
}

/// All topics, in the order in which they are learned.
pub static TOPICS: [Topic; 14] = [
    Topic {
        id: "transposition",
        title: "Transposition",
        about: "the other sign of cylinder; at level 3 two powers added",
        make: transposition::any,
    },
    Topic {
        id: "meridian",
        title: "Power in a meridian",
        about: "along, across and between, by the sin² law",
        make: meridian::any,
    },
    Topic {
        id: "decentration",
        title: "Decentration and reach",
        about: "from both pds together, from one eye's, and the reach to the rim",
        make: decentration::any,
    },
    Topic {
        id: "prentice",
        title: "Prentice’s rule",
        about: "prism away from the optical centre: spheres, axes at 90 and 180, oblique axes",
        make: prentice::any,
    },
    Topic {
        id: "prism",
        title: "Prisms added",
        about: "amount and base of two prisms at right angles",
        make: prism::any,
    },
    Topic {
        id: "imbalance",
        title: "Vertical imbalance",
        about: "the difference of both eyes' prism below the centres",
        make: imbalance::any,
    },
    Topic {
        id: "jump",
        title: "Image jump",
        about: "round, flat-top and full-width segments; at level 3 the segment's prism at the reading level",
        make: jump::any,
    },
    Topic {
        id: "vertex",
        title: "Vertex distance",
        about: "the power that does the same elsewhere: contact lenses, other frames, cylinders",
        make: vertex::any,
    },
    Topic {
        id: "surface",
        title: "Surface power",
        about: "from radius and index, from a lens-measure reading, and back to the radius",
        make: surface::any,
    },
    Topic {
        id: "vertex-power",
        title: "Back vertex power",
        about: "back curves of thin lenses, back vertex power of thick ones, the back's radius",
        make: vertex_power::any,
    },
    Topic {
        id: "sag",
        title: "Sag",
        about: "from a radius, from a power, from a lens-measure reading",
        make: sag::any,
    },
    Topic {
        id: "edge",
        title: "Edge and centre thickness",
        about: "round uncuts; lenses in a frame; both surfaces curved, with the thickness taken into account",
        make: edge::any,
    },
    Topic {
        id: "blank",
        title: "Blank size",
        about: "least diameter of a round lens, of an oval, and decentred both ways",
        make: blank::any,
    },
    Topic {
        id: "thinner",
        title: "Which is thinner, and why",
        about: "two lenses of one prescription that differ in one thing",
        make: thinner::any,
    },
];

/// A number of a sum: a negative one in brackets.
fn bracketed(value: f64, decimals: usize) -> String {
    let text = figure(value, decimals);
    if text.starts_with('−') { format!("({text})") } else { text }
}
