//! The answer to `limit`: the largest eye size, the other limits, how sure they are; for several lens options a table.
//!
//! Units: in the heads of the columns and behind every number.

use super::super::number::{figure, mm};
use super::super::words;
use super::grid::{Entry, Grid, Holds};
use super::page::Page;
use super::table::NONE;
use crate::eye::{Eye, Eyes};
use crate::study::largest::EyeSize;
use crate::study::limit::Limit;

/// The answer to `limit` for one lens option or several of the same frame and size. With `styled` heads are bold (ANSI).
#[must_use]
pub fn limit(limits: &[Limit<'_>], styled: bool) -> String {
    let mut page = Page::new(styled);
    if let Some(best) = largest(limits) {
        page.paragraph(&page.bold(&words::limit_answer(best)));
        if limits.len() > 1 {
            page.block(&table(limits, styled));
            page.item(&legend(best), 0);
            page.gap();
        }
        page.others(best);
        for other in limits.iter().filter(|other| !std::ptr::eq(*other, best)) {
            if let Some(reason) = words::limit_reason(other) {
                page.item(&format!("{}: {reason}", words::capital(&words::option(other.at.option))), 0);
            }
        }
        page.gap();
        if limits.iter().any(|limit| matches!(limit.eye_size, EyeSize::UpTo { .. })) {
            page.item(words::NOSE, 0);
        }
        page.item(words::SAFETY, 0);
    }
    page.finish()
}

impl Page {
    fn others(&mut self, limit: &Limit<'_>) {
        let told = [
            ("Strongest sphere", words::limit_sphere(limit)),
            ("Least index", words::limit_index(limit)),
            ("Pupil distance", words::limit_pd(limit)),
        ];
        for (head, text) in told {
            self.item(&format!("{} {text}", self.bold(&format!("{head}:"))), 0);
        }
        if let Some(sure) = &limit.sure {
            let place = match limit.eye_size {
                EyeSize::UpTo { .. } => "at the largest eye size",
                EyeSize::Every { .. } | EyeSize::No { .. } => "as asked",
            };
            let head = self.bold(&format!("How sure, {place}:"));
            self.item(&format!("{head} {}", words::sure(sure)), 0);
        }
    }
}

fn size_mm(of: &EyeSize) -> f64 {
    match of {
        EyeSize::UpTo { eye_size_mm, .. } | EyeSize::Every { eye_size_mm, .. } => *eye_size_mm,
        EyeSize::No { .. } => f64::NEG_INFINITY,
    }
}

/// The option with the largest size, the first of equal ones.
fn largest<'l, 'a>(limits: &'l [Limit<'a>]) -> Option<&'l Limit<'a>> {
    let larger = |best: &'l Limit<'a>, next: &'l Limit<'a>| {
        if size_mm(&next.eye_size) > size_mm(&best.eye_size) { next } else { best }
    };
    limits.iter().reduce(larger)
}

fn edges(of: &EyeSize) -> Option<&Eyes<f64>> {
    match of {
        EyeSize::UpTo { edges_mm, .. } | EyeSize::Every { edges_mm, .. } => Some(edges_mm),
        EyeSize::No { .. } => None,
    }
}

fn table(limits: &[Limit<'_>], styled: bool) -> String {
    let mut heads: Vec<(String, Holds)> = ["Lens", "Material"].map(|head| (head.to_owned(), Holds::Text)).into();
    let figures = ["Eye size\nto mm", "Edge\nR mm", "Edge\nL mm", "Sphere\nto D", "Index\nfrom", "pd\nat mm"];
    heads.extend(figures.map(|head| (head.to_owned(), Holds::Figures)));
    let mut grid = Grid::new(&heads, styled);
    for limit in limits {
        let edge = |eye: Eye| edges(&limit.eye_size).map(|edges| figure(*edges.of(eye), 1));
        let figures = [
            words::limit_largest_size(&limit.eye_size),
            edge(Eye::Right),
            edge(Eye::Left),
            words::limit_strongest_sphere(limit),
            words::limit_lowest_index(limit),
            words::limit_tipping_pd(limit),
        ];
        let texts = [limit.at.option.name.clone(), words::substance(limit.at.option)];
        let row = texts.into_iter().chain(figures.map(|text| text.unwrap_or_else(|| NONE.to_owned())));
        grid.row(row.map(|text| (text, false)).collect::<Vec<Entry>>());
    }
    grid.finish()
}

fn legend(limit: &Limit<'_>) -> String {
    let at = super::super::number::size(limit.at.boxing.eye_size_mm);
    format!(
        "Within {} at the thickest edge. Sphere and pd: of the eye with the thicker edge, at eye size {at}; index: of \
         both eyes, at eye size {at}, with the base curve and the least thicknesses of that lens.",
        mm(limit.wish_mm)
    )
}
