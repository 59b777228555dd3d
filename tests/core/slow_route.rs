//! A second way to the same numbers, slow and simple: textbook sags with plain radii, prism by turning a solid in space,
//! the centre thickness by bisection over dense samples, the volume by quadrature over the whole area. Nothing of the
//! program's own surfaces, searches or integrals is used; only the outline's path is.

use crate::case::Case;
use crate::support::Chance;
use kurbo::{ParamCurve, ParamCurveDeriv, PathSeg, Point, Vec2};
use rimwise::assess::Made;
use rimwise::choose::centre::SetBy;
use rimwise::eye::Eye;
use rimwise::material::Glass;

/// A lens by the textbook: radii, not curvatures.
pub(crate) struct Textbook {
    index: f64,
    r1: f64,
    f1: f64,
    sphere: f64,
    cylinder: f64,
    axis_rad: f64,
    prism_pd: f64,
    base_rad: f64,
}

impl Textbook {
    pub(crate) fn of(case: &Case, base_curve_d: f64, glass: Glass) -> Textbook {
        let r1 = if base_curve_d == 0.0 { f64::INFINITY } else { 530.0 / base_curve_d };
        Textbook {
            index: glass.index,
            r1,
            f1: (glass.index - 1.0) / (r1 / 1000.0),
            sphere: case.rx.power.sphere(),
            cylinder: case.rx.power.cylinder(),
            axis_rad: case.rx.power.axis().to_radians(),
            prism_pd: case.rx.prism.amount_pd(),
            base_rad: case.rx.prism.y_pd.atan2(case.rx.prism.x_pd),
        }
    }

    /// Back surface radii along the axis and across it, mm, at a centre thickness.
    fn back_radii(&self, t_mm: f64) -> (f64, f64) {
        let arriving = self.f1 / (1.0 - t_mm / 1000.0 / self.index * self.f1);
        let radius = |power: f64| (1.0 - self.index) / power * 1000.0;
        (radius(self.sphere - arriving), radius(self.sphere + self.cylinder - arriving))
    }

    fn circle(r: f64, y: f64) -> f64 {
        if r.is_infinite() { 0.0 } else { r - r.signum() * (r * r - y * y).sqrt() }
    }

    /// The circle of the steeper radius swept round with the flatter one.
    fn upright_back(&self, t_mm: f64, x: f64, y: f64) -> f64 {
        let (along, across) = self.back_radii(t_mm);
        let (s, c) = self.axis_rad.sin_cos();
        let (mut u, mut w) = (x * c + y * s, y * c - x * s);
        let (mut flat, mut steep) = (along, across);
        if flat.abs() < steep.abs() {
            (flat, steep) = (across, along);
            (u, w) = (w, u);
        }
        let s = Self::circle(steep, w);
        if flat.is_infinite() { s } else { flat - flat.signum() * ((flat - s).powi(2) - u * u).sqrt() }
    }

    /// The back turned about its vertex by Rodrigues' rotation: the height where the line through (x, y) meets it, by
    /// bisection.
    fn back(&self, t_mm: f64, x: f64, y: f64) -> f64 {
        if self.prism_pd == 0.0 {
            return self.upright_back(t_mm, x, y);
        }
        let deviation = (self.prism_pd / 100.0).atan();
        let tilt = (deviation.sin() / (self.index - deviation.cos())).atan();
        // The axis e_z leans away from the base: turn about the horizontal line at right angles to the base direction.
        let k = [-self.base_rad.sin(), self.base_rad.cos()];
        let turn_back = |p: [f64; 3]| rotate(p, k, tilt);
        let above = |z: f64| {
            let own = turn_back([x, y, z]);
            own[2] - self.upright_back(t_mm, own[0], own[1])
        };
        let guess = self.upright_back(t_mm, x, y) + tilt.tan() * (x * self.base_rad.cos() + y * self.base_rad.sin());
        let (mut low, mut high) = (guess - 0.01, guess + 0.01);
        while above(low) > 0.0 {
            low -= 0.25;
        }
        while above(high) < 0.0 {
            high += 0.25;
        }
        assert!(above(low) <= 0.0 && above(high) >= 0.0, "the line does not meet the surface");
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if above(middle) < 0.0 { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    pub(crate) fn thickness(&self, t_mm: f64, p: Vec2) -> f64 {
        t_mm + self.back(t_mm, p.x, p.y) - Self::circle(self.r1, p.hypot())
    }
}

/// Rodrigues' rotation about the horizontal axis k by `angle`.
fn rotate(p: [f64; 3], k: [f64; 2], angle: f64) -> [f64; 3] {
    let (s, c) = angle.sin_cos();
    let dot = k[0] * p[0] + k[1] * p[1];
    let cross = [k[1] * p[2], -k[0] * p[2], k[0] * p[1] - k[1] * p[0]];
    [
        p[0] * c + cross[0] * s + k[0] * dot * (1.0 - c),
        p[1] * c + cross[1] * s + k[1] * dot * (1.0 - c),
        p[2] * c + cross[2] * s,
    ]
}

/// The pieces of an outline's path about the boxed centre.
fn pieces(case: &Case) -> Vec<PathSeg> {
    case.outline().curve().path(1e-10).segments().filter(|s| !matches!(s, PathSeg::Line(_))).collect()
}

fn reference(case: &Case) -> Vec2 {
    let nose = if case.eye == Eye::Right { 1.0 } else { -1.0 };
    let in_mm = (case.boxing.eye_size_mm + case.boxing.bridge_mm) / 2.0 - case.rx.pd_mm;
    Vec2::new(nose * in_mm, case.up_mm)
}

/// Least thickness over the outline from dense samples, the best one polished by golden section.
fn least_edge(segments: &[PathSeg], at: impl Fn(Point) -> f64, sign: f64) -> f64 {
    let mut best = (f64::INFINITY, 0, 0.0);
    let steps = 120;
    for (i, segment) in segments.iter().enumerate() {
        for k in 0..steps {
            let t = f64::from(k) / f64::from(steps);
            let value = sign * at(segment.eval(t));
            if value < best.0 {
                best = (value, i, t);
            }
        }
    }
    let global = |u: f64| {
        let n = segments.len() as f64;
        let u = u.rem_euclid(n);
        let i = (u as usize).min(segments.len() - 1);
        sign * at(segments[i].eval(u - i as f64))
    };
    let centre = best.1 as f64 + best.2;
    let (mut a, mut b) = (centre - 1.0 / f64::from(steps), centre + 1.0 / f64::from(steps));
    let golden = 0.5 * (5f64.sqrt() - 1.0);
    for _ in 0..60 {
        let (c, d) = (b - golden * (b - a), a + golden * (b - a));
        if global(c) < global(d) { b = d } else { a = c }
    }
    sign * global(0.5 * (a + b)).min(best.0)
}

/// Gauss-Legendre nodes on 0 … 1 by Newton on the recurrence (own code: independent of the program's library).
fn legendre(n: usize) -> Vec<(f64, f64)> {
    (0..n)
        .map(|i| {
            let mut x = (std::f64::consts::PI * (i as f64 + 0.75) / (n as f64 + 0.5)).cos();
            let mut slope = 1.0;
            for _ in 0..100 {
                let (mut p0, mut p1) = (1.0, x);
                for k in 2..=n {
                    let k = k as f64;
                    (p0, p1) = (p1, ((2.0 * k - 1.0) * x * p1 - (k - 1.0) * p0) / k);
                }
                slope = n as f64 * (x * p1 - p0) / (x * x - 1.0);
                let step = p1 / slope;
                x -= step;
                if step.abs() < 1e-15 {
                    break;
                }
            }
            (0.5 * (1.0 - x), 1.0 / ((1.0 - x * x) * slope * slope))
        })
        .collect()
}

/// ∬ f over the shape: a fan of each piece from the boxed centre.
pub(crate) fn over_shape(segments: &[PathSeg], n: usize, f: impl Fn(Vec2) -> f64) -> f64 {
    let rule = legendre(n);
    let mut sum = 0.0;
    for segment in segments {
        for &(t, wt) in &rule {
            let p = segment.eval(t).to_vec2();
            let d = match segment {
                PathSeg::Cubic(c) => c.deriv().eval(t).to_vec2(),
                _ => panic!("cubic pieces only"),
            };
            let weight = wt * p.cross(d);
            sum += rule.iter().map(|&(s, ws)| ws * weight * s * f(p * s)).sum::<f64>();
        }
    }
    sum
}

struct Slow {
    centre_mm: f64,
    edge_max_mm: f64,
    edge_min_mm: f64,
    volume_mm3: f64,
}

/// All of it the slow way. The reference point and the lowest point are guarded as in the contract; the lowest point is
/// found by a shrinking grid.
fn slow(case: &Case, made: &Made) -> Slow {
    let glass = case.option.substance.glass(rimwise::light::ReferenceLine::D);
    let lens = Textbook::of(case, made.base.base_curve_d, glass);
    let reference = reference(case);
    let segments = pieces(case);
    let (c, e) = (case.option.min_centre_mm.unwrap(), case.option.min_edge_mm.unwrap());
    let guard = |inside: f64| e.min(c) + (c - e.min(c)) * (inside / 5.0).min(1.0);
    let distance = |p: Vec2| least_edge(&segments, |q| (q.to_vec2() - p).hypot(), 1.0);
    let outline = case.outline();
    let path = outline.curve().path(1e-10);
    let inside = |p: Vec2| kurbo::Shape::winding(&path, p.to_point()) != 0;
    let at_reference = inside(reference).then(|| guard(distance(reference)));
    let lack = |t: f64| {
        let edge = e - least_edge(&segments, |q| lens.thickness(t, q.to_vec2() - reference), 1.0);
        let centre = at_reference.map_or(f64::NEG_INFINITY, |wanted| wanted - t);
        let low = lowest(|p| lens.thickness(t, p - reference), reference, &inside)
            .map_or(f64::NEG_INFINITY, |(p, thickness)| guard(distance(p)) - thickness);
        edge.max(centre).max(low)
    };
    // The lack falls by about one for each millimetre of centre: bisection round the answer that is to be checked.
    let (mut low, mut high) = (made.lens.centre_mm() - 0.5, made.lens.centre_mm() + 0.5);
    assert!(lack(low) > 0.0 && lack(high) < 0.0, "the demands are not bracketed");
    for _ in 0..34 {
        let middle = 0.5 * (low + high);
        if lack(middle) > 0.0 { low = middle } else { high = middle }
    }
    let t = 0.5 * (low + high);
    let edge = |q: Point| lens.thickness(t, q.to_vec2() - reference);
    Slow {
        centre_mm: t,
        edge_max_mm: least_edge(&segments, edge, -1.0),
        edge_min_mm: least_edge(&segments, edge, 1.0),
        // At the program's own centre thickness: that it is the right one is a question of its own.
        volume_mm3: over_shape(&segments, 24, |p| lens.thickness(made.lens.centre_mm(), p - reference)),
    }
}

/// A strict local minimum inside, by walking downhill on a shrinking star of eight steps.
fn lowest(f: impl Fn(Vec2) -> f64, start: Vec2, inside: &impl Fn(Vec2) -> bool) -> Option<(Vec2, f64)> {
    let (mut p, mut value, mut step) = (start, f(start), 4.0);
    while step > 1e-7 {
        let next = (0..8)
            .map(|i| p + step * Vec2::from_angle(f64::from(i) * std::f64::consts::FRAC_PI_4))
            .map(|q| (q, if q.hypot() < 45.0 { f(q) } else { f64::INFINITY }))
            .min_by(|a, b| a.1.total_cmp(&b.1))?;
        if next.1 < value { (p, value) = next } else { step *= 0.5 }
    }
    // Downhill to the end of the world is no minimum: the neighbourhood must rise on all sides.
    let rises = (0..8).all(|i| {
        let q = p + 0.05 * Vec2::from_angle(f64::from(i) * std::f64::consts::FRAC_PI_4);
        f(q) > value
    });
    (rises && inside(p)).then_some((p, value))
}

#[test]
fn the_slow_route_gives_the_same_thickness_and_volume() {
    let mut chance = Chance(7);
    let (mut done, mut prisms, mut low, mut edge, mut tori) = (0, 0, 0, 0, 0);
    let (mut worst_mm, mut worst_volume) = (0f64, 0f64);
    while done < 60 {
        let case = Case::any(&mut chance);
        let Ok(made) = case.make() else { continue };
        let slow = slow(&case, &made);
        let differences = [
            made.lens.centre_mm() - slow.centre_mm,
            made.thickness.edges.max.thickness_mm - slow.edge_max_mm,
            made.thickness.edges.min.thickness_mm - slow.edge_min_mm,
        ];
        let volume = made.volume_mm3 / slow.volume_mm3 - 1.0;
        for d in differences {
            assert!(d.abs() < 1e-6, "thickness off by {d} mm: {case:?}");
            worst_mm = worst_mm.max(d.abs());
        }
        assert!(volume.abs() < 1e-7, "volume off by {volume}: {case:?}");
        worst_volume = worst_volume.max(volume.abs());
        done += 1;
        prisms += usize::from(!case.rx.prism.is_none());
        tori += usize::from(case.rx.power.cylinder() != 0.0);
        low += usize::from(made.thickness.set_by == SetBy::LowestPoint);
        edge += usize::from(made.thickness.set_by == SetBy::Edge);
    }
    // The hard cases were among them.
    assert!(prisms > 10 && low > 3 && edge > 10 && tori > 20, "{prisms} {low} {edge} {tori}");
    assert!(worst_mm > 0.0 && worst_volume > 0.0, "the two ways are not two");
}
