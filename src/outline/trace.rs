//! Radii read round a lens shape → one smooth closed curve, or what is wrong with them.
//!
//! Units: mm and degrees. Angles run anticlockwise from the observer's right, from any point inside the shape; the curve
//! keeps that point as its origin.

use crate::finding::Unfit;
use crate::keys;
use crate::math::{angle, spline};
use kurbo::{CubicBez, ParamCurveArclen, ParamCurveExtrema, Rect, Vec2};

/// The fewest radii (ours): one each fifteen degrees.
pub const LEAST_RADII: usize = 24;
/// The most: a point each hundredth of a millimetre of a lens shape says no more (ours).
pub const MOST_RADII: usize = 20_000;
/// The widest stretch without a radius (ours).
const MOST_GAP_DEG: f64 = 20.0;
/// Once round, the radius may be off by this (ours).
const CLOSED_MM: f64 = 0.05;
/// A spike turns more than this at its tip, and back at its foot on both sides (ours).
const SPIKE_TIP_DEG: f64 = 60.0;
const SPIKE_FOOT_DEG: f64 = 20.0;
/// What sticks out by less is no spike (ours).
const SPIKE_MM: f64 = 0.2;
/// A step from one radius to the next of this size, nearly straight outward, is no outline (ours).
const JUMP_MM: f64 = 4.0;
const JUMP_SLOPE: f64 = 11.0;
/// More spikes than these are no slips of the pen (ours).
const MOST_SPIKES: usize = 4;
/// A smooth curve that passes a point by more than this is another shape (ours).
const MOST_OFF_MM: f64 = 0.25;
/// More faults of one trace than these say nothing new.
const MOST_FAULTS: usize = 8;
/// Slips of the unit: centimetres, tenths and hundredths of a millimetre, decimetres.
const SLIPS: [f64; 4] = [10.0, 0.1, 0.01, 100.0];

/// One radius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Its direction.
    pub angle_deg: f64,
    /// Its length.
    pub radius_mm: f64,
}

/// Radii once round a lens shape, in the order in which they were read.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// The radii; their numbers are finite.
    pub readings: Vec<Reading>,
    /// The step in which they were read.
    pub step_mm: f64,
}

/// What is wrong with a trace, and at which of its readings where it is about one.
pub type TraceFault = (Option<usize>, Unfit);

/// A lens shape made of a trace.
#[derive(Clone, Debug, PartialEq)]
pub struct Traced {
    pub(super) pieces: Vec<CubicBez>,
    bounds: Rect,
}

impl Traced {
    /// Width and height of its box.
    #[must_use]
    pub fn box_mm(&self) -> [f64; 2] {
        [self.bounds.width(), self.bounds.height()]
    }

    /// Length once round.
    #[must_use]
    pub fn girth_mm(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.arclen(1e-9)).sum()
    }
}

impl Trace {
    /// The smooth curve that passes the points by no more than their reading step explains.
    ///
    /// # Errors
    /// All that is wrong with the radii.
    pub fn curve(&self) -> Result<Traced, Vec<TraceFault>> {
        let once = self.once_round()?;
        let anticlockwise = turning(once)?;
        let points: Vec<Vec2> = once.iter().map(|reading| point(*reading)).collect();
        sized(&points)?;
        let spikes = spikes(once, &points, anticlockwise);
        if !spikes.is_empty() && spikes.len() <= MOST_SPIKES {
            return Err(spikes);
        }
        let mut points = points;
        if !anticlockwise {
            points.reverse();
        }
        let jagged = |off_mm| vec![(None, Unfit::Jagged { off_mm, most_mm: MOST_OFF_MM })];
        let fitted = spline::closed(&points, self.step_mm).ok_or_else(|| jagged(MOST_OFF_MM))?;
        if fitted.off > MOST_OFF_MM || !spikes.is_empty() {
            return Err(jagged(fitted.off.max(MOST_OFF_MM)));
        }
        let boxes = fitted.pieces.iter().map(ParamCurveExtrema::bounding_box);
        let bounds = boxes.reduce(|a, b| a.union(b)).unwrap_or_default();
        Ok(Traced { pieces: fitted.pieces, bounds })
    }

    /// The readings without one that repeats the first.
    fn once_round(&self) -> Result<&[Reading], Vec<TraceFault>> {
        let mut once = &self.readings[..];
        let not_round = |(i, reading): (usize, &Reading)| {
            (reading.radius_mm <= 0.0).then_some((Some(i), Unfit::NotRound { radius_mm: reading.radius_mm }))
        };
        let wrong: Vec<TraceFault> = once.iter().enumerate().filter_map(not_round).take(MOST_FAULTS).collect();
        if !wrong.is_empty() {
            return Err(wrong);
        }
        if let [first, .., last] = once
            && (last.angle_deg - first.angle_deg).rem_euclid(360.0) == 0.0
        {
            let (first_mm, last_mm) = (first.radius_mm, last.radius_mm);
            if (last_mm - first_mm).abs() > CLOSED_MM.max(self.step_mm) {
                return Err(vec![(Some(once.len() - 1), Unfit::NotClosed { first_mm, last_mm })]);
            }
            once = &once[..once.len() - 1];
        }
        let found = once.len();
        if found < LEAST_RADII {
            return Err(vec![(None, Unfit::Few { found, least: LEAST_RADII })]);
        }
        if found > MOST_RADII {
            return Err(vec![(None, Unfit::Many { found, most: MOST_RADII })]);
        }
        Ok(once)
    }
}

fn point(reading: Reading) -> Vec2 {
    let (cos, sin) = angle::cos_sin_deg(reading.angle_deg);
    Vec2::new(reading.radius_mm * cos, reading.radius_mm * sin)
}

/// Do the angles run anticlockwise? They must run one way, once round and without a gap.
fn turning(readings: &[Reading]) -> Result<bool, Vec<TraceFault>> {
    let ahead = |i: usize| (readings[i + 1].angle_deg - readings[i].angle_deg).rem_euclid(360.0);
    let rising = (0..readings.len() - 1).filter(|&i| ahead(i) < 180.0).count();
    let anticlockwise = 2 * rising >= readings.len() - 1;
    let (mut round, mut wrong) = (0.0, Vec::new());
    let gap = |from: usize, to: usize| {
        let (from_deg, to_deg) = (readings[from].angle_deg, readings[to].angle_deg);
        (Some(to), Unfit::Gap { from_deg, to_deg, most_deg: MOST_GAP_DEG })
    };
    for i in 0..readings.len() - 1 {
        let step = if anticlockwise { ahead(i) } else { (360.0 - ahead(i)).rem_euclid(360.0) };
        round += step;
        if step == 0.0 || step > 180.0 || round >= 360.0 {
            let (before_deg, found_deg) = (readings[i].angle_deg, readings[i + 1].angle_deg);
            wrong.push((Some(i + 1), Unfit::TurnsBack { before_deg, found_deg }));
            // Where it turned back a new round begins.
            round = 0.0;
        } else if step > MOST_GAP_DEG {
            wrong.push(gap(i, i + 1));
        }
    }
    if wrong.is_empty() && 360.0 - round > MOST_GAP_DEG {
        let (from_deg, to_deg) = (readings[readings.len() - 1].angle_deg, readings[0].angle_deg);
        wrong.push((Some(readings.len() - 1), Unfit::Gap { from_deg, to_deg, most_deg: MOST_GAP_DEG }));
    }
    wrong.truncate(MOST_FAULTS);
    if wrong.is_empty() { Ok(anticlockwise) } else { Err(wrong) }
}

/// Is the box one that a spectacle lens has?
fn sized(points: &[Vec2]) -> Result<(), Vec<TraceFault>> {
    let side = |of: fn(&Vec2) -> f64| {
        let (low, high) = points
            .iter()
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
        high - low
    };
    let (width_mm, depth_mm) = (side(|p| p.x), side(|p| p.y));
    let [widths, depths] = [&keys::EYE_SIZES, &keys::DEPTH].map(|key| key.refused.allowed(0.0));
    let within = |value: f64, range: Option<[f64; 2]>| range.is_none_or(|[from, to]| value >= from && value <= to);
    let fits = |factor: f64| within(factor * width_mm, widths) && within(factor * depth_mm, depths);
    if fits(1.0) {
        return Ok(());
    }
    let factor = SLIPS.into_iter().find(|factor| fits(*factor));
    Err(vec![(None, Unfit::Size { width_mm, depth_mm, factor })])
}

/// Radii that stand out from their neighbours.
fn spikes(readings: &[Reading], points: &[Vec2], anticlockwise: bool) -> Vec<TraceFault> {
    let count = points.len();
    let at = |i: usize| points[i % count];
    let sense = if anticlockwise { 1.0 } else { -1.0 };
    // How far the way turns at each point, degrees, positive where it bulges.
    let turns: Vec<f64> = (0..count)
        .map(|i| {
            let (before, after) = (at(i) - at(i + count - 1), at(i + 1) - at(i));
            sense * before.cross(after).atan2(before.dot(after)).to_degrees()
        })
        .collect();
    let mut wrong = Vec::new();
    for i in 0..count {
        let (before, after) = ((i + count - 1) % count, (i + 1) % count);
        let (found_mm, last_mm) = (readings[i].radius_mm, readings[before].radius_mm);
        let expected_mm = 0.5 * (last_mm + readings[after].radius_mm);
        let spike = |sign: f64| {
            sign * turns[i] > SPIKE_TIP_DEG && [before, after].iter().all(|&k| sign * turns[k] < -SPIKE_FOOT_DEG)
        };
        let stands_out = (found_mm - expected_mm).abs() > SPIKE_MM && (spike(1.0) || spike(-1.0));
        let out = (found_mm - last_mm).abs();
        let across = (points[i] - points[before]).hypot2() - out * out;
        let jumps = out > JUMP_MM && out * out > JUMP_SLOPE * JUMP_SLOPE * across;
        if stands_out {
            wrong.push((Some(i), Unfit::Spike { angle_deg: readings[i].angle_deg, found_mm, expected_mm }));
        } else if jumps {
            wrong.push((Some(i), Unfit::Spike { angle_deg: readings[i].angle_deg, found_mm, expected_mm: last_mm }));
        }
    }
    wrong
}

#[cfg(test)]
mod tests {
    use super::*;

    fn readings(angles: impl IntoIterator<Item = f64>, radius: impl Fn(f64) -> f64) -> Vec<Reading> {
        angles.into_iter().map(|angle_deg| Reading { angle_deg, radius_mm: radius(angle_deg) }).collect()
    }

    fn every(step: u32) -> impl Iterator<Item = f64> {
        (0..360 / step).map(move |i| f64::from(i * step))
    }

    fn round(angles: impl IntoIterator<Item = f64>) -> Result<bool, Vec<TraceFault>> {
        turning(&readings(angles, |_| 25.0))
    }

    #[test]
    fn angles_run_one_way_once_round() {
        assert_eq!(round(every(10)), Ok(true));
        assert_eq!(round(every(10).map(|deg| -deg)), Ok(false), "clockwise");
        assert_eq!(round(every(10).map(|deg| (deg + 355.0) % 360.0)), Ok(true), "from anywhere");
        assert_eq!(round(every(20)), Ok(true), "just so far apart");
        let missing = |which: f64| move |deg: &f64| *deg != which;
        let gap = |to, from_deg, to_deg| Err(vec![(Some(to), Unfit::Gap { from_deg, to_deg, most_deg: MOST_GAP_DEG })]);
        assert_eq!(round(every(15).filter(missing(45.0))), gap(3, 30.0, 60.0));
        assert_eq!(round(every(15).filter(missing(345.0))), gap(22, 330.0, 0.0), "at the end");
        assert_eq!(round(every(15).map(|deg| 360.0 - deg).filter(missing(315.0))), gap(3, 330.0, 300.0), "clockwise");
        let back = |at, before_deg, found_deg| (Some(at), Unfit::TurnsBack { before_deg, found_deg });
        assert_eq!(round([every(10).collect(), vec![0.0]].concat()), Err(vec![back(36, 350.0, 0.0)]));
        let twice = every(10).flat_map(|deg| if deg == 70.0 { vec![deg, deg] } else { vec![deg] });
        assert_eq!(round(twice), Err(vec![back(8, 70.0, 70.0)]));
        let to_and_fro = every(10).map(|deg| if deg == 100.0 { 85.0 } else { deg });
        let found = round(to_and_fro).expect_err("turns back");
        assert_eq!(found[0], back(10, 90.0, 85.0), "{found:?}");
    }

    #[test]
    fn a_reading_that_repeats_the_first_is_left_out_if_it_agrees() {
        let trace = |last_mm: f64| {
            let mut all = readings(every(5), |_| 25.0);
            all.push(Reading { angle_deg: 360.0, radius_mm: last_mm });
            Trace { readings: all, step_mm: 0.01 }
        };
        assert_eq!(trace(25.0).once_round().map(<[Reading]>::len), Ok(72));
        assert_eq!(trace(25.0 + 0.9 * CLOSED_MM).once_round().map(<[Reading]>::len), Ok(72));
        let last_mm = 25.0 + 1.1 * CLOSED_MM;
        assert_eq!(
            trace(last_mm).once_round().map(<[Reading]>::len),
            Err(vec![(Some(72), Unfit::NotClosed { first_mm: 25.0, last_mm })])
        );
        let open = Trace { readings: readings(every(5), |_| 25.0), step_mm: 0.01 };
        assert_eq!(open.once_round().map(<[Reading]>::len), Ok(72), "nothing to leave out");
    }

    #[test]
    fn a_spike_and_a_jump_are_told_with_what_was_expected() {
        let found = |clockwise: bool, radius: &dyn Fn(f64) -> f64| {
            let angles: Vec<f64> = every(5).map(|deg| if clockwise { (360.0 - deg) % 360.0 } else { deg }).collect();
            let all = readings(angles, radius);
            let points: Vec<Vec2> = all.iter().map(|reading| point(*reading)).collect();
            spikes(&all, &points, !clockwise)
        };
        for clockwise in [false, true] {
            let at = if clockwise { 52 } else { 20 };
            let told =
                |found_mm, expected_mm| vec![(Some(at), Unfit::Spike { angle_deg: 100.0, found_mm, expected_mm })];
            for found_mm in [28.0, 23.0] {
                let spike = |deg: f64| if deg == 100.0 { found_mm } else { 25.0 };
                assert_eq!(found(clockwise, &spike), told(found_mm, 25.0), "clockwise: {clockwise}");
            }
            assert_eq!(found(clockwise, &|_| 25.0), []);
            // A corner is none: it turns on, and its neighbours do not turn back.
            let square = |deg: f64| {
                let (c, s) = angle::cos_sin_deg(deg);
                20.0 / c.abs().max(s.abs())
            };
            assert_eq!(found(clockwise, &square), []);
        }
        // Readings a tenth of a millimetre apart: what sticks out by less than two tenths is no spike, however sharp.
        for (high_mm, wanted) in [(0.15, 0), (-0.15, 0), (0.3, 1), (-0.3, 1)] {
            let all =
                readings((0..1440).map(|i| 0.25 * f64::from(i)), |deg| 25.0 + if deg == 90.0 { high_mm } else { 0.0 });
            let points: Vec<Vec2> = all.iter().map(|reading| point(*reading)).collect();
            assert_eq!(spikes(&all, &points, true).len(), wanted, "{high_mm}");
        }
        // From one radius to another within a degree, and back; within five degrees it is a slope that a shape may have.
        let step = |deg: f64| if (100.0..250.0).contains(&deg) { 16.0 } else { 28.0 };
        let all = readings(every(1), step);
        let points: Vec<Vec2> = all.iter().map(|reading| point(*reading)).collect();
        let told = |i, angle_deg, found_mm, expected_mm| (Some(i), Unfit::Spike { angle_deg, found_mm, expected_mm });
        assert_eq!(spikes(&all, &points, true), [told(100, 100.0, 16.0, 28.0), told(250, 250.0, 28.0, 16.0)]);
        assert_eq!(found(false, &step), []);
    }

    #[test]
    fn half_a_round_at_one_step_is_a_gap_and_no_turning_back() {
        let found = round(every(10).filter(|deg| *deg <= 90.0 || *deg >= 270.0)).expect_err("a gap");
        assert_eq!(found, [(Some(10), Unfit::Gap { from_deg: 90.0, to_deg: 270.0, most_deg: MOST_GAP_DEG })]);
    }

    /// 4.5 mm out are a jump where the way runs out eleven times as fast as across, 0.41 mm, and none where it does not.
    #[test]
    fn a_jump_is_judged_by_how_steeply_it_runs_out() {
        for (across_mm, jumps) in [(0.40_f64, true), (0.42, false)] {
            // Across the mean of both radii.
            let step = (across_mm / (25.0_f64 * 29.5).sqrt()).to_degrees();
            let all =
                readings([0.0, step, 2.0 * step, 90.0, 180.0, 270.0], |deg| if deg < 1.5 * step { 25.0 } else { 29.5 });
            let points: Vec<Vec2> = all.iter().map(|reading| point(*reading)).collect();
            let found = spikes(&all[..], &points, true);
            let told = found.iter().any(|(at, _)| *at == Some(2));
            assert_eq!(told, jumps, "{across_mm} mm across: {found:?}");
        }
    }
}
