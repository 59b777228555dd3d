//! Holes in a page: where something stands that is drawn and written later.

use super::Piece;
use maud::{Markup, PreEscaped, Render};

/// Stands before and after what names a hole: no text of a job can hold it, since it is no sign for reading.
const MARK: char = '\u{3}';

/// A hole.
#[derive(Clone, Copy, Debug)]
pub(super) enum Hole {
    /// For the card of this fit.
    Fit(usize),
    /// For the charts of this frame.
    Charts(usize),
}

impl Render for Hole {
    fn render(&self) -> Markup {
        PreEscaped(match self {
            Hole::Fit(index) => format!("{MARK}f{index}{MARK}"),
            Hole::Charts(index) => format!("{MARK}c{index}{MARK}"),
        })
    }
}

/// The text cut at its holes.
pub(super) fn pieces(text: &str) -> Vec<Piece> {
    let piece = |part: &str| match (part.strip_prefix('f').map(str::parse), part.strip_prefix('c').map(str::parse)) {
        (Some(Ok(index)), _) => Piece::Fit(index),
        (_, Some(Ok(index))) => Piece::Charts(index),
        _ => Piece::Text(part.to_owned()),
    };
    // Text and names of holes take turns.
    let parts = text.split(MARK).enumerate();
    parts.map(|(i, part)| if i % 2 == 1 { piece(part) } else { Piece::Text(part.to_owned()) }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use maud::html;

    #[test]
    fn a_page_is_cut_at_its_holes() {
        let page = html! { p { "f1" } (Hole::Charts(0)) (Hole::Fit(12)) "c2" }.into_string();
        let text = |text: &str| Piece::Text(text.to_owned());
        assert_eq!(pieces(&page), [text("<p>f1</p>"), Piece::Charts(0), text(""), Piece::Fit(12), text("c2")]);
    }
}
