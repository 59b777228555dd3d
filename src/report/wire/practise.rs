//! The JSON of `practise`.

use super::{FORMAT, finite, text};
use crate::practise::{Answer, Asked, Exercise, LETTERS, Set};
use crate::report::number::plain;
use serde::Serialize;

/// A set of exercises.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PractiseWire {
    /// The number of this format.
    pub format: i64,
    /// 1 to 3; null where the numbers were given.
    pub level: Option<u8>,
    /// The same seed gives the same set; null where the numbers were given.
    pub seed: Option<u64>,
    /// In the order in which they are asked.
    pub exercises: Vec<ExerciseWire>,
}

/// A question with its answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ExerciseWire {
    /// Id of the topic.
    pub topic: &'static str,
    /// In whole sentences.
    pub question: String,
    /// As it is written.
    pub answer: String,
    /// The number; null where the answer is none.
    pub value: Option<f64>,
    /// An answer no farther from it is right; null where the answer is no number.
    pub tolerance: Option<f64>,
    /// Behind the number.
    pub unit: Option<&'static str>,
    /// The working, line by line.
    pub working: Vec<StepWire>,
    /// Wrong answers, each of one mistake.
    pub mistakes: Vec<MistakeWire>,
    /// What may be offered to choose from, in order.
    pub offered: Vec<String>,
    /// The letter of the right one.
    pub letter: Option<char>,
}

/// A line of working.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepWire {
    /// In symbols or words.
    pub formula: &'static str,
    /// With the numbers of this exercise.
    pub numbers: String,
    /// What it comes to.
    pub value: f64,
    /// Of the value.
    pub unit: &'static str,
}

/// A wrong answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MistakeWire {
    /// Name of the mistake.
    pub id: &'static str,
    /// What was done.
    pub text: &'static str,
    /// The answer that comes of it.
    pub answer: String,
    /// The line where it goes wrong, counted from 1.
    pub line: usize,
}

/// The set as JSON.
#[must_use]
pub fn practise_text(set: &Set) -> String {
    let exercises = set.exercises.iter().map(exercise).collect();
    let (level, seed) = set.drawn.map(|drawn| (drawn.level, drawn.seed)).unzip();
    text(&PractiseWire { format: FORMAT, level, seed, exercises })
}

fn exercise(of: &Exercise) -> ExerciseWire {
    let written = |answer: &Answer| plain(&of.written(answer));
    let scale = match of.asked {
        Asked::Number(scale) => Some(scale),
        Asked::Power(_) | Asked::Choice => None,
    };
    let value = match &of.answer {
        Answer::Number(value) => Some(finite(*value)),
        Answer::Power(_) | Answer::Words(_) => None,
    };
    let right = of.offered.iter().position(Option::is_none);
    ExerciseWire {
        topic: of.topic,
        question: plain(&of.question),
        answer: written(&of.answer),
        value,
        tolerance: scale.map(|scale| scale.tolerance),
        unit: scale.map(|scale| scale.unit),
        working: of
            .working
            .iter()
            .map(|step| StepWire {
                formula: step.formula,
                numbers: step.numbers.clone(),
                value: finite(step.value),
                unit: step.unit,
            })
            .collect(),
        mistakes: of
            .wrong
            .iter()
            .map(|wrong| MistakeWire {
                id: wrong.mistake.id(),
                text: wrong.mistake.said(),
                answer: written(&wrong.answer),
                line: wrong.step + 1,
            })
            .collect(),
        offered: (0..of.offered.len()).filter_map(|place| of.offer(place)).map(written).collect(),
        letter: right.and_then(|place| LETTERS.get(place)).copied(),
    }
}
