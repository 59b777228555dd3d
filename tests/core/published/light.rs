//! Reflection and dispersion.

use super::*;
use rimwise::light::ReferenceLine;
use rimwise::material::Glass;

const LAYERS: &str = "read: voptics.com, anti-reflection coatings";

pub(super) fn reflection() -> Vec<Row> {
    // Of a surface between two media only the ratio of their indices counts.
    let reflectance = |n: f64| Glass::new(n, 58.0, 1.3, ReferenceLine::D).surface_reflectance();
    let through = |n: f64| 1.0 - reflectance(n);
    let mut rows = vec![
        row("RF-01", reflectance(1.5), 0.04, 5e-5, FORMULA),
        // Printed 0.0123 and 0.0083: a unit of the last digit.
        row("RF-02 outer", reflectance(1.25), 0.0123, 5.1e-5, LAYERS),
        row("RF-02 inner", reflectance(1.5 / 1.25), 0.0083, 5.1e-5, LAYERS),
        row("RF-03", 100.0 * through(1.8), 91.84, 0.05, FORMULA),
        row("RF-03 through 1.5", 100.0 * through(1.5) * through(1.8 / 1.5), 95.2, 0.05, FORMULA),
    ];
    let worked = [
        (1.498, 3.974),
        (1.523, 4.297),
        (1.56, 4.785),
        (1.586, 5.135),
        (1.6, 5.325),
        (1.67, 6.297),
        (1.74, 7.294),
        (1.9, 9.631),
    ];
    rows.extend(worked.map(|(n, percent)| row("RF-04", 100.0 * reflectance(n), percent, 5e-4, FORMULA)));
    rows
}

/// What the two-term form leaves out, most for the strongest flint: 1.2e-4 of the index, 0.2 of the Abbe number.
const FORM_N: f64 = 2e-4;
const FORM_V: f64 = 0.25;

/// Open data: n_d and V_d go in, n_e and V_e are held against the file's own.
pub(super) fn dispersion() -> Vec<Row> {
    let data = [
        ("acrylic, Sultanova 2009", 1.49062, 53.18, 1.49282, 52.80),
        ("acrylic, Szczurowski", 1.49060, 58.00, 1.49261, 57.58),
        ("acrylic, Beadie 2015", 1.49253, 59.37, 1.49449, 58.87),
        ("polycarbonate, Sultanova 2009", 1.58476, 27.86, 1.58975, 27.72),
        ("polystyrene, Sultanova 2009", 1.59163, 29.53, 1.59640, 29.37),
        ("soda-lime crown sheet 523-587", 1.52300, 58.76, 1.52510, 58.34),
        ("crown 522-595", 1.52249, 59.48, 1.52458, 59.22),
        ("crown 511-604", 1.51112, 60.41, 1.51314, 60.15),
        ("borosilicate crown 517-642", 1.51680, 64.17, 1.51872, 63.96),
        ("flint 620-364", 1.62004, 36.37, 1.62408, 36.11),
        ("flint 606-437", 1.60568, 43.72, 1.60897, 43.43),
        ("flint 704-394", 1.70400, 39.38, 1.70824, 39.12),
        ("flint 805-254", 1.80518, 25.36, 1.81266, 25.16),
        ("lanthanum flint 883-408", 1.88300, 40.76, 1.88815, 40.52),
    ];
    let both = |(name, n_d, v_d, n_e, v_e)| {
        let ours = Glass::from_d(n_d, v_d, 1.0, ReferenceLine::E);
        [row(name, ours.index, n_e, FORM_N, OPEN_INDEX), row(name, ours.abbe, v_e, FORM_V, OPEN_ABBE)]
    };
    data.into_iter().flat_map(both).collect()
}
