//! A lens option: what it is made of, how it is supplied and what the job asks of it.

use super::{Got, Judge, Naming, Placed};
use crate::choose::{LensOption, Substance, Supply, TOOL_STEP_D};
use crate::finding::{Finding, Mend, Place, Problem};
use crate::job::words;
use crate::keys::{self, Key, Section};
use crate::light::ReferenceLine;
use crate::material::{Glass, INLINE_BASES_D, Minimum};
use crate::rim::Rim;
use crate::written::{Data, Table, Written};

/// A lens option and where its minima are written.
pub(super) struct JudgedLens {
    pub(super) option: LensOption,
    min_centre: Option<Place>,
    min_edge: Option<Place>,
}

type Number = Got<Option<Placed<f64>>>;

impl Judge<'_> {
    /// A lens option; numbers of an inline material are meant at `line`.
    pub(super) fn lens(&mut self, table: &mut Table, naming: Naming, line: ReferenceLine) -> Got<JudgedLens> {
        let name = self.name(table, &keys::LENS_NAME, naming);
        let substance = self.take(table, &keys::MATERIAL).map(|written| self.substance(written, line)).transpose();
        let substance = self.need(table, &keys::MATERIAL, substance);
        let base = self.number(table, &keys::BASE_CURVE);
        let min_centre = self.number(table, &keys::MIN_CENTRE);
        let min_edge = self.number(table, &keys::MIN_EDGE);
        let supply = self.word(table, &keys::SUPPLY, words::supply);
        let price = self.number(table, &keys::PRICE);
        let tool_step = self.number(table, &keys::TOOL_STEP);
        if let Ok(Substance::Inline(_)) = &substance {
            self.minimum_of_inline(table, &keys::MIN_CENTRE, &min_centre);
            self.minimum_of_inline(table, &keys::MIN_EDGE, &min_edge);
        }
        self.stock(&substance, &base, &supply);
        if let (Ok(substance), Ok(Some(base))) = (&substance, &base) {
            self.base_listed(substance, base);
        }
        let (min_centre, min_edge) = (min_centre?, min_edge?);
        Ok(JudgedLens {
            option: LensOption {
                name: name?,
                substance: substance?,
                base_curve_d: base?.map(|base| base.value),
                min_centre_mm: min_centre.as_ref().map(|minimum| minimum.value),
                min_edge_mm: min_edge.as_ref().map(|minimum| minimum.value),
                supply: supply?.map_or(Supply::default(), |supply| supply.value),
                price: price?.map(|price| price.value),
                tool_step_d: tool_step?.map_or(TOOL_STEP_D, |step| step.value),
                worn: naming == Naming::Now,
            },
            min_centre: min_centre.map(|minimum| minimum.place),
            min_edge: min_edge.map(|minimum| minimum.place),
        })
    }

    fn substance(&mut self, written: Written, line: ReferenceLine) -> Got<Substance> {
        if let Data::Table(below) = written.data {
            return self.inline(below, line).map(Substance::Inline);
        }
        let shelf = self.shelf;
        let material = self.word_in(&keys::MATERIAL, written, |id| shelf.get(id).cloned())?;
        Ok(Substance::Listed(material.value))
    }

    fn inline(&mut self, mut below: Table, line: ReferenceLine) -> Got<Glass> {
        let [index, abbe, density] = [&keys::INDEX, &keys::ABBE, &keys::DENSITY].map(|key| {
            let number = self.number(&mut below, key);
            self.need(&below, key, number)
        });
        if !self.single {
            self.done(below, Section::Material);
        }
        Ok(Glass::new(index?.value, abbe?.value, density?.value, line))
    }

    fn minimum_of_inline(&mut self, table: &Table, key: &'static Key, minimum: &Number) {
        if let Ok(None) = minimum {
            let place = self.place_of(table, key);
            self.note(Finding::new(Problem::MinimumOfInline { key }, place).mended_by(Mend::Add(key)));
        }
    }

    /// A stock lens is as listed.
    fn stock(&mut self, substance: &Got<Substance>, base: &Number, supply: &Got<Option<Placed<Supply>>>) {
        let Ok(Some(Placed { value: Supply::Stock, place })) = supply else { return };
        if let Ok(Substance::Inline(_)) = substance {
            let mend = Mend::Words(vec![Supply::Surfaced.word().to_owned()]);
            self.note(Finding::new(Problem::StockOfInline, place.clone()).mended_by(mend));
        }
        if let Ok(Some(base)) = base {
            let problem = Problem::StockWithBase { found: base.value };
            self.note(Finding::new(problem, base.place.clone()).mended_by(Mend::Remove).seen_with(place.clone()));
        }
    }

    fn base_listed(&mut self, substance: &Substance, base: &Placed<f64>) {
        let listed: Vec<f64> = match substance {
            Substance::Inline(_) => INLINE_BASES_D.to_vec(),
            Substance::Listed(material) => material.semi_finished.iter().map(|blank| blank.base_curve_d).collect(),
        };
        if !listed.contains(&base.value) {
            self.note(Finding::new(Problem::BaseNotListed { found: base.value, listed }, base.place.clone()));
        }
    }

    /// Minima of the job below what would have been chosen for one of the rims.
    pub(super) fn below_minimum(&mut self, lens: &JudgedLens, rims: &[Rim]) {
        let chosen = |pick: fn(Minimum) -> f64, found: f64| -> Vec<(Rim, f64)> {
            rims.iter()
                .map(|rim| (*rim, pick(minimum_for(&lens.option.substance, *rim))))
                .filter(|(_, chosen)| found < *chosen)
                .collect()
        };
        let asked = [
            (&keys::MIN_CENTRE, &lens.min_centre, lens.option.min_centre_mm, (|m| m.centre_mm) as fn(Minimum) -> f64),
            (&keys::MIN_EDGE, &lens.min_edge, lens.option.min_edge_mm, |m| m.edge_mm),
        ];
        for (key, place, figure, pick) in asked {
            let (Some(place), Some(found)) = (place, figure) else { continue };
            let chosen = chosen(pick, found);
            if !chosen.is_empty() {
                self.note(Finding::new(Problem::BelowMinimum { key, found, chosen }, place.clone()));
            }
        }
    }
}

/// What would be chosen; of an inline material only the rim is known to ask for something.
fn minimum_for(substance: &Substance, rim: Rim) -> Minimum {
    match substance {
        Substance::Listed(material) => material.minimum_for(rim),
        Substance::Inline(_) => {
            let (centre_mm, edge_mm) = rim.floor_mm();
            Minimum { centre_mm, edge_mm }
        }
    }
}
