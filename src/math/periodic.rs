//! Extremes of a smooth function on a closed curve, from samples of its value and slope.
//!
//! Between two neighbouring samples whose slopes differ in sign lies an extreme; the promising ones are settled to the
//! last places. No allocation: a closed curve has few extremes, and only the best [`MOST`] are followed.

use super::roots;

/// Values closer than this (in the unit of the value) count as equal extremes.
pub const EQUAL: f64 = 1e-9;
/// How many equal extremes are kept.
pub const MOST: usize = 8;

/// The last secant step, as a share of the period: what is left is about the product of the last two.
const SETTLED: f64 = 1e-8;

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

/// A bracket with one extreme inside, and the guess of the value there.
#[derive(Clone, Copy)]
struct Bracket {
    /// Parameter and slope at its start.
    from: (f64, f64),
    /// Parameter and slope at its end.
    to: (f64, f64),
    /// Where the slope is guessed to vanish.
    start: f64,
    guess: f64,
    /// The slope's rate there, of the sign that this kind of extreme has.
    bend: f64,
}

impl Bracket {
    /// The extreme inside: a secant from the Hermite guess, whose last step is below the tolerance; where it leaves the
    /// bracket, the safeguarded search. The first step goes by the guess's own bend and not toward an end of the bracket,
    /// which may itself be level: the middle between two extremes of this kind.
    fn settle(&self, tolerance: f64, at: &impl Fn(f64) -> Option<Sample>) -> Option<Sample> {
        let (from, to) = (self.from, self.to);
        let mut now = at(self.start)?;
        let mut step = now.slope / self.bend;
        for _ in 0..8 {
            let next = now.u - step;
            if now.slope == 0.0 || !step.is_finite() {
                return Some(now);
            }
            if !(from.0..=to.0).contains(&next) {
                break;
            }
            let before = now;
            now = at(next)?;
            if step.abs() <= tolerance {
                return Some(now);
            }
            step = now.slope * (now.u - before.u) / (now.slope - before.slope);
        }
        let slope = |u: f64| at(u).map_or(f64::NAN, |sample| sample.slope);
        match roots::between(slope, from, to, tolerance) {
            Ok(u) | Err(roots::Unsettled { at: u }) => at(u),
        }
    }
}

/// Brackets of one kind, best guesses only. `sign` is +1 for maxima, −1 for minima.
struct Brackets {
    kept: [Bracket; MOST],
    len: usize,
    sign: f64,
}

impl Brackets {
    fn new(sign: f64) -> Brackets {
        Brackets {
            kept: [Bracket { from: (0.0, 0.0), to: (0.0, 0.0), start: 0.0, guess: 0.0, bend: 0.0 }; MOST],
            len: 0,
            sign,
        }
    }

    fn all(&self) -> &[Bracket] {
        &self.kept[..self.len]
    }

    fn offer(&mut self, from: Sample, to: Sample) {
        // Where the cubic Hermite interpolant is level, and its value there.
        let h = to.u - from.u;
        let t = level_share(from.slope * h, to.slope * h, to.value - from.value);
        let (t2, t3) = (t * t, t * t * t);
        let guess = from.value * (2.0 * t3 - 3.0 * t2 + 1.0)
            + from.slope * h * (t3 - 2.0 * t2 + t)
            + to.value * (3.0 * t2 - 2.0 * t3)
            + to.slope * h * (t3 - t2);
        let secant = (to.slope - from.slope) / h;
        let hermite = (6.0 * (from.value - to.value) * (2.0 * t - 1.0) / h
            + from.slope * (6.0 * t - 4.0)
            + to.slope * (6.0 * t - 2.0))
            / h;
        let bend = if hermite * self.sign < 0.0 { hermite } else { secant };
        let fresh = Bracket { from: (from.u, from.slope), to: (to.u, to.slope), start: from.u + t * h, guess, bend };
        if self.len < MOST {
            self.kept[self.len] = fresh;
            self.len += 1;
            return;
        }
        let weaker = |a: &&mut Bracket, b: &&mut Bracket| (a.guess * self.sign).total_cmp(&(b.guess * self.sign));
        if let Some(weakest) = self.kept.iter_mut().min_by(weaker)
            && weakest.guess * self.sign < guess * self.sign
        {
            *weakest = fresh;
        }
    }

    fn settle(&self, spread: f64, tolerance: f64, at: &impl Fn(f64) -> Option<Sample>) -> Option<Peaks> {
        let best = self.all().iter().map(|b| b.guess * self.sign).fold(f64::NEG_INFINITY, f64::max);
        let mut peaks = Peaks::NONE;
        for bracket in self.all() {
            // A Hermite guess is right to a few thousandths of the spread; farther down nothing can win.
            if bracket.guess * self.sign < best - 0.02 * spread {
                continue;
            }
            let here = bracket.settle(tolerance, at)?;
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

/// Where on 0 … 1 the cubic with these end slopes and this rise is level, the slopes differing in sign.
fn level_share(from_slope: f64, to_slope: f64, rise: f64) -> f64 {
    // Its slope is a t² + b t + from_slope.
    let a = 3.0 * (from_slope + to_slope - 2.0 * rise);
    let b = 2.0 * (3.0 * rise - 2.0 * from_slope - to_slope);
    let under = b * b - 4.0 * a * from_slope;
    let root = -0.5 * (b + under.max(0.0).sqrt().copysign(b));
    let candidates = [from_slope / root, root / a];
    let secant = from_slope / (from_slope - to_slope);
    candidates.into_iter().find(|t| (0.0..=1.0).contains(t)).unwrap_or(secant)
}

/// A closed function that was sampled once round: where its extremes lie, still unsettled.
pub struct Scan {
    maxima: Brackets,
    minima: Brackets,
    spread: f64,
    tolerance: f64,
}

impl Scan {
    /// Looks at `samples` of a function of period `period`, in rising order of u within one period. `None` where the
    /// function is not defined at a sample. A dip narrower than the distance of two samples can be missed.
    pub fn new(samples: impl Iterator<Item = Option<Sample>>, period: f64) -> Option<Scan> {
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
        Some(Scan { maxima, minima, spread: high - low, tolerance: SETTLED * period })
    }

    /// The function is the same all round to within [`EQUAL`]: no place is better than another.
    #[must_use]
    pub fn is_flat(&self) -> bool {
        self.spread <= EQUAL
    }

    /// The largest values, settled by the function `at`; none where it is flat. `None` where it is not defined on the
    /// way.
    pub fn max(&self, at: impl Fn(f64) -> Option<Sample>) -> Option<Peaks> {
        self.settle(&self.maxima, &at)
    }

    /// The smallest values, settled by the function `at`; none where it is flat. `None` where it is not defined on the
    /// way.
    pub fn min(&self, at: impl Fn(f64) -> Option<Sample>) -> Option<Peaks> {
        self.settle(&self.minima, &at)
    }

    fn settle(&self, brackets: &Brackets, at: &impl Fn(f64) -> Option<Sample>) -> Option<Peaks> {
        if self.is_flat() { Some(Peaks::NONE) } else { brackets.settle(self.spread, self.tolerance, at) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    #[test]
    fn equal_extremes_are_all_found() {
        let f = |u: f64| Some(Sample { u, value: (3.0 * u).cos(), slope: -3.0 * (3.0 * u).sin() });
        let scan = Scan::new((0..32).map(|i| f((f64::from(i) + 0.3) * TAU / 32.0)), TAU).unwrap();
        let max = scan.max(f).unwrap();
        assert_eq!(max.all().len(), 3);
        assert_eq!(scan.min(f).unwrap().all().len(), 3);
        for peak in max.all() {
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
        let max = Scan::new((0..24).map(|i| f(f64::from(i) * TAU / 24.0)), TAU).unwrap().max(f).unwrap();
        assert_eq!(max.all().len(), 1);
        assert!((max.all()[0].value - 1.01).abs() < 1e-14);
    }

    #[test]
    fn a_constant_is_flat() {
        let f = |u: f64| Some(Sample { u, value: 2.0, slope: 0.0 });
        let scan = Scan::new((0..8).map(|i| f(f64::from(i))), 8.0).unwrap();
        assert!(scan.is_flat());
        assert!(scan.max(f).unwrap().all().is_empty());
    }

    /// Between two samples of a cubic the guess is the cubic's own extreme, with its own bend.
    #[test]
    fn of_a_cubic_the_guess_is_exact() {
        // Level at `top` and at `other`: f' = −k (u − top)(other − u) has a maximum at `top` for other > top.
        for (top, other, k, from, to) in [
            (0.4, 2.0, 1.0, 0.0, 0.7),
            (1.3, 9.0, 0.2, 1.0, 1.5),
            (-0.1, 5.0, 3.0, -0.4, 2.0),
            (2.6, -4.0, -0.7, 2.5, 3.1),
            (0.5, 1e6, 1e-6, 0.0, 0.8),
        ] {
            let slope = |u: f64| -k * (u - top) * (other - u);
            let value = |u: f64| -k * (-u * u * u / 3.0 + (top + other) * u * u / 2.0 - top * other * u) + 5.0;
            let sample = |u: f64| Sample { u, value: value(u), slope: slope(u) };
            for sign in [1.0, -1.0] {
                let signed = |s: Sample| Sample { value: sign * s.value, slope: sign * s.slope, ..s };
                let mut brackets = Brackets::new(sign);
                brackets.offer(signed(sample(from)), signed(sample(to)));
                let [kept] = brackets.all() else { panic!("one") };
                assert!((kept.start - top).abs() < 1e-7, "{} for {top}", kept.start);
                assert!((kept.guess - sign * value(top)).abs() < 1e-9, "{} for {}", kept.guess, value(top));
                let bend = -sign * k * (other - top);
                assert!((kept.bend - bend).abs() < 1e-5 * bend.abs(), "{} for {bend}", kept.bend);
            }
        }
    }

    /// Twelve of a kind, of which eight are followed: the best is among them wherever it lies.
    #[test]
    fn the_best_of_many_is_found() {
        for turn in 0..48 {
            let by = f64::from(turn) * TAU / 48.0 + 0.01;
            let f = |u: f64| {
                let value = (12.0 * u).cos() + 0.3 * (u - by).cos();
                Some(Sample { u, value, slope: -12.0 * (12.0 * u).sin() - 0.3 * (u - by).sin() })
            };
            let scan = Scan::new((0..120).map(|i| f(f64::from(i) * TAU / 120.0)), TAU).unwrap();
            let fine = |best: fn(f64, f64) -> f64, from: f64| {
                (0..60_000).map(|i| f(f64::from(i) * TAU / 60_000.0).map_or(from, |s| s.value)).fold(from, best)
            };
            let (top, low) = (fine(f64::max, f64::NEG_INFINITY), fine(f64::min, f64::INFINITY));
            let found = [scan.max(f), scan.min(f)].map(|peaks| peaks.unwrap().all()[0].value);
            assert!((found[0] - top).abs() < 1e-6 && (found[1] - low).abs() < 1e-6, "{found:?} for {top} and {low}");
        }
    }

    /// The same with two that are equally good side by side: both are among the eight, wherever they lie.
    #[test]
    fn both_of_two_equal_ones_among_many_are_found() {
        for turn in 0..24 {
            let by = f64::from(turn) * TAU / 24.0;
            let f = |u: f64| {
                let value = (12.0 * u).cos() + 0.3 * (u - by).cos();
                Some(Sample { u, value, slope: -12.0 * (12.0 * u).sin() - 0.3 * (u - by).sin() })
            };
            let scan = Scan::new((0..120).map(|i| f((f64::from(i) + 0.4) * TAU / 120.0)), TAU).unwrap();
            // Halfway between two tops there are two highest, on a top there is one; so for the lowest, half a round on.
            let (tops, lows) = if turn % 2 == 1 { (2, 1) } else { (1, 2) };
            let found = [scan.max(f), scan.min(f)].map(|peaks| peaks.unwrap().all().len());
            assert_eq!(found, [tops, lows], "{turn}");
        }
    }

    #[test]
    fn the_level_place_of_a_cubic_by_hand() {
        // A parabola: its slope is a straight line.
        assert!((level_share(3.0, -1.0, 1.0) - 0.75).abs() < 1e-15);
        // By hand: the slope 1 − 2 t² of t − 2 t³/3 vanishes at √½.
        assert!((level_share(1.0, -1.0, 1.0 - 2.0 / 3.0) - 0.5f64.sqrt()).abs() < 1e-15);
        // And the slope −2 + 6 t² at √⅓.
        assert!((level_share(-2.0, 4.0, 0.0) - (1.0 / 3.0f64).sqrt()).abs() < 1e-15);
    }
}
