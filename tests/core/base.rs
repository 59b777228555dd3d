//! Which base curve is chosen: Vogel's rule for a pair, written out again, and what goes before it.
//!
//! Units: dioptres as marked at index 1.530.

use crate::support::{Chance, inline};
use rimwise::choose::base::{Base, ChosenBy, alone, pair};
use rimwise::choose::{LensOption, Substance, Supply};
use rimwise::eye::Eyes;
use rimwise::frame::Boxing;
use rimwise::material::{Material, SemiFinished, Shelf};
use rimwise::rx::Power;
use std::sync::{Arc, LazyLock};

/// A surfaced lens of a material that comes in these bases.
fn coming_in(bases: &[f64]) -> LensOption {
    static SHELF: LazyLock<Shelf> = LazyLock::new(Shelf::built_in);
    let mut material = Material::clone(SHELF.get("resin-1.60").expect("a built-in material"));
    material.semi_finished = bases
        .iter()
        .map(|&base_curve_d| SemiFinished { base_curve_d, diameters_mm: vec![75.0], centre_mm: 10.0, edge_mm: 10.0 })
        .collect();
    let mut option = inline(1.6, 41.0, 1.3, 1.3, 1.0);
    option.substance = Substance::Listed(Arc::new(material));
    option
}

fn bases(option: &LensOption, right: f64, left: f64) -> [f64; 2] {
    let chosen = pair(option, &Eyes { right: Power::spherical(right), left: Power::spherical(left) });
    [chosen.right, chosen.left].map(|base| base.expect("a base").base_curve_d)
}

/// The rule in the model's words.
fn by_the_rule(list: &[f64], right: f64, left: f64) -> [f64; 2] {
    let vogel = |se: f64| (if se > 0.0 { se + 6.0 } else { se / 2.0 + 6.0 }).clamp(0.5, 8.0);
    let (mut r, mut l) = (vogel(right), vogel(left));
    if (r - l).abs() < 2.0 {
        let one = if right > 0.0 || left > 0.0 { r.max(l) } else { r.min(l) };
        (r, l) = (one, one);
    }
    [r, l].map(|wanted| {
        let mut flattest_first = list.to_vec();
        flattest_first.sort_by(f64::total_cmp);
        let nearest = flattest_first.iter().map(|base| (base - wanted).abs()).fold(f64::INFINITY, f64::min);
        flattest_first.into_iter().find(|base| (base - wanted).abs() <= nearest + 1e-9).expect("a list")
    })
}

#[test]
fn the_rule_in_a_table() {
    let listed = [0.5, 2.0, 4.0, 6.0, 8.0];
    let option = coming_in(&listed);
    for (right, left, wanted, why) in [
        (-4.0, -4.0, [4.0, 4.0], "-4/2 + 6 = 4"),
        (2.0, 2.0, [8.0, 8.0], "2 + 6"),
        (0.0, 0.0, [6.0, 6.0], "zero counts as minus: 0/2 + 6"),
        (-2.0, -2.0, [4.0, 4.0], "5 lies between 4 and 6: the flatter"),
        (-5.5, -5.5, [4.0, 4.0], "3.25 is nearer to 4 than to 2"),
        (-14.0, -14.0, [0.5, 0.5], "-1 is held at 0.5"),
        (6.0, 6.0, [8.0, 8.0], "12 is held at 8"),
        (-3.0, -4.0, [4.0, 4.0], "4.5 and 4: the smaller for both"),
        // 5.9 and 4 are 1.9 apart: 4 for both; alone the right would have been 6.
        (-0.2, -4.0, [4.0, 4.0], "less than 2 apart: the smaller"),
        (-1.0, -5.0, [6.0, 4.0], "5.5 and 3.5 are 2 apart: each its own"),
        (1.0, -1.0, [6.0, 6.0], "7 and 5.5, one is plus: the larger, between 6 and 8 the flatter"),
        (1.5, -0.5, [8.0, 8.0], "7.5 and 5.75, one is plus: the larger"),
        (1.5, -2.0, [8.0, 4.0], "7.5 and 5 are more than 2 apart"),
        // Held at 8 first: then 8 and 6.5 lie within 2 of each other, where 10 and 6.5 would not have.
        (4.0, 0.5, [8.0, 8.0], "held before they are compared"),
    ] {
        assert_eq!(bases(&option, right, left), wanted, "{right} and {left}: {why}");
        assert_eq!(by_the_rule(&listed, right, left), wanted, "{right} and {left} by the rule: {why}");
    }
}

#[test]
fn the_rule_over_many_pairs() {
    let mut chance = Chance(51);
    let (mut shared, mut apart, mut plus, mut ties) = (0, 0, 0, 0);
    for _ in 0..3000 {
        // Quarters of a dioptre, so that ties come about.
        let quarter = |chance: &mut Chance, from: f64, to: f64| (chance.within(from, to) * 4.0).round() / 4.0;
        let (right, left) = (quarter(&mut chance, -14.0, 8.0), quarter(&mut chance, -14.0, 8.0));
        let left = if chance.share() < 0.6 { right + quarter(&mut chance, -2.0, 2.0) } else { left };
        let list: Vec<f64> = match chance.one_of(&[0, 1, 2]) {
            0 => vec![0.5, 2.0, 4.0, 6.0, 8.0],
            // In no order, and a row twice.
            1 => vec![6.25, 0.75, 3.25, 5.25, 3.25, 8.25],
            _ => vec![5.0],
        };
        let option = coming_in(&list);
        let wanted = by_the_rule(&list, right, left);
        assert_eq!(bases(&option, right, left), wanted, "{right} and {left} of {list:?}");
        // A cylinder counts by half.
        let with_cylinder =
            Eyes { right: Power::new(right + 1.0, -2.0, 70.0), left: Power::new(left + 0.5, -1.0, 5.0) };
        let same = pair(&option, &with_cylinder);
        assert_eq!([same.right, same.left].map(|b| b.expect("a base").base_curve_d), wanted, "by equivalent");
        let own = |power: f64| alone(&option, &Power::spherical(power)).expect("a base");
        shared += usize::from(wanted[0] == wanted[1] && own(right).base_curve_d != own(left).base_curve_d);
        apart += usize::from(wanted[0] != wanted[1]);
        plus += usize::from((right > 0.0) != (left > 0.0) && wanted[0] == wanted[1]);
        let wish = own(right).wanted_d;
        let near = list.iter().map(|b| (b - wish).abs()).fold(f64::INFINITY, f64::min);
        ties += usize::from(
            list.iter().any(|b| b - wish > 0.0 && (b - wish - near).abs() < 1e-9) && own(right).base_curve_d < wish,
        );
    }
    assert!(shared > 100 && apart > 100 && plus > 50 && ties > 50, "{shared} {apart} {plus} {ties}");
}

#[test]
fn the_choice_says_where_it_comes_from() {
    let option = coming_in(&[2.0, 4.0, 6.0]);
    let chosen = pair(&option, &Eyes { right: Power::spherical(-3.0), left: Power::spherical(-5.0) });
    let [right, left] = [chosen.right, chosen.left].map(|base| base.expect("a base"));
    // 4.5 and 3.5: the smaller for both, and the right eye would have had another wish.
    assert_eq!(right, Base { base_curve_d: 4.0, chosen_by: ChosenBy::Vogel, wanted_d: 3.5, shared: true });
    assert_eq!(left, Base { base_curve_d: 4.0, chosen_by: ChosenBy::Vogel, wanted_d: 3.5, shared: false });
    // The job's own counts for both eyes, listed or not.
    let mut given = option.clone();
    given.base_curve_d = Some(3.17);
    let chosen = pair(&given, &Eyes { right: Power::spherical(-3.0), left: Power::spherical(9.0) });
    for base in [chosen.right, chosen.left] {
        let base = base.expect("a base");
        assert_eq!((base.base_curve_d, base.chosen_by, base.shared), (3.17, ChosenBy::Job, false));
    }
    // A stock row's counts before the rule; each eye has its own.
    let mut stock = inline(1.6, 41.0, 1.3, 1.3, 1.0);
    let shelf = Shelf::built_in();
    stock.substance = Substance::Listed(Arc::clone(shelf.get("resin-1.67").expect("built in")));
    stock.supply = Supply::Stock;
    let chosen = pair(&stock, &Eyes { right: Power::spherical(-3.0), left: Power::spherical(-6.0) });
    for (base, wanted) in [(chosen.right, 4.0), (chosen.left, 2.5)] {
        let base = base.expect("covered");
        assert_eq!((base.base_curve_d, base.chosen_by), (wanted, ChosenBy::Stock));
    }
    let none = pair(&stock, &Eyes { right: Power::spherical(-3.0), left: Power::spherical(-26.0) });
    assert!(none.right.is_some() && none.left.is_none());
    // An inline material comes in 0.5, 2, 4, 6, 8.
    let inline = inline(1.6, 41.0, 1.3, 1.3, 1.0);
    let mut seen: Vec<f64> = (-60..40).flat_map(|q| bases(&inline, 0.25 * f64::from(q), 0.25 * f64::from(q))).collect();
    seen.sort_by(f64::total_cmp);
    seen.dedup();
    assert_eq!(seen, [0.5, 2.0, 4.0, 6.0, 8.0]);
}

/// A base is chosen once: eye size, pd and height do not move it.
#[test]
fn the_base_does_not_follow_eye_size_pd_or_height() {
    let mut case = crate::case::Case::plain();
    case.option = coming_in(&[0.5, 2.0, 4.0, 6.0, 8.0]);
    let mut seen = std::collections::BTreeSet::new();
    let mut centres = std::collections::BTreeSet::new();
    for (eye_size_mm, pd_mm, up_mm) in [(44.0, 31.0, 0.0), (48.0, 31.0, 3.0), (52.0, 29.0, 0.0), (54.0, 33.0, -2.0)] {
        case.boxing = Boxing { eye_size_mm, depth_mm: 0.8 * eye_size_mm, bridge_mm: 18.0 };
        (case.rx.pd_mm, case.up_mm) = (pd_mm, up_mm);
        let made = case.make().expect("can be made");
        seen.insert((made.base.base_curve_d * 100.0) as i64);
        centres.insert((made.thickness.edges.max.thickness_mm * 1e6) as i64);
    }
    assert!(seen.len() == 1 && centres.len() == 4, "{seen:?} {centres:?}");
}
