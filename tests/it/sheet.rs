//! The sheet at true size: lengths read back from its file.

use crate::page::{as_xml, has_class};
use crate::report::{DEMO_JOBS, demo};
use kurbo::{BezPath, Rect, Shape};
use rimwise::report::folder::{self, SHEET};
use rimwise::study::compare::Comparison;
use roxmltree::{Document, Node};

/// Coordinates are rounded to this, mm.
const ROUNDED_MM: f64 = 0.001;

fn number(node: Node<'_, '_>, name: &str) -> f64 {
    let text = node.attribute(name).unwrap_or_else(|| panic!("{name} of {node:?}"));
    text.trim_end_matches("mm").parse().unwrap_or_else(|_| panic!("{name} is {text}"))
}

/// The pictures of a kind; one millimetre of each is one millimetre on paper.
fn pictures<'d>(document: &'d Document<'d>, kind: &'static str) -> Vec<Node<'d, 'd>> {
    let found: Vec<Node<'_, '_>> =
        document.descendants().filter(|node| node.has_tag_name("svg") && has_class(*node, kind)).collect();
    for svg in &found {
        let view: Vec<f64> =
            svg.attribute("viewBox").expect("a view").split(' ').filter_map(|n| n.parse().ok()).collect();
        assert_eq!([number(*svg, "width"), number(*svg, "height")], view[2..], "not at true size");
        assert!(view[2] <= 186.0, "wider than A4 between its margins: {} mm", view[2]);
    }
    found
}

fn group<'d>(svg: Node<'d, 'd>, class: &str) -> Node<'d, 'd> {
    svg.descendants().find(|node| node.has_tag_name("g") && has_class(*node, class)).expect("the group")
}

/// The box of the paths of a group.
fn path_box(of: Node<'_, '_>) -> Rect {
    let paths = of.descendants().filter_map(|node| BezPath::from_svg(node.attribute("d")?).ok());
    paths.map(|path| path.bounding_box()).reduce(|one, other| one.union(other)).expect("a path")
}

fn sheet(name: &str) -> String {
    let job = demo(name);
    let mut files = folder::files(&Comparison::of(&job), &[]);
    as_xml(std::str::from_utf8(&files.remove(SHEET).expect("the sheet")).expect("text"))
}

#[test]
fn the_ruler_and_the_card_have_their_lengths() {
    let text = sheet("strong-minus");
    let document = Document::parse(&text).expect("valid XML");
    let [svg] = pictures(&document, "picture-ruler")[..] else { panic!("one ruler") };
    let line = path_box(group(svg, "ruler"));
    assert_eq!([line.width(), line.height()], [100.0, 0.0]);
    // A tick a millimetre, the first and the last at the ends of the line.
    let ticks = group(svg, "ticks").descendants().filter_map(|node| node.attribute("d"));
    let ticks: Vec<Rect> = ticks.flat_map(subpaths).collect();
    assert_eq!(ticks.len(), 101);
    for (i, tick) in ticks.iter().enumerate() {
        assert_eq!(tick.x0, line.x0 + i as f64, "tick {i}");
        assert_eq!(
            tick.height(),
            if i % 10 == 0 {
                5.0
            } else if i % 5 == 0 {
                3.5
            } else {
                2.0
            },
            "tick {i}"
        );
    }
    // ISO/IEC 7810:2019, format ID-1 (from memory): 85.60 mm x 53.98 mm.
    let card = group(svg, "bank-card").descendants().find(|node| node.has_tag_name("rect")).expect("the card");
    assert_eq!([number(card, "width"), number(card, "height")], [85.6, 53.98]);
}

/// The boxes of the parts of a path.
fn subpaths(data: &str) -> Vec<Rect> {
    let path = BezPath::from_svg(data).expect("a path");
    let mut parts: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        match (element, parts.last_mut()) {
            (kurbo::PathEl::MoveTo(_), _) | (_, None) => parts.push(BezPath::from_vec(vec![*element])),
            (_, Some(part)) => part.push(*element),
        }
    }
    parts.iter().map(|part| part.bounding_box()).collect()
}

#[test]
fn every_frame_and_size_is_on_the_sheet_as_large_as_it_is() {
    for name in DEMO_JOBS {
        let job = demo(name);
        let comparison = Comparison::of(&job);
        let text = sheet(name);
        let document = Document::parse(&text).unwrap_or_else(|fault| panic!("{name}: {fault}"));
        let drawn = pictures(&document, "picture-outlines");
        let offered = job.frames.iter().flat_map(|frame| frame.sizes.iter().map(move |boxing| (frame, boxing)));
        let offered: Vec<_> = offered.collect();
        assert_eq!(drawn.len(), offered.len(), "{name}");
        for (svg, (frame, boxing)) in drawn.into_iter().zip(offered) {
            let at = format!("{name}, {} {}", frame.name, boxing.eye_size_mm);
            let [right, left] = ["right", "left"].map(|eye| path_box(group(svg, eye)));
            for lens in [right, left] {
                let (across, down) = (lens.width() - boxing.eye_size_mm, lens.height() - boxing.depth_mm);
                // Both ends are rounded, and the drawn curve is within 0.001 mm of the outline.
                let bound = 4.0 * ROUNDED_MM;
                assert!(across.abs() < bound && down.abs() < bound, "{at}: {across} and {down} mm off, bound {bound}");
            }
            let bridge = left.x0 - right.x1 - boxing.bridge_mm;
            assert!(bridge.abs() < 4.0 * ROUNDED_MM, "{at}: the bridge is {bridge} mm off");
            let made = comparison
                .offered()
                .filter(|(_, fit)| std::ptr::eq(fit.mounting.frame, frame) && fit.mounting.boxing == *boxing);
            let Some(pair) = made.filter_map(|(_, fit)| fit.pair()).next() else { continue };
            let circles: Vec<f64> = svg
                .descendants()
                .filter(|node| {
                    node.has_tag_name("circle") && node.parent().is_some_and(|group| has_class(group, "ghost"))
                })
                .map(|circle| 2.0 * number(circle, "r"))
                .collect();
            assert_eq!(circles.len(), 2, "{at}");
            for (drawn, (_, made)) in circles.iter().zip(pair.eyes.iter()) {
                let least = made.blank.minimum_mm;
                assert!((drawn - least).abs() <= ROUNDED_MM, "{at}: the blank is {drawn} mm, not {least} mm");
            }
        }
    }
}

#[test]
fn the_answer_and_the_spectacles_worn_now_are_on_the_sheet_with_its_instructions() {
    let text = sheet("strong-minus");
    let document = Document::parse(&text).expect("valid XML");
    assert_eq!(pictures(&document, "picture-plan").len(), 2);
    assert!(text.contains("Print at 100 %, not fitted to the page. The line must measure 100 mm"), "no instructions");
    for outside in ["http:", "https:", "src=", "<script", "<link", "href=\"/"] {
        assert!(!text.contains(outside), "{outside}");
    }
    let mild = sheet("mild");
    assert_eq!(pictures(&Document::parse(&mild).expect("valid XML"), "picture-plan").len(), 1);
}
