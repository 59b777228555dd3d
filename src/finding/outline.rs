//! What can be wrong with a measured outline, as data.
//!
//! Units: mm and degrees in the names.

use super::rules::{self, Rule};

/// What is wrong or doubtful with a measured outline.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Unfit {
    /// Named beside a built-in shape.
    BesideShape,
    /// Named beside a depth.
    WithDepth,
    /// The file cannot be read.
    Unreadable {
        /// Why.
        why: String,
    },
    /// There is nothing in the file.
    Empty,
    /// The first line does not head the two columns.
    Header {
        /// What stands there.
        found: String,
    },
    /// A row does not hold an angle and a radius.
    Columns {
        /// How many values it holds.
        found: usize,
    },
    /// Not a finite number.
    NotNumber {
        /// What stands there.
        found: String,
    },
    /// Records without a trace among them.
    NoTrace,
    /// A trace in a format that is not plain text, or in none that is known.
    TraceFormat {
        /// Its number.
        found: String,
    },
    /// The record at the head of a trace is not as it has to be.
    TraceHead {
        /// What of it.
        part: HeadPart,
        /// What stands there.
        found: String,
    },
    /// A second trace of an eye.
    TraceTwice,
    /// Not as many values as the head of the trace says.
    TraceCount {
        /// The label of the records.
        label: &'static str,
        /// How many there are.
        found: usize,
        /// How many were said.
        wanted: usize,
    },
    /// Fewer radii than make an outline.
    Few {
        /// How many.
        found: usize,
        /// The fewest.
        least: usize,
    },
    /// More radii than are taken.
    Many {
        /// How many.
        found: usize,
        /// The most.
        most: usize,
    },
    /// A stretch without radii.
    Gap {
        /// Where it begins.
        from_deg: f64,
        /// Where it ends.
        to_deg: f64,
        /// The widest that is allowed.
        most_deg: f64,
    },
    /// Once round, the radius is another one.
    NotClosed {
        /// At the start.
        first_mm: f64,
        /// Once round.
        last_mm: f64,
    },
    /// A radius that is no length: the outline does not go round the point it was measured from.
    NotRound {
        /// The radius.
        radius_mm: f64,
    },
    /// The angles turn back: some direction would have two radii.
    TurnsBack {
        /// The angle before.
        before_deg: f64,
        /// The angle.
        found_deg: f64,
    },
    /// One radius stands out.
    Spike {
        /// Where.
        angle_deg: f64,
        /// The radius.
        found_mm: f64,
        /// As its neighbours have it.
        expected_mm: f64,
    },
    /// No smooth curve passes near all points.
    Jagged {
        /// How far the nearest passes one by.
        off_mm: f64,
        /// The farthest that is allowed.
        most_mm: f64,
    },
    /// A box that no spectacle lens has.
    Size {
        /// Its width.
        width_mm: f64,
        /// Its height.
        depth_mm: f64,
        /// What all radii may have to be multiplied with, where the box would then be one.
        factor: Option<f64>,
    },
    /// Another box than the file itself says.
    Boxed {
        /// The label of the record.
        label: &'static str,
        /// What it says.
        said_mm: f64,
        /// What comes out of the radii.
        found_mm: f64,
        /// How far apart they may be.
        most_mm: f64,
    },
    /// Another length round than the file itself says.
    Girth {
        /// What it says.
        said_mm: f64,
        /// What comes out of the radii.
        found_mm: f64,
        /// By which share they may differ.
        most_share: f64,
    },
    /// The two lenses are not of one size.
    Uneven {
        /// Width and height of the box of the right one.
        right_mm: [f64; 2],
        /// And of the left one.
        left_mm: [f64; 2],
    },
    /// Another bridge than the job says.
    Bridge {
        /// What the outline file says.
        said_mm: f64,
        /// What the job says.
        job_mm: f64,
    },
}

/// A part of the record at the head of a trace.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadPart {
    /// How many radii.
    Count,
    /// At equal angles or not.
    Spacing,
    /// Of which eye.
    Eye,
}

impl Unfit {
    pub(super) fn rule(&self) -> &'static Rule {
        match self {
            Unfit::BesideShape => &rules::OUTLINE_BESIDE_SHAPE,
            Unfit::WithDepth => &rules::OUTLINE_WITH_DEPTH,
            Unfit::Unreadable { .. } => &rules::OUTLINE_UNREADABLE,
            Unfit::Empty => &rules::OUTLINE_EMPTY,
            Unfit::Header { .. } => &rules::OUTLINE_HEADER,
            Unfit::Columns { .. } => &rules::OUTLINE_COLUMNS,
            Unfit::NotNumber { .. } => &rules::OUTLINE_NOT_NUMBER,
            Unfit::NoTrace => &rules::OUTLINE_NO_TRACE,
            Unfit::TraceFormat { .. } => &rules::OUTLINE_TRACE_FORMAT,
            Unfit::TraceHead { .. } => &rules::OUTLINE_TRACE_HEAD,
            Unfit::TraceTwice => &rules::OUTLINE_TRACE_TWICE,
            Unfit::TraceCount { .. } => &rules::OUTLINE_TRACE_COUNT,
            Unfit::Few { .. } => &rules::OUTLINE_FEW,
            Unfit::Many { .. } => &rules::OUTLINE_MANY,
            Unfit::Gap { .. } => &rules::OUTLINE_GAP,
            Unfit::NotClosed { .. } => &rules::OUTLINE_NOT_CLOSED,
            Unfit::NotRound { .. } => &rules::OUTLINE_NOT_ROUND,
            Unfit::TurnsBack { .. } => &rules::OUTLINE_TURNS_BACK,
            Unfit::Spike { .. } => &rules::OUTLINE_SPIKE,
            Unfit::Jagged { .. } => &rules::OUTLINE_JAGGED,
            Unfit::Size { .. } => &rules::OUTLINE_SIZE,
            Unfit::Boxed { .. } => &rules::OUTLINE_BOXED,
            Unfit::Girth { .. } => &rules::OUTLINE_GIRTH,
            Unfit::Uneven { .. } => &rules::OUTLINE_UNEVEN,
            Unfit::Bridge { .. } => &rules::OUTLINE_BRIDGE,
        }
    }
}
