//! The pictures of a comparison: what each fit looks like, and how eye size matters. Numbers are read off the fits here;
//! the drawing is `draw`'s.
//!
//! Units: mm. All pictures of one kind share one scale, all maps one set of levels.

mod edges;
mod front;
mod over;
mod round;
mod section;
mod view;

use super::number::{mm, size};
use super::words;
use crate::assess::{Fit, Made};
use crate::draw::Picture;
use crate::draw::chart::{Emphasis, LineChart, Mark, Series};
use crate::draw::clock::Rings;
use crate::draw::contours::Scale;
use crate::draw::dimension::scale_words;
use crate::draw::map::{self, EdgePoint, ThicknessMap};
use crate::eye::{Eye, Eyes};
use crate::figures;
use crate::frame::Frame;
use crate::job::NOW;
use crate::measure;
use crate::study::compare::{Comparison, Lead};
use crate::study::size_curve::{self, SizeCurve, SizePoint};
use kurbo::Vec2;
use rayon::prelude::*;

/// Pictures of lenses measure true.
const SCALE: f64 = 1.0;
/// Two charts stand side by side on A4 and on Letter.
const CHART_MM: (f64, f64) = (88.0, 62.0);
/// A chart whose lines have long names.
const WIDE_CHART_MM: f64 = 120.0;
/// Names longer than this, in signs, want a wide chart.
const SHORT_NAME: usize = 14;

/// The pictures of a fit.
#[derive(Clone, Debug)]
pub struct FitPictures {
    /// Plan section of the pair.
    pub plan: Picture,
    /// Thickness map of each lens.
    pub maps: Eyes<Picture>,
    /// Front view of the pair.
    pub front: Picture,
    /// Vertical section of each lens.
    pub verticals: Eyes<Picture>,
    /// The thickest edge of each lens.
    pub details: Eyes<Picture>,
    /// Edge thickness round the rim of both.
    pub clock: Picture,
    /// Laid over the pair that all are compared with; none for that pair itself and for the spectacles worn now.
    pub over: Option<Picture>,
    /// As others see it.
    pub view: Picture,
}

impl FitPictures {
    /// All of them, with the eye where a picture is of one lens.
    pub fn all(&self) -> impl Iterator<Item = (Option<Eye>, &Picture)> {
        let FitPictures { plan, maps, front, verticals, details, clock, over, view } = self;
        let of_lenses = [maps, verticals, details].into_iter().flat_map(Eyes::iter);
        let of_lenses = of_lenses.map(|(eye, picture)| (Some(eye), picture));
        [Some(plan), over.as_ref(), Some(front), Some(clock), Some(view)]
            .into_iter()
            .flatten()
            .map(|picture| (None, picture))
            .chain(of_lenses)
    }
}

/// The eye-size charts of a frame.
#[derive(Clone, Debug)]
pub struct FrameCharts {
    /// The leading thickness.
    pub thickness: Picture,
    /// The mass of the pair.
    pub mass: Picture,
}

pub use over::reference as compared_with;

/// All pictures of a comparison.
#[derive(Clone, Debug)]
pub struct Pictures {
    /// For each fit; `None` where it cannot be made.
    pub fits: Vec<Option<FitPictures>>,
    /// For each frame of the job; `None` where no size can be made.
    pub charts: Vec<Option<FrameCharts>>,
    /// The key of the maps; `None` where there is none.
    pub key: Option<Picture>,
    /// The thickest edges of all options, thin to thick; `None` where there is only one.
    pub edges: Option<Picture>,
}

impl Pictures {
    /// Draws them, on all cores.
    #[must_use]
    pub fn of(comparison: &Comparison<'_>) -> Pictures {
        let levels = levels(comparison);
        let (rings, side) = (round::rings(comparison), view::side(comparison));
        let fits = || {
            let draw =
                |(i, fit): (usize, &Fit<'_>)| of_fit(fit, levels.as_ref()?, rings, side, over::over(comparison, i));
            comparison.fits.par_iter().enumerate().map(draw).collect()
        };
        let charts = || comparison.job.frames.par_iter().map(|frame| of_frame(comparison, frame)).collect();
        let (fits, charts) = rayon::join(fits, charts);
        Pictures { fits, charts, key: levels.as_ref().map(map::legend), edges: edges::edges(comparison) }
    }
}

/// The levels that all maps share.
fn levels(comparison: &Comparison<'_>) -> Option<Scale> {
    let lenses = comparison.fits.iter().filter_map(Fit::pair).flat_map(|pair| pair.eyes.iter().map(|(_, made)| made));
    let range = |made: &Made| {
        let most = made.thickness.edges.max.thickness_mm.max(made.thickness.centre_mm.unwrap_or(0.0));
        (made.thickness.thinnest_mm, most)
    };
    let (low, high) = lenses.map(range).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
    Some(Scale::covering(low, high))
}

/// "Yarrow 46 with “thin” (1.60 resin)", or "the spectacles worn now (1.56 resin)".
fn subject(fit: &Fit<'_>) -> String {
    let material = words::material(fit.option);
    if fit.option.name == NOW {
        format!("the spectacles worn now ({material})")
    } else {
        format!("{} ({material})", words::fit(fit))
    }
}

fn of_fit(fit: &Fit<'_>, levels: &Scale, rings: Rings, side: Eye, over: Option<Picture>) -> Option<FitPictures> {
    let pair = fit.pair()?;
    let map = |eye| thickness_map(fit, eye, pair.eyes.of(eye), levels);
    let each = |draw: fn(&Fit<'_>, Eye, &Made) -> Option<Picture>| {
        Some(Eyes { right: draw(fit, Eye::Right, &pair.eyes.right)?, left: draw(fit, Eye::Left, &pair.eyes.left)? })
    };
    Some(FitPictures {
        plan: section::plan(fit, pair)?,
        maps: Eyes::from_fn(map),
        front: front::front(fit, pair),
        verticals: each(section::vertical)?,
        details: each(section::detail)?,
        clock: round::clock(fit, pair, rings)?,
        over,
        view: view::view(fit, pair, side)?,
    })
}

fn edge_point(edge: &measure::EdgePoint) -> EdgePoint {
    EdgePoint { x: edge.point.x, y: edge.point.y, thickness_mm: edge.thickness_mm }
}

fn reference(made: &Made, eye: Eye) -> Vec2 {
    Vec2::new(made.centration.x_mm(eye), made.centration.up_mm)
}

fn thickness_map(fit: &Fit<'_>, eye: Eye, made: &Made, levels: &Scale) -> Picture {
    let reference = reference(made, eye);
    let edges = &made.thickness.edges;
    let description = format!(
        "Thickest edge {} {}, thinnest edge {} {}.",
        mm(edges.max.thickness_mm),
        words::edge_side(eye, &edges.max),
        mm(edges.min.thickness_mm),
        words::edge_side(eye, &edges.min),
    );
    let map = ThicknessMap {
        title: &format!("Thickness map, {}, {} lens, {}", subject(fit), eye.word(), scale_words(SCALE)),
        description: &description,
        eye,
        outline: fit.mounting.outlines.of(eye),
        thickness: &|x, y| made.lens.thickness(Vec2::new(x, y) - reference),
        reference: (reference.x, reference.y),
        thickest: edge_point(&edges.max),
        thinnest: edge_point(&edges.min),
        levels,
        scale: SCALE,
    };
    map.draw()
}

fn of_frame(comparison: &Comparison<'_>, frame: &Frame) -> Option<FrameCharts> {
    let job = comparison.job;
    let curves = size_curve::size_curves(frame, &job.lenses, &job.prescription);
    if curves.iter().all(|curve| curve.points.is_empty()) {
        return None;
    }
    let (id, kind) = match comparison.lead {
        Lead::Edge => ("thickness.edge_max_mm", "chart-edge"),
        Lead::Centre => ("thickness.centre_mm", "chart-centre"),
    };
    let name = words::capital(figures::of_eye(id)?.name);
    let lead = |point: &SizePoint| match comparison.lead {
        Lead::Edge => Some(point.edge_max_mm),
        Lead::Centre => point.centre_mm,
    };
    let chart = |name: &str, unit: &str, of: &dyn Fn(&SizePoint) -> Option<f64>| {
        Chart { comparison, frame, curves: &curves, name, unit, of }.line_chart()
    };
    Some(FrameCharts {
        thickness: chart(&name, "mm", &lead).draw(kind),
        mass: chart("Mass of the pair", "g", &|point| Some(point.mass_g)).draw("chart-mass"),
    })
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
    /// The option that the answer names, else the first.
    fn main(&self) -> Option<&SizeCurve<'_>> {
        let chosen = words::choice(self.comparison).map(|(_, fit)| fit.option);
        let is = |curve: &&SizeCurve<'_>| chosen.is_some_and(|option| std::ptr::eq(option, curve.option));
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
        let longest = self.curves.iter().map(|curve| curve.option.name.chars().count()).max().unwrap_or(0);
        let marks: Vec<Mark> = main.map_or(Vec::new(), |curve| self.offered(curve));
        LineChart {
            title: format!("{} over eye size, {}", self.name, self.frame.name),
            description: self.description(main, &marks),
            x_label: "Eye size, mm".to_owned(),
            y_label: format!("{}, {}", self.name, self.unit),
            series: series.collect(),
            marks,
            wishes: Vec::new(),
            width_mm: if longest > SHORT_NAME { WIDE_CHART_MM } else { CHART_MM.0 },
            height_mm: CHART_MM.1,
        }
    }

    /// The offered sizes on a line.
    fn offered(&self, curve: &SizeCurve<'_>) -> Vec<Mark> {
        let at = |eye_size_mm: f64| curve.points.iter().find(|point| (point.eye_size_mm - eye_size_mm).abs() < 1e-9);
        let sizes = self.frame.sizes.iter().map(|boxing| boxing.eye_size_mm);
        let mark = |point: &SizePoint| {
            let y = (self.of)(point)?;
            Some(Mark { x: point.eye_size_mm, y, text: super::number::figure(y, 1) })
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
