//! A frame: its boxed sizes, its rim and the height of the optical centres.

use super::take::all;
use super::{Got, Judge, Naming, Placed};
use crate::eye::Eyes;
use crate::finding::{Finding, Mend, Place, Problem, Unfit};
use crate::frame::{Boxing, Frame};
use crate::keys::{self, Key, Section};
use crate::outline::{Form, Measured, Shape};
use crate::rim::Rim;
use crate::written::{Data, Table, Written};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What the lenses of a frame are said to be shaped like.
enum Shaped {
    /// A built-in shape.
    Built(Got<Placed<Shape>>),
    /// A circle, or a word near to that.
    Round(Got<Placed<Shape>>),
    /// A measured outline.
    Measured(Got<Placed<Arc<Measured>>>),
}

impl Shaped {
    fn form(self) -> Got<Form> {
        match self {
            Shaped::Built(shape) | Shaped::Round(shape) => shape.map(|shape| Form::Built(shape.value)),
            Shaped::Measured(outline) => outline.map(|outline| Form::Measured(outline.value)),
        }
    }
}

/// One number for all eye sizes, or one for each.
enum Each {
    All(Placed<f64>),
    Listed { numbers: Vec<Placed<f64>>, place: Place },
}

impl Each {
    fn first(&self) -> Option<&Placed<f64>> {
        match self {
            Each::All(number) => Some(number),
            Each::Listed { numbers, .. } => numbers.first(),
        }
    }
}

impl Judge<'_> {
    /// A frame.
    pub(super) fn frame(&mut self, table: &mut Table, naming: Naming) -> Got<Frame> {
        let name = self.name(table, &keys::FRAME_NAME, naming);
        let shaped = self.shaped(table);
        let sizes = self.eye_sizes(table, naming, &shaped);
        let depths = self.depths(table, &shaped, &sizes);
        let bridges = self.bridges(table, &sizes, &shaped);
        let rim = self.word(table, &keys::RIM, Rim::from_word);
        let rim = self.need(table, &keys::RIM, rim);
        let rim_depth = self.number(table, &keys::RIM_DEPTH);
        let edge = self.edge(table, rim.as_ref().ok().map(|rim| rim.value));
        let mass = self.number(table, &keys::MASS);
        let first_depth = depths.as_ref().ok().and_then(|depths| depths.first().copied());
        let centre_up = self.centre_up(table, first_depth);
        Ok(Frame {
            name: name?,
            shape: shaped.form()?,
            sizes: boxings(&sizes?, &depths?, &bridges?),
            rim: rim?.value,
            rim_depth_mm: rim_depth?.map(|depth| depth.value),
            edge: edge?,
            mass_g: mass?.map(|mass| mass.value),
            centre_up_mm: centre_up?,
        })
    }

    /// What its lenses are shaped like, in one of the two ways in which that can be written.
    fn shaped(&mut self, table: &mut Table) -> Shaped {
        let outline = match self.outline(table) {
            Ok(None) => return self.built_in(table),
            Ok(Some(outline)) => Ok(outline),
            Err(noted) => Err(noted),
        };
        if let Some(beside) = self.take(table, &keys::SHAPE) {
            let problem = Problem::Outline(Unfit::BesideShape);
            self.note(Finding::new(problem, beside.place).mended_by(Mend::Remove));
        }
        Shaped::Measured(outline)
    }

    fn built_in(&mut self, table: &mut Table) -> Shaped {
        let shape = self.word(table, &keys::SHAPE, Shape::from_word);
        let shape = self.need(table, &keys::SHAPE, shape);
        if self.is_round(&shape) { Shaped::Round(shape) } else { Shaped::Built(shape) }
    }

    /// Is the shape a circle, or a word that was just found to be near to that?
    fn is_round(&self, shape: &Got<Placed<Shape>>) -> bool {
        let circle = Shape::Circle.word();
        match shape {
            Ok(shape) => shape.value == Shape::Circle,
            Err(_) => self.findings.last().is_some_and(
                |finding| matches!(&finding.mend, Some(Mend::Words(near)) if near.iter().any(|word| word == circle)),
            ),
        }
    }

    fn eye_sizes(&mut self, table: &mut Table, naming: Naming, shaped: &Shaped) -> Got<Vec<Placed<f64>>> {
        let key = &keys::EYE_SIZES;
        let written = self.take(table, key);
        if let (None, Shaped::Measured(outline)) = (&written, shaped) {
            let outline = outline.as_ref().map_err(|noted| *noted)?;
            let data = Data::Number(outline.value.eye_size_mm());
            return self.number_in(key, Written { place: outline.place.clone(), data }).map(|size| vec![size]);
        }
        let written = self.need(table, key, Ok(written))?;
        if self.single {
            return self.number_in(key, written).map(|size| vec![size]);
        }
        let Written { place, data: Data::List(items) } = written else {
            return Err(self.wrong_kind(key, key.kind, written));
        };
        let sizes = self.numbers_in(key, &place, items)?;
        if naming == Naming::Now && sizes.len() > 1 {
            return Err(self.note(Finding::new(Problem::SizesOfPresent { key, found: sizes.len() }, place)));
        }
        self.each_once(key, sizes)
    }

    fn each_once(&mut self, key: &'static Key, sizes: Vec<Placed<f64>>) -> Got<Vec<Placed<f64>>> {
        let mut sound = Ok(());
        let mut seen: BTreeMap<u64, &Place> = BTreeMap::new();
        for size in &sizes {
            if let Some(first) = seen.insert(size.value.to_bits(), &size.place) {
                let finding = Finding::new(Problem::SizeTwice { key, found: size.value }, size.place.clone());
                sound = Err(self.note(finding.seen_with(first.clone())));
            }
        }
        sound.map(|()| sizes)
    }

    fn each(&mut self, table: &mut Table, key: &'static Key) -> Got<Option<Each>> {
        match self.take(table, key) {
            None => Ok(None),
            Some(Written { place, data: Data::List(items) }) => {
                let numbers = all(items.into_iter().map(|item| self.number_in(key, item)).collect())?;
                Ok(Some(Each::Listed { numbers, place }))
            }
            Some(written @ Written { data: Data::Number(_) | Data::NotFinite(_), .. }) => {
                self.number_in(key, written).map(|number| Some(Each::All(number)))
            }
            Some(written) => Err(self.wrong_kind(key, key.kind, written)),
        }
    }

    fn as_many(&mut self, key: &'static Key, numbers: &[Placed<f64>], place: &Place, wanted: usize) -> Got<Vec<f64>> {
        if numbers.len() == wanted {
            return Ok(numbers.iter().map(|number| number.value).collect());
        }
        Err(self.note(Finding::new(Problem::ListLength { key, found: numbers.len(), wanted }, place.clone())))
    }

    fn bridges(&mut self, table: &mut Table, sizes: &Got<Vec<Placed<f64>>>, shaped: &Shaped) -> Got<Vec<f64>> {
        let key = &keys::BRIDGE;
        let each = self.each(table, key);
        let each = self.need(table, key, each)?;
        if let (Shaped::Measured(Ok(outline)), Some(first)) = (shaped, each.first()) {
            self.bridge_as_measured(outline, first);
        }
        let count = sizes.as_ref().map(Vec::len).map_err(|noted| *noted)?;
        match each {
            Each::All(bridge) => Ok(vec![bridge.value; count]),
            Each::Listed { numbers, place } => self.as_many(key, &numbers, &place, count),
        }
    }

    fn depths(&mut self, table: &mut Table, shaped: &Shaped, sizes: &Got<Vec<Placed<f64>>>) -> Got<Vec<f64>> {
        let key = &keys::DEPTH;
        if let Shaped::Measured(outline) = shaped {
            return self.depths_as_measured(table, outline, sizes);
        }
        let each = self.each(table, key)?;
        if let Shaped::Round(_) = shaped {
            let sizes = sizes.as_ref().map_err(|noted| *noted)?;
            return self.depths_of_circle(each, sizes);
        }
        let each = self.need(table, key, Ok(each))?;
        let sizes = sizes.as_ref().map_err(|noted| *noted)?;
        match each {
            Each::All(depth) => {
                let first = sizes.first().map_or(1.0, |first| first.value);
                // What is written for the first stays as it is written, to the last digit.
                let at = |size: f64| if size == first { depth.value } else { depth.value * size / first };
                Ok(sizes.iter().map(|size| at(size.value)).collect())
            }
            Each::Listed { numbers, place } => self.as_many(key, &numbers, &place, sizes.len()),
        }
    }

    /// A measured outline has its own proportion.
    fn depths_as_measured(
        &mut self,
        table: &mut Table,
        outline: &Got<Placed<Arc<Measured>>>,
        sizes: &Got<Vec<Placed<f64>>>,
    ) -> Got<Vec<f64>> {
        if let Some(beside) = self.take(table, &keys::DEPTH) {
            let problem = Problem::Outline(Unfit::WithDepth);
            self.note(Finding::new(problem, beside.place).mended_by(Mend::Remove));
        }
        let (outline, sizes) = (outline.as_ref().map_err(|noted| *noted)?, sizes.as_ref().map_err(|noted| *noted)?);
        let depth =
            |size: &Placed<f64>| Placed { value: size.value * outline.value.depth_ratio(), place: size.place.clone() };
        let depths: Vec<Placed<f64>> = sizes.iter().map(depth).collect();
        if let Some(allowed) = keys::DEPTH.refused.allowed(0.0) {
            all(depths.iter().map(|depth| self.within(&keys::DEPTH, depth, allowed)).collect())?;
        }
        Ok(depths.iter().map(|depth| depth.value).collect())
    }

    fn depths_of_circle(&mut self, each: Option<Each>, sizes: &[Placed<f64>]) -> Got<Vec<f64>> {
        let written = match each {
            None => Vec::new(),
            Some(Each::All(depth)) => vec![depth],
            Some(Each::Listed { numbers, place }) => {
                self.as_many(&keys::DEPTH, &numbers, &place, sizes.len())?;
                numbers
            }
        };
        let mut sound = Ok(());
        for (depth, size) in written.iter().zip(sizes) {
            if depth.value != size.value {
                let problem = Problem::CircleDepth { found: depth.value, eye_size_mm: size.value };
                let mend = Mend::Literal(size.value.to_string());
                sound = Err(self.note(Finding::new(problem, depth.place.clone()).mended_by(mend)));
            }
        }
        sound.map(|()| sizes.iter().map(|size| size.value).collect())
    }

    /// Heights of the optical centres above the boxed centre of the first eye size, whose depth may be unknown for a
    /// fault of its own.
    fn centre_up(&mut self, table: &mut Table, depth_mm: Option<f64>) -> Got<Eyes<f64>> {
        let key = &keys::HEIGHT;
        let heights = match self.take(table, key) {
            None => return Ok(Eyes { right: 0.0, left: 0.0 }),
            Some(Written { data: Data::Table(below), .. }) => self.two_heights(below, depth_mm)?,
            Some(written) => {
                let height = self.finite(key, key.kind, written)?;
                let height = self.height(height, depth_mm)?;
                Eyes { right: height, left: height }
            }
        };
        Ok(heights.map(|height| height - 0.5 * depth_mm.unwrap_or(0.0)))
    }

    fn two_heights(&mut self, mut below: Table, depth_mm: Option<f64>) -> Got<Eyes<f64>> {
        let [right, left] = [&keys::HEIGHT_RIGHT, &keys::HEIGHT_LEFT].map(|key| {
            let height = self.number(&mut below, key);
            let height = self.need(&below, key, height)?;
            self.height(height, depth_mm)
        });
        self.done(below, Section::Heights);
        Ok(Eyes { right: right?, left: left? })
    }

    fn height(&mut self, height: Placed<f64>, depth_mm: Option<f64>) -> Got<f64> {
        let key = &keys::HEIGHT;
        if let Some(allowed) = depth_mm.and_then(|depth_mm| key.refused.allowed(depth_mm)) {
            self.within(key, &height, allowed)?;
        }
        Ok(height.value)
    }
}

fn boxings(sizes: &[Placed<f64>], depths_mm: &[f64], bridges_mm: &[f64]) -> Vec<Boxing> {
    sizes
        .iter()
        .zip(depths_mm)
        .zip(bridges_mm)
        .map(|((size, depth_mm), bridge_mm)| Boxing {
            eye_size_mm: size.value,
            depth_mm: *depth_mm,
            bridge_mm: *bridge_mm,
        })
        .collect()
}
