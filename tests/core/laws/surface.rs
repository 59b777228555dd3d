//! Every surface keeps its promise, and is what its name says.
//!
//! Units: mm, curvature 1/mm.

use super::{Seen, check, near};
use crate::dense;
use kurbo::Vec2;
use proptest::prelude::*;
use rimwise::eye::Eye;
use rimwise::outline::{Outline, Shape};
use rimwise::surface::{Conicoid, Jet, Surface, Torus, Turned, Upright};

/// How many kinds [`kind`] tells apart.
const KINDS: usize = 5;

/// A match without a wildcard: a new kind of surface does not compile until it has a number here, and no test passes
/// until [`specimens`] holds one of it.
fn kind(surface: &Surface) -> usize {
    match surface {
        Surface::Upright(Upright::Conicoid(_)) => 0,
        Surface::Upright(Upright::Torus(_)) => 1,
        Surface::Turned(turned) => match turned.upright() {
            // Closed form and Newton.
            Upright::Conicoid(Conicoid { k: 0.0, c: _ }) => 2,
            Upright::Conicoid(Conicoid { k: _, c: _ }) => 3,
            Upright::Torus(_) => 4,
        },
    }
}

fn torus(along: f64, across: f64, axis: f64) -> Upright {
    Upright::Torus(Torus::new(along, across, axis))
}

/// At least one of every kind, by name; all reach beyond 40 mm from their vertex, and none is steep there.
fn specimens() -> Vec<(&'static str, Surface)> {
    let conicoid = |c, k| Upright::Conicoid(Conicoid { c, k });
    let turned = |upright, x, y| Surface::Turned(Turned::new(upright, Vec2::new(x, y)));
    let found = vec![
        ("sphere", Surface::sphere(0.019)),
        ("sphere, hollow to the front", Surface::sphere(-0.015)),
        ("plane", Surface::sphere(0.0)),
        ("ellipsoid", Surface::Upright(conicoid(0.02, -0.6))),
        ("hyperboloid", Surface::Upright(conicoid(0.02, -1.8))),
        ("oblate", Surface::Upright(conicoid(-0.013, 0.7))),
        ("torus", Surface::Upright(torus(0.011, 0.02, 25.0))),
        ("torus, steeper along", Surface::Upright(torus(0.019, 0.006, 160.0))),
        ("torus, hollow to the front", Surface::Upright(torus(-0.018, -0.007, 77.0))),
        ("capstan", Surface::Upright(torus(-0.008, 0.017, 40.0))),
        ("capstan the other way", Surface::Upright(torus(0.016, -0.009, 128.0))),
        ("cylinder", Surface::Upright(torus(0.0, 0.018, 33.0))),
        ("sphere turned", turned(Upright::sphere(0.017), 0.08, -0.05)),
        ("plane turned", turned(Upright::sphere(0.0), -0.06, 0.1)),
        ("conicoid turned", turned(conicoid(0.018, -0.5), 0.05, 0.09)),
        ("torus turned", turned(torus(0.009, 0.018, 112.0), -0.09, 0.04)),
        ("capstan turned", turned(torus(-0.007, 0.016, 65.0), 0.07, 0.07)),
        ("cylinder turned", turned(torus(0.0, 0.017, 140.0), 0.03, -0.11)),
    ];
    for wanted in 0..KINDS {
        assert!(found.iter().any(|(_, surface)| kind(surface) == wanted), "no specimen of kind {wanted}");
    }
    found
}

fn places() -> impl Iterator<Item = Vec2> {
    [0.0, 3.0, 11.0, 23.0, 34.0].into_iter().flat_map(|r| (0..9).map(move |i| r * Vec2::from_angle(0.7 * f64::from(i))))
}

fn sag(surface: &Surface, p: Vec2) -> f64 {
    surface.sag(p).expect("a specimen reaches that far")
}

/// Central difference of fourth order: with steps of 0.05 mm its error is below 1e-11 on anything that bends as gently
/// as a specimen, and rounding adds 1e-12.
fn difference(f: impl Fn(f64) -> f64) -> f64 {
    let h = 0.05;
    (8.0 * (f(h) - f(-h)) - (f(2.0 * h) - f(-2.0 * h))) / (12.0 * h)
}

#[test]
fn sag_slope_and_jet_are_of_one_surface() {
    /// Of the differences, of two ways to round, and of a foot found to 1e-15.
    const BOUND: f64 = 1e-10;
    let mut bent = 0;
    for (name, surface) in specimens() {
        for p in places() {
            let z = sag(&surface, p);
            let slope = surface.slope(p).expect("reaches");
            let jet = surface.jet(p).expect("reaches");
            let x = |h: f64| p + Vec2::new(h, 0.0);
            let y = |h: f64| p + Vec2::new(0.0, h);
            let gradient = |q: Vec2| surface.slope(q).expect("reaches").gradient;
            for (what, ours, other) in [
                ("slope's sag", slope.z, z),
                ("jet's sag", jet.z, z),
                ("slope's x", slope.gradient.x, difference(|h| sag(&surface, x(h)))),
                ("slope's y", slope.gradient.y, difference(|h| sag(&surface, y(h)))),
                ("zx", jet.zx, slope.gradient.x),
                ("zy", jet.zy, slope.gradient.y),
                ("zxx", jet.zxx, difference(|h| gradient(x(h)).x)),
                ("zxy", jet.zxy, difference(|h| gradient(x(h)).y)),
                ("zyx", jet.zxy, difference(|h| gradient(y(h)).x)),
                ("zyy", jet.zyy, difference(|h| gradient(y(h)).y)),
            ] {
                assert!((ours - other).abs() < BOUND, "{name} at {p:?}: {what} {ours} against {other}, bound {BOUND}");
            }
            bent += usize::from(jet.zxy.abs() > 1e-3);
        }
    }
    assert!(bent > 200, "only {bent} places with a twist to get wrong");
}

#[test]
fn the_vertex_is_where_it_should_be() {
    for (name, surface) in specimens() {
        let jet = surface.jet(Vec2::ZERO).expect("the vertex");
        let lean = match surface {
            Surface::Upright(_) => Vec2::ZERO,
            // The turn's own axis: its normal goes to (−lean, 1).
            Surface::Turned(turned) => {
                let m = turned.matrix();
                Vec2::new(-m[(0, 2)] / m[(2, 2)], -m[(1, 2)] / m[(2, 2)])
            }
        };
        assert!(jet.z.abs() < 1e-15, "{name}: {}", jet.z);
        assert!((jet.gradient() - lean).hypot() < 1e-15, "{name}: {:?} against {lean:?}", jet.gradient());
    }
}

/// The torus by its geometry: taken about the axis of the sweep, a line along w at distance 1/c_f, until it lies in the
/// plane of the swept circle; there it lies on that circle.
#[test]
fn a_torus_is_a_circle_swept_round_an_axis() {
    let seen = Seen::default();
    let curvatures = prop_oneof![6 => -0.021..0.021f64, 1 => Just(0.0)];
    check(
        512,
        &(curvatures.clone(), curvatures, 0.0..180.0f64, 0.0..1.0f64, 0.0..6.3f64),
        |(along, across, axis, r, toward)| {
            let reach = 0.95 / f64::max(along.abs(), across.abs()).max(0.02);
            let p = r * reach * Vec2::from_angle(toward);
            let Some(z) = torus(along, across, axis).sag(p) else { return Ok(()) };
            let (s, c) = axis.to_radians().sin_cos();
            let (u, w) = (p.x * c + p.y * s, p.y * c - p.x * s);
            let (flat, steep, u, w) =
                if along.abs() <= across.abs() { (along, across, u, w) } else { (across, along, -w, u) };
            // Where the point comes to in the plane of the circle.
            let z = if flat == 0.0 { z } else { 1.0 / flat - flat.signum() * u.hypot(z - 1.0 / flat) };
            // On the circle z² + w² = 2 z/c, as c (z² + w²)/2 = z. Radii up to 1e5 mm cost digits.
            let off = 0.5 * steep * (z * z + w * w) - z;
            near("off the circle", off, 0.0, 1e-9)?;
            seen.count("capstan", flat * steep < 0.0);
            seen.count("steep", r > 0.9);
            seen.count("cylinder", flat == 0.0 && steep != 0.0);
            // Two sags added are another surface.
            let added = Surface::sphere(flat).sag(Vec2::new(u, 0.0)).zip(Surface::sphere(steep).sag(Vec2::new(w, 0.0)));
            seen.count("no sum of sags", added.is_some_and(|(a, b)| (a + b - z).abs() > 0.05));
            Ok(())
        },
    );
    seen.at_least(30);
}

#[test]
fn equal_radii_make_a_sphere_and_no_curvature_a_plane() {
    for p in places() {
        for c in [-0.02, -1e-9, 0.0, 1e-12, 0.004, 0.021] {
            let (sphere, torus) = (Surface::sphere(c), Surface::Upright(torus(c, c, 37.0)));
            let (a, b) = (sphere.jet(p).expect("reaches"), torus.jet(p).expect("reaches"));
            let apart = numbers(&a).into_iter().zip(numbers(&b)).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            assert!(apart < 1e-13, "c = {c} at {p:?}: {a:?} against {b:?}");
        }
        for plane in [Surface::sphere(0.0), Surface::Upright(torus(0.0, 0.0, 12.0))] {
            assert_eq!(numbers(&plane.jet(p).expect("a plane reaches")), [0.0; 6], "{plane:?}");
        }
        // A weak curve keeps its digits: c h/2 to the last place, where R - sqrt(R² - h) would have none left.
        let (weak, h) = (1e-13, p.hypot2());
        let ours = sag(&Surface::sphere(weak), p);
        assert!((ours - 0.5 * weak * h).abs() <= 1e-15 * weak * h, "{ours} against {}", 0.5 * weak * h);
        let naive = 1.0 / weak - ((1.0 / weak).powi(2) - h).sqrt();
        assert!(
            p == Vec2::ZERO || (naive - ours).abs() > 1e-3 * ours,
            "the naive form would have done: {naive} {ours}"
        );
    }
}

fn numbers(jet: &Jet) -> [f64; 6] {
    let Jet { z, zx, zy, zxx, zxy, zyy } = *jet;
    [z, zx, zy, zxx, zxy, zyy]
}

#[test]
fn turned_by_nothing_is_upright() {
    for (name, surface) in specimens() {
        let Surface::Upright(upright) = surface else { continue };
        let turned = Surface::Turned(Turned::new(upright, Vec2::ZERO));
        for p in places() {
            let (a, b) = (surface.jet(p).expect("reaches"), turned.jet(p).expect("reaches"));
            let apart = numbers(&a).into_iter().zip(numbers(&b)).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            assert!(apart < 1e-14, "{name} at {p:?}: {a:?} against {b:?}");
        }
    }
}

/// A turned surface is the upright one moved in space by the least turn: in the plane through the base a rotation, at
/// right angles to it nothing. No cross product is needed, so left-handed axes do not matter.
#[test]
fn turned_is_the_upright_surface_moved_in_space() {
    let seen = Seen::default();
    let curvature = || -0.02..0.02f64;
    let lean = (0.0..0.35f64, 0.0..6.3f64);
    check(
        256,
        &(curvature(), curvature(), 0.0..180.0, lean, 0.0..30.0f64, 0.0..6.3f64),
        |(a, b, axis, lean, r, toward)| {
            let upright = torus(a, b, axis);
            let base = Vec2::from_angle(lean.1);
            let turned = Surface::Turned(Turned::new(upright, base * lean.0));
            // A point of the upright surface goes to where the turned one must pass.
            let own = r * Vec2::from_angle(toward);
            let Some(z) = upright.sag(own) else { return Ok(()) };
            let (sin, cos) = lean.0.atan().sin_cos();
            let (along, across) = (own.dot(base), base.cross(own));
            let (moved, height) = (along * cos - z * sin, along * sin + z * cos);
            let at = base * moved + Vec2::new(-base.y, base.x) * across;
            let found = turned.sag(at);
            prop_assert!(found.is_some(), "the surface is lost at {at:?}");
            near("height", found.unwrap_or(f64::NAN), height, 1e-12)?;
            // A slope added instead.
            let added = upright.sag(at).map(|z| z + lean.0 * moved);
            seen.count("a slope added is off", added.is_none_or(|added| (added - height).abs() > 0.01));
            seen.count("capstan", a * b < 0.0);
            seen.count("strong turn", lean.0 > 0.2);
            Ok(())
        },
    );
    seen.at_least(60);
}

fn outlines() -> [Outline; 4] {
    let drawn = |word, eye| Shape::from_word(word).expect("a shape").outline(eye, 38.0, 27.0);
    [
        Outline::ellipse(40.0, 28.0),
        Outline::ellipse(36.0, 36.0),
        drawn("cat-eye", Eye::Left),
        drawn("hexagon", Eye::Right),
    ]
}

/// ∬ z dA by going round the outline, and by looking at the whole area. The quadrature of the test is finer than it need
/// be, so what is left is what the few nodes of a torus's fan leave.
#[test]
fn the_volume_below_a_surface_is_found_by_going_round_it() {
    const BOUND: f64 = 1e-9;
    let mut worst = 0f64;
    for (name, surface) in specimens() {
        for outline in outlines() {
            // The vertex well inside, near the rim, and outside the shape.
            for vertex in [Vec2::new(3.0, -2.0), Vec2::new(-17.0, 1.0), Vec2::new(14.0, 17.0)] {
                let green = dense::round(&outline, |u| {
                    let jet = outline.curve().jet(u);
                    surface.rim(jet.p - vertex, jet.d1).expect("reaches").below
                });
                let plain = dense::over(&outline, |q| sag(&surface, q - vertex));
                let size = dense::over(&outline, |q| sag(&surface, q - vertex).abs()).max(1.0);
                let off = (green - plain) / size;
                assert!(
                    off.abs() < BOUND,
                    "{name}, vertex {vertex:?}: {green} against {plain}, {off} of it, bound {BOUND}"
                );
                worst = worst.max(off.abs());
            }
            // And its jet is the surface's own.
            let jet = outline.curve().jet(1.3);
            let p = jet.p - Vec2::new(3.0, -2.0);
            assert_eq!(surface.rim(p, jet.d1).map(|rim| rim.jet), surface.jet(p), "{name}");
        }
    }
    assert!(worst > 0.0, "the two ways are not two");
}

/// The fan of a torus holds its accuracy to where the torus ends: the number of nodes follows.
#[test]
fn the_fan_of_a_torus_is_right_to_its_end() {
    /// A hundredth of what a volume may be off; the widest lenses of each rule come to 8e-10.
    const BOUND: f64 = 1e-9;
    let mut steep = 0;
    for (along, across) in [(0.01, 0.03), (0.028, 0.03), (-0.012, 0.03), (0.0, 0.03), (-0.029, 0.03)] {
        let upright = torus(along, across, 20.0);
        for share in [0.2, 0.34, 0.35, 0.54, 0.55, 0.74, 0.75, 0.86, 0.87, 0.93, 0.94, 0.97, 0.98, 0.985] {
            for toward in [0.0, 20.0f64.to_radians(), 65.0f64.to_radians(), 110.0f64.to_radians()] {
                let p = share / 0.03 * Vec2::from_angle(toward);
                let Some(ours) = upright.fan(p) else { continue };
                // Panels that narrow toward the end.
                let at = |v: f64| upright.sag(p * v).expect("within") * v;
                let ends = (0..=20).map(|i| 1.0 - 0.7f64.powi(i)).chain([1.0]);
                let ends: Vec<f64> = ends.collect();
                let panels = ends.windows(2).flat_map(|ends| dense::gauss(ends[0], ends[1]));
                let slow: f64 = panels.map(|(v, weight)| weight * at(v)).sum();
                let size = p.hypot2() * 0.03 / 8.0;
                assert!(
                    (ours - slow).abs() < BOUND * size,
                    "{along} {across} at {share} toward {toward}: {ours} against {slow}, {:e} of {size}",
                    (ours - slow) / size
                );
                steep += usize::from(share > 0.9);
            }
        }
    }
    assert!(steep > 50, "only {steep} steep ones");
}

#[test]
fn a_surface_ends_where_it_says() {
    let seen = Seen::default();
    for (name, surface) in specimens() {
        for i in 0..24 {
            let toward = Vec2::from_angle(f64::from(i) * 0.2618);
            let Some(reach) = surface.reach_toward(toward * 200.0) else { continue };
            assert!(surface.reach_toward(toward * (reach - 1e-6)).is_none(), "{name} toward {toward:?}");
            assert!(surface.sag(toward * (reach - 1e-6)).is_some(), "{name} ends before {reach}");
            assert!(surface.sag(toward * (reach + 1e-6)).is_none(), "{name} goes on beyond {reach}");
            seen.count("ends", true);
            seen.count("a turned one ends", kind(&surface) > 1);
        }
    }
    let sphere = Surface::sphere(0.02).reach_toward(Vec2::new(30.0, 60.0)).expect("it ends");
    assert!((sphere - 50.0).abs() < 1e-9, "a sphere reaches its radius: {sphere} against 50");
    seen.at_least(50);
}

/// A turned surface ends where its own hemisphere does: beyond, a lens would have to be cut from behind, and gradient and
/// volume would be those of the other half. The sphere, whose foot is found in closed form, and a torus of next to the
/// same radii, whose foot is searched for, reach equally far.
#[test]
fn a_turned_surface_ends_with_its_own_hemisphere_and_not_before() {
    let (mut both, mut neither, mut steep) = (0, 0, 0);
    for (c, lean) in [(0.035, 0.3), (0.035, 0.1), (0.025, 0.2), (-0.03, 0.15), (0.03, 0.02)] {
        let lean = lean * Vec2::from_angle(0.4);
        let turned = |upright| Turned::new(upright, lean);
        let (sphere, torus) = (turned(Upright::sphere(c)), turned(torus(c, c * (1.0 + 1e-9), 20.0)));
        let own_height = |p: Vec2, z: f64| {
            let own = sphere.matrix().transpose() * nalgebra::Vector3::new(p.x, p.y, z);
            (own.z, sphere.upright().sag(Vec2::new(own.x, own.y)))
        };
        for toward in 0..72 {
            for r in 0..100 {
                let p = (0.5 * f64::from(r) + 0.013) * Vec2::from_angle(f64::from(toward).to_radians() * 5.0);
                let jets = [Surface::Turned(sphere), Surface::Turned(torus)].map(|surface| surface.jet(p));
                match jets {
                    [Some(a), Some(b)] => {
                        let (own, upright) = own_height(p, a.z);
                        assert!(upright.is_some_and(|z| (z - own).abs() < 1e-5), "{p:?}: {own} and {upright:?}");
                        // Steeper than this the difference of the two, a billionth of their curvature, is blown up.
                        let slope = a.gradient().hypot();
                        let apart = (a.z - b.z).abs().max((a.gradient() - b.gradient()).hypot());
                        assert!(slope > 10.0 || apart < 1e-4, "{p:?}: {a:?} {b:?}");
                        steep += usize::from(slope > 1.5);
                        both += 1;
                    }
                    [None, None] => neither += 1,
                    [a, b] => panic!("curvature {c}, {lean:?}, at {p:?}: the sphere has {a:?}, the torus {b:?}"),
                }
            }
        }
    }
    assert!(both > 20_000 && neither > 5000 && steep > 1500, "{both} {neither} {steep}");
}
