//! The other way round: every limit against the edge itself, over many jobs; how sure it is against pairs made otherwise.

use crate::report::{demo, golden, job, skeleton};
use crate::support::{Chance, inline};
use rayon::prelude::*;
use rimwise::assess::{Fit, Mounting};
use rimwise::choose::{LensOption, Substance, Supply};
use rimwise::eye::{Eye, Eyes};
use rimwise::frame::{Boxing, Frame};
use rimwise::job::{Addressed, Job, frame_size};
use rimwise::light::ReferenceLine;
use rimwise::material::Shelf;
use rimwise::outline::Shape;
use rimwise::report::{text, wire};
use rimwise::rim::Rim;
use rimwise::rx::{EyeRx, Power, Prescription, Prism};
use rimwise::study::largest::{Beyond, EyeSize, NoSize, edge_at_size, largest_eye_size};
use rimwise::study::limit::{Limit, Limits};
use rimwise::study::mend::{Change, Mend, Mends};
use rimwise::study::sure::{Doubt, Sure};
use rimwise::study::tip::{Tip, Varied};
use serde_json::Value;

/// The edge at an answer is the wish to this, mm.
const AT_ANSWER_MM: f64 = 1e-4;
/// So far beyond an answer the wish is passed, mm.
const BEYOND_MM: f64 = 0.01;

/// An option and a wish.
pub(crate) struct Wanted {
    pub(crate) frame: Frame,
    pub(crate) option: LensOption,
    pub(crate) prescription: Prescription,
    pub(crate) wish_mm: f64,
}

impl Wanted {
    fn any(chance: &mut Chance, shelf: &Shelf) -> Wanted {
        let mut eye = || {
            let cylinder = if chance.share() < 0.5 { chance.within(-3.0, 0.0) } else { 0.0 };
            EyeRx {
                power: Power::new(chance.within(-10.0, 5.0), cylinder, chance.within(0.0, 180.0)),
                prism: if chance.share() < 0.2 { Prism::new(chance.within(0.5, 4.0), 30.0) } else { Prism::default() },
                pd_mm: chance.within(28.0, 36.0),
                add: None,
            }
        };
        let eyes = Eyes { right: eye(), left: eye() };
        let shapes: Vec<Shape> = Shape::all().collect();
        let shape = shapes[(chance.share() * shapes.len() as f64) as usize];
        let eye_size_mm = chance.within(42.0, 54.0);
        let boxing = Boxing {
            eye_size_mm,
            depth_mm: eye_size_mm * chance.within(0.6, 0.95),
            bridge_mm: chance.within(14.0, 23.0),
        };
        let mut frame = Frame::new("Fennel", shape, vec![boxing], chance.one_of(&Rim::ALL));
        let up_mm = chance.within(-2.0, 4.0);
        frame.centre_up_mm = Eyes { right: up_mm, left: up_mm };
        let mut option = inline(chance.within(1.49, 1.8), 40.0, 1.3, chance.within(1.0, 2.2), chance.within(0.8, 2.0));
        if chance.share() < 0.4 {
            let at = (chance.share() * shelf.materials.len() as f64) as usize;
            option = LensOption::new("lens", Substance::Listed(shelf.materials[at].clone()));
            option.supply = chance.one_of(&[Supply::Surfaced, Supply::Stock]);
        }
        let prescription = Prescription { eyes, vertex_mm: None, reference_line: ReferenceLine::D };
        Wanted { frame, option, prescription, wish_mm: chance.within(1.5, 9.0) }
    }

    pub(crate) fn at(&self) -> Addressed<'_> {
        Addressed {
            frame: &self.frame,
            boxing: self.frame.sizes[0],
            option: &self.option,
            prescription: &self.prescription,
        }
    }

    pub(crate) fn passes(&self, edge_mm: Option<f64>) -> bool {
        edge_mm.is_none_or(|edge| edge > self.wish_mm)
    }
}

pub(crate) fn many(seed: u64, count: usize) -> Vec<Wanted> {
    let (mut chance, shelf) = (Chance(seed), Shelf::built_in());
    (0..count).map(|_| Wanted::any(&mut chance, &shelf)).collect()
}

/// What happened over many jobs.
#[derive(Clone, Copy, Debug, Default)]
struct Tally {
    wish: usize,
    impossible: usize,
    larger: usize,
    every: usize,
    nasal: usize,
    min_edge: usize,
    edge: usize,
    unmade: usize,
    kept: usize,
    /// With an answer: plus pairs, and ready-made ones.
    plus: usize,
    stock: usize,
    /// Without one: the same.
    plus_none: usize,
    stock_none: usize,
}

impl Tally {
    fn plus(self, other: Tally) -> Tally {
        Tally {
            wish: self.wish + other.wish,
            impossible: self.impossible + other.impossible,
            larger: self.larger + other.larger,
            every: self.every + other.every,
            nasal: self.nasal + other.nasal,
            min_edge: self.min_edge + other.min_edge,
            edge: self.edge + other.edge,
            unmade: self.unmade + other.unmade,
            kept: self.kept + other.kept,
            plus: self.plus + other.plus,
            stock: self.stock + other.stock,
            plus_none: self.plus_none + other.plus_none,
            stock_none: self.stock_none + other.stock_none,
        }
    }
}

/// A fine walk over sizes.
fn walk(look: &mut dyn FnMut(f64), from_mm: f64, to_mm: f64) {
    let steps = 150;
    for i in 0..=steps {
        look(from_mm + (to_mm - from_mm) * f64::from(i) / f64::from(steps));
    }
}

/// No size from the smallest up to this one passes the wish.
fn walk_is_within(wanted: &Wanted, to_mm: f64) {
    let mut look = |size| {
        let edge = edge_at_size(&wanted.at(), size);
        assert!(!wanted.passes(edge), "{size} of {to_mm} has {edge:?} and the wish is {}", wanted.wish_mm);
    };
    walk(&mut look, 30.0, to_mm);
}

fn largest_size_holds(wanted: &Wanted) -> Tally {
    let mut tally = Tally::default();
    let at = wanted.at();
    let found = largest_eye_size(&at, wanted.wish_mm);
    let (plus, stock) = (wanted.prescription.is_plus(), wanted.option.supply == Supply::Stock);
    if found.largest_mm().is_some() {
        (tally.plus, tally.stock) = (usize::from(plus), usize::from(stock));
    } else {
        (tally.plus_none, tally.stock_none) = (usize::from(plus), usize::from(stock));
    }
    match found {
        EyeSize::UpTo { eye_size_mm, edges_mm, beyond } => {
            let edge = edges_mm.right.max(edges_mm.left);
            assert_eq!(edge_at_size(&at, eye_size_mm), Some(edge));
            assert!(edge <= wanted.wish_mm, "{edge} and {}", wanted.wish_mm);
            let next = edge_at_size(&at, eye_size_mm + BEYOND_MM);
            assert!(wanted.passes(next), "{eye_size_mm} + 0.01 has {next:?} and the wish is {}", wanted.wish_mm);
            match beyond {
                Beyond::Wish => {
                    assert!((edge - wanted.wish_mm).abs() < AT_ANSWER_MM, "{edge} and {}", wanted.wish_mm);
                    tally.wish += 1;
                }
                Beyond::Impossible(_) => {
                    assert_eq!(next, None);
                    tally.impossible += 1;
                }
                Beyond::Larger => {
                    assert_eq!(wanted.option.supply, Supply::Stock, "only a ready-made lens jumps");
                    tally.larger += 1;
                }
                beyond => panic!("{beyond:?}"),
            }
            walk_is_within(wanted, eye_size_mm);
        }
        EyeSize::Every { eye_size_mm, .. } => {
            assert_eq!(eye_size_mm, 70.0);
            walk_is_within(wanted, eye_size_mm);
            tally.every += 1;
        }
        EyeSize::No { eye_size_mm, at_smallest } => {
            assert_eq!(eye_size_mm, 30.0);
            assert!(wanted.passes(edge_at_size(&at, eye_size_mm)));
            let Ok(smallest) = at_smallest else {
                tally.unmade += 1;
                return tally;
            };
            match smallest.kept_mm {
                Some([from, to]) => {
                    walk(&mut |size| assert!(!wanted.passes(edge_at_size(&at, size))), from, to);
                    tally.kept += 1;
                }
                None => walk(&mut |size| assert!(wanted.passes(edge_at_size(&at, size))), eye_size_mm, 70.0),
            }
            match smallest.cause {
                NoSize::Nasal { nasal_mm, .. } => {
                    assert!(nasal_mm > wanted.wish_mm && smallest.kept_mm.is_none());
                    tally.nasal += 1;
                }
                NoSize::MinEdge { min_edge_mm } => {
                    assert!(min_edge_mm > wanted.wish_mm);
                    tally.min_edge += 1;
                }
                _ => tally.edge += 1,
            }
        }
        size => panic!("{size:?}"),
    }
    tally
}

#[test]
fn the_largest_eye_size_of_a_thousand_jobs_has_the_edge_that_was_wished_for() {
    let tally = many(11, 1000).par_iter().map(largest_size_holds).reduce(Tally::default, Tally::plus);
    assert!(tally.wish > 300 && tally.impossible > 20, "{tally:?}");
    assert!(tally.nasal > 50 && tally.every > 10, "{tally:?}");
    assert!(tally.min_edge > 0 && tally.edge > 20 && tally.unmade > 20 && tally.kept > 0, "{tally:?}");
    assert!(tally.plus > 50 && tally.plus_none > 20, "{tally:?}");
    assert!(tally.stock > 5 && tally.stock_none > 100, "{tally:?}");
}

#[test]
fn a_ready_made_plus_lens_may_jump_past_the_wish() {
    let (mut chance, shelf) = (Chance(77), Shelf::built_in());
    let mut tally = Tally::default();
    for _ in 0..400 {
        let mut wanted = Wanted::any(&mut chance, &shelf);
        let at = (chance.share() * shelf.materials.len() as f64) as usize;
        wanted.option = LensOption::new("lens", Substance::Listed(shelf.materials[at].clone()));
        wanted.option.supply = Supply::Stock;
        for rx in [&mut wanted.prescription.eyes.right, &mut wanted.prescription.eyes.left] {
            rx.prism = Prism::default();
            rx.power = Power::new(chance.within(1.0, 6.0), chance.within(-2.0, 0.0), chance.within(0.0, 180.0));
        }
        // Cut small it is thick at the edge, then thinner, and thicker again where it needs the next diameter.
        let Some(smallest) = edge_at_size(&wanted.at(), 30.0) else { continue };
        wanted.wish_mm = smallest + chance.within(-0.2, 0.3);
        tally = tally.plus(largest_size_holds(&wanted));
    }
    assert!(tally.larger > 8 && tally.kept > 20, "{tally:?}");
}

/// At the answer the edge is the wish, unless beyond it there is no lens, and a little farther the wish is passed.
fn tips(wanted: &Wanted, tip: &Tip, edge: impl Fn(f64) -> Option<f64>, outward: f64) -> bool {
    match tip {
        Tip::At(value) => {
            let here = edge(*value).expect("within the wish");
            assert!(here <= wanted.wish_mm, "{here} and {}", wanted.wish_mm);
            let next = edge(value + outward);
            assert!(wanted.passes(next), "{value} + {outward} has {next:?} and the wish is {}", wanted.wish_mm);
            assert!(
                next.is_none() || (here - wanted.wish_mm).abs() < AT_ANSWER_MM || wanted.option.supply == Supply::Stock
            );
            true
        }
        Tip::Not(ends) => {
            assert!(!ends.is_empty() && ends.iter().all(|end| edge(end.value) == end.edge_mm));
            false
        }
        Tip::ReadyMade => {
            assert_eq!(wanted.option.supply, Supply::Stock);
            false
        }
        tip => panic!("{tip:?}"),
    }
}

#[test]
fn sphere_index_and_pd_tip_where_it_is_said() {
    let (mut sphere, mut index, mut pd, mut ends) = (0, 0, 0, 0);
    for wanted in many(23, 300) {
        let at = wanted.at();
        let limit = Limit::of(&at, wanted.wish_mm, &Shelf::default());
        let varied = Varied::new(&at);
        let rx = at.prescription.eyes.of(limit.eye);
        let stronger = if rx.power.spherical_equivalent() > 0.0 { BEYOND_MM } else { -BEYOND_MM };
        sphere += usize::from(tips(&wanted, &limit.sphere, |value| varied.edge_at_sphere(limit.eye, value), stronger));
        index += usize::from(tips(&wanted, &limit.index, |value| varied.edge_at_index(value), -0.001));
        // From within the wish it tips away from the prescribed pd, from beyond it on the way back.
        let away = limit.pd.value().map_or(0.0, |value| BEYOND_MM * (value - rx.pd_mm).signum());
        let outward = if limit.is_kept() { away } else { -away };
        pd += usize::from(tips(&wanted, &limit.pd, |value| varied.edge_at_pd(limit.eye, value), outward));
        ends += usize::from(matches!(limit.pd, Tip::Not(_)));
    }
    assert!(sphere > 150 && index > 60 && pd > 60 && ends > 10, "{sphere} {index} {pd} {ends}");
}

pub(crate) fn at<'a>(job: &'a Job, frame: &str, size: &str, lens: &str) -> Addressed<'a> {
    let frame = job.frame(frame).expect("a frame");
    let boxing = frame_size(frame, size).expect("a size");
    Addressed { frame, boxing, option: job.lens(lens).expect("a lens"), prescription: &job.prescription }
}

#[test]
fn where_the_nasal_edge_passes_it_a_wider_bridge_is_named() {
    let job = demo("nasal-edge");
    let at = at(&job, "Bryony", "46", "thin");
    let EyeSize::No { at_smallest: Ok(smallest), .. } = largest_eye_size(&at, 5.0) else { panic!("the nasal edge") };
    assert!(matches!(smallest.cause, NoSize::Nasal { eye: Eye::Right, .. }), "{smallest:?}");
    let mends = Mends::of(&at, 5.0, &Shelf::built_in());
    let bridge = |mend: &Mend| if let Change::Bridge(mm) = mend.change { Some(mm) } else { None };
    let bridge_mm = mends.tried.iter().find_map(bridge).expect("a wider bridge helps");
    let edge = |bridge_mm| {
        let mounting = Mounting::new(at.frame, Boxing { bridge_mm, ..at.boxing });
        Fit::new(&mounting, at.prescription, at.option).pair().expect("made").edge_max_mm()
    };
    let (here, narrower) = (edge(bridge_mm), edge(bridge_mm - BEYOND_MM));
    assert!((here - 5.0).abs() < AT_ANSWER_MM && narrower > 5.0, "{here} and {narrower}");
    let said = text::limit(&Limits::of(&[at], 5.0, &Shelf::built_in()), false).replace('\n', " ");
    assert!(
        said.contains("Even at eye size 30, the smallest that is looked at, the nasal edge of the right eye"),
        "{said}"
    );
    assert!(said.contains("a bridge of 18.2 to 26 mm (5.0 mm or less), if it fits the nose"), "{said}");
}

/// The largest and least change of the edge among pairs, 0 among them.
fn reach(sure: &Sure, edges: &[f64]) -> [f64; 2] {
    edges
        .iter()
        .map(|edge| edge - sure.edge_max_mm)
        .fold([0.0, 0.0], |[low, high]: [f64; 2], by| [low.min(by), high.max(by)])
}

#[test]
fn how_sure_it_is_comes_of_pairs_made_otherwise() {
    let job = demo("strong-minus");
    let at = at(&job, "Yarrow", "46", "thin");
    let edge = |prescription: &Prescription, option: &LensOption| {
        let fit = Fit::new(&Mounting::new(at.frame, at.boxing), prescription, option);
        fit.pair().expect("made").edge_max_mm()
    };
    let sure = Sure::of(&Fit::new(&Mounting::new(at.frame, at.boxing), at.prescription, at.option)).expect("made");
    let spread = |doubt| sure.spreads.iter().find(|spread| spread.doubt == doubt).expect("a spread").edge_mm;
    let near = |found: [f64; 2], wanted: [f64; 2]| {
        assert!(found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-9), "{found:?} and {wanted:?}");
    };
    let moved = |right: f64, left: f64| {
        let mut prescription = at.prescription.clone();
        prescription.eyes.right.pd_mm += right;
        prescription.eyes.left.pd_mm += left;
        edge(&prescription, at.option)
    };
    near(spread(Doubt::Pd), reach(&sure, &[moved(1.0, 1.0), moved(1.0, -1.0), moved(-1.0, 1.0), moved(-1.0, -1.0)]));
    // Base 2 by the rule; the 1.60 resin is listed in half and whole steps beside it.
    let bases = match &at.option.substance {
        Substance::Listed(material) => material.semi_finished.iter().map(|row| row.base_curve_d).collect::<Vec<f64>>(),
        Substance::Inline(_) => panic!("listed"),
    };
    let place = bases.iter().position(|base| *base == 2.0).expect("listed");
    let stepped = [bases[place - 1], bases[place + 1]].map(|base_curve_d| {
        let mut option = at.option.clone();
        option.base_curve_d = Some(base_curve_d);
        edge(at.prescription, &option)
    });
    near(spread(Doubt::Base), reach(&sure, &stepped));
    // In minus the centre is the minimum itself.
    let mut thicker = at.option.clone();
    thicker.min_centre_mm = Some(1.3 + 0.3);
    near(spread(Doubt::Centre), reach(&sure, &[edge(at.prescription, &thicker)]));
    let whole = [Doubt::Pd, Doubt::Base, Doubt::Centre].map(|doubt| spread(doubt)[1].max(-spread(doubt)[0]).powi(2));
    assert!((sure.give_or_take_mm() - whole.iter().sum::<f64>().sqrt()).abs() < 1e-12);
}

fn limits<'a>(job: &'a Job, frame: &str, size: &str, wish_mm: f64) -> Limits<'a> {
    let options: Vec<Addressed<'_>> = job.lenses.iter().map(|option| at(job, frame, size, &option.name)).collect();
    Limits::of(&options, wish_mm, &Shelf::built_in())
}

#[test]
fn an_answer_that_does_not_exist_says_which_end_was_reached() {
    let job = job(r#"
        format = 1
        prescription.right = { sphere = -1.0, pd_mm = 32 }
        prescription.left = { sphere = -1.0, pd_mm = 32 }
        lens = [{ name = "any", material = { index = 1.6, abbe = 41, density = 1.3 }, min_centre_mm = 1.4, min_edge_mm = 1.0 }]
        frame = [{ name = "Fennel", shape = "oval", eye_sizes_mm = [46], depth_mm = 24, bridge_mm = 18, rim = "metal" }]
    "#);
    let json = |wish_mm: f64| -> Value {
        serde_json::from_str(&wire::limit_text(&limits(&job, "Fennel", "46", wish_mm))).expect("JSON")
    };
    let every = json(8.0);
    assert_eq!(every["largest_eye_size_mm"], 70.0);
    let text = |value: &Value| value.as_str().expect("text").to_owned();
    assert!(text(&every["reason"]).starts_with("Every eye size does: even at 70.0 mm"), "{every}");
    assert!(every["least_index"].is_null() && text(&every["least_index_reason"]).contains("at 1.40"), "{every}");
    assert!(every["pd_tips_mm"].is_null() && text(&every["pd_tips_reason"]).contains("at 15.0 mm"), "{every}");
    let none = json(0.9);
    assert!(none["largest_eye_size_mm"].is_null() && none["right"]["edge_max_mm"].is_number(), "{none}");
    assert!(text(&none["reason"]).starts_with("The least edge of 1.0 mm passes it by itself"), "{none}");
    assert!(
        text(&none["least_index_reason"]).starts_with("No index stays within it at eye size 46: at 2.00"),
        "{none}"
    );
    assert!(text(&none["strongest_sphere_reason"]).contains("at plano"), "{none}");
}

#[test]
fn the_json_of_limit_keeps_its_names_and_types() {
    let mut lines = Vec::new();
    for (name, frame, size, wish_mm) in [
        ("strong-minus", "Yarrow", "46", 6.0),
        ("nasal-edge", "Bryony", "46", 5.0),
        ("strong-plus", "Campion", "40", 4.47),
        ("mild", "Marram", "50", 3.0),
    ] {
        let job = demo(name);
        let json = wire::limit_text(&limits(&job, frame, size, wish_mm));
        skeleton(&serde_json::from_str(&json).expect("JSON"), "", &mut lines);
    }
    lines.sort();
    golden("limit-json.txt", &(lines.join("\n") + "\n"));
}

#[test]
fn the_answer_to_limit_keeps_its_words() {
    let (minus, nasal, plus) = (demo("strong-minus"), demo("nasal-edge"), demo("strong-plus"));
    let mut told = text::limit(&Limits::of(&[at(&minus, "Yarrow", "46", "thin")], 6.0, &Shelf::built_in()), false);
    for limits in
        [limits(&minus, "Yarrow", "48", 5.5), limits(&nasal, "Bryony", "46", 5.0), limits(&plus, "Campion", "40", 4.47)]
    {
        told.push('\n');
        told += &text::limit(&limits, false);
    }
    assert!(told.lines().all(|line| line.chars().count() <= text::WIDTH && !line.ends_with(' ')), "{told}");
    golden("limit.txt", &told);
}
