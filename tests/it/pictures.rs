//! Specimens of every picture: valid, legible, nothing over anything, small; drawn to pixels in `target/tmp/pictures`
//! for whoever wants to look.

use kurbo::Rect;
use rimwise::draw::chart::{Emphasis, LineChart, Mark, Series, Wish};
use rimwise::draw::label::meet;
use rimwise::draw::{Picture, font};
use std::path::PathBuf;

/// Pixels for a millimetre in the specimens: 8 is about twice a screen.
const PIXELS_PER_MM: f32 = 8.0;

fn folder() -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    folder
}

/// Draws the picture to pixels with our font alone; gives back the share of pixels that are not paper.
fn rendered(name: &str, svg: &str) -> f64 {
    let mut options = resvg::usvg::Options { font_family: "Noto Sans".into(), ..Default::default() };
    options.fontdb_mut().load_font_data(font::TTF.to_vec());
    let tree = resvg::usvg::Tree::from_str(svg, &options).expect("a picture that resvg reads");
    // resvg takes 96 dots for an inch.
    let scale = PIXELS_PER_MM * 25.4 / 96.0;
    let size = tree.size().to_int_size().scale_by(scale).expect("a size");
    let mut pixels = resvg::tiny_skia::Pixmap::new(size.width(), size.height()).expect("a sheet");
    resvg::render(&tree, resvg::tiny_skia::Transform::from_scale(scale, scale), &mut pixels.as_mut());
    pixels.save_png(folder().join(format!("{name}.png"))).expect("a file");
    let marked = pixels.pixels().iter().filter(|p| (p.red(), p.green(), p.blue()) != (255, 255, 255)).count();
    marked as f64 / pixels.pixels().len() as f64
}

/// What holds for every picture.
fn judged(name: &str, picture: &Picture, most_bytes: usize) {
    let svg = picture.to_file();
    std::fs::write(folder().join(format!("{name}.svg")), &svg).expect("a file");
    let document = roxmltree::Document::parse(&svg).expect("valid XML");
    assert!(document.descendants().any(|node| node.has_tag_name("title")), "{name} has a name");
    let sheet = Rect::new(0.0, 0.0, picture.width_mm, picture.height_mm);
    for (i, text) in picture.text_boxes().iter().enumerate() {
        assert!(sheet.inflate(0.01, 0.01).contains_rect(*text), "{name}: a text off the sheet, {text:?} of {sheet:?}");
        for other in &picture.text_boxes()[i + 1..] {
            assert!(!meet(*text, *other), "{name}: texts meet, {text:?} and {other:?}");
        }
    }
    for node in document.descendants().filter(|node| node.has_tag_name("text")) {
        let written = node.text().unwrap_or("");
        assert!(written.chars().all(font::has), "{name}: a sign that the font lacks in {written:?}");
    }
    assert!(svg.len() <= most_bytes, "{name}: {} bytes, {most_bytes} allowed", svg.len());
    let marked = rendered(name, &svg);
    assert!((0.005..0.9).contains(&marked), "{name}: {marked} of the sheet is marked");
}

fn sweep() -> LineChart {
    let sizes = [44.0, 46.0, 48.0, 50.0, 52.0, 54.0, 56.0];
    let line = |name: &str, at: f64, slope: f64, emphasis| Series {
        name: name.to_owned(),
        points: sizes.iter().map(|&x| (x, Some(at + slope * (x - 44.0) + 0.01 * (x - 44.0) * (x - 44.0)))).collect(),
        emphasis,
    };
    let mut series = vec![
        line("1.67 resin", 3.6, 0.20, Emphasis::Main),
        line("worn now", 3.9, 0.26, Emphasis::Compared),
        line("1.60 resin", 4.0, 0.25, Emphasis::Plain),
        line("1.50 resin", 4.9, 0.33, Emphasis::Plain),
    ];
    series[3].points[5].1 = None;
    series[3].points[6].1 = None;
    LineChart {
        title: "Thickest edge over eye size, Fennel".to_owned(),
        description: "The thickest edge grows by 0.3 mm for each millimetre of eye size.".to_owned(),
        x_label: "Eye size, mm".to_owned(),
        y_label: "Thickest edge, mm".to_owned(),
        series,
        marks: vec![Mark { x: 48.0, y: 4.56, text: "chosen, 4.6".to_owned() }],
        wishes: vec![Wish { y: 5.0, text: "wish, 5.0".to_owned() }],
        width_mm: 130.0,
        height_mm: 80.0,
    }
}

#[test]
fn charts() {
    judged("chart-sweep", &sweep().draw("chart-sweep"), 9_000);
    let mut cost = sweep();
    cost.y_label = "Residual power, D".to_owned();
    cost.marks.clear();
    for series in &mut cost.series {
        for point in &mut series.points {
            point.1 = point.1.map(|y| 0.25 * (y - 6.0));
        }
    }
    cost.wishes[0].y = 0.0;
    judged("chart-signed", &cost.draw("chart-signed"), 9_000);
    let nothing = LineChart { series: vec![], marks: vec![], wishes: vec![], ..sweep() };
    judged("chart-empty", &nothing.draw("chart-empty"), 9_000);
}
