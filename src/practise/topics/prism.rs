//! Two prisms at right angles: amount and base of what they come to.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Mistake};
use crate::draw::number::{figure, size};
use crate::eye::Eye;
use crate::rx::{Base, Prism};

/// "What do these two prisms come to?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resultant {
    /// Which eye.
    pub eye: Eye,
    /// In or out.
    pub horizontal: (f64, Base),
    /// Up or down.
    pub vertical: (f64, Base),
    /// Is the base's direction asked for, and not the amount?
    pub base: bool,
}

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    // The root comes out well.
    let triples = [(3.0, 4.0), (1.5, 2.0), (0.75, 1.0), (2.25, 3.0), (2.5, 6.0), (1.25, 3.0), (2.0, 3.75)];
    let (across, up) = match level {
        1 => match (chance.one_of(&triples), chance.yes()) {
            ((less, more), true) => (less, more),
            ((less, more), false) => (more, less),
        },
        _ => (chance.on_grid(0.5, 6.0, 0.5), chance.on_grid(0.5, 6.0, 0.5)),
    };
    let base = level == 3 || (level == 2 && chance.yes());
    let (eye, side) = (chance.one_of(&Eye::BOTH), chance.one_of(&[Base::In, Base::Out]));
    let way = chance.one_of(&[Base::Up, Base::Down]);
    Resultant { eye, horizontal: (across, side), vertical: (up, way), base }.exercise()
}

fn word(base: Base) -> &'static str {
    match base {
        Base::In => "in",
        Base::Out => "out",
        Base::Up => "up",
        Base::Down | Base::Degrees(_) => "down",
    }
}

impl Resultant {
    /// Of the given bases, each seen from this eye.
    fn sum(&self, eye: Eye) -> Prism {
        let part = |(amount, base): (f64, Base)| Prism::new(amount, base.direction_deg(eye));
        part(self.horizontal).plus(part(self.vertical))
    }

    fn given(&self) -> String {
        let part = |(amount, base): (f64, Base)| format!("{} Δ base {}", size(amount), word(base));
        let eye = if self.eye == Eye::Right { "Right" } else { "Left" };
        format!("{eye} eye: {} and {}.", part(self.vertical), part(self.horizontal))
    }

    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        if self.base { self.direction() } else { self.amount() }
    }

    fn amount(&self) -> Exercise {
        let (across, up) = (self.horizontal.0, self.vertical.0);
        let right = self.sum(self.eye).amount_pd();
        let question = format!("{} How strong is the one prism that does the same?", self.given());
        Exercise::number(question, Scale::plain("Δ", 2).within(0.02), right)
            .step("P = √(vertical² + horizontal²)", format!("√({}² + {}²)", size(up), size(across)), right, (2, "Δ"))
            .slip(Mistake::AddedPlainly, across + up)
            .slip(Mistake::SumForDifference, (across - up).abs())
    }

    fn direction(&self) -> Exercise {
        let (across, up) = (self.horizontal.0, self.vertical.0);
        let sum = self.sum(self.eye);
        let right = sum.base_deg();
        let tilt = (up / across).atan().to_degrees();
        let other = match self.eye {
            Eye::Right => Eye::Left,
            Eye::Left => Eye::Right,
        };
        let question = format!(
            "{} In which direction, in degrees from 0 to 360, does the base of the one prism lie that does the same? \
             To a whole degree.",
            self.given()
        );
        let shown = figure(tilt, 1);
        let (formula, numbers) = match (sum.x_pd > 0.0, sum.y_pd > 0.0) {
            (true, true) => ("base: to the observer’s right and up", shown),
            (false, true) => ("base: to the observer’s left and up, 180 − a", format!("180 − {shown}")),
            (false, false) => ("base: to the observer’s left and down, 180 + a", format!("180 + {shown}")),
            (true, false) => ("base: to the observer’s right and down, 360 − a", format!("360 − {shown}")),
        };
        let from_vertical = Prism { x_pd: sum.y_pd.abs().copysign(sum.x_pd), y_pd: sum.x_pd.abs().copysign(sum.y_pd) };
        Exercise::number(question, Scale::plain("°", 0).within(1.0), right)
            .step("tan a = vertical / horizontal", format!("atan({} / {})", size(up), size(across)), tilt, (1, "°"))
            .slip(Mistake::FromTheVertical, from_vertical.base_deg())
            .step(formula, numbers, right, (0, "°"))
            .slip(Mistake::OtherEye, self.sum(other).base_deg())
            .slip(Mistake::WrongWay, (right + 180.0).rem_euclid(360.0))
    }
}
