//! All that a material file holds: the rows of `materials/ID.toml`, in the manner of a job's.
//!
//! Ranges that a job has too are taken from its rows.

use super::{ABBE, BASE_CURVE, CYLINDER, DENSITY, INDEX, Key, Kind, MIN_CENTRE, MIN_EDGE, Refused, SPHERE, Section};

/// Range of blank diameters that can be meant, mm (ours).
const DIAMETER_MM: [f64; 2] = [40.0, 100.0];
/// Range of thicknesses of a blank that can be meant, mm (ours).
const BLANK_MM: [f64; 2] = [0.3, 40.0];
/// Range of the wavelength below which next to nothing passes, nm (ours).
const CUTOFF_NM: [f64; 2] = [200.0, 500.0];

const fn blank_base(section: Section) -> Key {
    Key::new(section, "base_curve_d", Kind::Number, "Front power as marked at index 1.530.")
        .refused_as(&BASE_CURVE)
        .example("4.0")
}

const fn blank_diameters(section: Section) -> Key {
    Key::new(section, "diameters_mm", Kind::Numbers, "The diameters that it comes in, rising.")
        .refused_beyond(DIAMETER_MM[0], DIAMETER_MM[1])
        .example("[65, 70, 75]")
}

const fn blank_thickness(section: Section, name: &'static str, help: &'static str) -> Key {
    Key::new(section, name, Kind::Number, help).refused_beyond(BLANK_MM[0], BLANK_MM[1]).example("8.0")
}

const fn rim(name: &'static str) -> Key {
    Key::new(Section::Minimum, name, Kind::Table(Section::OfRim), "The least thicknesses in this rim.")
}

keys! {
    ID = Key::new(Section::Shelf, "id", Kind::Text, "The id by which jobs name the material: the stem of its file.")
        .example("\"resin-1.67\"");
    NAME = Key::new(Section::Shelf, "name", Kind::Text, "What the material is called on screen.")
        .example("\"1.67 resin\"");
    N_D = Key::new(Section::Shelf, "n_d", Kind::Number, "Refractive index at the d line, 587.56 nm.")
        .unit("").refused_as(&INDEX).example("1.665");
    V_D = Key::new(Section::Shelf, "v_d", Kind::Number, "The Abbe number at the d line.")
        .unit("").refused_as(&ABBE).example("31.0");
    DENSITY_OF = Key::new(Section::Shelf, "density", Kind::Number, "Density of the material.")
        .unit("g/cm³").refused_as(&DENSITY).example("1.36");
    UV_CUTOFF = Key::new(Section::Shelf, "uv_cutoff_nm", Kind::Number,
        "The wavelength below which next to nothing passes.")
        .refused_beyond(CUTOFF_NM[0], CUTOFF_NM[1]).left_out("not known").example("395");
    GROOVED = Key::new(Section::Shelf, "grooved", Kind::YesNo, "Whether it may be grooved for a cord.")
        .left_out("it may").example("true");
    DRILLED = Key::new(Section::Shelf, "drilled", Kind::YesNo, "Whether it may be drilled.")
        .left_out("it may").example("true");
    SOURCE = Key::new(Section::Shelf, "source", Kind::Texts, "Where each number is from, by key.")
        .left_out("no source is told").example("{ n_d = \"data sheet\" }");
    MINIMUM = Key::new(Section::Shelf, "minimum", Kind::Table(Section::Minimum),
        "The least thicknesses, a table for each rim.");
    SEMI_FINISHED = Key::new(Section::Shelf, "semi_finished", Kind::Tables(Section::Blank),
        "Blanks with a finished front, whose back is to be surfaced.").left_out("it comes in none");
    STOCK = Key::new(Section::Shelf, "stock", Kind::Tables(Section::Stock),
        "Finished uncuts of a range of powers; the first that covers the power counts.").left_out("it comes in none");

    METAL = rim("metal");
    PLASTIC = rim("plastic");
    SUPRA = rim("supra");
    REVERSE_SUPRA = rim("reverse-supra");
    RIMLESS = rim("rimless");

    CENTRE = Key::new(Section::OfRim, "centre_mm", Kind::Number, "At the reference point and at the lowest point.")
        .refused_as(&MIN_CENTRE).example("1.2");
    EDGE = Key::new(Section::OfRim, "edge_mm", Kind::Number, "At the outline.").refused_as(&MIN_EDGE).example("1.0");

    BLANK_BASE = blank_base(Section::Blank);
    BLANK_DIAMETERS = blank_diameters(Section::Blank);
    BLANK_CENTRE = blank_thickness(Section::Blank, "centre_mm", "Thickness in the middle.");
    BLANK_EDGE = blank_thickness(Section::Blank, "edge_mm", "Thickness at the rim of the largest diameter listed.");

    STOCK_SPHERE = Key::new(Section::Stock, "sphere", Kind::FromTo, "Spheres covered, in minus-cylinder form.")
        .unit("D").refused_as(&SPHERE).example("[-8.0, -0.25]");
    STOCK_CYLINDER = Key::new(Section::Stock, "cylinder_to", Kind::Number, "The strongest minus cylinder covered.")
        .unit("D").refused_beyond(lowest(&CYLINDER), 0.0).example("-2.0");
    STOCK_BASE = blank_base(Section::Stock);
    STOCK_DIAMETERS = blank_diameters(Section::Stock);
    STOCK_CENTRE = blank_thickness(Section::Stock, "centre_mm", "Least thickness in the middle.");
    STOCK_EDGE = blank_thickness(Section::Stock, "edge_mm", "Least thickness of the uncut's rim.");
}

/// The lowest value that a key may have.
const fn lowest(key: &Key) -> f64 {
    match key.refused {
        Refused::Beyond(from, _) => from,
        Refused::Nothing | Refused::BeyondShape { .. } => f64::NEG_INFINITY,
    }
}
