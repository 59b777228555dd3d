//! What the program says of job files that are wrong: each file in `tests/jobs/bad` has its messages beside it, to be
//! read in review and rewritten with `UPDATE=1`.

use crate::snapshot::compare_with_snapshot;
use rimwise::finding::{Finding, rules};
use rimwise::job::{Job, Judged};
use rimwise::keys;
use rimwise::material::Shelf;
use rimwise::read::{self, messages};
use rimwise::report::findings::say;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The job files of a folder, by name.
pub(crate) fn jobs(folder: &str) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(root().join(folder))
        .expect("a folder of jobs")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    paths.sort();
    paths
}

fn findings(bytes: &[u8]) -> Vec<Finding> {
    judged(bytes).findings
}

/// A job that may name the outline files among the bad jobs.
fn judged(bytes: &[u8]) -> Judged<Job> {
    let outlines = read::OutlineFiles::beside(&root().join("tests/jobs/bad/empty.toml"));
    read::job_with(bytes, &Shelf::built_in(), &outlines)
}

/// What is wrong with a material file of this name.
fn findings_of_material(path: &Path) -> Vec<Finding> {
    let stem = path.file_stem().expect("a name").to_string_lossy();
    read::material(&std::fs::read(path).expect("a material file"), &stem).findings
}

/// The messages without their colours.
fn printed(name: &str, bytes: &[u8]) -> String {
    printed_as(name, bytes, &findings(bytes))
}

fn printed_as(name: &str, bytes: &[u8], found: &[Finding]) -> String {
    let text = String::from_utf8_lossy(bytes);
    let source = messages::Source { name, text: &text };
    let styled = format!("{}{name}: {}\n", messages::print(source, found), messages::tally(found));
    anstream::adapter::strip_str(&styled).to_string()
}

#[test]
fn every_bad_job_is_told_so_as_it_was() {
    let mut bad = jobs("tests/jobs/bad");
    bad.push(root().join("demo-jobs/faulty.toml"));
    assert!(bad.len() > 20, "only {} bad jobs", bad.len());
    let mut wrong = Vec::new();
    for path in bad {
        let bytes = std::fs::read(&path).expect("a job file");
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let snapshot = root().join("tests/jobs/bad").join(&name).with_extension("txt");
        let found = findings(&bytes);
        assert!(found.iter().any(Finding::is_fault), "{name} has no fault");
        wrong.extend(compare_with_snapshot(&snapshot, &printed(&name, &bytes)).err());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn every_bad_material_is_told_so_as_it_was() {
    let bad = jobs("tests/jobs/shelf");
    assert!(bad.len() > 3, "only {} bad materials", bad.len());
    let mut wrong = Vec::new();
    for path in bad {
        let bytes = std::fs::read(&path).expect("a material file");
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let found = findings_of_material(&path);
        assert!(found.iter().any(Finding::is_fault), "{name} has no fault");
        wrong.extend(compare_with_snapshot(&path.with_extension("txt"), &printed_as(&name, &bytes, &found)).err());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn every_doubtful_job_is_worked_and_told_so_as_it_was() {
    let mut wrong = Vec::new();
    for path in jobs("tests/jobs/doubtful") {
        let bytes = std::fs::read(&path).expect("a job file");
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let judged = judged(&bytes);
        assert!(judged.value.is_some() && !judged.findings.is_empty(), "{name}: {:?}", judged.findings);
        wrong.extend(compare_with_snapshot(&path.with_extension("txt"), &printed(&name, &bytes)).err());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn every_rule_is_broken_by_some_job() {
    let mut seen = BTreeSet::new();
    for path in jobs("tests/jobs/bad").into_iter().chain(jobs("tests/jobs/doubtful")) {
        for finding in findings(&std::fs::read(&path).expect("a job file")) {
            assert_ne!(say(&finding).said, finding.id(), "the printer has no words for it");
            seen.insert(finding.id());
        }
    }
    for path in jobs("tests/jobs/shelf") {
        for finding in findings_of_material(&path) {
            assert_ne!(say(&finding).said, finding.id(), "the printer has no words for it");
            seen.insert(finding.id());
        }
    }
    // Too large for files of their own; `program` makes them.
    // Of rows and not of jobs; `orders` makes them.
    let of_rows = ["lens.order-formula", "row.length", "row.material-twice"];
    for id in ["file.too-large", "job.too-many", "job.too-many-drawn", "outline.many"].into_iter().chain(of_rows) {
        seen.insert(id.to_owned());
    }
    for rule in rules() {
        assert!(rule.ids().iter().any(|id| seen.contains(id)), "no job shows: {}", rule.help);
    }
    let all: BTreeSet<String> = rules().flat_map(rimwise::finding::Rule::ids).collect();
    assert!(seen.is_subset(&all), "ids that are not listed: {:?}", seen.difference(&all).collect::<Vec<_>>());
}

#[test]
fn every_range_is_judged_at_both_ends() {
    let whole = std::fs::read_to_string(root().join("tests/jobs/whole.toml")).expect("the whole job");
    assert!(
        findings(whole.as_bytes()).iter().all(|finding| !finding.is_fault()),
        "{}",
        printed("whole", whole.as_bytes())
    );
    let mut judged = 0;
    for key in keys::ALL {
        let keys::Refused::Beyond(from, to) = key.refused else { continue };
        if !matches!(key.kind, keys::Kind::Number | keys::Kind::NumberOrEach | keys::Kind::WordOrNumber(_)) {
            continue;
        }
        for (value, sound) in [(from, true), (to, true), (from - 0.001, false), (to + 0.001, false)] {
            let text = with(&whole, key.name, &value.to_string());
            let id = format!("{}-range", key.stem());
            let refused = findings(text.as_bytes()).iter().any(|finding| finding.id() == id);
            assert_eq!(refused, !sound, "{} = {value}\n{}", key.name, printed("whole", text.as_bytes()));
            judged += 1;
        }
    }
    assert!(judged > 60, "only {judged} values were judged");
}

/// The first table of each section of a material file.
const HEADS: [(keys::Section, &str); 4] = [
    (keys::Section::Shelf, ""),
    (keys::Section::OfRim, "[minimum.metal]"),
    (keys::Section::Blank, "[[semi_finished]]"),
    (keys::Section::Stock, "[[stock]]"),
];

#[test]
fn every_range_of_a_material_is_judged_at_both_ends() {
    let whole = std::fs::read_to_string(root().join("materials/resin-1.67.toml")).expect("a material");
    assert_eq!(read::material(whole.as_bytes(), "resin-1.67").findings, []);
    let mut judged = 0;
    for key in keys::shelf::ALL {
        let keys::Refused::Beyond(from, to) = key.refused else { continue };
        let head = HEADS.iter().find(|(section, _)| *section == key.section).expect("a head").1;
        let (before, after) = whole.split_at(whole.find(head).expect("the table"));
        for (value, sound) in [(from, true), (to, true), (from - 0.001, false), (to + 0.001, false)] {
            let value = match key.kind {
                keys::Kind::Numbers => format!("[{value}]"),
                keys::Kind::FromTo => format!("[{value},{value}]"),
                _ => value.to_string(),
            };
            let text = format!("{before}{}", with_value(after, key.name, &value));
            let found = read::material(text.as_bytes(), "resin-1.67").findings;
            let refused = found.iter().any(|finding| finding.id() == format!("{}-range", key.stem()));
            assert_eq!(refused, !sound, "{} = {value}: {found:?}", key.name);
            assert!(refused || found.is_empty(), "{} = {value}: {found:?}", key.name);
            judged += 1;
        }
    }
    assert!(judged > 50, "only {judged} values were judged");
}

/// The text with the first line of a key replaced.
fn with_value(text: &str, key: &str, value: &str) -> String {
    let at = text.find(&format!("\n{key} = ")).unwrap_or_else(|| panic!("the material has no {key}")) + 1;
    let end = at + text[at..].find('\n').expect("an end");
    format!("{}{key} = {value}{}", &text[..at], &text[end..])
}

/// The text with the first value of a key replaced.
fn with(text: &str, key: &str, value: &str) -> String {
    let at = [format!("\n{key} = "), format!(" {key} = ")]
        .iter()
        .find_map(|start| text.find(start).map(|at| at + start.len()))
        .unwrap_or_else(|| panic!("the whole job has no {key}"));
    let end = at + text[at..].find(['\n', ',', ' ', '}']).expect("an end");
    format!("{}{value}{}", &text[..at], &text[end..])
}

#[test]
fn there_are_at_most_fifty_messages() {
    let mut text = String::from("format = 1\n");
    for i in 0..80 {
        text.push_str(&format!("nonsense_{i} = 1\n"));
    }
    let printed = printed("many", text.as_bytes());
    assert_eq!(printed.matches("fault[").count(), messages::MOST_MESSAGES);
    assert!(printed.contains("and 33 more like these"), "{printed}");
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig { cases: 300, failure_persistence: None, ..Default::default() })]

    #[test]
    fn whatever_is_written_is_judged_and_printed(
        at in 0usize..1000,
        length in 0usize..40,
        put in "\\PC{0,12}|[\\[\\]{}=\"#,.\\-\\n\\r\\t 0-9a-z_]{0,12}|nan|1e999|'''|\u{feff}|\u{0}",
    ) {
        let whole = std::fs::read_to_string(root().join("tests/jobs/whole.toml")).expect("the whole job");
        let from = at.min(whole.len());
        let to = (from + length).min(whole.len());
        let text = format!("{}{put}{}", &whole[..from], &whole[to..]);
        let judged = judged(text.as_bytes());
        let faults = judged.findings.iter().filter(|finding| finding.is_fault()).count();
        proptest::prop_assert_eq!(judged.value.is_some(), faults == 0);
        let printed = printed("mutant", text.as_bytes());
        let shown = printed.lines().filter(|line| line.starts_with("fault[")).count();
        proptest::prop_assert_eq!(shown, faults.min(messages::MOST_MESSAGES));
    }
}
