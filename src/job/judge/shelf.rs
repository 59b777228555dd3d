//! A material of the shelf: what its file holds, judged like a job.

use super::take::all;
use super::{Got, Judge, Judged, NoOutlines, Placed};
use crate::finding::{Finding, Mend, Problem};
use crate::keys::{Key, Section, shelf as keys};
use crate::material::{Material, Minimum, SemiFinished, Shelf, StockRow};
use crate::written::{Data, Table, Written};
use std::collections::BTreeMap;

/// Judges a material, whose id should be the stem of its file.
pub fn judge_material(written: Table, stem: &str) -> Judged<Material> {
    let shelf = Shelf::default();
    let mut judge = Judge::new(&shelf, &NoOutlines, false);
    let material = judge.material(written, stem);
    judge.finish(material)
}

impl Judge<'_> {
    fn material(&mut self, mut table: Table, stem: &str) -> Got<Material> {
        let id = self.id(&mut table, stem);
        let name = self.title(&mut table);
        let [n_d, v_d, density] = [&keys::N_D, &keys::V_D, &keys::DENSITY_OF].map(|key| self.figure(&mut table, key));
        let cutoff = self.number(&mut table, &keys::UV_CUTOFF);
        let [grooved, drilled] = [&keys::GROOVED, &keys::DRILLED].map(|key| self.yes_no(&mut table, key));
        let source = self.sources(&mut table);
        let minimum = self.table(&mut table, &keys::MINIMUM);
        let minimum = self.need(&table, &keys::MINIMUM, minimum).and_then(|below| self.minima(below));
        let semi_finished = self.listed(&mut table, &keys::SEMI_FINISHED, Judge::blank);
        let stock = self.listed(&mut table, &keys::STOCK, Judge::stock_row);
        self.done(table, Section::Shelf);
        Ok(Material {
            id: id?,
            name: name?,
            n_d: n_d?,
            v_d: v_d?,
            density: density?,
            uv_cutoff_nm: cutoff?.map(|cutoff| cutoff.value),
            grooved: grooved?.unwrap_or(true),
            drilled: drilled?.unwrap_or(true),
            minimum: minimum?,
            semi_finished: semi_finished?,
            stock: stock?,
            source: source?,
        })
    }

    /// A number that has to be given.
    fn figure(&mut self, table: &mut Table, key: &'static Key) -> Got<f64> {
        let number = self.number(table, key);
        self.need(table, key, number).map(|number| number.value)
    }

    fn id(&mut self, table: &mut Table, stem: &str) -> Got<String> {
        let id = self.text(table, &keys::ID);
        let Placed { value: found, place } = self.need(table, &keys::ID, id)?;
        if found == stem {
            return Ok(found);
        }
        let mend = Mend::Words(vec![stem.to_owned()]);
        Err(self.note(Finding::new(Problem::IdOfFile { found, stem: stem.to_owned() }, place).mended_by(mend)))
    }

    fn title(&mut self, table: &mut Table) -> Got<String> {
        let key = &keys::NAME;
        let name = self.text(table, key);
        let Placed { value, place } = self.need(table, key, name)?;
        if value.trim().is_empty() {
            return Err(self.note(Finding::new(Problem::NameEmpty { key }, place)));
        }
        Ok(value)
    }

    fn yes_no(&mut self, table: &mut Table, key: &'static Key) -> Got<Option<bool>> {
        match self.take(table, key) {
            None => Ok(None),
            Some(Written { data: Data::Bool(value), .. }) => Ok(Some(value)),
            Some(written) => Err(self.wrong_kind(key, key.kind, written)),
        }
    }

    fn sources(&mut self, table: &mut Table) -> Got<BTreeMap<String, String>> {
        let key = &keys::SOURCE;
        let Some(mut below) = self.table(table, key)? else { return Ok(BTreeMap::new()) };
        let each = below.take_rest().into_iter().map(|entry| match entry.value {
            Written { data: Data::Text(said), .. } => Ok((entry.name, said)),
            written => Err(self.wrong_kind(key, key.kind, written)),
        });
        Ok(all(each.collect())?.into_iter().collect())
    }

    /// In the order of [`Rim::ALL`](crate::rim::Rim::ALL).
    fn minima(&mut self, mut table: Table) -> Got<[Minimum; 5]> {
        let rims = [&keys::METAL, &keys::PLASTIC, &keys::SUPRA, &keys::REVERSE_SUPRA, &keys::RIMLESS];
        let [metal, plastic, supra, reverse_supra, rimless] = rims.map(|key| {
            let below = self.table(&mut table, key);
            self.need(&table, key, below).and_then(|below| self.minimum(below))
        });
        self.done(table, Section::Minimum);
        Ok([metal?, plastic?, supra?, reverse_supra?, rimless?])
    }

    fn minimum(&mut self, mut table: Table) -> Got<Minimum> {
        let [centre, edge] = [&keys::CENTRE, &keys::EDGE].map(|key| self.figure(&mut table, key));
        self.done(table, Section::OfRim);
        Ok(Minimum { centre_mm: centre?, edge_mm: edge? })
    }

    /// The tables of a list that may be left out.
    fn listed<T>(
        &mut self,
        table: &mut Table,
        key: &'static Key,
        mut one: impl FnMut(&mut Self, Table) -> Got<T>,
    ) -> Got<Vec<T>> {
        let tables = self.tables(table, key)?.unwrap_or_default();
        all(tables.into_iter().map(|below| below.and_then(|below| one(self, below))).collect())
    }

    fn blank(&mut self, mut table: Table) -> Got<SemiFinished> {
        let base = self.figure(&mut table, &keys::BLANK_BASE);
        let diameters = self.diameters(&mut table, &keys::BLANK_DIAMETERS);
        let [centre, edge] = [&keys::BLANK_CENTRE, &keys::BLANK_EDGE].map(|key| self.figure(&mut table, key));
        self.done(table, Section::Blank);
        Ok(SemiFinished { base_curve_d: base?, diameters_mm: diameters?, centre_mm: centre?, edge_mm: edge? })
    }

    fn stock_row(&mut self, mut table: Table) -> Got<StockRow> {
        let sphere = self.two_numbers(&mut table, &keys::STOCK_SPHERE);
        let [cylinder, base] = [&keys::STOCK_CYLINDER, &keys::STOCK_BASE].map(|key| self.figure(&mut table, key));
        let diameters = self.diameters(&mut table, &keys::STOCK_DIAMETERS);
        let [centre, edge] = [&keys::STOCK_CENTRE, &keys::STOCK_EDGE].map(|key| self.figure(&mut table, key));
        self.done(table, Section::Stock);
        Ok(StockRow {
            sphere: sphere?,
            cylinder_to: cylinder?,
            base_curve_d: base?,
            diameters_mm: diameters?,
            centre_mm: centre?,
            edge_mm: edge?,
        })
    }

    fn diameters(&mut self, table: &mut Table, key: &'static Key) -> Got<Vec<f64>> {
        let written = self.take(table, key);
        let written = self.need(table, key, Ok(written))?;
        let Written { place, data: Data::List(items) } = written else {
            return Err(self.wrong_kind(key, key.kind, written));
        };
        let diameters = self.numbers_in(key, &place, items)?;
        self.rising(key, Placed { value: diameters, place }, |before, after| before < after)
    }

    /// Two numbers, the second no less than the first.
    fn two_numbers(&mut self, table: &mut Table, key: &'static Key) -> Got<[f64; 2]> {
        let written = self.take(table, key);
        let written = self.need(table, key, Ok(written))?;
        let (place, items) = match written {
            Written { place, data: Data::List(items) } if items.len() == 2 => (place, items),
            written => return Err(self.wrong_kind(key, key.kind, written)),
        };
        let numbers = self.numbers_in(key, &place, items)?;
        let numbers = self.rising(key, Placed { value: numbers, place }, |before, after| before <= after)?;
        Ok([numbers[0], numbers[1]])
    }

    /// Numbers each of which goes on from the one before.
    fn rising(
        &mut self,
        key: &'static Key,
        numbers: Placed<Vec<Placed<f64>>>,
        goes_on: fn(f64, f64) -> bool,
    ) -> Got<Vec<f64>> {
        let found: Vec<f64> = numbers.value.iter().map(|number| number.value).collect();
        if found.is_sorted_by(|before, after| goes_on(*before, *after)) {
            return Ok(found);
        }
        let mut rising = found.clone();
        rising.sort_by(f64::total_cmp);
        rising.dedup();
        let shown: Vec<String> = rising.iter().map(f64::to_string).collect();
        let mend = Mend::Literal(format!("[{}]", shown.join(", ")));
        Err(self.note(Finding::new(Problem::NotRising { key, found }, numbers.place).mended_by(mend)))
    }
}
