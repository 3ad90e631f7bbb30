//! A count under way: the cells as they are marked, with every step back.

use season::cells::{CellMap, Mark, Tally};

/// Steps that can be taken back.
const STEPS_MAX: usize = 200;

/// A count under way.
#[derive(Debug, Clone, PartialEq)]
pub struct Desk {
    map: CellMap,
    before: Option<CellMap>,
    /// Trays of this sowing that were looked at now, not earlier.
    looked_at: Vec<bool>,
    steps: Vec<(CellMap, Vec<bool>)>,
}

/// What a count comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counted {
    /// Cells up, of those looked at now.
    pub up: u32,
    /// Cells with two or more.
    pub doubles: u32,
    /// Cells looked at, if not all were.
    pub of: Option<u32>,
    /// Cells lost since the last map, and how many of them had a seedling.
    pub lost: (u32, u32),
    /// The map, with cells of trays not looked at now left open.
    pub map: String,
}

impl Desk {
    /// Begins from what was seen last, if cells were marked before.
    pub fn new(empty: CellMap, before: Option<CellMap>) -> Self {
        let map = before.clone().unwrap_or(empty);
        Self {
            looked_at: vec![false; map.trays() as usize],
            map,
            before,
            steps: Vec::new(),
        }
    }

    /// The cells as they are marked.
    pub fn map(&self) -> &CellMap {
        &self.map
    }

    /// Whether a tray was looked at in this count.
    pub fn is_looked_at(&self, tray: u32) -> bool {
        self.looked_at.get(tray as usize) == Some(&true)
    }

    /// Whether anything was done.
    pub fn is_begun(&self) -> bool {
        self.looked_at.contains(&true)
    }

    /// Whether there is a step to take back.
    pub fn can_undo(&self) -> bool {
        !self.steps.is_empty()
    }

    /// What a tap on a cell with a mark in hand makes of it: a cell that has the mark already goes back to empty, an empty one to up.
    pub fn tapped(&self, cell: usize, brush: Mark) -> Mark {
        match (self.map.mark(cell), brush) {
            (Mark::Empty, Mark::Empty) => Mark::Up,
            (now, brush) if now == brush => Mark::Empty,
            _ => brush,
        }
    }

    /// Remembers the cells as they are, for a step back.
    pub fn begin_step(&mut self) {
        if self.steps.len() == STEPS_MAX {
            self.steps.remove(0);
        }
        self.steps.push((self.map.clone(), self.looked_at.clone()));
    }

    /// Marks cells within the present step.
    pub fn mark(&mut self, cells: impl IntoIterator<Item = usize>, mark: Mark) {
        let cells: Vec<usize> = cells.into_iter().collect();
        for cell in &cells {
            let tray = self.map.place(*cell).tray;
            self.look_at(tray);
        }
        self.map.set(cells, mark);
    }

    /// A tray was looked at and is as it was.
    pub fn look_at(&mut self, tray: u32) {
        if let Some(seen) = self.looked_at.get_mut(tray as usize) {
            *seen = true;
        }
        self.map.look_at(tray);
    }

    /// A row or tray as one step: with the mark in hand, or back to empty where all have it.
    pub fn mark_all(&mut self, cells: impl IntoIterator<Item = usize>, brush: Mark) {
        let cells: Vec<usize> = cells.into_iter().collect();
        let all = !cells.is_empty() && cells.iter().all(|cell| self.map.mark(*cell) == brush);
        let mark = match (all, brush) {
            (true, Mark::Empty) => Mark::Up,
            (true, _) => Mark::Empty,
            (false, brush) => brush,
        };
        self.begin_step();
        self.mark(cells, mark);
    }

    /// What a photograph showed of a tray, as one step; lost cells stay lost.
    pub fn take_seen(&mut self, tray: u32, seen: &[Mark]) {
        self.begin_step();
        self.look_at(tray);
        for (cell, mark) in self.map.of_tray(tray).zip(seen) {
            if self.map.mark(cell) != Mark::Lost {
                self.map.set([cell], *mark);
            }
        }
    }

    /// One step back.
    pub fn undo(&mut self) {
        if let Some((map, looked_at)) = self.steps.pop() {
            self.map = map;
            self.looked_at = looked_at;
        }
    }

    /// What a tray adds up to.
    pub fn tally_of(&self, tray: u32) -> Tally {
        self.map.tally_of(self.map.of_tray(tray))
    }

    /// What the trays looked at now add up to.
    pub fn result(&self) -> Counted {
        let mut map = self.map.clone();
        for tray in 0..map.trays() {
            if !self.is_looked_at(tray) {
                map.forget(tray);
            }
        }
        let tally = map.tally();
        let all = self.looked_at.iter().all(|seen| *seen);
        Counted {
            up: tally.up,
            doubles: tally.doubles,
            of: (!all).then_some(tally.looked_at),
            lost: map.newly_lost(self.before.as_ref()),
            map: map.write(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::fact::{CellKind, Tray};

    fn desk(cells: u32) -> Desk {
        let tray = Tray {
            what: CellKind::Plug,
            rows: 6,
            columns: 12,
        };
        Desk::new(CellMap::new(tray, cells), None)
    }

    #[test]
    fn a_tray_three_quarters_up_takes_a_few_taps() {
        let mut desk = desk(72);
        desk.mark_all(0..72, Mark::Up);
        desk.begin_step();
        let gap = desk.map().between(3, 63);
        desk.mark(gap, Mark::Empty);
        assert_eq!(desk.result().up, 66);
        desk.mark_all(60..72, Mark::Empty);
        let result = desk.result();
        assert_eq!((result.up, result.of, result.lost), (55, None, (0, 0)));
        assert_eq!(result.map, "3ue11ue11ue11ue11ue8u12e");
        desk.undo();
        desk.undo();
        assert_eq!(desk.result().up, 72);
        desk.undo();
        assert!(!desk.can_undo() && !desk.is_begun());
        desk.undo();
        assert_eq!(desk.result().of, Some(0));
    }

    #[test]
    fn a_tap_turns_a_cell_and_a_second_one_turns_it_back() {
        let mut desk = desk(72);
        assert_eq!(desk.tapped(5, Mark::Up), Mark::Up);
        desk.begin_step();
        desk.mark([5], Mark::Up);
        assert_eq!(desk.tapped(5, Mark::Up), Mark::Empty);
        assert_eq!(desk.tapped(5, Mark::Two), Mark::Two);
        assert_eq!(desk.tapped(6, Mark::Empty), Mark::Up);
        desk.mark_all(12..24, Mark::Up);
        desk.mark_all(12..24, Mark::Up);
        assert_eq!(desk.result().up, 1, "a row tapped twice is empty again");
    }

    #[test]
    fn trays_that_were_not_looked_at_stay_open_and_keep_what_was_seen_before() {
        let mut first = desk(144);
        first.mark_all(0..144, Mark::Up);
        let before = first.map().clone();
        let mut desk = Desk::new(before.clone(), Some(before));
        desk.begin_step();
        desk.mark([0, 1], Mark::Lost);
        desk.mark([2], Mark::Two);
        let result = desk.result();
        assert_eq!((result.up, result.doubles), (70, 1));
        assert_eq!(result.of, Some(70), "one tray, less what was lost");
        assert_eq!(result.lost, (2, 2));
        assert_eq!(result.map, "2ld69u72n");
        desk.look_at(1);
        assert_eq!((desk.result().of, desk.result().up), (None, 142));
    }

    #[test]
    fn a_photograph_is_one_step_and_brings_nothing_lost_back() {
        let mut desk = desk(72);
        desk.begin_step();
        desk.mark([0], Mark::Lost);
        desk.take_seen(0, &[Mark::Up; 80]);
        assert_eq!(desk.result().up, 71);
        desk.undo();
        assert_eq!(desk.result().up, 0);
    }
}
