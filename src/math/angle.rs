//! Degrees and radians: the one place where they meet, and the wraps that directions and axes need.

/// Degrees to radians.
#[must_use]
pub fn radians(deg: f64) -> f64 {
    deg.to_radians()
}

/// Cosine and sine of an angle in degrees, exact at the multiples of 90 so that a cylinder at axis 90 or a prism base
/// up carries no rounding dust.
#[must_use]
pub fn cos_sin_deg(deg: f64) -> (f64, f64) {
    let turned = deg.rem_euclid(360.0);
    if turned == 0.0 {
        (1.0, 0.0)
    } else if turned == 90.0 {
        (0.0, 1.0)
    } else if turned == 180.0 {
        (-1.0, 0.0)
    } else if turned == 270.0 {
        (0.0, -1.0)
    } else {
        let (s, c) = radians(turned).sin_cos();
        (c, s)
    }
}

/// Direction of the vector (x, y) in degrees, 0 ≤ deg < 360, anticlockwise from x; what lies within 1e-6° of 360 is 0.
/// The direction of the zero vector is 0.
#[must_use]
pub fn direction_deg(x: f64, y: f64) -> f64 {
    let deg = y.atan2(x).to_degrees();
    let deg = if deg < 0.0 { deg + 360.0 } else { deg };
    if deg > 360.0 - 1e-6 { 0.0 } else { deg + 0.0 }
}

/// A cylinder axis in (0, 180]: 0 is written as 180 (ISO 8429).
#[must_use]
pub fn axis_deg(deg: f64) -> f64 {
    let turned = deg.rem_euclid(180.0);
    if turned == 0.0 { 180.0 } else { turned }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_wrap_as_promised() {
        assert_eq!(direction_deg(1.0, -1e-12), 0.0);
        assert_eq!(direction_deg(0.0, -1.0), 270.0);
        assert_eq!(direction_deg(-1.0, 0.0), 180.0);
        assert_eq!(direction_deg(0.0, 0.0), 0.0);
        assert_eq!(axis_deg(0.0), 180.0);
        assert_eq!(axis_deg(-10.0), 170.0);
        assert_eq!(cos_sin_deg(450.0), (0.0, 1.0));
    }
}
