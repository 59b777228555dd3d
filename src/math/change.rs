//! The first place on a way at which a function changes its sign: in steps, with a look at what rises between them, then
//! narrowed. Bounded.

use super::roots;

/// Places are narrowed to this.
pub const NARROW: f64 = 1e-9;
/// Steps up a rise between samples: each takes it to 0.62 of its width.
const MOST_CLIMBS: usize = 40;
/// Halvings from any step to [`NARROW`].
const MOST_HALVINGS: usize = 60;

/// The places to look at: from `from` to `to` in equal steps of at most `step`, and those of `more` that lie between.
#[must_use]
pub fn places(from: f64, to: f64, step: f64, more: &[f64]) -> Vec<f64> {
    let steps = ((to - from).abs() / step).ceil().max(1.0);
    let even = (0..=steps as usize).map(|i| from + (to - from) * i as f64 / steps);
    let between = |x: &f64| (x - from) * (x - to) < 0.0;
    let mut places: Vec<f64> = even.chain(more.iter().copied().filter(between)).collect();
    places.sort_by(|a, b| (a - from).abs().total_cmp(&(b - from).abs()));
    places
}

/// The last argument on the way along `places`, from the first, before `excess` first changes between at most zero and
/// above it; `None` where it does not change on the whole way. The function may be infinite. Between three places a rise
/// that may cross zero is climbed; a change to and fro that no place shows is missed, so jumps want places on both sides.
#[must_use]
pub fn last_before_change(excess: impl Fn(f64) -> f64, places: &[f64]) -> Option<f64> {
    let (&from, rest) = places.split_first()?;
    let way = Way::new(excess, from);
    let mut before: Option<Sample> = None;
    let mut now = way.at(from);
    for &place in rest {
        let next = way.at(place);
        if next.height > 0.0 {
            return Some(way.narrow(now, next));
        }
        if let Some(top) = before.and_then(|before| way.climbed(before, now, next)) {
            return Some(way.narrow(before.unwrap_or(now), top));
        }
        (before, now) = (Some(now), next);
    }
    None
}

/// Where it was looked, and how far beyond the change: at most 0 before it.
#[derive(Clone, Copy)]
struct Sample {
    x: f64,
    height: f64,
}

struct Way<F> {
    excess: F,
    /// Is the start above zero, so that the change is downward?
    down: bool,
}

impl<F: Fn(f64) -> f64> Way<F> {
    fn new(excess: F, from: f64) -> Way<F> {
        let down = excess(from) > 0.0;
        Way { excess, down }
    }

    fn at(&self, x: f64) -> Sample {
        let value = (self.excess)(x);
        // At zero it counts as below, whichever the way.
        let height = if self.down { f64::MIN_POSITIVE - value } else { value };
        Sample { x, height }
    }

    /// A place beyond the change between three samples, where the middle one is the highest and near enough to it.
    fn climbed(&self, a: Sample, b: Sample, c: Sample) -> Option<Sample> {
        let bend = (b.height - a.height) + (b.height - c.height);
        let is_top = b.height >= a.height && b.height >= c.height && b.height + bend > 0.0 && bend > 0.0;
        if !is_top {
            return None;
        }
        let golden = 0.5 * (5f64.sqrt() - 1.0);
        let (mut low, mut high) = (a.x, c.x);
        for _ in 0..MOST_CLIMBS {
            let left = self.at(high - golden * (high - low));
            let right = self.at(low + golden * (high - low));
            if let Some(beyond) = [left, right].into_iter().find(|sample| sample.height > 0.0) {
                return Some(beyond);
            }
            if left.height > right.height {
                high = right.x;
            } else {
                low = left.x;
            }
        }
        None
    }

    /// The last place before the change between one before and one beyond it.
    fn narrow(&self, before: Sample, beyond: Sample) -> f64 {
        let rooted = if before.height.is_finite() && beyond.height.is_finite() {
            let height = |x| self.at(x).height;
            roots::between(height, (before.x, before.height), (beyond.x, beyond.height), 0.2 * NARROW).ok()
        } else {
            None
        };
        let toward = 0.5 * NARROW * (beyond.x - before.x).signum();
        let verified = rooted.and_then(|root| {
            let places = [root, root - toward];
            let last = places.into_iter().find(|x| self.at(*x).height <= 0.0)?;
            (self.at(last + 2.0 * toward).height > 0.0).then_some(last)
        });
        verified.unwrap_or_else(|| self.halve(before.x, beyond.x))
    }

    fn halve(&self, mut before: f64, mut beyond: f64) -> f64 {
        for _ in 0..MOST_HALVINGS {
            if (beyond - before).abs() <= NARROW {
                break;
            }
            let middle = 0.5 * (before + beyond);
            if self.at(middle).height > 0.0 {
                beyond = middle;
            } else {
                before = middle;
            }
        }
        before
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn last(excess: impl Fn(f64) -> f64, from: f64, to: f64) -> Option<f64> {
        last_before_change(excess, &places(from, to, 0.5, &[]))
    }

    #[test]
    fn stops_where_a_rise_crosses() {
        let found = last(|x| x * x - 2.0, 0.0, 9.0).expect("crosses");
        assert!(found <= 2f64.sqrt() && 2f64.sqrt() - found < 2.0 * NARROW, "{found}");
        // From the other side, downward.
        let found = last(|x| x * x - 2.0, 9.0, 0.0).expect("crosses");
        assert!(found > 2f64.sqrt() && found - 2f64.sqrt() < 2.0 * NARROW, "{found}");
        assert_eq!(last(|x| -x, 0.0, 9.0), None);
    }

    #[test]
    fn stops_at_a_jump_and_where_there_is_nothing_more() {
        for beyond in [1.0, f64::INFINITY] {
            let found = last(|x| if x <= 4.2 { -1.0 } else { beyond }, 0.0, 9.0).expect("jumps");
            assert!(found <= 4.2 && 4.2 - found < 2.0 * NARROW, "{found}");
            let found = last(|x| if x <= 4.2 { -1.0 } else { beyond }, 9.0, 0.0).expect("jumps");
            assert!(found > 4.2 && found - 4.2 < 2.0 * NARROW, "{found}");
        }
    }

    #[test]
    fn a_tooth_is_seen_from_a_place_on_it() {
        let tooth = |x: f64| if x > 4.1 && x < 4.2 { 1.0 } else { -1.0 };
        assert_eq!(last(tooth, 0.0, 9.0), None);
        let found = last_before_change(tooth, &places(0.0, 9.0, 0.5, &[4.15, 12.0])).expect("seen");
        assert!((found - 4.1).abs() < 2.0 * NARROW, "{found}");
        assert_eq!(places(1.0, 0.0, 0.5, &[0.2, 1.2]), [1.0, 0.5, 0.2, 0.0]);
    }

    #[test]
    fn a_rise_between_samples_is_climbed() {
        // The samples at 3.0 and 3.5 miss the top at 3.2.
        let hill = |top: f64| move |x: f64| top - (x - 3.2).abs();
        let found = last(hill(0.1), 0.0, 9.0).expect("crosses at 3.1");
        assert!((found - 3.1).abs() < 2.0 * NARROW, "{found}");
        assert_eq!(last(hill(-0.01), 0.0, 9.0), None);
        // The first of two counts.
        let found = last(|x| hill(0.1)(x).max(x - 5.0), 0.0, 9.0).expect("crosses at 3.1");
        assert!((found - 3.1).abs() < 2.0 * NARROW, "{found}");
    }

    /// However narrow the tip of a rise, and wherever between two samples: nothing outside the way is asked for.
    #[test]
    fn a_narrow_tip_is_climbed_without_leaving_the_way() {
        for tip in [3.03, 3.11, 3.2, 3.24, 5.26, 5.4, 5.49] {
            for width in [1e-1, 1e-3, 1e-5] {
                let hill = |x: f64| {
                    assert!((0.0..=9.0).contains(&x), "{x} is asked for");
                    width - (x - tip).abs()
                };
                let found = last(hill, 0.0, 9.0).expect("crosses");
                assert!((found - (tip - width)).abs() < 2.0 * NARROW, "{found} for {tip} − {width}");
            }
        }
    }

    /// The middle of three samples a little higher than both of its neighbours, which are as high.
    #[test]
    fn a_rise_on_both_sides_of_the_middle_sample_is_seen() {
        let wave = |x: f64| -0.04 - 0.1 * (x - 3.0).powi(2) + 0.2 * (std::f64::consts::TAU * (x - 3.0)).sin().powi(2);
        let found = last_before_change(wave, &[2.0, 2.5, 3.0, 3.5, 4.0]).expect("crosses");
        assert!(wave(found) <= 0.0 && wave(found + 2.0 * NARROW) > 0.0 && (2.5..3.0).contains(&found), "{found}");
    }

    /// A smooth change is narrowed by its root and two looks at it, not by halving.
    #[test]
    fn few_looks_settle_a_smooth_change() {
        let calls = std::cell::Cell::new(0);
        let found = last_before_change(
            |x: f64| {
                calls.set(calls.get() + 1);
                x.exp() - 2.0
            },
            &[0.0, 0.5, 1.0],
        );
        assert!((found.expect("crosses") - 2f64.ln()).abs() < 2.0 * NARROW);
        assert!(calls.get() <= 16, "{} looks", calls.get());
    }

    /// Waves that stay far below do not cost more looks than there are places: the start is looked at twice.
    #[test]
    fn what_cannot_reach_the_change_is_not_climbed() {
        let calls = std::cell::Cell::new(0);
        let waves = |x: f64| {
            calls.set(calls.get() + 1);
            0.05 * (7.0 * x).sin() - 0.9
        };
        let places = places(0.0, 9.0, 0.5, &[]);
        assert_eq!(last_before_change(waves, &places), None);
        assert_eq!(calls.get(), places.len() + 1);
    }
}
