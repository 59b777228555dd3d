//! The demo jobs, worked: every figure is a number, the present spectacles stand apart, a smaller eye size does what is
//! said of it, and what the comment at the head of each file claims is true.
//!
//! Units: mm, grams.

use rimwise::advice::{self, Severity};
use rimwise::assess::{Fit, Impossible, Made, Pair};
use rimwise::choose::base::ChosenBy;
use rimwise::choose::centre::SetBy;
use rimwise::choose::{LensOption, Substance, Supply};
use rimwise::eye::Eye;
use rimwise::job::{Job, NOW};
use rimwise::material::Shelf;
use rimwise::read;
use rimwise::rim::Rim;
use rimwise::study::compare::{Comparison, EQUAL_MM, Lead};
use rimwise::study::lessons::{Lesson, lessons};
use std::path::Path;

/// Thicknesses are found to this.
const FOUND_MM: f64 = 1e-9;

fn job(name: &str) -> Job {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-jobs").join(name).with_extension("toml");
    let outlines = read::OutlineFiles::beside(&path);
    let judged = read::job_with(&std::fs::read(path).expect("a demo job"), &Shelf::built_in(), &outlines);
    judged.value.unwrap_or_else(|| panic!("{name}: {:?}", judged.findings))
}

/// All demo jobs but the one that is wrong on purpose.
fn sound() -> Vec<(String, Job)> {
    let name = |path: std::path::PathBuf| path.file_stem().expect("a name").to_string_lossy().into_owned();
    let names = crate::messages::jobs("demo-jobs").into_iter().map(name).filter(|name| name != "faulty");
    let found: Vec<(String, Job)> = names.map(|name| (name.clone(), job(&name))).collect();
    assert!(found.len() >= 8, "only {} sound demo jobs", found.len());
    found
}

fn fit<'a, 'b>(comparison: &'b Comparison<'a>, address: &str) -> &'b Fit<'a> {
    let found = comparison.offered().map(|(_, fit)| fit).find(|fit| fit.address() == address);
    found.unwrap_or_else(|| panic!("no {address}"))
}

fn pair<'b>(comparison: &'b Comparison<'_>, address: &str) -> &'b Pair {
    fit(comparison, address).pair().unwrap_or_else(|| panic!("{address} cannot be made"))
}

fn edge_max(made: &Made) -> f64 {
    made.thickness.edges.max.thickness_mm
}

#[test]
fn every_figure_of_every_demo_job_is_a_number() {
    let (mut figures, mut impossible, mut decentred) = (0, 0, 0);
    for (name, job) in sound() {
        let comparison = Comparison::of(&job);
        assert_eq!(comparison.fits.len(), job.combinations(), "{name}");
        for fit in &comparison.fits {
            let Some(pair) = fit.pair() else {
                impossible += 1;
                continue;
            };
            for figure in rimwise::figures::OF_EYE {
                for (eye, made) in pair.eyes.iter() {
                    if let Some(value) = (figure.read)(made) {
                        assert!(
                            value.is_finite(),
                            "{name}, {}, {}: {} = {value}",
                            fit.address(),
                            eye.word(),
                            figure.id
                        );
                        figures += 1;
                    }
                }
            }
            for (eye, made) in pair.eyes.iter() {
                let work = fit.lab_work(eye, made);
                let edging = rimwise::figures::OF_EDGING.iter().map(|figure| (figure.id, (figure.read)(&work.edging)));
                let surfacing = rimwise::figures::OF_SURFACING.iter();
                let surfacing = surfacing.map(|figure| (figure.id, (figure.read)(&work.surfacing)));
                for (id, value) in edging.chain(surfacing) {
                    assert!(value.is_none_or(f64::is_finite), "{name}, {}: {id} = {value:?}", fit.address());
                }
            }
            for figure in rimwise::figures::OF_PAIR {
                if let Some(value) = (figure.read)(pair) {
                    assert!(value.is_finite(), "{name}, {}: {} = {value}", fit.address(), figure.id);
                }
            }
            for (_, made) in pair.eyes.iter() {
                let t = &made.thickness;
                // What no lens may get wrong.
                assert!(t.thinnest_mm >= made.minima.kept.edge_mm.min(made.minima.kept.centre_mm) - FOUND_MM);
                assert!(
                    t.edges.min.thickness_mm >= made.minima.kept.edge_mm - FOUND_MM && t.edges.max.thickness_mm < 20.0
                );
                for there in [t.nasal_mm, t.temporal_mm, t.top_mm, t.bottom_mm] {
                    assert!(there >= t.edges.min.thickness_mm - FOUND_MM && there <= edge_max(made) + FOUND_MM);
                }
                assert!(made.mass_g > 0.5 && made.mass_g < 60.0 && made.edging_removed_mm3 < 0.2 * made.volume_mm3);
                decentred += usize::from(made.centration.in_mm.abs() > 1.0);
            }
        }
    }
    assert!(figures > 5000 && impossible > 0 && decentred > 100, "{figures} {impossible} {decentred}");
}

#[test]
fn the_present_spectacles_come_first_and_are_never_best() {
    let mut given = 0;
    for (name, job) in sound() {
        let comparison = Comparison::of(&job);
        assert_eq!(comparison.has_now, job.present.is_some(), "{name}");
        for (index, fit) in comparison.fits.iter().enumerate() {
            let now = fit.mounting.frame.name == NOW || fit.option.name == NOW;
            assert_eq!(now, comparison.is_now(index), "{name}: {}", fit.address());
            if now {
                assert_eq!(index, 0, "{name}");
                assert!(!comparison.is_thinnest(index) && !comparison.is_lightest(index), "{name}");
                assert_eq!(job.present.as_ref().map(|p| p.prescription.is_some()), Some(true), "{name}");
                // Made for what was prescribed then.
                assert_ne!(fit.prescription, &job.prescription, "{name}");
                given += 1;
            }
        }
        // Best is one of those on offer, and so are all that are equal to it.
        let (best, _) = comparison.thinnest().expect("something can be made");
        assert!(comparison.is_thinnest(best), "{name}");
        let lead = |i: usize| comparison.fits[i].pair().and_then(|pair| comparison.lead.of(pair));
        for (index, _) in comparison.offered() {
            let equal = lead(index).is_some_and(|value| value <= lead(best).expect("made") + EQUAL_MM);
            assert_eq!(comparison.is_thinnest(index), equal, "{name}: {index}");
        }
    }
    assert_eq!(given, 1, "one demo job gives the present spectacles");
}

#[test]
fn in_every_minus_job_the_temporal_edge_falls_with_the_eye_size() {
    let (mut steps, mut bridges, mut nasal, mut jobs) = (0, 0, 0, 0);
    let mut most_saved = 0f64;
    for (name, job) in sound() {
        let minus = |eye: Eye| job.prescription.eyes.of(eye).power.sphere() < 0.0;
        if !Eye::BOTH.into_iter().any(minus) {
            continue;
        }
        jobs += 1;
        for frame in &job.frames {
            let mut sizes = frame.sizes.clone();
            sizes.sort_by(|a, b| b.eye_size_mm.total_cmp(&a.eye_size_mm));
            for option in &job.lenses {
                for eye in Eye::BOTH.into_iter().filter(|eye| minus(*eye)) {
                    let at = |size| {
                        let mounting = rimwise::assess::Mounting::new(frame, size);
                        let fit = Fit::new(&mounting, &job.prescription, option);
                        fit.pair().map(|pair| *pair.eyes.of(eye))
                    };
                    for two in sizes.windows(2) {
                        let (Some(large), Some(small)) = (at(two[0]), at(two[1])) else { continue };
                        let where_ = format!(
                            "{name}: {}, {}, {} to {}",
                            frame.name, option.name, two[0].eye_size_mm, two[1].eye_size_mm
                        );
                        let reach = [large.centration.reach, small.centration.reach];
                        let eye_size = two[0].eye_size_mm - two[1].eye_size_mm;
                        let wider = two[1].bridge_mm - two[0].bridge_mm;
                        // All of it from the temporal side, but for what a wider bridge moves from nose to temple.
                        assert!(
                            (reach[0].temporal_mm - reach[1].temporal_mm - eye_size + 0.5 * wider).abs() < 1e-9,
                            "{where_}"
                        );
                        assert!((reach[0].nasal_mm - reach[1].nasal_mm - 0.5 * wider).abs() < 1e-9, "{where_}");
                        let temporal = large.thickness.temporal_mm - small.thickness.temporal_mm;
                        assert!(temporal > 0.0, "{where_}: the temporal edge falls by {temporal}");
                        let most = edge_max(&large) - edge_max(&small);
                        assert!(most > -FOUND_MM, "{where_}: the thickest edge rises by {}", -most);
                        most_saved = most_saved.max(most);
                        steps += 1;
                        bridges += usize::from(wider != 0.0);
                        nasal += usize::from(most < 0.01);
                    }
                }
            }
        }
    }
    assert!(jobs >= 6 && steps > 60 && bridges > 5 && nasal > 5, "{jobs} jobs, {steps} steps, {bridges}, {nasal}");
    assert!(most_saved > 1.0, "no step saves more than {most_saved}");
}

#[test]
fn strong_minus_says_what_the_eye_size_does() {
    let job = job("strong-minus");
    let comparison = Comparison::of(&job);
    assert_eq!(comparison.lead, Lead::Edge);
    let found = lessons(&comparison);
    let saved = found.iter().find_map(|lesson| match lesson {
        Lesson::EyeSize(step) => Some((step.change.saved_mm(), step.reach)),
        _ => None,
    });
    let (saved, reach) = saved.expect("a lesson of the eye size");
    assert!(saved > 1.0, "the smaller eye size saves {saved} mm");
    assert!(reach[0].nasal_mm == reach[1].nasal_mm && reach[0].temporal_mm > reach[1].temporal_mm + 3.0, "{reach:?}");
    // "Yarrow at 46 in the 1.60 resin comes out thinner than Yarrow at 50 in the 1.74."
    let (small, large) = (pair(&comparison, "Yarrow/46/thin"), pair(&comparison, "Yarrow/50/slim"));
    assert!(small.edge_max_mm() < large.edge_max_mm(), "{} against {}", small.edge_max_mm(), large.edge_max_mm());
    // "The glass is thin and heavy."
    let glass = pair(&comparison, "Yarrow/46/glass");
    assert!(glass.edge_max_mm() < small.edge_max_mm() && glass.mass_g() > 2.0 * small.mass_g());
    // "At its widest Sorrel wants a larger blank than that glass comes in: it can be surfaced off the middle."
    let mut decentred: Vec<String> = Vec::new();
    for (_, fit) in comparison.offered() {
        let says = advice::cautions(fit).iter().any(|caution| caution.rule.id == "fit.blank-decentred");
        let is = fit.pair().is_some_and(|pair| pair.eyes.iter().any(|(_, made)| made.blank.decentred));
        assert_eq!(says, is, "{}", fit.address());
        if says {
            decentred.push(fit.address());
        }
    }
    assert_eq!(decentred, ["Sorrel/54/glass"]);
    // "Worn so far in a frame much too wide."
    let now = comparison.fits[0].pair().expect("the present spectacles");
    assert!(now.edge_max_mm() > comparison.thickest().expect("made").1.pair().expect("made").edge_max_mm());
}

#[test]
fn traced_frames_have_their_measured_sizes_and_rounder_corners() {
    let job = job("traced-frame");
    let sizes = |name: &str| job.frame(name).expect("a frame").sizes.clone();
    let [coltsfoot] = sizes("Coltsfoot")[..] else { panic!("one size") };
    // As the file itself says: HBOX and VBOX.
    assert!((coltsfoot.eye_size_mm - 51.00).abs() < 0.02, "{coltsfoot:?}");
    assert!((coltsfoot.depth_mm - 40.52).abs() < 0.02, "{coltsfoot:?}");
    let betony = sizes("Betony");
    assert_eq!(betony.iter().map(|boxing| boxing.eye_size_mm).collect::<Vec<_>>(), [48.0, 50.0, 52.0]);
    for boxing in &betony {
        let ratio = boxing.depth_mm / boxing.eye_size_mm;
        assert!((ratio - betony[0].depth_mm / 48.0).abs() < 1e-12 && (ratio - 33.0 / 50.0).abs() < 0.01, "{boxing:?}");
    }
    let comparison = Comparison::of(&job);
    for lens in ["plain", "thin"] {
        let [measured, drawn] =
            ["Betony", "Chervil"].map(|name| pair(&comparison, &format!("{name}/50/{lens}")).edge_max_mm());
        assert!(drawn > measured, "{lens}: {drawn} against {measured}");
    }
}

#[test]
fn nasal_edge_says_that_no_eye_size_helps_and_what_does() {
    let job = job("nasal-edge");
    let comparison = Comparison::of(&job);
    let found = lessons(&comparison);
    let mut told = Vec::new();
    for lesson in &found {
        match lesson {
            Lesson::NasalEdge { step, wider_bridge } => {
                let (name, saved) = (step.frame.name.as_str(), step.change.saved_mm());
                assert!(saved.abs() < 1e-6, "{name}: {saved} saved after all");
                let (bridge, wider) = wider_bridge.expect("a wider bridge can be made");
                assert!(bridge > step.sizes[1].bridge_mm && wider.saved_mm() > 0.2, "{name}: {}", wider.saved_mm());
                let [large, small] = step.reach.map(|reach| reach.nasal_mm);
                assert!(
                    large == small && (large - 28.5).abs() < 1.1 && step.eye == Eye::Right,
                    "{name}: {large} {small}"
                );
                told.push(name);
            }
            Lesson::EyeSize(step) => panic!("a smaller {} is said to help", step.frame.name),
            _ => {}
        }
    }
    told.sort_unstable();
    assert_eq!(told, ["Bryony", "Comfrey"]);
    for (name, sizes) in [("Bryony", [46, 48, 50]), ("Comfrey", [44, 46, 46])] {
        for option in &job.lenses {
            let at = |size: i32| pair(&comparison, &format!("{name}/{size}/{}", option.name));
            let edges = sizes.map(|size| at(size).edge_max_mm());
            // "Every size has the same thickest edge", and it lies at the nose.
            assert!(edges.iter().all(|edge| (edge - edges[0]).abs() < 1e-6), "{name}: {edges:?}");
            for (eye, made) in at(sizes[0]).eyes.iter() {
                let toward_nose = made.thickness.edges.max.point.x * eye.nasal_sign();
                assert!(toward_nose > 10.0 && made.thickness.nasal_mm > made.thickness.temporal_mm, "{name}");
            }
        }
    }
    // "Burdock is Bryony at 46 on a wider bridge, and thinner for it; a higher index helps too."
    for option in &job.lenses {
        let wide = pair(&comparison, &format!("Burdock/46/{}", option.name)).edge_max_mm();
        let narrow = pair(&comparison, &format!("Bryony/46/{}", option.name)).edge_max_mm();
        assert!(wide < narrow - EQUAL_MM, "{}: {wide} on the wider bridge, {narrow}", option.name);
    }
    let index = |lens: &str| pair(&comparison, &format!("Bryony/46/{lens}")).edge_max_mm();
    assert!(index("thinner") < index("thin") - EQUAL_MM);
}

#[test]
fn mild_says_that_nothing_makes_a_visible_difference() {
    let job = job("mild");
    let comparison = Comparison::of(&job);
    let found = lessons(&comparison);
    assert!(matches!(found[..], [Lesson::Alike { .. }]), "{found:?}");
    // "From the cheapest lens to the dearest the thickest edge changes by about 0.2 mm."
    for (frame, size) in [("Marram", 50), ("Marram", 52), ("Sedge", 50)] {
        let at = |lens: &str| pair(&comparison, &format!("{frame}/{size}/{lens}")).edge_max_mm();
        let change = at("standard ready-made") - at("thinner");
        assert!(change.abs() < 0.25, "{frame} {size}: {change}");
    }
    // 2.0 mm in the middle in all that are made to order.
    for (_, fit) in comparison.offered().filter(|(_, fit)| fit.option.supply == Supply::Surfaced) {
        for (_, made) in fit.pair().expect("can be made").eyes.iter() {
            assert!((made.thickness.centre_mm.expect("inside") - 2.0).abs() < FOUND_MM, "{}", fit.address());
            assert_eq!(made.thickness.set_by, SetBy::Centre);
        }
    }
}

#[test]
fn strong_plus_is_thinner_made_to_order() {
    let job = job("strong-plus");
    let comparison = Comparison::of(&job);
    assert_eq!(comparison.lead, Lead::Centre);
    let centre = |address: &str| pair(&comparison, address).centre_max_mm().expect("inside");
    for (frame, sizes) in [("Tarragon", vec![44, 46]), ("Campion", vec![40, 42]), ("Burnet", vec![50])] {
        for size in sizes {
            for (resin, name) in [("standard", "1.50"), ("thin", "1.60")] {
                let (ready, ordered) =
                    [" ready-made", " made to order"].map(|supply| format!("{frame}/{size}/{resin}{supply}")).into();
                // "The thickness that belongs to the uncut's edge stays in when it is cut down."
                let more = centre(&ready) - centre(&ordered);
                assert!(more > 0.2, "{frame} {size}, {name}: ready-made is {more} mm thicker");
                assert!(pair(&comparison, &ready).mass_g() > pair(&comparison, &ordered).mass_g());
            }
        }
    }
    // "In the small round frame the plain resin made to order is thinner than the 1.60 ready-made."
    for size in [40, 42] {
        let plain = centre(&format!("Campion/{size}/standard made to order"));
        let dear = centre(&format!("Campion/{size}/thin ready-made"));
        assert!(plain < dear - EQUAL_MM, "{size}: {plain} against {dear}");
    }
}

#[test]
fn unequal_eyes_have_each_its_own_curve() {
    let job = job("unequal-eyes");
    let comparison = Comparison::of(&job);
    for (_, fit) in comparison.offered() {
        let pair = fit.pair().expect("can be made");
        let [right, left] = [Eye::Right, Eye::Left].map(|eye| pair.eyes.of(eye));
        if fit.option.base_curve_d.is_some() {
            assert_eq!([right.base.base_curve_d, left.base.base_curve_d], [4.0; 2], "{}", fit.address());
            assert_eq!(right.base.chosen_by, ChosenBy::Job);
        } else {
            assert!(right.base.base_curve_d > left.base.base_curve_d + 1.0, "{}", fit.address());
            assert!(!right.base.shared && !left.base.shared);
        }
        // "The thickest edge of the pair is the left one throughout."
        assert!(edge_max(left) > edge_max(right) + EQUAL_MM, "{}", fit.address());
    }
}

#[test]
fn oblique_astigmatism_is_thickest_across_the_axis() {
    let job = job("oblique-astigmatism");
    let comparison = Comparison::of(&job);
    let mut refused = 0;
    for (_, fit) in comparison.offered() {
        // "The ready-made option stops short of the right eye's cylinder; the answer says so."
        if fit.option.supply == Supply::Stock {
            let why = fit.outcome.as_ref().expect_err("the cylinder is not in stock");
            assert_eq!(why.eye, Eye::Right);
            assert_eq!(why.why, Impossible::NoStockPower { sphere_d: -1.0, cylinder_d: -4.5 });
            refused += 1;
            continue;
        }
        // "Toward the upper temple and the lower nose": the nose of the right lens is at 0 degrees.
        for (eye, made) in fit.pair().expect("can be made").eyes.iter() {
            let p = made.thickness.edges.max.point;
            let toward_nose = p.x * eye.nasal_sign();
            assert!(toward_nose * p.y < 0.0, "{}, {}: thickest at {p:?}", fit.address(), eye.word());
        }
    }
    assert_eq!(refused, 5);
}

#[test]
fn prescribed_prism_thickens_the_nose() {
    let job = job("prescribed-prism");
    let comparison = Comparison::of(&job);
    for (_, fit) in comparison.offered() {
        for (eye, made) in fit.pair().expect("can be made").eyes.iter() {
            let t = &made.thickness;
            assert!(t.nasal_mm > t.temporal_mm + 0.5, "{}", fit.address());
            // "The thin temporal edge sets the thickness."
            assert_eq!(t.set_by, SetBy::Edge, "{}", fit.address());
            assert!(t.edges.min.point.x * eye.nasal_sign() < 0.0, "{}: thinnest at {:?}", fit.address(), t.edges.min);
            assert!(t.edges.max.point.x * eye.nasal_sign() > 0.0, "{}: thickest at {:?}", fit.address(), t.edges.max);
        }
    }
    // "So a narrower frame thins even the nasal side."
    for (frame, [small, large]) in [("Cicely", [46, 48]), ("Melilot", [48, 50])] {
        for option in &job.lenses {
            let at = |size: i32| pair(&comparison, &format!("{frame}/{size}/{}", option.name));
            for eye in Eye::BOTH {
                let nasal = |size| at(size).eyes.of(eye).thickness.nasal_mm;
                assert!(nasal(small) < nasal(large), "{frame}, {}: {} {}", option.name, nasal(small), nasal(large));
            }
        }
    }
    // Left, base in and up act as one between them.
    let left = job.prescription.eyes.left.prism;
    assert!((left.amount_pd() - 3.0f64.hypot(1.5)).abs() < 1e-12 && left.x_pd < 0.0 && left.y_pd > 0.0, "{left:?}");
}

#[test]
fn supra_and_rimless_mounts_want_more_substance() {
    let job = job("supra-and-rimless");
    let comparison = Comparison::of(&job);
    let id = |option: &LensOption| match &option.substance {
        Substance::Listed(material) => material.id.clone(),
        Substance::Inline(_) => String::new(),
    };
    let (mut drilled_against_advice, mut thicker) = (0, 0);
    for (_, fit) in comparison.offered() {
        let pair = fit.pair().expect("can be made");
        let rim = fit.mounting.frame.rim;
        let Substance::Listed(material) = &fit.option.substance else { panic!("listed") };
        for (_, made) in pair.eyes.iter() {
            let t = &made.thickness;
            assert_eq!(t.shoulder_max_mm, None, "{}: no bevel", fit.address());
            let (centre, edge) = rim.floor_mm();
            assert!(t.edges.min.thickness_mm >= edge - FOUND_MM && t.thinnest_mm >= centre.min(edge) - FOUND_MM);
            thicker += usize::from(made.minima.kept.edge_mm > material.minimum_for(Rim::Metal).edge_mm + 0.3);
        }
        // "Plain resin and 1.74 are drilled against advice, which is a caution and no refusal."
        let cautions = advice::cautions(fit);
        let said = cautions.iter().find(|caution| caution.rule.id == "fit.drilling-unsuited");
        let against = rim == Rim::Rimless && ["resin-1.50", "resin-1.74"].contains(&id(fit.option).as_str());
        assert_eq!(said.is_some(), against, "{}", fit.address());
        if let Some(said) = said {
            assert_eq!(said.rule.severity, Severity::Caution);
            drilled_against_advice += 1;
        }
    }
    assert!(drilled_against_advice == 6 && thicker > 20, "{drilled_against_advice} {thicker}");
}
