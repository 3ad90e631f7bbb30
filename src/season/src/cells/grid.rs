//! The grid of a sowing's trays: tray after tray, row after row.

use core::ops::Range;

use super::{Mark, NotCells, code};
use crate::fact::Tray;

/// Where a cell lies, each counted from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Which tray.
    pub tray: u32,
    /// Which row of it.
    pub row: u32,
    /// Which cell of the row.
    pub column: u32,
}

/// What was seen in every cell of a sowing. The last tray may be sown in part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellMap {
    rows: u32,
    columns: u32,
    marks: Vec<Mark>,
}

impl CellMap {
    /// Cells that nobody looked at yet, in trays of a grid.
    pub fn new(tray: Tray, cells: u32) -> Self {
        Self {
            rows: tray.rows.max(1),
            columns: tray.columns.max(1),
            marks: vec![Mark::Unseen; cells.min(crate::limits::CELLS_MAX) as usize],
        }
    }

    /// The map that a count wrote down for trays of this grid.
    ///
    /// # Errors
    /// [`NotCells`] where the text is no map.
    pub fn read(text: &str, tray: Tray) -> Result<Self, NotCells> {
        Ok(Self {
            marks: code::read(text)?,
            ..Self::new(tray, 0)
        })
    }

    /// As text, for the record.
    pub fn write(&self) -> String {
        code::write(&self.marks)
    }

    /// Rows of a tray.
    pub fn rows(&self) -> u32 {
        self.rows
    }

    /// Cells in a row.
    pub fn columns(&self) -> u32 {
        self.columns
    }

    /// Cells of the whole sowing.
    pub fn cells(&self) -> usize {
        self.marks.len()
    }

    /// Every cell, in order.
    pub fn marks(&self) -> &[Mark] {
        &self.marks
    }

    /// Trays, the last perhaps in part.
    pub fn trays(&self) -> u32 {
        self.marks.len().div_ceil(self.per_tray()) as u32
    }

    fn per_tray(&self) -> usize {
        (self.rows as usize).saturating_mul(self.columns as usize)
    }

    /// The cells of a tray among all.
    pub fn of_tray(&self, tray: u32) -> Range<usize> {
        let from = (tray as usize)
            .saturating_mul(self.per_tray())
            .min(self.marks.len());
        from..(from + self.per_tray()).min(self.marks.len())
    }

    /// The cells of a row of a tray among all.
    pub fn of_row(&self, tray: u32, row: u32) -> Range<usize> {
        let within = self.of_tray(tray);
        let at = |row: u32| {
            let cells = (row as usize).saturating_mul(self.columns as usize);
            within.start.saturating_add(cells).min(within.end)
        };
        at(row)..at(row.saturating_add(1))
    }

    /// Where a cell lies.
    pub fn place(&self, cell: usize) -> Place {
        let (per_tray, columns) = (self.per_tray(), self.columns as usize);
        Place {
            tray: (cell / per_tray) as u32,
            row: (cell % per_tray / columns) as u32,
            column: (cell % per_tray % columns) as u32,
        }
    }

    /// The cell at a place; `None` where none was sown.
    pub fn cell(&self, place: Place) -> Option<usize> {
        let row = self.of_row(place.tray, place.row);
        let cell = row.start + place.column as usize;
        (place.row < self.rows && place.column < self.columns && cell < row.end).then_some(cell)
    }

    /// What was seen in a cell.
    pub fn mark(&self, cell: usize) -> Mark {
        self.marks.get(cell).copied().unwrap_or_default()
    }

    /// Marks cells. What nobody looked at in the same tray was looked at with them: whoever marks what is up has seen what is not.
    pub fn set(&mut self, cells: impl IntoIterator<Item = usize>, mark: Mark) {
        let mut looked_at = None;
        for cell in cells {
            let tray = self.place(cell).tray;
            if let Some(there) = self.marks.get_mut(cell) {
                *there = mark;
                if looked_at != Some(tray) {
                    self.look_at(tray);
                    looked_at = Some(tray);
                }
            }
        }
    }

    /// A tray was looked at: cells that nothing was said of are empty.
    pub fn look_at(&mut self, tray: u32) {
        let cells = self.of_tray(tray);
        for mark in self.marks.get_mut(cells).into_iter().flatten() {
            if *mark == Mark::Unseen {
                *mark = Mark::Empty;
            }
        }
    }

    /// Cells that were not looked at here, as an earlier map of the same cells has them.
    pub fn fill_from(&mut self, earlier: &Self) {
        for (mark, before) in self.marks.iter_mut().zip(&earlier.marks) {
            if *mark == Mark::Unseen {
                *mark = *before;
            }
        }
    }

    /// Nothing was looked at in a tray.
    pub fn forget(&mut self, tray: u32) {
        let cells = self.of_tray(tray);
        if let Some(cells) = self.marks.get_mut(cells) {
            cells.fill(Mark::Unseen);
        }
    }

    /// Whether anything of a tray was looked at.
    pub fn is_seen(&self, tray: u32) -> bool {
        self.marks
            .get(self.of_tray(tray))
            .is_some_and(|cells| cells.iter().any(|mark| *mark != Mark::Unseen))
    }

    /// The cells on the way from one to another of the same tray, both included: a sweep that skips none, be the finger ever so quick.
    pub fn between(&self, from: usize, to: usize) -> Vec<usize> {
        let (a, b) = (self.place(from), self.place(to));
        if a.tray != b.tray {
            return vec![to];
        }
        let (rows, columns) = (
            i64::from(b.row) - i64::from(a.row),
            i64::from(b.column) - i64::from(a.column),
        );
        let steps = rows.abs().max(columns.abs()).max(1);
        let mut cells: Vec<usize> = (0..=steps)
            .filter_map(|step| {
                let on_way = |from: u32, way: i64| {
                    let part = way as f64 * step as f64 / steps as f64;
                    u32::try_from(i64::from(from) + part.round() as i64).ok()
                };
                self.cell(Place {
                    tray: a.tray,
                    row: on_way(a.row, rows)?,
                    column: on_way(a.column, columns)?,
                })
            })
            .collect();
        cells.dedup();
        cells
    }
}
