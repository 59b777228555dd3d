//! Numbers that nobody here made up: printed in textbooks, courses and columns ("read"), or computed from a published
//! formula ("derived"). A row an id; the tolerance is half a unit of the last printed digit unless the row says why not.

use crate::support::{Case, inline};
use approx::abs_diff_eq;
use kurbo::Vec2;
use rimwise::choose::base::vogel_d;
use rimwise::frame::{Boxing, Centration};
use rimwise::lens::Recipe;
use rimwise::light::ReferenceLine;
use rimwise::material::Glass;
use rimwise::outline::Outline;
use rimwise::rx::{Power, Prism};
use rimwise::surface::{Conicoid, Surface, Upright};

const NFOS: &str = "read: US National Federation of Opticianry Schools, course OPT11, answers";
const OBLIQUE: &str = "read: opticianstudy.com, powers in oblique meridians, worked example";
const DURHAM: &str = "read: Durham Technical Community College, opticianry course OPH142, module 01";
const LONG: &str = "derived: W. F. Long, Am J Optom Physiol Opt 53 (1976) 27-33, P = -F h";
const JALIE_2022_89: &str = "read: M. Jalie, The Indian Optician, Jan-Feb 2022, p 89, Table 2";
const JALIE_2022_105: &str = "read: M. Jalie, The Indian Optician, May-June 2022, p 105";
const JALIE_2023_112: &str = "read: M. Jalie, The Indian Optician, May-June 2023, p 112";
const PERRET: &str = "read: perret-optic.ch, course notes";
const FORMULA: &str = "derived: formula of the trade";
const DEFINITION: &str = "derived: definition";
const THIBOS: &str = "derived: Thibos, Wheeler & Horner 1997";
const GEOMETRY: &str = "derived: geometry";

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

fn check(rows: &[Row]) {
    for Row { id, ours, expected, tolerance, source } in rows {
        assert!(
            abs_diff_eq!(ours, expected, epsilon = *tolerance + 1e-12),
            "{id}: ours {ours}, expected {expected} within {tolerance} ({source})"
        );
    }
}

#[test]
fn prentice_and_meridional_power() {
    let along = |s, c, axis: f64, deg: f64| Power::new(s, c, axis).along(deg);
    let down = |power: Power, mm: f64| power.prentice_pd(0.0, -mm).1;
    let sum = Prism::new(1.5, 90.0).plus(Prism::new(2.0, 0.0));
    let long = Power::new(2.0, -1.0, 30.0).prentice_pd(5.0, 4.0);
    let degrees = |pd: f64| (pd / 100.0).atan().to_degrees();
    // The trade's thin prism is the limit of the exact one: seen at a hundredth of the amount.
    let lean = |pd: f64| {
        Recipe { power: Power::spherical(0.0), prism: Prism::new(pd, 0.0), index: 1.5, base_curve_d: 0.0 }.lean().x
    };
    check(&[
        row("PR-01", down(Power::spherical(8.5), 2.0), 1.7, 0.05, NFOS),
        row("PR-02", Power::spherical(-3.25).prentice_pd(-5.0, 0.0).0.abs(), 1.6, 0.05, NFOS),
        row("PR-03", down(Power::spherical(7.75), 4.0), 3.1, 0.05, NFOS),
        row("PR-04", down(Power::new(5.0, -1.5, 90.0), 8.0), 4.0, 0.05, NFOS),
        row("PR-05", along(-8.0, -2.0, 112.0, 180.0), -9.72, 0.005, OBLIQUE),
        row("PR-06", along(-10.0, 2.0, 22.0, 180.0), -9.72, 0.005, OBLIQUE),
        row("PR-07", along(-4.0, -0.75, 48.0, 180.0), -4.41, 0.005, OBLIQUE),
        row("PR-08", along(-2.0, -1.0, 37.0, 180.0), -2.36, 0.005, OBLIQUE),
        row("PR-09", along(-2.5, -1.25, 76.0, 90.0), -2.57, 0.005, OBLIQUE),
        row("PR-14 size", sum.amount_pd(), 2.5, 0.05, DURHAM),
        row("PR-14 base", sum.base_deg(), 37.0, 0.5, DURHAM),
        row("PR-15 x", long.0.abs(), 1.0482, 5e-5, LONG),
        row("PR-15 y", long.1.abs(), 0.7165, 5e-5, LONG),
        row("PR-16 1", degrees(1.0), 0.5729, 5e-5, DEFINITION),
        row("PR-16 20", degrees(20.0), 11.3099, 5e-5, DEFINITION),
        row("PR-17", 100.0 * lean(0.03) * 50.0, 3.0, 1e-5, "derived: g = P d/(100 (n - 1)), Jalie"),
        row("PR-18", Centration::new(&boxing(52.0, 18.0), 32.0, 0.0).in_mm, 3.0, 1e-9, PERRET),
    ]);
    // And the base lies where the rows say: looking below the centre of a plus lens finds base up.
    assert!(down(Power::spherical(8.5), 2.0) > 0.0 && down(Power::spherical(-8.5), 2.0) < 0.0);
}

fn boxing(eye_size_mm: f64, bridge_mm: f64) -> Boxing {
    Boxing { eye_size_mm, depth_mm: 36.0, bridge_mm }
}

/// Id, ours and expected as sphere, cylinder, axis, tolerance, source.
type Transposed = (&'static str, [f64; 3], [f64; 3], f64, &'static str);

#[test]
fn transposition_and_crossed_cylinders() {
    let minus = |s, c, axis| {
        let p = Power::new(s, c, axis);
        [p.sphere(), p.cylinder(), p.axis()]
    };
    let plus = |s, c, axis| {
        let (s, c, axis) = Power::new(s, c, axis).plus_form();
        [s, c, axis]
    };
    let rows: [Transposed; 8] = [
        ("RX-01", minus(-1.0, 1.0, 80.0), [0.0, -1.0, 170.0], 1e-9, NFOS),
        ("RX-02", minus(-1.0, 3.0, 110.0), [2.0, -3.0, 20.0], 1e-9, NFOS),
        ("RX-03", minus(-16.75, 2.0, 5.0), [-14.75, -2.0, 95.0], 1e-9, NFOS),
        ("RX-04", plus(0.5, -2.0, 30.0), [-1.5, 2.0, 120.0], 1e-9, NFOS),
        ("RX-05", plus(8.75, -2.25, 5.0), [6.5, 2.25, 95.0], 1e-9, NFOS),
        ("RX-06", plus(0.25, -0.5, 135.0), [-0.25, 0.5, 45.0], 1e-9, NFOS),
        ("RX-07", minus(-1.625, 1.75, 115.0), [0.125, -1.75, 25.0], 0.006, NFOS),
        (
            "RX-10",
            sum(Power::new(0.0, 2.0, 120.0), Power::new(0.0, -2.25, 80.0)),
            [1.244, -2.739, 57.005],
            5e-4,
            FORMULA,
        ),
    ];
    for (id, ours, expected, tolerance, source) in rows {
        for (ours, expected) in ours.into_iter().zip(expected) {
            check(&[row(id, ours, expected, tolerance, source)]);
        }
    }
    // RX-08: the sum of two sphero-cylinders whose axes cross at right angles; plano -1.50 x 135.
    let crossed = sum(Power::new(1.75, 0.5, 45.0), Power::new(-2.25, -1.0, 135.0));
    for (ours, expected) in crossed.into_iter().zip([0.0, -1.5, 135.0]) {
        check(&[row("RX-08", ours, expected, 1e-9, JALIE_2022_105)]);
    }
    let v = Power::new(2.0, -1.0, 30.0).vector();
    let m = Power::new(1.0, -2.0, 30.0).matrix();
    let residual = |c: f64, off: f64| {
        let eye = Power::new(0.0, c, 90.0).matrix() - Power::new(0.0, c, 90.0 + off).matrix();
        Power::from_matrix(&eye).cylinder().abs()
    };
    check(&[
        row("RX-12", sum(Power::new(0.0, 2.0, 90.0), Power::new(0.0, 1.0, 45.0))[1].abs(), 2.236, 5e-4, JALIE_2022_105),
        row("RX-13 M", v.m, 1.5, 5e-5, THIBOS),
        row("RX-13 J0", v.j0, 0.25, 5e-5, THIBOS),
        // Minus cylinder: J45 = -(C/2) sin 2a.
        row("RX-13 J45", v.j45, 0.433, 5e-5, THIBOS),
        row("RX-14 f11", m[(0, 0)], 0.5, 5e-5, "derived: Long 1976; Keating 1980"),
        row("RX-14 f12", m[(0, 1)], 0.866, 5e-5, "derived: Long 1976; Keating 1980"),
        row("RX-14 f22", m[(1, 1)], -0.5, 5e-5, "derived: Long 1976; Keating 1980"),
        row("RX-15", residual(-2.0, 5.0), 0.3486, 5e-5, FORMULA),
    ]);
}

fn sum(a: Power, b: Power) -> [f64; 3] {
    let p = a.plus(&b);
    [p.sphere(), p.cylinder(), p.axis()]
}

/// Back power that a recipe of this back vertex power gets on a true front power `f1`.
fn back_power(bvp: f64, f1: f64, t_mm: f64, index: f64) -> f64 {
    let base_curve_d = f1 * 0.53 / (index - 1.0);
    let recipe = Recipe { power: Power::spherical(bvp), prism: Prism::default(), index, base_curve_d };
    recipe.at_centre(t_mm).expect("a lens").back_powers_d()[0]
}

#[test]
fn vertex_power_and_effectivity() {
    let moved = |f: f64, closer: f64| Power::spherical(f).moved_toward_eye(closer).expect("no focus between").sphere();
    let separated = moved(4.0, 100.0) + 4.0;
    let worksheet = "read: OPT11 practice answers 11a, Vertex Power Worksheet";
    check(&[
        row(
            "VP-01",
            back_power(7.52, 10.25, 4.0, 1.586),
            -3.0,
            0.005,
            "read: opticaled.com, back vertex power, problem 1",
        ),
        row("VP-03", back_power(-5.49, 3.0, 2.2, 1.498), -8.5, 0.01, worksheet),
        row("VP-05", back_power(6.43, 9.5, 3.3, 1.66), -3.25, 0.01, worksheet),
        row("VP-06", back_power(16.16, 16.0, 11.4, 1.532), -2.0, 0.005, FORMULA),
        row("VP-07", separated, 10.7, 0.05, FORMULA),
        row("VP-08", moved(10.0, -10.0), 9.0, 0.5, FORMULA),
        row("VP-09", moved(-12.0, -4.0), -12.61, 0.005, FORMULA),
        row("VP-10", moved(13.0, 12.0), 15.5, 0.125, FORMULA),
    ]);
    let table = [
        (-20.0, -16.129),
        (-15.0, -12.712),
        (-10.0, -8.929),
        (-8.0, -7.299),
        (-6.0, -5.597),
        (-4.0, -3.817),
        (4.0, 4.202),
        (6.0, 6.466),
        (8.0, 8.85),
        (10.0, 11.364),
        (15.0, 18.293),
    ];
    for (spectacle, contact) in table {
        check(&[row("VP-11", moved(spectacle, 12.0), contact, 5e-4, "derived: Fc = F/(1 - d F)")]);
    }
}

#[test]
fn sags_thickness_and_surface_power() {
    let sag = |r: f64, y: f64| Surface::sphere(1.0 / r).sag(Vec2::new(y, 0.0)).expect("reaches");
    // TH-02: a plano-convex lens of crown glass with a +10.00 surface, edge 1.0 at y = 20: plano back.
    let plano_convex = {
        let mut case = Case::plain();
        case.shape = rimwise::outline::Shape::Circle;
        case.boxing = Boxing { eye_size_mm: 40.0, depth_mm: 40.0, bridge_mm: 20.0 };
        case.rx.pd_mm = 30.0;
        case.option = inline(1.523, 58.0, 2.54, 1.0, 1.0);
        // The front power of 10.00 as a base curve at 1.530; the back comes out plane where BVP = F1/(1 - t/n F1).
        case.option.base_curve_d = Some(10.0 * 0.53 / 0.523);
        let t = (1.0 + sag(52.3, 20.0)) / 1000.0;
        case.rx.power = Power::spherical(10.0 / (1.0 - t / 1.523 * 10.0));
        case.make().expect("can be made")
    };
    let thin = |power: Power, base: f64| {
        Recipe { power, prism: Prism::default(), index: 1.53, base_curve_d: base }.at_centre(1e-9).expect("a lens")
    };
    let toric = thin(Power::new(-2.0, -1.0, 45.0), 6.25).back_powers_d();
    let conic = Upright::Conicoid(Conicoid { c: 1.0 / 211.3684, k: 25.0 });
    let crown = |n: f64| Glass::new(n, 58.0, 2.5, ReferenceLine::D).curve_variation_factor();
    let clock = |reading: f64, n: f64| {
        Recipe { power: Power::spherical(0.0), prism: Prism::default(), index: n, base_curve_d: reading }
            .front_power_d()
    };
    let r1_radius = -1000.0 * (1.498 - 1.0) / back_power(4.0, 6.25, 4.0, 1.498);
    let shape_factor = |c1: f64, c2: f64| (c1 + c2) / (c1 - c2);
    let (nasal, temporal) = decentred_minus();
    let estimate = 29.0f64.powi(2) * 4.0 / (2000.0 * 0.6);
    check(&[
        row("TH-01", sag(52.3, 20.0), 3.98, 0.005, JALIE_2023_112),
        row("TH-02", plano_convex.lens.centre_mm(), 4.98, 0.005, JALIE_2023_112),
        row(
            "TH-03",
            1.0 + sag(523.0 / 14.0, 22.0) - sag(523.0 / 4.0, 22.0),
            6.3,
            0.01,
            "derived: inputs from the same column, example (ii)",
        ),
        row("TH-05", shape_factor(0.010_422_7, -0.040_694_6), -0.592_205, 5e-7, "read: J. Loomis, EOP 601 notes, 2011"),
        // Seven printed figures; they need 1/(1 - tF/n) in full.
        row("TH-06", r1_radius, 211.3684, 5e-5, JALIE_2022_89),
        row("TH-07", conic.sag(Vec2::new(2.0, 0.0)).expect("reaches"), 0.009, 5e-4, JALIE_2022_89),
        row("TH-09", thin(Power::spherical(3.0), 6.25).back_powers_d()[0], -3.25, 1e-9, FORMULA),
        row("TH-10 along", toric[0], -8.25, 1e-9, FORMULA),
        row("TH-10 across", toric[1], -9.25, 1e-9, FORMULA),
        row(
            "TH-11",
            rimwise::figures::radius_mm(clock_curvature(1.0)).expect("curved"),
            530.0,
            1e-6,
            "read: R. E. Parks, Optics & Photonics News 4(4), 1993",
        ),
        row("TH-12", 1.0 + 0.523 * 6.0 / (5.25 - 1.75), 1.8966, 5e-5, FORMULA),
        row("TH-13", clock(6.0, 1.67), 7.585, 5e-4, FORMULA),
        row("TH-14", crown(1.7), 0.75, 0.005, PERRET),
        row("TH-16 exact", sag(498.0 / 6.0, 25.0), 3.855, 5e-4, FORMULA),
        row("TH-19", plano_convex.volume_mm3, 3787.2, 0.05, "derived: V = pi z^2 (3r - z)/3 + pi y^2 e"),
        row("TH-19 mass", 2.54 * plano_convex.volume_mm3 / 1000.0, 9.619, 5e-4, "derived: the same x 2.54"),
        row("TH-21 nasal", nasal, 3.01, 5e-5, "derived: exact sags from the optical centre"),
        row("TH-21 temporal", temporal, 4.4477, 5e-5, "derived: exact sags from the optical centre"),
        row("TH-22", estimate, 2.8033, 5e-5, FORMULA),
        row("TH-22 exact", temporal - 1.5, 2.9477, 5e-5, FORMULA),
    ]);
    for (n, factor) in
        [(1.498, 1.05), (1.56, 0.934), (1.586, 0.892), (1.6, 0.872), (1.67, 0.781), (1.74, 0.707), (1.9, 0.581)]
    {
        check(&[row("TH-15", crown(n), factor, 5e-4, PERRET)]);
    }
    let plano = plano_convex.lens.back_powers_d()[0];
    assert!(plano.abs() < 1e-4, "the back of TH-02 is plane: {plano}");
}

fn clock_curvature(reading: f64) -> f64 {
    Recipe { power: Power::spherical(0.0), prism: Prism::default(), index: 1.53, base_curve_d: reading }
        .front_curvature()
}

/// TH-21: -4.00, n 1.600, front +3.00, centre 1.5, A 50, 4 mm in.
fn decentred_minus() -> (f64, f64) {
    let recipe =
        Recipe { power: Power::spherical(-4.0), prism: Prism::default(), index: 1.6, base_curve_d: 3.0 * 0.53 / 0.6 };
    let lens = recipe.at_centre(1.5).expect("a lens");
    let at = |x: f64| lens.thickness(Vec2::new(x, 0.0)).expect("reaches");
    (at(21.0), at(-29.0))
}

#[test]
fn boxing_blanks_and_layout() {
    let round = Outline::ellipse(54.0, 54.0);
    let oval = Outline::ellipse(50.0, 36.0);
    let far = |o: &Outline, x: f64| 2.0 * o.farthest_mm(Vec2::new(x, 0.0));
    let radius = |deg: f64| {
        // Radius of the oval in a direction, by stepping out to the outline.
        let toward = Vec2::from_angle(deg.to_radians());
        let (mut near, mut far) = (0.0, 60.0);
        for _ in 0..60 {
            let middle = 0.5 * (near + far);
            if oval.depth_inside_mm(toward * middle) > 0.0 { near = middle } else { far = middle }
        }
        near
    };
    let reach = Centration::new(&boxing(52.0, 18.0), 31.0, 0.0);
    let left = Centration::new(&boxing(52.0, 18.0), 32.5, 0.0);
    let effective = {
        let mut case = Case::plain();
        case.boxing = Boxing { eye_size_mm: 56.0, depth_mm: 40.0, bridge_mm: 14.0 };
        case.rx.pd_mm = 30.0;
        case.make().expect("can be made").blank
    };
    check(&[
        row("BX-01", far(&round, 3.0), 60.0, 1e-9, FORMULA),
        // BX-02 has 1 mm of allowance, ours is 2: ED 56, 5 mm in.
        row("BX-02", effective.rule_of_thumb_mm - 1.0, 67.0, 1e-9, FORMULA),
        row("BX-03", far(&oval, 4.0), 58.0, 1e-3, GEOMETRY),
        row("BX-06 0", radius(0.0), 25.0, 0.005, GEOMETRY),
        row("BX-06 45", radius(45.0), 20.66, 0.005, GEOMETRY),
        row("BX-06 90", radius(90.0), 18.0, 0.005, GEOMETRY),
        row("BX-07", oval.perimeter_mm(), 135.985, 5e-4, GEOMETRY),
        row("BX-10 plus", vogel_d(2.5), 8.5, 1e-9, "derived: Vogel's rule"),
        row("BX-10 minus", vogel_d(-5.5), 3.25, 1e-9, "derived: Vogel's rule"),
        row("BX-12 right", reach.in_mm, 4.0, 1e-9, FORMULA),
        row("BX-12 left", left.in_mm, 2.5, 1e-9, FORMULA),
        row("BX-14 oval", oval.effective_diameter_mm(), 50.0, 1e-9, FORMULA),
    ]);
    // The rule of thumb is exact only when the farthest point lies on the line of decentration; with the horizontal part
    // alone it can be too small.
    let mut case = Case::plain();
    case.rx.pd_mm = 33.0;
    case.up_mm = 6.0;
    let blank = case.make().expect("can be made").blank;
    let horizontal_alone = 50.0 + 2.0 * 1.0 + 2.0;
    assert!(blank.rule_of_thumb_mm > blank.minimum_mm, "{blank:?}");
    assert!(horizontal_alone < blank.minimum_mm, "{horizontal_alone} against {}", blank.minimum_mm);
}

#[test]
fn reflection_and_dispersion() {
    let reflectance = |n: f64| 100.0 * Glass::new(n, 58.0, 1.3, ReferenceLine::D).surface_reflectance();
    check(&[row("RF-01", reflectance(1.5), 4.0, 5e-3, FORMULA)]);
    for (n, percent) in [
        (1.498, 3.974),
        (1.523, 4.297),
        (1.56, 4.785),
        (1.586, 5.135),
        (1.6, 5.325),
        (1.67, 6.297),
        (1.74, 7.294),
        (1.9, 9.631),
    ] {
        check(&[row("RF-04", reflectance(n), percent, 5e-4, FORMULA)]);
    }
    // Open data, refractiveindex.info database (CC0): n_d, V_d → n_e by the two-term form, against the file's own n_e.
    // Its error is the form's: a few 1e-4 at most.
    for (name, n_d, v_d, n_e) in [
        ("crown 522-595", 1.52249, 59.48, 1.52458),
        ("borosilicate crown 517-642", 1.51680, 64.17, 1.51872),
        ("flint 620-364", 1.62004, 36.37, 1.62408),
        ("polycarbonate, Sultanova 2009", 1.58476, 27.86, 1.58975),
        ("lanthanum flint 883-408", 1.88300, 40.76, 1.88815),
    ] {
        let ours = Glass::from_d(n_d, v_d, 1.0, ReferenceLine::E).index;
        check(&[row(name, ours, n_e, 4e-4, "read: refractiveindex.info database, CC0")]);
    }
}
