//! Image jump, and the prism that a segment adds.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{ADD, mm};
use crate::draw::number::{figure, power, size};
use crate::rx::Segment;

/// A segment as a question names it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Style {
    /// By its diameter.
    Round(f64),
    /// By its width, and how far its optical centre lies below the top.
    FlatTop(f64, f64),
    /// Its optical centre on the line.
    FullWidth,
}

/// "How much does the image jump?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jump {
    /// The segment.
    pub style: Style,
    /// D.
    pub add: f64,
}

/// "Which prism does the segment add at the reading level?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SegmentPrism {
    /// The segment.
    pub style: Style,
    /// D.
    pub add: f64,
    /// Of its top below the distance optical centre.
    pub drop_mm: f64,
    /// Of the reading level below the distance optical centre.
    pub level_mm: f64,
}

const UP_DOWN: [&str; 2] = ["up", "down"];
const DOWN_UP: [&str; 2] = ["down", "up"];

const SEGMENT: Takes = Takes::word("segment", &["round", "flat-top", "full-width"]);
const ROUND: Takes = mm("diameter_mm", 5.0, 60.0).perhaps();
const WIDE: Takes = mm("width_mm", 5.0, 60.0).perhaps();
const BELOW: Takes = mm("centre_below_mm", 0.0, 30.0).perhaps();

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "jump",
        takes: &[ADD, SEGMENT, ROUND, WIDE, BELOW],
        pose: |given| Ok(Jump { style: Style::given(given)?, add: given.number("add") }.exercise()),
    },
    Form {
        find: "prism",
        takes: &[ADD, SEGMENT, ROUND, WIDE, BELOW, mm("drop_mm", 0.0, 20.0), mm("level_mm", 0.0, 30.0)],
        pose: |given| {
            let [add, drop_mm, level_mm] = ["add", "drop_mm", "level_mm"].map(|key| given.number(key));
            if level_mm < drop_mm {
                return Err("level_mm is less than drop_mm: the eye looks above the segment".to_owned());
            }
            Ok(SegmentPrism { style: Style::given(given)?, add, drop_mm, level_mm }.exercise())
        },
    },
];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    // Segments of the trade (common practice, no source).
    let round = Style::Round(chance.one_of(&[22.0, 24.0, 25.0, 28.0, 38.0]));
    let flat = Style::FlatTop(chance.one_of(&[25.0, 28.0, 35.0]), chance.one_of(&[4.5, 5.0]));
    let add = chance.on_grid(0.75, 3.5, 0.25);
    match level {
        1 => Jump { style: round, add }.exercise(),
        2 => Jump { style: chance.one_of(&[flat, flat, flat, Style::FullWidth]), add }.exercise(),
        _ => {
            let style = chance.one_of(&[round, flat, Style::FullWidth]);
            let drop_mm = chance.on_grid(2.0, 5.0, 1.0);
            SegmentPrism { style, add, drop_mm, level_mm: drop_mm + chance.on_grid(2.0, 7.0, 0.5) }.exercise()
        }
    }
}

impl Style {
    fn given(given: &Given) -> Result<Style, String> {
        let [diameter, width, below] = ["diameter_mm", "width_mm", "centre_below_mm"].map(|key| given.perhaps(key));
        if given.is("segment", "full-width") {
            return match (diameter, width, below) {
                (None, None, None) => Ok(Style::FullWidth),
                _ => Err("a full-width segment has its optical centre on the line: it takes no length".to_owned()),
            };
        }
        match (given.is("segment", "round"), diameter, width, below) {
            (true, Some(diameter), None, None) => Ok(Style::Round(diameter)),
            (true, ..) => Err("a round segment takes diameter_mm, and no other length of its own".to_owned()),
            (false, None, Some(width), Some(below)) => Ok(Style::FlatTop(width, below)),
            (false, ..) => Err("a flat-top segment takes width_mm and centre_below_mm, and no diameter_mm".to_owned()),
        }
    }

    fn segment(self) -> Segment {
        match self {
            Style::Round(diameter) => Segment::round(diameter),
            Style::FlatTop(_, centre) => Segment::flat_top(centre),
            Style::FullWidth => Segment::full_width(),
        }
    }

    fn named(self) -> String {
        match self {
            Style::Round(diameter) => format!("a round segment of {} mm", size(diameter)),
            Style::FlatTop(width, centre) => {
                format!(
                    "a flat-top segment {} mm wide, its optical centre {} mm below the top",
                    size(width),
                    size(centre)
                )
            }
            Style::FullWidth => "a full-width segment, its optical centre on the line".to_owned(),
        }
    }

    /// The line of working that gives the distance from the top to the optical centre.
    fn centre(self, made: Exercise) -> Exercise {
        let centre = self.segment().centre_below_top_mm;
        let (formula, numbers) = match self {
            Style::Round(diameter) => ("top to optical centre = half the diameter", format!("{} / 2", size(diameter))),
            Style::FlatTop(_, centre) => ("top to optical centre, as given", size(centre)),
            Style::FullWidth => ("top to optical centre: it lies on the line", "0".to_owned()),
        };
        made.step(formula, numbers, centre, (2, "mm"))
    }
}

impl Jump {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let (add, centre) = (self.add, self.style.segment().centre_below_top_mm);
        let right = self.style.segment().image_jump_pd(add);
        let jump = |centre: f64| Segment { centre_below_top_mm: centre }.image_jump_pd(add);
        let question = format!(
            "Add {}, {}. How much does the image jump at the top of the segment, and where is the base?",
            power(add),
            self.style.named()
        );
        let made = Exercise::number(question, Scale::plain("Δ", 2).within(0.05).toward(DOWN_UP), right);
        let made = self.style.centre(made);
        let made = match self.style {
            Style::Round(diameter) => made.slip(Mistake::DiameterForRadius, jump(diameter)),
            Style::FlatTop(width, _) => made.slip(Mistake::RoundForFlat, jump(0.5 * width)),
            // What a round 22 and a flat-top would do.
            Style::FullWidth => made.slip(Mistake::JumpOfRound, jump(11.0)).slip(Mistake::JumpOfRound, jump(5.0)),
        };
        made.step(
            "jump = distance in cm × add",
            format!("{} / 10 × {}", figure(centre, 2), figure(add, 2)),
            right,
            (2, "Δ"),
        )
        .slip(Mistake::CmForMm, 10.0 * right)
        .slip(Mistake::WrongWay, -right)
    }
}

impl SegmentPrism {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let SegmentPrism { style, add, drop_mm, level_mm } = *self;
        let segment = style.segment();
        let (centre, below_top) = (segment.centre_below_top_mm, level_mm - drop_mm);
        let right = segment.prism_up_pd(add, below_top);
        let question = format!(
            "Add {}, {}; its top lies {} mm below the distance optical centre. Which vertical prism does the segment add \
             {} mm below that centre? Amount and base.",
            power(add),
            style.named(),
            size(drop_mm),
            size(level_mm)
        );
        let off = below_top - centre;
        let made = Exercise::number(question, Scale::plain("Δ", 2).within(0.05).toward(UP_DOWN), right);
        let made = style.centre(made);
        let made = match style {
            Style::Round(diameter) => made.slip(
                Mistake::DiameterForRadius,
                Segment { centre_below_top_mm: diameter }.prism_up_pd(add, below_top),
            ),
            Style::FlatTop(width, _) => {
                made.slip(Mistake::RoundForFlat, Segment::round(width).prism_up_pd(add, below_top))
            }
            Style::FullWidth => made,
        };
        made.step("top to reading level", format!("{} − {}", size(level_mm), size(drop_mm)), below_top, (1, "mm"))
            .step(
                "below the segment’s optical centre (negative: above it)",
                format!("{} − {}", size(below_top), figure(centre, 2)),
                off,
                (2, "mm"),
            )
            .slip(Mistake::FromTheTop, Segment::full_width().prism_up_pd(add, below_top))
            .step("P = distance in cm × add", format!("{} / 10 × {}", bracketed(off), figure(add, 2)), right, (2, "Δ"))
            .slip(Mistake::CmForMm, 10.0 * right)
            .slip(Mistake::WrongWay, -right)
    }
}

fn bracketed(off: f64) -> String {
    super::bracketed(off, 2)
}
