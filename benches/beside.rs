//! Our side of `beside.py`: how long a lens takes from the prescription on a prepared outline, and what comes out of it.
//!
//! `cargo bench --bench beside -- JOB…` prints one line of JSON for each job: its two lenses, right and left, with all digits,
//! and the median time of a lens in nanoseconds over batches of `make` alone, without reading, process or outline.
#![expect(clippy::print_stdout, reason = "the numbers are its answer")]
#![expect(clippy::disallowed_methods, reason = "it reads the jobs that it is given and looks at the clock")]

use rimwise::assess::{Ask, Made, make};
use rimwise::choose::base;
use rimwise::eye::Eye;
use rimwise::material::Shelf;
use rimwise::read::{self, OutlineFiles};
use rimwise::study::compare::Comparison;
use serde_json::{Value, json};
use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

/// Batches that the median is taken of, and lenses in each: a batch is long against the steps of the clock.
const BATCHES: usize = 31;
const IN_A_BATCH: u32 = 20;

fn main() {
    // Cargo adds `--bench` to what it hands on.
    for path in std::env::args().skip(1).filter(|word| !word.starts_with("--")) {
        let text = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{path}: {why}"));
        println!("{}", of_job(&text, &OutlineFiles::beside(Path::new(&path))));
    }
}

/// The lenses of a job's first frame, size and lens.
fn of_job(text: &str, outlines: &OutlineFiles) -> Value {
    let job = read::job_with(text.as_bytes(), &Shelf::built_in(), outlines).value.expect("a sound job");
    let comparison = Comparison::of(&job);
    let fit = comparison.fits.first().expect("one combination");
    let prescription = fit.prescription;
    let bases = base::pair(fit.option, &prescription.eyes.map(|rx| rx.power));
    let lenses = Eye::BOTH.map(|eye| {
        let rx = prescription.eyes.of(eye);
        let ask = fit.mounting.ask(eye, rx, prescription.reference_line, fit.option, *bases.of(eye));
        told(eye, &make(&ask).expect("can be made"), median_ns(&ask))
    });
    json!(lenses)
}

fn told(eye: Eye, made: &Made, ns: f64) -> Value {
    json!({
        "eye": eye.word(),
        "ns": ns,
        "centre_mm": made.lens.centre_mm(),
        "volume_mm3": made.volume_mm3,
        "edge_max_mm": made.thickness.edges.max.thickness_mm,
    })
}

fn median_ns(ask: &Ask<'_>) -> f64 {
    let mut times: Vec<f64> = (0..BATCHES).map(|_| batch_ns(ask)).collect();
    times.sort_by(f64::total_cmp);
    times[BATCHES / 2]
}

fn batch_ns(ask: &Ask<'_>) -> f64 {
    let start = Instant::now();
    for _ in 0..IN_A_BATCH {
        let _ = black_box(make(black_box(ask)));
    }
    start.elapsed().as_secs_f64() * 1e9 / f64::from(IN_A_BATCH)
}
