//! An exercise: question, right answer, working, and wrong answers with the mistake that each comes of.

use super::{Chance, Mistake};
use crate::draw::number::{axis, figure, power};

/// A question with all that belongs to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercise {
    /// Id of its topic.
    pub topic: &'static str,
    /// 1 to 3; `None` where the numbers were given.
    pub level: Option<u8>,
    /// In whole sentences.
    pub question: String,
    /// What kind of answer is wanted.
    pub asked: Asked,
    /// The right answer.
    pub answer: Answer,
    /// How it is come by, line by line.
    pub working: Vec<Step>,
    /// Answers that come of one mistake each, clearly apart from the right one and from one another.
    pub wrong: Vec<Wrong>,
    /// What may be offered to choose from, in this order: the right answer is `None`, others are places in `wrong`.
    pub offered: Vec<Option<usize>>,
}

/// What kind of answer is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asked {
    /// A number.
    Number(Scale),
    /// Sphere, cylinder and axis, powers to within so many dioptres.
    Power(f64),
    /// One of the sentences that are offered.
    Choice,
}

/// How a number is asked for and judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// As it stands behind the number.
    pub unit: &'static str,
    /// To be given to so many decimals.
    pub decimals: usize,
    /// Not farther from the right answer than this.
    pub tolerance: f64,
    /// What its sign means.
    pub sign: Sign,
}

/// What the sign of an answer means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// It has none.
    None,
    /// A power: written always.
    Power,
    /// A direction, of positive and negative numbers: "in" and "out".
    Toward([&'static str; 2]),
}

/// An answer, right or wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// A number.
    Number(f64),
    /// Sphere, cylinder and axis as written.
    Power([f64; 3]),
    /// A sentence.
    Words(String),
}

impl Answer {
    /// Is it an answer at all: are its numbers finite?
    #[must_use]
    pub fn is_one(&self) -> bool {
        match self {
            Answer::Number(value) => value.is_finite(),
            Answer::Power(power) => power.iter().all(|value| value.is_finite()),
            Answer::Words(_) => true,
        }
    }
}

/// A line of the working.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// In symbols or words.
    pub formula: &'static str,
    /// The same with the numbers of this exercise: + − × / ² √( ) and sin² of degrees.
    pub numbers: String,
    /// What it comes to.
    pub value: f64,
    /// On show.
    pub decimals: usize,
    /// Behind it.
    pub unit: &'static str,
}

/// A wrong answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Wrong {
    /// What it comes of.
    pub mistake: Mistake,
    /// The answer itself.
    pub answer: Answer,
    /// The line of the working where it goes wrong.
    pub step: usize,
}

/// Angles that differ by less are one, degrees.
const AXIS_TOLERANCE: f64 = 0.5;
/// What binary fractions leave of a number on the very bound.
const ROUNDING: f64 = 1e-9;
/// Two answers are told apart where they differ by so many tolerances.
const APART: f64 = 2.5;
/// Decimals that the right answer is shown to beside those that are asked for.
const MORE: usize = 3;
/// So many are offered.
const OFFERED: usize = 4;

impl Scale {
    /// Without a direction; judged to half the last place.
    #[must_use]
    pub(super) fn plain(unit: &'static str, decimals: usize) -> Scale {
        Scale { unit, decimals, tolerance: rounding(decimals), sign: Sign::None }
    }

    /// With a coarser judgement, where rounding on the way counts.
    #[must_use]
    pub(super) fn within(self, tolerance: f64) -> Scale {
        Scale { tolerance, ..self }
    }

    /// A power.
    #[must_use]
    pub(super) fn signed(self) -> Scale {
        Scale { sign: Sign::Power, ..self }
    }

    /// A direction.
    #[must_use]
    pub(super) fn toward(self, ways: [&'static str; 2]) -> Scale {
        Scale { sign: Sign::Toward(ways), ..self }
    }
}

impl Exercise {
    fn new(question: String, asked: Asked, answer: Answer) -> Exercise {
        Exercise {
            topic: "",
            level: None,
            question,
            asked,
            answer,
            working: Vec::new(),
            wrong: Vec::new(),
            offered: Vec::new(),
        }
    }

    /// One that asks for a number.
    pub(super) fn number(question: String, scale: Scale, value: f64) -> Exercise {
        Exercise::new(question, Asked::Number(scale), Answer::Number(value))
    }

    /// One that asks for a power.
    pub(super) fn power(question: String, tolerance: f64, value: [f64; 3]) -> Exercise {
        Exercise::new(question, Asked::Power(tolerance), Answer::Power(value))
    }

    /// One that asks which sentence is true.
    pub(super) fn choice(question: String, right: String) -> Exercise {
        Exercise::new(question, Asked::Choice, Answer::Words(right))
    }

    /// A line of the working.
    pub(super) fn step(
        mut self,
        formula: &'static str,
        numbers: String,
        value: f64,
        (decimals, unit): (usize, &'static str),
    ) -> Exercise {
        self.working.push(Step { formula, numbers, value, decimals, unit });
        self
    }

    /// A wrong number that goes wrong in the last line so far; left out where the mistake leads to none, and where it is not
    /// clearly apart from the right one and from those before.
    pub(super) fn slip(self, mistake: Mistake, value: f64) -> Exercise {
        self.wrong(mistake, Answer::Number(value))
    }

    /// The same for any answer.
    pub(super) fn wrong(mut self, mistake: Mistake, answer: Answer) -> Exercise {
        let is_apart = |other: &Answer| self.apart(&answer, other);
        if answer.is_one() && is_apart(&self.answer) && self.wrong.iter().all(|wrong| is_apart(&wrong.answer)) {
            self.wrong.push(Wrong { mistake, answer, step: self.working.len().saturating_sub(1) });
        }
        self
    }

    /// Puts what is offered in an order of chance.
    pub(super) fn offered(mut self, chance: &mut Chance) -> Exercise {
        let mut wrong: Vec<Option<usize>> = (0..self.wrong.len()).map(Some).collect();
        chance.shuffle(&mut wrong);
        wrong.truncate(OFFERED - 1);
        wrong.push(None);
        chance.shuffle(&mut wrong);
        self.offered = wrong;
        self
    }

    /// Can these two answers not be taken for one another?
    #[must_use]
    pub fn apart(&self, one: &Answer, other: &Answer) -> bool {
        !self.same(one, other, APART)
    }

    /// Are they one, to so many tolerances?
    pub(super) fn same(&self, one: &Answer, other: &Answer, tolerances: f64) -> bool {
        match (self.asked, one, other) {
            (Asked::Number(scale), Answer::Number(a), Answer::Number(b)) => {
                (a - b).abs() <= tolerances * scale.tolerance + ROUNDING
            }
            (Asked::Power(tolerance), Answer::Power(a), Answer::Power(b)) => {
                let near = |i: usize| (a[i] - b[i]).abs() <= tolerances * tolerance;
                let turn = (a[2] - b[2]).rem_euclid(180.0);
                let plain = a[1].abs() <= tolerance && b[1].abs() <= tolerance;
                near(0) && near(1) && (plain || turn.min(180.0 - turn) <= tolerances * AXIS_TOLERANCE)
            }
            (_, Answer::Words(a), Answer::Words(b)) => a == b,
            _ => false,
        }
    }

    /// An answer as it is written.
    #[must_use]
    pub fn written(&self, answer: &Answer) -> String {
        match (answer, self.asked) {
            (Answer::Number(value), Asked::Number(scale)) => scale.written(*value),
            (Answer::Number(value), _) => figure(*value, 2),
            (Answer::Power([sphere, cylinder, deg]), _) => {
                format!("{} {} × {}", power(*sphere), power(*cylinder), axis(as_asked(*deg)))
            }
            (Answer::Words(words), _) => words.clone(),
        }
    }

    /// The right answer to three decimals more than it is shown to, for whoever holds it against a book; `None` where it has
    /// no more of them, and where the numbers are by chance.
    #[must_use]
    pub fn in_full(&self) -> Option<String> {
        if self.level.is_some() {
            return None;
        }
        let more = |value: f64, decimals: usize| (value - rounded(value, decimals)).abs() > rounding(decimals + MORE);
        match (&self.answer, self.asked) {
            (Answer::Number(value), Asked::Number(scale)) if more(*value, scale.decimals) => {
                Some(Scale { decimals: scale.decimals + MORE, ..scale }.written(*value))
            }
            (Answer::Power([sphere, cylinder, deg]), _) if [*sphere, *cylinder, *deg].iter().any(|v| more(*v, 2)) => {
                let power = Scale::plain("", 2 + MORE - 1).signed();
                Some(format!("{} {} × {}", power.written(*sphere), power.written(*cylinder), figure(*deg, 3)))
            }
            _ => None,
        }
    }

    /// The answer that is offered in this place.
    #[must_use]
    pub fn offer(&self, place: usize) -> Option<&Answer> {
        match self.offered.get(place)? {
            None => Some(&self.answer),
            Some(wrong) => self.wrong.get(*wrong).map(|wrong| &wrong.answer),
        }
    }

    /// Can the answer be typed, or must it be one of those that are offered?
    #[must_use]
    pub fn is_choice(&self) -> bool {
        self.asked == Asked::Choice
    }
}

/// An axis as it is asked for: to a whole degree, but for one that was given in tenths.
fn as_asked(deg: f64) -> f64 {
    let tenths = rounded(deg, 1);
    if (deg - tenths).abs() < ROUNDING { tenths } else { deg.round() }
}

/// Half a unit of this decimal.
fn rounding(decimals: usize) -> f64 {
    0.5 * 10_f64.powi(-i32::try_from(decimals).unwrap_or(0))
}

fn rounded(value: f64, decimals: usize) -> f64 {
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    (value * scale).round() / scale
}

impl Scale {
    fn written(&self, value: f64) -> String {
        let unit = match self.unit {
            "" => String::new(),
            "°" => "°".to_owned(),
            unit => format!("\u{202f}{unit}"),
        };
        match self.sign {
            Sign::None => format!("{}{unit}", figure(value, self.decimals)),
            Sign::Power if value > 0.0 => format!("+{}{unit}", figure(value, self.decimals)),
            Sign::Power => format!("{}{unit}", figure(value, self.decimals)),
            Sign::Toward(ways) => {
                let shown = figure(value.abs(), self.decimals);
                let nought = shown.chars().all(|sign| matches!(sign, '0' | '.'));
                if nought {
                    format!("{shown}{unit}")
                } else {
                    format!("{shown}{unit} {}", ways[usize::from(value < 0.0)])
                }
            }
        }
    }
}

impl Step {
    /// What it comes to, with its unit.
    #[must_use]
    pub fn result(&self) -> String {
        let unit = match self.unit {
            "" | "°" => self.unit.to_owned(),
            unit => format!("\u{202f}{unit}"),
        };
        format!("{}{unit}", figure(self.value, self.decimals))
    }
}
