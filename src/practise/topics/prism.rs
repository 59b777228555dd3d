//! Two prisms at right angles: amount and base of what they come to; the parts of one; its deviation.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::EYE;
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

/// "How much of it is horizontal, or vertical?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Which eye.
    pub eye: Eye,
    /// Δ.
    pub prism_pd: f64,
    /// From 0 to 360.
    pub base_deg: f64,
    /// Is the horizontal part asked for, and not the vertical one?
    pub horizontal: bool,
}

/// "By how many degrees does it turn the light?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Degrees {
    /// Δ.
    pub prism_pd: f64,
}

const fn amount(key: &'static str) -> Takes {
    Takes::number(key, "Δ", [0.1, 40.0], 2)
}

const BOTH: &[Takes] = &[
    amount("horizontal_pd"),
    Takes::word("horizontal_base", &["in", "out"]),
    amount("vertical_pd"),
    Takes::word("vertical_base", &["up", "down"]),
    EYE,
];
const ONE: &[Takes] = &[amount("prism_pd"), Takes::number("base_deg", "°", [0.0, 360.0], 1), EYE];

pub(super) static FORMS: &[Form] = &[
    Form { find: "amount", takes: BOTH, pose: |given| resultant(given, false) },
    Form { find: "base", takes: BOTH, pose: |given| resultant(given, true) },
    Form { find: "horizontal", takes: ONE, pose: |given| part(given, true) },
    Form { find: "vertical", takes: ONE, pose: |given| part(given, false) },
    Form {
        find: "degrees",
        takes: &[amount("prism_pd")],
        pose: |given| Ok(Degrees { prism_pd: given.number("prism_pd") }.exercise()),
    },
];

fn resultant(given: &Given, base: bool) -> Result<Exercise, String> {
    let side = if given.is("horizontal_base", "in") { Base::In } else { Base::Out };
    let way = if given.is("vertical_base", "up") { Base::Up } else { Base::Down };
    let (horizontal, vertical) = ((given.number("horizontal_pd"), side), (given.number("vertical_pd"), way));
    Ok(Resultant { eye: given.eye(), horizontal, vertical, base }.exercise())
}

fn part(given: &Given, horizontal: bool) -> Result<Exercise, String> {
    let (prism_pd, base_deg) = (given.number("prism_pd"), given.number("base_deg"));
    Ok(Part { eye: given.eye(), prism_pd, base_deg, horizontal }.exercise())
}

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    if level > 1 && chance.yes() {
        let prism_pd = chance.on_grid(1.0, 8.0, 0.5);
        if level == 3 && chance.yes() {
            return Degrees { prism_pd: 2.0 * prism_pd }.exercise();
        }
        let of_a_quarter =
            if level == 2 { chance.one_of(&[30.0, 45.0, 60.0]) } else { chance.on_grid(20.0, 70.0, 5.0) };
        let base_deg = of_a_quarter + chance.one_of(&[0.0, 90.0, 180.0, 270.0]);
        return Part { eye: chance.one_of(&Eye::BOTH), prism_pd, base_deg, horizontal: chance.yes() }.exercise();
    }
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

impl Part {
    /// In or up is positive.
    fn of(&self, eye: Eye, base_deg: f64) -> f64 {
        let prism = Prism::new(self.prism_pd, base_deg);
        if self.horizontal { eye.nasal_sign() * prism.x_pd } else { prism.y_pd }
    }

    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let Part { eye, prism_pd, base_deg, horizontal } = *self;
        let right = self.of(eye, base_deg);
        let (which, ways, function) =
            if horizontal { ("horizontal", ["in", "out"], "cos") } else { ("vertical", ["up", "down"], "sin") };
        let question = format!(
            "{} eye: {} Δ with its base at {}°. How much of it is {which}? Amount and base.",
            if eye == Eye::Right { "Right" } else { "Left" },
            size(prism_pd),
            size(base_deg)
        );
        let formula = match (horizontal, eye) {
            (true, Eye::Right) => "horizontal = P × cos of the direction; plus is toward the observer’s right, here in",
            (true, Eye::Left) => "horizontal = P × cos of the direction; plus is toward the observer’s right, here out",
            (false, _) => "vertical = P × sin of the direction; plus is up",
        };
        let prism = Prism::new(prism_pd, base_deg);
        let made = Exercise::number(question, Scale::plain("Δ", 2).within(0.02).toward(ways), right);
        made.step(
            formula,
            format!("{} × {function}({})", size(prism_pd), size(base_deg)),
            if horizontal { prism.x_pd } else { prism.y_pd },
            (2, "Δ"),
        )
        // The other function of the same angle.
        .slip(Mistake::FromTheVertical, self.of(eye, 90.0 - base_deg))
        .slip(if horizontal { Mistake::OtherEye } else { Mistake::WrongWay }, -right)
    }
}

impl Degrees {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let share = self.prism_pd / 100.0;
        let right = share.atan().to_degrees();
        let question =
            format!("By how many degrees does a prism of {} Δ turn the light? To two decimals.", size(self.prism_pd));
        Exercise::number(question, Scale::plain("°", 2).within(0.02), right)
            .step("tan of the deviation = Δ / 100", format!("{} / 100", size(self.prism_pd)), share, (4, ""))
            .slip(Mistake::PrismIsDegrees, self.prism_pd)
            .step("the angle of that tangent", format!("atan({})", figure(share, 4)), right, (2, "°"))
            .slip(Mistake::FromTheVertical, 90.0 - right)
    }
}
