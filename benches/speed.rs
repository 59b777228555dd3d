//! How long one lens takes, from prescription to every figure, on a prepared outline; a whole job; and many orders.
//!
//! `cargo bench --bench speed` (add a name to choose, `-- --quick` for a fast look).

use criterion::{BatchSize, Criterion, Throughput, criterion_group, criterion_main};
use rimwise::assess::{self, Ask};
use rimwise::choose::{LensOption, Substance, base};
use rimwise::eye::Eye;
use rimwise::frame::{Boxing, Centration};
use rimwise::job::{NoOutlines, Order};
use rimwise::light::ReferenceLine;
use rimwise::material::{Glass, Shelf};
use rimwise::outline::{Measured, Shape};
use rimwise::read;
use rimwise::report::{folder, wire};
use rimwise::rim::{Position, Rim};
use rimwise::rx::{EyeRx, Power, Prism};
use rimwise::study::compare::Comparison;
use rimwise::study::invented;
use rimwise::study::orders::Orders;
use rimwise::study::totals::Totals;
use std::hint::black_box;
use std::sync::Arc;

fn option() -> LensOption {
    let mut option = LensOption::new("1.6", Substance::Inline(Glass::new(1.6, 41.0, 1.3, ReferenceLine::D)));
    option.min_centre_mm = Some(1.4);
    option.min_edge_mm = Some(1.0);
    option
}

fn one_lens(c: &mut Criterion) {
    let option = option();
    let boxing = Boxing { eye_size_mm: 50.0, depth_mm: 40.0, bridge_mm: 18.0 };
    let built = ["oval", "panto", "rectangle", "pilot", "octagon"]
        .map(|shape| (shape, Shape::from_word(shape).expect("a shape").outline(Eye::Right, 50.0, 40.0)));
    let measured = [("measured oval", 40.0), ("measured panto", 20.0)]
        .map(|(name, upper)| (name, traced(upper).outline(Eye::Right, 50.0, 40.0)));
    for (shape, outline) in built.iter().chain(&measured) {
        for (name, power, prism) in [
            ("minus sphere", Power::spherical(-6.0), Prism::default()),
            ("plus sphere", Power::spherical(5.0), Prism::default()),
            ("minus torus", Power::new(-6.0, -1.5, 35.0), Prism::default()),
            ("plus torus", Power::new(5.0, -1.5, 35.0), Prism::default()),
            ("minus torus prism", Power::new(-6.0, -1.5, 35.0), Prism::new(2.0, 30.0)),
            ("plus torus prism", Power::new(5.0, -1.5, 35.0), Prism::new(2.0, 30.0)),
        ] {
            let rx = EyeRx { power, prism, pd_mm: 31.0, add: None };
            let ask = Ask {
                eye: Eye::Right,
                rx: &rx,
                line: ReferenceLine::D,
                outline,
                centration: Centration::new(&boxing, rx.pd_mm, 1.0),
                rim: Rim::Metal,
                rim_depth_mm: Some(2.0),
                position: Position::Usual,
                option: &option,
                base: base::alone(&option, &power),
            };
            c.bench_function(&format!("lens/{shape}/{name}"), |b| {
                b.iter(|| assess::make(black_box(&ask)).expect("can be made"));
            });
        }
    }
}

/// A trace of 400 radii: an oval of 50 × 40, its upper half another superellipse where `upper` is not 40.
fn trace(upper: f64) -> String {
    let power = |angle: f64| if angle < 180.0 { 1.0 + 40.0 / upper } else { 2.0 };
    let radius = |deg: f64| {
        let (sin, cos) = deg.to_radians().sin_cos();
        let p = power(deg);
        ((cos.abs() / 25.0).powf(p) + (sin.abs() / 20.0).powf(p)).powf(-1.0 / p)
    };
    let radii: Vec<String> = (0..400).map(|i| format!("R={:.0}", 100.0 * radius(0.9 * f64::from(i)))).collect();
    format!("TRCFMT=1;400;E;R;F\n{}\n", radii.join("\n"))
}

fn traced(upper: f64) -> Arc<Measured> {
    read::outline::outline("trace", trace(upper).as_bytes()).value.expect("a sound trace")
}

fn prepare(c: &mut Criterion) {
    let text = trace(20.0);
    c.bench_function("outline/read a trace", |b| {
        b.iter(|| read::outline::outline("trace", black_box(text.as_bytes())));
    });
    let measured = traced(20.0);
    c.bench_function("outline/measured", |b| b.iter(|| measured.outline(Eye::Left, black_box(50.0), 40.0)));
    for shape in ["oval", "panto"] {
        let shape = Shape::from_word(shape).expect("a shape");
        c.bench_function(&format!("outline/{}", shape.word()), |b| {
            b.iter_batched(|| (), |()| shape.outline(Eye::Left, black_box(50.0), 40.0), BatchSize::SmallInput);
        });
    }
}

/// Five frames × three eye sizes × four lenses × two eyes: what a dispenser waits for.
const JOB: &str = r#"
format = 1
prescription.right = { sphere = -6.25, cylinder = -1.5, axis = 175, pd_mm = 31.5, prism = [{ amount_pd = 1.5, base = "in" }] }
prescription.left = { sphere = -5.75, pd_mm = 32.0 }
frame = [
    { name = "Fennel", shape = "oval", eye_sizes_mm = [48, 50, 52], depth_mm = 38, bridge_mm = 18, rim = "metal" },
    { name = "Teasel", shape = "panto", eye_sizes_mm = [46, 48, 50], depth_mm = 41, bridge_mm = 20, rim = "plastic" },
    { name = "Sorrel", shape = "rectangle", eye_sizes_mm = [50, 52, 54], depth_mm = 32, bridge_mm = 17, rim = "supra" },
    { name = "Bryony", shape = "pilot", eye_sizes_mm = [52, 54, 56], depth_mm = 46, bridge_mm = 16, rim = "metal" },
    { name = "Yarrow", shape = "cat-eye", eye_sizes_mm = [50, 52, 54], depth_mm = 38, bridge_mm = 18, rim = "rimless" },
]
lens = [
    { name = "plain", material = "resin-1.50" },
    { name = "thin", material = "resin-1.60" },
    { name = "thinner", material = "resin-1.67" },
    { name = "thinnest", material = "resin-1.74" },
]
"#;

fn whole_job(c: &mut Criterion) {
    let shelf = Shelf::built_in();
    c.bench_function("job/read and judge", |b| b.iter(|| read::job(black_box(JOB.as_bytes()), &shelf)));
    let job = read::job(JOB.as_bytes(), &shelf).value.expect("a job without faults");
    assert_eq!(job.combinations(), 60);
    c.bench_function("job/compare", |b| b.iter(|| Comparison::of(black_box(&job))));
    let comparison = Comparison::of(&job);
    c.bench_function("job/json", |b| b.iter(|| wire::compare_text(black_box(&comparison), &[])));
    c.bench_function("job/report", |b| b.iter(|| folder::files(black_box(&comparison), &[])));
}

/// Rows of CSV to lenses and totals, on one core: a time a row is what `stock` takes on each of its cores.
fn many_orders(c: &mut Criterion) {
    const ROWS: u64 = 2_000;
    let mut text = csv::Writer::from_writer(Vec::new());
    text.write_record(invented::columns()).expect("written to memory");
    for row in invented::Orders::new(ROWS, 7) {
        text.write_record(row).expect("written to memory");
    }
    let text = text.into_inner().expect("written to memory");
    let (shelf, bench) = (Shelf::built_in(), Orders::default());
    let mut group = c.benchmark_group("orders");
    group.throughput(Throughput::Elements(ROWS)).sample_size(20);
    group.bench_function("read and judge", |b| b.iter(|| judged(&text, &shelf, |_| ())));
    group.bench_function("whole", |b| {
        b.iter(|| {
            let mut totals = Totals::default();
            judged(&text, &shelf, |order| match bench.alone(&order.lens) {
                Ok(worked) => totals.count(&order.lens, &worked),
                Err(_) => totals.refuse(),
            });
            totals
        });
    });
    group.finish();
}

fn judged(text: &[u8], shelf: &Shelf, mut each: impl FnMut(&Order)) {
    let mut orders = read::orders::Orders::new(text).expect("a header");
    let header = orders.header().clone();
    for unit in orders.some(10_000).expect("rows") {
        for row in std::iter::once(&unit.first).chain(&unit.second) {
            each(&header.judge(row, shelf, &NoOutlines).value.expect("a row without faults"));
        }
    }
}

criterion_group!(speed, one_lens, prepare, whole_job, many_orders);
criterion_main!(speed);
