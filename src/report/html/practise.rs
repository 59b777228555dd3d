//! The sheets of exercises: questions to write on, and the answers with their working on a sheet of their own.

use super::document;
use crate::practise::{Exercise, LETTERS, Set, Step, Topic};
use maud::{Markup, html};

/// Tells which sheet of answers belongs to which of questions.
fn heading(set: &Set) -> String {
    match set.drawn {
        Some(drawn) => format!("Level {}, set {}", drawn.level, drawn.seed),
        None => "With given numbers".to_owned(),
    }
}

/// The sheet of questions; with `offered` answers to choose from are printed.
#[must_use]
pub fn practise_questions(set: &Set, offered: bool) -> String {
    let heading = heading(set);
    let body = html! {
        header {
            h1 { "Exercises" }
            p.reference { (heading) }
            p.name { "Name" }
            p.name { "Date" }
        }
        main {
            ol.exercises {
                @for exercise in &set.exercises {
                    li {
                        h2 { (title(exercise)) }
                        p { (exercise.question) }
                        @if offered || exercise.is_choice() { (offers(exercise)) }
                        @if exercise.is_choice() { div.room.short {} } @else { div.room {} }
                        p.given { "Answer" }
                    }
                }
            }
        }
    };
    document("Exercises", Some(&heading), None, &body)
}

/// The sheet of answers; with `offered` each has the letter that it has on the sheet of questions.
#[must_use]
pub fn practise_answers(set: &Set, offered: bool) -> String {
    let heading = heading(set);
    let body = html! {
        header {
            h1 { "Answers" }
            p.reference { (heading) }
        }
        main {
            p { "Each wrong answer listed comes of one mistake; the number is of the line where it goes wrong." }
            ol.exercises { @for exercise in &set.exercises { li { (answered(exercise, offered)) } } }
        }
    };
    document("Answers", Some(&heading), None, &body)
}

fn title(exercise: &Exercise) -> &'static str {
    Topic::from_id(exercise.topic).map_or("", |topic| topic.title)
}

fn offers(exercise: &Exercise) -> Markup {
    html! {
        ul.offers {
            @for (letter, place) in LETTERS.iter().zip(0..exercise.offered.len()) {
                @if let Some(answer) = exercise.offer(place) {
                    li { span.letter { (letter) } " " (exercise.written(answer)) }
                }
            }
        }
    }
}

fn answered(exercise: &Exercise, offered: bool) -> Markup {
    let place = exercise.offered.iter().position(Option::is_none).filter(|_| offered || exercise.is_choice());
    let letter = place.and_then(|place| LETTERS.get(place));
    html! {
        h2 { (title(exercise)) }
        p { (exercise.question) }
        p.answered { @if let Some(letter) = letter { span.letter { (letter) } " " } (exercise.written(&exercise.answer)) }
        @if let Some(full) = exercise.in_full() { p { "To more digits: " (full) } }
        table.working {
            thead { tr { th { "Line" } th.words { "Formula" } th.words { "With numbers" } th { "Comes to" } } }
            tbody { @for (i, step) in exercise.working.iter().enumerate() { (line(i, step)) } }
        }
        ul.mistakes {
            @for wrong in &exercise.wrong {
                li { strong { (exercise.written(&wrong.answer)) } " – line " (wrong.step + 1) ". " (wrong.mistake.said()) }
            }
        }
    }
}

fn line(i: usize, step: &Step) -> Markup {
    html! {
        tr {
            td { (i + 1) }
            td.words { (step.formula) }
            td.words { (step.numbers) }
            td { (step.result()) }
        }
    }
}
