//! Flow goes one way: no module names one on a higher floor. The floors are read from DEVELOPERS.md.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

struct Floor {
    number: usize,
    strangers: bool,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn floors() -> BTreeMap<String, Floor> {
    let text = std::fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md is there");
    let mut floors = BTreeMap::new();
    for line in text.lines() {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        if let [_, number, modules, strangers, ..] = cells[..]
            && let Ok(number) = number.parse()
        {
            for module in modules.split_whitespace() {
                floors.insert(module.to_owned(), Floor { number, strangers: strangers == "yes" });
            }
        }
    }
    floors
}

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    let mut entries: Vec<_> =
        std::fs::read_dir(folder).expect("a folder").map(|e| e.expect("an entry").path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            into.push(path);
        }
    }
}

/// The modules named by `crate::` paths in a source text, comments left out.
fn named(text: &str) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let code: String = text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n");
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        if let Some(group) = rest.strip_prefix('{') {
            let mut depth = 1;
            let mut word = String::new();
            let mut at_start = true;
            for c in group.chars() {
                match c {
                    '{' => depth += 1,
                    '}' => depth -= 1,
                    _ => {}
                }
                if depth == 1 && c == ',' {
                    at_start = true;
                    word.clear();
                } else if at_start && (c.is_alphanumeric() || c == '_') {
                    word.push(c);
                } else if !word.is_empty() && at_start {
                    names.insert(std::mem::take(&mut word));
                    at_start = false;
                }
                if depth == 0 {
                    break;
                }
            }
        } else {
            names.insert(rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect());
        }
    }
    names
}

/// Paths that point up or sideways to a stranger: (file, module named).
fn broken(floors: &BTreeMap<String, Floor>) -> (usize, Vec<String>) {
    let mut files = Vec::new();
    sources(&root().join("src"), &mut files);
    let mut read = 0;
    let mut broken = Vec::new();
    for file in files {
        let inside = file.strip_prefix(root().join("src")).expect("below src");
        let module = inside.iter().next().expect("a name").to_string_lossy().trim_end_matches(".rs").to_owned();
        if module == "lib" || module == "main" {
            continue;
        }
        let here =
            floors.get(&module).unwrap_or_else(|| panic!("module `{module}` stands on no floor of DEVELOPERS.md"));
        for name in named(&std::fs::read_to_string(&file).expect("a source file")) {
            read += 1;
            let Some(there) = floors.get(&name) else { continue };
            let sideways = there.number == here.number && here.strangers && name != module;
            if there.number > here.number || sideways {
                broken.push(format!(
                    "{} names crate::{name} (floor {} from {})",
                    inside.display(),
                    there.number,
                    here.number
                ));
            }
        }
    }
    (read, broken)
}

#[test]
fn no_module_names_one_on_a_higher_floor() {
    let floors = floors();
    assert!(floors.len() > 12, "the table of floors was not read: {} modules", floors.len());
    let (read, broken) = broken(&floors);
    assert!(read > 10, "hardly any crate:: path was found: {read}");
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
fn the_test_can_fail() {
    let mut floors = floors();
    // With the prescription lifted above its users, they name a higher floor.
    floors.get_mut("rx").expect("rx has a floor").number = 99;
    assert!(!broken(&floors).1.is_empty());
    assert_eq!(
        named("use crate::{draw::svg, rx};\n// crate::cli\nlet x = crate::job::NOW;").into_iter().collect::<Vec<_>>(),
        ["draw", "job", "rx"]
    );
}
