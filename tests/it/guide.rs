//! The guide: its pictures are what its commands draw, and the numbers that it sees are what they print. `UPDATE=1` draws
//! the pictures anew.

use crate::docs::{arguments, fenced, read, room};
use crate::snapshot::compare_with_snapshot;
use assert_cmd::Command;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// So much may a picture of the guide weigh.
const MOST_BYTES: usize = 60_000;

struct Experiment {
    title: String,
    text: String,
}

fn experiments() -> Vec<Experiment> {
    let page = read(Path::new("docs/guide.md"));
    let parts = page.split("\n## ").skip(1).filter(|part| part.contains("**Question.**"));
    let found = parts.map(|part| {
        let (title, text) = part.split_once('\n').expect("a text under a heading");
        Experiment { title: title.to_owned(), text: text.to_owned() }
    });
    found.collect()
}

impl Experiment {
    /// What its command prints and writes.
    fn run(&self, room: &Path) -> String {
        let commands: Vec<String> = fenced(&self.text, "sh").into_iter().flatten().collect();
        let [command] = &commands[..] else { panic!("{}: one command, not {commands:?}", self.title) };
        let words = arguments(command.strip_prefix("rimwise ").expect("a command of ours"));
        let assert =
            Command::cargo_bin("rimwise").expect("the program is built").current_dir(room).args(words).assert().code(0);
        String::from_utf8(assert.get_output().stdout.clone()).expect("text")
    }

    /// The paragraph under these bold words.
    fn paragraph(&self, words: &str) -> &str {
        let start = format!("**{words}** ");
        let paragraph = self.text.split("\n\n").find_map(|paragraph| paragraph.trim().strip_prefix(&start));
        paragraph.unwrap_or_else(|| panic!("{}: no {words}", self.title))
    }
}

#[test]
fn ten_experiments_have_all_their_parts() {
    let all = experiments();
    assert_eq!(all.len(), 10);
    for one in &all {
        assert!(one.paragraph("Question.").contains('?'), "{}", one.title);
        for words in ["What to see.", "Why.", "Try."] {
            assert!(one.paragraph(words).len() > 40, "{}: {words}", one.title);
        }
        assert!(one.text.contains("<!-- from: rimwise sweep "), "{}: nothing is quoted", one.title);
    }
}

#[test]
fn pictures_of_the_guide_are_what_its_commands_draw() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/guide");
    let mut drawn = BTreeSet::new();
    let mut stale = Vec::new();
    for one in experiments() {
        let room = room();
        one.run(room.path());
        let (mark, rest) =
            one.text.split_once("<!-- picture: ").and_then(|(_, rest)| rest.split_once(" -->\n")).expect("a picture");
        let name = rest.split_once("](guide/").and_then(|(_, rest)| rest.split_once(')')).expect("its file").0;
        let svg = std::fs::read_to_string(room.path().join(mark)).unwrap_or_else(|_| panic!("{mark} was not drawn"));
        assert!(svg.len() < MOST_BYTES, "{name} has {} bytes", svg.len());
        if compare_with_snapshot(&folder.join(name), &svg).is_err() {
            stale.push(name.to_owned());
        }
        assert!(drawn.insert(name.to_owned()), "{name} is drawn twice");
    }
    assert!(stale.is_empty(), "out of date, UPDATE=1 cargo test guide draws them anew: {stale:?}");
    let kept = std::fs::read_dir(&folder).expect("the pictures");
    let kept: BTreeSet<String> =
        kept.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    assert_eq!(kept, drawn, "a picture that no experiment shows");
}

/// The numbers of a text, as they are written.
fn numbers(text: &str) -> Vec<String> {
    let is_number = |sign: char| sign.is_ascii_digit() || sign == '.';
    let mut found = Vec::new();
    let mut number = String::new();
    for sign in text.chars().chain([' ']) {
        if is_number(sign) || (matches!(sign, '−' | '+') && number.is_empty()) {
            number.push(sign);
        } else {
            let whole = number.trim_end_matches('.');
            if whole.contains(|sign: char| sign.is_ascii_digit()) {
                found.push(whole.to_owned());
            }
            number.clear();
            if matches!(sign, '−' | '+') {
                number.push(sign);
            }
        }
    }
    found
}

/// A text without the results of the sums in it, each of which is checked on the way: "10.8 − 5.0 = 5.8".
fn without_sums(title: &str, text: &str) -> String {
    let mut left = String::new();
    let mut parts = text.split(" = ");
    left.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let value = |word: &str| word.replace('−', "-").parse::<f64>().unwrap_or_else(|_| panic!("{title}: {word}"));
        let before: Vec<&str> = left.split_whitespace().rev().take(3).collect();
        let [second, "−", first] = before[..] else { panic!("{title}: a difference, not {before:?}") };
        let result = part.split_whitespace().next().expect("a result");
        let decimals = result.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let wanted = format!("{:.decimals$}", value(first) - value(second));
        assert_eq!(result, wanted, "{title}: {first} − {second}");
        left.push(' ');
        left.push_str(part.trim_start().trim_start_matches(result));
    }
    left
}

#[test]
fn what_is_seen_is_what_is_printed() {
    let mut checked = 0;
    for one in experiments() {
        let printed = one.run(room().path());
        let there: BTreeSet<String> = numbers(&printed).into_iter().collect();
        // What stands in backticks is no number that is seen, and the name of a material is one that was asked for.
        let seen = one.paragraph("What to see.").replace("resin-1.50", "").replace("resin-1.74", "");
        for number in numbers(&without_sums(&one.title, &seen)) {
            let plain = number.trim_start_matches(['−', '+']);
            let is_there = there.contains(&number) || there.contains(plain);
            let as_half = there.contains(&format!("{plain}.0"));
            assert!(is_there || as_half, "{}: {number} is not printed:\n{printed}", one.title);
            checked += 1;
        }
    }
    assert!(checked > 50, "only {checked} numbers");
    // It can fail.
    let wrong = std::panic::catch_unwind(|| without_sums("a sum", "it is 7.5 − 6.7 = 0.9 mm"));
    assert!(wrong.is_err());
    assert_eq!(numbers("At −4.00 and 2.5, base 8."), ["−4.00", "2.5", "8"]);
}

#[test]
fn the_guide_is_linked() {
    for page in ["README.md", "docs/glossary.md"] {
        let text = read(&PathBuf::from(page));
        assert!(text.contains("guide.md)"), "{page} does not lead to the guide");
    }
}
