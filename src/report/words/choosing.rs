//! What is left to choose between, in words.

use super::super::number::{grams, mm, size};
use super::list;
use crate::study::choosing::{BestAt, Standing, standings};
use crate::study::compare::Comparison;

/// An option that no other beats.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// Its place among the fits.
    pub index: usize,
    /// Which: "Yarrow 46 with “thin”".
    pub option: String,
    /// Its numbers: "5.7 mm, 9.2 g, price 85".
    pub numbers: String,
    /// What it is best at; empty where it is a middle way.
    pub best_at: Vec<&'static str>,
}

/// What choosing comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Choosing {
    /// One sentence: how many are left, and by what they were judged.
    pub lead: String,
    /// Those that are left, thinnest first.
    pub left: Vec<Left>,
    /// For each fit the name of the option that beats it.
    pub beaten_by: Vec<Option<String>>,
}

/// What is left to choose between; `None` where there is nothing to choose.
#[must_use]
pub fn choosing(comparison: &Comparison<'_>) -> Option<Choosing> {
    let standings = standings(comparison);
    let judged = standings.iter().filter(|standing| **standing != Standing::Outside).count();
    let mut stand: Vec<(f64, Left)> = comparison
        .fits
        .iter()
        .enumerate()
        .zip(&standings)
        .filter_map(|((index, fit), standing)| {
            let Standing::Stands(best) = standing else { return None };
            let pair = fit.pair()?;
            let lead = comparison.lead.of(pair)?;
            let price = fit.option.price.map_or(String::new(), |price| format!(", price {}", size(price)));
            let numbers = format!("{}, {}{price}", mm(lead), grams(pair.mass_g()));
            let best_at = best.iter().map(|what| word(*what)).collect();
            Some((lead, Left { index, option: super::fit(fit), numbers, best_at }))
        })
        .collect();
    stand.sort_by(|a, b| a.0.total_cmp(&b.0));
    let left: Vec<Left> = stand.into_iter().map(|(_, left)| left).collect();
    if judged < 2 || left.is_empty() {
        return None;
    }
    let prices = comparison.offered().any(|(_, fit)| fit.option.price.is_some());
    let by = list(
        &[super::lead(comparison.lead).to_owned(), "mass".to_owned()]
            .into_iter()
            .chain(prices.then(|| "price".to_owned()))
            .collect::<Vec<_>>(),
    );
    let beaten_by = standings
        .iter()
        .map(|standing| match standing {
            Standing::Beaten(by) => comparison.fits.get(*by).map(super::fit),
            Standing::Outside | Standing::Stands(_) => None,
        })
        .collect();
    Some(Choosing { lead: sentence(judged, left.len(), &by), left, beaten_by })
}

fn sentence(judged: usize, left: usize, by: &str) -> String {
    match left {
        1 => format!(
            "By {by} one option is no worse than any of the other {} in anything, and better somewhere.",
            judged - 1
        ),
        left if left == judged => {
            format!("By {by} none of the {judged} options beats another: each is better somewhere.")
        }
        left => format!(
            "By {by} {left} of the {judged} options are left: for each of the others one of these is no worse in \
             anything and better somewhere."
        ),
    }
}

fn word(what: BestAt) -> &'static str {
    match what {
        BestAt::Thickness => "thinnest",
        BestAt::Mass => "lightest",
        BestAt::Price => "cheapest",
    }
}
