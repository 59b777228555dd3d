//! Laws that hold for every prescription, surface, outline and lens, over many inputs that are the same on every machine.
//! Each law counts the hard cases it met, or shows how the naive way would have gone wrong.

mod lens;
mod monotone;
mod outline;
mod rx;
mod split;
mod surface;

use crate::case::{Case, show};
use crate::support::inline;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed, TestRunner};
use rimwise::eye::Eye;
use rimwise::frame::Boxing;
use rimwise::outline::Shape;
use rimwise::rim::Rim;
use rimwise::rx::{EyeRx, Power, Prism};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Tries a law on this many inputs, always the same ones. For a long run `TIMES=100` tries a hundred times as many, and
/// `SHOW=1` with `--nocapture` says which hard cases were met and how near to its bound each law came.
fn check<S: Strategy>(inputs: u32, from: &S, law: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let times = std::env::var("TIMES").ok().and_then(|times| times.parse().ok()).unwrap_or(1);
    let config = Config {
        cases: inputs * times,
        rng_seed: RngSeed::Fixed(20_260_310),
        failure_persistence: None,
        ..Config::default()
    };
    if let Err(broken) = TestRunner::new(config).run(from, law) {
        panic!("{broken}");
    }
}

/// Two numbers within a bound of each other; says both and the bound where they are not.
fn near(what: &str, ours: f64, other: f64, bound: f64) -> Result<(), TestCaseError> {
    prop_assert!((ours - other).abs() <= bound, "{what}: {ours} against {other}, {} off, bound {bound}", ours - other);
    Ok(())
}

/// How often each hard case was met, and the worst that was seen of anything.
#[derive(Default)]
struct Seen {
    counts: RefCell<BTreeMap<&'static str, usize>>,
    worst: RefCell<BTreeMap<&'static str, f64>>,
}

impl Seen {
    fn count(&self, what: &'static str, met: bool) {
        *self.counts.borrow_mut().entry(what).or_default() += usize::from(met);
    }

    fn worst(&self, what: &'static str, value: f64) {
        let mut worst = self.worst.borrow_mut();
        let kept = worst.entry(what).or_default();
        *kept = kept.max(value.abs());
    }

    /// Every hard case that was looked for was met at least so often.
    fn at_least(&self, least: usize) {
        let counts = self.counts.borrow();
        assert!(!counts.is_empty() && counts.values().all(|met| *met >= least), "fewer than {least} of: {counts:?}");
        show(|| format!("met: {counts:?}\nworst: {:?}", self.worst.borrow()));
    }
}

fn eyes() -> impl Strategy<Value = Eye> {
    prop_oneof![Just(Eye::Right), Just(Eye::Left)]
}

/// A power in minus-cylinder form, often without cylinder and often with a plano meridian.
fn powers(sphere: std::ops::Range<f64>, cylinder: f64) -> impl Strategy<Value = Power> {
    let axis = prop_oneof![4 => 0.0..180.0, 1 => Just(180.0), 1 => Just(90.0)];
    (sphere, prop_oneof![1 => Just(0.0), 2 => cylinder..-0.1], axis, 0..8u8).prop_map(
        |(sphere, cylinder, axis, plano)| match plano {
            0 => Power::new(0.0, cylinder, axis),
            1 => Power::new(-cylinder, cylinder, axis),
            _ => Power::new(sphere, cylinder, axis),
        },
    )
}

fn prisms(most_pd: f64) -> impl Strategy<Value = Prism> {
    prop_oneof![
        1 => Just(Prism::default()),
        1 => (0.25..most_pd, 0.0..360.0).prop_map(|(amount, base)| Prism::new(amount, base)),
    ]
}

/// Shape, eye size, depth and bridge.
fn frames() -> impl Strategy<Value = (Shape, Boxing)> {
    let shapes: Vec<Shape> = Shape::all().collect();
    (0..shapes.len(), 40.0..60.0, 0.45..1.0, 14.0..22.0).prop_map(move |(shape, eye_size_mm, share, bridge_mm)| {
        let shape = shapes[shape];
        let depth_mm = if shape == Shape::Circle { eye_size_mm } else { eye_size_mm * share };
        (shape, Boxing { eye_size_mm, depth_mm, bridge_mm })
    })
}

/// Any lens that might be ordered, and some that hardly would. `up` is a share of half the depth: the reference point
/// lies outside the shape now and then.
fn lenses() -> impl Strategy<Value = Case> {
    let up = prop_oneof![3 => -0.5..0.6, 1 => -1.1..1.4];
    let rx = (powers(-12.0..8.0, -5.0), prisms(8.0), 25.0..38.0);
    let base = prop_oneof![Just(0.0), Just(0.5), Just(2.0), Just(4.0), Just(6.0), Just(8.0)];
    let option = (1.49..1.9, 0.6..2.6, 0.6..2.2, base);
    let rim = (0..Rim::ALL.len()).prop_map(|i| Rim::ALL[i]);
    (eyes(), rx, frames(), up, option, rim).prop_map(
        |(eye, (power, prism, pd_mm), (shape, boxing), up, (index, centre, edge, base), rim)| {
            let mut option = inline(index, 40.0, 1.3, centre, edge);
            option.base_curve_d = Some(base);
            let rx = EyeRx { power, prism, pd_mm, add: None };
            Case { eye, rx, shape, boxing, up_mm: up * 0.5 * boxing.depth_mm, rim, option }
        },
    )
}
