//! A whole tray lost: how many cells that is, and how many of them had a seedling.

use chrono::NaiveDate;

use crate::state::Sowing;

/// What stands in one tray of a sowing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TrayHolds {
    /// Cells that are not lost.
    pub cells: u32,
    /// Of them up: as marked cell by cell, else the tray's part of the sowing's number.
    pub up: u32,
}

/// What stands in a tray (from 1) on a day, that day's records included. `None` for a sowing without a grid, a tray that it does not
/// have, and one that is lost already.
pub fn tray_holds(sowing: &Sowing, tray: u32, on: NaiveDate) -> Option<TrayHolds> {
    let grid = sowing.tray_on(on)?;
    let standing = sowing.standing(on);
    let index = tray.checked_sub(1)?;
    if sowing.trays_lost(on).any(|lost| lost == tray) {
        return None;
    }
    let before = index.checked_mul(grid.cells())?;
    let whole = sowing.cells.checked_sub(before).filter(|left| *left > 0)?;
    let whole = whole.min(grid.cells());
    if let Some(map) = sowing.map_on(on) {
        let tally = map.tally_of(map.of_tray(index));
        let cells = (tally.looked_at + tally.unseen).min(standing.cells);
        return Some(TrayHolds {
            cells,
            up: tally.up.min(cells),
        });
    }
    let cells = whole.min(standing.cells);
    let share = f64::from(cells) / f64::from(standing.cells.max(1));
    let up = (f64::from(standing.up.unwrap_or(0)) * share).round() as u32;
    Some(TrayHolds {
        cells,
        up: up.min(cells),
    })
}

/// The trays of a sowing (from 1) that are still there.
pub fn trays_left(sowing: &Sowing, on: NaiveDate) -> Vec<u32> {
    let Some(grid) = sowing.tray_on(on) else {
        return Vec::new();
    };
    (1..=sowing.cells.div_ceil(grid.cells()))
        .filter(|tray| tray_holds(sowing, *tray, on).is_some_and(|holds| holds.cells > 0))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{CountedFact, LossCause, LostFact};
    use crate::sample::Sample;

    #[test]
    fn a_tray_holds_what_was_marked_in_it_else_its_part() {
        let mut sample = Sample::new();
        let variety = sample.variety("v", "zinnia", "white");
        // Two trays of 72 and a half.
        let id = sample.sown(&variety, "2027-03-01", 180);
        sample.counted(&id, "2027-03-06", 90);
        let on = sample.day("2027-03-07");
        let holds = |sample: &Sample, tray| {
            sample.with(|almanac| tray_holds(&almanac.season().sowings[&id], tray, on))
        };
        let some = |cells, up| Some(TrayHolds { cells, up });
        assert_eq!(holds(&sample, 1), some(72, 36));
        assert_eq!(holds(&sample, 3), some(36, 18));
        assert_eq!((holds(&sample, 0), holds(&sample, 4)), (None, None));
        sample.add(CountedFact {
            map: Some("70u2e30u42e36e".into()),
            ..CountedFact::new(id.clone(), 100, on)
        });
        assert_eq!(holds(&sample, 1), some(72, 70));
        assert_eq!(holds(&sample, 2), some(72, 30));
        sample.add(LostFact {
            sowing: Some(id.clone()),
            tray: Some(2),
            up: Some(30),
            ..LostFact::new(LossCause::Dropped, 72, on)
        });
        assert_eq!(holds(&sample, 2), None);
        sample.with(|almanac| {
            let sowing = &almanac.season().sowings[&id];
            assert_eq!(trays_left(sowing, on), [1, 3]);
            let standing = sowing.standing(on);
            assert_eq!((standing.cells, standing.up), (108, Some(70)));
            assert_eq!(sowing.map_on(on).unwrap().tally().lost, 72);
        });
    }
}
