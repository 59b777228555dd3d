//! Round the limits: what is named as a mend keeps the wish, curves run through the edge itself, the sizes for several
//! wishes are those of the one solver, and a saving is as sure as pairs made otherwise say.

use crate::limit::{Wanted, at, many};
use crate::pictures::apart;
use crate::report::{demo, job};
use rimwise::assess::{Fit, Mounting};
use rimwise::choose::{LensOption, Substance, Supply};
use rimwise::frame::Boxing;
use rimwise::job::{Addressed, Job};
use rimwise::material::Shelf;
use rimwise::report::folder::{self, LIMIT, PAGE};
use rimwise::report::pictures::LimitPictures;
use rimwise::report::promise::Promise;
use rimwise::report::text;
use rimwise::rx::Prescription;
use rimwise::study::compare::{Comparison, Lead};
use rimwise::study::largest::{EyeSize, edge_at_size, largest_eye_size};
use rimwise::study::limit::{Limit, Limits};
use rimwise::study::limit_curves::{Curves, Point};
use rimwise::study::mend::{Change, Mend, Mends, WIDEST_BRIDGE_MM};
use rimwise::study::saving::Saving;
use rimwise::study::sure::{Doubt, Sure};
use rimwise::study::tip::{Tip, Varied};
use rimwise::study::wishes::{Wishes, Within};
use roxmltree::Document;

/// The same pair worked twice.
const SAME_MM: f64 = 1e-9;

/// The thickest edge with one thing changed, by changing the job itself.
fn edge_with(wanted: &Wanted, change: &Change) -> f64 {
    let (mut boxing, mut option) = (wanted.frame.sizes[0], wanted.option.clone());
    match change {
        Change::Bridge(bridge_mm) => boxing = Boxing { bridge_mm: *bridge_mm, ..boxing },
        Change::Material(material) => option.substance = Substance::Listed(material.clone()),
        Change::Base(base_curve_d) => option.base_curve_d = Some(*base_curve_d),
        Change::ToOrder => option.supply = Supply::Surfaced,
        Change::MinEdge(min_edge_mm) => option.min_edge_mm = Some(*min_edge_mm),
        change => panic!("{change:?}"),
    }
    let fit = Fit::new(&Mounting::new(&wanted.frame, boxing), &wanted.prescription, &option);
    fit.pair().expect("what was tried was made").edge_max_mm()
}

const KINDS: [&str; 5] = ["bridge", "material", "base", "supply", "min_edge"];

#[test]
fn a_mend_that_is_named_keeps_the_wish_and_the_others_are_said_not_to() {
    let shelf = Shelf::built_in();
    let mut kept = [0; 5];
    let (mut passed, mut none) = (0, 0);
    for wanted in many(41, 600) {
        let at = wanted.at();
        if !largest_eye_size(&at, wanted.wish_mm).is_none() {
            continue;
        }
        let limit = Limit::of(&at, wanted.wish_mm, &shelf);
        let mends = limit.mends.as_ref().expect("no size keeps it");
        for Mend { change, edge_mm } in &mends.tried {
            let edge = edge_with(&wanted, change);
            assert!((edge - edge_mm).abs() < SAME_MM, "{change:?}: {edge} and {edge_mm}");
        }
        let (keep, pass): (Vec<&Mend>, Vec<&Mend>) = mends.tried.iter().partition(|mend| mends.keeps(mend));
        let said = text::limit(&Limits { each: vec![limit.clone()], materials: Vec::new() }, false).replace('\n', " ");
        assert_eq!(keep.is_empty() && !pass.is_empty(), said.contains("None of these keeps it"), "{said}");
        assert_eq!(!keep.is_empty(), said.contains("keeps it") && !said.contains("None of these"), "{said}");
        for mend in &keep {
            assert!(mend.edge_mm <= wanted.wish_mm);
            kept[KINDS.iter().position(|kind| *kind == mend.change.word()).expect("a kind")] += 1;
        }
        passed += pass.len();
        none += usize::from(keep.is_empty());
    }
    let [bridge, material, base, supply, _] = kept;
    assert!(bridge > 2 && material > 10 && base > 0 && supply > 30, "{kept:?}");
    assert!(passed > 100 && none > 20, "{passed} {none}");
}

#[test]
fn a_bridge_that_is_named_is_the_narrowest() {
    let mut bridges = 0;
    for wanted in many(43, 600) {
        let at = wanted.at();
        for mend in Mends::of(&at, wanted.wish_mm, &Shelf::default()).tried {
            let Change::Bridge(bridge_mm) = mend.change else { continue };
            let (made, wide) = (wanted.option.supply == Supply::Surfaced, bridge_mm < WIDEST_BRIDGE_MM);
            if !made || !wide || mend.edge_mm > wanted.wish_mm {
                continue;
            }
            for wider in 1..=20 {
                let between = bridge_mm + (WIDEST_BRIDGE_MM - bridge_mm) * f64::from(wider) / 20.0;
                assert!(edge_with(&wanted, &Change::Bridge(between)) <= wanted.wish_mm, "{between}");
            }
            let edge = edge_with(&wanted, &Change::Bridge(bridge_mm - 0.01));
            assert!(edge > wanted.wish_mm, "{bridge_mm} - 0.01 has {edge} and the wish is {}", wanted.wish_mm);
            bridges += 1;
        }
    }
    assert!(bridges > 5, "{bridges}");
}

/// A round plus lens with its pupil in the middle is as thick all round as the least edge asks.
#[test]
fn a_least_edge_that_is_named_is_the_largest_that_keeps_the_wish() {
    let job = job(r#"
        format = 1
        prescription.right = { sphere = 3.0, pd_mm = 30 }
        prescription.left = { sphere = 3.0, pd_mm = 30 }
        lens = [{ name = "any", material = "resin-1.60", min_edge_mm = 1.5 }]
        frame = [{ name = "Fennel", shape = "circle", eye_sizes_mm = [40], bridge_mm = 20, rim = "metal" }]
    "#);
    let at = at(&job, "Fennel", "40", "any");
    let mends = Mends::of(&at, 1.2, &Shelf::default());
    let least = |mend: &Mend| if let Change::MinEdge(mm) = mend.change { Some((mm, mend.edge_mm)) } else { None };
    let (least_mm, edge_mm) = mends.tried.iter().find_map(least).expect("tried");
    assert!((least_mm - 1.2).abs() < 1e-6 && edge_mm <= 1.2, "{least_mm} {edge_mm}");
    let said = text::limit(&Limits::of(&[at], 1.2, &Shelf::default()), false).replace('\n', " ");
    assert!(said.contains("The least edge of 1.5 mm passes it by itself at every eye size."), "{said}");
    assert!(said.contains("a least edge of 1.2 mm (1.2 mm), if the rim holds it"), "{said}");
}

#[test]
fn every_material_is_answered_as_if_it_were_asked_for_alone() {
    let shelf = Shelf::built_in();
    let (mut sizes, mut none) = (0, 0);
    for wanted in many(47, 40) {
        let at = wanted.at();
        let limits = Limits::of(&[at], wanted.wish_mm, &shelf);
        let listed = matches!(wanted.option.substance, Substance::Listed(_));
        assert_eq!(limits.materials.len(), shelf.materials.len() + usize::from(!listed));
        assert_eq!(limits.materials[0].option, wanted.option);
        for one in &limits.materials {
            let alone = largest_eye_size(&Addressed { option: &one.option, ..at }, wanted.wish_mm);
            assert_eq!(alone.largest_mm(), one.eye_size.largest_mm());
            assert_eq!(edge_at_size(&Addressed { option: &one.option, ..at }, at.boxing.eye_size_mm), one.edge_mm);
            if alone.largest_mm().is_some() { sizes += 1 } else { none += 1 }
        }
    }
    assert!(sizes > 100 && none > 50, "{sizes} {none}");
}

/// A curve rises, runs through the edge itself, and holds what was found.
fn runs(points: &[Point], found: Option<f64>, edge: impl Fn(f64) -> Option<f64>) {
    assert!(points.windows(2).all(|pair| pair[0].0 < pair[1].0), "{points:?}");
    for (value, at) in points {
        assert_eq!(*at, edge(*value), "{value}");
    }
    if let Some(found) = found {
        assert!(points.iter().any(|point| point.0 == found), "{found} is no point of {points:?}");
    }
}

#[test]
fn curves_run_through_the_edge_and_through_what_was_found() {
    let (mut sizes, mut gaps) = (0, 0);
    for wanted in many(53, 60) {
        let at = wanted.at();
        let limit = Limit::of(&at, wanted.wish_mm, &Shelf::default());
        let (curves, varied) = (Curves::of(&limit), Varied::new(&at));
        runs(&curves.eye_size, limit.eye_size.largest_mm(), |size| edge_at_size(&at, size));
        runs(&curves.sphere, limit.sphere.value(), |sphere| varied.edge_at_sphere(limit.eye, sphere));
        runs(&curves.index, limit.index.value(), |index| varied.edge_at_index(index));
        runs(&curves.pd, limit.pd.value(), |pd| varied.edge_at_pd(limit.eye, pd));
        assert_eq!(curves.sphere.is_empty(), limit.sphere == Tip::ReadyMade);
        sizes += usize::from(limit.eye_size.largest_mm().is_some());
        gaps += curves.eye_size.iter().filter(|point| point.1.is_none()).count();
    }
    assert!(sizes > 20 && gaps > 20, "{sizes} {gaps}");
}

#[test]
fn sizes_for_several_wishes_are_those_of_limit() {
    let (mut up_to, mut every, mut no) = (0, 0, 0);
    for wanted in many(59, 60) {
        let options = std::slice::from_ref(&wanted.option);
        let wishes = Wishes::of(&wanted.at(), options, Lead::Edge, wanted.wish_mm);
        assert!(
            wishes.wishes_mm.iter().all(|wish| (2.0 * wish).fract() == 0.0 && (wish - wanted.wish_mm).abs() <= 1.75)
        );
        for (wish_mm, within) in wishes.wishes_mm.iter().zip(&wishes.rows[0].1) {
            match (within, largest_eye_size(&wanted.at(), *wish_mm)) {
                (Within::UpTo(size), EyeSize::UpTo { eye_size_mm, .. }) => {
                    assert_eq!(*size, eye_size_mm);
                    up_to += 1;
                }
                (Within::Every, EyeSize::Every { .. }) => every += 1,
                (Within::No, EyeSize::No { .. }) => no += 1,
                (within, size) => panic!("{within:?} and {size:?}"),
            }
        }
    }
    assert!(up_to > 50 && every > 3 && no > 30, "{up_to} {every} {no}");
}

#[test]
fn sizes_for_a_wish_for_the_centre_have_that_centre() {
    let job = demo("strong-plus");
    let at = at(&job, "Campion", "40", "thin made to order");
    let wishes = Wishes::of(&at, &job.lenses, Lead::Centre, 3.1);
    let centre = |option: &LensOption, eye_size_mm: f64| {
        let boxing = at.frame.sizes[0].at_eye_size(eye_size_mm);
        Fit::new(&Mounting::new(at.frame, boxing), at.prescription, option).pair().expect("made").centre_max_mm()
    };
    let mut seen = 0;
    for (option, sizes) in wishes.rows.iter().filter(|(option, _)| option.supply == Supply::Surfaced) {
        for (wish_mm, within) in wishes.wishes_mm.iter().zip(sizes) {
            let Within::UpTo(size) = within else { continue };
            let (here, beyond) = (centre(option, *size).expect("inside"), centre(option, size + 0.01).expect("inside"));
            assert!((here - wish_mm).abs() < 1e-4 && beyond > *wish_mm, "{here} {beyond} {wish_mm}");
            seen += 1;
        }
    }
    assert!(seen > 3, "{seen}");
}

fn fit<'a>(job: &'a Job, frame: &str, size: &str, lens: &str) -> Fit<'a> {
    let at = at(job, frame, size, lens);
    Fit::new(&Mounting::new(at.frame, at.boxing), at.prescription, at.option)
}

/// A centre that is thicker by 0.3 mm is thicker by that, and a pd that moves it does what another pair says.
#[test]
fn how_sure_a_centre_is_comes_of_pairs_made_otherwise() {
    let job = demo("strong-plus");
    let fit = fit(&job, "Campion", "40", "thin made to order");
    let sure = Sure::of(&fit).expect("made");
    let spread =
        |doubt| sure.spreads.iter().find(|spread| spread.doubt == doubt).and_then(|s| s.centre_mm).expect("it");
    let [low, high] = spread(Doubt::Centre);
    assert!(low == 0.0 && (high - 0.3).abs() < SAME_MM, "{high}");
    let centre = |right: f64, left: f64| {
        let mut prescription: Prescription = fit.prescription.clone();
        prescription.eyes.right.pd_mm += right;
        prescription.eyes.left.pd_mm += left;
        Fit::new(&fit.mounting, &prescription, fit.option).pair().expect("made").centre_max_mm().expect("inside")
    };
    let changes = [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)].map(|(r, l)| centre(r, l) - centre(0.0, 0.0));
    let wanted = changes.iter().fold([0.0, 0.0], |[low, high]: [f64; 2], by| [low.min(*by), high.max(*by)]);
    let found = spread(Doubt::Pd);
    assert!(found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < SAME_MM), "{found:?} and {wanted:?}");
    assert!(found[1] > 0.1, "the pd matters here: {found:?}");
}

/// A pd that is wrong is wrong in both pairs.
#[test]
fn a_saving_is_surer_than_the_two_edges() {
    let job = demo("strong-minus");
    let (large, small) = (fit(&job, "Yarrow", "50", "thin"), fit(&job, "Yarrow", "46", "thin"));
    let saving = Saving::of(&large, &small, Lead::Edge).expect("both are made");
    let edge = |fit: &Fit<'_>, by: [f64; 2]| {
        let mut prescription = fit.prescription.clone();
        prescription.eyes.right.pd_mm += by[0];
        prescription.eyes.left.pd_mm += by[1];
        Fit::new(&fit.mounting, &prescription, fit.option).pair().expect("made").edge_max_mm()
    };
    let saved = |by| edge(&large, by) - edge(&small, by);
    assert!((saving.saved_mm - saved([0.0, 0.0])).abs() < SAME_MM);
    let pds = [[1.0, 1.0], [1.0, -1.0], [-1.0, 1.0], [-1.0, -1.0]].map(|by| (saved(by) - saving.saved_mm).abs());
    let pd = pds.into_iter().fold(0.0, f64::max);
    let alone = [&large, &small].map(|fit| Sure::of(fit).expect("made"));
    let largest = |sure: &Sure, doubt| {
        let spread = sure.spreads.iter().find(|spread| spread.doubt == doubt).expect("one");
        spread.edge_mm[1].max(-spread.edge_mm[0])
    };
    let centres: f64 = alone.iter().map(|sure| largest(sure, Doubt::Centre).powi(2)).sum();
    let least = (centres + pd * pd).sqrt();
    // The one base is a doubt too, and a small one: the same step in both.
    assert!(saving.give_or_take_mm >= least - SAME_MM && saving.give_or_take_mm < least + 0.1, "{saving:?} {least}");
    let apart: f64 = alone.iter().map(|sure| sure.give_or_take_mm().powi(2)).sum::<f64>().sqrt();
    assert!(saving.give_or_take_mm < apart, "{saving:?} and {apart}");
    // Against spectacles made for another prescription each pd is its own.
    let comparison = Comparison::of(&job);
    let promise = Promise::of(&comparison).expect("an answer");
    let (under, from, saving) = promise.saving.expect("compared with those worn now");
    assert!(comparison.is_now(under));
    let both = [from, promise.fit].map(|fit| Sure::of(fit).expect("made").give_or_take_mm().powi(2));
    assert!((saving.give_or_take_mm - both.iter().sum::<f64>().sqrt()).abs() < SAME_MM);
}

#[test]
fn the_page_of_limit_is_whole_and_refers_to_nothing_outside() {
    let shelf = Shelf::built_in();
    for (name, frame, size, wish_mm, one) in [
        ("strong-minus", "Yarrow", "46", 5.5, false),
        ("nasal-edge", "Bryony", "46", 5.0, true),
        ("strong-plus", "Campion", "40", 4.47, false),
        ("mild", "Marram", "50", 0.9, false),
    ] {
        let job = demo(name);
        let options = if one { &job.lenses[..1] } else { &job.lenses[..] };
        let asked: Vec<Addressed<'_>> = options.iter().map(|option| at(&job, frame, size, &option.name)).collect();
        let limits = Limits::of(&asked, wish_mm, &shelf);
        let pictures = LimitPictures::of(&limits).expect("pictures");
        pictures.all().for_each(|picture| apart(name, picture));
        let files = folder::limit_files(&job, &limits);
        for wanted in [PAGE, LIMIT, "chart-eye-size.svg", "chart-sure.svg"] {
            assert!(files.contains_key(wanted), "{wanted} among {:?}", files.keys());
        }
        for (name, bytes) in &files {
            let text = std::str::from_utf8(bytes).expect("text");
            if name.ends_with(".svg") {
                Document::parse(text).unwrap_or_else(|fault| panic!("{name}: {fault}"));
                continue;
            }
            for outside in ["http:", "https:", "src=", "@import", "<script", "<link", "url(/"] {
                assert!(!text.contains(outside), "{name}: {outside}");
            }
        }
        let page = std::str::from_utf8(&files[PAGE]).expect("text");
        assert!(page.contains("id=\"safety\"") && page.contains("driving"), "{name}");
        assert_eq!(page.contains("id=\"materials\""), one, "{name}");
    }
}

#[test]
fn an_edge_that_no_size_keeps_is_said_once_and_without_contradiction() {
    let job = demo("strong-plus");
    let at = at(&job, "Campion", "40", "thin ready-made");
    let said = text::limit(&Limits::of(&[at], 4.47, &Shelf::built_in()), false).replace('\n', " ");
    assert!(
        said.contains("stays within 4.47 mm at the thickest edge only from eye size 35 to 48.5, not below:"),
        "{said}"
    );
    assert!(!said.contains("no eye size of"), "{said}");
    assert!(said.contains("All the sizes it comes in, 40 and 42, stay within it."), "{said}");
}

#[test]
fn a_job_of_one_option_promises_without_a_saving() {
    let job = job(r#"
        format = 1
        prescription.right = { sphere = -3.0, pd_mm = 32 }
        prescription.left = { sphere = -3.0, pd_mm = 32 }
        lens = [{ name = "any", material = "resin-1.60" }]
        frame = [{ name = "Fennel", shape = "oval", eye_sizes_mm = [46], depth_mm = 36, bridge_mm = 18, rim = "metal" }]
    "#);
    let comparison = Comparison::of(&job);
    let promise = Promise::of(&comparison).expect("an answer");
    assert!(promise.saving.is_none());
    let told = promise.told(&comparison).expect("told");
    assert!(told.contains("give or take") && !told.contains("thinner"), "{told}");
}
