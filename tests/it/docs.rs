//! The documentation holds: its commands run, its links lead somewhere, its excerpts and numbers are the program's.

use crate::examples::TOLD;
use crate::reference::commands;
use assert_cmd::Command;
use kurbo::Vec2;
use rimwise::lens::{Lens, Recipe};
use rimwise::rx::{Power, Prism};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every page, from the root of the project.
fn pages() -> Vec<PathBuf> {
    let mut pages: Vec<PathBuf> =
        ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "tests/README.md"].map(PathBuf::from).to_vec();
    for folder in ["docs", "docs/reference"] {
        let entries = std::fs::read_dir(root().join(folder)).expect("a folder of pages");
        let names = entries.map(|entry| Path::new(folder).join(entry.expect("an entry").file_name()));
        pages.extend(names.filter(|name| name.extension().is_some_and(|ending| ending == "md")));
    }
    pages.sort();
    assert!(pages.len() > 8, "{pages:?}");
    pages
}

pub(crate) fn read(page: &Path) -> String {
    std::fs::read_to_string(root().join(page)).expect("a page")
}

/// The lines of each fenced block of this kind; a line that ends in a backslash goes on in the next.
pub(crate) fn fenced(text: &str, kind: &str) -> Vec<Vec<String>> {
    let mut blocks = Vec::new();
    let mut inside: Option<(bool, Vec<String>)> = None;
    for line in text.lines() {
        match (&mut inside, line.strip_prefix("```")) {
            (None, Some(opened)) => inside = Some((opened == kind, Vec::new())),
            (Some((_, lines)), None) => match lines.last_mut() {
                Some(last) if last.ends_with('\\') => {
                    *last = format!("{} {}", last.trim_end_matches('\\'), line.trim())
                }
                _ => lines.push(line.to_owned()),
            },
            (Some((wanted, lines)), Some(_)) => {
                if *wanted {
                    blocks.push(std::mem::take(lines));
                }
                inside = None;
            }
            (None, None) => {}
        }
    }
    assert!(inside.is_none(), "a block is not closed");
    blocks
}

/// A page without its fenced blocks.
fn prose(text: &str) -> String {
    let mut fence = false;
    let keep = |line: &&str| {
        let mark = line.starts_with("```");
        fence ^= mark;
        !fence && !mark
    };
    text.lines().filter(keep).collect::<Vec<_>>().join("\n")
}

/// What stands between single backticks.
fn quoted(text: &str) -> Vec<String> {
    prose(text)
        .split('`')
        .skip(1)
        .step_by(2)
        .map(|words| words.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

/// A folder to run commands in, with the demo jobs.
pub(crate) fn room() -> tempfile::TempDir {
    let room = tempfile::tempdir().expect("a folder");
    let jobs = room.path().join("demo-jobs");
    std::fs::create_dir(&jobs).expect("a folder");
    for entry in std::fs::read_dir(root().join("demo-jobs")).expect("demo jobs") {
        let entry = entry.expect("an entry");
        std::fs::copy(entry.path(), jobs.join(entry.file_name())).expect("a copy");
    }
    room
}

/// The words of a command; what stands between double quotes is one.
pub(crate) fn arguments(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (i, part) in command.split('"').enumerate() {
        if i.is_multiple_of(2) {
            words.extend(part.split_whitespace().map(str::to_owned));
        } else {
            words.push(part.to_owned());
        }
    }
    words
}

fn run(command: &str, room: &Path) -> String {
    let assert = Command::cargo_bin("rimwise")
        .expect("the program is built")
        .current_dir(room)
        .args(arguments(command))
        .assert()
        .code(0);
    String::from_utf8(assert.get_output().stdout.clone()).expect("text")
}

fn is_executable(path: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        std::fs::metadata(path).is_ok_and(|data| data.permissions().mode() & 0o111 != 0)
    }
    #[cfg(not(unix))]
    path.is_file()
}

#[test]
fn commands_of_the_documentation_run() {
    let mut ran = 0;
    for page in pages() {
        let room = room();
        for line in fenced(&read(&page), "sh").into_iter().flatten() {
            let program =
                ["rimwise ", "cargo run --release -- "].into_iter().find_map(|start| line.strip_prefix(start));
            match program {
                Some(arguments) => {
                    run(arguments, room.path());
                    if let Some((_, folder)) = arguments.split_once(" --out ") {
                        assert!(room.path().join(folder).join("index.html").is_file(), "{line} wrote no report");
                    }
                    ran += 1;
                }
                None => assert!(is_executable(&root().join(&line)), "{}: nobody knows `{line}`", page.display()),
            }
        }
    }
    assert!(ran >= 5, "only {ran} commands");
}

#[test]
fn the_readme_opens_with_the_two_commands() {
    let first = fenced(&read(Path::new("README.md")), "sh").remove(0);
    assert_eq!(first, ["cargo run --release -- compare demo-jobs/strong-minus.toml --out report", "tests/run"]);
}

#[test]
fn commands_named_in_a_sentence_are_there() {
    let known: BTreeSet<String> = commands().into_iter().collect();
    let mut named = BTreeSet::new();
    for page in pages() {
        for words in quoted(&read(&page)) {
            if let Some(example) = words.strip_prefix("cargo run --example ") {
                assert!(TOLD.contains(&example), "{}: no example {example}", page.display());
            }
            if let Some(command) = words.strip_prefix("rimwise ").and_then(|rest| rest.split(' ').next()) {
                assert!(known.contains(command), "{}: no command {command}", page.display());
                named.insert((page.clone(), command.to_owned()));
            }
        }
    }
    for command in known {
        let there = named.contains(&(PathBuf::from("README.md"), command.clone()));
        assert!(there, "the README does not name {command}");
    }
}

#[test]
fn excerpts_are_what_the_program_prints() {
    let mut compared = 0;
    for page in pages() {
        let text = read(&page);
        for part in text.split("<!-- from: rimwise ").skip(1) {
            let (arguments, rest) = part.split_once(" -->").expect("the mark ends");
            // A page has plain spaces where the program prints some that do not break.
            let printed = run(arguments, room().path()).replace(['\u{a0}', '\u{202f}'], " ");
            let printed: Vec<&str> = printed.lines().map(str::trim_end).collect();
            // In the order of printing; three dots stand for what is left out.
            let mut after = 0;
            for line in fenced(rest, "text").remove(0).iter().filter(|line| *line != "...") {
                let found = printed[after..].iter().position(|there| there == line);
                let found = found.unwrap_or_else(|| panic!("{}: not printed by {arguments}:\n{line}", page.display()));
                after += found + 1;
                compared += 1;
            }
        }
    }
    assert!(compared > 8, "only {compared} lines");
}

/// The name by which a heading can be linked to.
fn anchor(heading: &str) -> String {
    let kept = heading.trim().chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
    kept.collect::<String>().to_lowercase().replace(' ', "-")
}

fn anchors(text: &str) -> BTreeSet<String> {
    prose(text).lines().filter(|line| line.starts_with('#')).map(|line| anchor(line.trim_start_matches('#'))).collect()
}

#[test]
fn links_lead_somewhere() {
    let mut followed = 0;
    for page in pages() {
        let text = prose(&read(&page));
        for link in text.split("](").skip(1) {
            let target = link.split(')').next().expect("a target");
            if target.starts_with("https://") {
                continue;
            }
            let (file, heading) =
                target.split_once('#').map_or((target, None), |(file, heading)| (file, Some(heading)));
            let path = if file.is_empty() { page.clone() } else { page.parent().expect("a folder").join(file) };
            assert!(root().join(&path).exists(), "{}: {target} leads nowhere", page.display());
            if let Some(heading) = heading {
                assert!(anchors(&read(&path)).contains(heading), "{}: no heading for {target}", page.display());
            }
            followed += 1;
        }
    }
    assert!(followed > 30, "only {followed} links");
}

#[test]
fn files_that_developers_are_sent_to_are_there() {
    let mut seen = 0;
    for page in ["DEVELOPERS.md", "tests/README.md", "docs/model.md"] {
        for words in quoted(&read(Path::new(page))) {
            let is_path =
                ["src/", "tests/", "docs/", "materials/", ".ci/"].iter().any(|start| words.starts_with(start));
            // Capitals stand for a name of one's own.
            if is_path && !words.contains(char::is_uppercase) {
                assert!(root().join(&words).exists(), "{page}: there is no {words}");
                seen += 1;
            }
        }
    }
    assert!(seen > 30, "only {seen} files");
}

fn lens(sphere: f64, cylinder: f64, prism_pd: f64, base_curve_d: f64) -> Lens {
    let (power, prism) = (Power::new(sphere, cylinder, 180.0), Prism::new(prism_pd, 0.0));
    Recipe { power, prism, index: 1.6, base_curve_d }.at_centre(2.0).expect("a lens")
}

/// How far a slope added to the sag is from the surface turned, at 25 mm, in the worst direction.
fn slope_for_a_turn(base_curve_d: f64) -> f64 {
    let (turned, upright) = (lens(-6.0, 0.0, 5.0, base_curve_d), lens(-6.0, 0.0, 0.0, base_curve_d));
    let lean = turned.back().slope(Vec2::ZERO).expect("the vertex").gradient;
    let off = |deg: i32| {
        let p = 25.0 * Vec2::from_angle(f64::from(deg).to_radians());
        let added = upright.thickness(p).expect("reaches") + lean.dot(p);
        (turned.thickness(p).expect("reaches") - added).abs()
    };
    (0..360).map(off).fold(0.0, f64::max)
}

#[test]
fn numbers_of_the_model_page_are_the_models() {
    let page = read(Path::new("docs/model.md"));
    let says = |words: &str, ours: f64, printed: f64| {
        assert!(page.contains(words), "docs/model.md no longer says {words}");
        assert!((ours - printed).abs() < 0.006, "{words}: ours is {ours}");
    };
    says("it is 0.25 mm off at 25 mm", slope_for_a_turn(3.0), 0.25);
    says("and 0.50 mm on base 6", slope_for_a_turn(6.0), 0.50);
    let sag = |c: f64, h: f64| c * h * h / (1.0 + (1.0 - c * c * h * h).sqrt());
    let swept = |flat: f64, steep: f64, u: f64, w: f64| {
        let s = sag(steep, w);
        let q = 1.0 - flat * s;
        (2.0 * s - flat * s * s + flat * u * u) / (1.0 + (q * q - flat * flat * u * u).sqrt())
    };
    let torus = lens(-6.0, -4.0, 0.0, 3.0);
    let [along, across] = torus.back_curvatures();
    let tyre = torus.back().sag(Vec2::new(25.0, 20.0)).expect("reaches");
    says("is 0.25 mm deeper at (25, 20) mm", swept(across, along, 20.0, 25.0) - tyre, 0.25);
    let round = 1.0 / 60.0;
    let sphere = sag(round, 25f64.hypot(20.0));
    says("falls 0.37 mm short", sphere - sag(round, 25.0) - sag(round, 20.0), 0.37);
    // And the table of blocking, line by line.
    for sphere in [-4.0, -6.0, -8.0f64] {
        let saved = |base| {
            let [[_, reference], [_, boxed]] = crate::examples::blocking::edges(sphere, base);
            reference - boxed
        };
        let base = rimwise::choose::base::vogel_d(sphere);
        let row = format!(
            "| −{:.2} | {:.2} mm | {:.2} mm | {:.2} mm | {:.2} mm (base {base}) |",
            -sphere,
            saved(1.0),
            saved(4.0),
            saved(6.0),
            saved(base)
        );
        assert!(page.contains(&row), "docs/model.md ought to say {row}");
    }
}
