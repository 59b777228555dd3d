//! A picture as pixels, for programs that take no SVG: the same drawing, with the font that it carries and no other.
//!
//! Units: mm of the picture, pixels of the image.

use super::{Picture, font};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};

/// Pixels for a millimetre: 300 to the inch, as print shops ask.
pub const PIXELS_PER_MM: f64 = 300.0 / 25.4;
/// The library takes so many of its own units for an inch.
const UNITS_PER_INCH: f64 = 96.0;

/// The picture as a PNG file, with its title as a heading, on white.
///
/// # Panics
/// Where the library does not read a picture of ours, which is a mistake in this program: a file would be missing in
/// silence.
#[must_use]
pub fn png(picture: &Picture) -> Vec<u8> {
    drawn(picture).unwrap_or_else(|why| panic!("a picture that cannot be turned into pixels: {why}"))
}

fn drawn(picture: &Picture) -> Result<Vec<u8>, String> {
    let mut options = Options { font_family: "Noto Sans".to_owned(), ..Options::default() };
    options.fontdb_mut().load_font_data(font::TTF.to_vec());
    let tree = Tree::from_str(&picture.to_file(), &options).map_err(|fault| fault.to_string())?;
    let scale = PIXELS_PER_MM * 25.4 / UNITS_PER_INCH;
    let pixels = |units: f32| (f64::from(units) * scale).round() as u32;
    let (width, height) = (pixels(tree.size().width()), pixels(tree.size().height()));
    let mut image = Pixmap::new(width, height).ok_or_else(|| format!("{width} × {height} pixels are no image"))?;
    let each = |pixels: u32, units: f32| pixels as f32 / units;
    let fit = Transform::from_scale(each(width, tree.size().width()), each(height, tree.size().height()));
    resvg::render(&tree, fit, &mut image.as_mut());
    image.encode_png().map_err(|fault| fault.to_string())
}
