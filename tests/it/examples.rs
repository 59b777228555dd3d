//! The examples answer what they ask.

use kurbo::Vec2;
use nalgebra::Vector3;
use rimwise::lens::{Lens, Recipe};
use rimwise::rx::{Power, Prism};

macro_rules! examples {
    ($($name:ident = $path:literal;)*) => {
        $(
            #[path = $path]
            #[expect(dead_code, reason = "nobody calls main here")]
            pub(crate) mod $name;
        )*
        /// Their names, in order.
        pub(crate) const TOLD: &[&str] = &[$(stringify!($name)),*];
    };
}

examples! {
    blocking = "../../examples/blocking.rs";
    hand_check = "../../examples/hand_check.rs";
    how_thick = "../../examples/how_thick.rs";
    smaller_eye_size = "../../examples/smaller_eye_size.rs";
    solid = "../../examples/solid.rs";
    which_index = "../../examples/which_index.rs";
}

/// The numbers of a line.
fn numbers(line: &str) -> Vec<f64> {
    line.split_whitespace().filter_map(|word| word.parse().ok()).collect()
}

#[test]
fn every_example_is_held_to_its_answer() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/examples");
    let mut there: Vec<String> = std::fs::read_dir(folder)
        .expect("a folder of examples")
        .map(|entry| entry.expect("an entry").path())
        // What is no Rust is run by `tests/run`.
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .map(|path| path.file_stem().expect("a name").to_string_lossy().into_owned())
        .collect();
    there.sort();
    assert_eq!(there, TOLD);
}

#[test]
fn the_hand_worked_lens_agrees() {
    let (by_hand, by_program) = hand_check::edges_mm();
    assert!((by_hand - by_program).abs() < 1e-12, "{by_hand} against {by_program}");
    assert!(hand_check::answer().contains("4.306894"), "{}", hand_check::answer());
}

#[test]
fn a_plus_lens_is_set_by_its_thin_edge() {
    let answer = how_thick::answer();
    assert!(answer.contains("set by: Edge"), "{answer}");
    assert!(answer.contains("thinnest edge      1.0 mm"), "{answer}");
}

#[test]
fn a_smaller_eye_size_takes_the_temporal_side_alone() {
    let answer = smaller_eye_size::answer();
    let rows: Vec<Vec<f64>> = answer.lines().skip(1).map(numbers).collect();
    assert_eq!(rows.len(), 4, "{answer}");
    for pair in rows.windows(2) {
        let [size, edge, mass, temporal, nasal] = [0, 1, 2, 3, 4].map(|i| pair[0][i] - pair[1][i]);
        assert_eq!((size, temporal, nasal), (2.0, 2.0, 0.0), "{answer}");
        assert!(edge > 0.5 && mass > 1.0, "{answer}");
    }
}

fn vector(numbers: &serde_json::Value) -> Vector3<f64> {
    let parts = numbers.as_array().expect("three numbers").iter();
    Vector3::from_iterator(parts.map(|n| n.as_f64().expect("a number")))
}

/// Thickness at the boxed centre of a solid as it is handed to a CAD program, put together by vectors alone: where the
/// line there meets the front's sphere and the back's torus.
fn thickness_of_solid(lens: &serde_json::Value) -> f64 {
    let r1 = lens["front"]["radius"].as_f64().expect("curved");
    let at = vector(&lens["front"]["vertex"]);
    let front = (r1 * r1 - at.x * at.x - at.y * at.y).sqrt() - r1;
    let back = &lens["back"];
    let [vertex, along, across, outward] = ["vertex", "along", "across", "outward"].map(|name| vector(&back[name]));
    let handed = along.cross(&across).dot(&outward);
    assert!((handed.abs() - 1.0).abs() < 1e-12 && outward.z < 0.0, "{handed} {outward:?}");
    let [large, small] = ["radius_along", "radius_across"].map(|name| back[name].as_f64().expect("curved"));
    assert!(large >= small && small > 0.0, "{large} {small}");
    // Round the axis of the larger radius into the plane of the arc: off the arc by so much.
    let off = |z: f64| {
        let p = Vector3::new(0.0, 0.0, z) - vertex;
        let (u, w, depth) = (p.dot(&along), p.dot(&across), p.dot(&outward));
        let round = large - u.hypot(large - depth);
        (small - round).hypot(w) - small
    };
    let (mut low, mut high) = (-10.0, 0.0);
    assert!(off(low) * off(high) < 0.0, "no bracket");
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if off(low) * off(middle) > 0.0 { low = middle } else { high = middle }
    }
    front - low
}

#[test]
fn a_solid_for_cad_is_the_lens() {
    let told: serde_json::Value =
        serde_json::from_str(&solid::answer(solid::JOB, &rimwise::job::NoOutlines)).expect("JSON");
    let job = rimwise::read::job(solid::JOB.as_bytes(), &rimwise::material::Shelf::built_in()).value.expect("sound");
    let comparison = rimwise::study::compare::Comparison::of(&job);
    let pair = comparison.fits[0].pair().expect("can be made");
    for (i, eye) in rimwise::eye::Eye::BOTH.into_iter().enumerate() {
        let lens = &told["lenses"][i];
        assert_eq!(lens["eye"], eye.word());
        let at = vector(&lens["front"]["vertex"]);
        let ours = pair.eyes.of(eye).lens.thickness(-Vec2::new(at.x, at.y)).expect("reaches");
        let theirs = thickness_of_solid(lens);
        assert!((ours - theirs).abs() < 1e-9, "{eye:?}: {ours} against {theirs}");
        // Nothing to get wrong if it were thick there as in the middle.
        assert!((ours - pair.eyes.of(eye).lens.centre_mm()).abs() > 0.01, "{ours}");
    }
}

#[test]
fn the_thinnest_material_is_not_the_lightest() {
    let answer = which_index::answer();
    let rows: Vec<Vec<f64>> = answer.lines().skip(1).map(numbers).collect();
    let [plain, thin, glass] = &rows[..] else { panic!("{answer}") };
    assert!(glass[0] < thin[0] && thin[0] < plain[0], "{answer}");
    assert!(thin[1] < plain[1] && plain[1] < glass[1], "{answer}");
}

/// Edge thickness of a lens cut parallel to the normal of its front at the boxed centre, by walking a line through it:
/// nothing is known here of spheres.
fn cut_along_the_front_normal(lens: &Lens, in_mm: f64, x_mm: f64) -> f64 {
    // The boxed centre lies where the reference point is `in_mm` away, seen along the normal: found by bisection.
    let normal_at = |b: f64| {
        let slope = lens.front().slope(Vec2::new(b, 0.0)).expect("inside");
        let norm = slope.gradient.x.hypot(1.0);
        ([-slope.gradient.x / norm, 1.0 / norm], slope.z)
    };
    let across = |b: f64| {
        let ([nx, nz], z) = normal_at(b);
        // The unit vector at right angles to the normal that points toward the nose.
        ([nz, -nx], [b, z])
    };
    let bisect = |mut low: f64, mut high: f64, f: &dyn Fn(f64) -> f64| {
        assert!(f(low) < 0.0 && f(high) > 0.0, "no bracket");
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if f(middle) < 0.0 { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    };
    let boxed = -bisect(0.0, 2.0 * in_mm, &|b| {
        let (e, at) = across(-b);
        -(at[0] * e[0] + at[1] * e[1]) - in_mm
    });
    let (e, at) = across(boxed);
    let (n, _) = normal_at(boxed);
    let start = [at[0] + x_mm * e[0], at[1] + x_mm * e[1]];
    let meets = |lift: f64, surface: &dyn Fn(f64) -> f64| {
        bisect(-5.0, 25.0, &|s| start[1] + s * n[1] - surface(start[0] + s * n[0]) - lift)
    };
    let front = meets(0.0, &|x| lens.front().sag(Vec2::new(x, 0.0)).expect("inside"));
    let back = meets(lens.centre_mm(), &|x| lens.back().sag(Vec2::new(x, 0.0)).expect("inside"));
    back - front
}

#[test]
fn blocking_on_the_boxed_centre_is_worked_right() {
    for (sphere, base_curve_d) in [(-4.0, 1.0), (-6.0, 4.0), (-6.0, 6.0), (-8.0, 4.0)] {
        let recipe = Recipe { power: Power::spherical(sphere), prism: Prism::default(), index: 1.6, base_curve_d };
        let lens = recipe.at_centre(1.4).expect("a lens");
        let [_, boxed] = blocking::edges(sphere, base_curve_d);
        for (x, ours) in [25.0, -25.0].into_iter().zip(boxed) {
            let walked = cut_along_the_front_normal(&lens, 6.0, x);
            assert!((walked - ours).abs() < 1e-9, "{sphere} on {base_curve_d} at {x}: {ours} against {walked}");
        }
    }
    let saved = |sphere, base| {
        let [[_, reference], [_, boxed]] = blocking::edges(sphere, base);
        reference - boxed
    };
    // What docs/model.md says.
    for (sphere, base, mm) in
        [(-4.0, 1.0, 0.02), (-6.0, 1.0, 0.03), (-6.0, 4.0, 0.24), (-6.0, 6.0, 0.54), (-8.0, 2.0, 0.13)]
    {
        assert!((saved(sphere, base) - mm).abs() < 0.006, "{sphere} on {base}: {}", saved(sphere, base));
    }
}
