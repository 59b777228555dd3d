//! A problem as data: an id that stays put, how grave it is, where it is, what was found and what is allowed, and how
//! it may be mended. Numbers and words inside, prose only in the printer.

mod outline;
mod rules;

pub use outline::{HeadPart, Unfit};
pub use rules::{Rule, rules};

use crate::eye::Eye;
use crate::keys::{Key, Kind};
use crate::rim::Rim;
use rules::Id;
use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// How grave a problem is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Good to know.
    Note,
    /// To be looked at.
    Caution,
    /// Something will not do as it is.
    Warning,
    /// Wrong: nothing is computed.
    Fault,
}

impl Severity {
    /// The word used in JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Severity::Note => "note",
            Severity::Caution => "caution",
            Severity::Warning => "warning",
            Severity::Fault => "fault",
        }
    }
}

/// Where something is written: the path of its key, and where that stands at the door it came through.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Place {
    /// Path of the key, lists counted from 0: `frame[1].eye_sizes_mm[0]`. Empty for the whole.
    pub path: String,
    /// Where that stands.
    pub at: At,
}

/// Where something stands at the door it came through.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum At {
    /// Not known.
    #[default]
    Nowhere,
    /// Bytes of the text.
    Bytes(Range<usize>),
    /// On the command line as a whole.
    CommandLine,
    /// The value of this flag of the command line, written with its dashes.
    Flag(String),
    /// A row of a list; row 1 is the header.
    Row(usize),
    /// Bytes of another file, which is named where the finding's other place is.
    File(Named, Range<usize>),
}

/// A text with the name of its file.
#[derive(Clone, PartialEq, Eq)]
pub struct Named(Arc<(String, String)>);

impl Named {
    /// A text of a file of this name.
    #[must_use]
    pub fn new(name: &str, text: &str) -> Named {
        Named(Arc::new((name.to_owned(), text.to_owned())))
    }

    /// The name of the file.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.0.0
    }

    /// Its text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0.1
    }
}

impl fmt::Debug for Named {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl Place {
    /// The path of a key below this place.
    #[must_use]
    pub fn path_to(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }

    /// The path of an item of the list at this place.
    #[must_use]
    pub fn path_to_item(&self, index: usize) -> String {
        format!("{}[{index}]", self.path)
    }

    /// Its first byte; 0 where there is none.
    #[must_use]
    pub fn start(&self) -> usize {
        match &self.at {
            At::Bytes(bytes) => bytes.start,
            At::Nowhere | At::CommandLine | At::Flag(_) | At::Row(_) | At::File(..) => 0,
        }
    }
}

/// What was found in place of what a key holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Found {
    /// A number.
    Number(f64),
    /// Text.
    Text(String),
    /// True or false.
    Bool(bool),
    /// A date, perhaps with a time.
    Date(String),
    /// A list of this many.
    List(usize),
    /// A table.
    Table,
}

/// A likely mend.
#[derive(Clone, Debug, PartialEq)]
pub enum Mend {
    /// One of these words in place of the one found.
    Words(Vec<String>),
    /// One of these names for the key.
    Keys(Vec<String>),
    /// This, as a job file writes it, in place of what was found.
    Literal(String),
    /// A key to be added.
    Add(&'static Key),
    /// What was found, to be taken out.
    Remove,
}

/// Why nothing comes of a key of the bevel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Idle {
    /// It goes with this position, and that is not asked for.
    WithoutPosition(&'static str),
    /// A drilled lens has neither bevel nor groove, and no rim.
    Drilled,
}

/// What is wrong or doubtful.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Problem {
    /// Too large to be read.
    TooLarge {
        /// Its size.
        found_bytes: u64,
        /// The largest that is read.
        most_bytes: u64,
    },
    /// Not text.
    NotUtf8 {
        /// The first byte that is none.
        at_byte: usize,
    },
    /// Not TOML.
    Syntax {
        /// What the parser says.
        said: String,
    },
    /// Written in a format newer than this program.
    FormatNewer {
        /// Its number.
        found: f64,
        /// The newest known.
        known: i64,
    },
    /// A format that never was.
    FormatUnknown {
        /// Its number.
        found: f64,
        /// The newest known.
        known: i64,
    },
    /// A key that is not known here.
    UnknownKey {
        /// The key.
        found: String,
        /// Those that are.
        known: Vec<&'static str>,
    },
    /// A key that has to be given.
    MissingKey {
        /// The key.
        key: &'static Key,
    },
    /// Not what the key holds.
    WrongKind {
        /// The key.
        key: &'static Key,
        /// What it holds here.
        allowed: Kind,
        /// What was found.
        found: Found,
    },
    /// A number that is not finite.
    NotFinite {
        /// The key.
        key: &'static Key,
        /// As written.
        found: String,
    },
    /// A list without anything in it.
    EmptyList {
        /// The key.
        key: &'static Key,
    },
    /// A list of the wrong length.
    ListLength {
        /// The key.
        key: &'static Key,
        /// Its length.
        found: usize,
        /// That of the eye sizes.
        wanted: usize,
    },
    /// Out of any possible range.
    Range {
        /// The key.
        key: &'static Key,
        /// What was found.
        found: f64,
        /// From and to.
        allowed: [f64; 2],
    },
    /// Possible, but seldom.
    Unusual {
        /// The key.
        key: &'static Key,
        /// What was found.
        found: f64,
        /// From and to.
        usual: [f64; 2],
    },
    /// A word that is not known.
    UnknownWord {
        /// The key.
        key: &'static Key,
        /// The word.
        found: String,
        /// Those that are.
        known: Vec<String>,
    },
    /// A name without a letter in it.
    NameEmpty {
        /// The key.
        key: &'static Key,
    },
    /// A text with signs that are not for reading.
    ControlSigns {
        /// The key.
        key: &'static Key,
    },
    /// A text that a spreadsheet would take for a formula.
    FormulaSign {
        /// The key.
        key: &'static Key,
        /// The sign that it begins with.
        found: char,
    },
    /// A row with more or fewer fields than the header.
    RowLength {
        /// How many it has.
        found: usize,
        /// How many the header has.
        wanted: usize,
    },
    /// A material that is named, and given by its numbers as well.
    MaterialTwice,
    /// A name longer than a table and a file's name bear.
    NameLong {
        /// The key.
        key: &'static Key,
        /// Its length in signs.
        found: usize,
    },
    /// A name that would break the address of an option.
    NameSlash {
        /// The key.
        key: &'static Key,
        /// The name.
        found: String,
    },
    /// The name of the present spectacles.
    NameNow {
        /// The key.
        key: &'static Key,
        /// The name.
        found: String,
    },
    /// A name used before.
    NameTwice {
        /// The key.
        key: &'static Key,
        /// The name.
        found: String,
    },
    /// The present spectacles have no name of their own.
    NameOfPresent {
        /// The key.
        key: &'static Key,
    },
    /// An eye size used before.
    SizeTwice {
        /// The key.
        key: &'static Key,
        /// The eye size.
        found: f64,
    },
    /// The present frame has one eye size.
    SizesOfPresent {
        /// The key.
        key: &'static Key,
        /// How many were found.
        found: usize,
    },
    /// A pd that looks like that of both eyes.
    PdOfBothEyes {
        /// The key.
        key: &'static Key,
        /// What was found.
        found: f64,
    },
    /// A list that does not rise.
    NotRising {
        /// The key.
        key: &'static Key,
        /// What was found.
        found: Vec<f64>,
    },
    /// The id of a material is another than the stem of its file.
    IdOfFile {
        /// The id.
        found: String,
        /// The stem.
        stem: String,
    },
    /// The pd of both eyes beside that of one.
    PdTwice {
        /// The key.
        key: &'static Key,
    },
    /// Both pds taken as half of that of both eyes.
    PdHalved {
        /// The key.
        key: &'static Key,
        /// What was found.
        found: f64,
    },
    /// A cylinder without axis.
    AxisMissing {
        /// The cylinder.
        cylinder: f64,
    },
    /// A near addition that no lens here uses.
    AddNotUsed {
        /// The addition.
        found: f64,
    },
    /// A circle of another depth than its eye size.
    CircleDepth {
        /// The depth.
        found: f64,
        /// The eye size.
        eye_size_mm: f64,
    },
    /// An inline material without a least thickness.
    MinimumOfInline {
        /// The key that is missing.
        key: &'static Key,
    },
    /// An inline material from stock.
    StockOfInline,
    /// A base curve asked of stock.
    StockWithBase {
        /// The base curve.
        found: f64,
    },
    /// A key of the bevel that nothing comes of: it is recorded and not used.
    BevelIdle {
        /// The key.
        key: &'static Key,
        /// Why.
        why: Idle,
    },
    /// A base curve that the material does not come in.
    BaseNotListed {
        /// The base curve.
        found: f64,
        /// Those that it comes in.
        listed: Vec<f64>,
    },
    /// A least thickness below what would have been chosen.
    BelowMinimum {
        /// The key.
        key: &'static Key,
        /// The figure of the job.
        found: f64,
        /// What would have been chosen for each rim where that is more.
        chosen: Vec<(Rim, f64)>,
    },
    /// One of frame and lens of the present spectacles.
    PresentHalf {
        /// The key that is missing.
        key: &'static Key,
    },
    /// The present spectacles taken as made for the new prescription.
    PresentAssumed,
    /// Something about a measured outline.
    Outline(Unfit),
    /// More combinations than are worked.
    TooMany {
        /// How many.
        found: usize,
        /// The most.
        most: usize,
    },
    /// More combinations than are drawn.
    TooManyDrawn {
        /// How many.
        found: usize,
        /// The most.
        most: usize,
    },
}

/// A problem at its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What it is.
    pub problem: Problem,
    /// Where it is.
    pub place: Place,
    /// The eye that it is about, where it is about one.
    pub eye: Option<Eye>,
    /// How it may be mended, where that is likely.
    pub mend: Option<Mend>,
    /// Another place that belongs to it, such as where a name was used first.
    pub also: Option<Place>,
}

impl Finding {
    /// Where it stands in what was written: that of a finding in another file is where that is named.
    #[must_use]
    pub fn start(&self) -> usize {
        match (&self.place.at, &self.also) {
            (At::File(..), Some(also)) => also.start(),
            _ => self.place.start(),
        }
    }

    /// A problem at a place.
    #[must_use]
    pub fn new(problem: Problem, place: Place) -> Finding {
        Finding { problem, place, eye: None, mend: None, also: None }
    }

    /// The same with a mend.
    #[must_use]
    pub fn mended_by(self, mend: Mend) -> Finding {
        Finding { mend: Some(mend), ..self }
    }

    /// The same with another place that belongs to it.
    #[must_use]
    pub fn seen_with(self, also: Place) -> Finding {
        Finding { also: Some(also), ..self }
    }

    /// The id that stays put.
    #[must_use]
    pub fn id(&self) -> String {
        match (self.problem.rule().id, self.problem.key()) {
            (Id::OfKey(ending, _), Some(key)) => format!("{}-{ending}", key.stem()),
            (Id::OfKey(ending, _), None) => ending.to_owned(),
            (Id::Whole(id), _) => id.to_owned(),
        }
    }

    /// How grave it is.
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.problem.rule().severity
    }

    /// Is it about something given before, at the other place?
    #[must_use]
    pub fn is_twice(&self) -> bool {
        matches!(self.problem, Problem::NameTwice { .. } | Problem::SizeTwice { .. })
    }

    /// Does it keep anything from being computed?
    #[must_use]
    pub fn is_fault(&self) -> bool {
        self.severity() == Severity::Fault
    }
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
