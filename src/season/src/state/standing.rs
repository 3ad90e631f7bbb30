//! How many cells and plants there are after what was recorded.

use chrono::NaiveDate;
use serde::Serialize;

use crate::ids::EntryId;

/// What changes the number of plants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum StepKind {
    /// Counted.
    Counted {
        /// Cells up.
        up: u32,
        /// Of how many looked at; all that were left when `None`.
        of: Option<u32>,
        /// Cells with two or more; as before when `None`.
        doubles: Option<u32>,
        /// Judged by eye.
        about: bool,
    },
    /// Cells or plants lost, and how many of them were up: all when `None`.
    Lost(u32, Option<u32>),
    /// Empty cells filled.
    PrickedOut(u32),
    /// Plants set into a bed.
    Transplanted(u32),
}

/// One change of the number of plants.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Step {
    pub date: NaiveDate,
    pub entry: EntryId,
    pub kind: StepKind,
}

/// How many cells and plants there are on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Standing {
    /// Cells still in the trays, up or not.
    pub cells: u32,
    /// Cells with plants by the last count, less what was lost or planted since; `None` before the first count.
    pub up: Option<u32>,
    /// Cells with two or more by the last count that told them, less what was pricked out since.
    pub doubles: u32,
    /// Seedlings that ever came up: standing, lost after they were up, and planted.
    pub emerged: u32,
    /// Lost so far.
    pub lost: u32,
    /// Planted out so far.
    pub transplanted: u32,
    /// Of those up, how many only a sample or a look by eye stands for: the next full count may take them back.
    soft: u32,
}

impl Standing {
    /// Before anything happened.
    pub fn sown(cells: u32) -> Self {
        Self {
            cells,
            ..Self::default()
        }
    }

    /// Whether trays are still in use: seedlings stand in them or may still come up. Cells that stayed empty need no room once
    /// the last plant is set.
    pub fn in_trays(&self) -> bool {
        match self.up {
            Some(0) => self.cells > 0 && self.transplanted == 0,
            Some(_) => true,
            None => self.cells > 0,
        }
    }

    /// Cells up that were seen one by one.
    pub fn surely_up(&self) -> u32 {
        self.up.unwrap_or(0).saturating_sub(self.soft)
    }

    /// Whether the number up stands for cells that nobody looked at one by one.
    pub fn is_estimate(&self) -> bool {
        self.soft > 0
    }

    /// Cells without a seedling, once counted.
    pub fn empty(&self) -> u32 {
        self.up.map_or(0, |up| self.cells.saturating_sub(up))
    }

    /// One change. Returns whether it could be: not more than was there.
    pub(crate) fn step(&mut self, kind: StepKind) -> bool {
        match kind {
            StepKind::Counted {
                up,
                of,
                doubles,
                about,
            } => {
                let looked_at = of.unwrap_or(self.cells).min(self.cells);
                let full = looked_at == 0 || looked_at == self.cells;
                // A count of some cells stands for the whole tray.
                let whole = if full {
                    up.min(self.cells)
                } else {
                    let share = f64::from(up.min(looked_at)) / f64::from(looked_at);
                    (share * f64::from(self.cells)).round() as u32
                };
                // What a sample stood for is told anew; what was counted cell by cell no sample takes back.
                let surely = self.surely_up();
                let gained = whole.saturating_sub(surely);
                self.emerged = (self.emerged - self.soft.min(self.emerged)).saturating_add(gained);
                (self.up, self.soft) = if full && !about {
                    (Some(whole), 0)
                } else {
                    (Some(surely + gained), gained)
                };
                self.doubles = doubles.unwrap_or(self.doubles);
                self.hold();
                up <= looked_at && doubles.is_none_or(|doubles| doubles <= up)
            }
            StepKind::Lost(n, were_up) => {
                let possible = n <= self.cells && were_up.is_none_or(|up| up <= n);
                self.cells = self.cells.saturating_sub(n);
                let were_up = were_up.unwrap_or(n);
                self.up = self.up.map(|up| up.saturating_sub(were_up).min(self.cells));
                self.lost = self.lost.saturating_add(n);
                self.hold();
                possible
            }
            StepKind::PrickedOut(n) => {
                let up = self.up.unwrap_or(0);
                let possible = n <= self.cells.saturating_sub(up);
                self.up = Some(up.saturating_add(n).min(self.cells));
                self.doubles = self.doubles.saturating_sub(n);
                possible
            }
            StepKind::Transplanted(n) => {
                let possible = n <= self.up.unwrap_or(self.cells);
                self.cells = self.cells.saturating_sub(n);
                self.up = self.up.map(|up| up.saturating_sub(n));
                self.transplanted = self.transplanted.saturating_add(n);
                self.hold();
                possible
            }
        }
    }

    /// No more doubles, and no more that only a sample stands for, than are up.
    fn hold(&mut self) {
        let up = self.up.unwrap_or(0);
        self.doubles = self.doubles.min(up);
        self.soft = self.soft.min(up);
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn counted(up: u32, of: Option<u32>) -> StepKind {
        StepKind::Counted {
            up,
            of,
            doubles: None,
            about: false,
        }
    }

    /// Any change, also beyond what an entry may say.
    fn step() -> impl Strategy<Value = StepKind> {
        let n = prop_oneof![
            0u32..100,
            Just(crate::limits::CELLS_MAX),
            Just(u32::MAX),
            any::<u32>()
        ];
        let maybe = proptest::option::of(n.clone());
        (0u8..4, n, maybe.clone(), maybe, any::<bool>()).prop_map(
            |(which, n, of, doubles, about)| match which {
                0 => StepKind::Counted {
                    up: n,
                    of,
                    doubles,
                    about,
                },
                1 => StepKind::Lost(n, of),
                2 => StepKind::PrickedOut(n),
                _ => StepKind::Transplanted(n),
            },
        )
    }

    proptest! {
        #[test]
        fn a_tray_never_holds_more_than_its_cells(
            cells in prop_oneof![0u32..200, Just(u32::MAX)],
            steps in proptest::collection::vec(step(), 0..40),
        ) {
            let mut standing = Standing::sown(cells);
            for step in steps {
                let was = standing;
                let possible = standing.step(step);
                prop_assert!(standing.up.is_none_or(|up| up <= standing.cells));
                prop_assert!(standing.doubles <= standing.up.unwrap_or(0).max(was.doubles));
                prop_assert!(standing.cells <= was.cells);
                prop_assert!(standing.emerged >= was.emerged.saturating_sub(was.soft));
                prop_assert!(standing.lost >= was.lost && standing.transplanted >= was.transplanted);
                match step {
                    StepKind::Counted { up, of, doubles, .. } => {
                        let there = up <= of.unwrap_or(u32::MAX).min(was.cells);
                        prop_assert_eq!(possible, there && doubles.is_none_or(|doubles| doubles <= up));
                    }
                    StepKind::Lost(n, up) => prop_assert_eq!(possible, n <= was.cells && up.is_none_or(|up| up <= n)),
                    StepKind::PrickedOut(n) => prop_assert_eq!(possible, n <= was.cells - was.up.unwrap_or(0)),
                    StepKind::Transplanted(n) => prop_assert_eq!(possible, n <= was.up.unwrap_or(was.cells)),
                }
            }
        }
    }

    #[test]
    fn a_full_count_settles_what_a_sample_stood_for() {
        let mut tray = Standing::sown(72);
        tray.step(counted(15, Some(20)));
        assert_eq!((tray.up, tray.emerged, tray.surely_up()), (Some(54), 54, 0));
        // A second sample tells anew; it does not add to the first.
        tray.step(counted(14, Some(20)));
        assert_eq!((tray.up, tray.emerged), (Some(50), 50));
        tray.step(counted(48, None));
        assert_eq!(
            (tray.up, tray.emerged, tray.is_estimate()),
            (Some(48), 48, false)
        );
        // What was counted stands, whatever a later glance says; what came since is the glance's.
        tray.step(counted(12, Some(20)));
        assert_eq!((tray.up, tray.emerged), (Some(48), 48));
        // Fewer in a full count: they were up, and died.
        tray.step(counted(40, None));
        assert_eq!((tray.up, tray.emerged), (Some(40), 48));
    }

    #[test]
    fn lost_cells_take_only_the_seedlings_that_were_in_them() {
        let mut tray = Standing::sown(60);
        tray.step(StepKind::Counted {
            up: 40,
            of: None,
            doubles: Some(5),
            about: false,
        });
        tray.step(StepKind::Lost(20, Some(12)));
        assert_eq!((tray.cells, tray.up, tray.lost), (40, Some(28), 20));
        assert_eq!((tray.doubles, tray.empty()), (5, 12));
        tray.step(StepKind::PrickedOut(5));
        assert_eq!((tray.doubles, tray.up), (0, Some(33)));
    }
}
