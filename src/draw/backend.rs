//! The canvas as a drawing backend of the plotters library, at a hundredth of a millimetre.
//!
//! Units: 1/100 mm. Sizes of text are in the same unit; colours that are a tone's become that tone.

use super::font;
use super::style::{Colour, Dash, Pen, Tone};
use super::svg::{Anchor, Canvas, Grid, PLAIN, TextStyle};
use kurbo::{Circle, Point, Rect, Vec2};
use plotters_backend::text_anchor::{HPos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind, FontTransform,
};
use std::convert::Infallible;

/// Units of plotters in a millimetre.
pub(super) const PER_MM: f64 = 100.0;

/// Holds the canvas itself, since the library asks for a backend by value.
pub(super) struct Backend<'a>(pub(super) &'a mut Canvas);

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

fn point((x, y): BackendCoord) -> Point {
    Point::new(f64::from(x) / PER_MM, f64::from(y) / PER_MM)
}

fn colour(colour: BackendColor) -> Colour {
    let (r, g, b) = colour.rgb;
    Tone::of_rgb(colour.rgb).map_or(Colour::Fixed([r, g, b]), Colour::Tone)
}

fn line<S: BackendStyle>(style: &S) -> Pen {
    let width_mm = f64::from(style.stroke_width()) / PER_MM;
    Pen { stroke: Some(colour(style.color())), fill: None, width_mm, dash: Dash::Solid }
}

fn line_or_fill<S: BackendStyle>(style: &S, fill: bool) -> Pen {
    if fill { Pen::filled(colour(style.color())) } else { line(style) }
}

fn text_style<S: BackendTextStyle>(style: &S) -> TextStyle {
    let anchor = match style.anchor().h_pos {
        HPos::Left => Anchor::Start,
        HPos::Center => Anchor::Middle,
        HPos::Right => Anchor::End,
    };
    TextStyle { size_mm: style.size() / PER_MM, colour: colour(style.color()), anchor, ..PLAIN }
}

impl DrawingBackend for Backend<'_> {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        let size = self.0.size_mm() * PER_MM;
        // Casts of floats saturate.
        (size.x.round() as u32, size.y.round() as u32)
    }

    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }

    fn present(&mut self) -> Drawn {
        Ok(())
    }

    fn draw_pixel(&mut self, at: BackendCoord, shade: BackendColor) -> Drawn {
        let corner = point(at);
        self.0.rect(Rect::from_origin_size(corner, (1.0 / PER_MM, 1.0 / PER_MM)), &Pen::filled(colour(shade)));
        Ok(())
    }

    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Drawn {
        self.0.line(point(from), point(to), &line(style));
        Ok(())
    }

    fn draw_rect<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S, fill: bool) -> Drawn {
        self.0.rect(Rect::from_points(point(from), point(to)), &line_or_fill(style, fill));
        Ok(())
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, path: I, style: &S) -> Drawn {
        let points: Vec<Point> = path.into_iter().map(point).collect();
        self.0.polyline(&points, Grid::Coarse, &line(style));
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(&mut self, centre: BackendCoord, radius: u32, style: &S, fill: bool) -> Drawn {
        self.0.circle(Circle::new(point(centre), f64::from(radius) / PER_MM), &line_or_fill(style, fill));
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, around: I, style: &S) -> Drawn {
        let points: Vec<Point> = around.into_iter().map(point).collect();
        self.0.polygon(&points, &line_or_fill(style, true));
        Ok(())
    }

    fn draw_text<S: BackendTextStyle>(&mut self, text: &str, style: &S, at: BackendCoord) -> Drawn {
        let ours = text_style(style);
        let drop = match style.anchor().v_pos {
            VPos::Top => font::CAP_HEIGHT * ours.size_mm,
            VPos::Center => ours.drop_mm(),
            VPos::Bottom => 0.0,
        };
        match style.transform() {
            FontTransform::None => self.0.text(point(at) + Vec2::new(0.0, drop), text, &ours),
            _ => self.0.text_upward(point(at) + Vec2::new(drop, 0.0), text, &ours),
        }
        Ok(())
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        text: &str,
        style: &S,
    ) -> Result<(u32, u32), DrawingErrorKind<Infallible>> {
        let width = font::width_mm(text, style.size());
        // Casts of floats saturate.
        Ok((width.ceil() as u32, (font::CAP_HEIGHT * style.size()).ceil() as u32))
    }
}
