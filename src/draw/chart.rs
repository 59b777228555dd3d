//! Line charts: every line named at its end, a light grid, marks and wishes.
//!
//! Units: mm on the sheet; x and y are in whatever their labels say. Axes, grid and lines by plotters.

use super::backend::{Backend, PER_MM};
use super::font;
use super::label::{self, Labels, Wanted};
use super::number::figure;
use super::picture::Picture;
use super::style::{Colour, DIMENSION, Dash, Mode, Pen, TEXT_MM, Tone};
use super::svg::{self, Anchor, Canvas, Grid, PLAIN, SOFT, TextStyle};
use kurbo::{Circle, Point, Rect, Vec2};
use plotters::coord::ranged1d::{DefaultFormatting, KeyPointHint, Ranged};
use plotters::prelude::{Cartesian2d, FontFamily, LabelAreaPosition, RGBColor, ShapeStyle, TextStyle as PlottersText};
use plotters::prelude::{ChartBuilder, ChartContext, IntoDrawingArea, LineSeries};

/// How much a line matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Emphasis {
    /// What the chart is about.
    Main,
    /// What it is compared against.
    Compared,
    /// One of many.
    Plain,
}

/// A line.
#[derive(Clone, Debug)]
pub struct Series {
    /// Its name, written at its end.
    pub name: String,
    /// x, and y where there is one; a gap is left where there is none.
    pub points: Vec<(f64, Option<f64>)>,
    /// How much it matters.
    pub emphasis: Emphasis,
}

/// A point worth a word.
#[derive(Clone, Debug)]
pub struct Mark {
    /// Where along x.
    pub x: f64,
    /// Where along y.
    pub y: f64,
    /// The word.
    pub text: String,
    /// Is it the one that the chart is about? It is drawn full.
    pub chosen: bool,
}

/// A level that is wished for, a dashed line right across.
#[derive(Clone, Debug)]
pub struct Wish {
    /// Where along y.
    pub y: f64,
    /// The word at its end.
    pub text: String,
}

/// A chart of lines.
#[derive(Clone, Debug)]
pub struct LineChart {
    /// What it shows, of what.
    pub title: String,
    /// The finding in words.
    pub description: String,
    /// What runs along x, with its unit.
    pub x_label: String,
    /// What runs along y, with its unit.
    pub y_label: String,
    /// The lines.
    pub series: Vec<Series>,
    /// Points worth a word.
    pub marks: Vec<Mark>,
    /// Levels wished for.
    pub wishes: Vec<Wish>,
    /// The y axis runs at least so far up: as far as the charts beside it, so that heights compare. 0 where it stands alone.
    pub top: f64,
    /// Width of the picture.
    pub width_mm: f64,
    /// Height of the picture.
    pub height_mm: f64,
}

/// Space round the picture.
const MARGIN_MM: f64 = 2.0;
/// Height of the row that names the y axis, and of the one that names the x axis.
const ROW_MM: f64 = 1.7 * TEXT_MM;
/// Pitch of names at line ends.
const NAME_PITCH_MM: f64 = 1.2 * TEXT_MM;
/// Between a line's end and its name.
const TO_NAME_MM: f64 = 3.0;
/// A name goes so many steps up or down from its point before it goes anywhere.
const NEAR_STEPS: u32 = 6;
/// A name farther from its point than this is led to it by a line.
const FAR_MM: f64 = 3.4;
/// Round a point its own line is no obstacle.
const OWN_LINE_MM: f64 = 2.5;
/// Fewer points than this are shown as points too.
const FEW_POINTS: usize = 16;

/// Where an axis runs and where it is marked.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Axis {
    low: f64,
    high: f64,
    pub(super) ticks: Vec<f64>,
    pub(super) decimals: usize,
}

impl Axis {
    /// From `low` to `high`, marked at round numbers, about `count` of them; with `round` the ends are moved out to
    /// such numbers too.
    pub(super) fn over(low: f64, high: f64, count: usize, round: bool) -> Axis {
        let (low, high) = if high > low { (low, high) } else { (low - 0.5, low + 0.5) };
        let rough = (high - low) / count.max(1) as f64;
        let power = 10_f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0].map(|m| m * power).into_iter().find(|s| *s >= rough).unwrap_or(rough);
        let (low, high) =
            if round { ((low / step + 1e-9).floor() * step, (high / step - 1e-9).ceil() * step) } else { (low, high) };
        let (first, last) = ((low / step - 1e-9).ceil(), (high / step + 1e-9).floor());
        // The cast saturates; there are hardly more marks than asked for.
        let ticks = (0..=((last - first).max(0.0) as usize).min(100)).map(|i| (first + i as f64) * step).collect();
        let decimals = if step >= 1.0 { 0 } else { (-step.log10().floor()).clamp(0.0, 9.0) as usize };
        Axis { low, high, ticks, decimals }
    }

    /// The part of the axis that lies below a value.
    pub(super) fn share(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }
}

impl Ranged for Axis {
    type FormatOption = DefaultFormatting;
    type ValueType = f64;

    fn map(&self, value: &f64, (from, to): (i32, i32)) -> i32 {
        from + (self.share(*value) * f64::from(to - from)).round() as i32
    }

    fn key_points<Hint: KeyPointHint>(&self, hint: Hint) -> Vec<f64> {
        if hint.weight().allow_light_points() { Vec::new() } else { self.ticks.clone() }
    }

    fn range(&self) -> std::ops::Range<f64> {
        self.low..self.high
    }
}

impl LineChart {
    /// Draws it, as the picture of this kind (`chart-…`).
    #[must_use]
    pub fn draw(&self, kind: &'static str) -> Picture {
        let mut canvas = Canvas::new(self.width_mm, self.height_mm);
        let frame = self.frame();
        let (x, y) = (self.x_axis(frame.width()), self.y_axis(frame.height()));
        plotted(&mut canvas, self, frame, &x, &y);
        let at = |across: f64, up: f64| {
            Point::new(frame.x0 + x.share(across) * frame.width(), frame.y1 - y.share(up) * frame.height())
        };
        self.wishes(&mut canvas, frame, &at);
        self.name_axes(&mut canvas, frame);
        self.points(&mut canvas, &at);
        let taken = self.names(&mut canvas, frame, &at);
        self.marks(&mut canvas, &at, taken);
        canvas.finish(kind, &self.title, &self.description)
    }

    /// Where the lines go: what the names leave.
    fn frame(&self) -> Rect {
        let widest = self.names_at_ends().map(|name| font::width_mm(name, TEXT_MM)).fold(0.0, f64::max);
        let left = MARGIN_MM + font::width_mm("00.0", TEXT_MM) + 2.0;
        let right = (self.width_mm - MARGIN_MM - TO_NAME_MM - widest).max(left + 20.0);
        let bottom = self.height_mm - MARGIN_MM - 2.0 * ROW_MM;
        Rect::new(left, MARGIN_MM + ROW_MM, right, bottom.max(MARGIN_MM + ROW_MM + 10.0))
    }

    fn names_at_ends(&self) -> impl Iterator<Item = &str> {
        self.series.iter().map(|s| s.name.as_str()).chain(self.wishes.iter().map(|w| w.text.as_str()))
    }

    fn x_axis(&self, width_mm: f64) -> Axis {
        let all = self.series.iter().flat_map(|s| s.points.iter().map(|p| p.0)).chain(self.marks.iter().map(|m| m.x));
        let (low, high) = range(all);
        Axis::over(low, high, (width_mm / 14.0) as usize, false)
    }

    /// From nought, so that a height is what it seems; from a round number below the values where some are below it.
    fn y_axis(&self, height_mm: f64) -> Axis {
        let lines = self.series.iter().flat_map(|s| s.points.iter().filter_map(|p| p.1));
        let all = lines.chain(self.marks.iter().map(|m| m.y)).chain(self.wishes.iter().map(|w| w.y));
        let (low, high) = range(all);
        let (low, high) = (low.min(0.0), if self.top.is_finite() { high.max(self.top) } else { high });
        Axis::over(low, high, (height_mm / 9.0) as usize, true)
    }

    fn name_axes(&self, canvas: &mut Canvas, frame: Rect) {
        canvas.line(Point::new(frame.x0, frame.y1), Point::new(frame.x1, frame.y1), &DIMENSION);
        canvas.text(Point::new(MARGIN_MM, MARGIN_MM + font::CAP_HEIGHT * TEXT_MM), &self.y_label, &SOFT);
        let below = Point::new(frame.center().x, self.height_mm - MARGIN_MM - font::DESCENT * TEXT_MM);
        canvas.text(below, &self.x_label, &SOFT.anchored(Anchor::Middle));
    }

    fn wishes(&self, canvas: &mut Canvas, frame: Rect, at: &dyn Fn(f64, f64) -> Point) {
        for wish in &self.wishes {
            let height = at(0.0, wish.y).y;
            let ends = [Point::new(frame.x0, height), Point::new(frame.x1 + 1.5, height)];
            canvas.polyline(&ends, Grid::Fine, &DIMENSION.dashed(Dash::Dashed));
        }
    }

    fn points(&self, canvas: &mut Canvas, at: &dyn Fn(f64, f64) -> Point) {
        for series in &self.series {
            let few = series.points.len() < FEW_POINTS;
            let pieces = series.points.split(|(_, y)| y.is_none()).filter(|piece| few || piece.len() == 1);
            for point in pieces.flatten().filter_map(|&(x, y)| Some(at(x, y?))) {
                canvas.circle(Circle::new(point, 0.6), &Pen::filled(tone(series.emphasis).into()));
            }
        }
    }

    /// Names at the ends of lines and wishes, moved apart; what they and the lines take up.
    fn names(&self, canvas: &mut Canvas, frame: Rect, at: &dyn Fn(f64, f64) -> Point) -> Labels {
        let named = self.series.iter().filter(|series| !series.name.is_empty());
        let lines = named.filter_map(|series| {
            let &(x, y) = series.points.iter().rev().find(|(_, y)| y.is_some())?;
            Some((at(x, y?), series.name.as_str(), name_style(series.emphasis)))
        });
        let wishes = self.wishes.iter().map(|wish| (Point::new(frame.x1, at(0.0, wish.y).y), wish.text.as_str(), SOFT));
        let (ends, early): (Vec<_>, Vec<_>) = lines.chain(wishes).partition(|(end, ..)| end.x > frame.x1 - TO_NAME_MM);
        let wanted: Vec<Wanted> = ends.iter().map(|(end, ..)| Wanted { at: end.y, size: NAME_PITCH_MM }).collect();
        let mut taken = Labels::new();
        for &text in canvas.texts() {
            taken.take(text);
        }
        for ((end, name, style), middle) in ends.iter().zip(label::spread(&wanted, 0.0, self.height_mm)) {
            let place = Point::new(frame.x1 + TO_NAME_MM, middle + style.drop_mm());
            if (middle - end.y).abs() > 0.8 {
                let (from, to) = (Point::new(end.x + 0.9, end.y), Point::new(place.x - 0.7, middle));
                canvas.line(from, to, &Pen::line(Tone::Soft, 0.15));
            }
            canvas.text(place, name, style);
            taken.take(style.bounds(place, name));
        }
        self.take_lines(&mut taken, at);
        self.beside(canvas, &mut taken, &early);
        taken
    }

    /// Texts beside points, all lines that lead to them behind all of them.
    fn beside(&self, canvas: &mut Canvas, taken: &mut Labels, named: &[(Point, &str, TextStyle)]) {
        let mut found = Vec::new();
        for &(point, text, style) in named {
            let style = TextStyle { halo: Some(Colour::Tone(Tone::Paper)), ..style };
            if let Some(place) = self.place(taken, point, text, &style) {
                found.push((point, place, text, style));
            }
        }
        for (point, place, text, style) in &found {
            lead(canvas, *point, style.bounds(*place, text));
        }
        for (_, place, text, style) in &found {
            canvas.text(*place, text, style);
        }
    }

    /// The first place round a point where a text is free, else the nearest on the chart, both from where the line that leads
    /// there meets nothing, if there is one; `None` where the chart is full.
    fn place(&self, taken: &mut Labels, point: Point, text: &str, style: &TextStyle) -> Option<Point> {
        let width = font::width_mm(text, TEXT_MM);
        let sides: [(f64, f64); 5] = [(1.8, 1.1), (1.6, -1.4), (-1.6 - width, -1.4), (1.6, 3.6), (-1.6 - width, 3.6)];
        let farther = |steps: f64| sides.map(|(x, y)| point + Vec2::new(x, y + (y - 1.1).signum() * 2.0 * steps));
        let near = (0..NEAR_STEPS).map(f64::from).flat_map(farther);
        // The casts saturate.
        let (columns, rows) = ((self.width_mm / 4.0) as u32, self.height_mm as u32);
        let mut anywhere: Vec<Point> =
            (0..columns * rows).map(|i| Point::new(4.0 * f64::from(i % columns), f64::from(i / columns))).collect();
        let middle = Vec2::new(0.5 * width, 0.0);
        let off = |p: &Point| (*p + middle - point).hypot2();
        anywhere.sort_by(|a, b| off(a).total_cmp(&off(b)));
        let frame = self.frame();
        let inside = Rect::new(frame.x0, 0.0, self.width_mm, frame.y1);
        let places = near.chain(anywhere).filter(|&p| inside.contains_rect(style.bounds(p, text)));
        let led = |p: &Point| {
            let way = nearest(point, style.bounds(*p, text)) - point;
            let mut at = (0..).map(|i| OWN_LINE_MM + 0.5 * f64::from(i)).take_while(|mm| *mm < way.hypot());
            at.all(|mm| taken.is_free(Rect::from_center_size(point + way * (mm / way.hypot()), (0.1, 0.1))))
        };
        let mut crossed = None;
        let found = places.filter(|&p| taken.is_free(style.bounds(p, text))).find(|p| {
            let led = led(p);
            if !led {
                crossed.get_or_insert(*p);
            }
            led
        });
        let found = found.or(crossed)?;
        taken.take(style.bounds(found, text));
        Some(found)
    }

    /// Notes where the lines run, a small box every millimetre or so.
    fn take_lines(&self, taken: &mut Labels, at: &dyn Fn(f64, f64) -> Point) {
        let frame = self.frame();
        let wishes = self.wishes.iter().map(|wish| [frame.x0, frame.x1].map(|x| Point::new(x, at(0.0, wish.y).y)));
        let pairs = self.series.iter().flat_map(|series| series.points.windows(2));
        let pieces = pairs.filter_map(|pair| match pair {
            &[(x0, Some(y0)), (x1, Some(y1))] => Some([at(x0, y0), at(x1, y1)]),
            _ => None,
        });
        for pair in pieces.chain(wishes) {
            let steps = (pair[1] - pair[0]).hypot().ceil().clamp(1.0, 300.0);
            for i in 0..=steps as usize {
                let point = pair[0].lerp(pair[1], i as f64 / steps);
                taken.take(Rect::from_center_size(point, (0.6, 0.6)));
            }
        }
    }

    fn marks(&self, canvas: &mut Canvas, at: &dyn Fn(f64, f64) -> Point, mut taken: Labels) {
        let named: Vec<(Point, &str, TextStyle)> =
            self.marks.iter().map(|mark| (at(mark.x, mark.y), mark.text.as_str(), PLAIN)).collect();
        for (point, ..) in &named {
            taken.take(Rect::from_center_size(*point, (2.0, 2.0)));
        }
        self.beside(canvas, &mut taken, &named);
        for ((point, ..), mark) in named.iter().zip(&self.marks) {
            svg::dot(canvas, *point, mark.chosen, Tone::Ink);
        }
    }
}

/// The point of a box that is nearest to a point outside.
fn nearest(point: Point, name: Rect) -> Point {
    Point::new(point.x.clamp(name.x0, name.x1), point.y.clamp(name.y0, name.y1))
}

/// A thin line from a point to a name that does not stand beside it.
fn lead(canvas: &mut Canvas, point: Point, name: Rect) {
    let near = nearest(point, name);
    let way = near - point;
    if way.hypot() > FAR_MM {
        let from = point + way * (1.0 / way.hypot());
        canvas.line(from, near, &Pen::line(Tone::Soft, 0.15));
    }
}

fn name_style(emphasis: Emphasis) -> TextStyle {
    let style = PLAIN.coloured(tone(emphasis));
    if emphasis == Emphasis::Main { style.strong() } else { style }
}

fn range(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let (low, high) = values
        .filter(|value| value.is_finite())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
    if low <= high { (low, high) } else { (0.0, 1.0) }
}

fn tone(emphasis: Emphasis) -> Tone {
    match emphasis {
        Emphasis::Main => Tone::Accent,
        Emphasis::Compared => Tone::Second,
        Emphasis::Plain => Tone::Ink,
    }
}

fn shape(tone: Tone, width_mm: f64) -> ShapeStyle {
    let [r, g, b] = tone.rgb(Mode::Light);
    // The cast saturates.
    ShapeStyle { color: RGBColor(r, g, b).into(), filled: false, stroke_width: (width_mm * PER_MM).round() as u32 }
}

fn unit(mm: f64) -> i32 {
    // The cast saturates.
    (mm * PER_MM).round() as i32
}

/// Grid, axes and lines.
fn plotted(canvas: &mut Canvas, chart: &LineChart, frame: Rect, x: &Axis, y: &Axis) {
    let size = canvas.size_mm();
    let area = Backend(canvas).into_drawing_area();
    let built = ChartBuilder::on(&area)
        .margin_left(unit(MARGIN_MM))
        .margin_top(unit(frame.y0))
        .margin_right(unit(size.x - frame.x1))
        .margin_bottom(unit(MARGIN_MM + ROW_MM))
        .set_label_area_size(LabelAreaPosition::Left, unit(frame.x0 - MARGIN_MM))
        .set_label_area_size(LabelAreaPosition::Bottom, unit(size.y - MARGIN_MM - ROW_MM - frame.y1))
        .build_cartesian_2d(x.clone(), y.clone());
    if let Ok(mut plane) = built {
        // The canvas takes whatever it is given: its error type has no values.
        let _ = mesh(&mut plane, x, y);
        for series in chart.series.iter().rev() {
            lines(&mut plane, series);
        }
    }
}

type Context<'a, 'b> = ChartContext<'a, Backend<'b>, Cartesian2d<Axis, Axis>>;

fn mesh(plane: &mut Context<'_, '_>, x: &Axis, y: &Axis) -> Result<(), impl std::fmt::Debug> {
    let [r, g, b] = Tone::Soft.rgb(Mode::Light);
    let soft = RGBColor(r, g, b);
    let text = PlottersText::from((FontFamily::SansSerif, TEXT_MM * PER_MM)).color(&soft);
    plane
        .configure_mesh()
        .disable_x_mesh()
        .max_light_lines(0)
        .bold_line_style(shape(Tone::Grid, 0.18))
        .axis_style(shape(Tone::Grid, 0.18))
        .set_tick_mark_size(LabelAreaPosition::Left, unit(0.7))
        .set_tick_mark_size(LabelAreaPosition::Bottom, unit(1.0))
        .label_style(text)
        .x_label_formatter(&|value| figure(*value, x.decimals))
        .y_label_formatter(&|value| figure(*value, y.decimals))
        .draw()
}

/// A line, in pieces where it has gaps.
fn lines(plane: &mut Context<'_, '_>, series: &Series) {
    let width = match series.emphasis {
        Emphasis::Main => 0.7,
        Emphasis::Compared => 0.5,
        Emphasis::Plain => 0.35,
    };
    for piece in series.points.split(|(_, y)| y.is_none()) {
        let points: Vec<(f64, f64)> = piece.iter().filter_map(|&(x, y)| Some((x, y?))).collect();
        if points.len() > 1 {
            // See above: drawing on the canvas can't fail.
            let _ = plane.draw_series(LineSeries::new(points, shape(tone(series.emphasis), width)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn axes_are_marked_at_round_numbers() {
        let axis = Axis::over(1.3, 7.9, 6, true);
        assert_eq!((axis.low, axis.high, axis.decimals), (0.0, 8.0, 0));
        assert_eq!(axis.ticks, [0.0, 2.0, 4.0, 6.0, 8.0]);
        let axis = Axis::over(44.0, 52.0, 4, false);
        assert_eq!((axis.low, axis.high), (44.0, 52.0));
        assert_eq!(axis.ticks, [44.0, 46.0, 48.0, 50.0, 52.0]);
        let axis = Axis::over(1.02, 1.31, 6, true);
        assert_eq!(axis.decimals, 2);
        assert!(Axis::over(2.0, 2.0, 5, true).ticks.len() > 3);
    }

    #[test]
    fn lines_stand_where_plotters_puts_them() {
        let series =
            Series { name: "a".into(), points: vec![(0.0, Some(1.0)), (1.0, Some(3.0))], emphasis: Emphasis::Plain };
        let chart = LineChart {
            title: String::new(),
            description: String::new(),
            x_label: "x".into(),
            y_label: "y".into(),
            series: vec![series],
            marks: vec![],
            wishes: vec![],
            top: 0.0,
            width_mm: 90.0,
            height_mm: 60.0,
        };
        let svg = chart.draw("chart-test").to_file();
        let document = roxmltree::Document::parse(&svg).expect("valid XML");
        // The line by plotters and the dots by the chart have to agree within plotters' unit.
        let line = document
            .descendants()
            .filter(|node| node.has_tag_name("path"))
            .find(|node| node.parent().and_then(|group| group.attribute("stroke-width")) == Some(".35"))
            .expect("the line");
        let start: Vec<f64> = line.attribute("d").unwrap_or("")[1..]
            .split(['l', ' '])
            .take(2)
            .filter_map(|number| number.parse().ok())
            .collect();
        let dot = document.descendants().find(|node| node.has_tag_name("circle")).expect("a dot");
        let centre =
            ["cx", "cy"].map(|name| dot.attribute(name).and_then(|v| v.parse::<f64>().ok()).expect("a number"));
        assert!((start[0] - centre[0]).abs() < 0.021 && (start[1] - centre[1]).abs() < 0.021, "{start:?} {centre:?}");
    }
}
