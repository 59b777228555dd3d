//! The answer to `limit`: the largest eye size, the other limits, how sure they are; for several lens options a table.
//!
//! Units: in the heads of the columns and behind every number.

use super::super::number::{figure, size};
use super::super::words;
use super::grid::{Entry, Grid, Holds};
use super::page::Page;
use super::table::NONE;
use crate::eye::{Eye, Eyes};
use crate::study::largest::EyeSize;
use crate::study::limit::{InMaterial, Limit, Limits};

/// The answer to `limit`. With `styled` heads are bold (ANSI).
#[must_use]
pub fn limit(limits: &Limits<'_>, styled: bool) -> String {
    let mut page = Page::new(styled);
    if let Some(best) = limits.best() {
        page.paragraph(&page.bold(&words::limit_answer(best)));
        if limits.each.len() > 1 {
            page.block(&table(&limits.each, styled));
            page.item(&words::limit_legend(best), 0);
            page.gap();
        }
        page.others(best);
        for other in limits.each.iter().filter(|other| !std::ptr::eq(*other, best)) {
            if let Some(reason) = words::limit_reason(other) {
                page.item(&format!("{}: {reason}", words::capital(&words::option(other.at.option))), 0);
            }
        }
        if !limits.materials.is_empty() {
            page.gap();
            page.block(&materials(best, &limits.materials, styled));
            page.item(&words::limit_materials(best), 0);
        }
        page.gap();
        if limits.each.iter().any(|limit| matches!(limit.eye_size, EyeSize::UpTo { .. })) {
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

/// Every material of the shelf, that of the option first.
fn materials(limit: &Limit<'_>, of: &[InMaterial], styled: bool) -> String {
    let at = size(limit.at.boxing.eye_size_mm);
    let heads = [
        ("Material".to_owned(), Holds::Text),
        ("Index".to_owned(), Holds::Figures),
        ("Eye size\nto mm".to_owned(), Holds::Figures),
        (format!("Edge at\n{at}, mm"), Holds::Figures),
        (format!("Pair at\n{at}, g"), Holds::Figures),
    ];
    let mut grid = Grid::new(&heads, styled);
    let line = limit.at.prescription.reference_line;
    for (i, one) in of.iter().enumerate() {
        let one_decimal = |value: Option<f64>| value.map_or(NONE.to_owned(), |value| figure(value, 1));
        let row = [
            words::limit_material(one, i == 0),
            figure(one.option.substance.glass(line).index, 3),
            words::limit_largest_size(&one.eye_size).unwrap_or_else(|| NONE.to_owned()),
            one_decimal(one.edge_mm),
            one_decimal(one.mass_g),
        ];
        grid.row(row.into_iter().map(|text| (text, i == 0)).collect());
    }
    grid.finish()
}
