//! The slip that says what was saved and how to take it back.

use std::time::Duration;

use leptos::prelude::*;
use season::Fact;
use season::ids::EntryId;
use season::words::faults::kind_key;
use season::words::{Arg, Say};

use super::Store;
use crate::browser::page;

/// How long the slip stays: long enough to read it and reach the button. Undoing stays possible in the Shed.
const STAYS: Duration = Duration::from_secs(12);

/// What was saved last.
#[derive(Debug, Clone, PartialEq)]
pub struct Slip {
    /// What to say.
    pub said: Say,
    /// The entries that undoing takes back.
    pub entries: Vec<EntryId>,
}

impl Store {
    /// The slip, while it is there.
    pub fn slip(self) -> Option<Slip> {
        self.slip.get()
    }

    /// Goes to an address of the app and takes the slip along: what was just saved is told where it shows.
    pub fn go_with_slip(self, href: &str) {
        self.slip_goes_along.set_value(true);
        page::go(href);
    }

    /// Another place was gone to: the slip stays behind, unless it was to come along.
    pub fn leave_slip(self) {
        if self.slip_goes_along.get_value() {
            self.slip_goes_along.set_value(false);
        } else {
            self.put_slip_away();
        }
    }

    /// Takes the slip away.
    pub fn put_slip_away(self) {
        if self.slip.with_untracked(Option::is_some) {
            self.slip.try_set(None);
        }
    }

    pub(super) fn show_slip(self, slip: Slip) {
        let shown = slip.entries.clone();
        self.slip.try_set(Some(slip));
        set_timeout(
            move || {
                self.slip.try_update(|slip| {
                    if slip.as_ref().is_some_and(|slip| slip.entries == shown) {
                        *slip = None;
                    }
                });
            },
            STAYS,
        );
    }
}

/// "Saved: Count, Mon 3 May." of what was recorded together, named by the first fact.
pub(super) fn saved(facts: &[Fact]) -> Say {
    let first = facts.first();
    let kind = first
        .and_then(Fact::kind)
        .and_then(kind_key)
        .unwrap_or("kind.unknown");
    Say::new("slip.saved")
        .with("what", Arg::Key(kind))
        .with_some("date", first.and_then(Fact::date))
        .with_some("more", facts.len().checked_sub(1).filter(|n| *n > 0))
}
