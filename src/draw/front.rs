//! Front view of a pair as worn, seen by whoever faces the wearer: the right lens on the left, each in its box, with
//! all that puts the optics into the frame.
//!
//! Units: mm. x in the frame from the middle of the bridge, to the observer's right, y up from the horizontal centre
//! line. Nothing is known of the rim, the joints and the bridge itself: the bridge is a ghost between the lenses.

use super::dimension::{self, Beyond, Dimension, Rise, Run};
use super::font;
use super::label::Labels;
use super::map::{EdgePoint, boxed_centre, reference_point};
use super::number::figure;
use super::picture::Picture;
use super::style::{CENTRE, Colour, GHOST, GLASS, LETTER_MM, Pen, TEXT_MM, Tone};
use super::svg::{self, Anchor, Canvas, Grid, PLAIN, SOFT, TextStyle, View};
use crate::eye::{Eye, Eyes};
use crate::frame::{Boxing, Centration};
use crate::outline::Outline;
use kurbo::{BezPath, Circle, Point, Rect, Vec2};

/// One lens of the view.
#[derive(Clone, Debug)]
pub struct FrontLens<'a> {
    /// Its outline.
    pub outline: &'a Outline,
    /// Where its reference point lies.
    pub centration: Centration,
    /// From the middle of the bridge to the pupil.
    pub pd_mm: f64,
    /// Diameter of the least blank round the reference point.
    pub blank_mm: f64,
    /// The thickest point of its edge.
    pub thickest: EdgePoint,
    /// What is to be said of it, a sentence or two.
    pub said: String,
}

/// All that a front view shows.
#[derive(Clone, Debug)]
pub struct Front<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// The boxes.
    pub boxing: Boxing,
    /// Both lenses.
    pub lenses: Eyes<FrontLens<'a>>,
    /// Millimetres on paper for one of the frame.
    pub scale: f64,
}

/// From the boxes to the nearest row of dimensions, and between rows, on paper.
const ROW_MM: f64 = 6.0;
/// Between lines of words.
const PITCH_MM: f64 = 1.45 * TEXT_MM;
/// Lengths that print as nought are not drawn.
const LEAST_MM: f64 = 0.05;
/// What stands beside the scale.
const SEEN: &str = "seen from the front, as worn: right lens on the left";
/// Box lines: lighter than the outline in it.
const BOX: Pen = Pen::line(Tone::Soft, 0.18);
/// The directions in which the blank's diameter may be written, for the right lens, in degrees.
const BLANK_DEG: [f64; 9] = [135.0, 128.0, 142.0, 150.0, 120.0, 225.0, 232.0, 218.0, 210.0];

/// Between a blank's circle and its diameter.
const BLANK_LEADER_MM: f64 = 4.0;

/// A dimension with texts of its own.
struct Length {
    from: Point,
    to: Point,
    value: f64,
    figure: String,
    beyond: Beyond,
}

impl Front<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let view = View { origin: Point::ORIGIN, scale: self.scale };
        self.glass(&mut canvas, &view);
        self.datum(&mut canvas, &view);
        self.blanks(&mut canvas, &view);
        let rows = self.rows(&mut canvas, &view);
        let mut labels = Labels::new();
        for &text in canvas.texts() {
            labels.take(text);
        }
        self.marks(&mut canvas, &view, &mut labels);
        self.lifts(&mut canvas, &view, &mut labels);
        self.thickest(&mut canvas, &view, &mut labels);
        self.letters(&mut canvas, &view, &mut labels);
        self.blank_sizes(&mut canvas, &view, &mut labels);
        let right = canvas.inked().x1 + 2.5;
        for (name, height) in rows {
            canvas.text(Point::new(right, height + PLAIN.drop_mm()), name, &SOFT);
        }
        self.words(&mut canvas);
        canvas.finish("front", self.title, self.description)
    }

    /// The boxed centre of a lens.
    fn centre(&self, eye: Eye) -> Vec2 {
        Vec2::new(-0.5 * self.boxing.centre_distance_mm() * eye.nasal_sign(), 0.0)
    }

    fn reference(&self, eye: Eye) -> Vec2 {
        let centration = &self.lenses.of(eye).centration;
        self.centre(eye) + centration.point(eye)
    }

    fn box_of(&self, eye: Eye) -> Rect {
        Rect::from_center_size(self.centre(eye).to_point(), (self.boxing.eye_size_mm, self.boxing.depth_mm))
    }

    fn glass(&self, canvas: &mut Canvas, view: &View) {
        let start = self.box_of(Eye::Right).x1;
        let (from, to) =
            (Point::new(start, 0.12 * self.boxing.depth_mm), Point::new(-start, 0.12 * self.boxing.depth_mm));
        let bow = Vec2::new(0.0, 0.22 * (to.x - from.x));
        let mut bridge = BezPath::new();
        bridge.move_to(from);
        bridge.curve_to(from.lerp(to, 0.25) + bow, from.lerp(to, 0.75) + bow, to);
        canvas.path(&(view.affine() * bridge), Grid::Fine, &GHOST);
        for (eye, lens) in self.lenses.iter() {
            let centre = self.centre(eye);
            let moved = View { origin: view.at(centre.x, centre.y), scale: view.scale };
            canvas.path(&(moved.affine() * lens.outline.curve().path(0.001)), Grid::Coarse, &GLASS);
        }
    }

    /// Boxes, horizontal centre line, middle of the bridge.
    fn datum(&self, canvas: &mut Canvas, view: &View) {
        for eye in Eye::BOTH {
            let of = self.box_of(eye);
            canvas.rect(Rect::from_points(view.at(of.x0, of.y0), view.at(of.x1, of.y1)), &BOX);
        }
        let (half, end) = (0.5 * self.boxing.depth_mm, self.box_of(Eye::Left).x1 + 3.0);
        canvas.line(view.at(-end, 0.0), view.at(end, 0.0), &CENTRE);
        canvas.line(view.at(0.0, half), view.at(0.0, -half), &CENTRE);
    }

    fn blanks(&self, canvas: &mut Canvas, view: &View) {
        for (eye, lens) in self.lenses.iter() {
            let at = self.reference(eye);
            let circle = Circle::new(view.at(at.x, at.y), 0.5 * self.scale * lens.blank_mm);
            canvas.diameter(&format!("{}.blank.minimum_mm", eye.word()), circle, &GHOST);
        }
    }

    /// The dimensions in rows above and below the boxes, and the depth beside them; gives back what each row is and its
    /// height.
    fn rows(&self, canvas: &mut Canvas, view: &View) -> Vec<(&'static str, f64)> {
        let top = view.at(0.0, 0.5 * self.boxing.depth_mm).y;
        let bottom = view.at(0.0, -0.5 * self.boxing.depth_mm).y;
        let mut row = bottom;
        let mut names = vec![("boxed sizes", top - ROW_MM)];
        let mut all: Vec<(Length, Run, f64)> =
            self.sizes(view).into_iter().map(|l| (l, Run::Across, top - ROW_MM)).collect();
        let below = [
            ("decentration", self.decentrations(view)),
            ("reach", self.reaches(view, true)),
            ("reach", self.reaches(view, false)),
            ("pd", self.pds(view)),
        ];
        for (name, lengths) in below {
            if !lengths.is_empty() {
                row += ROW_MM;
                names.push((name, row));
                all.extend(lengths.into_iter().map(|length| (length, Run::Across, row)));
            }
        }
        let (depth, beside) = self.depth(view);
        all.push((depth, Run::Upward, beside));
        let texts: Vec<String> = all.iter().map(|(length, ..)| figure(length.value, 1)).collect();
        let dimensions: Vec<Dimension<'_>> = all
            .iter()
            .zip(&texts)
            .map(|((length, run, line_at), text)| Dimension {
                from: length.from,
                to: length.to,
                run: *run,
                line_at: *line_at,
                text,
                figure: &length.figure,
                beyond: length.beyond,
                bordered: true,
            })
            .collect();
        dimension::draw_all(canvas, &dimensions);
        names
    }

    /// Both eye sizes and the bridge between them.
    fn sizes(&self, view: &View) -> Vec<Length> {
        let [right, left] = Eye::BOTH.map(|eye| self.box_of(eye));
        let high = right.y1;
        [
            (right.x0, right.x1, self.boxing.eye_size_mm, "eye_size_mm"),
            (right.x1, left.x0, self.boxing.bridge_mm, "bridge_mm"),
            (left.x0, left.x1, self.boxing.eye_size_mm, "eye_size_mm"),
        ]
        .map(|(from, to, value, name)| Length {
            from: view.at(from, high),
            to: view.at(to, high),
            value,
            figure: name.to_owned(),
            beyond: Beyond::High,
        })
        .into()
    }

    /// From boxed centre to reference point, where that is anything; the number stands in the wider half of the lens.
    fn decentrations(&self, view: &View) -> Vec<Length> {
        let one = |(eye, lens): (Eye, &FrontLens<'_>)| {
            let (in_mm, centre, reference) = (lens.centration.in_mm, self.centre(eye), self.reference(eye));
            let beyond = toward(-eye.nasal_sign() * if in_mm < 0.0 { -1.0 } else { 1.0 });
            (in_mm.abs() >= LEAST_MM).then(|| Length {
                from: view.at(centre.x, centre.y),
                to: view.at(reference.x, reference.y),
                value: in_mm,
                figure: format!("{}.reference_point.in_mm", eye.word()),
                beyond,
            })
        };
        self.lenses.iter().filter_map(one).collect()
    }

    /// The reaches that have room for their numbers between their ends, or those that have none.
    fn reaches(&self, view: &View, roomy: bool) -> Vec<Length> {
        let mut lengths = Vec::new();
        for (eye, lens) in self.lenses.iter() {
            let (reach, reference, of) = (lens.centration.reach, self.reference(eye), self.box_of(eye));
            let (nasal_x, temporal_x) = if eye == Eye::Right { (of.x1, of.x0) } else { (of.x0, of.x1) };
            let sides = [("nasal", reach.nasal_mm, nasal_x, -1.0), ("temporal", reach.temporal_mm, temporal_x, 1.0)];
            for (name, value, side_x, away) in sides {
                if (self.scale * value >= Dimension::roomy_mm(&figure(value, 1))) == roomy {
                    lengths.push(Length {
                        from: view.at(reference.x, reference.y),
                        to: view.at(side_x, of.y0),
                        value,
                        figure: format!("{}.reach.{name}_mm", eye.word()),
                        beyond: toward(away * eye.nasal_sign()),
                    });
                }
            }
        }
        lengths
    }

    fn pds(&self, view: &View) -> Vec<Length> {
        let one = |(eye, lens): (Eye, &FrontLens<'_>)| {
            let reference = self.reference(eye);
            Length {
                from: view.at(0.0, -0.5 * self.boxing.depth_mm),
                to: view.at(reference.x, reference.y),
                value: lens.pd_mm,
                figure: format!("{}.pd_mm", eye.word()),
                beyond: toward(-eye.nasal_sign()),
            }
        };
        self.lenses.iter().map(one).collect()
    }

    /// The depth, left of all.
    fn depth(&self, view: &View) -> (Length, f64) {
        let of = self.box_of(Eye::Right);
        let blank = self.reference(Eye::Right).x - 0.5 * self.lenses.right.blank_mm;
        let length = Length {
            from: view.at(of.x0, of.y0),
            to: view.at(of.x0, of.y1),
            value: self.boxing.depth_mm,
            figure: "depth_mm".to_owned(),
            beyond: Beyond::High,
        };
        (length, view.at(of.x0.min(blank), 0.0).x - 4.0)
    }

    fn marks(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        for eye in Eye::BOTH {
            let (centre, reference) = (self.centre(eye), self.reference(eye));
            let (centre, reference) = (view.at(centre.x, centre.y), view.at(reference.x, reference.y));
            boxed_centre(canvas, centre, Tone::Ink.into());
            labels.take(Rect::from_center_size(centre, (2.0, 2.0)));
            reference_point(canvas, reference, Tone::Ink.into());
            labels.take(Rect::from_center_size(reference, (5.0, 5.0)));
        }
    }

    /// How far reference points lie above or below the horizontal centre line.
    fn lifts(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        for (eye, lens) in self.lenses.iter() {
            let up_mm = lens.centration.up_mm;
            if up_mm.abs() < LEAST_MM {
                continue;
            }
            let outward = -eye.nasal_sign() * if lens.centration.in_mm < 0.0 { -1.0 } else { 1.0 };
            let (centre, reference) = (self.centre(eye), self.reference(eye));
            let ends = [centre.x, reference.x];
            let beyond = if outward > 0.0 { ends[0].max(ends[1]) } else { ends[0].min(ends[1]) };
            let x = view.at(beyond, 0.0).x + 4.5 * outward;
            let (from, to) = (view.at(0.0, 0.0).y, view.at(0.0, up_mm).y);
            let mark = view.at(reference.x, reference.y);
            dimension::extension(canvas, mark + Vec2::new(1.6 * outward, 0.0), Point::new(x, mark.y));
            let rise = Rise {
                x,
                from,
                to,
                text: &figure(up_mm, 1),
                figure: &format!("{}.reference_point.up_mm", eye.word()),
                beside: toward(outward),
                on: Tone::Glass,
            };
            rise.draw(canvas);
            labels.take(rise.number());
        }
    }

    /// The thickest point of each lens, its thickness written inside.
    fn thickest(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        for (eye, lens) in self.lenses.iter() {
            let (centre, edge) = (self.centre(eye), &lens.thickest);
            let at = view.at(centre.x + edge.x, centre.y + edge.y);
            let text = figure(edge.thickness_mm, 1);
            let style = TextStyle { halo: Some(Colour::Tone(Tone::Glass)), ..PLAIN.anchored(Anchor::Middle) };
            labels.take(Rect::from_center_size(at, (2.4, 2.4)));
            let inward = (view.at(centre.x, centre.y) - at).atan2();
            let places = (0..36).map(|i| {
                let toward = Vec2::from_angle(inward + turned(i % 18, 0.16));
                let reach = 2.2 + 0.5 * font::width_mm(&text, TEXT_MM) * toward.x.abs() + 1.2 * toward.y.abs();
                at + (reach + if i < 18 { 0.0 } else { 3.0 }) * toward + Vec2::new(0.0, style.drop_mm())
            });
            if let Some(place) = labels.place(&text, &style, places) {
                canvas.figure(&format!("{}.thickness.edge_max_mm", eye.word()), place, &text, &style);
            }
            svg::dot(canvas, at, true, Tone::Ink);
        }
    }

    fn letters(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        for eye in Eye::BOTH {
            let style = PLAIN.anchored(Anchor::Middle).sized(LETTER_MM).strong();
            let (a, b) = (self.boxing.eye_size_mm, self.boxing.depth_mm);
            let spots = [(-0.27, 0.24), (-0.27, -0.24), (0.27, 0.24), (0.27, -0.24), (0.0, 0.3), (0.0, -0.3)];
            let places = spots.map(|(across, up)| {
                let centre = self.centre(eye);
                view.at(centre.x + across * a * eye.nasal_sign(), up * b) + Vec2::new(0.0, style.drop_mm())
            });
            if let Some(place) = labels.place(eye.letter(), &style, places) {
                canvas.text(place, eye.letter(), &style);
            }
        }
    }

    /// The blanks' diameters, each at its circle.
    fn blank_sizes(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        for (eye, lens) in self.lenses.iter() {
            let outward = -eye.nasal_sign();
            let text = format!("⌀ {}", figure(lens.blank_mm, 1));
            let anchor = if outward < 0.0 { Anchor::End } else { Anchor::Start };
            let style = TextStyle { halo: Some(Colour::Tone(Tone::Paper)), ..SOFT.anchored(anchor) };
            let middle = self.reference(eye);
            let middle = view.at(middle.x, middle.y);
            let radius = 0.5 * self.scale * lens.blank_mm;
            let toward = |deg: f64| {
                let (sin, cos) = deg.to_radians().sin_cos();
                Vec2::new(-outward * cos, -sin)
            };
            let off =
                |toward: Vec2| middle + (radius + BLANK_LEADER_MM) * toward + Vec2::new(0.6 * outward, style.drop_mm());
            let found = BLANK_DEG.into_iter().find(|&deg| labels.is_free(style.bounds(off(toward(deg)), &text)));
            let way = toward(found.unwrap_or(BLANK_DEG[0]));
            let (tip, end) = (middle + radius * way, middle + (radius + BLANK_LEADER_MM) * way);
            canvas.line(tip, end, &super::style::DIMENSION);
            dimension::arrow(canvas, tip, -way);
            canvas.figure(&format!("{}.blank.minimum_mm", eye.word()), off(way), &text, &style);
            labels.take(style.bounds(off(way), &text));
        }
    }

    /// What is said of each lens, the key and the scale, below all.
    fn words(&self, canvas: &mut Canvas) {
        let inked = canvas.inked();
        let mut at = Point::new(inked.x0, inked.y1 + 2.0 + PITCH_MM);
        for (eye, lens) in self.lenses.iter() {
            canvas.text(at, eye.letter(), &PLAIN.strong());
            for line in font::wrapped(&lens.said, TEXT_MM, inked.width() - 5.0) {
                canvas.text(at + Vec2::new(5.0, 0.0), &line, &PLAIN);
                at.y += PITCH_MM;
            }
        }
        at.y += 1.0;
        self.key(canvas, &mut at, inked.width());
        dimension::scale_bar(canvas, Point::new(inked.x0, at.y), self.scale, SEEN);
    }

    fn key(&self, canvas: &mut Canvas, at: &mut Point, width_mm: f64) {
        let from = at.x;
        let marks = ["reference point, at the pd", "boxed centre", "thickest edge", "least blank"];
        for (i, text) in marks.into_iter().enumerate() {
            let run = 5.6 + font::width_mm(text, TEXT_MM) + 4.0;
            if at.x > from && at.x + run - 4.0 > from + width_mm {
                *at = Point::new(from, at.y + PITCH_MM);
            }
            let mark = *at + Vec2::new(2.2, -PLAIN.drop_mm());
            match i {
                0 => reference_point(canvas, mark, Tone::Ink.into()),
                1 => boxed_centre(canvas, mark, Tone::Ink.into()),
                2 => svg::dot(canvas, mark, true, Tone::Ink),
                _ => canvas.line(mark - Vec2::new(2.2, 0.0), mark + Vec2::new(2.2, 0.0), &GHOST),
            }
            canvas.text(*at + Vec2::new(5.6, 0.0), text, &SOFT);
            at.x += run;
        }
        *at = Point::new(from, at.y + 1.35 * PITCH_MM);
    }
}

/// Beyond which end something stands that goes this way along x.
fn toward(way: f64) -> Beyond {
    if way > 0.0 { Beyond::High } else { Beyond::Low }
}

/// 0, +1, −1, +2, −2, … steps.
fn turned(i: u32, step: f64) -> f64 {
    f64::from(i.div_ceil(2)) * step * if i.is_multiple_of(2) { 1.0 } else { -1.0 }
}
