//! What is drawn is what is computed: every length of every picture, read back from its file, against the numbers of
//! `result.json`.

use crate::report::{DEMO_JOBS, demo, job};
use kurbo::{BezPath, PathEl, Point};
use rimwise::assess::Fit;
use rimwise::draw::Picture;
use rimwise::draw::number::figure;
use rimwise::eye::Eye;
use rimwise::report::pictures::Pictures;
use rimwise::report::wire;
use rimwise::study::compare::Comparison;
use roxmltree::{Document, Node};
use serde_json::Value;
use std::collections::BTreeMap;

/// A length drawn and the number that it stands for may differ by this.
const TRUE_WITHIN_MM: f64 = 0.01;

/// The scale that a title ends in.
fn scale(picture: &Picture) -> f64 {
    let words = picture.title.rsplit(", ").next().expect("a scale at the end");
    let (paper, thing) = words.split_once(" : ").unwrap_or_else(|| panic!("no scale in {:?}", picture.title));
    paper.parse::<f64>().expect("a number") / thing.parse::<f64>().expect("a number")
}

fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("no {name}"))
}

/// How long the line, or how wide the circle, is on paper.
fn drawn_mm(node: Node<'_, '_>) -> f64 {
    if node.has_tag_name("circle") {
        return 2.0 * number(node, "r");
    }
    let path = BezPath::from_svg(node.attribute("d").expect("a path")).expect("a path that kurbo reads");
    let ends: Vec<Point> = path
        .elements()
        .iter()
        .filter_map(|element| match *element {
            PathEl::MoveTo(p) | PathEl::LineTo(p) => Some(p),
            _ => None,
        })
        .collect();
    (ends[ends.len() - 1] - ends[0]).hypot()
}

/// The number that a figure's name stands for: in the JSON of the fit, else among what the job says.
fn wanted_mm(json: &Value, fit: &Fit<'_>, name: &str) -> f64 {
    let found = name.split('.').try_fold(json, |value, key| value.get(key)).and_then(Value::as_f64);
    let pd = |eye: Eye| fit.prescription.eyes.of(eye).pd_mm;
    found.unwrap_or_else(|| match name {
        "bridge_mm" => fit.mounting.boxing.bridge_mm,
        "right.pd_mm" => pd(Eye::Right),
        "left.pd_mm" => pd(Eye::Left),
        name => panic!("nothing is called {name}"),
    })
}

/// Holds every named length of a picture to its number; counts them by their names.
fn held(picture: &Picture, json: &Value, fit: &Fit<'_>, seen: &mut BTreeMap<String, usize>) {
    let svg = picture.to_file();
    let document = Document::parse(&svg).expect("valid XML");
    for node in document.descendants() {
        let Some(name) = node.attribute("data-mm") else { continue };
        let wanted = wanted_mm(json, fit, name);
        let title = &picture.title;
        if node.has_tag_name("text") {
            let written = node.text().unwrap_or("").trim_start_matches("⌀ ");
            assert_eq!(written, figure(wanted, 1), "{title}: {name}");
        } else {
            let found = drawn_mm(node) / scale(picture);
            assert!((found - wanted.abs()).abs() < TRUE_WITHIN_MM, "{title}: {name} is drawn {found}, is {wanted}");
        }
        *seen.entry(format!("{} {} {}", picture.kind, node.tag_name().name(), name)).or_default() += 1;
    }
}

#[test]
fn every_length_drawn_is_the_number_computed() {
    let mut seen = BTreeMap::new();
    // Heights and a plastic rim of unknown depth are in no demo job.
    let whole = job(include_str!("../jobs/whole.toml"));
    for job in DEMO_JOBS.map(demo).iter().chain([&whole]) {
        let comparison = Comparison::of(job);
        let json: Value = serde_json::from_str(&wire::compare_text(&comparison, &[])).expect("JSON");
        for (i, drawn) in Pictures::of(&comparison).fits.iter().enumerate() {
            for (_, picture) in drawn.iter().flat_map(|drawn| drawn.all()) {
                held(picture, &json["fits"][i], &comparison.fits[i], &mut seen);
            }
        }
    }
    let counts: Vec<String> = seen.iter().map(|(what, count)| format!("{count:>5} {what}")).collect();
    for wanted in [
        "plan path right.thickness.temporal_mm",
        "plan text left.thickness.centre_mm",
        "front path right.reach.nasal_mm",
        "front path left.reference_point.in_mm",
        "front path left.reference_point.up_mm",
        "front circle right.blank.minimum_mm",
        "front text eye_size_mm",
        "front path depth_mm",
        "front path bridge_mm",
        "front text left.pd_mm",
    ] {
        assert!(seen.contains_key(wanted), "no {wanted} among\n{}", counts.join("\n"));
    }
}
