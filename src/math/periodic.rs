//! Extremes of a smooth function on a closed curve, from samples of its value and slope.
//!
//! Between two neighbouring samples whose slopes differ in sign lies an extreme; the promising ones are settled to the
//! last places. No allocation: a closed curve has few extremes, and only the best [`MOST`] are followed.

use super::roots;

/// Values closer than this (in the unit of the value) count as equal extremes.
pub const EQUAL: f64 = 1e-9;
/// How many equal extremes are kept.
pub const MOST: usize = 8;

/// Value and slope of the function at a parameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// The parameter.
    pub u: f64,
    /// The value there.
    pub value: f64,
    /// Its derivative by the parameter.
    pub slope: f64,
}

/// The extremes of one kind that are equal to within [`EQUAL`], in no particular order.
#[derive(Clone, Copy, Debug)]
pub struct Peaks {
    found: [Sample; MOST],
    len: usize,
}

impl Peaks {
    const NONE: Peaks = Peaks { found: [Sample { u: 0.0, value: 0.0, slope: 0.0 }; MOST], len: 0 };

    /// All of them; none where the function is flat.
    #[must_use]
    pub fn all(&self) -> &[Sample] {
        &self.found[..self.len]
    }
}

/// Both kinds of extreme.
#[derive(Clone, Copy, Debug)]
pub struct Extremes {
    /// The largest value, and where.
    pub max: Peaks,
    /// The smallest value, and where.
    pub min: Peaks,
    /// The function is the same all round to within [`EQUAL`]: no place is better than another.
    pub flat: bool,
}

/// A bracket with one extreme inside, and the guess of the value there.
#[derive(Clone, Copy)]
struct Bracket {
    from: Sample,
    to: Sample,
    guess: f64,
}

/// Brackets of one kind, best guesses only. `sign` is +1 for maxima, −1 for minima.
struct Brackets {
    kept: [Option<Bracket>; MOST],
    sign: f64,
}

impl Brackets {
    fn new(sign: f64) -> Brackets {
        Brackets { kept: [None; MOST], sign }
    }

    fn offer(&mut self, from: Sample, to: Sample) {
        // The slope's zero by the secant, and the cubic Hermite value there.
        let h = to.u - from.u;
        let t = from.slope / (from.slope - to.slope);
        let (t2, t3) = (t * t, t * t * t);
        let guess = from.value * (2.0 * t3 - 3.0 * t2 + 1.0)
            + from.slope * h * (t3 - 2.0 * t2 + t)
            + to.value * (3.0 * t2 - 2.0 * t3)
            + to.slope * h * (t3 - t2);
        let fresh = Bracket { from, to, guess };
        let mut weakest = 0;
        for (i, slot) in self.kept.iter().enumerate() {
            match slot {
                None => {
                    weakest = i;
                    break;
                }
                Some(old) => {
                    if let Some(low) = &self.kept[weakest]
                        && old.guess * self.sign < low.guess * self.sign
                    {
                        weakest = i;
                    }
                }
            }
        }
        let replace = self.kept[weakest].is_none_or(|old| old.guess * self.sign < guess * self.sign);
        if replace {
            self.kept[weakest] = Some(fresh);
        }
    }

    fn settle(&self, spread: f64, tolerance: f64, at: &impl Fn(f64) -> Option<Sample>) -> Option<Peaks> {
        let best = self.kept.iter().flatten().map(|b| b.guess * self.sign).fold(f64::NEG_INFINITY, f64::max);
        let mut peaks = Peaks::NONE;
        for bracket in self.kept.iter().flatten() {
            // A Hermite guess is right to a few thousandths of the spread; farther down nothing can win.
            if bracket.guess * self.sign < best - 0.02 * spread {
                continue;
            }
            let ends = ((bracket.from.u, bracket.from.slope), (bracket.to.u, bracket.to.slope));
            let slope = |u: f64| at(u).map_or(f64::NAN, |sample| sample.slope);
            let u = match roots::between(slope, ends.0, ends.1, tolerance) {
                Ok(u) => u,
                Err(roots::Unsettled { at }) => at,
            };
            let here = at(u)?;
            let top = peaks.all().first().map_or(f64::NEG_INFINITY, |s| s.value * self.sign);
            if here.value * self.sign > top + EQUAL {
                peaks.len = 0;
            } else if here.value * self.sign < top - EQUAL {
                continue;
            }
            if peaks.len < MOST {
                peaks.found[peaks.len] = here;
                peaks.len += 1;
            }
        }
        Some(peaks)
    }
}

/// The extremes of a function of period `period`, from `samples` in rising order of u within one period; `at` gives
/// the function anywhere. `None` where the function is not defined at a sample. A dip narrower than the distance of two
/// samples can be missed.
pub fn extremes(
    samples: impl Iterator<Item = Option<Sample>>,
    period: f64,
    at: impl Fn(f64) -> Option<Sample>,
) -> Option<Extremes> {
    let (mut maxima, mut minima) = (Brackets::new(1.0), Brackets::new(-1.0));
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut first: Option<Sample> = None;
    let mut last: Option<Sample> = None;
    let mut take = |from: Sample, to: Sample| {
        if from.slope > 0.0 && to.slope <= 0.0 {
            maxima.offer(from, to);
        } else if from.slope < 0.0 && to.slope >= 0.0 {
            minima.offer(from, to);
        }
    };
    for sample in samples {
        let sample = sample?;
        low = low.min(sample.value);
        high = high.max(sample.value);
        if let Some(before) = last {
            take(before, sample);
        } else {
            first = Some(sample);
        }
        last = Some(sample);
    }
    if let (Some(first), Some(last)) = (first, last) {
        take(last, Sample { u: first.u + period, ..first });
    }
    let spread = high - low;
    if spread <= EQUAL {
        return Some(Extremes { max: Peaks::NONE, min: Peaks::NONE, flat: true });
    }
    let tolerance = 1e-12 * period;
    Some(Extremes {
        max: maxima.settle(spread, tolerance, &at)?,
        min: minima.settle(spread, tolerance, &at)?,
        flat: false,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    #[test]
    fn equal_extremes_are_all_found() {
        let f = |u: f64| Some(Sample { u, value: (3.0 * u).cos(), slope: -3.0 * (3.0 * u).sin() });
        let found = extremes((0..32).map(|i| f((f64::from(i) + 0.3) * TAU / 32.0)), TAU, f).unwrap();
        assert_eq!(found.max.all().len(), 3);
        assert_eq!(found.min.all().len(), 3);
        for peak in found.max.all() {
            assert!((peak.value - 1.0).abs() < 1e-15, "{peak:?}");
            let off = (peak.u / (TAU / 3.0)).fract();
            assert!(!(1e-10..=1.0 - 1e-10).contains(&off), "{peak:?}");
        }
    }

    #[test]
    fn the_higher_of_two_wins() {
        let f = |u: f64| {
            let slope = -2.0 * (2.0 * u).sin() - 0.01 * u.sin();
            Some(Sample { u, value: (2.0 * u).cos() + 0.01 * u.cos(), slope })
        };
        let found = extremes((0..24).map(|i| f(f64::from(i) * TAU / 24.0)), TAU, f).unwrap();
        assert_eq!(found.max.all().len(), 1);
        assert!((found.max.all()[0].value - 1.01).abs() < 1e-14);
    }

    #[test]
    fn a_constant_is_flat() {
        let f = |u: f64| Some(Sample { u, value: 2.0, slope: 0.0 });
        assert!(extremes((0..8).map(|i| f(f64::from(i))), 8.0, f).unwrap().flat);
    }
}
