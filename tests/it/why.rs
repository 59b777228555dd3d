//! Shares of a difference: by hand, by every order of the causes one after another, and by their laws.

use crate::report::{DEMO_JOBS, demo, golden, job, skeleton};
use crate::support::{Chance, inline};
use rimwise::assess::{Fit, Mounting};
use rimwise::choose::LensOption;
use rimwise::eye::{Eye, Eyes};
use rimwise::frame::{Boxing, Frame};
use rimwise::job::Job;
use rimwise::light::ReferenceLine;
use rimwise::outline::Shape;
use rimwise::report::{text, wire};
use rimwise::rim::Rim;
use rimwise::rx::{EyeRx, Power, Prescription, Prism};
use rimwise::study::compare::Comparison;
use rimwise::study::mixture::Cause;
use rimwise::study::why::{Shared, Unshared, Why, why};
use serde_json::Value;

/// Shares add up to this, and agree with a second route to it.
const EXACT: f64 = 1e-9;

/// Everything that thickness and mass hang on, one lens option made to order.
#[derive(Clone)]
struct Order {
    prescription: Prescription,
    frame: Frame,
    option: LensOption,
}

impl Order {
    fn any(chance: &mut Chance) -> Order {
        let mut eye = || EyeRx {
            power: Power::new(chance.within(-8.0, 4.0), chance.within(-2.0, 0.0), chance.within(0.0, 180.0)),
            prism: if chance.share() < 0.3 { Prism::new(chance.within(0.5, 3.0), 40.0) } else { Prism::default() },
            pd_mm: chance.within(29.0, 34.0),
            add: None,
        };
        let eyes = Eyes { right: eye(), left: eye() };
        let shapes: Vec<Shape> = Shape::all().collect();
        let shape = shapes[(chance.share() * shapes.len() as f64) as usize];
        let eye_size_mm = chance.within(42.0, 50.0);
        let boxing = Boxing { eye_size_mm, depth_mm: chance.within(32.0, 40.0), bridge_mm: chance.within(16.0, 22.0) };
        let mut frame = Frame::new("Fennel", shape, vec![boxing], chance.one_of(&Rim::ALL));
        let up_mm = chance.within(-2.0, 3.0);
        frame.centre_up_mm = Eyes { right: up_mm, left: up_mm };
        let (index, density) = (chance.within(1.49, 1.8), chance.within(1.1, 3.0));
        let mut option = inline(index, 40.0, density, chance.within(1.0, 2.0), chance.within(0.8, 1.6));
        option.base_curve_d = Some(chance.one_of(&[1.0, 2.0, 3.0, 4.0]));
        let prescription = Prescription { eyes, vertex_mm: None, reference_line: ReferenceLine::D };
        Order { prescription, frame, option }
    }

    /// The same with one thing of another order.
    fn with(mut self, cause: Cause, other: &Order) -> Order {
        let boxing = &mut self.frame.sizes[0];
        match cause {
            Cause::Prescription => {
                for (own, new) in [
                    (&mut self.prescription.eyes.right, &other.prescription.eyes.right),
                    (&mut self.prescription.eyes.left, &other.prescription.eyes.left),
                ] {
                    (own.power, own.prism) = (new.power, new.prism);
                }
            }
            Cause::Position => {
                self.prescription.eyes.right.pd_mm = other.prescription.eyes.right.pd_mm;
                self.prescription.eyes.left.pd_mm = other.prescription.eyes.left.pd_mm;
                self.frame.centre_up_mm = other.frame.centre_up_mm.clone();
            }
            Cause::EyeSize => boxing.eye_size_mm = other.frame.sizes[0].eye_size_mm,
            Cause::Depth => boxing.depth_mm = other.frame.sizes[0].depth_mm,
            Cause::Bridge => boxing.bridge_mm = other.frame.sizes[0].bridge_mm,
            Cause::Shape => self.frame.shape = other.frame.shape.clone(),
            Cause::Rim => self.frame.rim = other.frame.rim,
            Cause::Index => self.option.substance = self.glass(other.index(), self.density()),
            Cause::Density => self.option.substance = self.glass(self.index(), other.density()),
            Cause::MinCentre => self.option.min_centre_mm = other.option.min_centre_mm,
            Cause::MinEdge => self.option.min_edge_mm = other.option.min_edge_mm,
            Cause::Base => self.option.base_curve_d = other.option.base_curve_d,
            Cause::Supply => unreachable!("all of these are made to order"),
        }
        self
    }

    fn glass(&self, index: f64, density: f64) -> rimwise::choose::Substance {
        inline(index, 40.0, density, 1.0, 1.0).substance
    }

    fn index(&self) -> f64 {
        self.option.substance.glass(ReferenceLine::D).index
    }

    fn density(&self) -> f64 {
        self.option.substance.glass(ReferenceLine::D).density
    }

    fn fit(&self) -> Fit<'_> {
        Fit::new(&Mounting::new(&self.frame, self.frame.sizes[0]), &self.prescription, &self.option)
    }

    /// Thickest edge, centre and mass of the pair.
    fn figures(&self) -> Option<[f64; 3]> {
        let fit = self.fit();
        let pair = fit.pair()?;
        Some([pair.edge_max_mm(), pair.centre_max_mm()?, pair.mass_g()])
    }
}

/// All orders of n things.
fn orders(n: usize) -> Vec<Vec<usize>> {
    if n == 0 {
        return vec![Vec::new()];
    }
    let shorter = orders(n - 1);
    let put = |order: &Vec<usize>| (0..n).map(|at| [&order[..at], &[n - 1], &order[at..]].concat()).collect::<Vec<_>>();
    shorter.iter().flat_map(put).collect()
}

/// The shares by their definition: what each cause changes where it comes, averaged over all orders; orders worked from the
/// beginning.
fn by_orders(from: &Order, to: &Order, causes: &[Cause]) -> Option<Vec<[f64; 3]>> {
    let figures = |set: usize| {
        let members = causes.iter().enumerate().filter(|(i, _)| set >> i & 1 == 1);
        members.fold(from.clone(), |order, (_, cause)| order.with(*cause, to)).figures()
    };
    let table: Vec<[f64; 3]> = (0..1 << causes.len()).map(figures).collect::<Option<_>>()?;
    let orders = orders(causes.len());
    let mut shares = vec![[0.0; 3]; causes.len()];
    for order in &orders {
        let mut set = 0;
        for &cause in order {
            let next = set | 1 << cause;
            for (share, (after, before)) in shares[cause].iter_mut().zip(table[next].iter().zip(table[set])) {
                *share += (after - before) / orders.len() as f64;
            }
            set = next;
        }
    }
    Some(shares)
}

fn share(why: &Why<'_, '_>, figure: Shared, cause: Cause) -> f64 {
    let shares = why.figures[figure as usize].shares.as_ref().expect("shared out");
    shares.iter().find(|share| share.cause == cause).expect("a share").share
}

#[test]
fn every_order_of_the_causes_gives_the_same_shares_on_the_average() {
    let mut chance = Chance(41);
    let mut seen = Vec::new();
    let mut compared = 0;
    while compared < 60 {
        let (from, other) = (Order::any(&mut chance), Order::any(&mut chance));
        let mut causes: Vec<Cause> = Cause::ALL.into_iter().filter(|cause| *cause != Cause::Supply).collect();
        while causes.len() > 5 {
            causes.remove((chance.share() * causes.len() as f64) as usize);
        }
        let to = causes.iter().fold(from.clone(), |order, cause| order.with(*cause, &other));
        let Some(wanted) = by_orders(&from, &to, &causes) else { continue };
        let (from, to) = (from.fit(), to.fit());
        let found = why(&from, &to).expect("every mixture was made");
        for (cause, wanted) in causes.iter().zip(wanted) {
            if !found.causes.contains(cause) {
                // By chance both have the same: the same rim, shape or base.
                assert_eq!(wanted, [0.0; 3], "{cause:?}");
                continue;
            }
            for (figure, wanted) in Shared::ALL.into_iter().zip(wanted) {
                let share = share(&found, figure, *cause);
                assert!((share - wanted).abs() < EXACT, "{figure:?} {cause:?}: {share} and {wanted}");
            }
            seen.push(*cause);
        }
        compared += 1;
    }
    for cause in Cause::ALL.into_iter().filter(|cause| *cause != Cause::Supply) {
        assert!(seen.iter().filter(|seen| **seen == cause).count() > 4, "{cause:?} hardly ever differed");
    }
}

#[test]
fn two_causes_by_hand() {
    // A round −6.00 on a plane front, no decentration: the edge is centre + back sag, and the mass density × volume, so
    // that each cause's share can be written down.
    let eye = EyeRx { power: Power::spherical(-6.0), prism: Prism::default(), pd_mm: 34.0, add: None };
    let prescription =
        Prescription { eyes: Eyes { right: eye, left: eye }, vertex_mm: None, reference_line: ReferenceLine::D };
    let boxing = Boxing { eye_size_mm: 50.0, depth_mm: 50.0, bridge_mm: 18.0 };
    let frame = Frame::new("Fennel", Shape::Circle, vec![boxing], Rim::Metal);
    let mut from = Order { prescription, frame, option: inline(1.5, 58.0, 1.3, 2.0, 1.0) };
    from.option.base_curve_d = Some(0.0);
    let mut to = from.clone();
    to.option.substance = inline(1.6, 58.0, 1.3, 2.0, 1.0).substance;
    to.option.min_centre_mm = Some(1.2);
    let (before, after) = (from.fit(), to.fit());
    let found = why(&before, &after).expect("made");
    assert_eq!(found.causes, [Cause::Index, Cause::MinCentre]);
    let sag = |index: f64| {
        let r = 1000.0 * (index - 1.0) / 6.0;
        r - (r * r - 25.0f64 * 25.0).sqrt()
    };
    let index = share(&found, Shared::EdgeMax, Cause::Index);
    let wanted = sag(1.6) - sag(1.5);
    assert!((index - wanted).abs() < EXACT, "{index} and {wanted}");
    let centre = share(&found, Shared::EdgeMax, Cause::MinCentre);
    assert!((centre + 0.8).abs() < EXACT, "{centre} and −0.8");

    // Density and centre do not simply add: mass is their product. A quarter of a rectangle's growth goes to each side.
    let mut denser = from.clone();
    denser.option.substance = inline(1.5, 58.0, 2.6, 2.0, 1.0).substance;
    denser.option.min_centre_mm = Some(1.2);
    let after = denser.fit();
    let found = why(&before, &after).expect("made");
    assert_eq!(found.causes, [Cause::Density, Cause::MinCentre]);
    let volume =
        |fit: &Fit<'_>| fit.pair().expect("made").mass_g() / fit.option.substance.glass(ReferenceLine::D).density;
    let (v1, v2) = (volume(&before), volume(&after));
    for (cause, wanted) in
        [(Cause::Density, (2.6 - 1.3) * (v1 + v2) / 2.0), (Cause::MinCentre, (v2 - v1) * (1.3 + 2.6) / 2.0)]
    {
        let found = share(&found, Shared::Mass, cause);
        assert!((found - wanted).abs() < EXACT, "{cause:?}: {found} and {wanted}");
    }
}

/// The masses on both ways from one option to the other, as the README has them.
#[test]
fn the_example_of_the_readme_can_be_worked_by_hand() {
    let job = demo("strong-minus");
    let (from, to) = (fit_at(&job, "Yarrow/50/thin"), fit_at(&job, "Yarrow/46/thin"));
    let mass = |width: &Fit<'_>, depth: &Fit<'_>| {
        let boxing = Boxing { depth_mm: depth.mounting.boxing.depth_mm, ..width.mounting.boxing };
        let mounting = Mounting::new(from.mounting.frame, boxing);
        Fit::new(&mounting, from.prescription, from.option).pair().expect("made").mass_g()
    };
    let [large, narrow, shallow, small] = [mass(&from, &from), mass(&to, &from), mass(&from, &to), mass(&to, &to)];
    let eye_size = ((narrow - large) + (small - shallow)) / 2.0;
    let readme = include_str!("../../README.md").split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        format!("has {large:.2} g at 50 × 39.1 and {small:.2} g at 46 × 36.0"),
        format!("46 × 39.1 with {narrow:.2} g or 50 × 36.0 with {shallow:.2} g"),
        format!("takes off {large:.2} − {narrow:.2} on the one way and {shallow:.2} − {small:.2} on the other"),
        format!("on the average {:.2} g", -eye_size),
        format!("of the {:.2} g, {:.2} g, is the depth's", large - small, large - small + eye_size),
    ] {
        assert!(readme.contains(&said), "the README does not say {said}");
    }
    let found = why(&from, &to).expect("made");
    assert_eq!(found.causes, [Cause::EyeSize, Cause::Depth]);
    let share = share(&found, Shared::Mass, Cause::EyeSize);
    assert!((share - eye_size).abs() < EXACT, "{share} and {eye_size}");
}

#[test]
fn shares_of_the_demo_jobs_add_up_and_turn_round() {
    let (mut shared, mut with_supply) = (0, 0);
    for name in DEMO_JOBS {
        let job = demo(name);
        let comparison = Comparison::of(&job);
        let fits: Vec<&Fit<'_>> = comparison.fits.iter().filter(|fit| fit.pair().is_some()).collect();
        for step in [1, 3, 5] {
            for (from, to) in fits.iter().zip(fits.iter().skip(step)) {
                let (Ok(there), Ok(back)) = (why(from, to), why(to, from)) else { continue };
                with_supply += usize::from(there.supply_together);
                let (first, last) = (from.pair().expect("made"), to.pair().expect("made"));
                let ends = [
                    (Some(first.edge_max_mm()), Some(last.edge_max_mm())),
                    (first.centre_max_mm(), last.centre_max_mm()),
                    (Some(first.mass_g()), Some(last.mass_g())),
                ];
                for ((one, other), (before, after)) in there.figures.iter().zip(&back.figures).zip(ends) {
                    assert_eq!((one.from, one.to), (before, after), "{} to {}", from.address(), to.address());
                    let Some(difference) = one.difference() else { continue };
                    let shares = one.shares.as_ref().expect("shared out");
                    let whole: f64 = shares.iter().map(|share| share.share).sum();
                    assert!((whole - difference).abs() < EXACT, "{whole} and {difference}");
                    for (there, back) in shares.iter().zip(other.shares.as_ref().expect("shared out")) {
                        assert_eq!(there.cause, back.cause);
                        assert!((there.share + back.share).abs() < EXACT, "{there:?} {back:?}");
                    }
                    shared += 1;
                }
            }
        }
    }
    assert!(shared > 400 && with_supply > 20, "{shared} figures, {with_supply} pairs with a ready-made lens");
}

#[test]
fn what_is_the_same_has_no_share() {
    let job = demo("strong-minus");
    let comparison = Comparison::of(&job);
    let fit = &comparison.fits[1];
    let found = why(fit, fit).expect("made");
    assert!(found.causes.is_empty() && found.figures.iter().all(|figure| figure.difference() == Some(0.0)));
    assert!(text::why(&Ok(found), fit, fit, false).contains("nothing differs"));
}

const IMPOSSIBLE: &str = r#"
    format = 1
    prescription.right = { sphere = -3.0, pd_mm = 31 }
    prescription.left = { sphere = -3.0, pd_mm = 31 }
    lens = [
        { name = "ready", material = "resin-1.60", supply = "stock" },
        { name = "other", material = "resin-1.67", supply = "stock" },
        { name = "order", material = "resin-1.67" },
    ]
    [[frame]]
    name = "Fennel"
    shape = "oval"
    eye_sizes_mm = [48, 66]
    depth_mm = 36
    bridge_mm = 18
    rim = "metal"
    [present.frame]
    shape = "oval"
    eye_sizes_mm = [52]
    depth_mm = 36
    bridge_mm = 18
    rim = "metal"
    [present.lens]
    material = "resin-1.50"
    [present.prescription]
    right = { sphere = -3.0, pd_mm = 31, prism = [{ amount_pd = 2, base = "in" }] }
    left = { sphere = -3.0, pd_mm = 31 }
"#;

fn fit_at<'a>(job: &'a Job, address: &str) -> Fit<'a> {
    let at = job.at(address).unwrap_or_else(|fault| panic!("{address}: {fault:?}"));
    Fit::new(&Mounting::new(at.frame, at.boxing), at.prescription, at.option)
}

fn answer(job: &Job, from: &str, to: &str) -> Value {
    let (from, to) = (fit_at(job, from), fit_at(job, to));
    serde_json::from_str(&wire::why_text(&why(&from, &to), &from, &to)).expect("JSON")
}

#[test]
fn a_mixture_that_cannot_be_made_is_named() {
    let job = job(IMPOSSIBLE);
    let (from, to) = (fit_at(&job, "now"), fit_at(&job, "Fennel/48/ready"));
    let Err(Unshared::Mixture { causes, why: reason, .. }) = why(&from, &to) else { panic!("a prism, ready-made") };
    assert_eq!((causes, reason.eye), (vec![Cause::Supply], Eye::Right));
    let json = answer(&job, "now", "Fennel/48/ready");
    assert_eq!(json["mixture"], serde_json::json!(["supply"]));
    let said = json["impossible"].as_str().expect("text");
    assert!(
        said.starts_with("The mixture of the spectacles worn now with the supply of Fennel 48 with “ready” cannot")
    );
    assert!(said.contains("Right eye: a ready-made lens has no prism") && json.get("figures").is_none(), "{said}");
    // Nothing of that where no prescription differs.
    assert!(why(&to, &fit_at(&job, "Fennel/48/order")).is_ok());
}

#[test]
fn an_option_that_cannot_be_made_is_named() {
    let json = answer(&job(IMPOSSIBLE), "Fennel/48/ready", "Fennel/66/ready");
    let said = json["impossible"].as_str().expect("text");
    assert!(said.starts_with("Fennel 66 with “ready” cannot be made. Right eye: a ready-made lens of"), "{said}");
    assert_eq!(json["to"], "Fennel/66/ready");
}

#[test]
fn supply_moves_with_what_comes_with_it() {
    let job = job(IMPOSSIBLE);
    let (ready, order) = (fit_at(&job, "Fennel/48/ready"), fit_at(&job, "Fennel/48/order"));
    let found = why(&ready, &order).expect("made");
    assert_eq!(found.causes, [Cause::Density, Cause::Supply]);
    // Another ready-made material is another supply; the same one is none, whatever else differs.
    let other = fit_at(&job, "Fennel/48/other");
    assert_eq!(why(&ready, &other).expect("made").causes, [Cause::Density, Cause::Supply]);
    assert!(why(&ready, &ready).expect("made").causes.is_empty());
    let json = answer(&job, "Fennel/48/ready", "Fennel/48/order");
    assert_eq!(json["with_supply"], serde_json::json!(["index", "min_centre", "min_edge", "base"]));
}

/// The reference point of an eye so far out that it lies outside the smaller lens.
#[test]
fn without_a_centre_there_is_nothing_to_share_out() {
    let mut chance = Chance(5);
    let mut from = Order::any(&mut chance);
    from.prescription.eyes =
        Eyes::from_fn(|_| EyeRx { power: Power::spherical(-3.0), prism: Prism::default(), pd_mm: 16.0, add: None });
    (from.frame.shape, from.frame.sizes[0].eye_size_mm, from.frame.sizes[0].bridge_mm) =
        (Shape::Oval.into(), 40.0, 20.0);
    let mut to = from.clone();
    to.frame.sizes[0].bridge_mm = 34.0;
    let (from, to) = (from.fit(), to.fit());
    let found = why(&from, &to).expect("made");
    let centre = &found.figures[Shared::Centre as usize];
    assert_eq!((centre.to, centre.shares.clone()), (None, Err(vec![Cause::Bridge])));
    assert!(found.figures[Shared::EdgeMax as usize].shares.is_ok());
    let said = text::why(&Ok(found), &from, &to, false);
    assert!(said.contains("There is no centre to share out: in Fennel 40"), "{said}");
}

#[test]
fn the_json_of_why_keeps_its_names_and_types() {
    let mut lines = Vec::new();
    let minus = demo("strong-minus");
    skeleton(&answer(&minus, "now", "Yarrow/46/slim"), "", &mut lines);
    let job = job(IMPOSSIBLE);
    skeleton(&answer(&job, "now", "Fennel/48/ready"), "", &mut lines);
    skeleton(&answer(&job, "Fennel/48/ready", "Fennel/48/order"), "", &mut lines);
    lines.sort();
    golden("why-json.txt", &(lines.join("\n") + "\n"));
}

#[test]
fn the_answer_to_why_keeps_its_words() {
    let (minus, plus) = (demo("strong-minus"), demo("strong-plus"));
    let mut told = String::new();
    for (job, from, to) in [
        (&minus, "now", "Yarrow/46/slim"),
        (&minus, "Yarrow/46/thin", "Sorrel/54/glass"),
        (&plus, "Tarragon/44/standard ready-made", "Campion/40/standard made to order"),
        (&plus, "Tarragon/44/standard ready-made", "Tarragon/44/thin ready-made"),
    ] {
        let (from, to) = (fit_at(job, from), fit_at(job, to));
        told += &text::why(&why(&from, &to), &from, &to, false);
        told.push('\n');
    }
    assert!(told.lines().all(|line| line.chars().count() <= text::WIDTH && !line.ends_with(' ')), "{told}");
    golden("why.txt", &told);
}
