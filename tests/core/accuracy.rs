//! The sizes that docs/accuracy.md gives for what the model leaves out, and for what the published tolerances allow.

use crate::case::Case;
use rimwise::assess::Made;
use rimwise::rim::Rim;
use rimwise::rx::{Power, Prism};

/// The lens of docs/model.md: −6.00, index 1.6, in a 50 × 40 oval, 3 mm in, base 2.
fn plain() -> Case {
    let mut case = Case::plain();
    case.option.base_curve_d = Some(2.0);
    case
}

fn made(change: impl Fn(&mut Case)) -> Made {
    let mut case = plain();
    change(&mut case);
    case.make().expect("can be made")
}

fn edge(made: &Made) -> f64 {
    made.thickness.edges.max.thickness_mm
}

/// Said with so many decimals.
fn said(what: &str, ours: f64, page: f64, decimals: i32) {
    let half = 0.5 * 10f64.powi(-decimals) + 1e-9;
    assert!((ours - page).abs() <= half, "{what}: {ours}, the page says {page}");
}

#[test]
fn the_sizes_given_are_those_worked() {
    let usual = made(|_| {});
    let power = |sphere: f64| made(|case| case.rx.power = Power::spherical(sphere));
    said("thickest edge", edge(&usual), 5.5, 1);
    said("mass", usual.mass_g, 5.3, 1);
    let shoulder = |rim| {
        let made = made(|case| case.rim = rim);
        edge(&made) - made.thickness.shoulder_max_mm.expect("a bevel")
    };
    said("shoulder, metal", shoulder(Rim::Metal), 0.15, 2);
    said("shoulder, plastic", shoulder(Rim::Plastic), 0.22, 2);
    said("0.13 D of sphere", edge(&power(-6.13)) - edge(&usual), 0.1, 2);
    said("2 % of -8.00", edge(&power(-8.16)) - edge(&power(-8.0)), 0.13, 2);
    let toric = |axis| edge(&made(|case| case.rx.power = Power::new(-6.0, -2.0, axis)));
    said("2 deg of axis", toric(45.0) - toric(43.0), 0.05, 2);
    let decentred = |up: f64| edge(&made(|case| case.up_mm = up));
    said("1 mm of height", decentred(1.0) - decentred(0.0), 0.01, 2);
    let index =
        |n: f64| edge(&made(|case| case.option.substance = crate::support::inline(n, 41.0, 1.3, 1.4, 1.0).substance));
    said("index", index(1.595) - index(1.6), 0.04, 2);
}

/// What is left of the power where the back is turned for prism: along the ray that leaves it, by Coddington's equations.
fn off_by_turning(prism_pd: f64) -> [f64; 2] {
    let made = made(|case| case.rx.prism = Prism::new(prism_pd, 0.0));
    let (n, wanted) = (made.recipe.index, made.recipe.power.sphere());
    let back = made.lens.back_powers_d()[0];
    let arriving = wanted - back;
    let inside = made.recipe.lean().hypot().atan();
    let outside = (n * inside.sin()).asin();
    let oblique = back * (outside.cos() - n * inside.cos()) / (1.0 - n);
    let sagittal = arriving + oblique;
    let tangential = (arriving * inside.cos().powi(2) + oblique) / outside.cos().powi(2);
    [0.5 * (sagittal + tangential) - wanted, tangential - sagittal]
}

#[test]
fn the_power_that_prism_costs_is_as_said() {
    for (pd, mean, astigmatic) in [(2.0, -0.02, -0.02), (5.0, -0.11, -0.12)] {
        let [m, a] = off_by_turning(pd);
        said("mean", m, mean, 2);
        said("astigmatic", a, astigmatic, 2);
    }
}

/// The references outside the program are asked about every shape and every rim.
#[test]
fn the_references_know_every_shape_and_rim() {
    let lenses =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/lenses.py")).expect("there");
    let words: Vec<&str> = lenses.split(|c: char| !c.is_ascii_alphanumeric() && c != '-').collect();
    let shapes = rimwise::outline::Shape::all().map(|shape| shape.word().to_owned());
    for word in shapes.chain(Rim::ALL.map(|rim| rim.word().to_owned())) {
        assert!(words.contains(&word.as_str()), "tests/reference/lenses.py lacks {word}");
    }
}
