//! Names of the picture files of a report: lower case, other characters `-`, a number added on collision.

use super::number::size;
use crate::eye::Eye;
use crate::job::NOW;
use crate::study::compare::Comparison;
use std::collections::BTreeSet;

/// What the files of each option and of each frame are called by.
#[derive(Clone, Debug)]
pub struct Names {
    fits: Vec<String>,
    frames: Vec<String>,
}

impl Names {
    /// Those of a comparison.
    #[must_use]
    pub fn of(comparison: &Comparison<'_>) -> Names {
        let mut taken = Taken::default();
        let of_fit = |(index, fit): (usize, &crate::assess::Fit<'_>)| {
            let eye_size = size(fit.mounting.boxing.eye_size_mm);
            let (frame, lens) = if comparison.is_now(index) {
                (NOW, NOW)
            } else {
                (fit.mounting.frame.name.as_str(), fit.option.name.as_str())
            };
            taken.unique(&[frame, &eye_size, lens])
        };
        let fits = comparison.fits.iter().enumerate().map(of_fit).collect();
        let mut taken = Taken::default();
        let frames = comparison.job.frames.iter().map(|frame| taken.unique(&[&frame.name])).collect();
        Names { fits, frames }
    }

    /// `KIND-FRAME-SIZE-LENS[-right|-left].svg`.
    #[must_use]
    pub fn of_fit(&self, index: usize, kind: &str, eye: Option<Eye>) -> String {
        let of = self.fits.get(index).map_or("", String::as_str);
        let eye = eye.map_or(String::new(), |eye| format!("-{}", eye.word()));
        format!("{kind}-{of}{eye}.svg")
    }

    /// `KIND-FRAME.svg`.
    #[must_use]
    pub fn of_frame(&self, index: usize, kind: &str) -> String {
        format!("{kind}-{}.svg", self.frames.get(index).map_or("", String::as_str))
    }
}

/// Names given so far.
#[derive(Default)]
struct Taken(BTreeSet<String>);

impl Taken {
    /// A name of these parts that nothing else has.
    fn unique(&mut self, parts: &[&str]) -> String {
        let plain = |sign: char| if sign.is_ascii_alphanumeric() { sign.to_ascii_lowercase() } else { '-' };
        let stem: String = parts.join("-").chars().map(plain).collect();
        let mut candidates = std::iter::once(stem.clone()).chain((2..).map(|number| format!("{stem}-{number}")));
        let free = candidates.find(|name| !self.0.contains(name)).unwrap_or_default();
        self.0.insert(free.clone());
        free
    }
}

#[cfg(test)]
mod tests {
    use super::Taken;

    #[test]
    fn names_are_plain_and_their_own() {
        let mut taken = Taken::default();
        assert_eq!(taken.unique(&["Öre & Co", "46.5", "thin"]), "-re---co-46-5-thin");
        assert_eq!(taken.unique(&["a b"]), "a-b");
        assert_eq!(taken.unique(&["A-B"]), "a-b-2");
        assert_eq!(taken.unique(&["a/b"]), "a-b-3");
    }
}
