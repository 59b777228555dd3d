//! What is told: JSON by names and types, sentences by snapshot, the terminal by its width.

use rimwise::assess::Fit;
use rimwise::figures;
use rimwise::job::Job;
use rimwise::material::Shelf;
use rimwise::report::{text, wire, words};
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
            for (eye, made) in pair.eyes.iter() {
                let work = comparison.fits[i].lab_work(eye, made);
                for figure in figures::OF_EDGING {
                    let found = at(&fit[eye.word()], figure.id);
                    same(found, (figure.read)(&work.edging), &format!("{name} {i} {}", figure.id));
                }
                for figure in figures::OF_SURFACING {
                    let found = at(&fit[eye.word()], figure.id);
                    same(found, (figure.read)(&work.surfacing), &format!("{name} {i} {}", figure.id));
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

#[test]
fn differences_are_those_of_the_figures_on_show() {
    use rimwise::report::number::{difference, grams, mm, plain};
    let mut seen = 0;
    for name in DEMO_JOBS {
        let job = demo(name);
        let comparison = Comparison::of(&job);
        let text = text::compare(&comparison, &[], false).split_whitespace().collect::<Vec<_>>().join(" ");
        for lesson in lessons::lessons(&comparison) {
            let change = match &lesson {
                lessons::Lesson::Index { change, .. } | lessons::Lesson::Supply { change, .. } => *change,
                lessons::Lesson::EyeSize(step) => step.change,
                _ => continue,
            };
            let less_mm = difference(change.from_mm, change.to_mm, 1);
            if less_mm >= 0.2 {
                assert!(text.contains(&plain(&mm(less_mm))), "{name}: {less_mm} in {text}");
                seen += 1;
            }
            let less_g = difference(change.from_g, change.to_g, 1).abs();
            if matches!(lesson, lessons::Lesson::Index { .. }) && less_g > 0.0 {
                assert!(text.contains(&plain(&grams(less_g))), "{name}: {less_g} in {text}");
            }
        }
    }
    assert!(seen > 8, "{seen}");
    // 12.4 g and 9.0 g, 6.1 mm and 4.0 mm in the table.
    assert!(said("supra-and-rimless").contains("2.1 mm off the thickest edge, to 4.0 mm, and 3.4 g off the pair"));
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
fn the_answer_names_a_balanced_neighbour_of_a_heavy_thinnest() {
    // By the rule: within 0.5 mm of the thinnest, the lightest of those, 2 g and a fifth of its own mass lighter.
    let (mut with, mut without) = (0, 0);
    for name in DEMO_JOBS {
        let job = demo(name);
        let comparison = Comparison::of(&job);
        let Some((chosen, fit)) = words::choice(&comparison) else { continue };
        let of = |fit: &Fit<'_>| Some((comparison.lead.of(fit.pair()?)?, fit.pair()?.mass_g()));
        let (lead_mm, mass_g) = of(fit).expect("a pair");
        let near = comparison.offered().filter_map(|(i, fit)| Some((i, of(fit)?)));
        let near = near.filter(|(_, (mm, _))| *mm <= lead_mm + 0.5).min_by(|a, b| a.1.1.total_cmp(&b.1.1));
        let (other, (_, other_g)) = near.expect("itself at least");
        let wanted = other != chosen && mass_g - other_g >= 2.0 && mass_g >= 1.2 * other_g;
        assert_eq!(said(name).replace('\n', " ").contains("nearly as thin, is"), wanted, "{name}");
        assert!(!wanted || words::named(&comparison).contains(&other), "{name}");
        if wanted { with += 1 } else { without += 1 }
    }
    assert!(with > 0 && without > 3, "{with} {without}");
}

#[test]
fn the_present_spectacles_are_taken_for_the_new_prescription_only_with_a_word() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-jobs/strong-minus.toml");
    let text = std::fs::read_to_string(path).expect("a demo job");
    let told = |text: &str| text::compare(&Comparison::of(&job(text)), &[], false).replace('\n', " ");
    assert!(told(&text).contains("The spectacles worn now have 11.0 mm"));
    let from = text.find("[present.prescription").expect("what they were made for");
    let to = text[from..].find("[[").map_or(text.len(), |to| from + to);
    let without = format!("{}{}", &text[..from], &text[to..]);
    let assumed = told(&without);
    assert!(
        assumed.contains("The spectacles worn now, if they were made for this prescription, would have"),
        "{assumed}"
    );
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
    let json: Value = serde_json::from_str(&wire::lens_text(&outcome, &one)).expect("JSON");
    assert!(json["thickness"]["edge_max_mm"].is_number() && json.get("format").is_none(), "{json}");

    flags[1].1 = "-38";
    let one = one_lens(&flags);
    let outcome = rimwise::study::one_lens(&one);
    let json: Value = serde_json::from_str(&wire::lens_text(&outcome, &one)).expect("JSON");
    let why = json["impossible"].as_str().expect("why");
    assert!(why.starts_with("The back surface reaches only"), "{why}");
    assert!(text::lens(&one, &outcome, false).contains("cannot be made"));
}
