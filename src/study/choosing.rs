//! Choosing: which options another one beats, and what each of the rest is best at. On the leading thickness, the mass and
//! the price alone, and no secret score: whoever weighs them against each other is the wearer.
//!
//! Units: mm and grams in the names; prices in any one currency.

use super::compare::{Comparison, EQUAL_G, EQUAL_MM};
use crate::assess::Fit;

/// What an option is judged by.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Marks {
    lead_mm: f64,
    mass_g: f64,
    price: Option<f64>,
}

/// A thing an option can be best at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BestAt {
    /// Thinnest, or within 0.2 mm of it.
    Thickness,
    /// Lightest, or within 0.3 g of it.
    Mass,
    /// No other costs less.
    Price,
}

/// Where an option stands among those on offer.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// It is not on offer or cannot be made.
    Outside,
    /// Another is no worse in anything and better somewhere: the index of the best of those.
    Beaten(usize),
    /// None is: what it is best at.
    Stands(Vec<BestAt>),
}

impl Marks {
    fn of(comparison: &Comparison<'_>, fit: &Fit<'_>) -> Option<Marks> {
        let pair = fit.pair()?;
        Some(Marks { lead_mm: comparison.lead.of(pair)?, mass_g: pair.mass_g(), price: fit.option.price })
    }

    /// No worse by the raw numbers, and better by something that counts. Where either has no price, price does not count.
    fn beats(&self, other: &Marks) -> bool {
        let prices = self.price.zip(other.price);
        let no_worse = self.lead_mm <= other.lead_mm
            && self.mass_g <= other.mass_g
            && prices.is_none_or(|(own, others)| own <= others);
        let better = other.lead_mm - self.lead_mm >= EQUAL_MM
            || other.mass_g - self.mass_g >= EQUAL_G
            || prices.is_some_and(|(own, others)| own < others);
        no_worse && better
    }
}

/// Where each fit of a comparison stands, in their order.
#[must_use]
pub fn standings(comparison: &Comparison<'_>) -> Vec<Standing> {
    let marks: Vec<Option<Marks>> = comparison
        .fits
        .iter()
        .enumerate()
        .map(|(index, fit)| if comparison.is_now(index) { None } else { Marks::of(comparison, fit) })
        .collect();
    let cheapest = marks.iter().flatten().filter_map(|own| own.price).reduce(f64::min);
    marks
        .iter()
        .enumerate()
        .map(|(index, own)| match own {
            None => Standing::Outside,
            Some(own) => match strongest_rival(own, &marks) {
                Some(rival) => Standing::Beaten(rival),
                None => Standing::Stands(best_at(comparison, index, own, cheapest)),
            },
        })
        .collect()
}

/// Of those that beat it the one that none of the others beats: the thinnest, of equals the lightest.
fn strongest_rival(own: &Marks, marks: &[Option<Marks>]) -> Option<usize> {
    let rivals = marks.iter().enumerate().filter_map(|(index, rival)| Some((index, (*rival)?)));
    rivals
        .filter(|(_, rival)| rival.beats(own))
        .min_by(|(_, a), (_, b)| a.lead_mm.total_cmp(&b.lead_mm).then(a.mass_g.total_cmp(&b.mass_g)))
        .map(|(index, _)| index)
}

fn best_at(comparison: &Comparison<'_>, index: usize, own: &Marks, cheapest: Option<f64>) -> Vec<BestAt> {
    let cheap = matches!((own.price, cheapest), (Some(own), Some(least)) if own <= least);
    [
        (comparison.is_thinnest(index), BestAt::Thickness),
        (comparison.is_lightest(index), BestAt::Mass),
        (cheap, BestAt::Price),
    ]
    .into_iter()
    .filter_map(|(is, what)| is.then_some(what))
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks(lead_mm: f64, mass_g: f64, price: Option<f64>) -> Marks {
        Marks { lead_mm, mass_g, price }
    }

    #[test]
    fn beating_wants_no_loss_and_a_gain_that_counts() {
        let plain = marks(5.0, 10.0, Some(80.0));
        assert!(marks(4.8, 10.0, Some(80.0)).beats(&plain), "0.2 mm counts");
        assert!(!marks(4.85, 9.8, Some(80.0)).beats(&plain), "less than 0.2 mm and 0.3 g does not");
        assert!(marks(5.0, 10.0, Some(79.0)).beats(&plain), "any price counts");
        assert!(!marks(4.0, 9.0, Some(81.0)).beats(&plain), "a higher price is a loss");
        assert!(marks(4.0, 9.0, None).beats(&plain), "no price, no word on it");
        assert!(!marks(4.0, 10.01, Some(80.0)).beats(&plain), "raw numbers decide what is worse");
        assert!(!plain.beats(&plain));
    }
}
