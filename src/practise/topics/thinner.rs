//! Which of two lenses of one prescription is thinner, and why.

use super::super::{Answer, Chance, Exercise, Mistake};
use super::edge::Order;
use crate::draw::number::{figure, power, size};
use crate::frame::Boxing;
use crate::outline::Shape;

/// What differs between the two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum By {
    Index,
    EyeSize,
    Decentration,
    Centre,
}

/// "Which is thinner at its thickest edge, and why?" of two minus lenses that differ in one thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thinner {
    /// D, minus.
    pub power_d: f64,
    /// Of A and B.
    pub index: [f64; 2],
    /// Of A and B.
    pub eye_size_mm: [f64; 2],
    /// Of A and B.
    pub bridge_mm: [f64; 2],
    /// Of A and B.
    pub centre_mm: [f64; 2],
    /// Of this eye.
    pub pd_mm: f64,
}

/// Two edges that differ by less are no question, mm.
const CLEAR_MM: f64 = 0.25;
/// So often others are looked for.
const MOST_TRIES: usize = 20;

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let mut asked = Thinner::any(level, chance);
    for _ in 0..MOST_TRIES {
        if asked.edges().is_some_and(|[a, b]| (a - b).abs() > CLEAR_MM) {
            break;
        }
        asked = Thinner::any(level, chance);
    }
    asked.exercise()
}

impl Thinner {
    fn any(level: u8, chance: &mut Chance) -> Thinner {
        let power_d = -chance.on_grid(4.0, 9.0, 0.5);
        let by = match level {
            1 => chance.one_of(&[By::Index, By::EyeSize]),
            2 => chance.one_of(&[By::EyeSize, By::Decentration]),
            _ => chance.one_of(&[By::Decentration, By::Centre, By::Index]),
        };
        let (index, eye_size, bridge) =
            (chance.one_of(&[1.5, 1.6]), chance.on_grid(46.0, 50.0, 2.0), chance.on_grid(16.0, 18.0, 2.0));
        let pair = |one: f64, other: f64, chance: &mut Chance| if chance.yes() { [one, other] } else { [other, one] };
        let mut asked = Thinner {
            power_d,
            index: [index; 2],
            eye_size_mm: [eye_size; 2],
            bridge_mm: [bridge; 2],
            centre_mm: [1.4; 2],
            pd_mm: 0.5 * (eye_size + bridge) - chance.on_grid(1.0, 4.0, 0.5),
        };
        match by {
            By::Index => asked.index = pair(index, if index == 1.5 { 1.67 } else { 1.74 }, chance),
            By::EyeSize => asked.eye_size_mm = pair(eye_size, eye_size + 4.0, chance),
            By::Decentration => asked.bridge_mm = pair(bridge, bridge + 4.0, chance),
            By::Centre => asked.centre_mm = pair(1.2, 2.0, chance),
        }
        asked
    }

    fn by(&self) -> By {
        let differ = |[a, b]: [f64; 2]| a != b;
        match (differ(self.index), differ(self.eye_size_mm), differ(self.bridge_mm)) {
            (true, _, _) => By::Index,
            (_, true, _) => By::EyeSize,
            (_, _, true) => By::Decentration,
            _ => By::Centre,
        }
    }

    fn order(&self, which: usize) -> Order {
        let boxing = Boxing { eye_size_mm: self.eye_size_mm[which], depth_mm: 36.0, bridge_mm: self.bridge_mm[which] };
        Order {
            power_d: self.power_d,
            index: self.index[which],
            base_curve_d: 2.0,
            centre_mm: self.centre_mm[which],
            edge_mm: 0.3,
            shape: Shape::Oval,
            boxing,
            pd_mm: self.pd_mm,
        }
    }

    /// The thickest edge of A and of B.
    fn edges(&self) -> Option<[f64; 2]> {
        let edge = |which| Some(self.order(which).made()?.thickness.edges.max.thickness_mm);
        Some([edge(0)?, edge(1)?])
    }

    fn described(&self, which: usize) -> String {
        format!(
            "{}: index {}, eye size {}, bridge {}, centre {} mm.",
            ["A", "B"][which],
            self.index[which],
            size(self.eye_size_mm[which]),
            size(self.bridge_mm[which]),
            figure(self.centre_mm[which], 1)
        )
    }

    /// Why the thinner is thinner, why one might think the other is, and a reason that is none: about as long as each
    /// other, so that the length tells nothing.
    fn reasons(&self) -> [&'static str; 3] {
        match self.by() {
            By::Index => [
                "its higher index needs flatter curves for the same power, so its sags are less",
                "its lower index needs flatter curves for the same power, so its sags are less",
                "its higher index makes it lighter, and of two lenses the lighter is the thinner",
            ],
            By::EyeSize => [
                "its eye size is smaller: the temporal edge lies nearer to the optical centre",
                "its eye size is larger: the same thickness is spread out over more of the lens",
                "its eye size is smaller: the nasal edge too lies nearer to the optical centre",
            ],
            By::Decentration => [
                "it is decentred less, and so reaches less far from the pupil toward the temple",
                "its wider bridge moves the lens away from the nose, where its edge is thickest",
                "its narrower bridge makes its prescription weaker, and a weaker lens is thinner",
            ],
            By::Centre => [
                "its centre is thinner, and all the rest of the lens is thinner with it",
                "its thicker centre takes up more of the glass and leaves less to the edge",
                "its thinner centre makes the curves of both its surfaces a little flatter",
            ],
        }
    }

    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let edges = self.edges().unwrap_or([f64::NAN; 2]);
        let (thin, thick) = if edges[0] < edges[1] { (0, 1) } else { (1, 0) };
        let question = format!(
            "Two oval lenses of {} for one eye, pd {} mm, front 2.00 at 1.530. {} {} Which is thinner at its thickest edge, and why?",
            power(self.power_d),
            size(self.pd_mm),
            self.described(0),
            self.described(1)
        );
        let said = |which: usize, why: &str| format!("{}, because {why}.", ["A", "B"][which]);
        let [right, reversed, none] = self.reasons();
        let mut made = Exercise::choice(question, said(thin, right));
        for which in [0, 1] {
            made = self.line(made, which);
        }
        let numbers = format!("{} − {}", figure(edges[thick], 2), figure(edges[thin], 2));
        made.step("the edges exactly: thicker − thinner", numbers, edges[thick] - edges[thin], (1, "mm"))
            .wrong(Mistake::Reversed, Answer::Words(said(thick, reversed)))
            .wrong(Mistake::WrongReason, Answer::Words(said(thin, none)))
            .wrong(
                Mistake::NoEffect,
                Answer::Words(
                    "Neither, because all lenses of one prescription come out alike at their thickest edge.".to_owned(),
                ),
            )
    }

    /// The estimate by hand: centre + y² F / (2000 (n − 1)).
    fn line(&self, made: Exercise, which: usize) -> Exercise {
        let (reach, estimate) = match self.order(which).made() {
            Some(lens) => {
                let reach = lens.centration.reach.temporal_mm;
                let sag = reach * reach * -self.power_d / (2000.0 * (self.index[which] - 1.0));
                (reach, self.centre_mm[which] + sag)
            }
            None => (f64::NAN, f64::NAN),
        };
        let [reach_of, edge_of] = [
            ["A: temporal reach", "B: temporal reach"][which],
            ["A: edge, about centre + y² F / (2000 (n − 1))", "B: edge, about centre + y² F / (2000 (n − 1))"][which],
        ];
        let numbers = format!(
            "{} + {}² × {} / (2000 × ({} − 1))",
            figure(self.centre_mm[which], 1),
            size(reach),
            figure(-self.power_d, 2),
            self.index[which]
        );
        made.step(
            reach_of,
            format!("{} + {} / 2 − {}", size(self.eye_size_mm[which]), size(self.bridge_mm[which]), size(self.pd_mm)),
            reach,
            (1, "mm"),
        )
        .step(edge_of, numbers, estimate, (1, "mm"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_right_answer_is_not_the_long_one() {
        let mut met = [false; 4];
        let mut chance = Chance::new(5);
        for i in 0..400 {
            let asked = Thinner::any(1 + (i % 3) as u8, &mut chance);
            met[asked.by() as usize] = true;
            let lengths = asked.reasons().map(|reason| reason.chars().count());
            let (right, longest) = (lengths[0], lengths.into_iter().max().unwrap_or(0));
            assert!(right < longest && longest - right < 5, "{lengths:?}");
        }
        assert_eq!(met, [true; 4]);
    }
}
