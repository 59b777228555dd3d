//! Numbers that nobody here made up: printed in textbooks, courses and columns ("read"), or computed from a published
//! formula ("derived"). A row an id; the tolerance is half a unit of the last printed digit unless the row says why not.
//! The table in the tests' README is made of these rows.

mod layout;
mod light;
mod powers;
mod thickness;

use crate::snapshot::compare_with_snapshot;
use approx::abs_diff_eq;

const NFOS: &str = "read: US National Federation of Opticianry Schools, course OPT11, answers";
const OBLIQUE: &str = "read: opticianstudy.com, powers in oblique meridians, worked example";
const DURHAM: &str = "read: Durham Technical Community College, opticianry course OPH142, module 01";
const LONG: &str = "derived: W. F. Long, Am J Optom Physiol Opt 53 (1976) 27-33, P = -F h";
const MATRIX: &str = "derived: Long 1976; Keating 1980";
const JALIE_2022_89: &str = "read: M. Jalie, The Indian Optician, Jan-Feb 2022, p 89, Table 2";
const JALIE_2022_105: &str = "read: M. Jalie, The Indian Optician, May-June 2022, p 105";
const JALIE_FORM: &str = "derived: formula read in M. Jalie, The Indian Optician, May-June 2022, p 105";
const JALIE_2023_112: &str = "read: M. Jalie, The Indian Optician, May-June 2023, p 112";
const PERRET: &str = "read: perret-optic.ch, course notes";
const PERRET_FORM: &str = "derived: formula read at perret-optic.ch, course notes";
const FORMULA: &str = "derived: formula of the trade";
const DEFINITION: &str = "derived: definition";
const THIBOS: &str = "derived: Thibos, Wheeler & Horner 1997";
const GEOMETRY: &str = "derived: geometry";
const OPEN_INDEX: &str = "read: n_e in the refractiveindex.info database, CC0";
const OPEN_ABBE: &str = "read: V_e in the refractiveindex.info database, CC0";

/// Published numbers of the same list whose subject the program leaves alone, or that are checked elsewhere.
const ELSEWHERE: [(&str, &str, &str); 14] = [
    ("BX-09", "corridor of a varifocal", "`practise --topic near`: `tests/it/worked_published.rs`"),
    ("BX-11", "prism thinning", "`practise --topic near`: `tests/it/worked_published.rs`"),
    ("RF-06, RF-07", "thickness and index of a coat", "coats are not calculated"),
    ("RF-09", "colour fringe", "prism over Abbe number, as RF-11: `tests/it/explain.rs`"),
    ("RF-10", "spread of power by colour", "not worked out"),
    ("ST-01", "tint categories", "tints are not calculated; local law and standards decide"),
    ("ST-02", "drop ball", "impact is not calculated; local law and standards decide"),
    (
        "ST-03, ST-05 to ST-08",
        "tolerances of power, axis, add and prism",
        "`docs/accuracy.md` sets the model beside those that a single-vision lens is judged by: `tests/core/accuracy.rs`",
    ),
    ("ST-09", "spread of adult pd", "of invented orders: `tests/it/orders.rs`"),
    ("ST-10", "centre of rotation", "no ray to a turning eye"),
    ("ST-11", "minima of a university course", "minima are the shelf's own or the job's; 0.5 and 1.7 can be asked for"),
    ("ST-12", "classes of index", "materials have their index, no class"),
    ("ST-13", "differential prism", "the eyes are not compared through the lens"),
    ("TI-01 to TI-17", "tilted lenses, best form, rays", "no ray to a turning eye, no tilt"),
];

struct Row {
    id: &'static str,
    ours: f64,
    expected: f64,
    tolerance: f64,
    source: &'static str,
}

fn row(id: &'static str, ours: f64, expected: f64, tolerance: f64, source: &'static str) -> Row {
    Row { id, ours, expected, tolerance, source }
}

/// Everything that is published and covered, by subject.
fn subjects() -> [(&'static str, Vec<Row>); 9] {
    [
        ("Prism, and power in a meridian", powers::prentice_and_meridional_power()),
        (
            "Transposition and crossed cylinders (sphere, cylinder and axis in turn), vectors, matrices",
            powers::transposition_and_crossed_cylinders(),
        ),
        ("Segments: image jump, and prism at the reading level", powers::segments()),
        ("Vertex power and effectivity", powers::vertex_power_and_effectivity()),
        ("Sag, thickness and surface power", thickness::sags_thickness_and_surface_power()),
        ("Curve variation factor", thickness::curve_variation()),
        ("Boxing, blanks and layout", layout::boxing_blanks_and_layout()),
        ("Reflection", light::reflection()),
        ("Dispersion: n_e and V_e from n_d and V_d by the two-term form", light::dispersion()),
    ]
}

#[test]
fn everything_published_comes_out() {
    for (_, rows) in subjects() {
        for Row { id, ours, expected, tolerance, source } in rows {
            assert!(
                abs_diff_eq!(ours, expected, epsilon = tolerance + 1e-12),
                "{id}: ours {ours}, expected {expected} within {tolerance} ({source})"
            );
        }
    }
}

/// As many digits as the tolerance tells apart, and one more.
fn rounded(value: f64, tolerance: f64) -> String {
    let digits = (1.0 - tolerance.log10().floor()).clamp(1.0, 6.0) as usize;
    let text = format!("{value:.digits$}");
    let nought = text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.');
    if nought { text.replace('-', "") } else { text.replace('-', "\u{2212}") }
}

#[test]
fn the_table_is_what_the_checks_give() {
    let mut text = String::from(
        "<!-- Written by `UPDATE=1 cargo test published`; changes made here by hand are lost. -->\n\n\
         # Published numbers and ours\n\n\
         *Read*: the number is printed in the source. *Derived*: the formula is published, and the number was worked out \
         from it once. The tolerance is half a unit of the last digit printed, unless `tests/core/published` says why not.\n",
    );
    for (subject, rows) in subjects() {
        text += &format!("\n## {subject}\n\n| check | | published | ours | difference | tolerance | source |\n");
        text += "|---|---|---|---|---|---|---|\n";
        for Row { id, ours, expected, tolerance, source } in rows {
            let (how, source) = source.split_once(": ").expect("read or derived");
            let [ours, off] = [ours, ours - expected].map(|value| rounded(value, tolerance));
            let expected = expected.to_string().replace('-', "\u{2212}");
            text += &format!("| {id} | {how} | {expected} | {ours} | {off} | {tolerance} | {source} |\n");
        }
    }
    text += "\n## Not in this table\n\n| check | subject | why, or where |\n|---|---|---|\n";
    for (ids, subject, why) in ELSEWHERE {
        text += &format!("| {ids} | {subject} | {why} |\n");
    }
    let page = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published.md");
    if let Err(other) = compare_with_snapshot(std::path::Path::new(page), &text) {
        panic!("{other}");
    }
}
