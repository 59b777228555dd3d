//! Specimens of every picture: valid, legible, nothing over anything, small; drawn to pixels in `target/tmp/pictures`
//! for whoever wants to look.

use kurbo::Rect;
use rimwise::draw::bars::{self, BarChart};
use rimwise::draw::chart::{Emphasis, LineChart, Mark, Series, Wish};
use rimwise::draw::contours::Scale;
use rimwise::draw::cut::{Cut, Reference, Slice};
use rimwise::draw::field::{FieldChart, Spot};
use rimwise::draw::front::{Front, FrontLens};
use rimwise::draw::label::meet;
use rimwise::draw::layout::Layout;
use rimwise::draw::map::{EdgePoint, ThicknessMap};
use rimwise::draw::outlines::{OutlinedLens, Outlines};
use rimwise::draw::plan::{Plan, PlanLens};
use rimwise::draw::strip::{Bar, Strip};
use rimwise::draw::unrolled::{Stand, Unrolled};
use rimwise::draw::{Picture, font, ruler};
use rimwise::eye::{Eye, Eyes};
use rimwise::frame::{Boxing, Centration};
use rimwise::outline::{Density, Outline, Shape};
use rimwise::rim::Rim;
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

/// Every text stands on the sheet and none meets another.
pub(crate) fn apart(name: &str, picture: &Picture) {
    let sheet = Rect::new(0.0, 0.0, picture.width_mm, picture.height_mm);
    for (i, text) in picture.text_boxes().iter().enumerate() {
        assert!(sheet.inflate(0.01, 0.01).contains_rect(*text), "{name}: a text off the sheet, {text:?} of {sheet:?}");
        for other in &picture.text_boxes()[i + 1..] {
            assert!(!meet(*text, *other), "{name}: texts meet, {text:?} and {other:?}");
        }
    }
}

/// Size of a file without the font that it carries.
fn drawn_bytes(svg: &str) -> usize {
    svg.len() - font::face_rule().len()
}

/// What holds for every picture.
fn judged(name: &str, picture: &Picture, most_bytes: usize) {
    let svg = picture.to_file();
    std::fs::write(folder().join(format!("{name}.svg")), &svg).expect("a file");
    let document = roxmltree::Document::parse(&svg).expect("valid XML");
    assert!(document.descendants().any(|node| node.has_tag_name("title")), "{name} has a name");
    apart(name, picture);
    for node in document.descendants().filter(|node| node.has_tag_name("text")) {
        let written = node.text().unwrap_or("");
        assert!(written.chars().all(font::has), "{name}: a sign that the font lacks in {written:?}");
    }
    let drawn = drawn_bytes(&svg);
    assert!(drawn <= most_bytes, "{name}: {drawn} bytes, {most_bytes} allowed");
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
        marks: vec![Mark { x: 48.0, y: 4.56, text: "chosen, 4.6".to_owned(), chosen: true }],
        wishes: vec![Wish { y: 5.0, text: "wish, 5.0".to_owned() }],
        top: 0.0,
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

#[test]
fn fields() {
    let (xs, ys): (Vec<f64>, Vec<f64>) = ((40..=60).map(f64::from).collect(), (12..=24).map(f64::from).collect());
    let value =
        |x: f64, y: f64| (x + 2.0 * y < 98.0).then(|| 2.0 + 0.004 * (x - 44.0).powi(2) + 0.02 * (y - 16.0).powi(2));
    let mut chart = FieldChart {
        title: "Thickest edge over eye size and bridge".to_owned(),
        description: "It is least at 44 and 16.".to_owned(),
        x_label: "Eye size, mm".to_owned(),
        y_label: "Bridge, mm".to_owned(),
        label: "Thickest edge, mm".to_owned(),
        values: ys.iter().map(|&y| xs.iter().map(|&x| value(x, y)).collect()).collect(),
        legend: "Dot: as in the job. White: cannot be made.".to_owned(),
        spot: Some(Spot { x: 50.0, y: 18.0, value: 2.2, text: "2.2".to_owned() }),
        xs,
        ys,
        width_mm: 130.0,
        height_mm: 92.0,
    };
    judged("field", &chart.draw("chart-sweep"), 16_000);
    for spot in [(40.0, 12.0), (60.0, 12.0), (40.0, 24.0)] {
        chart.spot = Some(Spot { x: spot.0, y: spot.1, value: 2.2, text: "2.2".to_owned() });
        judged("field-corner", &chart.draw("chart-sweep"), 16_000);
    }
    chart.values.iter_mut().flatten().for_each(|value| *value = value.map(|_| 3.0));
    judged("field-flat", &chart.draw("chart-sweep"), 16_000);
    chart.values.iter_mut().flatten().enumerate().for_each(|(i, value)| *value = Some(1e5 * (i % 7) as f64));
    judged("field-large", &chart.draw("chart-sweep"), 40_000);
}

#[test]
fn bars() {
    let bar = |name: &str, value: f64| bars::Bar { name: name.to_owned(), value, text: format!("{value:.0}") };
    let mut chart = BarChart {
        title: "Lenses by material".to_owned(),
        description: "Most are of the first.".to_owned(),
        label: "Lenses".to_owned(),
        bars: vec![
            bar("resin-1.50", 123_456.0),
            bar("a name that is far too long to stand before a bar", 1.0),
            bar("x", 0.0),
        ],
        width_mm: 130.0,
    };
    judged("bars", &chart.draw("chart-bars"), 4_000);
    chart.bars.truncate(1);
    judged("bars-one", &chart.draw("chart-bars"), 4_000);
    chart.bars[0].value = 0.0;
    judged("bars-nought", &chart.draw("chart-bars"), 4_000);
}

#[test]
fn strips() {
    let bar = |name: &str, low: f64, high: f64, texts: [&str; 2]| Bar {
        name: name.to_owned(),
        change: [low, high],
        texts: texts.map(str::to_owned),
        whole: false,
    };
    let mut strip = Strip {
        title: "How sure: thickest edge of Fennel 48".to_owned(),
        description: "5.9 mm, give or take 0.5 mm.".to_owned(),
        label: "Thickest edge, mm".to_owned(),
        planned: 5.87,
        bars: vec![
            bar("1 mm of either pd", -0.31, 0.33, ["−0.3", "+0.3"]),
            bar("0.3 mm more at the centre", 0.0, 0.3, ["", "+0.3"]),
            Bar { whole: true, ..bar("Together, give or take 0.5 mm", -0.45, 0.45, ["5.4", "6.3"]) },
        ],
        width_mm: 120.0,
    };
    judged("strip", &strip.draw("chart-sure"), 6_000);
    for bar in &mut strip.bars {
        bar.change = bar.change.map(|change| 20.0 * change);
    }
    judged("strip-wide", &strip.draw("chart-sure"), 6_000);
    strip.bars = vec![bar("nothing", 0.0, 0.0, ["", "0.0"])];
    judged("strip-nothing", &strip.draw("chart-sure"), 6_000);
}

/// A lens of these curvatures (front, back along x, back along y; 1/mm) and centre thickness about its reference point.
#[derive(Clone, Copy)]
struct Specimen {
    front: f64,
    back: (f64, f64),
    centre_mm: f64,
    reference: (f64, f64),
}

impl Specimen {
    fn sag(curvature: f64, h: f64) -> Option<f64> {
        let root = 1.0 - curvature * curvature * h * h;
        (root > 0.0).then(|| curvature * h * h / (1.0 + root.sqrt()))
    }

    fn front_z(&self, x: f64, y: f64) -> Option<f64> {
        Specimen::sag(self.front, (x - self.reference.0).hypot(y - self.reference.1))
    }

    /// Two sags added: no torus, but near enough to look at.
    fn back_z(&self, x: f64, y: f64) -> Option<f64> {
        let across = Specimen::sag(self.back.0, x - self.reference.0)?;
        Some(self.centre_mm + across + Specimen::sag(self.back.1, y - self.reference.1)?)
    }

    fn thickness(&self, x: f64, y: f64) -> Option<f64> {
        Some(self.back_z(x, y)? - self.front_z(x, y)?)
    }
}

/// −6.25 −1.50 × 175 or so in 1.67, 3 D base.
const MINUS: Specimen = Specimen { front: 3.0 / 530.0, back: (0.0136, 0.0158), centre_mm: 1.2, reference: (3.5, 0.0) };
/// A strong minus.
const STRONG: Specimen = Specimen { front: 1.0 / 530.0, back: (0.0255, 0.0255), centre_mm: 1.2, reference: (2.0, 2.0) };
/// A plus.
const PLUS: Specimen = Specimen { front: 9.0 / 530.0, back: (0.0075, 0.0065), centre_mm: 5.6, reference: (2.0, 0.0) };

fn edge(outline: &Outline, lens: &Specimen) -> [EdgePoint; 2] {
    let mut points: Vec<EdgePoint> = outline
        .nodes(Density::Finest)
        .iter()
        .map(|node| {
            let (x, y) = (node.jet.p.x, node.jet.p.y);
            EdgePoint { x, y, thickness_mm: lens.thickness(x, y).expect("reaches the edge") }
        })
        .collect();
    points.sort_by(|a, b| a.thickness_mm.total_cmp(&b.thickness_mm));
    [points[0], points[points.len() - 1]]
}

fn map_of(shape: &str, eye: Eye, size: (f64, f64), lens: Specimen, scale: f64) -> Picture {
    let outline = Shape::from_word(shape).expect("a shape").outline(eye, size.0, size.1);
    let [thinnest, thickest] = edge(&outline, &lens);
    let low = thinnest.thickness_mm.min(lens.centre_mm);
    let levels = Scale::covering(low, thickest.thickness_mm.max(lens.centre_mm));
    ThicknessMap {
        title: &format!("Thickness map, {shape} {}, thin, {} lens", size.0, eye.word()),
        description: "The lens is thickest toward the temple.",
        eye,
        outline: &outline,
        thickness: &|x, y| lens.thickness(x, y),
        reference: lens.reference,
        thickest,
        thinnest,
        levels: &levels,
        scale,
    }
    .draw()
}

#[test]
fn maps() {
    let mirrored = Specimen { reference: (-3.5, 0.0), ..MINUS };
    let cases = [
        ("map-oval", map_of("oval", Eye::Right, (48.0, 40.0), MINUS, 1.0)),
        ("map-oval-left", map_of("oval", Eye::Left, (48.0, 40.0), mirrored, 1.0)),
        ("map-oval-2", map_of("oval", Eye::Right, (48.0, 40.0), MINUS, 2.0)),
        ("map-plus", map_of("panto", Eye::Right, (46.0, 40.0), PLUS, 1.0)),
        ("map-strong", map_of("pilot", Eye::Right, (54.0, 46.0), STRONG, 1.0)),
        ("map-rectangle", map_of("rectangle", Eye::Left, (54.0, 30.0), mirrored, 1.0)),
        ("map-small", map_of("circle", Eye::Left, (36.0, 36.0), mirrored, 1.0)),
    ];
    for (name, picture) in cases {
        judged(name, &picture, 12_000);
    }
    let levels = Scale::covering(1.2, 5.4);
    judged("map-key", &rimwise::draw::map::legend(&levels), 5_000);
}

#[test]
fn a_map_has_the_size_of_the_lens() {
    let picture = map_of("oval", Eye::Right, (48.0, 40.0), MINUS, 1.0);
    let svg = picture.to_file();
    let document = roxmltree::Document::parse(&svg).expect("valid XML");
    let clip = document.descendants().find(|node| node.has_tag_name("clipPath")).expect("the outline clips");
    let path = clip.first_element_child().and_then(|path| path.attribute("d")).expect("a path");
    let bounds = kurbo::Shape::bounding_box(&kurbo::BezPath::from_svg(path).expect("a path that kurbo reads"));
    assert!((bounds.width() - 48.0).abs() < 0.003 && (bounds.height() - 40.0).abs() < 0.003, "{bounds:?}");
}

/// A plan section of two mirrored specimens in a frame.
fn plan_of(
    title: &str,
    lens: Specimen,
    eye_size_mm: f64,
    bridge_mm: f64,
    rim: Rim,
    rim_depth_mm: Option<f64>,
) -> Picture {
    let middle = 0.5 * (eye_size_mm + bridge_mm);
    let lenses = Eyes::from_fn(|eye| {
        let nasal = eye.nasal_sign();
        let reference = (nasal * lens.reference.0, lens.reference.1);
        let lens = Specimen { reference, ..lens };
        let centre = -nasal * middle;
        let slice = |x: f64| Slice {
            u: centre + x,
            front_z: lens.front_z(x, 0.0).expect("reaches"),
            back_z: lens.back_z(x, 0.0).expect("reaches"),
        };
        let slices = (0..=32).map(|i| slice(eye_size_mm * (f64::from(i) / 32.0 - 0.5))).collect();
        let thickness = |x: f64| lens.thickness(x, 0.0).expect("reaches");
        PlanLens {
            cut: Cut::new(slices, rim).expect("slices"),
            reference: Some(Reference {
                u: centre + reference.0,
                centre_mm: lens.centre_mm,
                off_plane: reference.1 != 0.0,
            }),
            nasal_mm: thickness(0.5 * nasal * eye_size_mm),
            temporal_mm: thickness(-0.5 * nasal * eye_size_mm),
        }
    });
    Plan { title, description: "The temporal edges are the thickest.", lenses, rim, rim_depth_mm, scale: 1.0 }.draw()
}

#[test]
fn plans() {
    let lifted = Specimen { reference: (3.5, 3.0), ..MINUS };
    let cases = [
        ("plan-minus", plan_of("Plan section, Fennel 48, thin", MINUS, 48.0, 18.0, Rim::Metal, Some(2.0))),
        ("plan-lifted", plan_of("Plan section, Fennel 48, thin, supra", lifted, 48.0, 18.0, Rim::Supra, None)),
        ("plan-strong", plan_of("Plan section, Sorrel 56, strong", STRONG, 56.0, 8.0, Rim::Plastic, Some(4.0))),
        ("plan-plus", plan_of("Plan section, Tansy 46, plus", PLUS, 46.0, 20.0, Rim::Plastic, None)),
        ("plan-rimless", plan_of("Plan section, Yarrow 50, drilled", MINUS, 50.0, 17.0, Rim::Rimless, None)),
    ];
    for (name, picture) in cases {
        judged(name, &picture, 9_000);
    }
}

#[test]
fn a_page_holds_many() {
    use rimwise::draw::style::{Mode, rules, variables};
    let pictures = [
        plan_of("Plan section, Fennel 48, thin", MINUS, 48.0, 18.0, Rim::Metal, Some(2.0)),
        map_of("oval", Eye::Right, (48.0, 40.0), MINUS, 1.0),
        map_of("panto", Eye::Right, (46.0, 40.0), PLUS, 1.0),
        sweep().draw("chart-sweep"),
        rimwise::draw::map::legend(&Scale::covering(1.2, 5.4)),
    ];
    let drawn: String =
        pictures.iter().enumerate().map(|(i, p)| p.inline(&format!("p{i}-")).into_string() + "\n").collect();
    for mode in [Mode::Light, Mode::Dark] {
        let (face, properties, rules) = (font::face_rule(), variables(mode), rules());
        let page = format!(
            "<!doctype html><meta charset=\"utf-8\"><title>Specimens</title><style>{face}:root{{{properties}}}\
             body{{background:var(--rw-paper);margin:8px}}svg{{margin:6px}}{rules}</style>\n{drawn}"
        );
        std::fs::write(folder().join(format!("page-{mode:?}.html")), page).expect("a file");
    }
    let mut ids: Vec<&str> = drawn.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert!(count > 10 && ids.len() == count, "{count} ids, {} different", ids.len());
}

#[test]
fn texts_of_plans_stay_apart_whatever_the_frame() {
    let mut seen = 0;
    for rim in Rim::ALL {
        for eye_size_mm in [30.0, 45.0, 70.0] {
            for bridge_mm in [8.0, 14.0, 30.0] {
                for inward in [-14.0, -5.0, 0.0, 9.0, 14.5] {
                    for (lens, depth) in [(MINUS, None), (PLUS, Some(1.0)), (MINUS, Some(6.0))] {
                        let lens = Specimen { reference: (inward, 0.0), ..lens };
                        let title = format!("{rim:?} {eye_size_mm} {bridge_mm} {inward} {depth:?}");
                        apart(&title, &plan_of(&title, lens, eye_size_mm, bridge_mm, rim, depth));
                        seen += 1;
                    }
                }
            }
        }
    }
    assert!(seen > 500);
}

#[test]
fn texts_of_maps_stay_apart_whatever_the_shape() {
    for shape in Shape::all() {
        for eye in Eye::BOTH {
            for (width, lens) in [(36.0, MINUS), (50.0, PLUS), (52.0, STRONG), (66.0, MINUS)] {
                let lens = Specimen { reference: (eye.nasal_sign() * lens.reference.0, lens.reference.1), ..lens };
                let picture = map_of(shape.word(), eye, (width, width * shape.depth_ratio()), lens, 1.0);
                let name = format!("{} {width} {}", shape.word(), eye.word());
                apart(&name, &picture);
                let bytes = drawn_bytes(&picture.to_file());
                assert!(bytes < 12_000, "{name}: {bytes} bytes");
                // Letter, two sides, scale, two of the key, two extremes, at least one level.
                let count = picture.text_boxes().len();
                assert!(count >= 9, "{name}: only {count} texts");
            }
        }
    }
}

/// A front view of two mirrored specimens; `reference` of the specimen is where the pd puts it.
fn front_of(title: &str, shape: Shape, boxing: Boxing, pd_mm: f64, up_mm: f64) -> Picture {
    let outlines = Eyes::from_fn(|eye| shape.outline(eye, boxing.eye_size_mm, boxing.depth_mm));
    let centration = Centration::new(&boxing, pd_mm, up_mm);
    let lenses = Eyes::from_fn(|eye| {
        let reference = (centration.x_mm(eye), up_mm);
        let outline = outlines.of(eye);
        let lens = Specimen { front: 0.002, back: (0.011, 0.0105), reference, ..MINUS };
        FrontLens {
            outline,
            centration,
            pd_mm,
            blank_mm: 2.0 * outline.farthest_mm(reference.into()) + 2.0,
            thickest: edge(outline, &lens)[1],
            said: "Thickest edge 6.2 mm at the lower temporal corner, 33 mm from the reference point.".to_owned(),
        }
    });
    Front { title, description: "The temporal corner is the thickest.", boxing, lenses, scale: 1.0 }.draw()
}

#[test]
fn fronts() {
    let boxing = |eye_size_mm, depth_mm, bridge_mm| Boxing { eye_size_mm, depth_mm, bridge_mm };
    let shape = |word| Shape::from_word(word).expect("a shape");
    let cases = [
        ("front-oval", front_of("Front view, Fennel 48, 1 : 1", shape("oval"), boxing(48.0, 40.0, 18.0), 31.0, 2.0)),
        ("front-pilot", front_of("Front view, Sorrel 58, 1 : 1", shape("pilot"), boxing(58.0, 50.0, 14.0), 32.0, -3.0)),
        ("front-half", front_of("Front view, Rue 46, 1 : 1", shape("half-eye"), boxing(46.0, 22.0, 20.0), 34.0, 7.0)),
    ];
    for (name, picture) in cases {
        judged(name, &picture, 12_000);
    }
}

#[test]
fn texts_of_fronts_stay_apart_whatever_the_frame() {
    let mut seen = 0;
    for shape in Shape::all() {
        for eye_size_mm in [30.0, 45.0, 52.0, 70.0] {
            for bridge_mm in [8.0, 14.0, 30.0] {
                for (pd_mm, up_mm) in [(24.0, 0.0), (31.5, 0.3), (45.0, -9.0), (28.0, 8.0), (32.0, 20.0)] {
                    let depth_mm = eye_size_mm * shape.depth_ratio();
                    let title = format!("{} {eye_size_mm} {bridge_mm} {pd_mm} {up_mm}", shape.word());
                    let boxing = Boxing { eye_size_mm, depth_mm, bridge_mm };
                    let picture = front_of(&title, shape, boxing, pd_mm, up_mm);
                    apart(&title, &picture);
                    // Letters, thickest edges and blanks of both found a place.
                    let svg = picture.to_file();
                    for name in ["thickness.edge_max_mm", "blank.minimum_mm"] {
                        assert_eq!(svg.matches(&format!("{name}\" x=")).count(), 2, "{title}: {name}");
                    }
                    assert!(svg.contains(">R</text>") && svg.contains(">L</text>"), "{title}");
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 800, "{seen}");
}

/// A layout card: the blank's middle at the reference point, or so far from it.
fn layout_of(
    title: &str,
    shape: Shape,
    eye: Eye,
    boxing: Boxing,
    (pd_mm, up_mm): (f64, f64),
    off: (f64, f64),
) -> Picture {
    let outline = shape.outline(eye, boxing.eye_size_mm, boxing.depth_mm);
    let centration = Centration::new(&boxing, pd_mm, up_mm);
    let middle = centration.point(eye) + kurbo::Vec2::from(off);
    let least = 2.0 * outline.farthest_mm(middle) + 2.0;
    let blank_mm = (least / 5.0).ceil() * 5.0;
    let said = [
        "As a finished lens it cuts from 70 mm; surfaced, from 65, 70 or 75 mm.".to_owned(),
        "Tools 5.375 along the axis and 6.125 D across it: with them the sphere comes out +0.031 and the cylinder −0.058 D off."
            .to_owned(),
    ];
    let card = Layout {
        title,
        description: "A blank of 70 mm.",
        eye,
        outline: &outline,
        centration,
        middle,
        blank_mm,
        blank_figure: "blank.diameter_mm",
        allowance_mm: 1.0,
        crib_mm: (pd_mm > 30.0).then_some(least + 0.4 * (blank_mm - least)),
        said: &said,
        scale: 1.0,
    };
    card.draw()
}

#[test]
fn layout_cards() {
    let boxing = |eye_size_mm, depth_mm, bridge_mm| Boxing { eye_size_mm, depth_mm, bridge_mm };
    let shape = |word| Shape::from_word(word).expect("a shape");
    let oval = boxing(50.0, 40.0, 18.0);
    let cases = [
        layout_of("Layout, Fennel 50, 1 : 1", shape("oval"), Eye::Right, oval, (31.0, 2.0), (0.0, 0.0)),
        layout_of(
            "Layout, Sorrel 58, 1 : 1",
            shape("pilot"),
            Eye::Left,
            boxing(58.0, 50.0, 14.0),
            (29.0, -3.0),
            (-3.5, 2.0),
        ),
        layout_of(
            "Layout, Rue 46, 1 : 1",
            shape("half-eye"),
            Eye::Right,
            boxing(46.0, 22.0, 20.0),
            (33.0, 0.0),
            (0.0, 0.0),
        ),
    ];
    for (picture, name) in cases.iter().zip(["layout-oval", "layout-off-middle", "layout-half-eye"]) {
        judged(name, picture, 12_000);
    }
    let mut seen = 0;
    for shape in Shape::all() {
        for eye in Eye::BOTH {
            for eye_size_mm in [30.0, 45.0, 60.0] {
                for of in [(24.0, 0.0), (31.5, 0.3), (42.0, -9.0), (28.0, 8.0)] {
                    for off in [(0.0, 0.0), (4.0, -2.0), (-0.3, 0.0)] {
                        let boxing = boxing(eye_size_mm, eye_size_mm * shape.depth_ratio(), 18.0);
                        let title = format!("{} {eye_size_mm} {of:?} {off:?}", shape.word());
                        let picture = layout_of(&title, shape, eye, boxing, of, off);
                        apart(&title, &picture);
                        assert!(picture.to_file().contains(&format!(">{}</text>", eye.letter())), "{title}");
                        seen += 1;
                    }
                }
            }
        }
    }
    assert!(seen > 800, "{seen}");
}

#[test]
fn unrolled_edges() {
    let stand = |deg: f64, bevel: bool, rim: bool| {
        let (double, front) = ((2.0 * deg.to_radians()).cos(), 2.6);
        let edge = 4.4 + 2.1 * double + 0.5 * deg.to_radians().sin();
        let front_z = front + 1.1 * double;
        let tip_z = bevel.then_some(front_z + (0.5 * edge).min(1.0));
        Stand { deg, front_z, back_z: front_z + edge, tip_z, rim_z: rim.then_some(3.4 + 0.8 * double) }
    };
    let said = ["Edge from 2.3 to 6.5 mm.".to_owned(), "The bevel comes out on a curve of 5.31 D.".to_owned()];
    let cases = [
        ("unrolled-bevel", Eye::Right, true, true),
        ("unrolled-no-rim-curve", Eye::Left, true, false),
        ("unrolled-bare", Eye::Left, false, false),
    ];
    for (name, eye, bevel, rim) in cases {
        let round: Vec<Stand> = (0..=72).map(|i| stand(5.0 * f64::from(i), bevel, rim)).collect();
        let title = format!("Edge unrolled, Fennel 50, {} lens", eye.word());
        let drawn = Unrolled {
            title: &title,
            description: "Thickest at the nose and the temple.",
            eye,
            round: &round,
            tip: "tip of the bevel",
            said: &said,
        };
        judged(name, &drawn.draw(), 9_000);
    }
}

/// The outlines of a pair; the pupils are where the pd puts them.
fn outlines_of(title: &str, shape: Shape, boxing: Boxing, pd_mm: f64, up_mm: f64) -> Picture {
    let outlines = Eyes::from_fn(|eye| shape.outline(eye, boxing.eye_size_mm, boxing.depth_mm));
    let centration = Centration::new(&boxing, pd_mm, up_mm);
    let lenses = Eyes::from_fn(|eye| {
        let outline = outlines.of(eye);
        let reference = (centration.x_mm(eye), up_mm);
        let blank_mm = 2.0 * outline.farthest_mm(reference.into()) + 2.0;
        OutlinedLens { outline, centration, pd_mm, blank_mm }
    });
    Outlines { title, description: "Least blanks.", boxing, lenses }.draw()
}

#[test]
fn what_the_sheet_at_true_size_shows() {
    judged("ruler", &ruler::draw("A ruler and a bank card, 1 : 1", "A line of 100 mm."), 6_000);
    let mut seen = 0;
    for shape in Shape::all() {
        for (eye_size_mm, bridge_mm) in [(30.0, 8.0), (50.0, 18.0), (70.0, 30.0)] {
            for (pd_mm, up_mm) in [(15.0, 0.0), (31.5, 2.0), (32.0, 20.0), (45.0, -8.0)] {
                let depth_mm = eye_size_mm * shape.depth_ratio();
                let title = format!("{} {eye_size_mm} {bridge_mm} {pd_mm} {up_mm}", shape.word());
                let boxing = Boxing { eye_size_mm, depth_mm, bridge_mm };
                let picture = outlines_of(&title, shape, boxing, pd_mm, up_mm);
                apart(&title, &picture);
                assert!(
                    picture.width_mm <= 186.0,
                    "{title}: {} mm, wider than A4 between its margins",
                    picture.width_mm
                );
                let svg = picture.to_file();
                assert!(svg.contains(">R</text>") && svg.contains(">L</text>"), "{title}: no letter found a place");
                seen += 1;
            }
        }
        let boxing = Boxing { eye_size_mm: 50.0, depth_mm: 50.0 * shape.depth_ratio(), bridge_mm: 18.0 };
        let name = format!("outlines-{}", shape.word());
        judged(&name, &outlines_of(&format!("{} 50, 1 : 1", shape.word()), shape, boxing, 31.5, 2.0), 7_000);
    }
    assert!(seen > 150, "{seen}");
}

#[test]
fn dimensions() {
    use kurbo::{Circle, Point};
    use rimwise::draw::dimension::{Beyond, Dimension, Run, leader, scale_bar};
    use rimwise::draw::style::{CENTRE, GLASS};
    use rimwise::draw::svg::{Canvas, PLAIN};
    let mut canvas = Canvas::new(90.0, 62.0);
    canvas.rect(Rect::new(20.0, 20.0, 60.0, 40.0), &GLASS);
    canvas.circle(Circle::new((48.0, 30.0), 2.0), &GLASS);
    canvas.line(Point::new(16.0, 30.0), Point::new(64.0, 30.0), &CENTRE);
    let across = |from: f64, to: f64, y: f64, line_at: f64, text: &'static str| Dimension {
        from: Point::new(from, y),
        to: Point::new(to, y),
        run: Run::Across,
        line_at,
        text,
        figure: "",
        beyond: Beyond::High,
        bordered: true,
    };
    across(20.0, 60.0, 40.0, 50.0, "40.0").draw(&mut canvas);
    across(46.0, 50.0, 30.0, 12.0, "4.0").draw(&mut canvas);
    let (from, to) = (Point::new(20.0, 40.0), Point::new(20.0, 20.0));
    Dimension {
        from,
        to,
        run: Run::Upward,
        line_at: 10.0,
        text: "20.0",
        figure: "",
        beyond: Beyond::High,
        bordered: false,
    }
    .draw(&mut canvas);
    let (from, to) = (Point::new(60.0, 32.0), Point::new(60.0, 29.0));
    Dimension {
        from,
        to,
        run: Run::Upward,
        line_at: 68.0,
        text: "3.0",
        figure: "",
        beyond: Beyond::Low,
        bordered: false,
    }
    .draw(&mut canvas);
    leader(&mut canvas, Point::new(55.0, 37.0), Point::new(72.0, 44.0), "glass", &PLAIN);
    scale_bar(&mut canvas, Point::new(4.0, 59.0), 1.0, "");
    judged("dimensions", &canvas.finish("test", "Dimensions", "All kinds."), 5_000);
}
