//! Contour lines and filled bands of a value over a closed outline.
//!
//! Units: mm, of the drawing for the outline and the field (y up), on the sheet for what is drawn. The levels and their
//! colours are given, so that maps set side by side share them.
//!
//! The field is sampled on a grid and joined linearly: on a lens of −10.00 (second derivative of the thickness some
//! 0.015 per mm) a level is right to 0.015 · 1.3²/8 = 0.003 mm.

use super::label::Labels;
use super::number::figure;
use super::smooth;
use super::style::{self, Colour, Dash, Pen, Rgb};
use super::svg::{Anchor, Canvas, Grid, PLAIN, Shape, TextStyle, View};
use contour::ContourBuilder;
use kurbo::{BezPath, PathEl, Point, Rect, Shape as _, Vec2};

/// Longest step of the grid.
const STEP_MM: f64 = 1.3;
/// With more lines than this on a map, every second one is numbered.
const MOST_NUMBERS: usize = 6;
/// Most levels a scale has.
const MOST_LEVELS: usize = 10;

/// The levels that maps share, and the colours of the bands between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    low: f64,
    step: f64,
    bands: usize,
}

impl Scale {
    /// Even levels that cover this range, ten at the most.
    #[must_use]
    pub fn covering(low: f64, high: f64) -> Scale {
        let steps = (-1..=3).flat_map(|power| {
            [1.0, 2.0, 5.0].map(|step| if power < 0 { step / 10.0 } else { step * 10_f64.powi(power) })
        });
        let bands = |step: f64| ((high / step - 1e-9).ceil() - (low / step + 1e-9).floor()).max(1.0);
        let step = { steps }.find(|&step| bands(step) <= MOST_LEVELS as f64 + 1.0).unwrap_or(10_000.0);
        // The cast saturates, and a range of nonsense gets one band.
        let count = (bands(step) as usize).clamp(1, MOST_LEVELS + 1);
        Scale { low: (low / step + 1e-9).floor() * step, step, bands: count }
    }

    /// The levels between the bands, rising.
    pub fn levels(&self) -> impl Iterator<Item = f64> + '_ {
        (1..self.bands).map(|i| self.low + self.step * i as f64)
    }

    /// How many bands there are.
    #[must_use]
    pub fn bands(&self) -> usize {
        self.bands
    }

    /// Lower and upper end of a band.
    #[must_use]
    pub fn band(&self, index: usize) -> (f64, f64) {
        let low = self.low + self.step * index as f64;
        (low, low + self.step)
    }

    /// Colour of a band: dark is thick.
    #[must_use]
    pub fn rgb(&self, index: usize) -> Rgb {
        style::scale_rgb((index as f64 + 0.5) / self.bands as f64)
    }

    /// The band that a value lies in, the nearest where it is beyond all.
    #[must_use]
    pub fn band_of(&self, value: f64) -> usize {
        let place = ((value - self.low) / self.step).floor();
        // The cast saturates.
        (place.max(0.0) as usize).min(self.bands - 1)
    }
}

/// What is to be drawn.
pub struct Field<'a> {
    /// The outline, in the drawing.
    pub outline: &'a BezPath,
    /// The value at a point of the drawing; asked a little outside of the outline too, where it need not be there.
    pub value: &'a dyn Fn(f64, f64) -> Option<f64>,
}

/// Draws bands and contour lines inside the outline, and a number on each line where one fits beside what is taken.
/// Gives back the outline.
pub fn draw(canvas: &mut Canvas, view: &View, field: &Field<'_>, scale: &Scale, labels: &mut Labels) -> Shape {
    let samples = Samples::of(field);
    let levels: Vec<f64> = scale.levels().filter(|level| samples.least < *level && *level < samples.most).collect();
    let lines: Vec<(f64, Vec<Vec<Point>>)> = levels.iter().copied().zip(samples.rings(&levels, view)).collect();
    let sheet_outline = view.affine() * field.outline.clone();
    let outline = canvas.clipped(&sheet_outline, |canvas, outline| {
        let base = scale.rgb(scale.band_of(samples.least));
        canvas.again(outline, &Pen::filled(Colour::Fixed(base)));
        for (level, rings) in &lines {
            let band = scale.band_of(level + 1e-9);
            let pen = band_pen(scale.rgb(band.saturating_sub(1)), scale.rgb(band));
            canvas.path(&closed(rings), Grid::Coarse, &pen);
        }
    });
    let inside = Polygon::of(&sheet_outline);
    // With many lines every second one is numbered, the rounder ones.
    let every = if lines.len() > MOST_NUMBERS { 2.0 } else { 1.0 };
    for (level, rings) in lines.iter().filter(|(level, _)| ((level / scale.step).round() % every).abs() < 0.5) {
        number(canvas, scale, *level, rings, &inside, labels);
    }
    outline
}

/// A band with the contour line at its lower end: a thin line that stands out between it and the band below.
fn band_pen(below: Rgb, rgb: Rgb) -> Pen {
    let line = style::between(below, rgb);
    Pen { stroke: Some(Colour::Fixed(line)), fill: Some(Colour::Fixed(rgb)), width_mm: 0.18, dash: Dash::Solid }
}

fn closed(rings: &[Vec<Point>]) -> BezPath {
    let mut path = BezPath::new();
    for ring in rings {
        smooth::append(&mut path, ring, smooth::NEAR_MM);
    }
    path
}

/// How the number on a line between two bands is set: on a patch of their mean colour.
fn number_style(scale: &Scale, level: f64) -> TextStyle {
    let upper = scale.band_of(level + 1e-9);
    let (one, other) = (scale.rgb(upper.saturating_sub(1)), scale.rgb(upper));
    let mean: Rgb = std::array::from_fn(|i| one[i].midpoint(other[i]));
    TextStyle {
        halo: Some(Colour::Fixed(mean)),
        ..PLAIN.anchored(Anchor::Middle).coloured(Colour::Fixed(style::on(mean)))
    }
}

/// Numbers one line: as near to straight above the middle as there is room.
fn number(canvas: &mut Canvas, scale: &Scale, level: f64, rings: &[Vec<Point>], inside: &Polygon, labels: &mut Labels) {
    let text = figure(level, 1);
    let style = number_style(scale, level);
    let drop = Vec2::new(0.0, style.drop_mm());
    let middle = inside.bounds.center();
    let mut places: Vec<Point> = rings.iter().flatten().filter(|p| inside.bounds.contains(**p)).copied().collect();
    places.sort_by(|a, b| off_upright(*a - middle).total_cmp(&off_upright(*b - middle)));
    let fitting = places.into_iter().map(|p| p + drop).filter(|&at| inside.holds(style.bounds(at, &text)));
    if let Some(at) = labels.place(&text, &style, fitting) {
        canvas.text(at, &text, &style);
    }
}

/// How far a direction on the sheet is from straight up, 0 … π; what goes down as well comes after what goes up.
fn off_upright(run: Vec2) -> f64 {
    run.x.abs().atan2(-run.y)
}

/// The field on a grid of the drawing, one step wider than the outline on every side.
struct Samples {
    columns: usize,
    rows: usize,
    corner: Point,
    step: Vec2,
    values: Vec<f64>,
    least: f64,
    most: f64,
}

impl Samples {
    fn of(field: &Field<'_>) -> Samples {
        let bounds = field.outline.bounding_box();
        let steps = |length: f64| (length / STEP_MM).ceil().clamp(8.0, 120.0);
        let (across, up) = (steps(bounds.width()), steps(bounds.height()));
        let step = Vec2::new(bounds.width() / across, bounds.height() / up);
        let corner = bounds.origin() - step;
        let (columns, rows) = (across as usize + 3, up as usize + 3);
        let middle = bounds.center();
        let points = (0..rows * columns)
            .map(|i| corner + Vec2::new((i % columns) as f64 * step.x, (i / columns) as f64 * step.y));
        let round = Polygon::of(field.outline);
        let edge = round.points.iter().map(|&p| extended(field.value, p, middle));
        let (mut least, mut most) = edge.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        let mut values = Vec::with_capacity(rows * columns);
        for point in points {
            let value = extended(field.value, point, middle);
            values.push(value);
            if (value < least || value > most) && round.contains(point) {
                (least, most) = (least.min(value), most.max(value));
            }
        }
        Samples { columns, rows, corner, step, values, least, most }
    }

    /// The closed lines at each level, on the sheet.
    fn rings(&self, levels: &[f64], view: &View) -> Vec<Vec<Vec<Point>>> {
        // A value of the grid stands for a cell: the origin is half a step before its first point.
        let builder = ContourBuilder::new(self.columns, self.rows, true)
            .x_origin(self.corner.x - 0.5 * self.step.x)
            .y_origin(self.corner.y - 0.5 * self.step.y)
            .x_step(self.step.x)
            .y_step(self.step.y);
        let lines = builder.lines(&self.values, levels).unwrap_or_default();
        lines
            .into_iter()
            .map(|line| {
                line.geometry()
                    .iter()
                    .map(|ring| smooth::thinned(ring.coords().map(|c| view.at(c.x, c.y)), 0.3 * STEP_MM * view.scale))
                    .filter(|ring| ring.len() > 2)
                    .collect()
            })
            .collect()
    }
}

/// The value at a point; where the field does not reach, that of the last point on the way there that it does.
fn extended(value: &dyn Fn(f64, f64) -> Option<f64>, at: Point, middle: Point) -> f64 {
    let known = |p: Point| value(p.x, p.y).filter(|value| value.is_finite());
    if let Some(value) = known(at) {
        return value;
    }
    let (mut reached, mut beyond) = (0.0, 1.0);
    for _ in 0..12 {
        let half = 0.5 * (reached + beyond);
        if known(middle.lerp(at, half)).is_some() {
            reached = half;
        } else {
            beyond = half;
        }
    }
    known(middle.lerp(at, reached)).unwrap_or(0.0)
}

/// An outline as a polygon, for quick asking whether a text lies inside.
struct Polygon {
    points: Vec<Point>,
    bounds: Rect,
}

impl Polygon {
    fn of(outline: &BezPath) -> Polygon {
        let mut points = Vec::new();
        kurbo::flatten(outline.iter(), 0.05, |element| {
            if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
                points.push(p);
            }
        });
        Polygon { points, bounds: outline.bounding_box() }
    }

    fn holds(&self, text: Rect) -> bool {
        let text = text.inflate(0.7, 0.7);
        [(text.x0, text.y0), (text.x1, text.y0), (text.x0, text.y1), (text.x1, text.y1)]
            .into_iter()
            .all(|corner| self.contains(corner.into()))
    }

    fn contains(&self, p: Point) -> bool {
        let mut inside = false;
        for (a, b) in self.points.iter().zip(self.points.iter().cycle().skip(1)) {
            if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
                inside = !inside;
            }
        }
        inside
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::Outline;

    const VIEW: View = View { origin: Point::new(30.0, 25.0), scale: 1.0 };

    fn bowl(x: f64, y: f64) -> Option<f64> {
        Some(1.2 + 0.006 * (x * x + y * y))
    }

    #[test]
    fn levels_cover_the_range_evenly() {
        let scale = Scale::covering(1.13, 5.4);
        assert_eq!(scale.levels().collect::<Vec<_>>(), [1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0]);
        assert_eq!((scale.bands(), scale.band(0), scale.band(8)), (9, (1.0, 1.5), (5.0, 5.5)));
        assert_eq!((scale.band_of(0.2), scale.band_of(2.2), scale.band_of(99.0)), (0, 2, 8));
        assert_eq!(Scale::covering(2.0, 2.0).bands(), 1);
        assert!(Scale::covering(0.0, 1e9).bands() <= MOST_LEVELS + 1);
        assert_eq!(Scale::covering(f64::NAN, 1.0).bands(), 1);
    }

    #[test]
    fn a_line_lies_where_the_value_is() {
        let outline = Outline::ellipse(48.0, 40.0).curve().path(0.001);
        let samples = Samples::of(&Field { outline: &outline, value: &bowl });
        for (level, rings) in [1.5, 2.5].into_iter().zip(samples.rings(&[1.5, 2.5], &VIEW)) {
            // Of the closed lines one is the level's, the other runs along the border of the grid.
            let inside: Vec<&Point> = rings
                .iter()
                .flatten()
                .filter(|p| (p.y - VIEW.origin.y).abs() < 19.0 && (p.x - VIEW.origin.x).abs() < 23.0)
                .collect();
            assert!(inside.len() > 20);
            for p in inside {
                let value = bowl(p.x - VIEW.origin.x, VIEW.origin.y - p.y).expect("everywhere");
                assert!((value - level).abs() < 0.003, "{value} on the line of {level}");
            }
        }
    }

    #[test]
    fn a_field_that_ends_outside_is_carried_on() {
        let ends = |x: f64, y: f64| bowl(x, y).filter(|_| x.hypot(y) < 24.5);
        let outline = Outline::ellipse(48.0, 48.0).curve().path(0.001);
        let samples = Samples::of(&Field { outline: &outline, value: &ends });
        assert!(samples.values.iter().all(|value| value.is_finite() && *value < 4.9));
        assert!((samples.most - 4.656).abs() < 0.01, "{}", samples.most);
    }

    #[test]
    fn numbers_stand_inside_and_apart() {
        let outline = Outline::ellipse(48.0, 40.0).curve().path(0.001);
        let (mut canvas, mut labels) = (Canvas::new(60.0, 50.0), Labels::new());
        let field = Field { outline: &outline, value: &bowl };
        draw(&mut canvas, &VIEW, &field, &Scale::covering(1.2, 4.7), &mut labels);
        assert!(canvas.texts().len() >= 2, "{}", canvas.texts().len());
        for (i, a) in canvas.texts().iter().enumerate() {
            for b in &canvas.texts()[i + 1..] {
                assert!(!crate::draw::label::meet(*a, *b));
            }
        }
    }
}
