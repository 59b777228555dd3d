//! How do I hand a lens to a CAD program?
//!
//! A solid is the outline swept along z, cut by the front and by the back. Printed is what those are drawn from, as JSON,
//! for the job named on the command line or for one of its own.
//!
//! Coordinates are right-handed, as CAD programs want them: x to the observer's right, y up, z **toward the observer**
//! (inside the program z goes toward the eye). The origin is the boxed centre, in the plane of the front's vertex. Units: mm.
//!
//! - `front`: a sphere through its `vertex`; `radius` null is a plane, its centre lies behind it (toward the eye).
//! - `back`: `radius_along` the axis and `radius_across` it, positive where it is hollow toward the eye; `along` and
//!   `across` are those directions at the vertex, `outward` the normal there, away from the lens. Both radii equal: a
//!   sphere. Else a torus: the arc of the smaller radius revolved about the line that lies at right angles to the larger
//!   radius's meridian, one larger radius from the vertex. Where that is under twice the smaller a kernel's own torus
//!   overlaps itself: revolve an arc of less than half a circle.
//! - `outline`: the half axes of an ellipse, or the control points of cubic Bézier pieces, anticlockwise.
#![expect(clippy::print_stdout, reason = "an example prints its answer")]
#![expect(clippy::disallowed_methods, reason = "an example reads the job that it is given")]

use kurbo::{BezPath, Point};
use rimwise::assess::Made;
use rimwise::eye::Eye;
use rimwise::figures::radius_mm;
use rimwise::job::Outlines;
use rimwise::material::Shelf;
use rimwise::outline::{Curve, Outline};
use rimwise::read::{self, OutlineFiles};
use rimwise::study::compare::Comparison;
use rimwise::surface::Surface;
use serde_json::{Value, json};
use std::path::PathBuf;

/// A job as a file would hold it: cylinder and prism, so that the back is a turned torus.
pub(crate) const JOB: &str = r#"
format = 1
prescription.right = { sphere = -4.50, cylinder = -1.50, axis = 20, prism = [{ amount_pd = 2, base = "in" }], pd_mm = 31 }
prescription.left = { sphere = -4.25, pd_mm = 31.5 }
frame = [{ name = "Sorrel", shape = "panto", eye_sizes_mm = [48], depth_mm = 42, bridge_mm = 20, rim = "metal" }]
lens = [{ name = "thin", material = "resin-1.60" }]
"#;

fn main() {
    let Some(path) = std::env::args_os().nth(1).map(PathBuf::from) else {
        return println!("{}", answer(JOB, &OutlineFiles::here()));
    };
    let job = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    println!("{}", answer(&job, &OutlineFiles::beside(&path)));
}

/// The answer, as JSON. Measured outlines that the job names are taken from `outlines`.
pub(crate) fn answer(job: &str, outlines: &dyn Outlines) -> String {
    let judged = read::job_with(job.as_bytes(), &Shelf::built_in(), outlines);
    let job = judged.value.expect("a sound job: `rimwise check` says what is wrong with it");
    let mut lenses = Vec::new();
    for fit in &Comparison::of(&job).fits {
        let Some(pair) = fit.pair() else { continue };
        for eye in Eye::BOTH {
            let mut solid = solid(eye, pair.eyes.of(eye), fit.mounting.outlines.of(eye));
            solid["frame"] = json!(fit.mounting.frame.name);
            solid["eye_size_mm"] = json!(fit.mounting.boxing.eye_size_mm);
            solid["lens"] = json!(fit.option.name);
            lenses.push(solid);
        }
    }
    serde_json::to_string_pretty(&json!({ "lenses": lenses })).expect("plain values")
}

fn solid(eye: Eye, made: &Made, outline: &Outline) -> Value {
    let at = made.centration.point(eye);
    let [along, across] = made.lens.back_curvatures().map(radius_mm);
    let turned = |v: [f64; 3]| {
        let [x, y, z] = match made.lens.back() {
            Surface::Upright(_) => v,
            Surface::Turned(turned) => (turned.matrix() * nalgebra::Vector3::from(v)).into(),
        };
        [x, y, -z]
    };
    let (sin, cos) = made.recipe.power.axis().to_radians().sin_cos();
    json!({
        "eye": eye.word(),
        "front": { "vertex": [at.x, at.y, 0.0], "radius": radius_mm(made.recipe.front_curvature()) },
        "back": {
            "vertex": [at.x, at.y, -made.lens.centre_mm()],
            "radius_along": along,
            "radius_across": across,
            "along": turned([cos, sin, 0.0]),
            "across": turned([-sin, cos, 0.0]),
            "outward": turned([0.0, 0.0, 1.0]),
        },
        "outline": outline_of(outline),
    })
}

fn outline_of(outline: &Outline) -> Value {
    match outline.curve() {
        Curve::Ellipse { a, b } => json!({ "ellipse": [a, b] }),
        // Drawn shapes are cubic: nothing is approximated, whatever accuracy is asked for.
        pieces => json!({ "bezier": bezier(&pieces.path(1e-6)) }),
    }
}

fn bezier(path: &BezPath) -> Vec<[[f64; 2]; 4]> {
    let plain = |p: Point| [p.x, p.y];
    let cubics = path.segments().filter_map(|segment| match segment {
        kurbo::PathSeg::Cubic(c) => Some([c.p0, c.p1, c.p2, c.p3].map(plain)),
        _ => None,
    });
    cubics.collect()
}
