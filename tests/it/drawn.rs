//! What is drawn is what is computed: every length of every picture, read back from its file, against the numbers of
//! `result.json`.

use crate::pictures::apart;
use crate::report::{DEMO_JOBS, demo, job};
use crate::support::Chance;
use kurbo::{BezPath, PathEl, Point};
use rimwise::assess::Fit;
use rimwise::draw::Picture;
use rimwise::draw::number::{difference, figure};
use rimwise::eye::Eye;
use rimwise::outline::{Density, Shape};
use rimwise::report::pictures::{FrameCharts, Pictures, compared_with};
use rimwise::report::wire;
use rimwise::rim::{Edging, Rim};
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

/// What of the thickest edge shows before or behind the rim, from the lens itself: the shoulder against a rim whose front
/// is flush with the front corner where it is two millimetres deep or more.
fn shows_mm(fit: &Fit<'_>, eye: Eye, behind: bool) -> f64 {
    let made = fit.pair().expect("a pair").eyes.of(eye);
    let (frame, edge) = (fit.mounting.frame, made.thickness.edges.max);
    let Edging::Bevel { height_mm } = frame.rim.edging() else { panic!("no bevel") };
    let reference = made.centration.point(eye);
    let nodes = fit.mounting.outlines.of(eye).nodes(Density::Finest).iter();
    let nearest = nodes.min_by(|a, b| (a.jet.p - edge.point).hypot2().total_cmp(&(b.jet.p - edge.point).hypot2()));
    let inside = edge.point - nearest.expect("a node").turn.normal * height_mm - reference;
    let front = |at| made.lens.front().sag(at).expect("reaches");
    let back = made.lens.centre_mm() + made.lens.back().sag(inside).expect("reaches");
    let depth = frame.rim_depth_mm.expect("a depth");
    assert!(edge.thickness_mm > 2.0 && depth >= 2.0, "a plain case");
    let rim_front = front(edge.point - reference);
    if behind { back - rim_front - depth } else { rim_front - front(inside) }
}

/// The larger of what leads a comparison, of both eyes: the centre of a plus pair, else the thickest edge.
fn leading_mm(json: &Value, fit: &Fit<'_>) -> f64 {
    let name = if fit.prescription.is_plus() { "centre_mm" } else { "edge_max_mm" };
    let of = |eye: &str| json[eye]["thickness"][name].as_f64().expect("a number");
    of("right").max(of("left"))
}

/// The number that a figure's name stands for: in the JSON of the fit, else among what the job says.
fn wanted_mm<'j>(json: &'j Value, fit: &Fit<'_>, under: &'j Value, name: &str) -> f64 {
    if let Some(name) = name.strip_prefix("reference.") {
        return wanted_mm(under, fit, under, name);
    }
    let step = |value: &'j Value, key: &str| key.parse::<usize>().map_or(value.get(key), |index| value.get(index));
    let found = name.split('.').try_fold(json, step).and_then(Value::as_f64);
    let pd = |eye: Eye| fit.prescription.eyes.of(eye).pd_mm;
    found.unwrap_or_else(|| match name {
        "bridge_mm" => fit.mounting.boxing.bridge_mm,
        "right.pd_mm" => pd(Eye::Right),
        "left.pd_mm" => pd(Eye::Left),
        "saved_mm" => (leading_mm(under, fit) - leading_mm(json, fit)).abs(),
        name => panic!("nothing is called {name}"),
    })
}

/// Holds every named length of a picture to its number; counts them by their names.
fn held(picture: &Picture, json: &Value, under: &Value, fit: &Fit<'_>, seen: &mut BTreeMap<String, usize>) {
    let svg = picture.to_file();
    let document = Document::parse(&svg).expect("valid XML");
    for node in document.descendants() {
        let Some(name) = node.attribute("data-mm") else { continue };
        let wanted = wanted_mm(json, fit, under, name);
        let title = &picture.title;
        if node.has_tag_name("text") {
            let written = node.text().unwrap_or("").trim_start_matches("⌀ ");
            let shown = match name {
                "saved_mm" => difference(leading_mm(under, fit), leading_mm(json, fit), 1).abs(),
                _ => wanted,
            };
            assert_eq!(written, figure(shown, 1), "{title}: {name}");
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
        let under = compared_with(&comparison).map_or(&Value::Null, |index| &json["fits"][index]);
        let pictures = Pictures::of(&comparison);
        if let Some(edges) = &pictures.edges {
            held(edges, &json["fits"], &Value::Null, &comparison.fits[0], &mut seen);
        }
        for (i, drawn) in pictures.fits.iter().enumerate() {
            for (_, picture) in drawn.iter().flat_map(|drawn| drawn.all()) {
                held(picture, &json["fits"][i], under, &comparison.fits[i], &mut seen);
            }
        }
    }
    let counts: Vec<String> = seen.iter().map(|(what, count)| format!("{count:>5} {what}")).collect();
    for wanted in [
        "plan path right.thickness.temporal_mm",
        "plan text left.thickness.centre_mm",
        "vertical path right.thickness.top_mm",
        "vertical text left.thickness.bottom_mm",
        "vertical path left.thickness.centre_mm",
        "detail path right.thickness.edge_max_mm",
        "detail path left.thickness.behind_rim_mm",
        "critical path right.thickness.edge_min_mm",
        "critical text left.thickness.edge_min_mm",
        "clock path right.thickness.edge_max_mm",
        "clock text left.thickness.edge_min_mm",
        "clock text left.thickness.bottom_mm",
        "over path right.thickness.edge_max_mm",
        "over text reference.right.thickness.centre_mm",
        "over path reference.right.thickness.edge_max_mm",
        "over path saved_mm",
        "over text saved_mm",
        "chart-edges path 12.right.thickness.edge_max_mm",
        "front path right.reach.nasal_mm",
        "front path left.reference_point.in_mm",
        "front path left.reference_point.up_mm",
        "front circle right.blank.minimum_mm",
        "layout circle right.blank.diameter_mm",
        "layout text left.blank.diameter_mm",
        "layout path right.reference_point.in_mm",
        "layout text left.reference_point.up_mm",
        "layout circle left.surfacing.crib_mm",
        "front text eye_size_mm",
        "front path depth_mm",
        "front path bridge_mm",
        "front text left.pd_mm",
    ] {
        assert!(seen.contains_key(wanted), "no {wanted} among\n{}", counts.join("\n"));
    }
}

#[test]
fn what_shows_beside_the_rim_is_the_shoulder_less_the_rim() {
    let mut seen = 0;
    for job in DEMO_JOBS.map(demo) {
        let comparison = Comparison::of(&job);
        let json: Value = serde_json::from_str(&wire::compare_text(&comparison, &[])).expect("JSON");
        for (i, fit) in comparison.fits.iter().enumerate().filter(|(_, fit)| fit.pair().is_some()) {
            for eye in Eye::BOTH {
                let thickness = &json["fits"][i][eye.word()]["thickness"];
                let told = |name: &str| thickness[name].as_f64();
                let frame = fit.mounting.frame;
                let bevelled = matches!(frame.rim.edging(), Edging::Bevel { .. });
                assert_eq!(told("behind_rim_mm").is_some(), bevelled && frame.rim_depth_mm.is_some());
                if let (Some(before), Some(behind)) = (told("before_rim_mm"), told("behind_rim_mm"))
                    && told("edge_max_mm").expect("an edge") > 2.0
                {
                    let off = (before - shows_mm(fit, eye, false)).abs().max((behind - shows_mm(fit, eye, true)).abs());
                    // The test finds the normal among the nodes of the outline.
                    assert!(off < TRUE_WITHIN_MM, "{}: {off}", fit.address());
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 100, "{seen}");
}

/// Jobs of all shapes and rims, from plain to hardly possible.
fn many_jobs() -> impl Iterator<Item = String> {
    let mut chance = Chance(7);
    let shapes: Vec<Shape> = Shape::all().collect();
    (0..180).map(move |i| {
        let (shape, rim) = (shapes[i % shapes.len()], Rim::ALL[i % 7 % 5]);
        let sphere = chance.one_of(&[-14.0, -8.0, -4.0, -1.0, 0.5, 4.0, 9.0]);
        let (cylinder, axis) = (chance.one_of(&[0.0, -0.75, -3.5]), chance.within(1.0, 180.0).round());
        let prism = chance.one_of(&["", "prism = [{ amount_pd = 4, base = \"in\" }]"]);
        let eye_size = chance.one_of(&[34.0, 42.0, 50.0, 58.0, 64.0]);
        let depth = (eye_size * shape.depth_ratio()).round();
        let height = chance.one_of(&[0.2, 0.5, 0.5, 0.8]) * depth;
        let (bridge, pd) = (chance.one_of(&[9.0, 14.0, 18.0, 26.0]), chance.within(25.0, 38.0).round());
        let depth_line = if shape == Shape::Circle { String::new() } else { format!("depth_mm = {depth}\n") };
        let rim_depth = chance.one_of(&["", "rim_depth_mm = 1.0", "rim_depth_mm = 2.2", "rim_depth_mm = 5.0"]);
        format!(
            "format = 1\n[prescription.right]\nsphere = {sphere}\ncylinder = {cylinder}\naxis = {axis}\n{prism}\n\
             pd_mm = {pd}\n[prescription.left]\nsphere = {}\npd_mm = {}\n[[frame]]\nname = \"Fennel\"\n\
             shape = \"{}\"\neye_sizes_mm = [{eye_size}]\n{depth_line}bridge_mm = {bridge}\nrim = \"{}\"\n{rim_depth}\n\
             optical_centre_height_mm = {height}\n[[lens]]\nname = \"thin\"\nmaterial = \"resin-1.67\"\n\
             [[lens]]\nname = \"the standard lens of the house\"\nmaterial = \"resin-1.50\"\n",
            sphere + 0.75,
            pd + 1.0,
            shape.word(),
            rim.word(),
        )
    })
}

/// The numbers of the thickest and the thinnest edge stand on the map, besides those in its last line.
fn shows_its_extremes(map: &Picture, name: &str) {
    let file = map.to_file();
    let document = Document::parse(&file).expect("a picture");
    let texts: Vec<&str> =
        document.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
    for which in ["thickest edge ", "thinnest edge "] {
        let named = texts.iter().find_map(|text| text.strip_prefix(which)).expect("a line with the extremes");
        assert!(texts.contains(&named), "{name}: {} has no number at its {which}, of {texts:?}", map.title);
    }
}

#[test]
fn texts_of_the_demo_jobs_stay_apart() {
    let mut seen = 0;
    for name in DEMO_JOBS {
        let job = demo(name);
        let pictures = Pictures::of(&Comparison::of(&job));
        let charts = pictures.charts.iter().flatten().flat_map(FrameCharts::all);
        for drawn in pictures.fits.iter().flatten() {
            for eye in Eye::BOTH {
                shows_its_extremes(drawn.maps.of(eye), name);
            }
        }
        let fits = pictures.fits.iter().flatten().flat_map(|drawn| drawn.all().map(|(_, picture)| picture));
        for picture in charts.chain(&pictures.edges).chain(fits) {
            apart(&format!("{name}: {}", picture.title), picture);
            seen += 1;
        }
    }
    assert!(seen > 1500, "{seen}");
}

#[test]
fn texts_of_all_pictures_stay_apart_whatever_the_job() {
    let mut seen = BTreeMap::new();
    for text in many_jobs() {
        let job = job(&text);
        let pictures = Pictures::of(&Comparison::of(&job));
        if let Some(edges) = &pictures.edges {
            apart(&text, edges);
        }
        for chart in pictures.charts.iter().flatten().flat_map(FrameCharts::all) {
            apart(&format!("{}\n{text}", chart.title), chart);
            *seen.entry(chart.kind).or_insert(0) += 1;
        }
        for drawn in pictures.fits.iter().flatten() {
            for (_, picture) in drawn.all() {
                apart(&format!("{}\n{text}", picture.title), picture);
                if picture.kind == "clock" {
                    // Both extremes of both lenses found a place for their numbers.
                    assert_eq!(picture.to_file().matches("thickness.edge_m").count(), 8, "{text}");
                }
                *seen.entry(picture.kind).or_insert(0) += 1;
            }
            for eye in Eye::BOTH {
                shows_its_extremes(drawn.maps.of(eye), &text);
            }
        }
    }
    assert!(seen.values().all(|count| *count > 50), "{seen:?}");
}
