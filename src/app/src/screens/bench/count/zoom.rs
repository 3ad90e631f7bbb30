//! How large cells are drawn, and whether the tray is turned a quarter.

use leptos::prelude::*;

use crate::browser::page;

/// Sizes of a cell, rem; 0 fits the tray to the page.
const SIZES: [f64; 6] = [0.0, 1.5, 2.0, 2.75, 3.5, 4.5];
/// A tray with more cells across than this begins turned on a narrow page, as it is turned in the hand.
const ACROSS_MOST: u32 = 12;
/// Cells fitted to the page are about this wide when a pinch begins, rem.
const FITTED: f64 = 1.5;

/// How the cells lie on the page.
#[derive(Clone, Copy)]
pub(super) struct Zoom {
    /// Least size of a cell, rem.
    size: RwSignal<f64>,
    turned: RwSignal<bool>,
}

impl Zoom {
    /// For a tray of so many cells across.
    pub(super) fn for_columns(columns: u32) -> Self {
        Self {
            size: RwSignal::new(0.0),
            turned: RwSignal::new(columns > ACROSS_MOST && narrow()),
        }
    }

    /// Least size of a cell, rem. Follows changes.
    pub(super) fn size(self) -> f64 {
        self.size.get()
    }

    /// Whether the tray is turned. Follows changes.
    pub(super) fn is_turned(self) -> bool {
        self.turned.get()
    }

    /// One size nearer or farther.
    pub(super) fn step(self, nearer: bool) {
        self.size.update(|size| *size = stepped(*size, nearer));
    }

    /// A quarter turn, or back.
    pub(super) fn turn(self) {
        self.turned.update(|turned| *turned = !*turned);
    }

    /// The size now, for a pinch to begin with.
    pub(super) fn held(self) -> f64 {
        self.size.get_untracked().max(FITTED)
    }

    /// So many times as large as when the pinch began.
    pub(super) fn pinch(self, held: f64, times: f64) {
        let most = SIZES.iter().copied().fold(0.0, f64::max);
        let size = (held * times).min(most);
        self.size.set(if size <= FITTED { 0.0 } else { size });
    }
}

fn stepped(size: f64, nearer: bool) -> f64 {
    let next = if nearer {
        SIZES.into_iter().find(|step| *step > size + 0.01)
    } else {
        SIZES.into_iter().rev().find(|step| *step < size - 0.01)
    };
    next.unwrap_or(size)
}

fn narrow() -> bool {
    page::window()
        .and_then(|window| window.inner_width().ok()?.as_f64())
        .is_some_and(|width| width < 700.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_go_up_and_down_and_stop_at_their_ends() {
        assert!((stepped(0.0, true) - 1.5).abs() < 1e-9);
        assert!((stepped(1.7, true) - 2.0).abs() < 1e-9);
        assert!((stepped(1.7, false) - 1.5).abs() < 1e-9);
        assert!((stepped(4.5, true) - 4.5).abs() < 1e-9);
        assert!(stepped(0.0, false).abs() < 1e-9);
    }
}
