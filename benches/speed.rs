//! How long one lens takes, from prescription to every figure, on a prepared outline.
//!
//! `cargo bench --bench speed` (add a name to choose, `-- --quick` for a fast look).

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use rimwise::assess::{self, Ask};
use rimwise::choose::{LensOption, Substance, Supply, base};
use rimwise::eye::Eye;
use rimwise::frame::{Boxing, Centration};
use rimwise::light::ReferenceLine;
use rimwise::material::Glass;
use rimwise::outline::Shape;
use rimwise::rim::Rim;
use rimwise::rx::{EyeRx, Power, Prism};
use std::hint::black_box;

fn option() -> LensOption {
    LensOption {
        name: "1.6".to_owned(),
        substance: Substance::Inline(Glass::new(1.6, 41.0, 1.3, ReferenceLine::D)),
        base_curve_d: None,
        min_centre_mm: Some(1.4),
        min_edge_mm: Some(1.0),
        supply: Supply::Surfaced,
        price: None,
    }
}

fn one_lens(c: &mut Criterion) {
    let option = option();
    let boxing = Boxing { eye_size_mm: 50.0, depth_mm: 40.0, bridge_mm: 18.0 };
    for shape in ["oval", "panto", "rectangle", "pilot", "octagon"] {
        let outline = Shape::from_word(shape).expect("a shape").outline(Eye::Right, 50.0, 40.0);
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
                outline: &outline,
                centration: Centration::new(&boxing, rx.pd_mm, 1.0),
                rim: Rim::Metal,
                option: &option,
                base: base::alone(&option, &power),
            };
            c.bench_function(&format!("lens/{shape}/{name}"), |b| {
                b.iter(|| assess::make(black_box(&ask)).expect("can be made"));
            });
        }
    }
}

fn prepare(c: &mut Criterion) {
    for shape in ["oval", "panto"] {
        let shape = Shape::from_word(shape).expect("a shape");
        c.bench_function(&format!("outline/{}", shape.word()), |b| {
            b.iter_batched(|| (), |()| shape.outline(Eye::Left, black_box(50.0), 40.0), BatchSize::SmallInput);
        });
    }
}

criterion_group!(speed, one_lens, prepare);
criterion_main!(speed);
