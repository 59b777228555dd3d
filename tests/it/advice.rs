//! Every rule of advice, at its tip: quiet on one side, said on the other, and there its figure is its limit.

use crate::report::{DEMO_JOBS, demo, job};
use rimwise::advice::{self, Caution, RULES};
use rimwise::report::words;
use rimwise::study::compare::Comparison;
use std::collections::BTreeSet;

/// A pair in a frame: keys as in a job file.
#[derive(Clone, Copy)]
struct Order<'a> {
    spheres: [f64; 2],
    pd: f64,
    size: f64,
    frame: &'a str,
    lens: &'a str,
}

const METAL: &str = "rim = \"metal\"\nrim_depth_mm = 2.0";
const THIN: &str = "material = \"resin-1.60\"";
const PLAIN: Order<'_> = Order { spheres: [-2.0, -2.0], pd: 33.0, size: 48.0, frame: METAL, lens: THIN };

impl Order<'_> {
    fn cautions(&self) -> Vec<Caution> {
        let job = job(&format!(
            "format = 1\n[prescription.right]\nsphere = {}\npd_mm = {pd}\n[prescription.left]\nsphere = {}\npd_mm = {pd}\n\
             [[frame]]\nname = \"Fennel\"\nshape = \"oval\"\neye_sizes_mm = [{}]\ndepth_mm = 38\nbridge_mm = 18\n{}\n\
             [[lens]]\nname = \"lens\"\n{}\n",
            self.spheres[0],
            self.spheres[1],
            self.size,
            self.frame,
            self.lens,
            pd = self.pd,
        ));
        let comparison = Comparison::of(&job);
        let fit = &comparison.fits[0];
        assert!(fit.pair().is_some(), "{:?}", fit.outcome);
        advice::cautions(fit)
    }

    fn said(&self, id: &str) -> Option<Caution> {
        self.cautions().into_iter().find(|caution| caution.rule.id == id)
    }
}

/// Asks with something turned from quiet to said, and finds where it tips.
fn tip(id: &str, quiet: f64, said: f64, caution: impl Fn(f64) -> Option<Caution>) -> (f64, Caution) {
    assert!(caution(quiet).is_none(), "{id} is said at {quiet}");
    let mut found = caution(said).unwrap_or_else(|| panic!("{id} is not said at {said}"));
    let (mut quiet, mut said) = (quiet, said);
    for _ in 0..40 {
        let middle = 0.5 * (quiet + said);
        match caution(middle) {
            Some(caution) => (said, found) = (middle, caution),
            None => quiet = middle,
        }
    }
    (said, found)
}

/// The figure is the limit where the rule tips; where that is.
fn tips(id: &'static str, quiet: f64, said: f64, order: impl Fn(f64) -> Vec<Caution>) -> f64 {
    let one = |value| order(value).into_iter().find(|caution| caution.rule.id == id);
    let (at, Caution { found, .. }) = tip(id, quiet, said, one);
    assert!((found.value - found.limit).abs() < 1e-3, "{id} tips at {at} with {found:?}");
    at
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-3, "{found}, not {wanted}");
}

#[test]
fn what_endangers_eyes_is_said_from_its_limit_on() {
    let inline = |index: f64, density: f64| {
        let lens = format!(
            "material = {{ index = {index}, abbe = 40, density = {density} }}\nmin_centre_mm = 1.5\nmin_edge_mm = 1.5"
        );
        Order { lens: &lens, ..PLAIN }.cautions()
    };
    // Quartz, the lightest glass, has 2.2 g/cm³; CR-39 and its kin 1.1 to 1.5.
    let by_density = |density| inline(1.6, density).into_iter().find(|caution| caution.rule.id == "fit.glass");
    near(tip("fit.glass", 1.3, 3.6, by_density).0, 2.0);
    // 2R/(1 + R) = 0.12 with R = ((n − 1)/(n + 1))².
    let r = (0.12f64 / 1.88).sqrt();
    near(tips("fit.reflection", 1.5, 1.9, |index| inline(index, 1.3)), (1.0 + r) / (1.0 - r));
    // Prentice: a prism dioptre for each dioptre at 10 mm; polycarbonate has an Abbe number of 30.
    let polycarbonate =
        |sphere| Order { spheres: [sphere, -2.0], lens: "material = \"polycarbonate\"", ..PLAIN }.cautions();
    near(tips("fit.colour-fringes", -2.0, -12.0, polycarbonate), -0.25 * 30.0);
    for (material, passes) in
        [("glass-1.60", true), ("glass-1.523", false), ("resin-1.60", false), ("resin-1.56", false)]
    {
        let lens = format!("material = \"{material}\"");
        assert_eq!(Order { lens: &lens, ..PLAIN }.said("fit.uv-passes").is_some(), passes, "{material}");
    }
}

#[test]
fn thin_places_are_said_from_their_limit_on() {
    let with = |frame: &str, sphere: f64, centre: f64, edge: f64| {
        let lens = format!("{THIN}\nmin_centre_mm = {centre}\nmin_edge_mm = {edge}");
        Order { spheres: [sphere; 2], frame, lens: &lens, ..PLAIN }.cautions()
    };
    near(tips("fit.centre-below-usual", 2.0, 1.0, |centre| with(METAL, -2.0, centre, 1.0)), 1.3);
    near(tips("fit.edge-below-usual", 2.0, 0.5, |edge| with(METAL, -2.0, 1.3, edge)), 1.0);
    near(tips("fit.plus-edge-sharp", 1.5, 0.5, |edge| with(METAL, 4.0, 1.3, edge)), 1.0);
    assert!(with(METAL, -4.0, 0.5, 0.5).iter().all(|caution| caution.rule.id != "fit.plus-edge-sharp"));
    let thinnest_edge = tips("fit.holes-thin", 2.0, 0.5, |edge| with("rim = \"rimless\"", 2.0, 1.0, edge));
    assert!(thinnest_edge < 1.5, "a plus lens is thicker at its holes than at its edge: {thinnest_edge}");
}

#[test]
fn thick_places_are_said_from_their_limit_on() {
    let minus = |frame: &'static str| move |sphere| Order { spheres: [sphere; 2], frame, ..PLAIN }.cautions();
    let nasal = tips("fit.nasal-thick", -2.0, -14.0, minus(METAL));
    let temporal = tips("fit.temporal-thick", -2.0, -14.0, minus(METAL));
    assert!(temporal < nasal, "{temporal} {nasal}");
    assert!(minus("rim = \"plastic\"")(-14.0).iter().all(|caution| caution.rule.id != "fit.nasal-thick"));
    // A deeper rim has more of the edge before it ends.
    assert!(tips("fit.temporal-thick", -2.0, -14.0, minus("rim = \"metal\"\nrim_depth_mm = 3.0")) < temporal);
    // A bevel on a rim steeper than the front lies farther back toward nose and temple, and less stands out behind.
    let steep = minus("rim = \"metal\"\nrim_depth_mm = 2.0\nrim_curve_d = 7.0\nbevel_position = \"rim-curve\"");
    let flat = minus("rim = \"metal\"\nrim_depth_mm = 2.0\nrim_curve_d = 0.0\nbevel_position = \"rim-curve\"");
    for id in ["fit.nasal-thick", "fit.temporal-thick"] {
        assert!(tips(id, -2.0, -14.0, steep) < tips(id, -2.0, -14.0, flat), "{id}");
    }
    tips("fit.edge-behind-rim", -2.0, -14.0, minus(METAL));
    assert!(minus("rim = \"metal\"")(-14.0).iter().all(|caution| caution.rule.id != "fit.edge-behind-rim"));
    let plus = |base: f64| {
        let lens = format!("{THIN}\nbase_curve_d = {base}");
        Order { spheres: [4.0; 2], lens: &lens, ..PLAIN }.cautions()
    };
    tips("fit.back-flat", 8.0, 1.0, plus);
}

#[test]
fn heavy_and_unequal_pairs_are_said_from_their_limit_on() {
    let framed = |mass_g: f64| {
        let frame = format!("{METAL}\nmass_g = {mass_g}");
        Order { frame: &frame, ..PLAIN }.cautions()
    };
    tips("fit.heavy", 20.0, 60.0, framed);
    let glass = |size| Order { size, spheres: [-8.0; 2], lens: "material = \"glass-1.60\"", ..PLAIN }.cautions();
    tips("fit.heavy-lenses", 44.0, 54.0, glass);
    assert!(framed(60.0).iter().all(|caution| caution.rule.id != "fit.heavy-lenses"));
    // On one base curve, that the front does not step.
    let one_curve = format!("{THIN}\nbase_curve_d = 0.5");
    let unequal = |left| Order { spheres: [-2.0, left], lens: &one_curve, ..PLAIN }.cautions();
    tips("fit.mass-unequal", -2.0, -15.0, unequal);
    tips("fit.edges-unequal", -2.0, -15.0, unequal);
    // By Vogel's rule base 6 and 2; ready-made 4.00 and 2.50.
    let bases = |spheres, lens| Order { spheres, lens, ..PLAIN }.said("fit.bases-unequal");
    let found = bases([-0.5, -7.0], THIN).expect("base 6 and base 2").found;
    near(found.value, 4.0);
    assert!(bases([-2.0, -4.0], "material = \"resin-1.56\"\nsupply = \"stock\"").is_none());
    assert!(bases([-0.5, -7.0], &one_curve).is_none());
}

#[test]
fn what_the_lab_must_know_is_said_from_its_limit_on() {
    let high = |height: f64| {
        let frame = format!("{METAL}\noptical_centre_height_mm = {height}");
        let one = Order { frame: &frame, ..PLAIN };
        one.said("fit.reference-outside")
    };
    near(tip("fit.reference-outside", 20.0, 44.0, high).0, 38.0);
    tips("fit.blank-decentred", 33.0, 22.0, |pd| {
        Order { pd, size: 54.0, lens: "material = \"glass-1.80\"", ..PLAIN }.cautions()
    });
    for (base, said) in [(6.0, false), (6.05, true)] {
        let lens = format!("{THIN}\nbase_curve_d = {base}");
        assert_eq!(Order { lens: &lens, ..PLAIN }.said("fit.base-unlisted").is_some(), said, "{base}");
    }
    for (rim, id) in [("supra", "fit.groove-unsuited"), ("rimless", "fit.drilling-unsuited")] {
        let frame = format!("rim = \"{rim}\"");
        let said = |lens| Order { frame: &frame, lens, ..PLAIN }.said(id).is_some();
        assert!(said("material = \"acrylic\"") && !said("material = \"polycarbonate\""), "{rim}");
    }
    let stock = |sphere: f64, supply: &str| {
        let lens = format!("{THIN}\nsupply = \"{supply}\"");
        Order { spheres: [sphere; 2], lens: &lens, ..PLAIN }.said("fit.stock-thicker").is_some()
    };
    assert!(stock(3.0, "stock") && !stock(3.0, "surfaced") && !stock(-3.0, "stock"));
}

#[test]
fn a_bevel_that_does_not_fit_its_rim_or_its_edge_is_said_from_its_limit_on() {
    let one_curve = format!("{THIN}\nbase_curve_d = 4.0");
    let in_rim = |more: &str, curve: f64| {
        let frame = format!("{METAL}\nrim_curve_d = {curve}\n{more}");
        Order { frame: &frame, lens: &one_curve, spheres: [-6.0; 2], ..PLAIN }.cautions()
    };
    let steep = tips("fit.rim-curve-unlike", 4.0, 10.0, |curve| in_rim("", curve));
    let flat = tips("fit.rim-curve-unlike", 4.0, 0.0, |curve| in_rim("", curve));
    assert!(steep > 5.0 && flat < 3.0, "{flat} {steep}");
    // A thick edge has room for a bevel on the rim's own curve.
    let followed = in_rim("bevel_position = \"rim-curve\"", 10.0);
    assert!(followed.iter().all(|caution| !matches!(caution.rule.id, "fit.rim-curve-unlike" | "fit.bevel-moved")));
    let behind = |mm: f64| {
        let frame = format!("{METAL}\nbevel_position = \"front\"\nbevel_behind_mm = {mm}");
        Order { frame: &frame, spheres: [-6.0; 2], ..PLAIN }.cautions()
    };
    // Half of what a bevel 0.5 mm high with an apex of 110° takes up of the edge.
    near(tips("fit.bevel-moved", 1.0, 0.3, behind), 0.5 * 55_f64.to_radians().tan() - 0.05);
}

/// Words that a wearer need not know.
const TERMS: [&str; 14] = [
    "Abbe",
    "reference point",
    "decentr",
    "index",
    "chromatic",
    "base curve",
    "bevel",
    "Δ",
    "meridian",
    "nasal",
    "temporal",
    "chamfer",
    "uncut",
    "surfaced",
];

#[test]
fn every_rule_speaks_to_both_and_has_a_mend_and_a_source() {
    for rule in RULES {
        for text in [rule.dispenser, rule.wearer, rule.mend] {
            assert!(text.ends_with('.') && !text.contains("  "), "{}: {text}", rule.id);
        }
        for term in TERMS {
            assert!(!rule.wearer.contains(term), "{}: {}", rule.id, rule.wearer);
        }
        assert!(!rule.source.is_empty(), "{}", rule.id);
        let all = format!("{} {}", rule.dispenser, rule.mend);
        assert_eq!(all.contains("smaller eye size"), all.contains("bridge fits your nose"), "{}", rule.id);
    }
    let unique: BTreeSet<&str> = RULES.iter().map(|rule| rule.id).collect();
    assert_eq!(unique.len(), RULES.len());
    // This file fires every one of them.
    let tests = include_str!("advice.rs");
    for id in unique {
        assert!(tests.contains(&format!("\"{id}\"")), "{id} has no test");
    }
}

#[test]
fn numbers_of_rules_are_filled_in() {
    for name in DEMO_JOBS {
        let job = demo(name);
        for fit in &Comparison::of(&job).fits {
            for caution in advice::cautions(fit) {
                for text in [words::caution(&caution), words::caution_for_wearer(&caution)] {
                    assert!(!text.contains(['{', '}', '—']), "{text}");
                }
            }
        }
    }
}

#[test]
fn a_mild_pair_is_left_in_peace() {
    let job = demo("mild");
    let said: Vec<&str> =
        Comparison::of(&job).fits.iter().flat_map(advice::cautions).map(|caution| caution.rule.id).collect();
    assert!(said.is_empty(), "{said:?}");
}
