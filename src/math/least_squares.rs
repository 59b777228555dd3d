//! Least squares for a few unknowns: the normal equations, added up term by term, without allocating.

/// A pivot below this share of its diagonal is nought: its unknown cannot be told from the others.
const NOUGHT: f64 = 1e-12;

/// Normal equations in N unknowns.
#[derive(Clone, Copy, Debug)]
pub struct Normal<const N: usize> {
    matrix: [[f64; N]; N],
    right: [f64; N],
}

impl<const N: usize> Default for Normal<N> {
    fn default() -> Normal<N> {
        Normal { matrix: [[0.0; N]; N], right: [0.0; N] }
    }
}

impl<const N: usize> Normal<N> {
    /// Adds an observation: a sum of the unknowns, each times its term, ought to be `value`.
    pub fn add(&mut self, weight: f64, terms: [f64; N], value: f64) {
        for (i, term) in terms.iter().enumerate() {
            for (j, other) in terms.iter().enumerate() {
                self.matrix[i][j] += weight * term * other;
            }
            self.right[i] += weight * term * value;
        }
    }

    /// The unknowns, and of the last one what its terms hold that the others do not explain (the square of it, summed
    /// with the weights); `None` where the terms do not tell them apart.
    #[must_use]
    pub fn solve(mut self) -> Option<([f64; N], f64)> {
        let mut pivot = 0.0;
        for k in 0..N {
            let whole = self.matrix[k][k];
            for i in 0..k {
                let share = self.matrix[k][i] / self.matrix[i][i];
                for j in i..N {
                    self.matrix[k][j] -= share * self.matrix[i][j];
                }
                self.right[k] -= share * self.right[i];
            }
            pivot = self.matrix[k][k];
            if pivot.is_nan() || pivot <= NOUGHT * whole {
                return None;
            }
        }
        let mut unknowns = [0.0; N];
        for k in (0..N).rev() {
            let known: f64 = (k + 1..N).map(|j| self.matrix[k][j] * unknowns[j]).sum();
            unknowns[k] = (self.right[k] - known) / self.matrix[k][k];
        }
        Some((unknowns, pivot))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plane_through_points_of_it_is_found() {
        let mut normal = Normal::default();
        for (x, y) in [(0.0, 0.0), (3.0, 1.0), (-2.0, 5.0), (7.0, -4.0)] {
            normal.add(1.5, [1.0, x, y], 2.0 - 0.5 * x + 0.25 * y);
        }
        let ([d, a, b], _) = normal.solve().expect("told apart");
        assert!((d - 2.0).abs() < 1e-12 && (a + 0.5).abs() < 1e-12 && (b - 0.25).abs() < 1e-12, "{d} {a} {b}");
    }

    #[test]
    fn what_cannot_be_told_apart_is_not_solved() {
        let mut normal = Normal::default();
        for x in [0.0, 1.0, 2.0] {
            normal.add(1.0, [1.0, x, 3.0 - 2.0 * x], x);
        }
        assert!(normal.solve().is_none());
    }
}
