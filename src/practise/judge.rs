//! What was typed or chosen, judged: right, wrong by which mistake, or not to be read.

use super::exercise::{Answer, Asked, Exercise, Scale, Sign, Wrong};

/// Names of what is offered.
pub const LETTERS: [char; 4] = ['a', 'b', 'c', 'd'];

/// What comes of an answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Verdict<'e> {
    /// It is right.
    Right,
    /// It is wrong, by this mistake; `None` where no mistake with a name gives it.
    Wrong(Option<&'e Wrong>),
    /// It cannot be read; what would help.
    Unread(String),
}

/// Words that may stand in an answer and change nothing.
const IDLE: [&str; 9] = ["mm", "d", "dioptres", "δ", "pd", "base", "°", "deg", "degrees"];

impl Exercise {
    /// Judges what was typed, or with `offered` also the letter of an answer that was offered.
    #[must_use]
    pub fn judge(&self, typed: &str, offered: bool) -> Verdict<'_> {
        let text = typed.trim().to_lowercase().replace(['−', '–'], "-");
        if let (true, Some(place)) = (offered, LETTERS.iter().position(|letter| text == letter.to_string())) {
            return match self.offered.get(place) {
                Some(None) => Verdict::Right,
                Some(Some(wrong)) => Verdict::Wrong(self.wrong.get(*wrong)),
                None => self.letters(),
            };
        }
        match self.asked {
            Asked::Choice => self.letters(),
            Asked::Number(scale) => self.against(number(&text, &scale)),
            Asked::Power(_) => self.against(power(&text)),
        }
    }

    fn letters(&self) -> Verdict<'_> {
        let letters: Vec<String> = LETTERS.iter().take(self.offered.len()).map(char::to_string).collect();
        Verdict::Unread(format!("Write one of the letters {}.", letters.join(", ")))
    }

    fn against(&self, read: Result<Answer, String>) -> Verdict<'_> {
        match read {
            Err(mend) => Verdict::Unread(mend),
            Ok(answer) if self.same(&answer, &self.answer, 1.0) => Verdict::Right,
            Ok(answer) => Verdict::Wrong(self.nearest(&answer)),
        }
    }

    /// The mistake whose answer is nearest: rounding on the way may take it twice as far as it may take a right answer, as
    /// long as it is not nearer to the right one.
    fn nearest(&self, answer: &Answer) -> Option<&Wrong> {
        let Answer::Number(typed) = answer else {
            return self.wrong.iter().find(|wrong| self.same(answer, &wrong.answer, 1.0));
        };
        let far = |from: &Answer| match from {
            Answer::Number(value) => (value - typed).abs(),
            Answer::Power(_) | Answer::Words(_) => f64::INFINITY,
        };
        let nearest = self.wrong.iter().min_by(|a, b| far(&a.answer).total_cmp(&far(&b.answer)))?;
        let near = self.same(answer, &nearest.answer, 2.0) && far(&nearest.answer) < far(&self.answer);
        near.then_some(nearest)
    }
}

fn comma(text: &str) -> Result<(), String> {
    let between = |i: usize, by: isize| {
        let at = i.checked_add_signed(by).and_then(|i| text.as_bytes().get(i));
        at.is_some_and(u8::is_ascii_digit)
    };
    match text.char_indices().any(|(i, sign)| sign == ',' && between(i, 1)) {
        true => Err(format!("Write the decimal point: {}", text.replace(',', "."))),
        false => Ok(()),
    }
}

/// The text in numbers and words, each on its own: "1.7up" is "1.7" and "up".
fn parts(text: &str) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    let mut before = ' ';
    for sign in text.chars() {
        let is_number = |sign: char| sign.is_ascii_digit() || matches!(sign, '.' | '+' | '-');
        // A sign begins a number of its own.
        let starts = before.is_whitespace() || is_number(sign) != is_number(before) || matches!(sign, '+' | '-');
        if !sign.is_whitespace() {
            match parts.last_mut() {
                Some(last) if !starts => last.push(sign),
                _ => parts.push(sign.to_string()),
            }
        }
        before = sign;
    }
    // "- 2.00" is "-2.00".
    let mut joined: Vec<String> = Vec::new();
    for part in parts {
        match joined.last_mut() {
            Some(last) if matches!(last.as_str(), "+" | "-") => last.push_str(&part),
            _ => joined.push(part),
        }
    }
    joined
}

fn finite(part: &str) -> Option<f64> {
    part.parse().ok().filter(|value: &f64| value.is_finite())
}

fn number(text: &str, scale: &Scale) -> Result<Answer, String> {
    comma(text)?;
    let (mut value, mut way) = (None, None);
    let ways = match scale.sign {
        Sign::Toward(ways) => Some(ways),
        Sign::None | Sign::Power => None,
    };
    for part in parts(text) {
        let toward = ways.and_then(|ways| ways.iter().position(|word| *word == part));
        match (finite(&part), toward) {
            (Some(_), _) if value.is_some() => return Err("Write one number.".to_owned()),
            (Some(read), _) => value = Some(read),
            (None, Some(place)) => way = Some(if place == 0 { 1.0 } else { -1.0 }),
            (None, None) if part == "plano" || part == "none" => value = Some(0.0),
            (None, None) if IDLE.contains(&part.as_str()) => {}
            (None, None) => return Err(format!("“{part}” was not understood. {}", wanted(scale))),
        }
    }
    match (value, ways, way) {
        (None, _, _) => Err(wanted(scale)),
        (Some(value), None, _) => Ok(Answer::Number(value)),
        (Some(value), Some(_), Some(sign)) => Ok(Answer::Number(sign * value)),
        // Nought has no direction; a minus sign is none.
        (Some(0.0), Some(_), None) => Ok(Answer::Number(0.0)),
        (Some(_), Some(_), None) => Err(format!("Say which way too. {}", wanted(scale))),
    }
}

fn wanted(scale: &Scale) -> String {
    let example = match scale.decimals {
        0 => "12",
        1 => "1.5",
        _ => "1.25",
    };
    match scale.sign {
        Sign::None => format!("Write a number, such as {example}."),
        Sign::Power => format!("Write a power with its sign, such as -{example}."),
        Sign::Toward([one, other]) => format!("Write a number and {one} or {other}, such as {example} {one}."),
    }
}

fn power(text: &str) -> Result<Answer, String> {
    comma(text)?;
    let wanted = "Write sphere, cylinder and axis, such as -2.00 +1.50 x 90.";
    let mut numbers = Vec::new();
    for part in parts(&text.replace(['/', '@'], " ")) {
        match (finite(&part), part.as_str()) {
            (Some(number), _) => numbers.push(number),
            (None, "plano" | "pl") => numbers.push(0.0),
            (None, "x" | "×" | "ax" | "axis" | "ds" | "dc" | "d" | "°") => {}
            (None, other) => return Err(format!("“{other}” was not understood. {wanted}")),
        }
    }
    match numbers[..] {
        [sphere] => Ok(Answer::Power([sphere, 0.0, 180.0])),
        [_, _, deg] if !(0.0..=180.0).contains(&deg) => Err("An axis is from 1 to 180.".to_owned()),
        [sphere, cylinder, deg] => Ok(Answer::Power([sphere, cylinder, deg])),
        _ => Err(wanted.to_owned()),
    }
}
