//! Formulas and values of a calculation in signs: as plain text, and as LaTeX for whoever sets mathematics. Both are made
//! of the formula that is computed.
//!
//! Units: written behind values.

use super::number::{figure, with_unit};
use crate::explain::{Expr, Extreme, Function, How, Line, Rule, Symbol};

/// What stands for the lines that a formula names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// Their symbols.
    Symbols,
    /// Their values.
    Numbers,
}

/// A way of writing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Written {
    /// In one row of signs, for a terminal.
    Plain,
    /// LaTeX.
    Tex,
}

/// How tightly a formula holds together: what is below what its place wants is put in brackets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Tight {
    Signed,
    Sum,
    Product,
    Whole,
}

/// Writes the formulas of some lines.
#[derive(Clone, Copy, Debug)]
pub struct Writer<'a> {
    /// All lines of the calculation.
    pub lines: &'a [Line],
    /// What stands for them.
    pub shown: Shown,
    /// In which way.
    pub written: Written,
}

impl Writer<'_> {
    /// The formula of an expression.
    #[must_use]
    pub fn write(&self, expr: &Expr) -> String {
        self.part(expr).0
    }

    /// A formula, in brackets where its place wants it.
    fn held(&self, expr: &Expr, wanted: Tight) -> String {
        let (text, tight) = self.part(expr);
        if tight < wanted { self.bracketed(&text) } else { text }
    }

    fn bracketed(&self, text: &str) -> String {
        match self.written {
            Written::Plain => format!("({text})"),
            // A tall fraction touches its bracket.
            Written::Tex if text.starts_with("\\frac") => format!("\\left(\\,{text}\\right)"),
            Written::Tex => format!("\\left({text}\\right)"),
        }
    }

    fn part(&self, expr: &Expr) -> (String, Tight) {
        let tex = self.written == Written::Tex;
        match expr {
            Expr::Number(number) => self.number(&shortest(*number)),
            Expr::Line(place) => self.line(&self.lines[*place]),
            Expr::Negated(a) => (format!("{}{}", self.minus(), self.held(a, Tight::Product)), Tight::Signed),
            Expr::Sum(ab) => {
                (format!("{} + {}", self.held(&ab[0], Tight::Signed), self.held(&ab[1], Tight::Sum)), Tight::Sum)
            }
            Expr::Difference(ab) => {
                let (a, b) = (self.held(&ab[0], Tight::Signed), self.held(&ab[1], Tight::Product));
                (format!("{a} {} {b}", self.minus()), Tight::Sum)
            }
            Expr::Product(ab) => {
                let (a, b) = (self.held(&ab[0], Tight::Product), self.held(&ab[1], Tight::Product));
                (format!("{a} {} {b}", if tex { "\\cdot" } else { "·" }), Tight::Product)
            }
            Expr::Quotient(ab) if tex => {
                (format!("\\frac{{{}}}{{{}}}", self.write(&ab[0]), self.write(&ab[1])), Tight::Product)
            }
            Expr::Quotient(ab) => {
                (format!("{} / {}", self.held(&ab[0], Tight::Product), self.held(&ab[1], Tight::Whole)), Tight::Product)
            }
            Expr::Squared(a) => (self.squared(a), Tight::Whole),
            Expr::Root(a) if tex => (format!("\\sqrt{{{}}}", self.write(a)), Tight::Whole),
            Expr::Root(a) => (format!("√({})", self.write(a)), Tight::Whole),
            Expr::Of(function, a) => (self.function(*function, a, ""), Tight::Whole),
            Expr::Extreme(extreme, all) => (self.extreme(*extreme, all), Tight::Whole),
            Expr::Listed(rule, a, listed) => (self.listed(*rule, a, listed), Tight::Whole),
        }
    }

    fn minus(&self) -> &'static str {
        match self.written {
            Written::Plain => "−",
            Written::Tex => "-",
        }
    }

    /// A number whose minus is a true one.
    fn number(&self, text: &str) -> (String, Tight) {
        let tight = if text.starts_with('−') { Tight::Signed } else { Tight::Whole };
        (text.replace('−', self.minus()), tight)
    }

    fn line(&self, line: &Line) -> (String, Tight) {
        match self.shown {
            Shown::Numbers => self.number(&number(line)),
            Shown::Symbols => (symbol(&line.head.symbol, self.written), Tight::Whole),
        }
    }

    fn squared(&self, a: &Expr) -> String {
        let two = if self.written == Written::Tex { "^{2}" } else { "²" };
        if let Expr::Of(function @ (Function::Sine | Function::Cosine), of) = a {
            return self.function(*function, of, two);
        }
        format!("{}{two}", self.held(a, Tight::Whole))
    }

    fn function(&self, function: Function, of: &Expr, power: &str) -> String {
        let tex = self.written == Written::Tex;
        let name = match function {
            Function::Absolute if tex => return format!("\\left|{}\\right|", self.write(of)),
            Function::Absolute => return format!("|{}|", self.write(of)),
            Function::Sine => "sin",
            Function::Cosine => "cos",
            Function::Arctangent => "arctan",
        };
        format!("{}{name}{power}{}", if tex { "\\" } else { "" }, self.bracketed(&self.write(of)))
    }

    fn extreme(&self, extreme: Extreme, all: &[Expr]) -> String {
        let name = match extreme {
            Extreme::Least => "min",
            Extreme::Greatest => "max",
        };
        let all: Vec<String> = all.iter().map(|one| self.write(one)).collect();
        match self.written {
            Written::Plain => format!("{name}({})", all.join(", ")),
            Written::Tex => format!("\\{name}\\left({}\\right)", all.join(",\\;")),
        }
    }

    fn listed(&self, rule: Rule, wanted: &Expr, listed: &[f64]) -> String {
        let words = match rule {
            Rule::Nearest => "nearest to",
            Rule::AtLeast => "least from",
        };
        let listed: Vec<String> = listed.iter().map(|one| shortest(*one)).collect();
        let wanted = self.write(wanted);
        match self.written {
            Written::Plain => format!("{words} {wanted} of {}", listed.join(", ")),
            Written::Tex => {
                format!("\\text{{{words} }}{wanted}\\text{{ of }}{}", listed.join(",\\;"))
            }
        }
    }
}

/// What a quantity is called.
#[must_use]
pub fn symbol(symbol: &Symbol, written: Written) -> String {
    match written {
        Written::Plain => plain_symbol(symbol),
        Written::Tex => tex_symbol(symbol),
    }
}

/// Below the line as one sign each, where there are such signs for all; after a low line otherwise.
fn plain_symbol(symbol: &Symbol) -> String {
    const LOW: [(char, char); 27] = [
        ('0', '₀'),
        ('1', '₁'),
        ('2', '₂'),
        ('3', '₃'),
        ('4', '₄'),
        ('5', '₅'),
        ('6', '₆'),
        ('7', '₇'),
        ('8', '₈'),
        ('9', '₉'),
        ('a', 'ₐ'),
        ('e', 'ₑ'),
        ('h', 'ₕ'),
        ('i', 'ᵢ'),
        ('j', 'ⱼ'),
        ('k', 'ₖ'),
        ('l', 'ₗ'),
        ('m', 'ₘ'),
        ('n', 'ₙ'),
        ('o', 'ₒ'),
        ('p', 'ₚ'),
        ('r', 'ᵣ'),
        ('s', 'ₛ'),
        ('t', 'ₜ'),
        ('u', 'ᵤ'),
        ('v', 'ᵥ'),
        ('x', 'ₓ'),
    ];
    let Symbol { letter, below } = symbol;
    let low = |sign: char| LOW.iter().find(|(from, _)| *from == sign).map(|(_, to)| *to);
    // A word below is a word.
    let low = if below.len() > 3 { None } else { below.chars().map(low).collect::<Option<String>>() };
    match low {
        Some(low) => {
            let (base, prime) = letter.strip_suffix('′').map_or((*letter, ""), |base| (base, "′"));
            format!("{base}{low}{prime}")
        }
        None => format!("{letter}_{below}"),
    }
}

fn tex_symbol(symbol: &Symbol) -> String {
    let (base, prime) = symbol.letter.strip_suffix('′').map_or((symbol.letter, ""), |base| (base, "'"));
    let base = match base {
        "α" => "\\alpha".to_owned(),
        "δ" => "\\delta".to_owned(),
        "ν" => "\\nu".to_owned(),
        "ρ" => "\\rho".to_owned(),
        "σ" => "\\sigma".to_owned(),
        one if one.chars().count() == 1 => one.to_owned(),
        word => format!("\\mathrm{{{word}}}"),
    };
    let below = if symbol.below.is_empty() { String::new() } else { format!("_{{\\mathrm{{{}}}}}", symbol.below) };
    format!("{base}{below}{prime}")
}

/// Decimals of a value that was worked: enough to go on with.
fn decimals(unit: &str) -> usize {
    match unit {
        "°" | "mm²" | "mm³" => 2,
        "1/mm" => 6,
        "" => 5,
        _ => 3,
    }
}

/// A number of a formula: as many decimals as it needs.
fn shortest(value: f64) -> String {
    trimmed(&figure(value, 6))
}

fn trimmed(text: &str) -> String {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text.to_owned() }
}

/// The value of a line, without its unit: as it was given, or with the decimals of its unit.
#[must_use]
pub fn number(line: &Line) -> String {
    let text = figure(line.value, decimals(line.head.unit));
    if line.how == How::Given { trimmed(&text) } else { text }
}

/// The value of a line with its unit.
#[must_use]
pub fn value(line: &Line) -> String {
    quantity(&number(line), line.head.unit)
}

/// Another value of the same kind as a line's, with its unit.
#[must_use]
pub fn like(line: &Line, value: f64) -> String {
    with_unit(value, decimals(line.head.unit), line.head.unit)
}

fn quantity(number: &str, unit: &str) -> String {
    match unit {
        "" | "°" => format!("{number}{unit}"),
        unit => format!("{number}\u{202f}{unit}"),
    }
}
