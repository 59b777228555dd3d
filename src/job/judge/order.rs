//! A row of orders: one lens with the number of its order and its date.

use super::{Got, Judge, Judged, OneLens, Outlines};
use crate::finding::{Finding, Problem};
use crate::job::MOST_NAME_SIGNS;
use crate::keys;
use crate::material::Shelf;
use crate::written::Table;

/// Signs at the beginning of a text that make a spreadsheet take it for a formula. The order is refused, for a number
/// that was changed would no longer be found in the laboratory's own books (ours).
pub const FORMULA_SIGNS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// One lens of an order.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// The laboratory's own number; the lenses of one pair have the same.
    pub order: String,
    /// Year-month-day, where it is dated.
    pub date: Option<String>,
    /// The lens.
    pub lens: OneLens,
}

/// Judges a row of orders, written under the names of its columns.
pub fn judge_order(written: Table, shelf: &Shelf, outlines: &dyn Outlines) -> Judged<Order> {
    let mut judge = Judge::new(shelf, outlines, true);
    let order = judge.order(written);
    judge.finish(order)
}

impl Judge<'_> {
    fn order(&mut self, mut table: Table) -> Got<Order> {
        let order = self.order_number(&mut table);
        let date = self.date(&mut table, &keys::DATE);
        let lens = self.one_lens(table);
        Ok(Order { order: order?, date: date?, lens: lens? })
    }

    fn order_number(&mut self, table: &mut Table) -> Got<String> {
        let key = &keys::ORDER;
        let order = self.text(table, key);
        let order = self.need(table, key, order)?;
        let signs = order.value.chars().count();
        let problem = if let Some(found) = order.value.chars().next().filter(|sign| FORMULA_SIGNS.contains(sign)) {
            Problem::FormulaSign { key, found }
        } else if signs > MOST_NAME_SIGNS {
            Problem::NameLong { key, found: signs }
        } else if order.value.contains(char::REPLACEMENT_CHARACTER) {
            Problem::ControlSigns { key }
        } else {
            return Ok(order.value);
        };
        Err(self.note(Finding::new(problem, order.place)))
    }
}
