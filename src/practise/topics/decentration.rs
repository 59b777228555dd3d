//! Decentration from frame and pd, and the reach to the rim.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{BRIDGE, EYE, EYE_SIZE, bracketed, mm};
use crate::draw::number::size;
use crate::eye::Eye;
use crate::frame::{Boxing, Centration};

/// What is asked of a frame and a pair of pupils.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// Each eye's, from the pd of both.
    FromBoth,
    /// Of one eye, from its own pd.
    FromOne,
    /// The reach from the optical centre to the temporal side of the lens.
    TemporalReach,
    /// The reach to the nasal side.
    NasalReach,
}

/// "How far is the lens decentred?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decentration {
    /// Eye size and bridge.
    pub boxing: Boxing,
    /// Of the right and the left eye.
    pub pds_mm: [f64; 2],
    /// Which lens.
    pub eye: Eye,
    /// What of it.
    pub wanted: Wanted,
}

const WAYS: [&str; 2] = ["in", "out"];

const EACH: &[Takes] = &[EYE_SIZE, BRIDGE, mm("right_pd_mm", 15.0, 45.0), mm("left_pd_mm", 15.0, 45.0), EYE];

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "decentration",
        takes: &[EYE_SIZE, BRIDGE, mm("both_pd_mm", 40.0, 80.0)],
        pose: |given| {
            let pd_mm = 0.5 * given.number("both_pd_mm");
            Ok(Decentration { boxing: boxing(given), pds_mm: [pd_mm; 2], eye: Eye::Right, wanted: Wanted::FromBoth }
                .exercise())
        },
    },
    Form { find: "decentration", takes: EACH, pose: |given| each(given, Wanted::FromOne) },
    Form { find: "temporal-reach", takes: EACH, pose: |given| each(given, Wanted::TemporalReach) },
    Form { find: "nasal-reach", takes: EACH, pose: |given| each(given, Wanted::NasalReach) },
];

/// Of a frame whose depth does not matter.
fn boxing(given: &Given) -> Boxing {
    let eye_size_mm = given.number("eye_size_mm");
    Boxing { eye_size_mm, depth_mm: eye_size_mm, bridge_mm: given.number("bridge_mm") }
}

fn each(given: &Given, wanted: Wanted) -> Result<Exercise, String> {
    let pds_mm = ["right_pd_mm", "left_pd_mm"].map(|key| given.number(key));
    Ok(Decentration { boxing: boxing(given), pds_mm, eye: given.eye(), wanted }.exercise())
}

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let eye_size_mm = chance.on_grid(46.0, 56.0, 2.0);
    let boxing = Boxing { eye_size_mm, depth_mm: 0.7 * eye_size_mm, bridge_mm: chance.on_grid(16.0, 20.0, 2.0) };
    let half = 0.5 * boxing.centre_distance_mm();
    let step = if level == 1 { 1.0 } else { 0.5 };
    // From 7 mm in to 1 mm out, never nought.
    let right = match half - chance.on_grid(-1.0, 7.0, step) {
        pd if pd == half => half - 3.0,
        pd => pd,
    };
    let (eye, wanted, left) = match level {
        1 => (Eye::Right, Wanted::FromBoth, right),
        2 => (chance.one_of(&Eye::BOTH), Wanted::FromOne, right + chance.one_of(&[-1.5, -1.0, 1.0, 1.5])),
        _ => {
            let wanted = chance.one_of(&[Wanted::TemporalReach, Wanted::NasalReach]);
            (chance.one_of(&Eye::BOTH), wanted, right + chance.one_of(&[-1.5, -1.0, 1.0, 1.5]))
        }
    };
    Decentration { boxing, pds_mm: [right, left], eye, wanted }.exercise()
}

impl Decentration {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        match self.wanted {
            Wanted::FromBoth | Wanted::FromOne => self.decentration(),
            Wanted::TemporalReach | Wanted::NasalReach => self.reach(),
        }
    }

    fn pd_mm(&self) -> f64 {
        match self.eye {
            Eye::Right => self.pds_mm[0],
            Eye::Left => self.pds_mm[1],
        }
    }

    fn both_mm(&self) -> f64 {
        self.pds_mm[0] + self.pds_mm[1]
    }

    fn pds(&self) -> String {
        match self.wanted {
            Wanted::FromBoth => format!("pd of both eyes {} mm", size(self.both_mm())),
            _ => format!("pd right {}, left {} mm", size(self.pds_mm[0]), size(self.pds_mm[1])),
        }
    }

    fn frame(&self) -> String {
        format!("Eye size {}, bridge {}, {}.", size(self.boxing.eye_size_mm), size(self.boxing.bridge_mm), self.pds())
    }

    fn decentration(&self) -> Exercise {
        let Boxing { eye_size_mm, bridge_mm, .. } = self.boxing;
        let (apart, pd) = (self.boxing.centre_distance_mm(), self.pd_mm());
        let right = Centration::new(&self.boxing, pd, 0.0).in_mm;
        let whose = match self.wanted {
            Wanted::FromBoth => "each lens".to_owned(),
            _ => format!("the {} lens", self.eye.word()),
        };
        let question = format!("{} How far, and which way, is {whose} decentred?", self.frame());
        let made = Exercise::number(question, Scale::plain("mm", 1).within(0.1).toward(WAYS), right).step(
            "boxed centres apart = eye size + bridge",
            format!("{} + {}", size(eye_size_mm), size(bridge_mm)),
            apart,
            (1, "mm"),
        );
        let made = made.slip(Mistake::BridgeForgotten, 0.5 * eye_size_mm - pd);
        let made = match self.wanted {
            Wanted::FromBoth => made
                .step(
                    "both together = boxed centres apart − pd of both eyes",
                    format!("{} − {}", size(apart), size(self.both_mm())),
                    apart - self.both_mm(),
                    (1, "mm"),
                )
                .slip(Mistake::BinocularPd, 0.5 * apart - self.both_mm())
                .step("each = half of it", format!("{} / 2", bracketed(apart - self.both_mm(), 1)), right, (2, "mm"))
                .slip(Mistake::DecentrationDoubled, 2.0 * right),
            _ => made
                .step("half of it belongs to one eye", format!("{} / 2", size(apart)), 0.5 * apart, (1, "mm"))
                .step(
                    "decentration = half − pd of this eye",
                    format!("{} − {}", size(0.5 * apart), size(pd)),
                    right,
                    (2, "mm"),
                )
                .slip(Mistake::BinocularPd, 0.5 * apart - self.both_mm())
                .slip(Mistake::DecentrationDoubled, apart - self.both_mm())
                .slip(Mistake::OtherEye, 0.5 * apart - (self.both_mm() - pd)),
        };
        made.slip(Mistake::WrongWay, -right)
    }

    fn reach(&self) -> Exercise {
        let Boxing { eye_size_mm, bridge_mm, .. } = self.boxing;
        let (half_bridge, pd) = (0.5 * bridge_mm, self.pd_mm());
        let reach = |pd| Centration::new(&self.boxing, pd, 0.0).reach;
        let temporal = self.wanted == Wanted::TemporalReach;
        let of = |pd| if temporal { reach(pd).temporal_mm } else { reach(pd).nasal_mm };
        let (right, other_side) = match temporal {
            true => (of(pd), reach(pd).nasal_mm),
            false => (of(pd), reach(pd).temporal_mm),
        };
        let side = if temporal { "temporal" } else { "nasal" };
        let question = format!(
            "{} How far does the {} lens reach from its optical centre to the {side} side of its box?",
            self.frame(),
            self.eye.word()
        );
        let made = Exercise::number(question, Scale::plain("mm", 1).within(0.1), right).step(
            "half the bridge",
            format!("{} / 2", size(bridge_mm)),
            half_bridge,
            (1, "mm"),
        );
        let made = match temporal {
            true => made.step(
                "temporal reach = eye size + half the bridge − pd",
                format!("{} + {} − {}", size(eye_size_mm), size(half_bridge), size(pd)),
                right,
                (1, "mm"),
            ),
            false => made.step(
                "nasal reach = pd − half the bridge",
                format!("{} − {}", size(pd), size(half_bridge)),
                right,
                (1, "mm"),
            ),
        };
        made.slip(Mistake::HalfEyeSize, 0.5 * eye_size_mm)
            .slip(Mistake::OtherSide, other_side)
            .slip(Mistake::OtherEye, of(self.both_mm() - pd))
            .slip(Mistake::BinocularPd, of(self.both_mm()))
            .slip(Mistake::BridgeForgotten, if temporal { eye_size_mm - pd } else { pd })
    }
}

/// "52 18": eye size and bridge as frames are marked.
pub(super) fn marked(boxing: &Boxing) -> String {
    format!("eye size {}, bridge {}", size(boxing.eye_size_mm), size(boxing.bridge_mm))
}
