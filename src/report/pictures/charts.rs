//! The charts of a frame: over eye size, eye size traded against bridge, over the index.
//!
//! Units: mm and grams.

use super::super::number::{figure, mm, size};
use super::super::words;
use super::FrameCharts;
use crate::choose::LensOption;
use crate::draw::Picture;
use crate::draw::chart::{Emphasis, LineChart, Mark, Series};
use crate::figures;
use crate::frame::Frame;
use crate::job::Addressed;
use crate::study::compare::{Comparison, Lead};
use crate::study::index_curve::index_curve;
use crate::study::size_curve::{self, SizeCurve, SizePoint};
use crate::study::trade_curve;

/// Two charts stand side by side on A4 and on Letter.
pub(super) const CHART_MM: (f64, f64) = (88.0, 62.0);
/// A chart whose lines have long names.
const WIDE_CHART_MM: f64 = 120.0;
/// Names longer than this, in signs, want a wide chart.
const SHORT_NAME: usize = 14;

/// Draws them; `None` where no size can be made.
pub(super) fn of_frame(comparison: &Comparison<'_>, frame: &Frame) -> Option<FrameCharts> {
    let job = comparison.job;
    let curves = size_curve::size_curves(frame, &job.lenses, &job.prescription);
    if curves.iter().all(|curve| curve.points.is_empty()) {
        return None;
    }
    let (kind, of) =
        (if comparison.lead == Lead::Edge { "chart-edge" } else { "chart-centre" }, leading(comparison.lead));
    let chart = |name: &str, unit: &str, of: &dyn Fn(&SizePoint) -> Option<f64>| {
        Chart { comparison, frame, curves: &curves, name, unit, of }.line_chart()
    };
    let name = lead_name(comparison.lead)?;
    Some(FrameCharts {
        thickness: chart(&name, "mm", &of).draw(kind),
        mass: chart("Mass of the pair", "g", &|point| Some(point.mass_g)).draw("chart-mass"),
        trade: trade(comparison, frame),
        index: index(comparison, frame),
    })
}

/// Room for the names of these options.
fn width_mm<'o>(options: impl Iterator<Item = &'o LensOption>) -> f64 {
    let longest = options.map(|option| option.name.chars().count()).max().unwrap_or(0);
    if longest > SHORT_NAME { WIDE_CHART_MM } else { CHART_MM.0 }
}

/// "Thickest edge".
fn lead_name(lead: Lead) -> Option<String> {
    let id = match lead {
        Lead::Edge => "thickness.edge_max_mm",
        Lead::Centre => "thickness.centre_mm",
    };
    Some(words::capital(figures::of_eye(id)?.name))
}

fn leading(lead: Lead) -> impl Fn(&SizePoint) -> Option<f64> {
    move |point| match lead {
        Lead::Edge => Some(point.edge_max_mm),
        Lead::Centre => point.centre_mm,
    }
}

/// The option that the answer names, else the first.
fn main_option<'a>(comparison: &Comparison<'a>) -> Option<&'a LensOption> {
    let chosen = words::choice(comparison).map(|(_, fit)| fit.option);
    chosen.or_else(|| comparison.job.lenses.first())
}

/// Eye size traded against bridge.
fn trade(comparison: &Comparison<'_>, frame: &Frame) -> Option<Picture> {
    let job = comparison.job;
    let curves = trade_curve::trade_curves(frame, &job.lenses, &job.prescription);
    if curves.iter().all(|curve| curve.points.len() < 2) {
        return None;
    }
    let of = leading(comparison.lead);
    let name = lead_name(comparison.lead)?;
    let (first, distance) = (frame.sizes.first()?, frame.sizes.first()?.centre_distance_mm());
    let chart = Chart { comparison, frame, curves: &curves, name: &name, unit: "mm", of: &of };
    let base = chart.line_chart();
    let at_first = |mark: &Mark| (mark.x - first.eye_size_mm).abs() < 1e-9;
    let line = LineChart {
        title: format!("{name}, eye size traded against bridge, {}", frame.name),
        description: format!(
            "{name} over eye size where {} lie between the boxed centres: what the eye size gains the bridge loses.",
            mm(distance)
        ),
        x_label: format!("Eye size, mm; the bridge is {} less it", size(distance)),
        marks: base.marks.iter().filter(|mark| at_first(mark)).cloned().collect(),
        ..base
    };
    Some(line.draw("chart-trade"))
}

/// The first size over the index, the options of the job marked.
fn index(comparison: &Comparison<'_>, frame: &Frame) -> Option<Picture> {
    let (job, option, boxing) = (comparison.job, main_option(comparison)?, *frame.sizes.first()?);
    let line = job.prescription.reference_line;
    let here = comparison.offered().map(|(_, fit)| fit);
    let here = here.filter(|fit| std::ptr::eq(fit.mounting.frame, frame) && fit.mounting.boxing == boxing);
    let mark = |fit: &crate::assess::Fit<'_>| {
        let y = comparison.lead.of(fit.pair()?)?;
        Some(Mark {
            x: fit.option.substance.glass(line).index,
            y,
            text: format!("{} {}", fit.option.name, figure(y, 1)),
            chosen: words::choice(comparison).is_some_and(|(_, chosen)| std::ptr::eq(chosen, fit)),
        })
    };
    let marks: Vec<Mark> = here.filter_map(mark).collect();
    let also: Vec<f64> = marks.iter().map(|mark| mark.x).collect();
    let at = Addressed { frame, boxing, option, prescription: &job.prescription };
    let curve = index_curve(&at, &also);
    let points = curve.iter().map(|point| {
        let y = match comparison.lead {
            Lead::Edge => Some(point.edge_max_mm),
            Lead::Centre => point.centre_mm,
        };
        (point.index, y)
    });
    let name = lead_name(comparison.lead)?;
    let place = words::place(frame, &boxing);
    let said: Vec<String> = marks.iter().map(|mark| format!("{} at {}", mark.text, figure(mark.x, 3))).collect();
    let chart = LineChart {
        title: format!("{name} over refractive index, {place}"),
        description: format!(
            "{name} over the index on the base and with the least thicknesses of {}; the options lie off the line where \
             theirs are others: {}.",
            words::quoted(option),
            words::list(&said)
        ),
        x_label: "Refractive index".to_owned(),
        y_label: format!("{name}, mm"),
        series: vec![Series { name: String::new(), points: points.collect(), emphasis: Emphasis::Main }],
        width_mm: width_mm(job.lenses.iter()),
        marks,
        wishes: Vec::new(),
        height_mm: CHART_MM.1,
    };
    (curve.len() > 2).then(|| chart.draw("chart-index"))
}

/// One quantity of a frame over eye size.
struct Chart<'c> {
    comparison: &'c Comparison<'c>,
    frame: &'c Frame,
    curves: &'c [SizeCurve<'c>],
    name: &'c str,
    unit: &'c str,
    of: &'c dyn Fn(&SizePoint) -> Option<f64>,
}

impl Chart<'_> {
    fn main(&self) -> Option<&SizeCurve<'_>> {
        let main = main_option(self.comparison);
        let is = |curve: &&SizeCurve<'_>| main.is_some_and(|option| std::ptr::eq(option, curve.option));
        self.curves.iter().find(is).or_else(|| self.curves.first())
    }

    fn line_chart(&self) -> LineChart {
        let main = self.main();
        let is_main = |curve: &SizeCurve<'_>| main.is_some_and(|main| std::ptr::eq(main.option, curve.option));
        let series = self.curves.iter().map(|curve| Series {
            name: curve.option.name.clone(),
            points: curve.points.iter().map(|point| (point.eye_size_mm, (self.of)(point))).collect(),
            emphasis: if is_main(curve) { Emphasis::Main } else { Emphasis::Plain },
        });
        let marks: Vec<Mark> = main.map_or(Vec::new(), |curve| self.offered(curve));
        LineChart {
            title: format!("{} over eye size, {}", self.name, self.frame.name),
            description: self.description(main, &marks),
            x_label: "Eye size, mm".to_owned(),
            y_label: format!("{}, {}", self.name, self.unit),
            series: series.collect(),
            marks,
            wishes: Vec::new(),
            width_mm: width_mm(self.curves.iter().map(|curve| curve.option)),
            height_mm: CHART_MM.1,
        }
    }

    /// The offered sizes on a line.
    fn offered(&self, curve: &SizeCurve<'_>) -> Vec<Mark> {
        let at = |eye_size_mm: f64| curve.points.iter().find(|point| (point.eye_size_mm - eye_size_mm).abs() < 1e-9);
        let sizes = self.frame.sizes.iter().map(|boxing| boxing.eye_size_mm);
        let chosen =
            words::choice(self.comparison).map(|(_, fit)| (fit.mounting.frame, fit.mounting.boxing.eye_size_mm));
        let is_chosen = |x: f64| chosen.is_some_and(|(frame, size)| std::ptr::eq(frame, self.frame) && size == x);
        let mark = |point: &SizePoint| {
            let (x, y) = (point.eye_size_mm, (self.of)(point)?);
            Some(Mark { x, y, text: figure(y, 1), chosen: is_chosen(x) })
        };
        sizes.filter_map(|eye_size_mm| at(eye_size_mm).and_then(mark)).collect()
    }

    fn description(&self, main: Option<&SizeCurve<'_>>, marks: &[Mark]) -> String {
        let said: Vec<String> =
            marks.iter().map(|mark| format!("{} {} at {}", mark.text, self.unit, size(mark.x))).collect();
        match main {
            Some(main) if !said.is_empty() => {
                format!("{} with {}: {}.", self.name, words::quoted(main.option), words::list(&said))
            }
            _ => format!("{} over eye size.", self.name),
        }
    }
}
