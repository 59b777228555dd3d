//! `gauge`: readings of a real lens in, its index or the error back.

use super::numbers::decimal;
use super::{Exit, output, refuse};
use crate::material::Shelf;
use crate::report::{text, wire};
use crate::study::gauge::{EdgeReading, Readings};
use std::io;

/// What the help ends with.
pub(super) const EXAMPLE: &str = "Example: rimwise gauge --front 3 --back -8.5 --centre-mm 1.5 --power -6.25 --edge-mm 6.1 --at-mm 25\n\
                                  A hollow surface reads minus. Of a lens with a cylinder take every reading in one meridian.";

/// What `gauge` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Lens-measure reading on the front
    #[arg(long, value_name = "D", allow_negative_numbers = true, value_parser = decimal)]
    front: f64,
    /// Lens-measure reading on the back
    #[arg(long, value_name = "D", allow_negative_numbers = true, value_parser = decimal)]
    back: f64,
    /// Thickness at the optical centre, by calliper
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = decimal)]
    centre_mm: f64,
    /// Thickness at the edge, by calliper
    #[arg(long, value_name = "MM", requires = "at_mm", allow_negative_numbers = true, value_parser = decimal)]
    edge_mm: Option<f64>,
    /// How far from the optical centre that is
    #[arg(long, value_name = "MM", requires = "edge_mm", allow_negative_numbers = true, value_parser = decimal)]
    at_mm: Option<f64>,
    /// Back vertex power as read on the focimeter; then the index is found
    #[arg(long, value_name = "D", allow_negative_numbers = true, value_parser = decimal)]
    power: Option<f64>,
    /// The index, where known; then the power is found
    #[arg(long, value_name = "INDEX", allow_negative_numbers = true, value_parser = decimal)]
    index: Option<f64>,
    /// The index for which the lens measure is made
    #[arg(long, value_name = "INDEX", default_value_t = crate::lens::TOOLING_INDEX, allow_negative_numbers = true, value_parser = decimal)]
    lens_measure_index: f64,
    /// Print what comes out as JSON
    #[arg(long)]
    json: bool,
}

/// Works out what the readings say.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    if let Some(why) = args.out_of_range() {
        return Ok(refuse(&why));
    }
    let edge = args.edge_mm.zip(args.at_mm).map(|(thickness_mm, out_mm)| EdgeReading { thickness_mm, out_mm });
    let readings = Readings {
        front_d: args.front,
        back_d: args.back,
        measure_index: args.lens_measure_index,
        centre_mm: args.centre_mm,
        edge,
        power_d: args.power,
        index: args.index,
    };
    let gauged = readings.gauged();
    output::answer(&if args.json { wire::gauge_text(&gauged) } else { text::gauge(&readings, &gauged, shelf, true) })?;
    Ok(Exit::Done)
}

impl Args {
    /// What no real lens has is a slip of the pen.
    fn out_of_range(&self) -> Option<String> {
        let given = [
            ("--front", Some(self.front), [-25.0, 25.0]),
            ("--back", Some(self.back), [-25.0, 25.0]),
            ("--centre-mm", Some(self.centre_mm), [0.1, 30.0]),
            ("--edge-mm", self.edge_mm, [0.1, 40.0]),
            ("--at-mm", self.at_mm, [1.0, 50.0]),
            ("--power", self.power, [-40.0, 30.0]),
            ("--index", self.index, [1.4, 2.0]),
            ("--lens-measure-index", Some(self.lens_measure_index), [1.49, 1.6]),
        ];
        given.into_iter().find_map(|(flag, value, [from, to])| {
            let value = value?;
            (!(value >= from && value <= to)).then(|| format!("{flag} is {value}; allowed is {from} to {to}"))
        })
    }
}
