//! What is told: JSON by names and types, sentences by snapshot, the terminal by its width.

use rimwise::assess::Fit;
use rimwise::figures;
use rimwise::job::Job;
use rimwise::material::Shelf;
use rimwise::report::{text, wire};
use rimwise::study::compare::Comparison;
use rimwise::study::lessons;
use serde_json::Value;
use std::path::Path;

/// The demo jobs that can be worked, by their names.
pub(crate) const DEMO_JOBS: [&str; 9] = [
    "mild",
    "nasal-edge",
    "oblique-astigmatism",
    "prescribed-prism",
    "strong-minus",
    "strong-plus",
    "supra-and-rimless",
    "traced-frame",
    "unequal-eyes",
];

/// A demo job.
pub(crate) fn demo(name: &str) -> Job {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("demo-jobs/{name}.toml"));
    let outlines = rimwise::read::OutlineFiles::beside(&path);
    let bytes = std::fs::read(path).expect("a demo job");
    sound(rimwise::read::job_with(&bytes, &Shelf::built_in(), &outlines))
}

/// The job that a text means.
pub(crate) fn job(text: &str) -> Job {
    sound(rimwise::read::job(text.as_bytes(), &Shelf::built_in()))
}

fn sound(judged: rimwise::job::Judged<Job>) -> Job {
    judged.value.unwrap_or_else(|| panic!("{:?}", judged.findings))
}

fn answer(job: &Job) -> Value {
    serde_json::from_str(&wire::compare_text(&Comparison::of(job), &[])).expect("JSON")
}

/// Names and types of a value, a line each: what a golden file holds.
pub(crate) fn skeleton(value: &Value, path: &str, into: &mut Vec<String>) {
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "number",
        Value::String(_) => "text",
        Value::Array(items) => {
            items.iter().for_each(|item| skeleton(item, &format!("{path}[]"), into));
            "list"
        }
        Value::Object(map) => {
            map.iter().for_each(|(key, value)| skeleton(value, &format!("{path}.{key}"), into));
            "table"
        }
    };
    let line = format!("{path} {kind}");
    if !into.contains(&line) {
        into.push(line);
    }
}

/// Compares with a file beside the tests; `UPDATE=1` rewrites it.
pub(crate) fn golden(name: &str, found: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("the folder");
        std::fs::write(&path, found).expect("the golden file");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == found, "{name} has changed; look at it and run again with UPDATE=1:\n{found}");
}

#[test]
fn the_json_keeps_its_names_and_types() {
    let mut lines = Vec::new();
    for name in DEMO_JOBS {
        skeleton(&answer(&demo(name)), "", &mut lines);
    }
    lines.sort();
    assert!(lines.iter().any(|line| line.ends_with(".impossible text")), "no demo job is impossible anywhere");
    golden("compare-json.txt", &(lines.join("\n") + "\n"));
}

/// The value at a path of keys with dots between.
fn at<'v>(value: &'v Value, path: &str) -> &'v Value {
    path.split('.').fold(value, |value, key| value.get(key).unwrap_or_else(|| panic!("no `{key}` of `{path}`")))
}

/// The reader of these tests may miss the last digit of a number; the writer does not.
fn same(found: &Value, wanted: Option<f64>, what: &str) {
    match (found.as_f64(), wanted) {
        (Some(found), Some(wanted)) => {
            assert!((found - wanted).abs() <= 1e-15 * wanted.abs(), "{what}: {found} and {wanted}");
        }
        (found, wanted) => assert_eq!(found, wanted, "{what}"),
    }
}

#[test]
fn every_figure_is_in_the_json_with_the_same_number() {
    let mut compared = 0;
    for name in DEMO_JOBS {
        let job = demo(name);
        let comparison = Comparison::of(&job);
        let json = answer(&job);
        for (i, pair) in comparison.fits.iter().enumerate().filter_map(|(i, fit)| Some((i, fit.pair()?))) {
            let fit = &json["fits"][i];
            for (eye, made) in pair.eyes.iter() {
                for figure in figures::OF_EYE {
                    let found = at(&fit[eye.word()], figure.id);
                    same(found, (figure.read)(made), &format!("{name} {i} {}", figure.id));
                    compared += 1;
                }
            }
            for figure in figures::OF_PAIR {
                let found = at(&fit["pair"], figure.id);
                same(found, (figure.read)(pair), &format!("{name} {i} {}", figure.id));
            }
        }
    }
    assert!(compared > 5000, "hardly any figure was compared: {compared}");
}

#[test]
fn what_does_not_exist_is_null() {
    let eye = |sphere: &str, more: &str| {
        let job = job(&format!(
            "format = 1\n[prescription.right]\nsphere = {sphere}\npd_mm = 32\n[prescription.left]\nsphere = {sphere}\n\
             pd_mm = 32\n[[frame]]\nname = \"F\"\nshape = \"oval\"\neye_sizes_mm = [48]\ndepth_mm = 38\nbridge_mm = 18\n\
             rim = \"supra\"\n{more}[[lens]]\nname = \"l\"\nmaterial = {{ index = 1.6, abbe = 41, density = 1.3 }}\n\
             base_curve_d = 0\nmin_centre_mm = 1.2\nmin_edge_mm = 1.6\n"
        ));
        answer(&job)["fits"][0].clone()
    };
    let fit = eye("-4", "optical_centre_height_mm = 45\n");
    for path in ["front.radius_mm", "back.axis_deg", "thickness.centre_mm", "thickness.shoulder_max_mm"] {
        assert!(at(&fit["right"], path).is_null(), "{path}: {}", at(&fit["right"], path));
    }
    assert!(fit["right"]["blank"]["diameter_mm"].is_null());
    assert!(fit["pair"]["with_frame_g"].is_null());
    assert_eq!(fit["right"]["front"]["chosen_by"], "job");
    assert_eq!(fit["cautions"][0]["id"], "fit.reference-outside");
    let plane = eye("0", "");
    assert!(plane["right"]["back"]["radii_mm"][0].is_null());
    assert_eq!(plane["right"]["reference_point"]["up_mm"].to_string(), "0.0");
}

fn said(name: &str) -> String {
    let job = demo(name);
    text::compare(&Comparison::of(&job), &[], false)
}

#[test]
fn the_terminal_says_so() {
    for name in DEMO_JOBS {
        let text = said(name);
        for line in text.lines() {
            assert!(line.chars().count() <= text::WIDTH, "{name}: {} signs: {line}", line.chars().count());
        }
        assert!(!text.contains('\u{202f}') && !text.contains('\u{1b}') && !text.contains("-0."), "{name}");
    }
    for name in ["mild", "nasal-edge", "strong-plus"] {
        golden(&format!("compare-{name}.txt"), &said(name));
    }
}

#[test]
fn bold_is_all_that_styling_adds() {
    let job = demo("strong-minus");
    let comparison = Comparison::of(&job);
    let styled = text::compare(&comparison, &[], true);
    assert!(styled.contains("\u{1b}[1m"));
    let mut plain = String::new();
    let mut escaped = false;
    for sign in styled.chars() {
        escaped |= sign == '\u{1b}';
        if !escaped {
            plain.push(sign);
        }
        escaped &= sign != 'm';
    }
    let lines = |text: &str| text.lines().map(|line| line.trim_end().to_owned()).collect::<Vec<_>>();
    assert_eq!(lines(&plain), lines(&said("strong-minus")));
}

#[test]
fn the_smaller_eye_size_wins_and_the_nasal_edge_does_not_move() {
    let minus = said("strong-minus").replace('\n', " ");
    assert!(minus.contains("take 2 mm from the temporal side"), "{minus}");
    assert!(minus.contains("none from the nasal side"), "{minus}");
    assert!(minus.contains("if its bridge fits your nose"), "{minus}");
    let nasal = said("nasal-edge").replace('\n', " ");
    assert!(nasal.contains("A smaller eye size does not make Bryony thinner"), "{nasal}");
    assert!(nasal.contains("set by pd and bridge"), "{nasal}");
    assert!(nasal.contains("What helps is a wider bridge"), "{nasal}");
    assert!(said("mild").contains("All options look alike"));
    // The words follow the figures: every frame with a smaller size that saves is named in words.
    let job = demo("strong-minus");
    let comparison = Comparison::of(&job);
    let saving = lessons::lessons(&comparison)
        .iter()
        .filter(|lesson| matches!(lesson, lessons::Lesson::EyeSize(step) if step.change.saved_mm() >= 0.2))
        .count();
    assert_eq!(saving, 3);
    for frame in ["Yarrow", "Sorrel", "Tansy"] {
        assert!(minus.contains(frame));
    }
}

#[test]
fn an_option_that_cannot_be_made_names_the_eye_and_a_mend() {
    let job = demo("oblique-astigmatism");
    let comparison = Comparison::of(&job);
    let (index, _) =
        comparison.fits.iter().enumerate().find(|(_, fit): &(usize, &Fit<'_>)| fit.pair().is_none()).expect("one");
    let json = answer(&job);
    let fit = &json["fits"][index];
    assert_eq!(
        fit["impossible"],
        "Right eye: no ready-made lens of this material covers −1.00 −4.50; surfaced, it can be made to order."
    );
    assert!(fit.get("right").is_none() && fit.get("left").is_none() && fit.get("pair").is_none());
    assert_eq!(fit["cautions"].as_array().map(Vec::len), Some(0));
}

fn one_lens(flags: &[(&str, &str)]) -> rimwise::job::OneLens {
    let given: Vec<_> = flags
        .iter()
        .map(|(name, text)| {
            let key = rimwise::keys::single().find(|key| key.single == Some(*name)).expect("a key");
            (key, (*text).to_owned())
        })
        .collect();
    let judged =
        rimwise::job::judge_one(rimwise::read::flags::table(&given), &Shelf::built_in(), &rimwise::job::NoOutlines);
    judged.value.unwrap_or_else(|| panic!("{:?}", judged.findings))
}

#[test]
fn one_lens_is_told_with_all_its_figures() {
    let mut flags = vec![
        ("eye", "right"),
        ("sphere", "-6.25"),
        ("cylinder", "-1.5"),
        ("axis", "175"),
        ("prism", "1.5@in"),
        ("pd_mm", "31.5"),
        ("shape", "oval"),
        ("eye_size_mm", "50"),
        ("depth_mm", "40"),
        ("bridge_mm", "18"),
        ("rim", "metal"),
        ("material", "resin-1.67"),
    ];
    let one = one_lens(&flags);
    let outcome = rimwise::study::one_lens(&one);
    golden("lens.txt", &text::lens(&one, &outcome, false));
    let json: Value = serde_json::from_str(&wire::lens_text(&outcome, &one.lens, &one.rx)).expect("JSON");
    assert!(json["thickness"]["edge_max_mm"].is_number() && json.get("format").is_none(), "{json}");

    flags[1].1 = "-38";
    let one = one_lens(&flags);
    let outcome = rimwise::study::one_lens(&one);
    let json: Value = serde_json::from_str(&wire::lens_text(&outcome, &one.lens, &one.rx)).expect("JSON");
    let why = json["impossible"].as_str().expect("why");
    assert!(why.starts_with("The back surface reaches only"), "{why}");
    assert!(text::lens(&one, &outcome, false).contains("cannot be made"));
}
