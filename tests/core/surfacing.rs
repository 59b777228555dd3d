//! Surfacing, against plain geometry: does every lens lie in its blank at every point, is the crib's edge half a
//! millimetre, what do rounded tools leave, where does prism to grind point, and are thickest and thinnest place there?
//!
//! Units: mm, dioptres, prism dioptres.

use crate::case::{Case, show};
use crate::support::Chance;
use kurbo::Vec2;
use rimwise::assess::{CRIB_EDGE_MM, Impossible, LEAST_TAKEN_MM, Made, Surfacing};
use rimwise::choose::blank::blank;
use rimwise::choose::centre::{self, Place};
use rimwise::choose::minimum::minima;
use rimwise::choose::{LensOption, Substance, Supply, base};
use rimwise::lens::{Lens, Recipe};
use rimwise::light::ReferenceLine;
use rimwise::material::{SemiFinished, Shelf};
use rimwise::outline::Outline;
use rimwise::rx::{Power, Prism};
use std::f64::consts::TAU;
use std::sync::Arc;

/// Between two points of the grid.
const GRID_MM: f64 = 1.0;

/// Any lens of a material of the shelf, strong ones among them.
fn any(chance: &mut Chance, shelf: &Shelf) -> (Case, SemiFinished) {
    let mut case = Case::any(chance);
    let material = &shelf.materials[(chance.share() * shelf.materials.len() as f64) as usize];
    let row = &material.semi_finished[(chance.share() * material.semi_finished.len() as f64) as usize];
    case.option = LensOption::new("any", Substance::Listed(Arc::clone(material)));
    case.option.base_curve_d = Some(row.base_curve_d);
    let cylinder = chance.one_of(&[0.0, -1.25, -3.5]);
    case.rx.power = Power::new(chance.within(-18.0, 15.0), cylinder, chance.within(0.0, 180.0));
    if chance.share() < 0.4 {
        case.rx.prism = Prism::new(chance.within(0.5, 10.0), chance.within(0.0, 360.0));
    }
    (case, row.clone())
}

fn surfacing(case: &Case, made: &Made, outline: &Outline) -> Surfacing {
    made.surfacing(case.eye, outline, &case.option)
}

/// All points of a grid inside an outline, and many of its own.
fn points(outline: &Outline) -> Vec<Vec2> {
    let reach = (0.5 * outline.effective_diameter_mm() / GRID_MM).ceil() as i32;
    let grid =
        (-reach..=reach).flat_map(|i| (-reach..=reach).map(move |k| Vec2::new(f64::from(i), f64::from(k)) * GRID_MM));
    let period = outline.curve().period();
    let own = (0..1440).map(|i| outline.curve().jet(period * f64::from(i) / 1440.0).p);
    grid.filter(|p| outline.depth_inside_mm(*p) >= 0.0).chain(own).collect()
}

/// z of a sphere through `vertex` with its middle at `middle` on the line x, y: the crossing on the vertex's side.
struct Ball {
    middle: [f64; 3],
    radius: f64,
    hollow: bool,
}

impl Ball {
    /// Touches a vertex; its middle lies along the axis at 1/curvature, toward the eye where that is positive.
    fn touching(vertex: [f64; 3], axis: [f64; 3], curvature: f64) -> Ball {
        let way = 1.0 / curvature;
        let middle = [0, 1, 2].map(|i| vertex[i] + way * axis[i]);
        Ball { middle, radius: way.abs(), hollow: curvature > 0.0 }
    }

    fn z(&self, p: Vec2) -> Option<f64> {
        let [x, y, z] = self.middle;
        let under = self.radius.powi(2) - (p.x - x).powi(2) - (p.y - y).powi(2);
        (under > 0.0).then(|| if self.hollow { z - under.sqrt() } else { z + under.sqrt() })
    }
}

/// The blank of a row as two spheres, its middle `off` from the reference point: z of its back, from the lens's front there.
fn blank_back(row: &SemiFinished, off: Vec2) -> Option<Ball> {
    let front_radius = 530.0 / row.base_curve_d;
    let widest = 0.5 * row.diameters_mm[row.diameters_mm.len() - 1];
    let front_sag = front_radius - (front_radius.powi(2) - widest.powi(2)).sqrt();
    let back_sag = row.edge_mm - row.centre_mm + front_sag;
    let back_radius = (widest.powi(2) + back_sag.powi(2)) / (2.0 * back_sag);
    // The front is a ball about (0, 0, R); the blank's axis goes from its middle to there.
    let under = front_radius.powi(2) - off.hypot2();
    let front = [off.x, off.y, front_radius - under.sqrt()];
    let axis = [-front[0] / front_radius, -front[1] / front_radius, (front_radius - front[2]) / front_radius];
    let vertex = [0, 1, 2].map(|i| front[i] + row.centre_mm * axis[i]);
    (under > 0.0).then(|| Ball::touching(vertex, axis, 1.0 / back_radius))
}

/// The least that surfacing takes off anywhere on the grid; minus infinity where the blank ends.
fn least_taken(lens: &Lens, back: Option<&Ball>, reference: Vec2, points: &[Vec2]) -> f64 {
    let taken = |p: &Vec2| {
        let at = *p - reference;
        back.and_then(|back| back.z(at))
            .map_or(f64::NEG_INFINITY, |z| z - lens.centre_mm() - lens.back().sag(at).expect("the lens reaches"))
    };
    points.iter().map(taken).fold(f64::INFINITY, f64::min)
}

#[test]
fn a_lens_lies_in_its_blank_at_every_point_or_is_refused() {
    let (mut chance, shelf) = (Chance(33), Shelf::built_in());
    let (mut held, mut decentred, mut refused) = (0, 0, 0);
    let mut off_most: f64 = 0.0;
    for _ in 0..600 {
        let (case, row) = any(&mut chance, &shelf);
        let (outline, reference) = (case.outline(), case.centration().point(case.eye));
        let place = Place::new(&outline, reference);
        let points = points(&outline);
        match case.make_in(&outline) {
            Ok(made) => {
                let middle = if made.blank.decentred { outline.enclosing_middle() } else { reference };
                let back = blank_back(&row, middle - reference);
                let least = least_taken(&made.lens, back.as_ref(), reference, &points);
                assert!(least >= LEAST_TAKEN_MM - 1e-9, "{least} in {case:?}");
                let told = surfacing(&case, &made, &outline).least_taken_mm.expect("a listed blank");
                off_most = off_most.max(least - told);
                assert!(least >= told - 1e-9 && least - told < 0.01, "{least} and {told} in {case:?}");
                held += 1;
                decentred += usize::from(made.blank.decentred);
            }
            Err(Impossible::BlankTooThin { blank_mm, wanted_mm, base_curve_d, .. }) => {
                let glass = case.option.substance.glass(ReferenceLine::D);
                let recipe = Recipe {
                    power: case.rx.power,
                    prism: case.rx.prism,
                    index: glass.index,
                    base_curve_d: row.base_curve_d,
                };
                let kept = minima(&case.option, case.rim).kept;
                let lens = centre::surfaced(&recipe, &place, &kept).expect("a lens").lens;
                let taken = blank(&case.option, &case.rx.power, row.base_curve_d, &place).expect("large enough");
                let back = blank_back(&row, taken.middle(&outline, reference) - reference);
                let least = least_taken(&lens, back.as_ref(), reference, &points);
                let lack = wanted_mm - blank_mm;
                assert!(least < LEAST_TAKEN_MM + 1e-6 && lack > 0.0 && base_curve_d == row.base_curve_d, "{case:?}");
                assert!((least - LEAST_TAKEN_MM + lack).abs() < 0.01, "{least}, {lack} short in {case:?}");
                refused += 1;
            }
            Err(_) => {}
        }
    }
    show(|| {
        format!("{held} held, {decentred} of them decentred, {refused} refused; grid and told differ by {off_most}")
    });
    assert!(held > 250 && decentred > 8 && refused > 20, "{held} {decentred} {refused}");
}

#[test]
fn at_the_crib_the_edge_is_half_a_millimetre_all_round() {
    let (mut chance, shelf) = (Chance(34), Shelf::built_in());
    let (mut cribbed, mut round, mut whole) = (0, 0, 0);
    for _ in 0..200 {
        let (mut case, _) = any(&mut chance, &shelf);
        if chance.share() < 0.3 {
            case.rx = rimwise::rx::EyeRx {
                power: Power::spherical(chance.within(1.0, 9.0)),
                prism: Prism::default(),
                ..case.rx
            };
        }
        let (outline, reference) = (case.outline(), case.centration().point(case.eye));
        let Ok(made) = case.make_in(&outline) else { continue };
        let off = made.blank.middle(&outline, reference) - reference;
        let edge = |radius: f64| {
            let at = |i: u32| off + radius * Vec2::from_angle(TAU * f64::from(i) / 3600.0);
            (0..3600).filter_map(|i| made.lens.thickness(at(i))).fold(f64::INFINITY, f64::min)
        };
        let blank_mm = made.blank.diameter_mm.expect("listed");
        match surfacing(&case, &made, &outline).crib {
            Some(crib) => {
                let (there, beyond) = (edge(0.5 * crib.diameter_mm), edge(0.5 * crib.diameter_mm + 0.01));
                assert!(
                    (-1e-9..1e-5).contains(&(there - CRIB_EDGE_MM)) && beyond < CRIB_EDGE_MM,
                    "{there} in {case:?}"
                );
                assert!(crib.diameter_mm <= blank_mm);
                cribbed += 1;
                let power = case.rx.power;
                if power.cylinder() == 0.0 && case.rx.prism.is_none() && !made.blank.decentred {
                    // A lens of two spheres, by their radii: t_c + z2 − z1 at the crib.
                    let sag = |curvature: f64| {
                        let r = 1.0 / curvature;
                        let under = (r * r - (0.5 * crib.diameter_mm).powi(2)).sqrt();
                        if r > 0.0 { r - under } else { r + under }
                    };
                    let [back, _] = made.lens.back_curvatures();
                    let by_hand = made.lens.centre_mm() + sag(back) - sag(made.base.base_curve_d / 530.0);
                    assert!((by_hand - CRIB_EDGE_MM).abs() < 1e-9, "{by_hand}");
                    round += 1;
                }
            }
            None => {
                assert!(edge(0.5 * blank_mm) > CRIB_EDGE_MM, "{case:?}");
                whole += 1;
            }
        }
    }
    assert!(cribbed > 30 && round > 8 && whole > 30, "{cribbed} {round} {whole}");
}

#[test]
fn a_rounded_tool_is_off_by_no_more_than_half_its_step() {
    let (mut chance, shelf) = (Chance(35), Shelf::built_in());
    let mut seen = 0;
    for _ in 0..400 {
        let (mut case, _) = any(&mut chance, &shelf);
        case.option.tool_step_d = chance.one_of(&[0.0625, 0.1, 0.125, 0.25]);
        let outline = case.outline();
        let Ok(made) = case.make_in(&outline) else { continue };
        let tools = surfacing(&case, &made, &outline).tools.expect("surfaced");
        let (step, n) = (case.option.tool_step_d, made.recipe.index);
        let power_of_step = (n - 1.0) / 0.53 * step;
        // Power by the textbooks from the radii of front and tool: F1/(1 − t F1/n) + F2.
        let front = (n - 1.0) * made.base.base_curve_d / 0.53;
        let arriving = front / (1.0 - made.lens.centre_mm() / 1000.0 / n * front);
        let with = |curve_d: f64| arriving + (1.0 - n) * curve_d / 0.53;
        let (rx, meridians) = (case.rx.power, [tools.along, tools.across]);
        let wanted = [rx.sphere(), rx.sphere() + rx.cylinder()];
        for (tool, wanted) in meridians.into_iter().zip(wanted) {
            assert!((tool.tool_d / step - (tool.tool_d / step).round()).abs() < 1e-9);
            assert!((tool.tool_d - tool.wanted_d).abs() <= 0.5 * step + 1e-12);
            assert!((with(tool.wanted_d) - wanted).abs() < 1e-9, "{} for {wanted}", with(tool.wanted_d));
        }
        let [along, across] = meridians.map(|tool| with(tool.tool_d));
        assert!((along - rx.sphere() - tools.sphere_error_d).abs() < 1e-9);
        assert!((across - along - rx.cylinder() - tools.cylinder_error_d).abs() < 1e-9);
        assert!(tools.sphere_error_d.abs() <= 0.5 * power_of_step + 1e-9);
        assert!(tools.cylinder_error_d.abs() <= power_of_step + 1e-9);
        seen += 1;
    }
    assert!(seen > 150, "{seen}");
}

/// Thin lenses of index 1.530, whose curves are their powers (the trade's sum, as TH-09 and TH-10 of the published checks),
/// and a thick one whose back has the radius printed as TH-06.
#[test]
fn tools_of_published_backs() {
    let tools = |power: Power, base_curve_d: f64, index: f64, centre_mm: f64| {
        let mut case = Case::plain();
        case.rx.power = Power::spherical(0.0);
        let mut made = case.make().expect("a lens");
        made.recipe = Recipe { power, prism: Prism::default(), index, base_curve_d };
        made.lens = made.recipe.at_centre(centre_mm).expect("a lens");
        rimwise::assess::Tools::of(&made, 0.125)
    };
    let plain = tools(Power::spherical(3.0), 6.25, 1.53, 1e-9);
    assert!((plain.along.tool_d - 3.25).abs() < 1e-12 && plain.sphere_error_d.abs() < 1e-7, "{plain:?}");
    let toric = tools(Power::new(-2.0, -1.0, 45.0), 6.25, 1.53, 1e-9);
    assert!((toric.along.tool_d - 8.25).abs() < 1e-12 && (toric.across.tool_d - 9.25).abs() < 1e-12, "{toric:?}");
    assert!(toric.sphere_error_d.abs() < 1e-7 && toric.cylinder_error_d.abs() < 1e-7);
    let thick = tools(Power::spherical(4.0), 6.25 * 0.53 / 0.498, 1.498, 4.0);
    assert!((thick.along.wanted_d - 530.0 / 211.3684).abs() < 1e-6, "{thick:?}");
    // 2.5075 D is 2.500 D on the tool: the power is off by (1 − 1.498)/0.53 × (−0.0075) = +0.0070 D.
    assert!(thick.along.tool_d == 2.5 && (thick.sphere_error_d - 0.00700).abs() < 5e-5, "{thick:?}");
}

#[test]
fn prism_to_grind_is_the_prescribed_and_that_of_the_lens_off_its_reference_point() {
    let (mut chance, shelf) = (Chance(36), Shelf::built_in());
    let (mut centred, mut off_middle) = (0, 0);
    for _ in 0..2_500 {
        let (mut case, _) = any(&mut chance, &shelf);
        case.rx.power = Power::new(chance.within(-5.0, 4.0), -0.75, chance.within(0.0, 180.0));
        case.option.base_curve_d = None;
        case.boxing.eye_size_mm = chance.within(56.0, 64.0);
        let outline = case.outline();
        let Ok(made) = case.make_in(&outline) else { continue };
        let prism = surfacing(&case, &made, &outline).prism.expect("surfaced");
        let rx = case.rx.prism;
        if !made.blank.decentred {
            assert!((prism.x_pd - rx.x_pd).abs() < 1e-12 && (prism.y_pd - rx.y_pd).abs() < 1e-12);
            centred += 1;
            continue;
        }
        // A thin prism's apex angle is the gradient of its thickness, and it deviates by (n − 1) times that: what the lens
        // itself does there, but for the steeper incidence away from its axis, and for what a plus lens's thickness adds to
        // the power of its surfaces (some 10 %): it proves sign, direction and size.
        let off = outline.enclosing_middle() - case.centration().point(case.eye);
        let grows = made.lens.slope(off).expect("reaches").gradient * (100.0 * (made.recipe.index - 1.0));
        let told = Vec2::new(prism.x_pd, prism.y_pd);
        let parts = rx.amount_pd() + (told - Vec2::new(rx.x_pd, rx.y_pd)).hypot();
        assert!((told - grows).hypot() < 0.1 + 0.15 * parts, "{told:?} and {grows:?} in {case:?}");
        off_middle += 1;
    }
    assert!(centred > 300 && off_middle > 60, "{centred} {off_middle}");
}

#[test]
fn the_calliper_finds_the_thickest_and_the_thinnest_place() {
    let (mut chance, shelf) = (Chance(37), Shelf::built_in());
    let mut inside = 0;
    for _ in 0..150 {
        let (case, _) = any(&mut chance, &shelf);
        let (outline, reference) = (case.outline(), case.centration().point(case.eye));
        let Ok(made) = case.make_in(&outline) else { continue };
        let work = surfacing(&case, &made, &outline);
        let thickness = |p: Vec2| made.lens.thickness(p - reference).expect("reaches");
        let found = points(&outline).into_iter().map(thickness);
        let (low, high) = found.fold((f64::INFINITY, 0.0f64), |(low, high), t| (low.min(t), high.max(t)));
        for (spot, wanted) in [(work.thickest, high), (work.thinnest, low)] {
            let at = reference + Vec2::new(spot.in_mm * case.eye.nasal_sign(), spot.up_mm);
            assert!((thickness(at) - spot.thickness_mm).abs() < 1e-9, "{spot:?} in {case:?}");
            assert!(outline.depth_inside_mm(at) > -1e-6);
            assert!((spot.thickness_mm - wanted).abs() < 0.01, "{spot:?}, by brute force {wanted}, in {case:?}");
        }
        assert!(work.thickest.thickness_mm >= high - 1e-9 && work.thinnest.thickness_mm <= low + 1e-9);
        inside += usize::from(work.thickest.thickness_mm > made.thickness.edges.max.thickness_mm + 0.1);
    }
    assert!(inside > 20, "{inside}");
}

#[test]
fn what_is_said_to_cut_from_stock_does() {
    let (mut chance, shelf) = (Chance(38), Shelf::built_in());
    let (mut serves, mut not) = (0, 0);
    for _ in 0..600 {
        let (mut case, _) = any(&mut chance, &shelf);
        case.rx.power = Power::new(chance.within(-6.0, 5.0), chance.one_of(&[0.0, -1.0]), 90.0);
        if chance.share() < 0.8 {
            case.rx.prism = Prism::default();
        }
        let outline = case.outline();
        let Ok(made) = case.make_in(&outline) else { continue };
        let cuts = surfacing(&case, &made, &outline).cuts_from;
        assert!(cuts.listed && cuts.surfaced_mm.is_empty() == made.blank.decentred);
        if !made.blank.decentred {
            assert_eq!(cuts.surfaced_mm.first().copied(), made.blank.diameter_mm);
        }
        case.option.supply = Supply::Stock;
        case.option.base_curve_d = None;
        let ready = case.make_in(&outline);
        assert!(base::alone(&case.option, &case.rx.power).is_some() || cuts.stock_mm.is_empty());
        match ready {
            Ok(ready) => {
                assert_eq!(cuts.stock_mm.first().copied(), ready.blank.diameter_mm, "{case:?}");
                assert!(surfacing(&case, &ready, &outline).tools.is_none());
                serves += 1;
            }
            // The next diameter may be thick enough where the smallest is not.
            Err(Impossible::StockTooThin { .. }) => {}
            Err(_) => {
                assert!(cuts.stock_mm.is_empty(), "{cuts:?} in {case:?}");
                not += 1;
            }
        }
    }
    assert!(serves > 40 && not > 40, "{serves} {not}");
}

#[test]
fn what_is_worn_already_had_a_blank() {
    let shelf = Shelf::built_in();
    let resin = shelf.get("resin-1.50").expect("a built-in material");
    let mut thick = Case::plain();
    thick.option = LensOption::new("any", Substance::Listed(Arc::clone(resin)));
    let mut wide = Case { option: thick.option.clone(), ..Case::plain() };
    thick.rx.power = Power::spherical(-16.0);
    wide.rx.power = Power::spherical(-1.0);
    wide.boxing.eye_size_mm = 84.0;
    for mut case in [thick, wide] {
        let refused = case.make().expect_err("no blank is so thick or so wide");
        assert!(matches!(refused, Impossible::BlankTooThin { .. } | Impossible::NoBlank { .. }), "{refused:?}");
        case.option.worn = true;
        let made = case.make().expect("it is worn");
        assert!(made.thickness.edges.max.thickness_mm > 0.0);
    }
}
