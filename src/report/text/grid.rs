//! A table of the terminal: texts to the left, figures to the right, columns two signs apart, heads underlined.

use super::page::WIDTH;
use comfy_table::{Attribute, Cell, CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle};

/// What a column holds.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Holds {
    /// Texts, which may be broken between words.
    Text,
    /// Figures, which stand under each other and are never broken.
    Figures,
}

/// A cell: its text, and whether it is bold.
pub(super) type Entry = (String, bool);

/// A table being filled.
pub(super) struct Grid {
    table: Table,
    columns: Vec<Holds>,
    styled: bool,
}

impl Grid {
    pub(super) fn new(heads: &[(String, Holds)], styled: bool) -> Grid {
        let mut table = Table::new();
        table
            .load_style(TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─')))
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(u16::try_from(WIDTH).unwrap_or(u16::MAX));
        if styled {
            table.enforce_styling();
        } else {
            table.force_no_tty();
        }
        let columns = heads.iter().map(|(_, holds)| *holds).collect();
        let mut grid = Grid { table, columns, styled };
        let heads = grid.cells(heads.iter().map(|(head, _)| (head.clone(), true)).collect());
        grid.table.set_header(heads);
        for (column, holds) in grid.table.column_iter_mut().zip(&grid.columns) {
            // The library puts one sign more between columns.
            column.set_padding((0, 1));
            if *holds == Holds::Figures {
                column.set_constraint(ColumnConstraint::ContentWidth);
            }
        }
        grid
    }

    pub(super) fn row(&mut self, entries: Vec<Entry>) {
        let cells = self.cells(entries);
        self.table.add_row(cells);
    }

    fn cells(&self, entries: Vec<Entry>) -> Vec<Cell> {
        let cell = |((text, bold), holds): (Entry, &Holds)| {
            let empty = text.is_empty();
            let cell = Cell::new(text);
            let cell = if *holds == Holds::Figures { cell.set_alignment(CellAlignment::Right) } else { cell };
            if bold && self.styled && !empty { cell.add_attribute(Attribute::Bold) } else { cell }
        };
        entries.into_iter().zip(&self.columns).map(cell).collect()
    }

    pub(super) fn finish(self) -> String {
        self.table.to_string()
    }
}
