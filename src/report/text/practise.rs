//! Exercises in the terminal: the question, what is said of an answer, the working; the topics and what they take.
//!
//! Units: beside every number.

use super::page::Page;
use crate::practise::{Exercise, Form, LETTERS, LeftOut, Set, TOPICS, Takes, Topic, Verdict, Wrong};

/// What may be asked, a line a topic.
#[must_use]
pub fn topics() -> String {
    let width = TOPICS.iter().map(|topic| topic.id.len()).max().unwrap_or(0);
    let mut page = Page::new(false);
    for topic in &TOPICS {
        page.item(&format!("{:width$}  {}: {}.", topic.id, topic.title, topic.about), width + 2);
    }
    page.finish()
}

/// What a topic can ask with given numbers, key by key.
#[must_use]
pub fn forms(topic: &Topic) -> String {
    let mut page = Page::new(false);
    page.item(&format!("{}  {}: {}.", topic.id, topic.title, topic.about), 2);
    if topic.forms.is_empty() {
        page.item("It takes no numbers of your own.", 0);
    }
    for form in topic.forms {
        page.item(&format!("  --with {}", keys(form)), 9);
    }
    page.finish()
}

/// The keys of a question as they are written, what may be left out in brackets.
#[must_use]
pub fn keys(form: &Form) -> String {
    let key = |takes: &Takes| {
        let written = format!("{}={}", takes.key, takes.allowed().replace(" or ", "|"));
        match takes.left_out {
            LeftOut::Wanted => written,
            LeftOut::Is(taken) => format!("[{written}, left out: {taken}]"),
            LeftOut::Nothing => format!("[{written}]"),
        }
    };
    let all: Vec<String> = form.takes.iter().map(key).collect();
    format!("find={}, {}", form.find, all.join(", "))
}

/// A question, with what is offered to choose from where `offered`. With `styled` heads are bold (ANSI).
#[must_use]
pub fn question(set: &Set, place: usize, offered: bool, styled: bool) -> String {
    let mut page = Page::new(styled);
    let Some(exercise) = set.exercises.get(place) else { return String::new() };
    let title = Topic::from_id(exercise.topic).map_or("", |topic| topic.title);
    page.line(&page.bold(&format!("{} of {}. {title}.", place + 1, set.exercises.len())));
    page.item(&exercise.question, 0);
    if offered || exercise.is_choice() {
        for (letter, place) in LETTERS.iter().zip(0..exercise.offered.len()) {
            if let Some(answer) = exercise.offer(place) {
                page.item(&format!("  {letter}  {}", exercise.written(answer)), 5);
            }
        }
    }
    page.finish()
}

/// What is said of an answer: right, or what it is, which mistake gives what was answered, and the working.
#[must_use]
pub fn verdict(exercise: &Exercise, verdict: &Verdict<'_>, styled: bool) -> String {
    let mut page = Page::new(styled);
    let answer = answer(exercise);
    match verdict {
        Verdict::Right => page.item(&format!("{} {answer}", page.bold("Right.")), 0),
        Verdict::Unread(mend) => page.item(mend, 0),
        Verdict::Wrong(wrong) => {
            page.item(&format!("{} The answer is {answer}", page.bold("Not right.")), 0);
            match wrong {
                Some(wrong) => page.item(wrong.mistake.said(), 0),
                None => page.item("No mistake that is known here gives your answer. Compare line by line.", 0),
            }
            page.working(exercise, wrong.as_deref());
        }
    }
    page.finish()
}

/// The right answer and its working, for one who gives no answer.
#[must_use]
pub fn worked(exercise: &Exercise, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.item(&format!("The answer is {}", answer(exercise)), 0);
    page.working(exercise, None);
    page.finish()
}

/// The right answer as a sentence, and to more digits where its numbers were given.
fn answer(exercise: &Exercise) -> String {
    let short = ended(&exercise.written(&exercise.answer));
    match exercise.in_full() {
        Some(full) => format!("{short} To more digits: {}", ended(&full)),
        None => short,
    }
}

/// A sentence's end, where it has none.
fn ended(text: &str) -> String {
    if text.ends_with('.') { text.to_owned() } else { format!("{text}.") }
}

/// How it went.
#[must_use]
pub fn score(set: &Set, right: usize, answered: usize) -> String {
    let all = set.exercises.len();
    let left = match all - answered {
        0 => String::new(),
        left => format!(", {left} not answered"),
    };
    let another = set.drawn.map(|drawn| format!(" Another set: --seed {}.", drawn.seed.wrapping_add(1)));
    format!("{right} of {all} right{left}.{}\n", another.unwrap_or_default())
}

impl Page {
    /// The lines of working, marked where it went wrong.
    fn working(&mut self, exercise: &Exercise, wrong: Option<&Wrong>) {
        // A sentence that was chosen went wrong before any line.
        let wrong = wrong.filter(|_| !exercise.is_choice());
        for (i, step) in exercise.working.iter().enumerate() {
            let here = wrong.is_some_and(|wrong| wrong.step == i);
            let mark = if here { "→" } else { " " };
            self.item(&format!("{mark} {}. {}", i + 1, step.formula), 5);
            let bare = step.numbers.parse::<f64>().is_ok();
            let sum = if bare { step.result() } else { format!("{} = {}", step.numbers, step.result()) };
            self.item(&format!("     {sum}"), 5);
        }
        if wrong.is_some() {
            self.item("→ here it went wrong.", 0);
        }
    }
}
