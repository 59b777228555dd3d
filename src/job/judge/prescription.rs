//! The prescription: powers, prisms and pupil distances.

use super::take::all;
use super::{Got, Judge, Placed};
use crate::eye::{Eye, Eyes};
use crate::finding::{Finding, Mend, Problem};
use crate::job::words;
use crate::keys::{self, Section};
use crate::light::ReferenceLine;
use crate::rx::{Base, EyeRx, Power, Prescription, Prism};
use crate::written::{Data, Table, Written};
use std::ops::RangeInclusive;

/// A pd between these looks like that of both eyes, mm.
const LOOKS_LIKE_BOTH_MM: RangeInclusive<f64> = 50.0..=80.0;

type Number = Got<Option<Placed<f64>>>;

impl Judge<'_> {
    /// A whole prescription; where it does not name its reference line, that is `line`.
    pub(super) fn prescription(&mut self, mut table: Table, line: ReferenceLine) -> Got<Prescription> {
        let vertex = self.number(&mut table, &keys::VERTEX);
        let named = self.word(&mut table, &keys::REFERENCE_LINE, words::reference_line);
        let both = self.number(&mut table, &keys::PD_BOTH);
        let mut halved = false;
        let right = self.eye_table(&mut table, Eye::Right, &both, &mut halved);
        let left = self.eye_table(&mut table, Eye::Left, &both, &mut halved);
        if let (true, Ok(Some(both))) = (halved, &both) {
            let problem = Problem::PdHalved { key: &keys::PD_BOTH, found: both.value };
            self.note(Finding::new(problem, both.place.clone()));
        }
        self.done(table, Section::Prescription);
        both?;
        Ok(Prescription {
            eyes: Eyes { right: right?, left: left? },
            vertex_mm: vertex?.map(|vertex| vertex.value),
            reference_line: named?.map_or(line, |line| line.value),
        })
    }

    fn eye_table(&mut self, table: &mut Table, eye: Eye, both: &Number, halved: &mut bool) -> Got<EyeRx> {
        let key = match eye {
            Eye::Right => &keys::RIGHT,
            Eye::Left => &keys::LEFT,
        };
        let below = self.table(table, key);
        let mut below = self.need(table, key, below)?;
        self.eye = Some(eye);
        let rx = self.eye_rx(&mut below, eye, both, halved);
        self.done(below, Section::Eye);
        self.eye = None;
        rx
    }

    /// What one eye needs.
    pub(super) fn eye_rx(&mut self, table: &mut Table, eye: Eye, both: &Number, halved: &mut bool) -> Got<EyeRx> {
        let power = self.power(table);
        let prism = self.prism(table, eye);
        let pd = self.pd(table, both, halved);
        let add = self.number(table, &keys::ADD);
        if let Ok(Some(add)) = &add {
            self.note(Finding::new(Problem::AddNotUsed { found: add.value }, add.place.clone()));
        }
        Ok(EyeRx { power: power?, prism: prism?, pd_mm: pd?, add: add?.map(|add| add.value) })
    }

    fn power(&mut self, table: &mut Table) -> Got<Power> {
        let sphere = self.number(table, &keys::SPHERE);
        let sphere = self.need(table, &keys::SPHERE, sphere);
        let cylinder = self.number(table, &keys::CYLINDER);
        let axis = self.number(table, &keys::AXIS);
        let (sphere, axis) = match (&cylinder, &axis) {
            (Ok(Some(cylinder)), Ok(None)) if cylinder.value != 0.0 => {
                let problem = Problem::AxisMissing { cylinder: cylinder.value };
                let finding = Finding::new(problem, cylinder.place.clone()).mended_by(Mend::Add(&keys::AXIS));
                return Err(self.note(finding));
            }
            _ => (sphere?, axis?),
        };
        let cylinder = cylinder?.map_or(0.0, |cylinder| cylinder.value);
        Ok(Power::new(sphere.value, cylinder, axis.map_or(180.0, |axis| axis.value)))
    }

    fn prism(&mut self, table: &mut Table, eye: Eye) -> Got<Prism> {
        let Some(written) = self.take(table, &keys::PRISM) else { return Ok(Prism::default()) };
        let place = written.place.clone();
        let Written { data: Data::List(items), .. } = written else {
            return Err(self.wrong_kind(&keys::PRISM, keys::PRISM.kind, written));
        };
        let several = items.len() > 1;
        let prisms: Vec<Got<Prism>> = items.into_iter().map(|item| self.one_prism(item, eye)).collect();
        let sum = all(prisms)?.into_iter().fold(Prism::default(), Prism::plus);
        if several {
            // Each was judged alone; together they may be more than either.
            let amount = Placed { value: sum.amount_pd(), place };
            self.within(&keys::PRISM, &amount, keys::PRISM.refused.allowed(0.0).unwrap_or([0.0, f64::INFINITY]))?;
        }
        Ok(sum)
    }

    fn one_prism(&mut self, written: Written, eye: Eye) -> Got<Prism> {
        let mut table = self.table_in(&keys::PRISM, written)?;
        let amount = self.number(&mut table, &keys::AMOUNT);
        let amount = self.need(&table, &keys::AMOUNT, amount);
        let base = self.take(&mut table, &keys::BASE).map(|written| self.base(written)).transpose();
        let base = self.need(&table, &keys::BASE, base);
        if !self.single {
            self.done(table, Section::Prism);
        }
        Ok(Prism::new(amount?.value, base?.direction_deg(eye)))
    }

    fn base(&mut self, written: Written) -> Got<Base> {
        match written.data {
            Data::Text(_) => self.word_in(&keys::BASE, written, Base::from_word).map(|base| base.value),
            Data::Number(_) | Data::NotFinite(_) => {
                self.number_in(&keys::BASE, written).map(|deg| Base::Degrees(deg.value))
            }
            _ => Err(self.wrong_kind(&keys::BASE, keys::BASE.kind, written)),
        }
    }

    fn pd(&mut self, table: &mut Table, both: &Number, halved: &mut bool) -> Got<f64> {
        let own = self.take(table, &keys::PD);
        match (own, both) {
            (Some(own), Ok(Some(_))) => {
                let finding = Finding::new(Problem::PdTwice { key: &keys::PD }, own.place);
                Err(self.note(finding.mended_by(Mend::Remove)))
            }
            (Some(own), _) => self.own_pd(own),
            (None, Ok(Some(both))) => {
                *halved = true;
                Ok(0.5 * both.value)
            }
            (None, Ok(None)) => self.need(table, &keys::PD, Ok(None)),
            (None, Err(noted)) => Err(*noted),
        }
    }

    fn own_pd(&mut self, written: Written) -> Got<f64> {
        if let Data::Number(found) = written.data
            && LOOKS_LIKE_BOTH_MM.contains(&found)
        {
            let finding = Finding::new(Problem::PdOfBothEyes { key: &keys::PD, found }, written.place);
            return Err(self.note(finding.mended_by(Mend::Literal((0.5 * found).to_string()))));
        }
        self.number_in(&keys::PD, written).map(|pd| pd.value)
    }
}
