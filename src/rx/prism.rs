//! Prism as a vector that points to the base, in prism dioptres; several prisms add as vectors.

use crate::eye::Eye;
use crate::math::angle;

/// The sum of prescribed prisms: a vector in prism dioptres toward the base.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Prism {
    /// Toward the observer's right.
    pub x_pd: f64,
    /// Upward.
    pub y_pd: f64,
}

/// Where the base of a prescribed prism lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Base {
    /// Toward the nose.
    In,
    /// Toward the temple.
    Out,
    /// Upward.
    Up,
    /// Downward.
    Down,
    /// Degrees anticlockwise from x, for both eyes alike.
    Degrees(f64),
}

impl Base {
    /// The words that a job file may use beside degrees.
    pub const WORDS: [&'static str; 4] = ["in", "out", "up", "down"];

    /// The base of this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Base> {
        match word {
            "in" => Some(Base::In),
            "out" => Some(Base::Out),
            "up" => Some(Base::Up),
            "down" => Some(Base::Down),
            _ => None,
        }
    }

    /// Its direction for this eye, degrees.
    #[must_use]
    pub fn direction_deg(self, eye: Eye) -> f64 {
        let nose = match eye {
            Eye::Right => 0.0,
            Eye::Left => 180.0,
        };
        match self {
            Base::In => nose,
            Base::Out => 180.0 - nose,
            Base::Up => 90.0,
            Base::Down => 270.0,
            Base::Degrees(deg) => deg,
        }
    }
}

impl Prism {
    /// A prism of this amount with its base in this direction.
    #[must_use]
    pub fn new(amount_pd: f64, base_deg: f64) -> Prism {
        let (c, s) = angle::cos_sin_deg(base_deg);
        Prism { x_pd: amount_pd * c, y_pd: amount_pd * s }
    }

    /// Two prisms together.
    #[must_use]
    pub fn plus(self, other: Prism) -> Prism {
        Prism { x_pd: self.x_pd + other.x_pd, y_pd: self.y_pd + other.y_pd }
    }

    /// Size of the resultant.
    #[must_use]
    pub fn amount_pd(self) -> f64 {
        self.x_pd.hypot(self.y_pd)
    }

    /// Direction of the base of the resultant, 0 ≤ deg < 360; 0 where there is no prism.
    #[must_use]
    pub fn base_deg(self) -> f64 {
        angle::direction_deg(self.x_pd, self.y_pd)
    }

    /// Is there any?
    #[must_use]
    pub fn is_none(self) -> bool {
        self.x_pd == 0.0 && self.y_pd == 0.0
    }
}
