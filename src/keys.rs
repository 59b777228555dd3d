//! All that can be asked in a job: every key with its section, kind, unit, range, default and one sentence of help.
//!
//! Messages, the judge's ranges, the flags of `lens` and the comments of `new` loop over these rows; nothing repeats
//! them. Ranges are in the unit that the key's name ends in. The words that a key may hold belong to the types that
//! mean them and are not listed here.

use std::borrow::Cow;

/// The table of a job file that a key stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// Top level.
    Job,
    /// `[client]`
    Client,
    /// `[prescription]`
    Prescription,
    /// `[prescription.right]` and `[prescription.left]`
    Eye,
    /// One of the prisms of an eye.
    Prism,
    /// `[[frame]]`
    Frame,
    /// The heights of the two optical centres, where they differ.
    Heights,
    /// `[[lens]]`
    Lens,
    /// A material given by its numbers.
    Material,
    /// `[present]`
    Present,
    /// Where one lens is asked for by flags: keys that no job file has.
    Single,
    /// Top level of a material file.
    Shelf,
    /// `[minimum]` of a material file.
    Minimum,
    /// `[minimum.metal]` and its like of a material file.
    OfRim,
    /// `[[semi_finished]]` of a material file.
    Blank,
    /// `[[stock]]` of a material file.
    Stock,
}

impl Section {
    /// All sections of a job, in the order of a job file.
    pub const ALL: [Section; 11] = [
        Section::Job,
        Section::Client,
        Section::Prescription,
        Section::Eye,
        Section::Prism,
        Section::Frame,
        Section::Heights,
        Section::Lens,
        Section::Material,
        Section::Present,
        Section::Single,
    ];

    /// All sections of a material file.
    pub const OF_SHELF: [Section; 5] =
        [Section::Shelf, Section::Minimum, Section::OfRim, Section::Blank, Section::Stock];

    /// The first word of the ids of problems with its keys; one lens asked for by flags is a lens.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Section::Job => "job",
            Section::Client => "client",
            Section::Prescription => "prescription",
            Section::Eye => "eye",
            Section::Prism => "prism",
            Section::Frame => "frame",
            Section::Heights => "heights",
            Section::Lens => "lens",
            Section::Material => "material",
            Section::Present => "present",
            Section::Single => "lens",
            Section::Shelf => "shelf",
            Section::Minimum | Section::OfRim => "minimum",
            Section::Blank => "blank",
            Section::Stock => "stock",
        }
    }
}

/// Words that a key may hold, by what they stand for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Words {
    /// Right or left.
    Eye,
    /// Spectral lines.
    ReferenceLine,
    /// Directions of a prism base.
    Base,
    /// Built-in lens shapes.
    Shape,
    /// Rims.
    Rim,
    /// Places of a bevel on the edge.
    Position,
    /// Surfaced or stock.
    Supply,
    /// Ids of the materials on the shelf.
    Material,
}

/// What a key holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A whole number.
    Whole,
    /// A number.
    Number,
    /// One number or more.
    Numbers,
    /// Two numbers, the second no less than the first.
    FromTo,
    /// One number, or one for each eye size.
    NumberOrEach,
    /// One number, or one for each eye.
    NumberOrEyes,
    /// True or false.
    YesNo,
    /// Any text.
    Text,
    /// A table of texts under keys of any name.
    Texts,
    /// Text by which options are addressed.
    Name,
    /// A date without time.
    Date,
    /// One of some words.
    Word(Words),
    /// One of some words, or a number.
    WordOrNumber(Words),
    /// One of some words, or a table.
    WordOrTable(Words, Section),
    /// The name of a file.
    File,
    /// A table.
    Table(Section),
    /// A list of tables.
    Tables(Section),
}

/// What is refused.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refused {
    /// Nothing for its size.
    Nothing,
    /// Whatever lies beyond from … to.
    Beyond(f64, f64),
    /// Whatever lies farther than this below or above the lens shape, from its lowest point.
    BeyondShape {
        /// Below the lowest and above the highest point.
        margin_mm: f64,
    },
}

impl Refused {
    /// From … to, for a shape of this depth.
    #[must_use]
    pub fn allowed(self, depth_mm: f64) -> Option<[f64; 2]> {
        match self {
            Refused::Nothing => None,
            Refused::Beyond(from, to) => Some([from, to]),
            Refused::BeyondShape { margin_mm } => Some([-margin_mm, depth_mm + margin_mm]),
        }
    }
}

/// Something that can be asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Key {
    /// As written in a job file.
    pub name: &'static str,
    /// Where it stands.
    pub section: Section,
    /// What it holds.
    pub kind: Kind,
    /// Unit on screen; empty where it has none.
    pub unit: &'static str,
    /// What is refused.
    pub refused: Refused,
    /// Beyond this it is warned about.
    pub usual: Option<[f64; 2]>,
    /// What stands in for it where it is left out, and why; `None` where it has to be given.
    pub left_out: Option<&'static str>,
    /// A value as a job file would have it.
    pub example: &'static str,
    /// Its name where one lens is asked for, by flags or in a row; `None` where it is no question then.
    pub single: Option<&'static str>,
    /// Its name as a column of orders, where that is another than where one lens is asked for.
    pub column: Option<&'static str>,
    /// One sentence on what it is.
    pub help: &'static str,
}

impl Key {
    const fn new(section: Section, name: &'static str, kind: Kind, help: &'static str) -> Key {
        Key {
            name,
            section,
            kind,
            unit: unit_of(name),
            refused: Refused::Nothing,
            usual: None,
            left_out: None,
            example: "",
            single: None,
            column: None,
            help,
        }
    }

    const fn unit(self, unit: &'static str) -> Key {
        Key { unit, ..self }
    }

    const fn refused_beyond(self, from: f64, to: f64) -> Key {
        Key { refused: Refused::Beyond(from, to), ..self }
    }

    const fn refused_beyond_shape(self, margin_mm: f64) -> Key {
        Key { refused: Refused::BeyondShape { margin_mm }, ..self }
    }

    /// The same is refused as of another key.
    const fn refused_as(self, other: &Key) -> Key {
        Key { refused: other.refused, ..self }
    }

    const fn warned_beyond(self, from: f64, to: f64) -> Key {
        Key { usual: Some([from, to]), ..self }
    }

    const fn left_out(self, then: &'static str) -> Key {
        Key { left_out: Some(then), ..self }
    }

    const fn example(self, example: &'static str) -> Key {
        Key { example, ..self }
    }

    const fn single(self, name: &'static str) -> Key {
        Key { single: Some(name), ..self }
    }

    const fn column_named(self, name: &'static str) -> Key {
        Key { column: Some(name), ..self }
    }

    /// The part of the ids of problems with this key that says where: `frame.bridge`.
    #[must_use]
    pub fn stem(&self) -> String {
        let mut name = self.name;
        for ending in UNITS {
            name = name.strip_suffix(ending.0).unwrap_or(name);
        }
        format!("{}.{}", self.section.word(), name.replace('_', "-"))
    }

    /// Its flag without the leading dashes, where one lens is asked for.
    #[must_use]
    pub fn flag(&self) -> Option<Cow<'static, str>> {
        self.single.map(|name| if name.contains('_') { name.replace('_', "-").into() } else { name.into() })
    }

    /// Is it a key of a material file?
    #[must_use]
    pub fn is_of_shelf(&self) -> bool {
        Section::OF_SHELF.contains(&self.section)
    }

    /// Its name as a column, where orders are written a row each; `None` where it is no question then.
    #[must_use]
    pub fn column(&self) -> Option<&'static str> {
        match self.kind {
            // A prism is two columns, its amount and its base.
            Kind::Tables(_) => None,
            _ => self.column.or(self.single),
        }
    }

    /// Must it be given?
    #[must_use]
    pub fn is_required(&self) -> bool {
        self.left_out.is_none()
    }
}

/// Endings of keys and the units on screen that they stand for.
const UNITS: [(&str, &str); 6] = [("_mm", "mm"), ("_nm", "nm"), ("_d", "D"), ("_deg", "°"), ("_pd", "Δ"), ("_g", "g")];

const fn unit_of(name: &'static str) -> &'static str {
    let mut i = 0;
    while i < UNITS.len() {
        if ends_with(name.as_bytes(), UNITS[i].0.as_bytes()) {
            return UNITS[i].1;
        }
        i += 1;
    }
    ""
}

const fn ends_with(text: &[u8], ending: &[u8]) -> bool {
    if text.len() < ending.len() {
        return false;
    }
    let mut i = 0;
    while i < ending.len() {
        if text[text.len() - ending.len() + i] != ending[i] {
            return false;
        }
        i += 1;
    }
    true
}

/// The keys of a section, in the order of the file.
pub fn of(section: Section) -> impl Iterator<Item = &'static Key> {
    ALL.iter().chain(shelf::ALL).copied().filter(move |key| key.section == section)
}

/// The keys that can be asked of one lens, by flags or in a row.
pub fn single() -> impl Iterator<Item = &'static Key> {
    ALL.iter().copied().filter(|key| key.single.is_some())
}

/// The keys that can be asked in a row of orders.
pub fn columns() -> impl Iterator<Item = &'static Key> {
    ALL.iter().copied().filter(|key| key.column().is_some())
}

/// Declares the rows and the list of all of them, so that none is forgotten.
macro_rules! keys {
    ($($constant:ident = $row:expr;)*) => {
        $(
            #[doc = concat!("Row `", stringify!($constant), "`.")]
            pub static $constant: Key = $row;
        )*
        /// All rows, in the order of the file.
        pub static ALL: &[&Key] = &[$(&$constant),*];
    };
}

pub mod shelf;

keys! {
    ORDER = Key::new(Section::Single, "order", Kind::Text,
        "The laboratory's own number of the order; the rows of both eyes have the same.")
        .example("\"A-1042\"").column_named("order");
    EYE = Key::new(Section::Single, "eye", Kind::Word(Words::Eye), "The eye that the lens is for.")
        .example("\"right\"").single("eye");

    FORMAT = Key::new(Section::Job, "format", Kind::Whole, "The number of the format that the file is written in.")
        .example("1");
    CLIENT = Key::new(Section::Job, "client", Kind::Table(Section::Client), "What is printed at the head of sheets.")
        .left_out("nothing is printed");
    PRESCRIPTION = Key::new(Section::Job, "prescription", Kind::Table(Section::Prescription), "What is prescribed.");
    FRAME = Key::new(Section::Job, "frame", Kind::Tables(Section::Frame),
        "A frame in the eye sizes that it is offered in.");
    LENS = Key::new(Section::Job, "lens", Kind::Tables(Section::Lens),
        "A lens option; every frame is worked with each.");
    PRESENT = Key::new(Section::Job, "present", Kind::Table(Section::Present),
        "The spectacles worn now, set beside what is offered.")
        .left_out("nothing is set beside it");

    REFERENCE = Key::new(Section::Client, "reference", Kind::Text,
        "A practice's own reference; no name is needed anywhere.")
        .left_out("none is printed").example("\"H-204\"");
    DATE = Key::new(Section::Client, "date", Kind::Date, "The date printed on sheets.")
        .left_out("none is printed").example("2026-03-14").column_named("date");

    VERTEX = Key::new(Section::Prescription, "vertex_mm", Kind::Number,
        "The distance from lens to cornea at which it was tested.")
        .refused_beyond(5.0, 25.0).left_out("not known").example("12.0").single("vertex_mm");
    REFERENCE_LINE = Key::new(Section::Prescription, "reference_line", Kind::Word(Words::ReferenceLine),
        "The spectral line at which powers and inline indices are meant: d (587.56 nm) or e (546.07 nm).")
        .left_out("d, the line at which most materials are listed").example("\"d\"").single("reference_line");
    PD_BOTH = Key::new(Section::Prescription, "pd_both_mm", Kind::Number,
        "The distance between both pupils, where only that is known.")
        .refused_beyond(30.0, 90.0).warned_beyond(48.0, 76.0)
        .left_out("each eye has its own `pd_mm`").example("63.5");
    RIGHT = Key::new(Section::Prescription, "right", Kind::Table(Section::Eye), "What the right eye needs.");
    LEFT = Key::new(Section::Prescription, "left", Kind::Table(Section::Eye), "What the left eye needs.");

    SPHERE = Key::new(Section::Eye, "sphere", Kind::Number, "Sphere as prescribed.")
        .unit("D").refused_beyond(-40.0, 30.0).example("-6.25").single("sphere");
    CYLINDER = Key::new(Section::Eye, "cylinder", Kind::Number, "Cylinder as prescribed, in either sign.")
        .unit("D").refused_beyond(-12.0, 12.0).left_out("0").example("-1.50").single("cylinder");
    AXIS = Key::new(Section::Eye, "axis", Kind::Number,
        "Axis of the cylinder, anticlockwise as the observer facing the wearer sees it.")
        .unit("°").refused_beyond(0.0, 180.0).left_out("none is needed without a cylinder").example("175").single("axis");
    PRISM = Key::new(Section::Eye, "prism", Kind::Tables(Section::Prism),
        "Prescribed prisms; several add as vectors.")
        .unit("Δ").refused_beyond(0.0, 20.0).warned_beyond(0.0, 6.0)
        .left_out("none").example("[{ amount_pd = 1.5, base = \"in\" }]").single("prism");
    PD = Key::new(Section::Eye, "pd_mm", Kind::Number,
        "From the middle of the bridge to the pupil of this eye, distance vision.")
        .refused_beyond(15.0, 45.0).warned_beyond(24.0, 38.0).example("31.5").single("pd_mm");
    ADD = Key::new(Section::Eye, "add", Kind::Number,
        "Near addition: recorded, but single-vision lenses for distance do not use it.")
        .unit("D").refused_beyond(0.25, 5.0).left_out("none").example("2.00").single("add");

    AMOUNT = Key::new(Section::Prism, "amount_pd", Kind::Number, "Amount of the prism.")
        .refused_beyond(0.0, 20.0).warned_beyond(0.0, 6.0).example("1.5").column_named("prism_pd");
    BASE = Key::new(Section::Prism, "base", Kind::WordOrNumber(Words::Base),
        "Where the base lies: in, out, up, down, or degrees anticlockwise from the observer's right.")
        .unit("°").refused_beyond(0.0, 360.0).example("\"in\"").column_named("base_deg");

    FRAME_NAME = Key::new(Section::Frame, "name", Kind::Name, "What the frame is called; no other frame has the name.")
        .example("\"Fennel\"");
    SHAPE = Key::new(Section::Frame, "shape", Kind::Word(Words::Shape), "Shape of the lens.")
        .left_out("only with `outline`").example("\"oval\"").single("shape");
    OUTLINE = Key::new(Section::Frame, "outline", Kind::File,
        "File with the measured outline of the lens, in place of a shape: columns of angle and radius, or trace records.")
        .left_out("`shape` says it").example("\"bryony.csv\"").single("outline");
    EYE_SIZES = Key::new(Section::Frame, "eye_sizes_mm", Kind::Numbers,
        "Width of the box round one lens shape, for each eye size that the frame is offered in.")
        .refused_beyond(30.0, 70.0).warned_beyond(38.0, 62.0)
        .left_out("only with `outline`, which then keeps its measured size").example("[48, 50, 52]").single("eye_size_mm");
    DEPTH = Key::new(Section::Frame, "depth_mm", Kind::NumberOrEach,
        "Height of the box round one lens shape at the first eye size; the others keep the proportion, unless there is one for each.")
        .refused_beyond(14.0, 65.0)
        .left_out("only with shape \"circle\", which is as deep as it is wide, and always with `outline`")
        .example("40").single("depth_mm");
    BRIDGE = Key::new(Section::Frame, "bridge_mm", Kind::NumberOrEach,
        "Horizontal distance between the two boxes, one for all eye sizes or one for each.")
        .refused_beyond(8.0, 30.0).warned_beyond(12.0, 26.0).example("18").single("bridge_mm");
    RIM = Key::new(Section::Frame, "rim", Kind::Word(Words::Rim), "How the frame holds the lens.")
        .example("\"metal\"").single("rim");
    RIM_DEPTH = Key::new(Section::Frame, "rim_depth_mm", Kind::Number,
        "The rim's own depth from front to back, which decides what of the edge shows behind it.")
        .refused_beyond(0.0, 20.0).left_out("not known").example("2.0").single("rim_depth_mm");
    RIM_CURVE = Key::new(Section::Frame, "rim_curve_d", Kind::Number,
        "The rim's own curve, as a front that follows it would be marked at index 1.530.")
        .refused_beyond(0.0, 10.0).warned_beyond(1.0, 9.0).left_out("not known, and the lens is not held against it")
        .example("5.0").single("rim_curve_d");
    BEVEL_POSITION = Key::new(Section::Frame, "bevel_position", Kind::Word(Words::Position),
        "Where bevel or groove lie on the edge: at a distance behind the front, at a share of the edge, or on the rim's own curve.")
        .left_out("1 mm behind the front, or in the middle of an edge thinner than 2 mm").example("\"share\"")
        .single("bevel_position");
    BEVEL_BEHIND = Key::new(Section::Frame, "bevel_behind_mm", Kind::Number,
        "How far behind the front corner of the edge bevel or groove lie, with position \"front\".")
        .refused_beyond(0.3, 8.0).left_out("1").example("1.2").single("bevel_behind_mm");
    BEVEL_SHARE = Key::new(Section::Frame, "bevel_share", Kind::Number,
        "What share of the edge lies before bevel or groove, with position \"share\".")
        .refused_beyond(0.1, 0.9).left_out("a third").example("0.4").single("bevel_share");
    CHAMFER = Key::new(Section::Frame, "chamfer_mm", Kind::Number,
        "Width of the safety chamfer's face on both corners of the edge, at 45°; the mass leaves it out.")
        .refused_beyond(0.0, 0.5).left_out("0.25").example("0.3").single("chamfer_mm");
    MASS = Key::new(Section::Frame, "mass_g", Kind::Number, "Mass of the frame without lenses.")
        .refused_beyond(0.0, 500.0).left_out("not known, and no mass of the spectacles is given").example("14.0");
    HEIGHT = Key::new(Section::Frame, "optical_centre_height_mm", Kind::NumberOrEyes,
        "Height of the optical centres above the lowest point of the shape at the first eye size.")
        .refused_beyond_shape(10.0).left_out("on the horizontal centre line").example("22")
        .single("optical_centre_height_mm");

    HEIGHT_RIGHT = Key::new(Section::Heights, "right", Kind::Number, "Height of the right optical centre.")
        .unit("mm").example("22");
    HEIGHT_LEFT = Key::new(Section::Heights, "left", Kind::Number, "Height of the left optical centre.")
        .unit("mm").example("21.5");

    LENS_NAME = Key::new(Section::Lens, "name", Kind::Name, "What the option is called; no other option has the name.")
        .example("\"thin\"");
    MATERIAL = Key::new(Section::Lens, "material", Kind::WordOrTable(Words::Material, Section::Material),
        "Id of a material on the shelf, or the numbers of one that is not.")
        .example("\"resin-1.67\"").single("material");
    BASE_CURVE = Key::new(Section::Lens, "base_curve_d", Kind::Number, "Front power as marked at index 1.530.")
        .refused_beyond(0.0, 16.0).left_out("chosen by Vogel's rule from what the material comes in")
        .example("3.0").single("base_curve_d");
    MIN_CENTRE = Key::new(Section::Lens, "min_centre_mm", Kind::Number,
        "Least thickness at the reference point and wherever else the lens is thinnest inside the shape.")
        .refused_beyond(0.3, 8.0).warned_beyond(1.0, 8.0).left_out("that of the material for the rim").example("1.2").single("min_centre_mm");
    MIN_EDGE = Key::new(Section::Lens, "min_edge_mm", Kind::Number, "Least thickness at the outline.")
        .refused_beyond(0.3, 8.0).warned_beyond(1.0, 8.0).left_out("that of the material for the rim").example("1.0").single("min_edge_mm");
    SUPPLY = Key::new(Section::Lens, "supply", Kind::Word(Words::Supply),
        "Made to order, or a finished uncut from stock.")
        .left_out("surfaced, which can be had in every power").example("\"surfaced\"").single("supply");
    PRICE = Key::new(Section::Lens, "price", Kind::Number, "Price of the pair, in any one currency.")
        .refused_beyond(0.0, 1_000_000.0).left_out("no prices are shown").example("120");
    TOOL_STEP = Key::new(Section::Lens, "tool_step_d", Kind::Number,
        "Steps in which the lab's tools for the back come, as marked at index 1.530.")
        .refused_beyond(0.01, 1.0).left_out("0.125").example("0.125").single("tool_step_d");

    INDEX = Key::new(Section::Material, "index", Kind::Number, "Refractive index at the reference line.")
        .refused_beyond(1.40, 2.00).example("1.6").single("index");
    ABBE = Key::new(Section::Material, "abbe", Kind::Number, "The Abbe number at the reference line.")
        .refused_beyond(18.0, 95.0).example("41").single("abbe");
    DENSITY = Key::new(Section::Material, "density", Kind::Number, "Density of the material.")
        .unit("g/cm³").refused_beyond(0.9, 6.0).example("1.34").single("density");

    PRESENT_FRAME = Key::new(Section::Present, "frame", Kind::Table(Section::Frame),
        "The frame worn now: the keys of a frame, but no name and one eye size.");
    PRESENT_LENS = Key::new(Section::Present, "lens", Kind::Table(Section::Lens),
        "The lenses worn now: the keys of a lens option, but no name.");
    PRESENT_PRESCRIPTION = Key::new(Section::Present, "prescription", Kind::Table(Section::Prescription),
        "What the spectacles worn now were made for.")
        .left_out("the new prescription, with a caution");
}
