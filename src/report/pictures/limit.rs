//! The charts of `limit`: the thickest edge on the way to each limit, the wish a line, what was found marked.
//!
//! Units: mm, dioptres.

use super::super::number::{self, figure, size};
use super::super::words;
use super::charts::CHART_MM;
use super::sure;
use crate::draw::Picture;
use crate::draw::chart::{Emphasis, LineChart, Mark, Series, Wish};
use crate::study::compare::Lead;
use crate::study::limit::{Limit, Limits};
use crate::study::limit_curves::{Curves, Point};

/// The chart that bears the answer.
const WIDE_MM: f64 = 150.0;
const HIGH_MM: f64 = 76.0;

/// The pictures of an answer; `None` where there is nothing to vary or nothing can be made.
#[derive(Clone, Debug)]
pub struct LimitPictures {
    /// Over the eye size, a line for each lens option.
    pub eye_size: Option<Picture>,
    /// Over the sphere of the eye that is worse.
    pub sphere: Option<Picture>,
    /// Over the index.
    pub index: Option<Picture>,
    /// Over the pd of the eye that is worse.
    pub pd: Option<Picture>,
    /// How sure it is.
    pub sure: Option<Picture>,
}

impl LimitPictures {
    /// Draws them: over sphere, index and pd those of the best lens option.
    #[must_use]
    pub fn of(limits: &Limits<'_>) -> Option<LimitPictures> {
        let best = limits.best()?;
        let curves = Curves::of(best);
        let lens = words::quoted(best.at.option);
        let whose = words::limit_sure_of(best);
        Some(LimitPictures {
            eye_size: eye_size(limits, best),
            sphere: Chart { limit: best, points: &curves.sphere, marks: spheres(best) }
                .line("Sphere", "D", words::limit_sphere(best))
                .map(|line| line.draw("chart-sphere")),
            index: Chart { limit: best, points: &curves.index, marks: indices(best) }
                .line("Refractive index", "", words::limit_index(best))
                .map(|line| line.draw("chart-index")),
            pd: Chart { limit: best, points: &curves.pd, marks: pds(best) }
                .line("Pupil distance", "mm", words::limit_pd(best))
                .map(|line| line.draw("chart-pd")),
            sure: best.sure.as_ref().and_then(|of| sure::strip(of, Lead::Edge, &format!("{whose} with {lens}"))),
        })
    }

    /// All of them.
    pub fn all(&self) -> impl Iterator<Item = &Picture> {
        [&self.eye_size, &self.sphere, &self.index, &self.pd, &self.sure].into_iter().flatten()
    }
}

fn wish(limit: &Limit<'_>) -> Wish {
    Wish { y: limit.wish_mm, text: format!("wish, {}", words::wish_figure(limit.wish_mm)) }
}

/// The point of a curve at a value, named.
fn mark(points: &[Point], value: Option<f64>, text: Option<String>, chosen: bool) -> Option<Mark> {
    let (x, y) = points.iter().find(|point| Some(point.0) == value)?;
    Some(Mark { x: *x, y: (*y)?, text: text?, chosen })
}

fn eye_size(limits: &Limits<'_>, best: &Limit<'_>) -> Option<Picture> {
    let curves: Vec<(&Limit<'_>, Vec<Point>)> =
        limits.each.iter().map(|limit| (limit, Curves::of(limit).eye_size)).collect();
    let found = |(limit, points): &(&Limit<'_>, Vec<Point>)| -> Vec<Mark> {
        let chosen = std::ptr::eq(*limit, best);
        let to = mark(points, limit.eye_size.largest_mm(), words::limit_largest_size(&limit.eye_size), chosen);
        let ends = limit.eye_size.kept_mm().into_iter().flatten();
        to.into_iter().chain(ends.filter_map(|end| mark(points, Some(end), Some(figure(end, 1)), chosen))).collect()
    };
    let series = curves.iter().map(|(limit, points)| Series {
        name: if curves.len() > 1 { limit.at.option.name.clone() } else { String::new() },
        points: points.clone(),
        emphasis: if std::ptr::eq(*limit, best) { Emphasis::Main } else { Emphasis::Plain },
    });
    let chart = LineChart {
        title: format!("Thickest edge over eye size, {}", best.at.frame.name),
        description: words::limit_answer(best),
        x_label: format!("Eye size, mm; the bridge is {}", size(best.at.frame.sizes.first()?.bridge_mm)),
        y_label: "Thickest edge, mm".to_owned(),
        series: series.collect(),
        marks: curves.iter().flat_map(found).collect(),
        wishes: vec![wish(best)],
        top: 0.0,
        width_mm: WIDE_MM,
        height_mm: HIGH_MM,
    };
    can_be_drawn(&chart).then(|| chart.draw("chart-eye-size"))
}

fn can_be_drawn(chart: &LineChart) -> bool {
    chart.series.iter().any(|series| series.points.iter().filter(|point| point.1.is_some()).count() > 1)
}

/// Value, and the word beside its point.
type Named = (Option<f64>, Option<String>);

fn spheres(limit: &Limit<'_>) -> [Named; 2] {
    let sphere = limit.at.prescription.eyes.of(limit.eye).power.sphere();
    let prescribed = format!("{} prescribed", number::power(sphere));
    [(limit.sphere.value(), words::limit_strongest_sphere(limit)), (Some(sphere), Some(prescribed))]
}

fn indices(limit: &Limit<'_>) -> [Named; 2] {
    let index = limit.at.option.substance.glass(limit.at.prescription.reference_line).index;
    let own = format!("{} {}", limit.at.option.name, figure(index, 3));
    [(limit.index.value(), words::limit_lowest_index(limit)), (Some(index), Some(own))]
}

fn pds(limit: &Limit<'_>) -> [Named; 2] {
    let pd_mm = limit.at.prescription.eyes.of(limit.eye).pd_mm;
    let measured = format!("{} measured", figure(pd_mm, 1));
    [(limit.pd.value(), words::limit_tipping_pd(limit)), (Some(pd_mm), Some(measured))]
}

/// A curve of one lens option.
struct Chart<'c> {
    limit: &'c Limit<'c>,
    points: &'c [Point],
    marks: [Named; 2],
}

impl Chart<'_> {
    fn line(self, what: &str, unit: &str, description: String) -> Option<LineChart> {
        let at = &self.limit.at;
        let place = words::place(at.frame, &at.boxing);
        // What was found comes first.
        let marks = self.marks.into_iter().enumerate();
        let marks = marks.filter_map(|(i, (value, text))| mark(self.points, value, text, i == 0));
        let chart = LineChart {
            title: format!("Thickest edge over {}, {place} with {}", words::uncapital(what), words::quoted(at.option)),
            description,
            x_label: if unit.is_empty() { what.to_owned() } else { format!("{what}, {unit}") },
            y_label: "Thickest edge, mm".to_owned(),
            series: vec![Series { name: String::new(), points: self.points.to_vec(), emphasis: Emphasis::Main }],
            marks: marks.collect(),
            wishes: vec![wish(self.limit)],
            top: 0.0,
            width_mm: CHART_MM.0,
            height_mm: CHART_MM.1,
        };
        can_be_drawn(&chart).then_some(chart)
    }
}
