//! Gauss-Legendre rules on 0 … 1, made once by the `gauss-quad` library and kept.

use gauss_quad::GaussLegendre;
use std::sync::LazyLock;

/// One node of a rule on 0 … 1.
#[derive(Clone, Copy, Debug)]
pub struct Node {
    /// Where, 0 … 1.
    pub at: f64,
    /// Its weight; the weights of a rule add to 1.
    pub weight: f64,
}

/// The sizes of rule that are kept, in rising order.
const SIZES: [usize; 11] = [2, 3, 4, 5, 6, 7, 8, 12, 16, 24, 40];

static RULES: LazyLock<Vec<Vec<Node>>> = LazyLock::new(|| SIZES.iter().map(|&size| rule(size)).collect());

fn rule(size: usize) -> Vec<Node> {
    let size = std::num::NonZeroUsize::new(size).expect("rule sizes are above zero");
    let rule = GaussLegendre::new(size);
    let mut nodes: Vec<Node> =
        rule.iter().map(|&(node, weight)| Node { at: 0.5 * (1.0 + node), weight: 0.5 * weight }).collect();
    nodes.sort_by(|a, b| a.at.total_cmp(&b.at));
    nodes
}

/// The smallest kept Gauss-Legendre rule on 0 … 1 with at least `size` nodes (at most 40): exact for polynomials of
/// degree 2·size − 1.
#[must_use]
pub fn gauss(size: usize) -> &'static [Node] {
    let found = SIZES.iter().position(|&kept| kept >= size).unwrap_or(SIZES.len() - 1);
    &RULES[found]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_are_exact_to_their_degree() {
        for size in SIZES {
            let nodes = gauss(size);
            assert_eq!(nodes.len(), size);
            let degree = 2 * size as i32 - 1;
            let sum: f64 = nodes.iter().map(|n| n.weight * n.at.powi(degree)).sum();
            let exact = 1.0 / f64::from(degree + 1);
            assert!((sum - exact).abs() < 1e-14, "{size} nodes: {sum} against {exact}");
        }
    }
}
