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
use crate::study::index_curve::{IndexPoint, index_curve};
use crate::study::size_curve::{self, SizeCurve, SizePoint};
use crate::study::trade_curve;
use rayon::prelude::*;

/// Two charts stand side by side on A4 and on Letter, and four of them above a card.
pub(super) const CHART_MM: (f64, f64) = (91.0, 52.0);
/// A chart whose lines have long names.
const WIDE_CHART_MM: f64 = 120.0;
/// Names longer than this, in signs, want a wide chart.
const SHORT_NAME: usize = 22;

/// What the charts of all frames show, worked out before any is drawn: charts of one quantity run up to one height.
#[derive(Debug)]
pub(super) struct Curves<'c> {
    /// In the order of the frames.
    frames: Vec<FrameCurves<'c>>,
    /// The most of the leading thickness on any chart, mm.
    lead_top: f64,
    /// The most of the mass on any chart, g.
    mass_top: f64,
}

/// What the charts of a frame show.
#[derive(Debug)]
struct FrameCurves<'c> {
    over_size: Vec<SizeCurve<'c>>,
    traded: Vec<SizeCurve<'c>>,
    /// Index and leading thickness.
    over_index: Vec<(f64, Option<f64>)>,
    /// The options of the job at their index.
    options: Vec<Mark>,
}

impl<'c> Curves<'c> {
    /// Works them out, on all cores.
    pub(super) fn of(comparison: &Comparison<'c>) -> Curves<'c> {
        let frames: Vec<FrameCurves<'c>> =
            comparison.job.frames.par_iter().map(|frame| FrameCurves::of(comparison, frame)).collect();
        let most = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, f64::max);
        let of = leading(comparison.lead);
        let lead = |curves: &FrameCurves<'c>| {
            let sizes = curves.over_size.iter().chain(&curves.traded).flat_map(SizeCurve::points).filter_map(&of);
            let index = curves.over_index.iter().filter_map(|point| point.1);
            most(&mut sizes.chain(index).chain(curves.options.iter().map(|mark| mark.y)))
        };
        let mass = |curves: &FrameCurves<'c>| {
            most(&mut curves.over_size.iter().flat_map(SizeCurve::points).map(|point| point.mass_g))
        };
        let (lead_top, mass_top) = (most(&mut frames.iter().map(lead)), most(&mut frames.iter().map(mass)));
        Curves { frames, lead_top, mass_top }
    }

    /// Draws those of a frame; `None` where no size can be made.
    pub(super) fn draw(&self, comparison: &Comparison<'_>, index: usize) -> Option<FrameCharts> {
        let (frame, curves) = (comparison.job.frames.get(index)?, self.frames.get(index)?);
        if curves.over_size.iter().all(|curve| curve.pieces.is_empty()) {
            return None;
        }
        let kind = if comparison.lead == Lead::Edge { "chart-edge" } else { "chart-centre" };
        let of = leading(comparison.lead);
        let name = lead_name(comparison.lead)?;
        let thickness = Chart { comparison, frame, name: &name, unit: "mm", top: self.lead_top, of: &of };
        let of_mass = |point: &SizePoint| Some(point.mass_g);
        let mass = Chart { comparison, frame, name: "Mass of the pair", unit: "g", top: self.mass_top, of: &of_mass };
        let broken = |curves: &[SizeCurve<'_>]| curves.iter().any(|curve| curve.pieces.len() > 1);
        Some(FrameCharts {
            thickness: thickness.line_chart(&curves.over_size).draw(kind),
            mass: mass.line_chart(&curves.over_size).draw("chart-mass"),
            trade: trade(&thickness, &curves.traded),
            index: by_index(&thickness, curves),
            broken: broken(&curves.over_size) || broken(&curves.traded),
        })
    }
}

impl<'c> FrameCurves<'c> {
    fn of(comparison: &Comparison<'c>, frame: &'c Frame) -> FrameCurves<'c> {
        let job = comparison.job;
        let options = options_at_index(comparison, frame);
        FrameCurves {
            over_size: size_curve::size_curves(frame, &job.lenses, &job.prescription),
            traded: trade_curve::trade_curves(frame, &job.lenses, &job.prescription),
            over_index: over_index(comparison, frame, &options),
            options,
        }
    }
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
fn trade(chart: &Chart<'_>, curves: &[SizeCurve<'_>]) -> Option<Picture> {
    if curves.iter().all(|curve| curve.points().count() < 2) {
        return None;
    }
    let (name, first) = (chart.name, chart.frame.sizes.first()?);
    let distance = first.centre_distance_mm();
    let base = chart.line_chart(curves);
    let at_first = |mark: &Mark| (mark.x - first.eye_size_mm).abs() < 1e-9;
    let line = LineChart {
        title: format!("{name}, eye size traded against bridge, {}", chart.frame.name),
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

/// The options of the job at the first size of a frame, over their index.
fn options_at_index(comparison: &Comparison<'_>, frame: &Frame) -> Vec<Mark> {
    let line = comparison.job.prescription.reference_line;
    let here = comparison.offered().map(|(_, fit)| fit);
    let here =
        here.filter(|fit| std::ptr::eq(fit.mounting.frame, frame) && Some(&fit.mounting.boxing) == frame.sizes.first());
    let mark = |fit: &crate::assess::Fit<'_>| {
        let y = comparison.lead.of(fit.pair()?)?;
        Some(Mark {
            x: fit.option.substance.glass(line).index,
            y,
            text: format!("{} {}", fit.option.name, figure(y, 1)),
            chosen: words::choice(comparison).is_some_and(|(_, chosen)| std::ptr::eq(chosen, fit)),
        })
    };
    here.filter_map(mark).collect()
}

/// The leading thickness of the first size of a frame over the index.
fn over_index(comparison: &Comparison<'_>, frame: &Frame, options: &[Mark]) -> Vec<(f64, Option<f64>)> {
    let (Some(option), Some(&boxing)) = (main_option(comparison), frame.sizes.first()) else { return Vec::new() };
    let also: Vec<f64> = options.iter().map(|mark| mark.x).collect();
    let at = Addressed { frame, boxing, option, prescription: &comparison.job.prescription };
    let point = |point: IndexPoint| {
        let y = match comparison.lead {
            Lead::Edge => Some(point.edge_max_mm),
            Lead::Centre => point.centre_mm,
        };
        (point.index, y)
    };
    index_curve(&at, &also).into_iter().map(point).collect()
}

/// The first size over the index, the options of the job marked.
fn by_index(chart: &Chart<'_>, curves: &FrameCurves<'_>) -> Option<Picture> {
    let (name, option) = (chart.name, main_option(chart.comparison)?);
    let place = words::place(chart.frame, chart.frame.sizes.first()?);
    let marks = curves.options.clone();
    let said: Vec<String> = marks.iter().map(|mark| format!("{} at {}", mark.text, figure(mark.x, 3))).collect();
    let line = LineChart {
        title: format!("{name} over refractive index, {place}"),
        description: format!(
            "{name} over the index on the base and with the least thicknesses of {}; the options lie off the line where \
             theirs are others: {}.",
            words::quoted(option),
            words::list(&said)
        ),
        x_label: "Refractive index".to_owned(),
        y_label: format!("{name}, mm"),
        series: vec![Series { name: String::new(), points: curves.over_index.clone(), emphasis: Emphasis::Main }],
        width_mm: width_mm(chart.comparison.job.lenses.iter()),
        marks,
        wishes: Vec::new(),
        top: chart.top,
        height_mm: CHART_MM.1,
    };
    (curves.over_index.len() > 2).then(|| line.draw("chart-index"))
}

/// One quantity of a frame over eye size.
struct Chart<'c> {
    comparison: &'c Comparison<'c>,
    frame: &'c Frame,
    name: &'c str,
    unit: &'c str,
    /// The most of it on any chart.
    top: f64,
    of: &'c dyn Fn(&SizePoint) -> Option<f64>,
}

impl Chart<'_> {
    fn line_chart(&self, curves: &[SizeCurve<'_>]) -> LineChart {
        let main = main_option(self.comparison);
        let is_main = |curve: &&SizeCurve<'_>| main.is_some_and(|option| std::ptr::eq(option, curve.option));
        let main = curves.iter().find(is_main).or_else(|| curves.first());
        let series = curves.iter().map(|curve| Series {
            name: curve.option.name.clone(),
            points: self.points(curve),
            emphasis: if main.is_some_and(|main| std::ptr::eq(main, curve)) { Emphasis::Main } else { Emphasis::Plain },
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
            top: self.top,
            width_mm: width_mm(curves.iter().map(|curve| curve.option)),
            height_mm: CHART_MM.1,
        }
    }

    /// The pieces of a curve, a gap between them.
    fn points(&self, curve: &SizeCurve<'_>) -> Vec<(f64, Option<f64>)> {
        let mut points = Vec::new();
        for piece in &curve.pieces {
            if let (false, Some(first)) = (points.is_empty(), piece.first()) {
                points.push((first.eye_size_mm, None));
            }
            points.extend(piece.iter().map(|point| (point.eye_size_mm, (self.of)(point))));
        }
        points
    }

    /// The offered sizes on a line.
    fn offered(&self, curve: &SizeCurve<'_>) -> Vec<Mark> {
        let at = |eye_size_mm: f64| curve.points().find(|point| (point.eye_size_mm - eye_size_mm).abs() < 1e-9);
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
