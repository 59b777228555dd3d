//! Numbers that are given for a question in place of those by chance: `radius_mm=52.3,diameter_mm=40`.
//!
//! A topic puts one question or several; each takes its own keys, and `find=WORD` tells apart those that take the same.
//! All that is wrong with what was written is said in a sentence that tells the mend.
//!
//! Units: beside each key.

use super::{Chance, Exercise, Topic};
use crate::eye::Eye;
use crate::job::nearest;

/// A question that a topic can put with given numbers.
#[derive(Clone, Copy, Debug)]
pub struct Form {
    /// What it asks for: the word after `find=`.
    pub find: &'static str,
    /// Its keys, in the order in which they are told.
    pub takes: &'static [Takes],
    pub(super) pose: fn(&Given) -> Result<Exercise, String>,
}

/// A key of a question.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Takes {
    /// As it is written.
    pub key: &'static str,
    /// What may stand behind it.
    pub kind: Kind,
    /// What holds without it.
    pub left_out: LeftOut,
}

/// What may stand behind a key.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A number.
    Number {
        /// Of the number; empty for a bare one.
        unit: &'static str,
        /// Not less than this.
        from: f64,
        /// Not more than this.
        to: f64,
        /// It is taken to so many.
        decimals: u8,
    },
    /// One of these.
    Word(&'static [&'static str]),
}

/// What holds where a key is left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOut {
    /// The question cannot be put without it.
    Wanted,
    /// This is taken.
    Is(&'static str),
    /// Nothing, unless the question needs it for another key's sake.
    Nothing,
}

/// Found for a key.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Value {
    Number(f64),
    Word(&'static str),
}

/// What was given, judged against the keys of a question.
#[derive(Clone, Debug, PartialEq)]
pub struct Given(Vec<(&'static str, Value)>);

/// The key that names what is asked for.
const FIND: &str = "find";
/// What is offered to choose from lies in one order whenever the same numbers are given.
const SEED: u64 = 1;

impl Takes {
    /// A number that the question cannot do without.
    pub(super) const fn number(key: &'static str, unit: &'static str, [from, to]: [f64; 2], decimals: u8) -> Takes {
        Takes { key, kind: Kind::Number { unit, from, to, decimals }, left_out: LeftOut::Wanted }
    }

    /// One of some words.
    pub(super) const fn word(key: &'static str, words: &'static [&'static str]) -> Takes {
        Takes { key, kind: Kind::Word(words), left_out: LeftOut::Wanted }
    }

    /// With what is taken where it is left out.
    pub(super) const fn or(self, taken: &'static str) -> Takes {
        Takes { left_out: LeftOut::Is(taken), ..self }
    }

    /// That may be left out.
    pub(super) const fn perhaps(self) -> Takes {
        Takes { left_out: LeftOut::Nothing, ..self }
    }

    /// What may stand behind the key, in words: "5 to 9000 mm".
    #[must_use]
    pub fn allowed(&self) -> String {
        match self.kind {
            Kind::Number { unit, from, to, .. } => {
                let space = if matches!(unit, "" | "°") { "" } else { " " };
                format!("{from} to {to}{space}{unit}").replace('-', "−")
            }
            Kind::Word(words) => words.join(" or "),
        }
    }

    fn value(&self, text: &str) -> Result<Value, String> {
        match self.kind {
            Kind::Number { from, to, decimals, .. } => {
                let number: f64 = text.replace('−', "-").parse().map_err(|_| {
                    format!("{}={text}: “{text}” is no number; allowed is {}", self.key, self.allowed())
                })?;
                if !(from..=to).contains(&number) {
                    return Err(format!("{}={text}: allowed is {}", self.key, self.allowed()));
                }
                let scale = 10_f64.powi(i32::from(decimals));
                if (number * scale - (number * scale).round()).abs() > 1e-6 {
                    let rounded = (number * scale).round() / scale;
                    let places = if decimals == 1 { "one decimal".to_owned() } else { format!("{decimals} decimals") };
                    return Err(format!("{}={text}: it is taken to {places}; write {rounded}", self.key));
                }
                Ok(Value::Number(number))
            }
            Kind::Word(words) => {
                let known = words.iter().find(|word| **word == text);
                known.map(|word| Value::Word(word)).ok_or_else(|| {
                    format!("{}={text}: {}allowed is {}", self.key, meant(text, words.iter().copied()), self.allowed())
                })
            }
        }
    }
}

/// "did you mean sag? " where something is near.
fn meant<'w>(found: &str, words: impl Iterator<Item = &'w str>) -> String {
    match nearest(found, words).as_slice() {
        [] => String::new(),
        near => format!("did you mean {}? ", near.join(" or ")),
    }
}

impl Given {
    fn value(&self, key: &str) -> Option<Value> {
        self.0.iter().find(|(there, _)| *there == key).map(|(_, value)| *value)
    }

    /// The number of a key that may be left out.
    pub(super) fn perhaps(&self, key: &str) -> Option<f64> {
        match self.value(key)? {
            Value::Number(number) => Some(number),
            Value::Word(_) => None,
        }
    }

    /// The number of a key.
    pub(super) fn number(&self, key: &str) -> f64 {
        self.perhaps(key).unwrap_or(f64::NAN)
    }

    /// Does this word stand behind the key?
    pub(super) fn is(&self, key: &str, word: &str) -> bool {
        matches!(self.value(key), Some(Value::Word(there)) if there == word)
    }

    /// The eye, right where none is named.
    pub(super) fn eye(&self) -> Eye {
        if self.is("eye", "left") { Eye::Left } else { Eye::Right }
    }

    /// Sphere, cylinder and axis, behind keys that begin so.
    pub(super) fn power(&self, begin: &str) -> [f64; 3] {
        ["sphere", "cylinder", "axis"].map(|part| self.number(&format!("{begin}{part}")))
    }
}

impl Form {
    fn takes(&self, key: &str) -> Option<&'static Takes> {
        self.takes.iter().find(|takes| takes.key == key)
    }

    /// Keys that it cannot do without and that are not written.
    fn missing(&self, written: &[(&str, &str)]) -> Vec<&'static Takes> {
        let there = |takes: &&Takes| written.iter().any(|(key, _)| *key == takes.key);
        self.takes.iter().filter(|takes| takes.left_out == LeftOut::Wanted && !there(takes)).collect()
    }

    fn judged(&self, written: &[(&str, &str)]) -> Result<Given, String> {
        let mut given = Vec::new();
        for takes in self.takes {
            let found = written.iter().find(|(key, _)| *key == takes.key).map(|(_, value)| *value);
            match (found, takes.left_out) {
                (Some(text), _) | (None, LeftOut::Is(text)) => given.push((takes.key, takes.value(text)?)),
                (None, LeftOut::Wanted | LeftOut::Nothing) => {}
            }
        }
        Ok(Given(given))
    }
}

/// Keys and values as they are written.
fn parts(with: &str) -> Result<Vec<(&str, &str)>, String> {
    let mut found: Vec<(&str, &str)> = Vec::new();
    for part in with.split(',').map(str::trim) {
        let Some((key, value)) = part.split_once('=') else {
            let digits = |text: &str| !text.is_empty() && text.chars().all(|sign| sign.is_ascii_digit());
            return Err(match found.last() {
                Some((key, before)) if digits(part) => {
                    format!("write the decimal point: {key}={before}.{part}")
                }
                _ => format!("“{part}” is no KEY=VALUE, such as index=1.5"),
            });
        };
        let (key, value) = (key.trim(), value.trim());
        if found.iter().any(|(there, _)| *there == key) {
            return Err(format!("{key} is given twice"));
        }
        found.push((key, value));
    }
    Ok(found)
}

impl Topic {
    /// A question of this topic with the numbers that are written, `KEY=VALUE,...`.
    ///
    /// # Errors
    /// In a sentence, with the mend: keys unknown, missing or of different questions, values that are none or beyond what
    /// is allowed, and numbers to which there is no answer.
    pub fn posed(&'static self, with: &str) -> Result<Exercise, String> {
        if self.forms.is_empty() {
            return Err(format!("the topic {} takes no numbers of your own", self.id));
        }
        let written = parts(with)?;
        let form = self.form(&written)?;
        let made = (form.pose)(&form.judged(&written)?)?;
        has_an_answer(&made)?;
        Ok(Exercise { topic: self.id, ..made.offered(&mut Chance::new(SEED)) })
    }

    /// The question that these keys mean.
    fn form(&'static self, written: &[(&str, &str)]) -> Result<&'static Form, String> {
        let find = written.iter().find(|(key, _)| *key == FIND).map(|(_, word)| *word);
        let wanted: Vec<&Form> = self.forms.iter().filter(|form| find.is_none_or(|word| word == form.find)).collect();
        if wanted.is_empty() {
            let mut words: Vec<&str> = self.forms.iter().map(|form| form.find).collect();
            words.dedup();
            let found = find.unwrap_or_default();
            let near = meant(found, words.iter().copied());
            return Err(format!("find={found}: {near}the topic {} can find {}", self.id, words.join(", ")));
        }
        let keys: Vec<&str> = written.iter().map(|(key, _)| *key).filter(|key| *key != FIND).collect();
        if let Some(unknown) = keys.iter().find(|key| wanted.iter().all(|form| form.takes(key).is_none())) {
            let mut known: Vec<&str> = wanted.iter().flat_map(|form| form.takes).map(|takes| takes.key).collect();
            known.sort_unstable();
            known.dedup();
            let near = meant(unknown, known.iter().copied());
            return Err(format!("there is no key “{unknown}” here; {near}allowed is {}", known.join(", ")));
        }
        let fit = wanted.iter().filter(|form| keys.iter().all(|key| form.takes(key).is_some()));
        match fit.min_by_key(|form| form.missing(written).len()) {
            None => Err(format!(
                "{} are not keys of one question; rimwise practise --list --topic {} has them all",
                keys.join(", "),
                self.id
            )),
            Some(form) => match form.missing(written).as_slice() {
                [] => Ok(form),
                missing => {
                    let told: Vec<String> =
                        missing.iter().map(|takes| format!("{} ({})", takes.key, takes.allowed())).collect();
                    Err(format!("to find {} more is wanted: {}", form.find, told.join(", ")))
                }
            },
        }
    }
}

/// Says where the working comes to nothing.
fn has_an_answer(made: &Exercise) -> Result<(), String> {
    match made.working.iter().find(|step| !step.value.is_finite()) {
        Some(step) => Err(format!("to these numbers there is no answer: {} comes to nothing", step.formula)),
        None if made.answer.is_one() && !made.working.is_empty() => Ok(()),
        None => Err("there is no lens of these numbers".to_owned()),
    }
}
