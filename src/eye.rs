//! Right and left.

use serde::{Deserialize, Serialize};

/// Which eye. The wearer's right eye is on the observer's left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Eye {
    /// The wearer's right eye; its nose lies at +x.
    Right,
    /// The wearer's left eye; its nose lies at −x.
    Left,
}

impl Eye {
    /// Both, right first, as everything is written.
    pub const BOTH: [Eye; 2] = [Eye::Right, Eye::Left];

    /// The word used in files and on screen.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Eye::Right => "right",
            Eye::Left => "left",
        }
    }

    /// The letter on drawings.
    #[must_use]
    pub fn letter(self) -> &'static str {
        match self {
            Eye::Right => "R",
            Eye::Left => "L",
        }
    }

    /// +1 for the right eye, −1 for the left: the x direction of the nose.
    #[must_use]
    pub fn nasal_sign(self) -> f64 {
        match self {
            Eye::Right => 1.0,
            Eye::Left => -1.0,
        }
    }
}

/// Something that there is one of for each eye.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Eyes<T> {
    /// Of the right eye.
    pub right: T,
    /// Of the left eye.
    pub left: T,
}

impl<T> Eyes<T> {
    /// One of each, made by `make`.
    pub fn from_fn(mut make: impl FnMut(Eye) -> T) -> Self {
        Eyes { right: make(Eye::Right), left: make(Eye::Left) }
    }

    /// That of one eye.
    #[must_use]
    pub fn of(&self, eye: Eye) -> &T {
        match eye {
            Eye::Right => &self.right,
            Eye::Left => &self.left,
        }
    }

    /// Both with their eye, right first.
    pub fn iter(&self) -> impl Iterator<Item = (Eye, &T)> {
        [(Eye::Right, &self.right), (Eye::Left, &self.left)].into_iter()
    }

    /// The same with each value changed by `change`.
    pub fn map<U>(&self, mut change: impl FnMut(&T) -> U) -> Eyes<U> {
        Eyes { right: change(&self.right), left: change(&self.left) }
    }
}
