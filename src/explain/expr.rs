//! A formula as data: what is shown in symbols, shown with numbers, and computed is one and the same tree.
//!
//! Units: those of the lines that it names; angles in degrees.

use crate::math::angle;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// A formula over numbers and lines above.
#[derive(Clone, Debug, PartialEq)]
pub enum Expr {
    /// A number of the formula itself.
    Number(f64),
    /// The value of a line above, by its place.
    Line(usize),
    /// −a.
    Negated(Box<Expr>),
    /// a + b.
    Sum(Box<[Expr; 2]>),
    /// a − b.
    Difference(Box<[Expr; 2]>),
    /// a · b.
    Product(Box<[Expr; 2]>),
    /// a / b.
    Quotient(Box<[Expr; 2]>),
    /// a².
    Squared(Box<Expr>),
    /// √a.
    Root(Box<Expr>),
    /// A function of one number.
    Of(Function, Box<Expr>),
    /// The smallest or the largest of some.
    Extreme(Extreme, Vec<Expr>),
    /// One of a list, by what is wanted.
    Listed(Rule, Box<Expr>, Vec<f64>),
}

/// A function of one number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Function {
    /// Sine of degrees.
    Sine,
    /// Cosine of degrees.
    Cosine,
    /// The angle of a tangent, degrees.
    Arctangent,
    /// Without its sign.
    Absolute,
}

/// Which of some.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extreme {
    /// The smallest.
    Least,
    /// The largest.
    Greatest,
}

/// Which of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// The one nearest to what is wanted, of two equally near the smaller.
    Nearest,
    /// The smallest that is at least what is wanted; the largest where none is.
    AtLeast,
}

/// Listed numbers closer than this to what is wanted are as wanted.
const SAME: f64 = 1e-9;

impl Function {
    fn value(self, of: f64) -> f64 {
        match self {
            Function::Sine => angle::cos_sin_deg(of).1,
            Function::Cosine => angle::cos_sin_deg(of).0,
            Function::Arctangent => of.atan().to_degrees(),
            Function::Absolute => of.abs(),
        }
    }
}

impl Rule {
    fn pick(self, wanted: f64, listed: &[f64]) -> f64 {
        let nearer = |best: f64, one: f64| {
            let (a, b) = ((best - wanted).abs(), (one - wanted).abs());
            if b < a - SAME || (b <= a + SAME && one < best) { one } else { best }
        };
        let found = match self {
            Rule::Nearest => listed.iter().copied().reduce(nearer),
            Rule::AtLeast => {
                let enough = listed.iter().copied().filter(|one| *one >= wanted - SAME);
                enough.reduce(f64::min).or_else(|| listed.iter().copied().reduce(f64::max))
            }
        };
        found.unwrap_or(wanted)
    }
}

impl Expr {
    /// Its value, from those of the lines that it names.
    #[must_use]
    pub fn value(&self, line: &impl Fn(usize) -> f64) -> f64 {
        let of = |expr: &Expr| expr.value(line);
        match self {
            Expr::Number(number) => *number,
            Expr::Line(place) => line(*place),
            Expr::Negated(a) => -of(a),
            Expr::Sum(ab) => of(&ab[0]) + of(&ab[1]),
            Expr::Difference(ab) => of(&ab[0]) - of(&ab[1]),
            Expr::Product(ab) => of(&ab[0]) * of(&ab[1]),
            Expr::Quotient(ab) => of(&ab[0]) / of(&ab[1]),
            Expr::Squared(a) => of(a).powi(2),
            Expr::Root(a) => of(a).sqrt(),
            Expr::Of(function, a) => function.value(of(a)),
            Expr::Extreme(Extreme::Least, all) => all.iter().map(of).fold(f64::INFINITY, f64::min),
            Expr::Extreme(Extreme::Greatest, all) => all.iter().map(of).fold(f64::NEG_INFINITY, f64::max),
            Expr::Listed(rule, wanted, listed) => rule.pick(of(wanted), listed),
        }
    }

    /// The lines that it names, each once, in the order in which they stand above.
    #[must_use]
    pub fn lines(&self) -> Vec<usize> {
        let mut found = Vec::new();
        self.gather(&mut found);
        found.sort_unstable();
        found.dedup();
        found
    }

    fn gather(&self, found: &mut Vec<usize>) {
        match self {
            Expr::Number(_) => {}
            Expr::Line(place) => found.push(*place),
            Expr::Negated(a) | Expr::Squared(a) | Expr::Root(a) | Expr::Of(_, a) | Expr::Listed(_, a, _) => {
                a.gather(found);
            }
            Expr::Sum(ab) | Expr::Difference(ab) | Expr::Product(ab) | Expr::Quotient(ab) => {
                ab.iter().for_each(|a| a.gather(found));
            }
            Expr::Extreme(_, all) => all.iter().for_each(|a| a.gather(found)),
        }
    }

    /// a².
    #[must_use]
    pub fn squared(self) -> Expr {
        Expr::Squared(Box::new(self))
    }

    /// √a.
    #[must_use]
    pub fn root(self) -> Expr {
        Expr::Root(Box::new(self))
    }

    /// A function of it.
    #[must_use]
    pub fn under(self, function: Function) -> Expr {
        Expr::Of(function, Box::new(self))
    }

    /// The smaller of two.
    #[must_use]
    pub fn or_less(self, other: impl Into<Expr>) -> Expr {
        Expr::Extreme(Extreme::Least, vec![self, other.into()])
    }

    /// The larger of two.
    #[must_use]
    pub fn or_more(self, other: impl Into<Expr>) -> Expr {
        Expr::Extreme(Extreme::Greatest, vec![self, other.into()])
    }

    /// The one of a list that a rule takes for it.
    #[must_use]
    pub fn listed(self, rule: Rule, listed: Vec<f64>) -> Expr {
        Expr::Listed(rule, Box::new(self), listed)
    }
}

impl From<f64> for Expr {
    fn from(number: f64) -> Expr {
        Expr::Number(number)
    }
}

impl From<&Expr> for Expr {
    fn from(expr: &Expr) -> Expr {
        expr.clone()
    }
}

impl Neg for Expr {
    type Output = Expr;
    fn neg(self) -> Expr {
        Expr::Negated(Box::new(self))
    }
}

impl Neg for &Expr {
    type Output = Expr;
    fn neg(self) -> Expr {
        -self.clone()
    }
}

/// The four kinds of arithmetic, of formulas and numbers, owned or lent.
macro_rules! arithmetic {
    ($($operator:ident $method:ident $variant:ident;)+) => { $(
        impl<T: Into<Expr>> $operator<T> for Expr {
            type Output = Expr;
            fn $method(self, other: T) -> Expr {
                Expr::$variant(Box::new([self, other.into()]))
            }
        }
        impl<T: Into<Expr>> $operator<T> for &Expr {
            type Output = Expr;
            fn $method(self, other: T) -> Expr {
                Expr::$variant(Box::new([self.clone(), other.into()]))
            }
        }
        impl $operator<Expr> for f64 {
            type Output = Expr;
            fn $method(self, other: Expr) -> Expr {
                Expr::$variant(Box::new([self.into(), other]))
            }
        }
        impl $operator<&Expr> for f64 {
            type Output = Expr;
            fn $method(self, other: &Expr) -> Expr {
                Expr::$variant(Box::new([self.into(), other.clone()]))
            }
        }
    )+ };
}

arithmetic! {
    Add add Sum;
    Sub sub Difference;
    Mul mul Product;
    Div div Quotient;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_formula_computes_what_it_says() {
        let a = Expr::Line(0);
        let of = |expr: &Expr| expr.value(&|_| 3.0);
        assert_eq!(of(&((&a * 2.0 - 1.0) / 5.0)), 1.0);
        assert_eq!(of(&(&a - (-&a).squared().root())), 0.0);
        assert_eq!(of(&(&a * 30.0).under(Function::Sine)), 1.0);
        assert_eq!(of(&a.clone().or_more(4.0)), 4.0);
        assert_eq!(of(&a.clone().listed(Rule::Nearest, vec![2.0, 4.0, 6.0])), 2.0);
        assert_eq!(of(&a.clone().listed(Rule::AtLeast, vec![2.0, 4.0, 6.0])), 4.0);
        assert_eq!(of(&a.clone().listed(Rule::AtLeast, vec![1.0, 2.0])), 2.0);
        assert_eq!((&a + &a).lines(), [0]);
    }
}
