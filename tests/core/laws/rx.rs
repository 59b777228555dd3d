//! Power, prism, transposition, effectivity.

use super::{Seen, check, eyes, near, powers, prisms};
use nalgebra::Matrix2;
use proptest::prelude::*;
use rimwise::eye::Eye;
use rimwise::rx::{Base, Power, Prism};

/// A sum of a dozen roundings of numbers below a hundred.
const ROUNDING: f64 = 1e-12;

fn any_power() -> impl Strategy<Value = Power> {
    powers(-20.0..20.0, -8.0)
}

/// The matrix by the meridian formula, in whatever sign of cylinder it is written: F = S I + C n nᵀ, n across the axis.
fn written(sphere: f64, cylinder: f64, axis: f64) -> Matrix2<f64> {
    let (s, c) = axis.to_radians().sin_cos();
    Matrix2::new(sphere + cylinder * s * s, -cylinder * s * c, -cylinder * s * c, sphere + cylinder * c * c)
}

fn same(what: &str, a: &Matrix2<f64>, b: &Matrix2<f64>, bound: f64) -> Result<(), TestCaseError> {
    a.iter().zip(b.iter()).try_for_each(|(a, b)| near(what, *a, *b, bound))
}

#[test]
fn a_power_is_the_same_in_either_sign_of_cylinder() {
    let seen = Seen::default();
    check(256, &any_power(), |power| {
        let (s, c, axis) = power.plus_form();
        let back = Power::new(s, c, axis);
        near("sphere", back.sphere(), power.sphere(), ROUNDING)?;
        near("cylinder", back.cylinder(), power.cylinder(), ROUNDING)?;
        near("axis", back.axis(), power.axis(), ROUNDING)?;
        prop_assert!(power.cylinder() <= 0.0 && c >= 0.0, "{power:?}, plus form {s} {c} x {axis}");
        prop_assert!(power.axis() > 0.0 && power.axis() <= 180.0 && axis > 0.0 && axis <= 180.0, "{power:?} {axis}");
        let minus_form = written(power.sphere(), power.cylinder(), power.axis());
        same("plus form", &written(s, c, axis), &minus_form, 1e-11)?;
        same("matrix", &power.matrix(), &minus_form, 1e-11)?;
        // Written plus without turning the axis is another power.
        let unturned = written(s, c, power.axis());
        seen.count("axis must turn", (unturned - minus_form).norm() > 0.01);
        seen.count("sphere", power.cylinder() == 0.0);
        Ok(())
    });
    seen.at_least(40);
}

#[test]
fn matrix_and_vector_lead_back_to_the_power() {
    check(256, &(any_power(), 0.0..180.0f64), |(power, deg)| {
        // An axis is only as sure as the cylinder is strong, so powers are compared by their matrices.
        let back = Power::from_matrix(&power.matrix());
        same("matrix there and back", &back.matrix(), &power.matrix(), 1e-11)?;
        near("cylinder", back.cylinder(), power.cylinder(), 1e-11)?;
        let v = power.vector();
        let from_vector = Matrix2::new(v.m + v.j0, v.j45, v.j45, v.m - v.j0);
        same("vector", &from_vector, &power.matrix(), 1e-11)?;
        let n = nalgebra::Vector2::new(f64::cos(deg.to_radians()), f64::sin(deg.to_radians()));
        near("along a meridian", power.along(deg), n.dot(&(power.matrix() * n)), 1e-11)?;
        near("both meridians", power.along(deg) + power.along(deg + 90.0), 2.0 * power.spherical_equivalent(), 1e-11)
    });
}

#[test]
fn sums_of_powers_commute_and_add_by_vector() {
    let seen = Seen::default();
    check(256, &(any_power(), any_power()), |(a, b)| {
        let (ab, ba) = (a.plus(&b), b.plus(&a));
        same("commutes", &ab.matrix(), &ba.matrix(), 1e-11)?;
        let (u, v, sum) = (a.vector(), b.vector(), ab.vector());
        near("M", sum.m, u.m + v.m, 1e-11)?;
        near("J0", sum.j0, u.j0 + v.j0, 1e-11)?;
        near("J45", sum.j45, u.j45 + v.j45, 1e-11)?;
        seen.count("cylinders that do not just add", (ab.cylinder() - a.cylinder() - b.cylinder()).abs() > 0.1);
        Ok(())
    });
    seen.at_least(60);
}

#[test]
fn a_lens_moved_there_and_back_is_the_same() {
    let seen = Seen::default();
    check(256, &(any_power(), -15.0..15.0), |(power, closer_mm)| {
        let moved = power.moved_toward_eye(closer_mm).expect("no focus within 15 mm of 20 D");
        let back = moved.moved_toward_eye(-closer_mm).expect("it was there");
        same("there and back", &back.matrix(), &power.matrix(), 1e-10)?;
        // Each principal meridian moves by itself: F/(1 - d F).
        for deg in [power.axis(), power.axis() + 90.0] {
            let f = power.along(deg);
            near("along a principal meridian", moved.along(deg), f / (1.0 - closer_mm / 1000.0 * f), 1e-10)?;
        }
        seen.count("moving matters", (moved.sphere() - power.sphere()).abs() > 0.25);
        seen.count("an oblique axis stays", power.cylinder() < -1.0 && power.axis() % 90.0 > 10.0);
        Ok(())
    });
    seen.at_least(60);
    // At the focus itself there is no lens that would do.
    assert!(Power::spherical(20.0).moved_toward_eye(50.0).is_none());
}

#[test]
fn prisms_add_as_vectors_and_their_bases_lie_where_the_words_say() {
    check(128, &(prisms(10.0), prisms(10.0), eyes()), |(a, b, eye)| {
        let (sum, other) = (a.plus(b), b.plus(a));
        prop_assert_eq!(sum, other);
        // The law of cosines for the resultant.
        let between = (a.base_deg() - b.base_deg()).to_radians().cos();
        let square = a.amount_pd().powi(2) + b.amount_pd().powi(2) + 2.0 * a.amount_pd() * b.amount_pd() * between;
        near("resultant", sum.amount_pd().powi(2), square, 1e-10)?;
        let again = Prism::new(sum.amount_pd(), sum.base_deg());
        near("polar x", again.x_pd, sum.x_pd, 1e-11)?;
        near("polar y", again.y_pd, sum.y_pd, 1e-11)?;
        let word = |base: Base| Prism::new(2.0, base.direction_deg(eye));
        let nose = if eye == Eye::Right { 2.0 } else { -2.0 };
        prop_assert_eq!(word(Base::In), Prism { x_pd: nose, y_pd: 0.0 });
        prop_assert_eq!(word(Base::Out), Prism { x_pd: -nose, y_pd: 0.0 });
        prop_assert_eq!(word(Base::Up), Prism { x_pd: 0.0, y_pd: 2.0 });
        prop_assert_eq!(word(Base::Down), Prism { x_pd: 0.0, y_pd: -2.0 });
        Ok(())
    });
}
