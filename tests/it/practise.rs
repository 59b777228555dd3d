//! Are exercises sound: one right answer, distractors that are wrong, working that comes to the answer, every mistake told?

use crate::support::Chance;
use assert_cmd::Command;
use predicates::prelude::*;
use rimwise::practise::{
    Answer, Asked, Exercise, Form, Kind, LETTERS, LEVELS, LeftOut, Mistake, Set, TOPICS, Takes, Topic, Verdict,
};
use rimwise::report::folder::{ANSWERS, EXERCISES, PAGE, practise_files};
use std::collections::{BTreeMap, BTreeSet};

/// Sums as the working writes them: + − × / ² √ sin² sin cos atan asin and brackets; angles in degrees.
struct Sum<'t> {
    left: std::iter::Peekable<std::str::Chars<'t>>,
}

impl Sum<'_> {
    fn of(text: &str) -> f64 {
        let mut sum = Sum { left: text.chars().peekable() };
        let value = sum.terms();
        assert_eq!(sum.next(), None, "not read to its end: {text}");
        value
    }

    fn peek(&mut self) -> Option<char> {
        while self.left.next_if_eq(&' ').is_some() {}
        self.left.peek().copied()
    }

    fn next(&mut self) -> Option<char> {
        self.peek();
        self.left.next()
    }

    fn terms(&mut self) -> f64 {
        let mut value = self.factors();
        while let Some(sign @ ('+' | '−')) = self.peek() {
            self.next();
            let next = self.factors();
            value += if sign == '+' { next } else { -next };
        }
        value
    }

    fn factors(&mut self) -> f64 {
        let mut value = self.squared();
        while let Some(sign @ ('×' | '/')) = self.peek() {
            self.next();
            let next = self.squared();
            value = if sign == '×' { value * next } else { value / next };
        }
        value
    }

    fn squared(&mut self) -> f64 {
        let value = self.one();
        if self.left.next_if_eq(&'²').is_some() { value * value } else { value }
    }

    fn one(&mut self) -> f64 {
        match self.peek().expect("a number") {
            '(' => {
                self.next();
                let value = self.terms();
                assert_eq!(self.next(), Some(')'));
                value
            }
            '√' => {
                self.next();
                self.one().sqrt()
            }
            '−' => {
                self.next();
                -self.one()
            }
            letter if letter.is_alphabetic() => {
                let mut name = String::new();
                while let Some(letter) = self.left.next_if(|c| c.is_alphabetic() || *c == '²') {
                    name.push(letter);
                }
                let value = self.one();
                match name.as_str() {
                    "sin²" => value.to_radians().sin().powi(2),
                    "sin" => value.to_radians().sin(),
                    "cos" => value.to_radians().cos(),
                    "atan" => value.atan().to_degrees(),
                    "asin" => value.asin().to_degrees(),
                    _ => panic!("{name}"),
                }
            }
            _ => {
                let mut digits = String::new();
                while let Some(digit) = self.left.next_if(|c| c.is_ascii_digit() || *c == '.') {
                    digits.push(digit);
                }
                digits.parse().unwrap_or_else(|_| panic!("a number, not {digits:?} before {:?}", self.left))
            }
        }
    }
}

#[test]
fn sums_are_read_as_they_are_written() {
    assert_eq!(Sum::of("2 + 3 × 4 − (−1)"), 15.0);
    assert_eq!(Sum::of("√(3² + 4²) / 2"), 2.5);
    assert!((Sum::of("4 × sin²(30)") - 1.0).abs() < 1e-12);
    assert!((Sum::of("atan(1 / 1)") - 45.0).abs() < 1e-12);
}

fn exercises(topics: &[&'static Topic], level: u8, seed: u64, count: usize) -> Vec<Exercise> {
    Set::new(topics, level, seed, count).exercises
}

/// So many of every topic and level.
const OF_EACH: usize = 240;

fn all() -> impl Iterator<Item = Exercise> {
    let each = TOPICS.iter().flat_map(|topic| LEVELS.map(|level| (topic, level)));
    each.flat_map(|(topic, level)| exercises(&[topic], level, 7, OF_EACH))
}

fn said(exercise: &Exercise) -> String {
    format!("{} {:?}: {}\n{:#?}", exercise.topic, exercise.level, exercise.question, exercise.working)
}

/// The right answer and every wrong one are clearly apart, two by two, and each is judged as what it is.
fn one_right_answer(exercise: &Exercise) {
    let wrong = exercise.wrong.iter().map(|wrong| &wrong.answer);
    let answers: Vec<&Answer> = [&exercise.answer].into_iter().chain(wrong).collect();
    assert!(answers.iter().all(|answer| answer.is_one()), "{}", said(exercise));
    assert!(exercise.working.iter().all(|step| step.value.is_finite()), "{}", said(exercise));
    for (i, one) in answers.iter().enumerate() {
        for other in &answers[i + 1..] {
            assert!(exercise.apart(one, other), "{one:?} and {other:?} in {}", said(exercise));
        }
    }
    let offered: BTreeSet<Option<usize>> = exercise.offered.iter().copied().collect();
    assert_eq!(offered.len(), exercise.offered.len());
    assert!(offered.contains(&None) && offered.len() >= 2 && offered.len() <= LETTERS.len(), "{}", said(exercise));
    for (place, offer) in exercise.offered.iter().enumerate() {
        match (exercise.judge(&LETTERS[place].to_string(), true), offer) {
            (Verdict::Right, None) => {}
            (Verdict::Wrong(Some(wrong)), Some(index)) => assert_eq!(wrong, &exercise.wrong[*index]),
            (verdict, _) => panic!("{verdict:?} in {}", said(exercise)),
        }
    }
    if exercise.is_choice() {
        return;
    }
    // As it is shown it is right, and as they are shown the wrong ones are wrong, by their own mistakes.
    assert_eq!(exercise.judge(&exercise.written(&exercise.answer), false), Verdict::Right, "{}", said(exercise));
    for wrong in &exercise.wrong {
        let typed = exercise.written(&wrong.answer);
        assert_eq!(exercise.judge(&typed, false), Verdict::Wrong(Some(wrong)), "{typed} in {}", said(exercise));
    }
}

/// Every line comes out of its own numbers, and the answer of the last lines.
fn working_is_consistent(exercise: &Exercise) {
    assert!(!exercise.working.is_empty(), "{}", said(exercise));
    for step in &exercise.working {
        let by_hand = Sum::of(&step.numbers);
        // A unit of the last place on show: numbers of the line are rounded themselves.
        let place = 10_f64.powi(-i32::try_from(step.decimals).expect("few"));
        assert!((by_hand - step.value).abs() <= place, "{} is {by_hand}: {}", step.numbers, said(exercise));
    }
    let last = exercise.working.last().expect("a line");
    match (&exercise.answer, exercise.asked) {
        (Answer::Number(right), Asked::Number(scale)) => {
            let tolerance = scale.tolerance + 1e-9;
            let off = (last.value.abs() - right.abs()).abs();
            assert!(off <= tolerance, "{right} against {}", said(exercise));
            // And worked by hand from the shown numbers it is still judged right.
            assert!((Sum::of(&last.numbers).abs() - right.abs()).abs() <= tolerance, "{right}: {}", said(exercise));
        }
        (Answer::Power(parts), _) => {
            for part in parts {
                let there = exercise.working.iter().any(|step| (step.value - part).abs() < 0.006)
                    || exercise.question.contains(&format!("{part:03.0}"));
                assert!(there, "{part} is in no line: {}", said(exercise));
            }
        }
        (Answer::Words(right), _) => {
            let [a, b] = [1, 3].map(|line: usize| exercise.working[line].value);
            let thinner = if a < b { "A, " } else { "B, " };
            assert!(right.starts_with(thinner), "the estimates {a} and {b}: {right} {}", said(exercise));
        }
        (answer, asked) => panic!("{answer:?} to {asked:?}"),
    }
    for wrong in &exercise.wrong {
        assert!(wrong.step < exercise.working.len(), "{}", said(exercise));
    }
}

#[test]
fn ten_thousand_exercises_are_sound() {
    let (mut count, mut met, mut offers) = (0, BTreeMap::new(), 0);
    for exercise in all() {
        one_right_answer(&exercise);
        working_is_consistent(&exercise);
        assert!(exercise.question.ends_with(['?', '.']), "{}", exercise.question);
        for wrong in &exercise.wrong {
            *met.entry(wrong.mistake).or_insert(0) += 1;
        }
        count += 1;
        offers += exercise.offered.len() - 1;
    }
    assert!(count >= 10_000, "{count}");
    assert!(offers > 2 * count, "{offers} distractors of {count} exercises");
    for mistake in Mistake::ALL {
        assert!(met.get(mistake).is_some_and(|times| *times >= 3), "{mistake:?} was not met: {met:?}");
    }
}

#[test]
fn the_same_seed_gives_the_same_exercises_and_few_are_asked_twice() {
    let topics: Vec<_> = TOPICS.iter().collect();
    let set = exercises(&topics, 2, 3, 28);
    assert_eq!(set, exercises(&topics, 2, 3, 28));
    assert_ne!(set, exercises(&topics, 2, 4, 28));
    for topic in &TOPICS {
        for level in LEVELS {
            let questions: BTreeSet<String> =
                exercises(&[topic], level, 5, 12).into_iter().map(|exercise| exercise.question).collect();
            assert_eq!(questions.len(), 12, "{} {level}", topic.id);
        }
    }
    assert!(exercises(&[], 1, 1, 5).is_empty());
}

#[test]
fn mistakes_are_told_apart_and_told_in_sentences() {
    let ids: BTreeSet<&str> = Mistake::ALL.iter().map(|mistake| mistake.id()).collect();
    assert_eq!(ids.len(), Mistake::ALL.len());
    for mistake in Mistake::ALL {
        let said = mistake.said();
        assert!(said.ends_with('.') && said.starts_with(char::is_uppercase) || said.starts_with("0."), "{said}");
    }
}

/// Whatever is typed, it is judged or told how to write; it is never taken for right by chance.
#[test]
fn nothing_typed_is_too_strange() {
    let mut chance = Chance(9);
    let signs: Vec<char> = "0123456789.,-+−×x /upindownmmDΔ\u{0}é½∞NaN".chars().collect();
    let mut right = 0;
    for exercise in TOPICS.iter().flat_map(|topic| exercises(&[topic], 2, 1, 3)) {
        for _ in 0..400 {
            let length = chance.within(0.0, 9.0) as usize;
            let typed: String = (0..length).map(|_| chance.one_of(&signs)).collect();
            right += usize::from(exercise.judge(&typed, false) == Verdict::Right);
        }
        for typed in ["", " ", "inf", "NaN", "-", "+-", "1e999", "e"] {
            assert!(matches!(exercise.judge(typed, false), Verdict::Unread(_)), "{typed:?}: {}", exercise.question);
        }
    }
    assert!(right < 60, "{right} right by chance");
}

fn practise(arguments: &[&str]) -> Command {
    let mut command = Command::cargo_bin("rimwise").expect("the program was built");
    command.env("NO_COLOR", "1").arg("practise").args(arguments);
    command
}

fn told(command: &mut Command) -> String {
    String::from_utf8(command.assert().code(0).stderr("").get_output().stdout.clone()).expect("text")
}

#[test]
fn in_the_terminal_it_asks_judges_and_keeps_the_score() {
    let set = ["--topic", "prentice", "--level", "2", "--seed", "4", "--questions", "4"];
    let exercises = exercises(&[Topic::from_id("prentice").expect("a topic")], 2, 4, 4);
    let right = exercises[0].written(&exercises[0].answer);
    let slip = exercises[1].wrong.iter().find(|wrong| wrong.mistake == Mistake::CmForMm).expect("there");
    let wrong = exercises[1].written(&slip.answer);
    let spoken = told(practise(&set).write_stdin(format!("{right}\nwhat\n{}\n{wrong}\n\n", wrong.replace('.', ","))));
    for part in [
        "1 of 4. Prentice’s rule.",
        "Right.",
        "“what” was not understood. Write a number and",
        "Write the decimal point",
        "Not right. The answer is",
        slip.mistake.said().split(" (").next().expect("words"),
        "→ 2. ",
        "→ here it went wrong.",
        "4 of 4.",
        "1 of 4 right, 2 not answered. Another set: --seed 5.",
    ] {
        assert!(spoken.contains(part), "{part} is not in\n{spoken}");
    }
    assert!(spoken.lines().all(|line| line.chars().count() <= rimwise::report::text::WIDTH), "{spoken}");
    // No input at all, bytes that are no text, and an end of one's own.
    assert!(told(practise(&set).write_stdin("")).ends_with("0 of 4 right, 4 not answered. Another set: --seed 5.\n"));
    assert!(told(practise(&set).write_stdin(vec![0xff, 0xfe, b'\n', b'q', b'\n'])).contains("0 of 4 right"));
}

#[test]
fn letters_choose_what_is_offered() {
    let exercises = exercises(&[Topic::from_id("thinner").expect("a topic")], 1, 2, 2);
    let letter = |exercise: &Exercise, right: bool| {
        let place = exercise.offered.iter().position(|offer| offer.is_none() == right).expect("there");
        LETTERS[place]
    };
    let typed = format!("x\n{}\n{}\n", letter(&exercises[0], true), letter(&exercises[1], false));
    let spoken = told(practise(&["--topic", "thinner", "--seed", "2", "--questions", "2"]).write_stdin(typed));
    assert!(spoken.contains("Write one of the letters a, b, c") && spoken.contains("1 of 2 right."), "{spoken}");
    let offered = told(practise(&["--topic", "sag", "--choices", "--questions", "1"]).write_stdin("q\n"));
    assert!(offered.contains("\n  a  ") && offered.contains("\n  b  "), "{offered}");
}

#[test]
fn sheets_keep_the_answers_apart() {
    let set = Set::new(&TOPICS.iter().collect::<Vec<_>>(), 2, 6, 36);
    let files = practise_files(&set, false);
    let text = |name: &str| String::from_utf8(files[name].clone()).expect("text");
    let (questions, answers) = (text(PAGE), text(ANSWERS));
    for page in [&questions, &answers] {
        let xml = crate::page::as_xml(page);
        let document = roxmltree::Document::parse(&xml).unwrap_or_else(|fault| panic!("{fault}"));
        let items = document.descendants().filter(|node| crate::page::has_class(*node, "exercises"));
        assert_eq!(items.flat_map(|list| list.children()).filter(|item| item.has_tag_name("li")).count(), 36);
        for outside in ["http:", "https:", "src=", "@import", "<script", "<link"] {
            assert!(!page.contains(outside), "{outside}");
        }
    }
    for exercise in &set.exercises {
        let place = exercise.offered.iter().position(Option::is_none).expect("offered");
        let letter = format!("<span class=\"letter\">{}</span> ", LETTERS[place]);
        let letter = if exercise.is_choice() { letter.as_str() } else { "" };
        let answer = format!("<p class=\"answered\">{letter}{}</p>", exercise.written(&exercise.answer));
        assert!(answers.contains(&answer), "{answer}");
        assert!(questions.contains(&exercise.question) && !questions.contains(&exercise.working[0].numbers.repeat(2)));
        for wrong in &exercise.wrong {
            assert!(answers.contains(wrong.mistake.said()) && !questions.contains(wrong.mistake.said()));
        }
    }
    assert!(!questions.contains("class=\"answered\"") && !questions.contains("class=\"working\""));
    assert_eq!(text(EXERCISES), rimwise::report::wire::practise_text(&set));
    // What must be chosen is offered on paper too; what may be only where asked for.
    let offers = |page: &str| page.matches("class=\"offers\"").count();
    assert_eq!(offers(&questions), 2);
    assert_eq!(offers(&String::from_utf8(practise_files(&set, true)[PAGE].clone()).expect("text")), 36);
}

#[test]
fn json_has_every_exercise_and_wrong_flags_are_refused() {
    let json = told(practise(&["--json", "--questions", "14", "--level", "3"]).write_stdin(""));
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let exercises = json["exercises"].as_array().expect("a list");
    assert_eq!((exercises.len(), &json["format"], &json["level"]), (14, &1.into(), &3.into()));
    for exercise in exercises {
        let letter = exercise["letter"].as_str().expect("a letter").chars().next().expect("one");
        let place = LETTERS.iter().position(|one| *one == letter).expect("a place");
        assert_eq!(exercise["offered"][place], exercise["answer"], "{exercise}");
        assert!(!exercise["working"].as_array().expect("lines").is_empty());
    }
    let listed = told(practise(&["--list"]).write_stdin(""));
    assert!(TOPICS.iter().all(|topic| listed.contains(topic.id)), "{listed}");
    for (flags, said) in [
        (["--topic", "cooking"], "there is no topic “cooking”; there are transposition"),
        (["--topic", "sags"], "there is no topic “sags”; did you mean sag?"),
        (["--level", "4"], "allowed is 1, 2 or 3"),
        (["--questions", "0"], "0 is not in 1..=1000"),
    ] {
        practise(&flags).assert().code(2).stdout("").stderr(predicate::str::contains(said));
    }
}

#[test]
fn sheets_are_written_into_a_folder_of_their_own() {
    let room = tempfile::tempdir().expect("a folder");
    let dir = room.path().join("sheets");
    let out = dir.to_str().expect("text");
    let said = told(&mut practise(&["--out", out, "--questions", "5"]));
    assert!(said.contains("index.html") && said.contains("answers.html"), "{said}");
    // Written anew into the same folder, and not over what is not ours.
    practise(&["--out", out, "--questions", "3"]).assert().code(0);
    std::fs::write(dir.join("mine.txt"), "mine").expect("a file");
    practise(&["--out", out]).assert().code(2).stdout("");
    assert!(dir.join("answers.html").exists() && dir.join("exercises.json").exists());
}

#[test]
fn a_wrong_answer_is_traced_though_it_is_rounded() {
    let sag = &exercises(&[Topic::from_id("sag").expect("a topic")], 2, 11, 1)[0];
    let slip = sag.wrong.iter().find(|wrong| wrong.mistake == Mistake::WrongRadius).expect("there");
    let Answer::Number(value) = slip.answer else { panic!("a number") };
    for off in [-0.035, 0.0, 0.035] {
        assert_eq!(sag.judge(&format!("{}", value + off), false), Verdict::Wrong(Some(slip)));
    }
    assert_eq!(sag.judge(&format!("{}", value + 0.05), false), Verdict::Wrong(None));
    let Answer::Number(right) = sag.answer else { panic!("a number") };
    for (off, verdict) in [(0.019, Verdict::Right), (0.021, Verdict::Wrong(None))] {
        assert_eq!(sag.judge(&format!("{:.4} mm", right + off), false), verdict);
    }
}

/// A value for a key, by chance and of few digits; nothing where it may be left out.
fn drawn(takes: &Takes, chance: &mut Chance) -> Option<String> {
    if takes.left_out != LeftOut::Wanted && chance.share() < 0.5 {
        return None;
    }
    let value = match takes.kind {
        Kind::Word(words) => chance.one_of(words).to_owned(),
        Kind::Number { from, to, decimals, .. } => {
            let places = usize::from(decimals);
            // Axes that are a right angle apart, and numbers at the ends, are met too.
            match (takes.key.ends_with("axis"), chance.share()) {
                (true, share) if share < 0.5 => chance.one_of(&["0", "45", "90", "135", "180"]).to_owned(),
                (_, share) if share < 0.55 => format!("{from}"),
                (_, share) if share < 0.6 => format!("{to}"),
                _ => format!("{:.places$}", chance.within(from, to)),
            }
        }
    };
    Some(format!("{}={value}", takes.key))
}

fn numbers(form: &Form, chance: &mut Chance) -> String {
    let keys = form.takes.iter().filter_map(|takes| drawn(takes, chance));
    [format!("find={}", form.find)].into_iter().chain(keys).collect::<Vec<_>>().join(",")
}

/// With any numbers that are allowed there is an answer that is one, or a sentence that says why there is none.
#[test]
fn questions_with_given_numbers_have_an_answer_or_a_reason() {
    let mut chance = Chance(21);
    for (topic, form) in TOPICS.iter().flat_map(|topic| topic.forms.iter().map(move |form| (topic, form))) {
        let mut put = 0;
        for _ in 0..300 {
            let with = numbers(form, &mut chance);
            match topic.posed(&with) {
                Err(why) => assert!(!why.is_empty() && !why.contains("NaN"), "{with}: {why}"),
                Ok(exercise) => {
                    put += 1;
                    assert!(exercise.answer.is_one() && exercise.offered.contains(&None), "{with}");
                    assert!(exercise.working.iter().all(|step| step.value.is_finite()), "{with}");
                    assert!(exercise.question.ends_with(['?', '.']), "{}", exercise.question);
                    let typed = exercise.written(&exercise.answer);
                    assert_eq!(exercise.judge(&typed, false), Verdict::Right, "{typed} to {with}");
                    assert!(!exercise.in_full().is_some_and(|full| full.contains("NaN")), "{with}");
                }
            }
        }
        assert!(put >= 10, "{} {}: {put}", topic.id, form.find);
    }
}

/// Nothing is asked by chance that could not be asked with given numbers, but for which of two lenses is thinner.
#[test]
fn all_topics_but_one_take_numbers_and_name_each_key_once() {
    for topic in &TOPICS {
        assert_eq!(topic.forms.is_empty(), topic.id == "thinner", "{}", topic.id);
        for form in topic.forms {
            let keys: BTreeSet<&str> = form.takes.iter().map(|takes| takes.key).collect();
            assert_eq!(keys.len(), form.takes.len(), "{} {}", topic.id, form.find);
            for takes in form.takes {
                // What is taken where a key is left out is itself allowed.
                let LeftOut::Is(taken) = takes.left_out else { continue };
                match takes.kind {
                    Kind::Word(words) => assert!(words.contains(&taken)),
                    Kind::Number { from, to, .. } => {
                        assert!((from..=to).contains(&taken.parse::<f64>().expect("a number")), "{}", takes.key);
                    }
                }
            }
        }
    }
}

#[test]
fn given_numbers_are_asked_worked_and_judged() {
    let sag = ["--topic", "sag", "--with", "radius_mm=52.3,diameter_mm=40"];
    // Whoever says nothing is shown the working.
    let worked = told(practise(&sag).write_stdin(""));
    for part in [
        "1 of 1. Sag.",
        "A surface of radius 52.3 mm: how deep is it over a diameter of 40 mm?",
        "The answer is 3.98 mm. To more digits: 3.97516 mm.",
        "√(52.300² − 20²) = 48.325 mm",
    ] {
        assert!(worked.contains(part), "{part} is not in\n{worked}");
    }
    assert!(!worked.contains("--seed") && !worked.contains("not answered"), "{worked}");
    let judged = told(practise(&sag).write_stdin("3.82\n"));
    assert!(judged.contains(Mistake::ShortForm.said().split(':').next().expect("words")), "{judged}");
    assert!(told(practise(&sag).write_stdin("3.98 mm\n")).contains("Right."));
    // Twice, as JSON and on sheets.
    let twice = [&sag[..], &["--with", "power_d=6,index=1.5,diameter_mm=50"]].concat();
    let json = told(practise(&[&twice[..], &["--json"]].concat()).write_stdin(""));
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["exercises"].as_array().map(Vec::len), Some(2));
    assert!(json["seed"].is_null() && json["level"].is_null());
    assert!(told(practise(&twice).write_stdin("q\n")).contains("0 of 2 right, 2 not answered."));
    let room = tempfile::tempdir().expect("a folder");
    let out = room.path().join("sheets");
    told(&mut practise(&[&twice[..], &["--out", out.to_str().expect("text")]].concat()));
    let answers = std::fs::read_to_string(out.join(ANSWERS)).expect("a page");
    assert!(answers.contains("With given numbers") && answers.contains("To more digits: 3.97516"), "{answers}");
    let listed = told(practise(&["--list", "--topic", "sag"]).write_stdin(""));
    assert!(listed.contains("--with find=sag, radius_mm=5 to 9000 mm, diameter_mm=1 to 90 mm\n"), "{listed}");
    assert!(listed.lines().all(|line| line.chars().count() <= rimwise::report::text::WIDTH), "{listed}");
}

#[test]
fn given_numbers_that_are_wrong_are_refused_with_the_mend() {
    for (topic, with, said) in [
        ("sag", "52.3", "“52.3” is no KEY=VALUE, such as index=1.5"),
        ("sag", "radius_mm=52,3,diameter_mm=40", "write the decimal point: radius_mm=52.3"),
        ("sag", "radius_mm=52,radius_mm=53", "radius_mm is given twice"),
        ("sag", "radius=52.3,diameter_mm=40", "there is no key “radius” here; did you mean radius_mm?"),
        ("sag", "radius_mm=52.3", "to find sag more is wanted: diameter_mm (1 to 90 mm)"),
        ("sag", "radius_mm=52.3,reading_d=4", "are not keys of one question; rimwise practise --list --topic sag"),
        ("sag", "radius_mm=1,diameter_mm=40", "radius_mm=1: allowed is 5 to 9000 mm"),
        ("sag", "radius_mm=x,diameter_mm=40", "radius_mm=x: “x” is no number; allowed is 5 to 9000 mm"),
        ("sag", "radius_mm=NaN,diameter_mm=40", "allowed is 5 to 9000 mm"),
        ("sag", "radius_mm=52.3,diameter_mm=40.55", "it is taken to one decimal; write 40.6"),
        ("sag", "radius_mm=10,diameter_mm=40", "to these numbers there is no answer: √(r² − y²) comes to nothing"),
        ("prism", "find=bass,prism_pd=3", "find=bass: did you mean base? the topic prism can find amount, base"),
        ("prentice", "sphere=4,toward=nsal,off_mm=5", "toward=nsal: did you mean nasal? allowed is below or above or"),
        ("jump", "add=2,segment=round", "a round segment takes diameter_mm"),
        ("transposition", "sphere=1,cylinder=0,axis=5", "a sphere has no other form"),
        (
            "transposition",
            "sphere=1,cylinder=1,axis=5,other_sphere=1,other_cylinder=1,other_axis=50",
            "neither the same nor at right angles: that is --topic crossed",
        ),
        ("crossed", "cylinder=1,axis=5,other_cylinder=-1,other_axis=5", "what is left is a sphere"),
        ("axis-error", "cylinder=0.25,left_d=0.75", "the angle of that sine comes to nothing"),
        ("thinner", "index=1.5", "the topic thinner takes no numbers of your own"),
    ] {
        let refused =
            practise(&["--topic", topic, "--with", with]).assert().code(2).stdout("").get_output().stderr.clone();
        let refused = String::from_utf8(refused).expect("text");
        assert!(refused.contains(said), "{topic} {with}: {refused}");
    }
    for (flags, said) in [
        (vec!["--with", "radius_mm=52.3"], "--topic <TOPIC>"),
        (vec!["--topic", "sag", "--topic", "edge", "--with", "index=1.5"], "--with goes with one --topic"),
        (vec!["--topic", "sag", "--level", "2", "--with", "index=1.5"], "cannot be used with"),
    ] {
        practise(&flags).assert().code(2).stdout("").stderr(predicate::str::contains(said));
    }
}
