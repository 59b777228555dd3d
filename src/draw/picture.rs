//! A finished picture: what it shows in words, its size, and its drawing, ready for a file of its own or for a page
//! that holds many.
//!
//! Units: mm.

use super::font;
use super::number::Mm;
use super::style::{Mode, TEXT_MM, Tone, hex};
use kurbo::{Point, Rect};
use maud::{Markup, PreEscaped, Render, html};

/// Stands for the prefix of ids until a picture is placed: no text can hold it, since it is not allowed in XML.
pub(super) const ID_PREFIX: char = '\u{1}';

/// Stands before and after what a file wants and a page does without; no text can hold it either.
pub(super) const FOR_FILES: char = '\u{2}';

/// A picture.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Picture {
    /// The word that its file's name begins with: `plan`, `map`, …
    pub kind: &'static str,
    /// What it shows, of what, at which scale.
    pub title: String,
    /// The finding in words.
    pub description: String,
    /// Width.
    pub width_mm: f64,
    /// Height (without the heading that a file adds).
    pub height_mm: f64,
    /// Its top left corner in the coordinates of the body.
    pub(super) corner: Point,
    pub(super) body: String,
    pub(super) texts: Vec<Rect>,
}

/// Line pitch of a file's heading.
const PITCH_MM: f64 = 1.4 * TEXT_MM;
/// Space round a file's heading.
const MARGIN_MM: f64 = 2.0;

impl Picture {
    /// The boxes of its texts, for whoever wants to know that none meet.
    #[must_use]
    pub fn text_boxes(&self) -> &[Rect] {
        &self.texts
    }

    /// For a page: an `svg` element whose ids all begin with this prefix (letters, digits and `-`; its own for every
    /// picture of a page), itself called by the prefix and `s`. The page's style sheet holds [`rules`](super::style::rules).
    #[must_use]
    pub fn inline(&self, id_prefix: &str) -> Markup {
        html! {
            svg id={ (id_prefix) "s" } class={ "picture picture-" (self.kind) } width={ (Mm(self.width_mm)) "mm" }
                height={ (Mm(self.height_mm)) "mm" } viewBox=(self.view_box(0.0))
                role="img" aria-labelledby={ (id_prefix) "t " (id_prefix) "d" } {
                (self.named(id_prefix, false))
            }
        }
    }

    /// The same picture at another place of a page that holds it [inline](Picture::inline) under this prefix.
    #[must_use]
    pub fn again(&self, id_prefix: &str) -> Markup {
        html! {
            svg.again width={ (Mm(self.width_mm)) "mm" } height={ (Mm(self.height_mm)) "mm" }
                role="img" aria-labelledby={ (id_prefix) "t " (id_prefix) "d" } {
                use href={ "#" (id_prefix) "s" } {}
            }
        }
    }

    /// As a file: stands by itself, on white, with its title as a heading above the drawing.
    #[must_use]
    pub fn to_file(&self) -> String {
        let lines = font::wrapped(&self.title, TEXT_MM, self.width_mm - 2.0 * MARGIN_MM);
        let heading_mm = if lines.is_empty() { 0.0 } else { PITCH_MM * lines.len() as f64 + MARGIN_MM };
        let (height_mm, top_mm) = (self.height_mm + heading_mm, self.corner.y - heading_mm);
        let mut text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned();
        html! {
            svg xmlns="http://www.w3.org/2000/svg" width={ (Mm(self.width_mm)) "mm" } height={ (Mm(height_mm)) "mm" }
                viewBox=(self.view_box(heading_mm)) role="img"
                aria-labelledby="t d" font-family=(font::FAMILY) style="font-kerning:none" stroke-linejoin="round" {
                rect x=(Mm(self.corner.x)) y=(Mm(top_mm)) width=(Mm(self.width_mm)) height=(Mm(height_mm))
                    fill=(hex(Tone::Paper.rgb(Mode::Light))) {}
                g fill=(hex(Tone::Ink.rgb(Mode::Light))) font-size=(Mm(TEXT_MM)) {
                    @for (i, line) in lines.iter().enumerate() {
                        text x=(Mm(self.corner.x + MARGIN_MM)) y=(Mm(top_mm + PITCH_MM * (i + 1) as f64)) { (line) }
                    }
                }
                (self.named("", true))
                style { (PreEscaped(font::face_rule())) }
            }
        }
        .render_to(&mut text);
        text.push('\n');
        text
    }

    fn view_box(&self, heading_mm: f64) -> String {
        let Point { x, y } = self.corner;
        [x, y - heading_mm, self.width_mm, self.height_mm + heading_mm]
            .map(|mm| Mm(mm).render().into_string())
            .join(" ")
    }

    fn named(&self, id_prefix: &str, file: bool) -> Markup {
        // What lies between every other pair of marks is for files.
        let parts = self.body.split(FOR_FILES).enumerate();
        let body: String = parts.filter(|(i, _)| file || i.is_multiple_of(2)).map(|(_, part)| part).collect();
        html! {
            title id={ (id_prefix) "t" } { (self.title) }
            desc id={ (id_prefix) "d" } { (self.description) }
            (PreEscaped(body.replace(ID_PREFIX, id_prefix)))
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::draw::style::OUTLINE;
    use crate::draw::svg::{Canvas, Grid};
    use kurbo::{Circle, Point, Shape};

    fn specimen() -> super::Picture {
        let mut canvas = Canvas::new(30.0, 20.0);
        let circle = Circle::new((10.0, 10.0), 5.0).to_path(0.01);
        canvas.clipped(&circle, |canvas, _| {
            canvas.polyline(&[Point::new(0.0, 0.0), Point::new(30.0, 20.0)], Grid::Fine, &OUTLINE);
        });
        canvas.finish("map", "A map of “A & B”", "Thick < thin")
    }

    #[test]
    fn ids_are_the_pictures_own() {
        let picture = specimen();
        let page = format!("<p>{}{}</p>", picture.inline("m1-").into_string(), picture.inline("m2-").into_string());
        let document = roxmltree::Document::parse(&page).expect("valid XML");
        let mut ids: Vec<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!((count, ids.len()), (10, 10));
        for node in document.descendants() {
            let named = node.attribute("aria-labelledby").map(str::split_whitespace);
            let clip = node.attribute("clip-path").map(|clip| clip.trim_start_matches("url(#").trim_end_matches(')'));
            for id in named.into_iter().flatten().chain(clip) {
                assert!(ids.contains(&id), "{id}");
            }
        }
    }

    #[test]
    fn a_file_measures_true_and_names_itself() {
        let svg = specimen().to_file();
        let document = roxmltree::Document::parse(&svg).expect("valid XML");
        let root = document.root_element();
        let size = |name| root.attribute(name).and_then(|size| size.strip_suffix("mm")?.parse::<f64>().ok());
        let view: Vec<f64> =
            root.attribute("viewBox").unwrap_or("").split(' ').filter_map(|number| number.parse().ok()).collect();
        assert_eq!((size("width"), size("height")), (Some(view[2]), Some(view[3])));
        assert_eq!(view[0], 0.0);
        assert!(svg.contains("<title id=\"t\">A map of “A &amp; B”</title>"));
    }
}
