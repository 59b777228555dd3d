//! Chance that is the same for the same seed, on grids that can be worked by hand.

use rand::rngs::ChaCha8Rng;
use rand::seq::{IndexedRandom, SliceRandom};
use rand::{RngExt, SeedableRng};

/// Numbers by chance.
#[derive(Debug)]
pub struct Chance(ChaCha8Rng);

impl Chance {
    /// The same seed gives the same numbers.
    #[must_use]
    pub fn new(seed: u64) -> Chance {
        Chance(ChaCha8Rng::seed_from_u64(seed))
    }

    /// One of these, which are not none.
    pub(super) fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        *of.choose(&mut self.0).unwrap_or(&of[0])
    }

    /// A multiple of `step` from `from` to `to`, both multiples themselves.
    pub(super) fn on_grid(&mut self, from: f64, to: f64, step: f64) -> f64 {
        let steps = ((to - from) / step).round() as u32;
        from + step * f64::from(self.0.random_range(0..=steps))
    }

    /// Quarter dioptres, never nought.
    pub(super) fn quarters(&mut self, from: f64, to: f64) -> f64 {
        match self.on_grid(from, to, 0.25) {
            0.0 => to,
            power => power,
        }
    }

    /// Yes or no, alike.
    pub(super) fn yes(&mut self) -> bool {
        self.0.random_bool(0.5)
    }

    /// Another order.
    pub(super) fn shuffle<T>(&mut self, of: &mut [T]) {
        of.shuffle(&mut self.0);
    }
}
