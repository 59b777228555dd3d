//! Which of three materials makes this pair thinnest, and which lightest?
#![expect(clippy::print_stdout, reason = "an example prints its answer")]

use rimwise::assess::{Fit, Mounting};
use rimwise::choose::{LensOption, Substance};
use rimwise::eye::Eyes;
use rimwise::frame::{Boxing, Frame};
use rimwise::light::ReferenceLine;
use rimwise::material::Shelf;
use rimwise::outline::Shape;
use rimwise::rim::Rim;
use rimwise::rx::{EyeRx, Power, Prescription, Prism};

fn main() {
    print!("{}", answer());
}

/// The answer, as text.
pub(crate) fn answer() -> String {
    let shelf = Shelf::built_in();
    let rx = EyeRx { power: Power::new(-7.50, -0.75, 15.0), prism: Prism::default(), pd_mm: 31.5, add: None };
    let prescription =
        Prescription { eyes: Eyes { right: rx, left: rx }, vertex_mm: None, reference_line: ReferenceLine::D };
    let sizes = vec![Boxing { eye_size_mm: 48.0, depth_mm: 42.0, bridge_mm: 20.0 }];
    let frame = Frame::new("Sorrel", Shape::from_word("panto").expect("a built-in shape"), sizes, Rim::Plastic);
    let mounting = Mounting::new(&frame, frame.sizes[0]);
    let mut text = String::from("material     thickest edge   pair mass\n");
    for id in ["resin-1.50", "resin-1.67", "glass-1.80"] {
        let material = shelf.get(id).expect("on the shelf").clone();
        let option = LensOption::new(id, Substance::Listed(material));
        text += &match Fit::new(&mounting, &prescription, &option).pair() {
            Some(pair) => format!("{id:12} {:10.1} mm {:9.1} g\n", pair.edge_max_mm(), pair.mass_g()),
            None => format!("{id:12} cannot be made\n"),
        };
    }
    text
}
