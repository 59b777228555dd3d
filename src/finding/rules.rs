//! The catalogue of what can be wrong: for each kind of problem its id, how grave it is, and one sentence.

use super::{Problem, Severity};
use crate::keys::{self, Key, Kind, Refused};

/// What is said of a kind of problem wherever the ids are listed.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    pub(super) id: Id,
    /// How grave it is.
    pub severity: Severity,
    /// One sentence on what it is.
    pub help: &'static str,
}

#[derive(Clone, Copy, Debug)]
pub(super) enum Id {
    /// One id.
    Whole(&'static str),
    /// One for each key that it can happen to: the key's stem and this ending.
    OfKey(&'static str, fn(&Key) -> bool),
}

/// Declares the rules and the list of all of them, so that none is forgotten.
macro_rules! rules {
    ($($constant:ident = $severity:ident, $id:expr, $help:literal;)*) => {
        $(pub(super) static $constant: Rule = Rule { id: $id, severity: Severity::$severity, help: $help };)*
        static RULES: &[&Rule] = &[$(&$constant),*];
    };
}

rules! {
    TOO_LARGE = Fault, Id::Whole("file.too-large"), "The file is too large to be a job and was not read.";
    NOT_UTF8 = Fault, Id::Whole("file.not-utf8"), "The file is not UTF-8 text.";
    SYNTAX = Fault, Id::Whole("file.syntax"), "The text is not TOML.";
    FORMAT_NEWER = Fault, Id::Whole("job.format-newer"),
        "The file is written in a newer format than this program knows.";
    FORMAT_UNKNOWN = Fault, Id::Whole("job.format-unknown"), "There is no such format.";
    UNKNOWN_KEY = Fault, Id::Whole("job.unknown-key"), "The key is not known in this table.";
    MISSING_KEY = Fault, Id::Whole("job.missing-key"), "A key that has to be given is missing.";
    WRONG_KIND = Fault, Id::Whole("job.wrong-kind"), "The value is not of the kind that the key holds.";
    NOT_FINITE = Fault, Id::Whole("job.not-finite"), "The number is not finite.";
    EMPTY_LIST = Fault, Id::OfKey("empty", |key| key.kind == Kind::Numbers), "The list has nothing in it.";
    LIST_LENGTH = Fault, Id::OfKey("count", |key| key.kind == Kind::NumberOrEach),
        "The list is not as long as that of the eye sizes.";
    RANGE = Fault, Id::OfKey("range", |key| key.refused != Refused::Nothing), "The value is out of any possible range.";
    UNUSUAL = Caution, Id::OfKey("unusual", |key| key.usual.is_some()), "The value is possible, but seldom.";
    UNKNOWN_WORD = Fault, Id::OfKey("unknown", has_words), "The word is not known.";
    NAME_EMPTY = Fault, Id::OfKey("empty", |key| key.kind == Kind::Name || *key == keys::shelf::NAME),
        "The name is empty.";
    CONTROL_SIGNS = Fault, Id::OfKey("control-signs", |key| matches!(key.kind, Kind::Name | Kind::Text | Kind::File)),
        "The text holds signs that are not for reading, such as a line's end.";
    FORMULA_SIGN = Fault, Id::OfKey("formula", |key| *key == keys::ORDER),
        "The text begins with a sign that makes a spreadsheet take it for a formula.";
    ROW_LENGTH = Fault, Id::Whole("row.length"), "The row has more or fewer fields than the header.";
    MATERIAL_TWICE = Fault, Id::Whole("row.material-twice"),
        "The material is named in the row, and given by its numbers as well.";
    NAME_LONG = Fault, Id::OfKey("long", |key| key.kind == Kind::Name || *key == keys::ORDER),
        "The name is longer than a table and a file's name bear.";
    NAME_SLASH = Fault, Id::OfKey("slash", |key| key.kind == Kind::Name),
        "The name holds a slash, which stands between names where an option is addressed.";
    NAME_NOW = Fault, Id::OfKey("now", |key| key.kind == Kind::Name), "The name belongs to the present spectacles.";
    NAME_TWICE = Fault, Id::OfKey("twice", |key| key.kind == Kind::Name), "The name is used twice.";
    NAME_OF_PRESENT = Fault, Id::Whole("present.named"), "The present spectacles have no name of their own.";
    NOT_RISING = Fault, Id::OfKey("not-rising", |key| key.is_of_shelf() && is_list(key)),
        "The numbers of the list do not rise.";
    ID_OF_FILE = Fault, Id::Whole("shelf.id-of-file"),
        "The id of a material is another than the name of its file without the ending.";
    SIZE_TWICE = Fault, Id::OfKey("twice", |key| *key == keys::EYE_SIZES), "The eye size is listed twice.";
    SIZES_OF_PRESENT = Fault, Id::Whole("present.sizes"), "The present frame has one eye size.";
    PD_OF_BOTH_EYES = Fault, Id::Whole("eye.pd-of-both-eyes"), "The pupil distance looks like that of both eyes.";
    PD_TWICE = Fault, Id::Whole("prescription.pd-twice"),
        "The pupil distance of both eyes is given beside that of one.";
    PD_HALVED = Caution, Id::Whole("prescription.pd-halved"), "Each eye was given half of the pupil distance of both.";
    AXIS_MISSING = Fault, Id::Whole("eye.axis-missing"), "A cylinder needs an axis.";
    ADD_NOT_USED = Caution, Id::Whole("eye.add-not-used"),
        "Single-vision lenses for distance do not use the near addition.";
    CIRCLE_DEPTH = Fault, Id::Whole("frame.circle-depth"), "A circle is as deep as it is wide.";
    MINIMUM_OF_INLINE = Fault, Id::Whole("material.minimum-missing"),
        "A material given by its numbers needs both least thicknesses in the lens option.";
    STOCK_OF_INLINE = Fault, Id::Whole("lens.stock-of-inline"),
        "A material given by its numbers is not to be had from stock.";
    STOCK_WITH_BASE = Fault, Id::Whole("lens.stock-with-base"),
        "The base curve of a stock lens is as listed and cannot be asked for.";
    BEVEL_IDLE = Caution, Id::OfKey("idle", is_of_bevel),
        "Nothing comes of the key: it goes with another position of the bevel, or the rim has none.";
    BASE_NOT_LISTED = Caution, Id::Whole("lens.base-not-listed"), "The material is not listed in this base curve.";
    BELOW_MINIMUM = Caution, Id::OfKey("below-minimum", is_minimum),
        "The least thickness is below what would have been chosen.";
    PRESENT_HALF = Fault, Id::Whole("present.half"), "The present spectacles need both a frame and a lens.";
    PRESENT_ASSUMED = Caution, Id::Whole("present.prescription-assumed"),
        "The present spectacles were taken as made for the new prescription.";
    OUTLINE_BESIDE_SHAPE = Fault, Id::Whole("outline.beside-shape"), "A measured outline is named beside a shape.";
    OUTLINE_WITH_DEPTH = Fault, Id::Whole("outline.with-depth"),
        "A depth is given beside a measured outline, which has its own proportion.";
    OUTLINE_UNREADABLE = Fault, Id::Whole("outline.unreadable"), "The file of a measured outline cannot be read.";
    OUTLINE_EMPTY = Fault, Id::Whole("outline.empty"), "There is nothing in the file of a measured outline.";
    OUTLINE_HEADER = Fault, Id::Whole("outline.header"), "The first line does not head the columns of angle and radius.";
    OUTLINE_COLUMNS = Fault, Id::Whole("outline.columns"), "A row does not hold an angle and a radius.";
    OUTLINE_NOT_NUMBER = Fault, Id::Whole("outline.not-number"), "What ought to be a finite number is none.";
    OUTLINE_NO_TRACE = Fault, Id::Whole("outline.no-trace"), "There is no trace among the records of the file.";
    OUTLINE_TRACE_FORMAT = Fault, Id::Whole("outline.trace-format"), "The trace is not in the plain text format.";
    OUTLINE_TRACE_HEAD = Fault, Id::Whole("outline.trace-head"),
        "The record at the head of a trace does not say how many radii there are, at which angles and of which eye.";
    OUTLINE_TRACE_TWICE = Fault, Id::Whole("outline.trace-twice"), "There is a second trace of the same eye.";
    OUTLINE_TRACE_COUNT = Fault, Id::Whole("outline.trace-count"),
        "There are not as many values as the head of the trace says.";
    OUTLINE_FEW = Fault, Id::Whole("outline.few"), "There are too few radii to make an outline.";
    OUTLINE_MANY = Fault, Id::Whole("outline.many"), "There are more radii than are taken.";
    OUTLINE_GAP = Fault, Id::Whole("outline.gap"), "A stretch of the outline has no radii: it is not closed.";
    OUTLINE_NOT_CLOSED = Fault, Id::Whole("outline.not-closed"),
        "Once round, the radius is not the one that the outline began with.";
    OUTLINE_NOT_ROUND = Fault, Id::Whole("outline.not-round"),
        "A radius is nought or less: the outline does not go round the point that it was measured from.";
    OUTLINE_TURNS_BACK = Fault, Id::Whole("outline.turns-back"),
        "The angles turn back: one direction would have two radii.";
    OUTLINE_SPIKE = Fault, Id::Whole("outline.spike"), "One radius stands out from its neighbours.";
    OUTLINE_JAGGED = Fault, Id::Whole("outline.jagged"), "No smooth curve passes near all points.";
    OUTLINE_SIZE = Fault, Id::Whole("outline.size"), "The box of the outline is none that a spectacle lens has.";
    OUTLINE_BOXED = Fault, Id::Whole("outline.boxed"), "The box of the outline is not the one that its file says.";
    OUTLINE_GIRTH = Caution, Id::Whole("outline.girth"),
        "The length round the outline is not the one that its file says.";
    OUTLINE_UNEVEN = Caution, Id::Whole("outline.uneven"), "The two lenses of the file are not of one size.";
    OUTLINE_BRIDGE = Caution, Id::Whole("outline.bridge"), "The bridge is not the one that the outline's file says.";
    TOO_MANY = Fault, Id::Whole("job.too-many"), "The job asks for too many combinations.";
    TOO_MANY_DRAWN = Fault, Id::Whole("job.too-many-drawn"), "The job asks for too many combinations to be drawn.";
}

fn has_words(key: &Key) -> bool {
    matches!(key.kind, Kind::Word(_) | Kind::WordOrNumber(_) | Kind::WordOrTable(..))
}

fn is_list(key: &Key) -> bool {
    matches!(key.kind, Kind::Numbers | Kind::FromTo)
}

fn is_of_bevel(key: &Key) -> bool {
    [&keys::RIM_CURVE, &keys::BEVEL_POSITION, &keys::BEVEL_BEHIND, &keys::BEVEL_SHARE].contains(&key)
}

fn is_minimum(key: &Key) -> bool {
    *key == keys::MIN_CENTRE || *key == keys::MIN_EDGE
}

impl Rule {
    /// All ids that its problems can have.
    pub fn ids(&self) -> Vec<String> {
        match self.id {
            Id::Whole(id) => vec![id.to_owned()],
            Id::OfKey(ending, happens_to) => {
                let all = keys::ALL.iter().chain(keys::shelf::ALL);
                all.filter(|key| happens_to(key)).map(|key| format!("{}-{ending}", key.stem())).collect()
            }
        }
    }
}

/// All rules, for lists of ids.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    RULES.iter().copied()
}

impl Problem {
    pub(super) fn rule(&self) -> &'static Rule {
        match self {
            Problem::TooLarge { .. } => &TOO_LARGE,
            Problem::NotUtf8 { .. } => &NOT_UTF8,
            Problem::Syntax { .. } => &SYNTAX,
            Problem::FormatNewer { .. } => &FORMAT_NEWER,
            Problem::FormatUnknown { .. } => &FORMAT_UNKNOWN,
            Problem::UnknownKey { .. } => &UNKNOWN_KEY,
            Problem::MissingKey { .. } => &MISSING_KEY,
            Problem::WrongKind { .. } => &WRONG_KIND,
            Problem::NotFinite { .. } => &NOT_FINITE,
            Problem::EmptyList { .. } => &EMPTY_LIST,
            Problem::ListLength { .. } => &LIST_LENGTH,
            Problem::Range { .. } => &RANGE,
            Problem::Unusual { .. } => &UNUSUAL,
            Problem::UnknownWord { .. } => &UNKNOWN_WORD,
            Problem::NameEmpty { .. } => &NAME_EMPTY,
            Problem::ControlSigns { .. } => &CONTROL_SIGNS,
            Problem::FormulaSign { .. } => &FORMULA_SIGN,
            Problem::RowLength { .. } => &ROW_LENGTH,
            Problem::MaterialTwice => &MATERIAL_TWICE,
            Problem::NameLong { .. } => &NAME_LONG,
            Problem::NameSlash { .. } => &NAME_SLASH,
            Problem::NameNow { .. } => &NAME_NOW,
            Problem::NameTwice { .. } => &NAME_TWICE,
            Problem::NameOfPresent { .. } => &NAME_OF_PRESENT,
            Problem::NotRising { .. } => &NOT_RISING,
            Problem::IdOfFile { .. } => &ID_OF_FILE,
            Problem::SizeTwice { .. } => &SIZE_TWICE,
            Problem::SizesOfPresent { .. } => &SIZES_OF_PRESENT,
            Problem::PdOfBothEyes { .. } => &PD_OF_BOTH_EYES,
            Problem::PdTwice { .. } => &PD_TWICE,
            Problem::PdHalved { .. } => &PD_HALVED,
            Problem::AxisMissing { .. } => &AXIS_MISSING,
            Problem::AddNotUsed { .. } => &ADD_NOT_USED,
            Problem::CircleDepth { .. } => &CIRCLE_DEPTH,
            Problem::MinimumOfInline { .. } => &MINIMUM_OF_INLINE,
            Problem::StockOfInline => &STOCK_OF_INLINE,
            Problem::StockWithBase { .. } => &STOCK_WITH_BASE,
            Problem::BevelIdle { .. } => &BEVEL_IDLE,
            Problem::BaseNotListed { .. } => &BASE_NOT_LISTED,
            Problem::BelowMinimum { .. } => &BELOW_MINIMUM,
            Problem::PresentHalf { .. } => &PRESENT_HALF,
            Problem::PresentAssumed => &PRESENT_ASSUMED,
            Problem::Outline(unfit) => unfit.rule(),
            Problem::TooMany { .. } => &TOO_MANY,
            Problem::TooManyDrawn { .. } => &TOO_MANY_DRAWN,
        }
    }

    /// The key that it is about, where its id depends on that.
    pub(super) fn key(&self) -> Option<&'static Key> {
        match self {
            Problem::EmptyList { key }
            | Problem::ListLength { key, .. }
            | Problem::Range { key, .. }
            | Problem::BevelIdle { key, .. }
            | Problem::Unusual { key, .. }
            | Problem::UnknownWord { key, .. }
            | Problem::NameEmpty { key }
            | Problem::ControlSigns { key }
            | Problem::FormulaSign { key, .. }
            | Problem::NameLong { key, .. }
            | Problem::NameSlash { key, .. }
            | Problem::NameNow { key, .. }
            | Problem::NameTwice { key, .. }
            | Problem::NotRising { key, .. }
            | Problem::SizeTwice { key, .. }
            | Problem::BelowMinimum { key, .. } => Some(key),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn ids_are_unique_and_explained() {
        let mut seen = BTreeSet::new();
        for rule in rules() {
            assert!(rule.help.ends_with('.'), "{}", rule.help);
            assert!(!rule.ids().is_empty(), "{}", rule.help);
            for id in rule.ids() {
                assert!(seen.insert(id.clone()), "{id} is listed twice");
            }
        }
        assert!(seen.contains("frame.bridge-range"), "{seen:?}");
    }
}
