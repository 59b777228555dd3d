//! Published worked examples, put to the trainee: the answer is the printed one. "Read": printed in the source. "Derived":
//! the formula is published, and the number was worked out from it once. Tolerance: half a unit of the last printed digit.

use crate::support::CONTACT_LENSES;
use rimwise::eye::Eye;
use rimwise::frame::Boxing;
use rimwise::practise::topics::{
    BackCurve, BackRadius, BackVertexPower, Blank, Decentration, FromReading, Imbalance, Jump, Meridian, MinusEdge,
    PlusCentre, Prentice, Resultant, Sag, SegmentPrism, Spoken, Style, Sum, Toward, Transposition, Vertex, Wanted,
};
use rimwise::practise::{Answer, Exercise, Mistake, Verdict};
use rimwise::rx::Base;

#[track_caller]
fn is(id: &str, exercise: &Exercise, expected: f64, tolerance: f64) {
    let Answer::Number(ours) = exercise.answer else { panic!("{id}: no number") };
    assert!((ours - expected).abs() <= tolerance + 1e-12, "{id}: ours {ours}, printed {expected}");
}

/// What a mistake gives.
#[track_caller]
fn by_mistake(id: &str, exercise: &Exercise, mistake: Mistake, expected: f64, tolerance: f64) {
    let wrong = exercise.wrong.iter().find(|wrong| wrong.mistake == mistake).expect("offered");
    let Answer::Number(ours) = wrong.answer else { panic!("{id}: no number") };
    assert!((ours - expected).abs() <= tolerance + 1e-12, "{id}: ours {ours}, printed {expected}");
}

#[track_caller]
fn power(id: &str, exercise: &Exercise, [sphere, cylinder, axis]: [f64; 3], typed: &str) {
    let Answer::Power(ours) = exercise.answer else { panic!("{id}: no power") };
    let off = [ours[0] - sphere, ours[1] - cylinder, ours[2] - axis];
    assert!(off.iter().all(|off| off.abs() <= 0.006), "{id}: ours {ours:?}");
    assert_eq!(exercise.judge(typed, false), Verdict::Right, "{id}: {typed}");
}

/// PR-01 to PR-04: read, US National Federation of Opticianry Schools, course OPT11, answers 13a.
#[test]
fn prentices_rule() {
    let met = |rx, toward, off_mm| Prentice { rx, eye: Eye::Right, toward, off_mm }.exercise();
    is("PR-01", &met([8.5, 0.0, 180.0], Toward::Below, 2.0), 1.7, 0.05);
    let in_wards = met([-3.25, 0.0, 180.0], Toward::Nasal, 5.0);
    is("PR-02", &in_wards, 1.6, 0.05);
    assert_eq!(in_wards.judge("1.6 base in", false), Verdict::Right);
    is("PR-03", &met([7.75, 0.0, 180.0], Toward::Above, 4.0), -3.1, 0.05);
    is("PR-04", &met([5.0, -1.5, 90.0], Toward::Below, 8.0), 4.0, 0.05);
}

/// PR-05 to PR-09: read, opticianstudy.com, powers in oblique meridians.
#[test]
fn power_in_a_meridian() {
    let met = |sphere, cylinder, axis, along| Meridian { sphere, cylinder, axis, along }.exercise();
    is("PR-05", &met(-8.0, -2.0, 112.0, 180.0), -9.72, 0.005);
    is("PR-06", &met(-10.0, 2.0, 22.0, 180.0), -9.72, 0.005);
    is("PR-07", &met(-4.0, -0.75, 48.0, 180.0), -4.41, 0.005);
    is("PR-08", &met(-2.0, -1.0, 37.0, 180.0), -2.36, 0.005);
    is("PR-09", &met(-2.5, -1.25, 76.0, 90.0), -2.57, 0.005);
}

/// PR-14: read, Durham Technical Community College, course OPH142, module 01. PR-18: read, perret-optic.ch, course notes.
/// BX-12: derived, formula of the trade. DP-12, 13: derived; DP-14: read, opticaltraining.com, ABO Lens Materials, p 16.
#[test]
fn prisms_decentration_imbalance() {
    let sum =
        |base| Resultant { eye: Eye::Right, horizontal: (2.0, Base::In), vertical: (1.5, Base::Up), base }.exercise();
    is("PR-14 size", &sum(false), 2.5, 0.05);
    is("PR-14 base", &sum(true), 37.0, 0.5);
    let boxing = Boxing { eye_size_mm: 52.0, depth_mm: 36.0, bridge_mm: 18.0 };
    let in_mm = |pds_mm, eye, wanted| Decentration { boxing, pds_mm, eye, wanted }.exercise();
    is("PR-18", &in_mm([32.0, 32.0], Eye::Right, Wanted::FromBoth), 3.0, 1e-9);
    is("BX-12 right", &in_mm([31.0, 32.5], Eye::Right, Wanted::FromOne), 4.0, 1e-9);
    is("BX-12 left", &in_mm([31.0, 32.5], Eye::Left, Wanted::FromOne), 2.5, 1e-9);
    let apart = |right, left, below_mm| Imbalance { eyes: [right, left], below_mm }.exercise();
    is("DP-12", &apart([-3.0, -2.0, 180.0], [-2.75, -2.5, 90.0], 8.0), 1.8, 0.05);
    is("DP-13", &apart([-4.0, 2.0, 60.0], [-3.0, 3.0, 45.0], 9.0), 1.8, 0.05);
    is("DP-14", &apart([1.0, 0.0, 180.0], [4.0, 0.0, 180.0], 10.0), 3.0, 0.05);
}

/// DP-01: read, opticaltraining.com, ABO Lens Materials, p 10, and Durham Technical Community College, OPH141, lesson 13b.
/// DP-02, 03: read, "Ophthalmic Lenses", chapter 10, p 114. DP-04, 05: derived, formula of the trade. DP-06: read,
/// nbeopart2.com, image jump. DP-10, 11: read, Durham Technical Community College, OPH142, module 09e.
#[test]
fn segments() {
    let jump = |style, add| Jump { style, add }.exercise();
    let round_22 = jump(Style::Round(22.0), 2.0);
    is("DP-01", &round_22, 2.2, 0.05);
    assert_eq!(round_22.judge("2.2 base down", false), Verdict::Right);
    is("DP-02", &jump(Style::Round(24.0), 2.0), 2.4, 0.05);
    is("DP-03", &jump(Style::FlatTop(28.0, 5.0), 2.0), 1.0, 0.05);
    is("DP-04", &jump(Style::FlatTop(35.0, 5.0), 3.0), 1.5, 0.05);
    is("DP-05", &jump(Style::FlatTop(28.0, 5.0), 3.25), 1.63, 0.006);
    is("DP-06", &jump(Style::FullWidth, 2.5), 0.0, 1e-9);
    let prism = |style, add, drop_mm| SegmentPrism { style, add, drop_mm, level_mm: 8.0 }.exercise();
    for (add, printed) in [(1.5, 0.9), (2.0, 1.2), (2.5, 1.5)] {
        is("DP-10, base down", &prism(Style::Round(22.0), add, 3.0), -printed, 0.05);
    }
    is("DP-11, base up", &prism(Style::FullWidth, 2.5, 4.0), 1.0, 0.05);
}

/// TH-01, 02: read, M. Jalie, The Indian Optician, May-June 2023, p 112. TH-03: derived, inputs from the same column.
/// TH-16, 21: derived, exact sags. BX-01 to 03: derived; the allowance of 2 mm over the diameter is taken off.
#[test]
fn sags_edges_blanks() {
    is("TH-01", &Sag { surface: Spoken::Radius(52.3), diameter_mm: 40.0 }.exercise(), 3.98, 0.005);
    let plus = PlusCentre { front_d: 10.0, index: 1.523, diameter_mm: 40.0, edge_mm: 1.0 }.exercise();
    is("TH-02", &plus, 4.98, 0.005);
    // A front of +4.00, a back of −14.00, and the back vertex power that they have.
    let front = 4.0 / (1.0 - 0.001 / 1.523 * 4.0);
    let curved = MinusEdge {
        power_d: front - 14.0,
        index: 1.523,
        base_curve_d: 4.0 * 0.53 / 0.523,
        centre_mm: 1.0,
        boxing: Boxing { eye_size_mm: 44.0, depth_mm: 44.0, bridge_mm: 18.0 },
        pd_mm: None,
    };
    is("TH-03", &curved.exercise(), 6.3, 0.01);
    let deep = Sag { surface: Spoken::Power(6.0, 1.498), diameter_mm: 50.0 }.exercise();
    is("TH-16 exact", &deep, 3.855, 5e-4);
    by_mistake("TH-16 approximate", &deep, Mistake::ShortForm, 3.765, 5e-4);
    let decentred = MinusEdge {
        power_d: -4.0,
        index: 1.6,
        base_curve_d: 3.0 * 0.53 / 0.6,
        centre_mm: 1.5,
        boxing: Boxing { eye_size_mm: 50.0, depth_mm: 40.0, bridge_mm: 20.0 },
        pd_mm: Some(31.0),
    };
    is("TH-21 temporal", &decentred.exercise(), 4.4477, 5e-5);
    by_mistake("TH-21 nasal", &decentred.exercise(), Mistake::OtherSide, 3.01, 5e-4);
    let least = |eye_size_mm, depth_mm, in_mm: f64| {
        let boxing = Boxing { eye_size_mm, depth_mm, bridge_mm: 16.0 };
        Blank { boxing, pd_mm: 0.5 * (eye_size_mm + 16.0) - in_mm, up_mm: 0.0 }.exercise()
    };
    is("BX-01", &least(54.0, 54.0, 3.0), 60.0 + 2.0, 1e-9);
    // BX-02 has 1 mm of allowance itself.
    is("BX-02", &least(56.0, 56.0, 5.0), 67.0 + 1.0, 1e-9);
    is("BX-03", &least(50.0, 36.0, 4.0), 58.0 + 2.0, 1e-3);
}

/// TH-06: read, M. Jalie, The Indian Optician, Jan-Feb 2022, p 89, Table 2. TH-11: read, R. E. Parks, Optics & Photonics
/// News 4(4), 1993. TH-09, 10, 13: derived. VP-01: read, opticaled.com, problem 1. VP-03, 05: read, OPT11, practice answers
/// 11a. VP-06: derived.
#[test]
fn surfaces_and_vertex_power() {
    let radius = BackRadius { back_vertex_d: 4.0, front_d: 6.25, centre_mm: 4.0, index: 1.498 };
    is("TH-06", &radius.exercise(), 211.3684, 5e-5);
    let back = |rx, across| BackCurve { front_d: 6.25, rx, across }.exercise();
    is("TH-09", &back([3.0, 0.0], false), -3.25, 1e-8);
    is("TH-10 along", &back([-2.0, -1.0], false), -8.25, 1e-8);
    is("TH-10 across", &back([-2.0, -1.0], true), -9.25, 1e-8);
    is("TH-11", &FromReading { reading_d: 1.0, index: 1.53, radius: true }.exercise(), 530.0, 1e-6);
    is("TH-13", &FromReading { reading_d: 6.0, index: 1.67, radius: false }.exercise(), 7.585, 5e-4);
    let vertex = |surfaces_d, centre_mm, index| BackVertexPower { surfaces_d, centre_mm, index }.exercise();
    is("VP-01", &vertex([10.25, -3.0], 4.0, 1.586), 7.52, 0.005);
    is("VP-03", &vertex([3.0, -8.5], 2.2, 1.498), -5.49, 0.005);
    let thick = vertex([9.5, -3.25], 3.3, 1.66);
    is("VP-05", &thick, 6.43, 0.005);
    by_mistake("VP-05 nominal", &thick, Mistake::ThicknessForgotten, 6.25, 0.005);
    is("VP-06", &vertex([16.0, -2.0], 11.4, 1.532), 16.16, 0.005);
}

/// All derived: Fc = F/(1 − d F).
#[test]
fn vertex_distance() {
    let worn = |power: f64, tested_mm, worn_mm| Vertex { rx: [power, 0.0, 180.0], tested_mm, worn_mm }.exercise();
    is("VP-08", &worn(10.0, 12.0, 22.0), 9.0, 0.5);
    is("VP-09", &worn(-12.0, 10.0, 14.0), -12.61, 0.005);
    is("VP-10", &worn(13.0, 12.0, 0.0), 15.5, 0.125);
    for (spectacle, contact) in CONTACT_LENSES {
        is("VP-11", &worn(spectacle, 12.0, 0.0), contact, 5e-4);
    }
}

/// RX-01 to 07: read, US National Federation of Opticianry Schools, course OPT11, practice answers 08. RX-08: read, M. Jalie,
/// The Indian Optician, May-June 2022, p 105.
#[test]
fn transposition() {
    let other = |sphere, cylinder, axis| Transposition { sphere, cylinder, axis }.exercise();
    power("RX-01", &other(-1.0, 1.0, 80.0), [0.0, -1.0, 170.0], "plano -1.00 x 170");
    power("RX-02", &other(-1.0, 3.0, 110.0), [2.0, -3.0, 20.0], "+2.00 -3.00 x 020");
    power("RX-03", &other(-16.75, 2.0, 5.0), [-14.75, -2.0, 95.0], "-14.75/-2.00x95");
    power("RX-04", &other(0.5, -2.0, 30.0), [-1.5, 2.0, 120.0], "−1.50 + 2.00 × 120");
    power("RX-05", &other(8.75, -2.25, 5.0), [6.5, 2.25, 95.0], "6.5 2.25 95");
    power("RX-06", &other(0.25, -0.5, 135.0), [-0.25, 0.5, 45.0], "-0.25 DS +0.50 DC x 45");
    power("RX-07", &other(-1.625, 1.75, 115.0), [0.12, -1.75, 25.0], "+0.12 -1.75 x 25");
    let both = Sum { one: [1.75, 0.5, 45.0], other: [-2.25, -1.0, 135.0] };
    power("RX-08", &both.exercise(), [0.0, -1.5, 135.0], "pl -1.50 x 135");
}
