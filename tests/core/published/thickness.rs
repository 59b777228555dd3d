//! Sags, thickness, surface power.

use super::powers::back_power;
use super::*;
use crate::case::Case;
use crate::support::inline;
use kurbo::Vec2;
use rimwise::assess::Made;
use rimwise::frame::Boxing;
use rimwise::lens::Recipe;
use rimwise::light::ReferenceLine;
use rimwise::material::Glass;
use rimwise::outline::Shape;
use rimwise::rx::{Power, Prism};
use rimwise::surface::{Conicoid, Surface, Upright};

pub(super) fn sags_thickness_and_surface_power() -> Vec<Row> {
    let plano_convex = plano_convex();
    let thin = |power: Power, base: f64| {
        Recipe { power, prism: Prism::default(), index: 1.53, base_curve_d: base }.at_centre(1e-9).expect("a lens")
    };
    let toric = thin(Power::new(-2.0, -1.0, 45.0), 6.25).back_powers_d();
    let conic = Upright::Conicoid(Conicoid { c: 1.0 / 211.3684, k: 25.0 });
    let clock = |reading: f64, n: f64| {
        Recipe { power: Power::spherical(0.0), prism: Prism::default(), index: n, base_curve_d: reading }
            .front_power_d()
    };
    let r1_radius = -1000.0 * (1.498 - 1.0) / back_power(4.0, 6.25, 4.0, 1.498);
    // A lens of the curvatures printed; its power is 500 (c1 − c2) at index 1.5.
    let shape_factor = {
        let (front, back) = (0.010_422_7, -0.040_694_6);
        let power = Power::spherical(500.0 * (front - back));
        let recipe = Recipe { power, prism: Prism::default(), index: 1.5, base_curve_d: 530.0 * front };
        let (c1, c2) = (recipe.front_curvature(), recipe.at_centre(1e-12).expect("a lens").back_curvatures()[0]);
        (c1 + c2) / (c1 - c2)
    };
    // What a clock marked at 1.523 reads on the back of +6.00 with +5.25 in front, where the index is as found.
    let clock_back = {
        let (power, base_curve_d) = (Power::spherical(6.0), 5.25 * 0.53 / 0.523);
        let recipe = Recipe { power, prism: Prism::default(), index: 1.8966, base_curve_d };
        -523.0 * recipe.at_centre(1e-12).expect("a lens").back_curvatures()[0]
    };
    let (nasal, temporal) = decentred_minus();
    vec![
        row("TH-01", sag(52.3, 20.0), 3.98, 0.005, JALIE_2023_112),
        row("TH-02", plano_convex.lens.centre_mm(), 4.98, 0.005, JALIE_2023_112),
        row(
            "TH-03",
            1.0 + sag(523.0 / 14.0, 22.0) - sag(523.0 / 4.0, 22.0),
            6.3,
            0.01,
            "derived: inputs from the same column, example (ii)",
        ),
        row("TH-05", shape_factor, -0.592_205, 5e-7, "read: J. Loomis, EOP 601 notes, 2011"),
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
        // The index is given to 5e-5: 1.75 × 5e-5/0.5 and more on the clock.
        row("TH-12", clock_back, -1.75, 4e-4, FORMULA),
        row("TH-13", clock(6.0, 1.67), 7.585, 5e-4, FORMULA),
        row("TH-16 exact", sag(498.0 / 6.0, 25.0), 3.855, 5e-4, FORMULA),
        row("TH-19", plano_convex.volume_mm3, 3787.2, 0.05, "derived: V = pi z^2 (3r - z)/3 + pi y^2 e"),
        row("TH-19 mass", 2.54 * plano_convex.volume_mm3 / 1000.0, 9.619, 5e-4, "derived: the same x 2.54"),
        row("TH-21 nasal", nasal, 3.01, 5e-5, "derived: exact sags from the optical centre"),
        row("TH-21 temporal", temporal, 4.4477, 5e-5, "derived: exact sags from the optical centre"),
        row("TH-22 exact", temporal - 1.5, 2.9477, 5e-5, FORMULA),
    ]
}

fn sag(r: f64, y: f64) -> f64 {
    Surface::sphere(1.0 / r).sag(Vec2::new(y, 0.0)).expect("reaches")
}

/// TH-02: a plano-convex lens of crown glass with a +10.00 surface, edge 1.0 at y = 20: plano back.
fn plano_convex() -> Made {
    let mut case = Case::plain();
    case.shape = Shape::Circle;
    case.boxing = Boxing { eye_size_mm: 40.0, depth_mm: 40.0, bridge_mm: 20.0 };
    case.rx.pd_mm = 30.0;
    case.option = inline(1.523, 58.0, 2.54, 1.0, 1.0);
    // The front power of 10.00 as a base curve at 1.530; the back comes out plane where BVP = F1/(1 - t/n F1).
    case.option.base_curve_d = Some(10.0 * 0.53 / 0.523);
    let t = (1.0 + sag(52.3, 20.0)) / 1000.0;
    case.rx.power = Power::spherical(10.0 / (1.0 - t / 1.523 * 10.0));
    let made = case.make().expect("can be made");
    let plano = made.lens.back_powers_d()[0];
    assert!(plano.abs() < 1e-4, "the back of TH-02 is plane: {plano}");
    made
}

pub(super) fn curve_variation() -> Vec<Row> {
    let crown = |n: f64| Glass::new(n, 58.0, 2.5, ReferenceLine::D).curve_variation_factor();
    let worked =
        [(1.498, 1.05), (1.56, 0.934), (1.586, 0.892), (1.6, 0.872), (1.67, 0.781), (1.74, 0.707), (1.9, 0.581)];
    let mut rows = vec![row("TH-14", crown(1.7), 0.75, 0.005, PERRET)];
    rows.extend(worked.map(|(n, factor)| row("TH-15", crown(n), factor, 5e-4, PERRET_FORM)));
    rows
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
