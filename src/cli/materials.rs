//! `materials`: what is on the shelf, side by side.

use super::numbers::decimal;
use super::{Exit, output, refuse};
use crate::keys::{self, Key};
use crate::light::ReferenceLine;
use crate::material::{Material, Shelf};
use crate::report::materials::{colour_pd, wire};
use crate::rim::Rim;
use comfy_table::{Cell, CellAlignment, ContentArrangement, LineStyle, Table, TableStyle};
use std::io;

/// What `materials` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Print the shelf as JSON
    #[arg(long)]
    json: bool,
    /// The power at which colour is compared
    #[arg(long, value_name = "D", default_value_t = -6.0, allow_negative_numbers = true, value_parser = decimal)]
    at_power: f64,
    /// The distance from the optical centre at which colour is compared
    #[arg(long, value_name = "MM", default_value_t = 15.0, value_parser = decimal)]
    at_mm: f64,
}

/// Farther from the optical centre than any lens reaches, mm.
const FARTHEST_MM: f64 = 50.0;

/// Prints the shelf.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    if args.json {
        let mut text = serde_json::to_string_pretty(&wire(shelf))?;
        text.push('\n');
        output::answer(&text)?;
        return Ok(Exit::Done);
    }
    let powers = range(&keys::SPHERE);
    for (flag, value, [from, to]) in
        [("--at-power", args.at_power, powers), ("--at-mm", args.at_mm, [0.0, FARTHEST_MM])]
    {
        if !(value >= from && value <= to) {
            return Ok(refuse(&format!("{flag} is {value}; allowed is {from} to {to}")));
        }
    }
    output::answer(&text(args, shelf))?;
    Ok(Exit::Done)
}

fn range(key: &Key) -> [f64; 2] {
    key.refused.allowed(0.0).unwrap_or([f64::NEG_INFINITY, f64::INFINITY])
}

fn text(args: &Args, shelf: &Shelf) -> String {
    let mut table = Table::new();
    table
        .load_style(TableStyle::new().header_separator(LineStyle::none().fill('─')))
        .set_content_arrangement(ContentArrangement::Disabled);
    table.set_header(HEADS.map(|(head, alignment)| Cell::new(head).set_alignment(alignment)));
    for column in table.column_iter_mut() {
        column.set_padding((0, 2));
    }
    for material in &shelf.materials {
        let cells = row(material, args).into_iter().zip(HEADS);
        table.add_row(cells.map(|(text, (_, alignment))| Cell::new(text).set_alignment(alignment)));
    }
    format!(
        "{}\n\n\
         Reflects: the bare lens, both surfaces, at the d line.\n\
         UV: next to nothing passes below this wavelength; – where it is not known.\n\
         Curves: the curve needed for a power, against crown glass = 1.\n\
         Colour: transverse chromatic aberration at {} mm from the optical centre of {} D (|F| h / 10 V).\n\
         Least: centre and edge in a metal rim.\n",
        table.trim_fmt(),
        args.at_mm,
        args.at_power.to_string().replace('-', "−"),
    )
}

const HEADS: [(&str, CellAlignment); 11] = [
    ("Id", CellAlignment::Left),
    ("Name", CellAlignment::Left),
    ("n_d", CellAlignment::Right),
    ("n_e", CellAlignment::Right),
    ("V_d", CellAlignment::Right),
    ("Density\ng/cm³", CellAlignment::Right),
    ("Reflects\n%", CellAlignment::Right),
    ("Curves", CellAlignment::Right),
    ("UV\nnm", CellAlignment::Right),
    ("Colour\nΔ", CellAlignment::Right),
    ("Least\nmm", CellAlignment::Right),
];

fn row(material: &Material, args: &Args) -> [String; 11] {
    let glass = material.glass(ReferenceLine::D);
    let minimum = material.minimum_for(Rim::Metal);
    [
        material.id.clone(),
        material.name.clone(),
        format!("{:.3}", material.n_d),
        format!("{:.3}", material.glass(ReferenceLine::E).index),
        format!("{:.1}", material.v_d),
        format!("{:.2}", material.density),
        format!("{:.1}", 100.0 * glass.lens_reflectance()),
        format!("{:.2}", glass.curve_variation_factor()),
        material.uv_cutoff_nm.map_or("–".to_owned(), |cutoff| format!("{cutoff:.0}")),
        format!("{:.2}", colour_pd(material, args.at_power, args.at_mm)),
        format!("{:.1}, {:.1}", minimum.centre_mm, minimum.edge_mm),
    ]
}
