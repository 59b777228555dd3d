//! Exercises for a trainee: questions with numbers that can be worked by hand, the right answer, the working line by line,
//! and the wrong answers that come of one named mistake each.
//!
//! The right answer is the core's own: nothing of the model is written a second time here. The working is what a trainee
//! would write, and comes to the same number. Nothing is asked or printed here: an [`Exercise`] is data, and
//! [`Exercise::judge`] takes the text that was typed.
//!
//! Units: mm, dioptres, degrees and prism dioptres, each in the name or beside the number.

mod chance;
mod exercise;
mod given;
mod judge;
mod mistake;
pub mod topics;

pub use chance::Chance;
pub use exercise::{Answer, Asked, Exercise, Scale, Sign, Step, Wrong};
pub use given::{Form, Given, Kind, LeftOut, Takes};
pub use judge::{LETTERS, Verdict};
pub use mistake::Mistake;
pub use topics::{TOPICS, Topic};

use std::collections::BTreeSet;

/// The levels: sums in the head; by hand; with a calculator.
pub const LEVELS: [u8; 3] = [1, 2, 3];
/// So often another question is looked for before one is asked twice.
const MOST_TRIES: usize = 40;

/// A set of exercises and what it came of.
#[derive(Clone, Debug, PartialEq)]
pub struct Set {
    /// What chance was asked for; `None` where the numbers were given.
    pub drawn: Option<Drawn>,
    /// In the order in which they are asked.
    pub exercises: Vec<Exercise>,
}

/// What chance was asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// 1 to 3.
    pub level: u8,
    /// The same seed gives the same set.
    pub seed: u64,
}

impl Set {
    /// So many exercises of these topics in turn; one is asked twice only where a topic has no more at this level.
    #[must_use]
    pub fn new(topics: &[&'static Topic], level: u8, seed: u64, count: usize) -> Set {
        let mut chance = Chance::new(seed);
        let mut asked = BTreeSet::new();
        let one = |topic: &'static Topic| {
            let mut exercise = topic.exercise(level, &mut chance);
            for _ in 0..MOST_TRIES {
                if asked.insert(exercise.question.clone()) {
                    break;
                }
                exercise = topic.exercise(level, &mut chance);
            }
            exercise
        };
        let count = if topics.is_empty() { 0 } else { count };
        let exercises = topics.iter().copied().cycle().take(count).map(one).collect();
        Set { drawn: Some(Drawn { level, seed }), exercises }
    }

    /// Questions of one topic with given numbers, each as `KEY=VALUE,...`.
    ///
    /// # Errors
    /// The first that cannot be put, as [`Topic::posed`] says it.
    pub fn given(topic: &'static Topic, with: &[String]) -> Result<Set, String> {
        let exercises = with.iter().map(|numbers| topic.posed(numbers)).collect::<Result<_, _>>()?;
        Ok(Set { drawn: None, exercises })
    }
}
