//! Power and prism: meridians, transposition, sums, vertex power, Prentice's rule.

use super::*;
use crate::support::CONTACT_LENSES;
use rimwise::frame::Centration;
use rimwise::lens::Recipe;
use rimwise::rx::{Power, Prism, Segment};

pub(super) fn prentice_and_meridional_power() -> Vec<Row> {
    let along = |s, c, axis: f64, deg: f64| Power::new(s, c, axis).along(deg);
    let down = |power: Power, mm: f64| power.prentice_pd(0.0, -mm).1;
    let sum = Prism::new(1.5, 90.0).plus(Prism::new(2.0, 0.0));
    let long = Power::new(2.0, -1.0, 30.0).prentice_pd(5.0, 4.0);
    let degrees = |pd: f64| (pd / 100.0).atan().to_degrees();
    // The trade's thin prism is the limit of the exact one: seen at a hundredth of the amount.
    let lean = |pd: f64| {
        Recipe { power: Power::spherical(0.0), prism: Prism::new(pd, 0.0), index: 1.5, base_curve_d: 0.0 }.lean().x
    };
    // And the base lies where the rows say: looking below the centre of a plus lens finds base up.
    assert!(down(Power::spherical(8.5), 2.0) > 0.0 && down(Power::spherical(-8.5), 2.0) < 0.0);
    // What the right eye meets so far below its centre, less what the left one does.
    let imbalance = |right: Power, left: Power, mm: f64| down(right, mm) - down(left, mm);
    vec![
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
        row("PR-16 5", degrees(5.0), 2.8624, 5e-5, DEFINITION),
        row("PR-16 10", degrees(10.0), 5.7106, 5e-5, DEFINITION),
        row("PR-16 20", degrees(20.0), 11.3099, 5e-5, DEFINITION),
        row("PR-17", 100.0 * lean(0.03) * 50.0, 3.0, 1e-5, "derived: g = P d/(100 (n - 1)), Jalie"),
        row("PR-18", Centration::new(&layout::boxing(52.0, 18.0), 32.0, 0.0).in_mm, 3.0, 1e-9, PERRET),
        row(
            "DP-12",
            imbalance(Power::new(-3.0, -2.0, 180.0), Power::new(-2.75, -2.5, 90.0), 8.0).abs(),
            1.8,
            0.05,
            FORMULA,
        ),
        row(
            "DP-13",
            imbalance(Power::new(-4.0, 2.0, 60.0), Power::new(-3.0, 3.0, 45.0), 9.0).abs(),
            1.8,
            0.05,
            FORMULA,
        ),
        row(
            "DP-14",
            imbalance(Power::spherical(4.0), Power::spherical(1.0), 10.0),
            3.0,
            0.05,
            "read: opticaltraining.com, ABO Lens Materials, p 16",
        ),
    ]
}

pub(super) fn segments() -> Vec<Row> {
    let jump = |segment: Segment, add| segment.image_jump_pd(add);
    let five_below = Segment::flat_top(5.0);
    let chapter = "read: Ophthalmic Lenses, chapter 10, p 114";
    let module = "read: Durham Technical Community College, opticianry course OPH142, module 09e";
    // Base down, so below nought: round 22, its top 3 mm below the centre, read 8 mm below it.
    let below = |add| Segment::round(22.0).prism_up_pd(add, 8.0 - 3.0);
    vec![
        row("DP-01", jump(Segment::round(22.0), 2.0), 2.2, 0.05, "read: opticaltraining.com, ABO Lens Materials, p 10"),
        row("DP-02", jump(Segment::round(24.0), 2.0), 2.4, 0.05, chapter),
        row("DP-03", jump(five_below, 2.0), 1.0, 0.05, chapter),
        row("DP-04", jump(five_below, 3.0), 1.5, 0.05, FORMULA),
        row("DP-05", jump(five_below, 3.25), 1.63, 0.006, FORMULA),
        row("DP-06", jump(Segment::full_width(), 2.5), 0.0, 1e-9, "read: nbeopart2.com, image jump"),
        row("DP-10 add 1.50", below(1.5), -0.9, 0.05, module),
        row("DP-10 add 2.00", below(2.0), -1.2, 0.05, module),
        row("DP-10 add 2.50", below(2.5), -1.5, 0.05, module),
        row("DP-11", Segment::full_width().prism_up_pd(2.5, 8.0 - 4.0), 1.0, 0.05, module),
    ]
}

/// Id, ours and expected as sphere, cylinder, axis, tolerance, source.
type Transposed = (&'static str, [f64; 3], [f64; 3], f64, &'static str);

pub(super) fn transposition_and_crossed_cylinders() -> Vec<Row> {
    let mut all = transpositions();
    all.extend(vectors_and_matrices());
    all
}

fn transpositions() -> Vec<Row> {
    let minus = |s, c, axis| {
        let p = Power::new(s, c, axis);
        [p.sphere(), p.cylinder(), p.axis()]
    };
    let plus = |s, c, axis| {
        let (s, c, axis) = Power::new(s, c, axis).plus_form();
        [s, c, axis]
    };
    let rows: [Transposed; 9] = [
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
        // Two sphero-cylinders whose axes cross at right angles: plano -1.50 x 135.
        (
            "RX-08",
            sum(Power::new(1.75, 0.5, 45.0), Power::new(-2.25, -1.0, 135.0)),
            [0.0, -1.5, 135.0],
            1e-9,
            JALIE_2022_105,
        ),
    ];
    let each = |(id, ours, expected, tolerance, source): Transposed| {
        ours.into_iter().zip(expected).map(move |(ours, expected)| row(id, ours, expected, tolerance, source))
    };
    rows.into_iter().flat_map(each).collect()
}

fn vectors_and_matrices() -> Vec<Row> {
    let v = Power::new(2.0, -1.0, 30.0).vector();
    let m = Power::new(1.0, -2.0, 30.0).matrix();
    let residual = |c: f64, off: f64| {
        let eye = Power::new(0.0, c, 90.0).matrix() - Power::new(0.0, c, 90.0 + off).matrix();
        Power::from_matrix(&eye).cylinder().abs()
    };
    // The error of the axis that leaves so much cylinder, by bisection.
    let error = |c: f64, left: f64| {
        let (mut low, mut high) = (0.0, 45.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if residual(c, middle) < left { low = middle } else { high = middle }
        }
        low
    };
    vec![
        row("RX-12", sum(Power::new(0.0, 2.0, 90.0), Power::new(0.0, 1.0, 45.0))[1].abs(), 2.236, 5e-4, JALIE_FORM),
        row("RX-13 M", v.m, 1.5, 5e-5, THIBOS),
        row("RX-13 J0", v.j0, 0.25, 5e-5, THIBOS),
        // Minus cylinder: J45 = -(C/2) sin 2a.
        row("RX-13 J45", v.j45, 0.433, 5e-5, THIBOS),
        row("RX-14 f11", m[(0, 0)], 0.5, 5e-5, MATRIX),
        row("RX-14 f12", m[(0, 1)], 0.866, 5e-5, MATRIX),
        row("RX-14 f22", m[(1, 1)], -0.5, 5e-5, MATRIX),
        row("RX-15", residual(-2.0, 5.0), 0.3486, 5e-5, FORMULA),
        row("RX-16 0.25", error(-0.25, 0.12), 13.9, 0.05, FORMULA),
        row("RX-16 0.50", error(-0.5, 0.12), 6.9, 0.05, FORMULA),
        row("RX-16 0.75", error(-0.75, 0.12), 4.6, 0.05, FORMULA),
    ]
}

fn sum(a: Power, b: Power) -> [f64; 3] {
    let p = a.plus(&b);
    [p.sphere(), p.cylinder(), p.axis()]
}

/// Back power that a recipe of this back vertex power gets on a true front power `f1`.
pub(super) fn back_power(bvp: f64, f1: f64, t_mm: f64, index: f64) -> f64 {
    let base_curve_d = f1 * 0.53 / (index - 1.0);
    let recipe = Recipe { power: Power::spherical(bvp), prism: Prism::default(), index, base_curve_d };
    recipe.at_centre(t_mm).expect("a lens").back_powers_d()[0]
}

pub(super) fn vertex_power_and_effectivity() -> Vec<Row> {
    let moved = |f: f64, closer: f64| Power::spherical(f).moved_toward_eye(closer).expect("no focus between").sphere();
    let separated = moved(4.0, 100.0) + 4.0;
    let worksheet = "read: OPT11 practice answers 11a, Vertex Power Worksheet";
    let mut rows = vec![
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
    ];
    let contact =
        |(spectacle, contact)| row("VP-11", moved(spectacle, 12.0), contact, 5e-4, "derived: Fc = F/(1 - d F)");
    rows.extend(CONTACT_LENSES.map(contact));
    rows
}
