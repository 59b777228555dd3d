//! Roots of a function of one variable between two signs, by inverse quadratic steps within a bracket. Bounded, and it says when it does
//! not settle.

/// A root was not settled within the allowed number of steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unsettled {
    /// The best argument so far.
    pub at: f64,
}

/// Most evaluations that [`between`] spends; bisection alone would need about 60 for the last place.
const MOST_STEPS: usize = 100;

/// The root of `f` between `a` and `b`, where `f(a)` = `fa` and `f(b)` = `fb` differ in sign (or one is zero), to
/// `tolerance` in the argument: inverse quadratic steps where they are safe, bisection elsewhere (T. R. Chandrupatla,
/// Advances in Engineering Software 28, 1997), opened with a secant step.
///
/// # Errors
/// [`Unsettled`] if the function is not defined somewhere in between (NaN), or is so wild that the bracket is not
/// narrowed to the tolerance.
pub fn between(
    f: impl Fn(f64) -> f64,
    (mut a, mut fa): (f64, f64),
    (mut b, mut fb): (f64, f64),
    tolerance: f64,
) -> Result<f64, Unsettled> {
    let mut share = if fa == fb { 0.5 } else { (fa / (fa - fb)).clamp(0.0, 1.0) };
    for _ in 0..MOST_STEPS {
        let x = a + share * (b - a);
        let fx = f(x);
        if fx.is_nan() {
            return Err(Unsettled { at: x });
        }
        let (c, fc);
        if (fx < 0.0) == (fa < 0.0) {
            (c, fc) = (a, fa);
        } else {
            (c, fc) = (b, fb);
            (b, fb) = (a, fa);
        }
        (a, fa) = (x, fx);
        let (best, f_best) = if fa.abs() < fb.abs() { (a, fa) } else { (b, fb) };
        let least_share = (tolerance + 2.0 * f64::EPSILON * best.abs()) / (b - a).abs();
        if least_share > 0.5 || f_best == 0.0 {
            return Ok(best);
        }
        let xi = (a - b) / (c - b);
        let phi = (fa - fb) / (fc - fb);
        share = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        } else {
            0.5
        };
        share = share.clamp(least_share, 1.0 - least_share);
    }
    Err(Unsettled { at: a })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_root_of_two_and_says_how_hard_it_was() {
        let calls = std::cell::Cell::new(0);
        let f = |x: f64| x * x - 2.0;
        let root = between(
            |x| {
                calls.set(calls.get() + 1);
                f(x)
            },
            (0.0, f(0.0)),
            (2.0, f(2.0)),
            1e-12,
        )
        .unwrap();
        assert!((root - 2f64.sqrt()).abs() < 1e-12, "{root}");
        assert!(calls.get() < 12, "{} evaluations", calls.get());
    }

    #[test]
    fn a_steep_step_is_bisected() {
        let f = |x: f64| if x < 0.123_456 { -1.0 } else { 1e9 };
        let root = between(f, (0.0, -1.0), (1.0, 1e9), 1e-9).unwrap();
        assert!((root - 0.123_456).abs() < 2e-9, "{root}");
    }

    /// A straight line's root is met at the first step, and whatever bends smoothly in a few: steps are dear, each is a lens.
    #[test]
    fn smooth_functions_take_few_steps() {
        let spent = |f: &dyn Fn(f64) -> f64, (a, b): (f64, f64)| {
            let calls = std::cell::Cell::new(0);
            let counted = |x: f64| {
                calls.set(calls.get() + 1);
                f(x)
            };
            let root = between(counted, (a, f(a)), (b, f(b)), 1e-12).expect("a root");
            assert!(f(root - 2e-12) * f(root + 2e-12) <= 0.0, "{root}");
            calls.get()
        };
        assert_eq!(spent(&|x| 3.0 * x - 1.5, (0.0, 2.0)), 1);
        type Bent<'a> = (&'a dyn Fn(f64) -> f64, (f64, f64));
        let bent: [Bent<'_>; 5] = [
            (&|x| x.exp() - 2.0, (0.0, 2.0)),
            (&|x| x.cos() - x, (0.0, 1.5)),
            (&|x| x.powi(3) - 2.0, (0.0, 3.0)),
            (&|x| 10.0 - 1.0 / x, (0.05, 1.0)),
            (&|x| (25.0 - x * x).sqrt() - 3.0, (0.0, 4.9)),
        ];
        let all: usize = bent.iter().map(|(f, ends)| spent(f, *ends)).sum();
        // As many as it takes now: fewer are welcome, more are a step back.
        assert!(all <= 38, "{all} steps in all");
    }
}
