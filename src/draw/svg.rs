//! The one writer of SVG: a canvas in millimetres that rounds every number, escapes every text, and remembers the box
//! of every text so that tests can ask whether two of them meet.
//!
//! Units: mm on paper, x to the right, y **down** from the top left corner, as SVG has it. Drawings are made in their
//! own millimetres with y up; a [`View`] is the one place where they are scaled and turned over.

use super::font;
use super::number::{self, Mm};
use super::picture::{FOR_FILES, ID_PREFIX, Picture};
use super::style::{self, Colour, Mode, Pen, TEXT_MM, Tone, hex};
use kurbo::{Affine, BezPath, Circle, PathEl, Point, Rect, Shape as _, Vec2};
use maud::{Render, html};
use std::f64::consts::FRAC_PI_2;

/// Where a drawing with y up comes to stand on the sheet, and at which scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Where the drawing's origin lies on the sheet.
    pub origin: Point,
    /// Millimetres on paper for one of the drawing.
    pub scale: f64,
}

impl View {
    /// A point of the drawing, on the sheet.
    #[must_use]
    pub fn at(&self, x: f64, y: f64) -> Point {
        Point::new(self.origin.x + self.scale * x, self.origin.y - self.scale * y)
    }

    /// The same as a map for whole paths.
    #[must_use]
    pub fn affine(&self) -> Affine {
        Affine::new([self.scale, 0.0, 0.0, -self.scale, self.origin.x, self.origin.y])
    }
}

/// The grid that the points of a path are rounded to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grid {
    /// 0.001 mm, for shapes that may be measured.
    Fine,
    /// 0.01 mm, half of what a good printer resolves, for lines of many points.
    Coarse,
}

impl Grid {
    fn thousandths(self) -> i64 {
        match self {
            Grid::Fine => 1,
            Grid::Coarse => 10,
        }
    }
}

/// Which part of a text stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// How a text looks: what a run of texts has in common.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextStyle {
    /// Height of the letters' body.
    pub size_mm: f64,
    /// Its colour.
    pub colour: Colour,
    /// Which part stands at the point.
    pub anchor: Anchor,
    /// Thicker.
    pub strong: bool,
    /// A border of this colour that keeps lines away from the letters.
    pub halo: Option<Colour>,
}

/// Ordinary text of a picture.
pub const PLAIN: TextStyle =
    TextStyle { size_mm: TEXT_MM, colour: Colour::Tone(Tone::Ink), anchor: Anchor::Start, strong: false, halo: None };
/// Words beside the matter.
pub const SOFT: TextStyle = TextStyle { colour: Colour::Tone(Tone::Soft), ..PLAIN };

impl TextStyle {
    /// The same with another anchor.
    #[must_use]
    pub const fn anchored(self, anchor: Anchor) -> TextStyle {
        TextStyle { anchor, ..self }
    }

    /// The same, thicker.
    #[must_use]
    pub const fn strong(self) -> TextStyle {
        TextStyle { strong: true, ..self }
    }

    /// The same in another size.
    #[must_use]
    pub const fn sized(self, size_mm: f64) -> TextStyle {
        TextStyle { size_mm, ..self }
    }

    /// The same in another colour.
    #[must_use]
    pub fn coloured(self, colour: impl Into<Colour>) -> TextStyle {
        TextStyle { colour: colour.into(), ..self }
    }

    /// The box of a text that stands at this point of its base line.
    #[must_use]
    pub fn bounds(&self, at: Point, text: &str) -> Rect {
        let width = font::width_mm(text, self.size_mm);
        let left = match self.anchor {
            Anchor::Start => at.x,
            Anchor::Middle => at.x - 0.5 * width,
            Anchor::End => at.x - width,
        };
        let (above, below) = (font::CAP_HEIGHT * self.size_mm, font::DESCENT * self.size_mm);
        Rect::new(left, at.y - above, left + width, at.y + below)
    }

    /// How far below the middle of its capitals the base line of a text runs.
    #[must_use]
    pub fn drop_mm(&self) -> f64 {
        0.5 * font::CAP_HEIGHT * self.size_mm
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Open {
    Pen(Pen),
    Text(TextStyle),
}

/// A sheet to draw on. What follows one another in the same pen or text style shares one group, which keeps pictures
/// small.
#[derive(Debug)]
pub struct Canvas {
    sheet: Option<Rect>,
    inked: Option<Rect>,
    body: String,
    open: Option<Open>,
    /// Data of paths without a name that follow one another in one pen: they become one element.
    run: String,
    shapes: usize,
    texts: Vec<Rect>,
}

/// A shape that is on a canvas already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shape(usize);

/// Space left round the ink of an endless sheet.
pub const MARGIN_MM: f64 = 2.0;

impl Canvas {
    /// An empty sheet of this size.
    #[must_use]
    pub fn new(width_mm: f64, height_mm: f64) -> Canvas {
        Canvas { sheet: Some(Rect::new(0.0, 0.0, width_mm, height_mm)), ..Canvas::endless() }
    }

    /// An empty sheet without end: it is cut to what was drawn, with a margin, when the picture is finished.
    #[must_use]
    pub fn endless() -> Canvas {
        Canvas {
            sheet: None,
            inked: None,
            body: String::new(),
            open: None,
            run: String::new(),
            shapes: 0,
            texts: Vec::new(),
        }
    }

    /// What is drawn so far lies in this box (control points of curves count).
    #[must_use]
    pub fn inked(&self) -> Rect {
        self.inked.unwrap_or(Rect::ZERO)
    }

    fn sheet(&self) -> Rect {
        // Out to whole tenths: nobody measures the sheet.
        let out = |mm: f64, way: f64| way * (10.0 * way * mm).ceil() / 10.0;
        self.sheet.unwrap_or_else(|| {
            let Rect { x0, y0, x1, y1 } = self.inked().inflate(MARGIN_MM, MARGIN_MM);
            Rect::new(out(x0, -1.0), out(y0, -1.0), out(x1, 1.0), out(y1, 1.0))
        })
    }

    fn ink(&mut self, place: Rect) {
        self.inked = Some(self.inked.map_or(place, |inked| inked.union(place)));
    }

    /// Its size.
    #[must_use]
    pub fn size_mm(&self) -> Vec2 {
        self.sheet().size().to_vec2()
    }

    /// The boxes of all texts so far.
    #[must_use]
    pub fn texts(&self) -> &[Rect] {
        &self.texts
    }

    /// A path in sheet coordinates.
    pub fn path(&mut self, path: &BezPath, grid: Grid, pen: &Pen) {
        self.turn_to(Open::Pen(*pen));
        self.ink(path.control_box());
        self.run.push_str(&path_data(path, grid));
        // Where one shape may hide another each keeps an element of its own.
        if pen.fill.is_some() && pen.stroke.is_some() {
            self.flush();
        }
    }

    /// A shape that is wanted [`again`](Canvas::again).
    pub fn shape(&mut self, path: &BezPath, grid: Grid, pen: &Pen) -> Shape {
        self.turn_to(Open::Pen(*pen));
        self.flush();
        self.ink(path.control_box());
        let shape = self.next_shape();
        let data = path_data(path, grid);
        self.body.push_str(&format!("<path id=\"{ID_PREFIX}s{}\" d=\"{data}\"/>", shape.0));
        shape
    }

    /// The same shape in another pen.
    pub fn again(&mut self, shape: Shape, pen: &Pen) {
        self.turn_to(Open::Pen(*pen));
        self.flush();
        self.body.push_str(&format!("<use href=\"#{ID_PREFIX}s{}\"/>", shape.0));
    }

    fn next_shape(&mut self) -> Shape {
        self.shapes += 1;
        Shape(self.shapes)
    }

    fn flush(&mut self) {
        if !self.run.is_empty() {
            let data = std::mem::take(&mut self.run);
            html! { path d=(data) {} }.render_to(&mut self.body);
        }
    }

    /// A line that is as long as a figure says, to scale: whoever reads the file finds the figure's name with it
    /// (`data-mm`; none where the name is empty).
    pub fn length(&mut self, figure: &str, from: Point, to: Point, pen: &Pen) {
        if figure.is_empty() {
            self.line(from, to, pen);
            return;
        }
        self.turn_to(Open::Pen(*pen));
        self.flush();
        self.ink(Rect::from_points(from, to));
        let data = path_data(&through(&[from, to], false), Grid::Fine);
        self.start_named("path", figure);
        self.body.push_str(&format!(" d=\"{data}\"/>"));
    }

    /// A line.
    pub fn line(&mut self, from: Point, to: Point, pen: &Pen) {
        self.polyline(&[from, to], Grid::Fine, pen);
    }

    /// A line through points.
    pub fn polyline(&mut self, points: &[Point], grid: Grid, pen: &Pen) {
        self.path(&through(points, false), grid, pen);
    }

    /// A closed line through points.
    pub fn polygon(&mut self, points: &[Point], pen: &Pen) {
        self.path(&through(points, true), Grid::Fine, pen);
    }

    /// A rectangle.
    pub fn rect(&mut self, rect: Rect, pen: &Pen) {
        self.turn_to(Open::Pen(*pen));
        self.flush();
        self.ink(rect);
        html! { rect x=(Mm(rect.x0)) y=(Mm(rect.y0)) width=(Mm(rect.width())) height=(Mm(rect.height())) {} }
            .render_to(&mut self.body);
    }

    /// A circle.
    pub fn circle(&mut self, circle: Circle, pen: &Pen) {
        self.diameter("", circle, pen);
    }

    /// A circle that is as wide as a figure says, as [`length`](Canvas::length) is long.
    pub fn diameter(&mut self, figure: &str, circle: Circle, pen: &Pen) {
        self.turn_to(Open::Pen(*pen));
        self.flush();
        self.ink(circle.bounding_box());
        let Circle { center, radius } = circle;
        self.start_named("circle", figure);
        let [x, y, r] = [center.x, center.y, radius].map(written);
        self.body.push_str(&format!(" cx=\"{x}\" cy=\"{y}\" r=\"{r}\"/>"));
    }

    /// A text, its base line through this point.
    pub fn text(&mut self, at: Point, text: &str, style: &TextStyle) {
        self.figure("", at, text, style);
    }

    /// A text that writes a figure of this name, as [`length`](Canvas::length) draws it.
    pub fn figure(&mut self, figure: &str, at: Point, text: &str, style: &TextStyle) {
        self.turn_to(Open::Text(*style));
        self.texts.push(style.bounds(at, text));
        self.ink(style.bounds(at, text));
        self.start_named("text", figure);
        self.body.push_str(&format!(" x=\"{}\" y=\"{}\">", hundredth(at.x), hundredth(at.y)));
        self.end_text(text);
    }

    /// The same reading upward, its base line through this point.
    pub fn figure_upward(&mut self, figure: &str, at: Point, text: &str, style: &TextStyle) {
        self.turn_to(Open::Text(*style));
        let lying = style.bounds(Point::ORIGIN, text);
        let place = (Affine::translate(at.to_vec2()) * Affine::rotate(-FRAC_PI_2)).transform_rect_bbox(lying);
        self.texts.push(place);
        self.ink(place);
        let turned = format!("translate({} {})rotate(-90)", hundredth(at.x), hundredth(at.y));
        self.start_named("text", figure);
        self.body.push_str(&format!(" transform=\"{turned}\">"));
        self.end_text(text);
    }

    /// A text that reads upward, its base line through this point.
    pub fn text_upward(&mut self, at: Point, text: &str, style: &TextStyle) {
        self.figure_upward("", at, text, style);
    }

    /// What `draw` draws, cut off at a closed path; `draw` is told which shape that is, and so is the caller.
    pub fn clipped(&mut self, outline: &BezPath, draw: impl FnOnce(&mut Canvas, Shape)) -> Shape {
        self.close();
        let shape = self.next_shape();
        let (id, data) = (shape.0, path_data(outline, Grid::Fine));
        self.body.push_str(&format!(
            "<clipPath id=\"{ID_PREFIX}c{id}\"><path id=\"{ID_PREFIX}s{id}\" d=\"{data}\"/></clipPath>"
        ));
        self.ink(outline.bounding_box());
        self.body.push_str(&format!("<g clip-path=\"url(#{ID_PREFIX}c{id})\">"));
        draw(self, shape);
        self.close();
        self.body.push_str("</g>");
        shape
    }

    /// What `draw` draws, as a group of this class (a plain word of ours).
    pub fn group(&mut self, class: &'static str, draw: impl FnOnce(&mut Canvas)) {
        self.close();
        self.body.push_str(&format!("<g class=\"{class}\">"));
        draw(self);
        self.close();
        self.body.push_str("</g>");
    }

    /// The finished picture.
    #[must_use]
    pub fn finish(mut self, kind: &'static str, title: &str, description: &str) -> Picture {
        self.close();
        let sheet = self.sheet();
        let mut body = self.body;
        for element in ["path", "circle", "rect"] {
            body = body.replace(&format!("></{element}>"), "/>");
        }
        Picture {
            kind,
            title: clean(title),
            description: clean(description),
            width_mm: sheet.width(),
            height_mm: sheet.height(),
            corner: sheet.origin(),
            body,
            texts: self.texts.iter().map(|&text| text - sheet.origin().to_vec2()).collect(),
        }
    }

    fn close(&mut self) {
        self.flush();
        if self.open.take().is_some() {
            self.body.push_str("</g>");
        }
    }

    fn turn_to(&mut self, style: Open) {
        if self.open == Some(style) {
            return;
        }
        self.close();
        self.open = Some(style);
        match style {
            Open::Pen(pen) => self.open_pen(&pen),
            Open::Text(text) => self.open_text(&text),
        }
    }

    fn open_pen(&mut self, pen: &Pen) {
        let mut looks = Vec::new();
        if pen.stroke.is_some() {
            looks.push(("stroke-width", written(pen.width_mm)));
        }
        if let Some(dashes) = pen.dash.array() {
            looks.push(("stroke-dasharray", dashes.to_owned()));
        }
        self.open_group(pen.fill, pen.stroke, &looks);
    }

    fn open_text(&mut self, style: &TextStyle) {
        let border = match (style.halo, style.strong) {
            (Some(halo), _) => Some((halo, 0.45)),
            (None, true) => Some((style.colour, 0.05)),
            (None, false) => None,
        };
        let mut looks = vec![("font-size", written(style.size_mm))];
        if let Some((_, share)) = border {
            looks.push(("stroke-width", written(share * style.size_mm)));
        }
        if style.halo.is_some() {
            looks.push(("paint-order", "stroke".to_owned()));
        }
        match style.anchor {
            Anchor::Start => {}
            Anchor::Middle => looks.push(("text-anchor", "middle".to_owned())),
            Anchor::End => looks.push(("text-anchor", "end".to_owned())),
        }
        self.open_group(Some(style.colour), border.map(|(colour, _)| colour), &looks);
    }

    /// A group of these colours and looks: what the page's style sheet has a class for stands as an attribute for files
    /// only.
    fn open_group(&mut self, fill: Option<Colour>, stroke: Option<Colour>, looks: &[(&str, String)]) {
        let tone = |letter: char, colour| match colour {
            Some(Colour::Tone(tone)) => Some(format!("{letter}-{}", tone.word())),
            Some(Colour::Fixed(_)) | None => None,
        };
        let usual = looks.iter().filter_map(|(name, value)| style::class_of(name, value)).map(str::to_owned);
        let usual = usual.filter(|class| !class.is_empty());
        let classes: Vec<String> = tone('f', fill).into_iter().chain(tone('s', stroke)).chain(usual).collect();
        self.body.push_str("<g");
        if !classes.is_empty() {
            self.attribute("class", &classes.join(" "));
        }
        self.colour("fill", fill);
        if stroke.is_some() {
            self.colour("stroke", stroke);
        }
        for (name, value) in looks {
            if style::class_of(name, value).is_some() {
                self.for_files(name, value);
            } else {
                self.attribute(name, value);
            }
        }
        self.body.push('>');
    }

    /// The start of an element, up to its own attributes.
    fn start_named(&mut self, element: &str, figure: &str) {
        self.body.push_str(&format!("<{element}"));
        if !figure.is_empty() {
            self.for_files("data-mm", figure);
        }
    }

    fn end_text(&mut self, text: &str) {
        html! { (clean(text)) }.render_to(&mut self.body);
        self.body.push_str("</text>");
    }

    /// An attribute that a page has no need of: its style sheet says the same, or nothing reads it there.
    fn for_files(&mut self, name: &str, value: &str) {
        self.body.push(FOR_FILES);
        let attribute = html! { (value) }.into_string();
        self.body.push_str(&format!(" {name}=\"{attribute}\""));
        self.body.push(FOR_FILES);
    }

    fn attribute(&mut self, name: &str, value: &str) {
        self.body.push_str(&format!(" {name}=\"{value}\""));
    }

    fn colour(&mut self, name: &str, colour: Option<Colour>) {
        match colour {
            Some(Colour::Tone(tone)) => self.for_files(name, &hex(tone.rgb(Mode::Light))),
            Some(Colour::Fixed(rgb)) => self.attribute(name, &hex(rgb)),
            None => self.for_files(name, "none"),
        }
    }
}

/// Where a text stands: 0.01 mm.
fn hundredth(mm: f64) -> String {
    written((100.0 * mm).round() / 100.0)
}

fn written(mm: f64) -> String {
    Mm(mm).render().into_string()
}

/// A text without what XML forbids.
fn clean(text: &str) -> String {
    text.chars().filter(|sign| !sign.is_control() && !matches!(sign, '\u{fffe}' | '\u{ffff}')).collect()
}

/// A path through points.
#[must_use]
pub(super) fn through(points: &[Point], closed: bool) -> BezPath {
    let mut path = BezPath::new();
    for (i, &point) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(point);
        } else {
            path.line_to(point);
        }
    }
    if closed && !points.is_empty() {
        path.close_path();
    }
    path
}

/// The `d` of a path: points rounded to the grid first, then written as steps, so that rounding never adds up.
fn path_data(path: &BezPath, grid: Grid) -> String {
    let mut data = Data {
        out: String::new(),
        grid: grid.thousandths(),
        last: (0, 0),
        start: (0, 0),
        command: ' ',
        fraction: false,
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => {
                data.step('M', &[p]);
                data.start = data.last;
            }
            PathEl::LineTo(p) => data.step('l', &[p]),
            PathEl::QuadTo(p1, p) => data.step('q', &[p1, p]),
            PathEl::CurveTo(p1, p2, p) => data.step('c', &[p1, p2, p]),
            PathEl::ClosePath => {
                data.out.push('z');
                data.command = 'z';
                data.last = data.start;
            }
        }
    }
    data.out
}

struct Data {
    out: String,
    grid: i64,
    last: (i64, i64),
    start: (i64, i64),
    command: char,
    /// Has the last number a point?
    fraction: bool,
}

impl Data {
    fn step(&mut self, command: char, points: &[Point]) {
        let from = if command == 'M' { (0, 0) } else { self.last };
        let rounded = |p: &Point| (self.snapped(p.x), self.snapped(p.y));
        let to: Vec<(i64, i64)> = points.iter().map(rounded).collect();
        let end = to.last().copied().unwrap_or(from);
        if command == 'l' {
            match (end.0 - from.0, end.1 - from.1) {
                (0, 0) => return,
                (0, up) => return self.straight('v', up, end),
                (along, 0) => return self.straight('h', along, end),
                _ => {}
            }
        }
        if command != self.command {
            self.out.push(command);
            self.command = command;
        }
        for (x, y) in to {
            self.number(x - from.0);
            self.number(y - from.1);
        }
        self.last = end;
    }

    /// A step along one axis alone.
    fn straight(&mut self, command: char, step: i64, end: (i64, i64)) {
        if command != self.command {
            self.out.push(command);
            self.command = command;
        }
        self.number(step);
        self.last = end;
    }

    fn snapped(&self, mm: f64) -> i64 {
        let value = number::thousandths(mm);
        (value + self.grid / 2).div_euclid(self.grid) * self.grid
    }

    fn number(&mut self, value: i64) {
        let start = self.out.len();
        number::push_thousandths(&mut self.out, value);
        // A sign starts a number of its own, and so does a point after a number that has one already.
        let (before, written) = self.out.split_at(start);
        let after_fraction = written.starts_with('.') && self.fraction;
        if !written.starts_with('-') && !after_fraction && before.ends_with(|c: char| c.is_ascii_digit()) {
            self.out.insert(start, ' ');
        }
        self.fraction = value % 1000 != 0;
    }
}

/// A small upright cross.
pub fn cross(canvas: &mut Canvas, at: Point, arm_mm: f64, pen: &Pen) {
    let (across, along) = (Vec2::new(arm_mm, 0.0), Vec2::new(0.0, arm_mm));
    let mut path = through(&[at - across, at + across], false);
    path.extend(through(&[at - along, at + along], false));
    canvas.path(&path, Grid::Fine, pen);
}

/// A filled disc (`full`) or a ring, of the size that marks a point.
pub fn dot(canvas: &mut Canvas, at: Point, full: bool, colour: impl Into<Colour>) {
    let (colour, paper) = (colour.into(), Colour::Tone(Tone::Paper));
    let (fill, stroke, radius) = if full { (colour, paper, 1.05) } else { (paper, colour, 0.85) };
    let pen = Pen { stroke: Some(stroke), fill: Some(fill), ..Pen::line(Tone::Ink, 0.4) };
    canvas.circle(Circle::new(at, radius), &pen);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::style::{GRID, OUTLINE};

    #[test]
    fn paths_are_written_as_steps_that_do_not_add_up_errors() {
        let points: Vec<Point> = (0..2000).map(|i| Point::new(f64::from(i) * 0.0333, 1.0)).collect();
        let data = path_data(&through(&points, false), Grid::Coarse);
        let steps: f64 = data[1..]
            .split('h')
            .nth(1)
            .expect("a line")
            .replace('.', " .")
            .split_whitespace()
            .map(|step| step.parse::<f64>().expect("a number"))
            .sum();
        assert!((steps - 1999.0 * 0.0333).abs() <= 0.005 + 1e-9, "{steps}");
        assert!(!data.contains("-0 ") && !data.contains('e'));
    }

    #[test]
    fn a_closed_path_goes_on_from_its_start() {
        let mut path = through(&[Point::new(1.0, 1.0), Point::new(2.0, 1.0), Point::new(2.0, 3.0)], true);
        path.extend(through(&[Point::new(5.0, 5.0), Point::new(6.5, 5.0)], false));
        assert_eq!(path_data(&path, Grid::Fine), "M1 1h1v2zM5 5h1.5");
    }

    #[test]
    fn the_view_turns_over_once() {
        let view = View { origin: Point::new(10.0, 20.0), scale: 2.0 };
        assert_eq!(view.at(1.0, 3.0), Point::new(12.0, 14.0));
        assert_eq!(view.affine() * Point::new(1.0, 3.0), view.at(1.0, 3.0));
    }

    #[test]
    fn neighbours_in_one_style_share_a_group_and_texts_are_escaped() {
        let mut canvas = Canvas::new(10.0, 10.0);
        canvas.line(Point::new(0.0, 0.0), Point::new(1.0, 0.0), &OUTLINE);
        canvas.line(Point::new(0.0, 1.0), Point::new(1.0, 1.0), &OUTLINE);
        canvas.line(Point::new(0.0, 2.0), Point::new(1.0, 2.0), &GRID);
        canvas.text(Point::new(1.0, 5.0), "a<b & \u{1}\"c\"", &PLAIN);
        let svg = canvas.finish("test", "x", "y").to_file();
        assert_eq!(svg.matches("stroke=\"#1b222b\"").count(), 1);
        assert!(svg.contains("a&lt;b &amp; &quot;c&quot;"), "{svg}");
        roxmltree::Document::parse(&svg).expect("valid XML");
    }

    #[test]
    fn boxes_of_texts_follow_anchor_and_turn() {
        let mut canvas = Canvas::new(50.0, 50.0);
        let at = Point::new(20.0, 20.0);
        canvas.text(at, "000", &PLAIN.anchored(Anchor::Middle).sized(10.0));
        canvas.text_upward(at, "000", &PLAIN.sized(10.0));
        let [flat, upward] = [canvas.texts()[0], canvas.texts()[1]];
        assert!((flat.width() - 17.16).abs() < 1e-9 && (flat.center().x - 20.0).abs() < 1e-9);
        assert!((upward.height() - 17.16).abs() < 1e-9 && (upward.y1 - 20.0).abs() < 1e-9);
        assert!((upward.x0 - (20.0 - 7.14)).abs() < 1e-9, "{upward:?}");
    }
}
