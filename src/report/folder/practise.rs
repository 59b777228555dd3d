//! The files of `practise --out DIR`: questions, answers, and both for other programs.

use super::{PAGE, Store, held};
use crate::practise::Set;
use crate::report::{html, wire};
use std::collections::BTreeMap;

/// The name of the sheet of answers.
pub const ANSWERS: &str = "answers.html";
/// The JSON's name.
pub const EXERCISES: &str = "exercises.json";

/// Writes every file; the questions are the page, with answers to choose from where `offered`.
///
/// # Errors
/// The first fault of the store.
pub fn write_practise<S: Store>(set: &Set, offered: bool, store: &S) -> Result<(), S::Fault> {
    store.put(EXERCISES, wire::practise_text(set).as_bytes())?;
    store.put(ANSWERS, html::practise_answers(set, offered).as_bytes())?;
    store.put(PAGE, html::practise_questions(set, offered).as_bytes())
}

/// Name and contents of every file, for whoever wants them in memory.
#[must_use]
pub fn practise_files(set: &Set, offered: bool) -> BTreeMap<String, Vec<u8>> {
    held(|store| write_practise(set, offered, store))
}
