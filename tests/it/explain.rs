//! The worked calculation: every line is recomputed from the lines above it, every figure is the one of `compare`, and what
//! textbooks print comes out of whole lenses.

use crate::limit::many;
use crate::pictures::apart;
use crate::report::{DEMO_JOBS, demo, golden, job, skeleton};
use approx::abs_diff_eq;
use rimwise::assess::{Fit, Mounting};
use rimwise::explain::{Explained, How, Line};
use rimwise::eye::Eye;
use rimwise::figures;
use rimwise::job::Job;
use rimwise::report::folder::{EXPLAIN, PAGE, explain_files};
use rimwise::report::pictures::explained;
use rimwise::report::{text, wire};
use rimwise::study::compare::Comparison;
use roxmltree::Document;
use serde_json::Value;
use std::collections::BTreeSet;

/// A line is what its formula gives to this share of its size (of one, where it is smaller).
const SAME: f64 = 1e-9;
/// Kurbo's length of a curve is good to 1e-9 mm a piece.
const SAME_LENGTH_MM: f64 = 1e-7;

/// Figures that no line works: they are found on the inset line of the bevel or in the rim, at holes, or are directions.
const NOT_WORKED: [&str; 9] = [
    "thickness.edge_max_deg",
    "thickness.edge_min_deg",
    "thickness.shoulder_max_mm",
    "thickness.before_rim_mm",
    "thickness.behind_rim_mm",
    "thickness.hole_nasal_mm",
    "thickness.hole_temporal_mm",
    "back.power_d",
    "back.axis_deg",
];

fn is_close(one: f64, other: f64, bound: f64) -> bool {
    (one - other).abs() <= bound * one.abs().max(1.0)
}

/// Every line from the lines above it alone.
fn recompute(of: &Explained<'_>, name: &str) {
    let lines = &of.lines;
    let (mut ids, mut symbols) = (BTreeSet::new(), BTreeSet::new());
    for (place, line) in lines.iter().enumerate() {
        let id = &line.head.id;
        assert!(ids.insert(id), "{name}: two lines are called {id}");
        let symbol = (line.head.symbol.letter, &line.head.symbol.below);
        assert!(symbols.insert(symbol), "{name}: {id}: another line has the symbol {symbol:?}");
        let above = |other: usize| {
            assert!(
                other < place,
                "{name}: {id} is worked from {}, which does not stand above it",
                lines[other].head.id
            );
            lines[other].value
        };
        let (found, bound) = match &line.how {
            How::Worked(formula) => (formula.value(&above), SAME),
            How::Integrated(nodes) => {
                let bound = if id == "mass.perimeter" { SAME_LENGTH_MM } else { SAME };
                (nodes.iter().map(|node| node.weight * node.value).sum(), bound)
            }
            How::Given | How::Searched { .. } => (line.value, 0.0),
        };
        assert!(is_close(line.value, found, bound), "{name}: {id} is {} and recomputed {found}", line.value);
        if let Some(rule) = &line.by_hand {
            let found = rule.formula.value(&|other| lines[other].value);
            assert!(rule.formula.lines().iter().all(|other| *other < place) && found == rule.value, "{name}: {id}");
        }
    }
}

/// The lines that are figures are those figures, to the digit.
fn figures_are_those_of_the_result(of: &Explained<'_>, name: &str) {
    let worked: BTreeSet<&str> = of.lines.iter().filter_map(|line| line.figure).collect();
    for line in &of.lines {
        let Some(id) = line.figure else { continue };
        let figure = figures::of_eye(id).unwrap_or_else(|| panic!("{id} is no figure"));
        assert_eq!((figure.read)(of.made), Some(line.value), "{name}: {id}");
    }
    for figure in figures::OF_EYE.iter().filter(|figure| (figure.read)(of.made).is_some()) {
        let left_out = NOT_WORKED.iter().any(|other| figure.id.starts_with(other)) || figure.id.starts_with("back.");
        assert!(worked.contains(figure.id) || left_out, "{name}: no line is {}", figure.id);
    }
}

#[test]
fn no_texts_of_a_drawing_meet() {
    for name in DEMO_JOBS {
        each_explained(&demo(name), |of, place| {
            let picture = explained(of).expect("a drawing");
            apart(&format!("{name}, fit {place}, {:?}", of.eye), &picture);
        });
    }
}

fn each_explained(job: &Job, mut check: impl FnMut(&Explained<'_>, usize)) {
    for (place, fit) in Comparison::of(job).fits.iter().enumerate() {
        for eye in Eye::BOTH {
            if let Some(explained) = Explained::of(fit, eye) {
                check(&explained, place);
            }
        }
    }
}

#[test]
fn every_line_is_recomputed_from_the_lines_above_it() {
    let mut worked = 0;
    for name in DEMO_JOBS {
        each_explained(&demo(name), |of, place| {
            let name = format!("{name}, fit {place}, {:?}", of.eye);
            recompute(of, &name);
            figures_are_those_of_the_result(of, &name);
            worked += 1;
        });
    }
    assert!(worked > 100, "{worked} lenses");
}

#[test]
fn lines_of_any_lens_are_recomputed() {
    let mut worked = 0;
    for wanted in many(31, 400) {
        let boxing = wanted.frame.sizes[0];
        let fit = Fit::new(&Mounting::new(&wanted.frame, boxing), &wanted.prescription, &wanted.option);
        for eye in Eye::BOTH {
            let Some(of) = Explained::of(&fit, eye) else { continue };
            recompute(&of, &format!("{:?}", fit.prescription));
            figures_are_those_of_the_result(&of, "any lens");
            worked += 1;
        }
    }
    assert!(worked > 300, "{worked} lenses");
}

#[test]
fn the_result_is_that_of_compare_and_nodes_add_up_in_the_json() {
    for name in DEMO_JOBS {
        let job = demo(name);
        let compared: Value =
            serde_json::from_str(&wire::compare_text(&Comparison::of(&job), &[])).expect("JSON of compare");
        each_explained(&job, |of, place| {
            let found: Value = serde_json::from_str(&wire::explain_text(of)).expect("JSON of explain");
            assert_eq!(found["result"], compared["fits"][place][of.eye.word()], "{name}, fit {place}");
            for line in found["lines"].as_array().expect("lines") {
                let Some(nodes) = line.get("nodes").and_then(Value::as_array) else { continue };
                let number = |value: &Value| value.as_f64().expect("a number");
                let sum: f64 = nodes.iter().map(|node| number(&node["weight"]) * number(&node["value"])).sum();
                assert!(is_close(number(&line["value"]), sum, SAME_LENGTH_MM), "{name}: {}", line["id"]);
            }
        });
    }
}

#[test]
fn names_and_types_of_the_json_stay() {
    let mut lines = Vec::new();
    for name in ["mild", "prescribed-prism"] {
        each_explained(&demo(name), |of, _| {
            skeleton(&serde_json::from_str(&wire::explain_text(of)).expect("JSON"), "", &mut lines);
        });
    }
    golden("explain-json.txt", &(lines.join("\n") + "\n"));
}

#[test]
fn the_terminal_is_narrow_and_the_page_whole() {
    for name in ["strong-minus", "prescribed-prism", "supra-and-rimless", "oblique-astigmatism"] {
        let job = demo(name);
        let comparison = Comparison::of(&job);
        let made = comparison.fits.iter().rev().find_map(|fit| Explained::of(fit, Eye::Left));
        let of = made.expect("some can be made");
        for line in text::explain(&of, false).lines() {
            assert!(line.chars().count() <= text::WIDTH, "{name}: {line}");
        }
        let files = explain_files(&job, &of);
        for wanted in [PAGE, EXPLAIN, "worked.svg"] {
            assert!(files.contains_key(wanted), "{wanted} among {:?}", files.keys());
        }
        Document::parse(std::str::from_utf8(&files["worked.svg"]).expect("text")).expect("a drawing");
        let page = std::str::from_utf8(&files[PAGE]).expect("text");
        for outside in ["http:", "https:", "src=", "@import", "<script", "<link", "url(/", "merror", "mtext style"] {
            assert!(!page.contains(outside), "{name}: {outside}");
        }
        assert_eq!(page.matches("<math").count(), page.matches("</math>").count());
        for math in page.split("<math").skip(1) {
            let math = format!("<math{}</math>", math.split("</math>").next().expect("an end"));
            Document::parse(&math).unwrap_or_else(|fault| panic!("{name}: {fault}: {math}"));
        }
        assert!(page.contains("id=\"safety\"") && page.contains("driving"), "{name}");
    }
}

/// Lenses at the ends of what is made: plane front, plane meridians, reference point outside the shape, a ready-made
/// lens, a blank too small to be centred, a prism alone.
#[test]
fn unusual_lenses_are_worked_too() {
    let inline = "material = { index = 1.5, abbe = 58, density = 1.3 }, min_centre_mm = 2, min_edge_mm = 1";
    let flat = format!("{inline}, base_curve_d = 0");
    let plano = Worked::lens("sphere = 0, cylinder = -1, axis = 20, pd_mm = 32", OVAL, &flat);
    assert!(plano.0.iter().all(|line| line.head.id != "front.radius" && line.head.id != "back.radius_along"));
    Worked::lens("sphere = -4, pd_mm = 32", OVAL, &flat);
    Worked::lens("sphere = 0, prism = [{ amount_pd = 4, base = 30 }], pd_mm = 32", OVAL, inline);
    Worked::lens(
        "sphere = 3, cylinder = 2, axis = 70, prism = [{ amount_pd = 4, base = \"up\" }], pd_mm = 32",
        OVAL,
        inline,
    );
    let outside = "shape = \"oval\", eye_sizes_mm = [40], depth_mm = 20, bridge_mm = 24, optical_centre_height_mm = 24";
    let worked = Worked::lens("sphere = -3, pd_mm = 30", outside, inline);
    assert!(
        worked.line("back.centre").figure.is_none() && worked.line("back.centre").how == How::Searched { at: None }
    );
    for sphere in [-2.0, 2.0] {
        let rx = format!("sphere = {sphere}, cylinder = -0.5, axis = 60, pd_mm = 31");
        Worked::lens(&rx, OVAL, "material = \"resin-1.50\", supply = \"stock\"");
    }
    let wide = "shape = \"oval\", eye_sizes_mm = [58], depth_mm = 46, bridge_mm = 26";
    Worked::lens("sphere = -2, pd_mm = 31", wide, "material = \"resin-1.60\"");
}

/// What a lens of a job with one frame and one option is worked to.
pub(crate) struct Worked(Vec<Line>);

impl Worked {
    /// A right lens: its prescription, the frame and the lens as keys of a job.
    pub(crate) fn lens(rx: &str, frame: &str, lens: &str) -> Worked {
        Worked::both(&format!("right = {{ {rx} }}\nprescription.left = {{ {rx} }}"), frame, lens, Eye::Right)
    }

    fn both(rx: &str, frame: &str, lens: &str, eye: Eye) -> Worked {
        let job = job(&format!(
            "format = 1\nprescription.{rx}\nframe = [{{ name = \"F\", rim = \"metal\", {frame} }}]\nlens = [{{ name = \"L\", {lens} }}]"
        ));
        Worked::of(&job, eye)
    }

    /// Of the first option of a job.
    pub(crate) fn of(job: &Job, eye: Eye) -> Worked {
        let comparison = Comparison::of(job);
        let fit = &comparison.fits[0];
        let of = Explained::of(fit, eye).unwrap_or_else(|| panic!("{:?}", fit.outcome.as_ref().err()));
        recompute(&of, &format!("{:?}", fit.prescription));
        Worked(of.lines)
    }

    pub(crate) fn line(&self, id: &str) -> &Line {
        self.0.iter().find(|line| line.head.id == id).unwrap_or_else(|| panic!("no line {id}"))
    }

    /// Is the value of this line the printed one?
    pub(crate) fn prints(&self, row: &str, id: &str, printed: f64, tolerance: f64) {
        let value = self.line(id).value;
        assert!(abs_diff_eq!(value, printed, epsilon = tolerance), "{row}: {id} is {value}, printed {printed}");
    }
}

/// An oval so wide and deep, with its optical centre on the centre line and 18 mm of bridge.
pub(crate) const OVAL: &str = "shape = \"oval\", eye_sizes_mm = [50], depth_mm = 40, bridge_mm = 18";
const LENS: &str = "material = \"resin-1.60\"";

/// Derived: formulas of the trade, exact sags from the optical centre.
#[test]
fn edges_of_a_decentred_minus_lens_are_as_worked_in_th_21() {
    let lens = "material = { index = 1.6, abbe = 41, density = 1.3 }, base_curve_d = 2.65, min_centre_mm = 1.5, min_edge_mm = 1";
    let worked = Worked::lens("sphere = -4, pd_mm = 30", OVAL, lens);
    worked.prints("TH-21", "front.power", 3.0, 1e-9);
    worked.prints("TH-21", "nasal.x", 21.0, 1e-9);
    worked.prints("TH-21", "nasal.thickness", 3.01, 5e-3);
    worked.prints("TH-21", "temporal.thickness", 4.4477, 5e-5);
    let temporal = worked.line("temporal.thickness");
    let by_hand = temporal.by_hand.as_ref().expect("a rule of the hand").value - 1.5;
    assert!(abs_diff_eq!(by_hand, 2.8033, epsilon = 5e-5), "TH-22: {by_hand}");
    assert!(abs_diff_eq!(temporal.value - 1.5, 2.9477, epsilon = 5e-5), "TH-22: {}", temporal.value);
}

/// PR-18 read: perret-optic.ch, course notes. BX-12, TH-13 derived: formulas of the trade. BX-10 derived: Vogel's rule.
#[test]
fn layout_base_curve_and_lens_measure_are_as_printed() {
    let oval = "shape = \"oval\", eye_sizes_mm = [52], depth_mm = 40, bridge_mm = 18";
    let rx = "right = { sphere = -1, pd_mm = 31 }\nprescription.left = { sphere = -1, pd_mm = 32.5 }";
    for (eye, printed) in [(Eye::Right, 4.0), (Eye::Left, 2.5)] {
        Worked::both(rx, oval, LENS, eye).prints("BX-12", "layout.decentration", printed, 1e-9);
    }
    let worked = Worked::lens("sphere = -1, pd_mm = 32", oval, LENS);
    worked.prints("PR-18", "layout.centre_distance", 70.0, 1e-9);
    worked.prints("PR-18", "layout.decentration", 3.0, 1e-9);
    let worked = Worked::lens("sphere = -5, cylinder = -1, axis = 180, pd_mm = 32", OVAL, LENS);
    worked.prints("BX-10", "front.vogel", 3.25, 1e-9);
    let lens = "material = { index = 1.67, abbe = 32, density = 1.36 }, base_curve_d = 6, min_centre_mm = 1.5, min_edge_mm = 1";
    Worked::lens("sphere = -1, pd_mm = 32", OVAL, lens).prints("TH-13", "front.power", 7.585, 5e-4);
}

/// Row, written and printed power (sphere, cylinder, axis), tolerance.
type Transposed = (&'static str, (f64, f64, f64), (f64, f64, f64), f64);

/// Read: US National Federation of Opticianry Schools, course OPT11, answers 08.
#[test]
fn transposition_is_as_printed() {
    let minus_from_plus = [
        ("RX-01", (-1.0, 1.0, 80.0), (0.0, -1.0, 170.0), 1e-9),
        ("RX-02", (-1.0, 3.0, 110.0), (2.0, -3.0, 20.0), 1e-9),
        ("RX-03", (-16.75, 2.0, 5.0), (-14.75, -2.0, 95.0), 1e-9),
        ("RX-07", (-1.625, 1.75, 115.0), (0.12, -1.75, 25.0), 6e-3),
    ];
    let plus_from_minus = [
        ("RX-04", (0.5, -2.0, 30.0), (-1.5, 2.0, 120.0), 1e-9),
        ("RX-05", (8.75, -2.25, 5.0), (6.5, 2.25, 95.0), 1e-9),
        ("RX-06", (0.25, -0.5, 135.0), (-0.25, 0.5, 45.0), 1e-9),
    ];
    let circle = "shape = \"circle\", eye_sizes_mm = [36], bridge_mm = 28";
    let check = |(row, written, printed, tolerance): Transposed, ids: [&str; 3]| {
        let rx = format!("sphere = {}, cylinder = {}, axis = {}, pd_mm = 32", written.0, written.1, written.2);
        let worked = Worked::lens(&rx, circle, "material = \"resin-1.74\"");
        for (id, printed) in ids.into_iter().zip([printed.0, printed.1, printed.2]) {
            worked.prints(row, id, printed, tolerance);
        }
    };
    for row in minus_from_plus {
        check(row, ["rx.sphere", "rx.cylinder", "rx.axis"]);
    }
    for row in plus_from_minus {
        check(row, ["rx.plus_sphere", "rx.plus_cylinder", "rx.plus_axis"]);
    }
    // Derived: Thibos, Wheeler & Horner 1997; Long 1976.
    let worked = Worked::lens("sphere = 2, cylinder = -1, axis = 30, pd_mm = 32", circle, LENS);
    worked.prints("RX-13", "rx.spherical_equivalent", 1.5, 1e-9);
    let worked = Worked::lens("sphere = 1, cylinder = -2, axis = 30, pd_mm = 32", circle, LENS);
    worked.prints("RX-14", "through.f11", 0.5, 5e-5);
    worked.prints("RX-14", "through.f12", 0.866, 5e-5);
    worked.prints("RX-14", "through.f22", -0.5, 5e-5);
}

/// Read: opticianstudy.com, powers in oblique meridians, worked examples.
#[test]
fn power_in_a_meridian_is_as_printed() {
    let rows = [
        ("PR-05", "sphere = -8, cylinder = -2, axis = 112", "rx.power_180", -9.72),
        ("PR-06", "sphere = -10, cylinder = 2, axis = 22", "rx.power_180", -9.72),
        ("PR-07", "sphere = -4, cylinder = -0.75, axis = 48", "rx.power_180", -4.41),
        ("PR-08", "sphere = -2, cylinder = -1, axis = 37", "rx.power_180", -2.36),
        ("PR-09", "sphere = -2.5, cylinder = -1.25, axis = 76", "rx.power_90", -2.57),
    ];
    for (row, rx, id, printed) in rows {
        Worked::lens(&format!("{rx}, pd_mm = 32"), OVAL, LENS).prints(row, id, printed, 5e-3);
    }
}

/// Read: US National Federation of Opticianry Schools, course OPT11, answers 13a; PR-15 derived: Long 1976; PR-17 derived:
/// thin prism, Jalie, Principles of Ophthalmic Lenses; RF-11 derived: prism / V.
#[test]
fn prism_at_a_point_is_as_printed() {
    // The lower or upper point lies so far from the optical centre as the example looks through.
    let at = |height: f64| {
        format!("shape = \"circle\", eye_sizes_mm = [34], bridge_mm = 28, optical_centre_height_mm = {height}")
    };
    let worked = Worked::lens("sphere = 8.5, pd_mm = 31", &at(2.0), LENS);
    worked.prints("PR-01", "bottom.y", -2.0, 1e-9);
    worked.prints("PR-01", "through.bottom_vertical", 1.7, 0.05);
    let wide = "shape = \"oval\", eye_sizes_mm = [46], depth_mm = 36, bridge_mm = 30";
    let worked = Worked::lens("sphere = -3.25, pd_mm = 20", wide, LENS);
    worked.prints("PR-02", "nasal.x", 5.0, 1e-9);
    worked.prints("PR-02", "through.nasal_horizontal", 1.6, 0.05);
    let worked = Worked::lens("sphere = 7.75, pd_mm = 31", &at(30.0), LENS);
    worked.prints("PR-03", "top.y", 4.0, 1e-9);
    worked.prints("PR-03", "through.top_vertical", -3.1, 0.05);
    let worked = Worked::lens("sphere = 5, cylinder = -1.5, axis = 90, pd_mm = 31", &at(8.0), LENS);
    worked.prints("PR-04", "through.bottom_vertical", 4.0, 0.05);
    let low = "shape = \"oval\", eye_sizes_mm = [46], depth_mm = 36, bridge_mm = 30, optical_centre_height_mm = 14";
    let worked = Worked::lens("sphere = 2, cylinder = -1, axis = 30, pd_mm = 20", low, LENS);
    worked.prints("PR-15", "nasal.x", 5.0, 1e-9);
    worked.prints("PR-15", "nasal.y", 4.0, 1e-9);
    worked.prints("PR-15", "through.nasal_horizontal", -1.0482, 5e-5);
    worked.prints("PR-15", "through.nasal_vertical", -0.7165, 5e-5);
    let inline = |abbe: f64| {
        format!("material = {{ index = 1.5, abbe = {abbe}, density = 1.3 }}, min_centre_mm = 2, min_edge_mm = 1")
    };
    let rx = "sphere = -2, prism = [{ amount_pd = 3, base = \"in\" }], pd_mm = 30";
    let worked = Worked::lens(rx, OVAL, &inline(58.0));
    let by_hand = worked.line("prism.across").by_hand.as_ref().expect("a rule of the hand").value;
    assert!(abs_diff_eq!(by_hand, 3.0, epsilon = 1e-9), "PR-17: {by_hand}");
    let reach = "shape = \"oval\", eye_sizes_mm = [46], depth_mm = 36, bridge_mm = 30";
    for (abbe, printed) in [(30.0, 0.3), (41.0, 0.2195), (58.0, 0.1552)] {
        let worked = Worked::lens("sphere = -6, pd_mm = 30", reach, &inline(abbe));
        worked.prints("RF-11", "nasal.x", 15.0, 1e-9);
        worked.prints("RF-11", "through.nasal_colour", printed, 5e-5);
    }
}

/// VP-01 read: opticaled.com, back vertex power, problem 1. VP-03 and VP-05 read: US National Federation of Opticianry
/// Schools, course OPT11, vertex power worksheet 1 and 3. MG-01 and MG-03 derived: formulas of the trade.
#[test]
fn vertex_powers_and_magnification_are_as_printed() {
    let circle = "shape = \"circle\", eye_sizes_mm = [30], bridge_mm = 30";
    let lens = |sphere: f64, n: f64, front: f64, centre: f64| {
        let base = front * 0.53 / (n - 1.0);
        let option = format!(
            "material = {{ index = {n}, abbe = 40, density = 1.3 }}, base_curve_d = {base}, min_centre_mm = {centre}, \
             min_edge_mm = 0.3"
        );
        Worked::lens(&format!("sphere = {sphere}, pd_mm = 30"), circle, &option)
    };
    // The surfaces are those of the example where the lens is made to the back vertex power that they have.
    let exact = |front: f64, back: f64, t: f64, n: f64| front / (1.0 - t / 1000.0 / n * front) + back;
    for (row, front, back, t, n, printed) in [
        ("VP-01", 10.25, -3.0, 4.0, 1.586, [7.25, f64::NAN, 7.52]),
        ("VP-03", 3.0, -8.5, 2.2, 1.498, [-5.5, -5.4, -5.49]),
        ("VP-05", 9.5, -3.25, 3.3, 1.66, [6.25, 6.27, 6.43]),
    ] {
        let worked = lens(exact(front, back, t, n), n, front, t);
        worked.prints(row, "back.centre", t, 1e-9);
        worked.prints(row, "back.power_along", back, 1e-6);
        for (id, printed) in ["back.nominal", "back.front_vertex", "back.back_vertex"].into_iter().zip(printed) {
            if printed.is_finite() {
                worked.prints(row, id, printed, 5e-3);
            }
        }
    }
    let worked = lens(4.0, 1.498, 8.0, 4.0);
    for (id, printed) in [("through.shape", 1.022), ("through.power", 1.064), ("through.total", 1.087)] {
        worked.prints("MG-01", id, printed, 5.1e-4);
    }
    let worked = lens(-8.0, 1.6, 2.0, 1.5);
    for (id, printed) in [("through.shape", 1.0019), ("through.power", 0.8929), ("through.total", 0.8945)] {
        worked.prints("MG-03", id, printed, 5.1e-5);
    }
}
