//! Do readings of a lens that is known give it back? Published checks, lenses made and read off, what is said where the
//! readings do not agree.

use crate::support::Chance;
use assert_cmd::Command;
use kurbo::Vec2;
use predicates::prelude::*;
use rimwise::lens::{Lens, Recipe};
use rimwise::material::Shelf;
use rimwise::report::text;
use rimwise::rx::{Power, Prism};
use rimwise::study::gauge::{EdgeReading, Readings};

fn lens(power: f64, index: f64, base_curve_d: f64, centre_mm: f64) -> Lens {
    let recipe = Recipe { power: Power::spherical(power), prism: Prism::default(), index, base_curve_d };
    recipe.at_centre(centre_mm).expect("a lens")
}

/// What is read on it by perfect instruments, 25 mm out.
fn read(lens: &Lens, base_curve_d: f64, power: f64) -> Readings {
    let edge_mm = lens.thickness(Vec2::new(25.0, 0.0)).expect("reaches");
    Readings {
        front_d: base_curve_d,
        back_d: -530.0 * lens.back_curvatures()[0],
        measure_index: 1.53,
        centre_mm: lens.centre_mm(),
        edge: Some(EdgeReading { thickness_mm: edge_mm, out_mm: 25.0 }),
        power_d: Some(power),
        index: None,
    }
}

/// TH-12: derived, (n − 1) = 0.523 F/(sum of readings); a thin lens. TH-13: derived, F = reading × (n − 1)/0.53.
#[test]
fn published_readings_come_out() {
    let thin = Readings {
        front_d: 5.25,
        back_d: -1.75,
        measure_index: 1.523,
        centre_mm: 1e-9,
        edge: None,
        power_d: Some(6.0),
        index: None,
    };
    let index = thin.gauged().index.expect("found").value;
    assert!((index - 1.8966).abs() < 5e-5, "{index}");
    let known = Readings { front_d: 6.0, measure_index: 1.53, power_d: None, index: Some(1.67), ..thin };
    let [front, _] = known.gauged().surfaces_d.expect("an index");
    assert!((front.value - 7.585).abs() < 5e-4, "{front:?}");
}

#[test]
fn a_known_lens_is_found_from_its_readings_and_rounded_readings_stay_within() {
    let mut chance = Chance(5);
    let mut far = 0;
    for _ in 0..300 {
        let (power, index) = (chance.within(-9.0, -3.0), chance.within(1.49, 1.8));
        let base = chance.within(1.0, 5.0);
        let made = lens(power, index, base, chance.within(1.0, 2.5));
        let exact = read(&made, base, power);
        let gauged = exact.gauged();
        let found = gauged.index.expect("found");
        assert!((found.value - index).abs() < 1e-7, "{found:?} for {index}");
        let edge = gauged.edge.expect("reaches");
        assert!(edge.difference_mm().abs() < 1e-9 && edge.agrees(), "{edge:?}");
        let known = Readings { index: Some(index), ..exact }.gauged();
        assert!((known.power_d.expect("an index").value - power).abs() < 1e-9, "{known:?}");
        // As instruments read it: each off by half a step at the most.
        let step = |value: f64, step: f64| (value / step).round() * step;
        let rounded = Readings {
            front_d: step(exact.front_d, 0.125),
            back_d: step(exact.back_d, 0.125),
            centre_mm: step(exact.centre_mm, 0.1),
            power_d: Some(step(power, 0.125)),
            ..exact
        };
        let about = rounded.gauged().index.expect("found");
        let off = (about.value - index).abs();
        // All steps against one another at once come to less than twice the root of the sum of squares of four.
        assert!(off <= 2.0 * about.give, "{about:?} for {index}");
        far += usize::from(off > 0.2 * about.give);
    }
    assert!(far > 100, "rounding was seen in {far} lenses only");
}

#[test]
fn a_difference_is_told_with_what_would_explain_it() {
    let (made, base) = (lens(-6.0, 1.6, 3.0, 1.5), 3.0);
    let mut readings = read(&made, base, -6.0);
    let told = |readings: &Readings| {
        let text = text::gauge(readings, &readings.gauged(), &Shelf::built_in(), false);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(told(&readings).contains("they agree within the steps"), "{}", told(&readings));
    assert!(told(&readings).contains("resin-1.60"), "{}", told(&readings));
    // The back read a whole dioptre too flat: the curves predict less edge than there is.
    readings.back_d += 1.0;
    let edge = readings.gauged().edge.expect("reaches");
    assert!(!edge.agrees() && edge.difference_mm() > 0.3, "{edge:?}");
    let back = edge.explained_by[1].expect("told");
    assert!((back + 1.0).abs() < 0.1, "the back's reading is off by {back}");
    assert!(told(&readings).contains("more than the steps of the readings leave open"), "{}", told(&readings));
    let neither = Readings { power_d: Some(0.25), front_d: 5.0, back_d: -5.0, ..readings };
    assert!(neither.gauged().index.is_none());
    assert!(told(&neither).contains("none between 1.40 and 2.00"), "{}", told(&neither));
    let short = Readings { back_d: -22.0, ..readings };
    assert!(short.gauged().edge.is_none());
    assert!(told(&short).contains("does not reach"), "{}", told(&short));
}

#[test]
fn the_program_gauges_and_refuses_slips_of_the_pen() {
    let gauge = |more: &[&str]| {
        let mut command = Command::cargo_bin("rimwise").expect("the program was built");
        command.env("NO_COLOR", "1").args(["gauge", "--front", "3", "--back", "-8.5"]).args(more).assert()
    };
    gauge(&["--centre-mm", "1.5", "--power", "-6.25"])
        .code(0)
        .stdout(predicate::str::contains("Index: 1.603, give or take"));
    let json = gauge(&["--centre-mm", "1.5", "--index", "1.6", "--json"]).code(0);
    let json: serde_json::Value = serde_json::from_slice(&json.get_output().stdout).expect("JSON");
    assert!(json["index"].is_null() && json["power_d"]["value"].as_f64().expect("a number") < -6.0, "{json}");
    gauge(&["--centre-mm", "150"])
        .code(2)
        .stdout("")
        .stderr(predicate::str::contains("--centre-mm is 150; allowed is"));
    gauge(&["--centre-mm", "1.5", "--edge-mm", "5"]).code(2).stdout("");
    gauge(&["--centre-mm", "1.5", "--power", "NaN"]).code(2).stdout("");
}
