//! The catalogue of keys is complete and says what it says in whole sentences.

use rimwise::keys::{self, Key, Kind, Section};
use std::collections::BTreeSet;

fn all() -> impl Iterator<Item = &'static Key> {
    keys::ALL.iter().chain(keys::shelf::ALL).copied()
}

fn path(key: &Key) -> (Section, &'static str) {
    (key.section, key.name)
}

#[test]
fn keys_are_unique_within_their_table() {
    let unique: BTreeSet<_> = all().map(path).collect();
    assert_eq!(unique.len(), all().count());
    let single: BTreeSet<_> = keys::single().filter_map(|key| key.single).collect();
    assert_eq!(single.len(), keys::single().count());
}

#[test]
fn help_is_one_sentence() {
    for key in all() {
        assert!(key.help.ends_with('.'), "{}: {}", key.name, key.help);
        assert!(key.help.starts_with(char::is_uppercase), "{}: {}", key.name, key.help);
        assert!(!key.help.contains(". "), "{}: {}", key.name, key.help);
    }
}

#[test]
fn a_value_has_an_example_and_a_table_has_none() {
    for key in all() {
        let tables = matches!(key.kind, Kind::Tables(_)) && *key != keys::PRISM;
        let table = matches!(key.kind, Kind::Table(_)) || tables;
        assert_eq!(key.example.is_empty(), table, "{}", key.name);
    }
}

#[test]
fn what_is_usual_lies_within_what_is_allowed() {
    let mut seen = 0;
    for key in keys::ALL {
        let Some([usual_from, usual_to]) = key.usual else { continue };
        let [from, to] = key.refused.allowed(0.0).expect("a range");
        assert!(from <= usual_from && usual_from < usual_to && usual_to <= to, "{}", key.name);
        seen += 1;
    }
    assert!(seen > 5, "{seen}");
}

#[test]
fn every_section_has_keys() {
    for section in Section::ALL.into_iter().chain(Section::OF_SHELF) {
        assert!(keys::of(section).next().is_some(), "{section:?}");
    }
}

#[test]
fn flags_are_the_job_keys_with_dashes() {
    for key in keys::single().filter(|key| **key != keys::EYE_SIZES) {
        assert_eq!(key.single, Some(key.name));
        assert_eq!(key.flag().as_deref(), Some(key.name.replace('_', "-").as_str()));
    }
    assert_eq!(keys::EYE_SIZES.flag().as_deref(), Some("eye-size-mm"));
}
