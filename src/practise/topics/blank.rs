//! The least blank of a lens.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::decentration::marked;
use super::{BRIDGE, EYE_SIZE, PD, mm};
use crate::choose::blank::{ALLOWANCE_MM, minimum_mm};
use crate::choose::centre::Place;
use crate::draw::number::{figure, size};
use crate::eye::Eye;
use crate::frame::{Boxing, Centration};
use crate::outline::Shape;
use kurbo::Vec2;

/// "What is the least blank?" of a round or an oval lens that is wider than deep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blank {
    /// Its depth is the eye size where it is round.
    pub boxing: Boxing,
    /// Of this eye.
    pub pd_mm: f64,
    /// Of the optical centre above the boxed centre; only a round lens has its farthest point where both parts lead.
    pub up_mm: f64,
    /// For edging, all round.
    pub allowance_mm: f64,
}

const ALLOWANCE: Takes = mm("allowance_mm", 0.0, 5.0).or("1");

pub(super) static FORMS: &[Form] =
    &[
        Form {
            find: "blank",
            takes: &[EYE_SIZE, BRIDGE, PD, mm("up_mm", 0.0, 20.0).or("0"), ALLOWANCE],
            pose: |given| Ok(posed(given, given.number("eye_size_mm")).exercise()),
        },
        Form {
            find: "blank",
            takes: &[EYE_SIZE, mm("depth_mm", 15.0, 70.0), BRIDGE, PD, ALLOWANCE],
            pose: |given| {
                let depth_mm = given.number("depth_mm");
                match depth_mm > given.number("eye_size_mm") {
                    true => Err("depth_mm is more than eye_size_mm: the rule holds of ovals that are wider than deep"
                        .to_owned()),
                    false => Ok(posed(given, depth_mm).exercise()),
                }
            },
        },
    ];

fn posed(given: &Given, depth_mm: f64) -> Blank {
    let [eye_size_mm, bridge_mm, pd_mm, allowance_mm] =
        ["eye_size_mm", "bridge_mm", "pd_mm", "allowance_mm"].map(|key| given.number(key));
    let up_mm = given.perhaps("up_mm").unwrap_or(0.0);
    Blank { boxing: Boxing { eye_size_mm, depth_mm, bridge_mm }, pd_mm, up_mm, allowance_mm }
}

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let eye_size_mm = chance.on_grid(44.0, 54.0, 2.0);
    let bridge_mm = chance.on_grid(16.0, 20.0, 2.0);
    let half = 0.5 * (eye_size_mm + bridge_mm);
    let round = Boxing { eye_size_mm, depth_mm: eye_size_mm, bridge_mm };
    let allowance_mm = ALLOWANCE_MM;
    match level {
        1 => Blank { boxing: round, pd_mm: half - chance.on_grid(1.0, 6.0, 0.5), up_mm: 0.0, allowance_mm },
        2 => {
            let boxing = Boxing { depth_mm: eye_size_mm - chance.on_grid(12.0, 16.0, 2.0), ..round };
            Blank { boxing, pd_mm: half - chance.on_grid(2.0, 6.0, 0.5), up_mm: 0.0, allowance_mm }
        }
        _ => {
            // The root comes out well.
            let (across, up) = chance.one_of(&[(3.0, 4.0), (4.0, 3.0), (1.5, 2.0), (2.0, 1.5), (6.0, 2.5), (2.5, 6.0)]);
            Blank { boxing: round, pd_mm: half - across, up_mm: up, allowance_mm }
        }
    }
    .exercise()
}

impl Blank {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let Blank { boxing, pd_mm, up_mm, allowance_mm } = *self;
        let Centration { in_mm, .. } = Centration::new(&boxing, pd_mm, up_mm);
        let (width, off, allowance) = (boxing.eye_size_mm, in_mm.hypot(up_mm), 2.0 * allowance_mm);
        let round = boxing.depth_mm == boxing.eye_size_mm;
        let outline = if round { Shape::Circle } else { Shape::Oval }.outline(Eye::Right, width, boxing.depth_mm);
        let least = minimum_mm(&Place::new(&outline, Vec2::new(in_mm, up_mm)));
        let right = least - 2.0 * ALLOWANCE_MM + allowance;
        let mut made = Exercise::number(self.question(round), Scale::plain("mm", 1).within(0.1), right).step(
            "decentration in = (eye size + bridge) / 2 − pd",
            format!("({} + {}) / 2 − {}", size(width), size(boxing.bridge_mm), size(pd_mm)),
            in_mm,
            (2, "mm"),
        );
        let whole = |off: f64| width + 2.0 * off + allowance;
        made = made
            .slip(Mistake::DecentrationDoubled, whole(2.0 * in_mm))
            .slip(Mistake::BinocularPd, whole((in_mm - pd_mm).abs()))
            .slip(Mistake::BridgeForgotten, whole((0.5 * width - pd_mm).abs()));
        if up_mm != 0.0 {
            made = made
                .step("decentration = √(in² + up²)", format!("√({}² + {}²)", size(in_mm), size(up_mm)), off, (2, "mm"))
                .slip(Mistake::HorizontalAlone, whole(in_mm))
                .slip(Mistake::AddedPlainly, whole(in_mm + up_mm));
        }
        made.step(
            "blank = effective diameter + 2 × decentration + allowance on both sides",
            format!("{} + 2 × {} + 2 × {}", size(width), figure(off, 2), size(allowance_mm)),
            right,
            (1, "mm"),
        )
        .slip(Mistake::DecentrationOnce, width + off + allowance)
        .slip(Mistake::AllowanceForgotten, width + 2.0 * off)
        .slip(Mistake::AllowanceOnce, width + 2.0 * off + allowance_mm)
    }

    fn question(&self, round: bool) -> String {
        let width = size(self.boxing.eye_size_mm);
        let shape = match round {
            true => format!("A round lens of {width} mm"),
            false => format!("An oval lens, depth {}, effective diameter {width}", size(self.boxing.depth_mm)),
        };
        let up = match self.up_mm {
            0.0 => "optical centre on the horizontal centre line".to_owned(),
            up => format!("optical centre {} mm above the horizontal centre line", size(up)),
        };
        format!(
            "{shape}: {}, pd of this eye {} mm, {up}. How large must the blank be at least, with {} mm of allowance all round?",
            marked(&self.boxing),
            size(self.pd_mm),
            size(self.allowance_mm)
        )
    }
}
