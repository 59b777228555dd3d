//! The curves of the charts: they pass through the options that a job compares.

use crate::report::{DEMO_JOBS, demo};
use rimwise::assess::Fit;
use rimwise::choose::{Substance, Supply};
use rimwise::job::Addressed;
use rimwise::study::compare::Comparison;
use rimwise::study::index_curve::index_curve;
use rimwise::study::size_curve::{SizeCurve, size_curves};
use rimwise::study::trade_curve::{boxings, trade_curves};

/// The same lens reached by two ways: the thickness settles to 1e-9 mm.
const SAME_MM: f64 = 1e-7;

#[test]
fn eye_size_is_traded_against_bridge_at_one_distance_of_the_boxed_centres() {
    let mut seen = 0;
    for name in DEMO_JOBS {
        let job = demo(name);
        let comparison = Comparison::of(&job);
        for frame in &job.frames {
            let first = frame.sizes[0];
            let traded = boxings(frame);
            assert!(traded.contains(&first) && traded.len() > 4, "{name}: {traded:?}");
            for boxing in &traded {
                let off = boxing.centre_distance_mm() - first.centre_distance_mm();
                assert!(off.abs() < 1e-9, "{name}: {boxing:?}");
                let proportion = boxing.depth_mm / boxing.eye_size_mm - first.depth_mm / first.eye_size_mm;
                assert!(proportion.abs() < 1e-12, "{name}: {boxing:?}");
            }
            for curve in trade_curves(frame, &job.lenses, &job.prescription) {
                let here = |fit: &&Fit<'_>| {
                    std::ptr::eq(fit.mounting.frame, frame)
                        && fit.mounting.boxing == first
                        && std::ptr::eq(fit.option, curve.option)
                };
                let Some(pair) = comparison.fits.iter().find(here).and_then(Fit::pair) else { continue };
                let point = curve.points().find(|point| point.eye_size_mm == first.eye_size_mm);
                assert_eq!(point.map(|point| point.edge_max_mm), Some(pair.edge_max_mm()), "{name}");
                seen += 1;
            }
        }
    }
    assert!(seen > 50, "{seen}");
}

#[test]
fn the_curve_over_the_index_passes_through_its_own_option() {
    let mut seen = 0;
    for name in DEMO_JOBS {
        let job = demo(name);
        for fit in &Comparison::of(&job).fits {
            let Some(pair) = fit.pair().filter(|_| fit.option.supply == Supply::Surfaced) else { continue };
            let Substance::Listed(material) = &fit.option.substance else { continue };
            let index = material.glass(fit.prescription.reference_line).index;
            let (frame, boxing) = (fit.mounting.frame, fit.mounting.boxing);
            let at = Addressed { frame, boxing, option: fit.option, prescription: fit.prescription };
            let curve = index_curve(&at, &[index]);
            assert!(curve.windows(2).all(|pair| pair[0].index < pair[1].index));
            // Between its neighbours on the curve, or, where it stands at the end of it, on it.
            let after = curve.partition_point(|point| point.index < index - 1e-12);
            let ends = [&curve[after.saturating_sub(1)], &curve[after]].map(|point| point.edge_max_mm);
            let edge = pair.edge_max_mm();
            let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
            assert!(low - SAME_MM <= edge && edge <= high + SAME_MM, "{name}: {edge} not within {ends:?}");
            seen += 1;
        }
    }
    assert!(seen > 80, "{seen}");
}

/// Between neighbouring points of one piece nothing may jump: the slope is at most so many times the slope beside it.
const NO_JUMP: f64 = 3.0;

/// Places of breaks are found to this.
const BREAK_MM: f64 = 0.01;

#[test]
fn curves_break_where_a_ready_made_lens_goes_to_the_next_diameter_and_nowhere_else() {
    let (mut jumps, mut smooth) = (0, 0);
    for name in DEMO_JOBS {
        let job = demo(name);
        for frame in &job.frames {
            for curve in size_curves(frame, &job.lenses, &job.prescription) {
                if curve.option.supply == Supply::Surfaced {
                    assert!(curve.pieces.len() <= 1, "{name}: {} breaks", curve.option.name);
                }
                for ends in curve.pieces.windows(2) {
                    let (last, first) = (ends[0].last().expect("a point"), ends[1][0]);
                    let apart = first.eye_size_mm - last.eye_size_mm;
                    assert!(apart > 0.0 && apart <= BREAK_MM, "{name}: {apart}");
                    jumps += usize::from((first.mass_g - last.mass_g).abs() > 0.1);
                }
                smooth += steps_are_alike(name, &curve);
            }
        }
    }
    assert!(jumps > 3, "{jumps}");
    assert!(smooth > 300, "{smooth}");
}

/// No step of a piece is much steeper than the one before it.
fn steps_are_alike(name: &str, curve: &SizeCurve<'_>) -> usize {
    let slope = |a: &rimwise::study::size_curve::SizePoint, b: &rimwise::study::size_curve::SizePoint| {
        (b.mass_g - a.mass_g) / (b.eye_size_mm - a.eye_size_mm)
    };
    let mut seen = 0;
    for three in curve.pieces.iter().flat_map(|piece| piece.windows(3)) {
        let (before, after) = (slope(&three[0], &three[1]), slope(&three[1], &three[2]));
        assert!(after > 0.0 && after < NO_JUMP * before, "{name}: {before} then {after} g/mm in {}", curve.option.name);
        seen += 1;
    }
    seen
}
