//! Opening a book and reading what is in it.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::{Entry, Log};
use vault::tabs::Tabs;
use vault::{Book, Closing, Device, Row, Vault, VaultError, durability};

use super::{Keep, Store, trouble};
use crate::browser::{clock, page, random};
use season::words::Say;

/// How far opening has come.
#[derive(Debug, Clone, PartialEq)]
pub enum Opening {
    /// On its way.
    Opening,
    /// The season is there.
    Open,
    /// Storage is there but does not open, and what to do about it.
    Failed(Say),
}

impl Store {
    /// Opens the book that was open last, and follows the calendar from now on.
    pub fn start(self) {
        page::set_theme(self.prefs.with_untracked(|p| p.theme.word()));
        self.follow_calendar();
        let book = self.prefs.with_untracked(|p| p.book);
        spawn_local(async move {
            // The demo's book may have been emptied, or never filled where nothing is kept.
            if book == Book::Own || self.enter_demo().await.is_err() {
                self.open(Book::Own).await;
            }
        });
    }

    /// Tries again to open the book.
    pub fn try_again(self) {
        self.start_over(async move |book| self.open(book).await);
    }

    /// Goes on without storage: nothing outlasts the page.
    pub fn work_without_storage(self) {
        self.start_over(async move |_| self.fill(Vault::in_memory(), Book::Own).await);
    }

    fn start_over(self, open: impl AsyncFnOnce(Book) + 'static) {
        self.opening.try_set(Opening::Opening);
        let book = self.prefs.with_untracked(|p| p.book);
        spawn_local(async move { open(book).await });
    }

    /// Opens a book in the place of the present one.
    pub(super) async fn open(self, book: Book) {
        match Vault::open(book).await {
            Ok(vault) => self.fill(vault, book).await,
            Err(VaultError::Unavailable | VaultError::Refused) => {
                self.fill(Vault::in_memory(), book).await;
            }
            Err(error) => {
                self.opening.try_set(Opening::Failed(trouble::say(&error)));
            }
        }
    }

    pub(super) async fn fill(self, vault: Vault, book: Book) {
        if let Err(error) = self.try_fill(vault, book).await {
            self.opening.try_set(Opening::Failed(trouble::say(&error)));
        }
    }

    async fn try_fill(self, vault: Vault, book: Book) -> Result<(), VaultError> {
        // Joined before reading, so that nothing another tab stores falls in between.
        let tabs = Tabs::join(book);
        tabs.listen(move |ids| spawn_local(async move { self.hear(ids).await }));
        let rows = vault.read_all().await?;
        let device = device(&vault).await?;
        vault.on_closed(move |closing| self.closed(closing));

        let (log, unreadable) = read(rows);
        self.in_memory.try_set(!vault.keeps());
        self.given_up.try_set(false);
        self.kept(&vault);
        self.unreadable.try_set(unreadable);
        self.device.try_set(Some(device));
        self.tabs.set_value(Some(tabs));
        self.vault.set_value(Some(vault));
        self.last_drafted.set_value(None);
        self.log.set_value(log);
        self.choose(|prefs| prefs.book = book);
        self.refold();
        self.look_at_calendar();
        self.opening.try_set(Opening::Open);
        spawn_local(async move {
            let answer = durability::persisted().await;
            self.persisted.try_set(Some(answer));
        });
        Ok(())
    }

    /// Another tab has stored entries.
    async fn hear(self, ids: Vec<String>) {
        let Ok(vault) = self.open_vault() else {
            return;
        };
        let Ok(rows) = vault.read(&ids).await else {
            // They are on the disk and come with the next opening.
            return;
        };
        let (heard, _) = read(rows);
        let known = self.log.with_value(Log::len);
        self.log
            .update_value(|log| log.extend(heard.iter().cloned()));
        if self.log.with_value(Log::len) > known {
            self.refold();
            self.look_at_calendar();
        }
    }

    fn closed(self, closing: Closing) {
        match closing {
            Closing::Upgrading => {
                self.given_up.try_set(true);
                self.keep
                    .try_set(Keep::Unsaved(trouble::say(&VaultError::Closed)));
            }
            Closing::Deleted => spawn_local(async move { self.open(Book::Own).await }),
        }
    }

    fn follow_calendar(self) {
        self.look_at_calendar();
        let visible = window_event_listener_untyped("visibilitychange", move |_| {
            if page::is_visible() {
                self.look_at_calendar();
            }
        });
        // The store lives as long as the page, and so does its listener.
        let _kept_for_ever = visible;
        self.at_midnight();
    }

    fn at_midnight(self) {
        let wait = std::time::Duration::from_millis(clock::ms_to_midnight().into());
        set_timeout(
            move || {
                self.look_at_calendar();
                self.at_midnight();
            },
            wait,
        );
    }
}

/// Entries of rows, and how many rows are none.
fn read(rows: Vec<Row>) -> (Log, usize) {
    let mut unreadable = 0;
    let log = rows
        .into_iter()
        .filter_map(|row| {
            let entry = Entry::read_stored(row.json).ok();
            unreadable += usize::from(entry.is_none());
            entry
        })
        .collect();
    (log, unreadable)
}

/// This device as the book knows it, made known to it if it does not.
async fn device(vault: &Vault) -> Result<Device, VaultError> {
    if let Some(device) = vault.device().await? {
        return Ok(device);
    }
    let id = season::ids::mint(clock::now_ms(), random::bits());
    let name = String::new();
    vault.set_device(&Device { id, name }).await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_that_is_no_entry_is_counted_and_the_others_are_read() {
        let row = |id: &str, json: String| Row {
            id: id.into(),
            json,
        };
        let good = format!(
            r#"{{"at":"2027-02-14T08:30:12.345Z/0000","date":"2027-02-14","device":"d","id":"a","kind":"note","text":"{}"}}"#,
            "first"
        );
        let later = r#"{"at":"2028-02-14T08:30:12.345Z/0000","device":"d","id":"b","kind":"grafted","onto":1}"#;
        let rows = vec![
            row("a", good),
            row("b", later.to_owned()),
            row("c", "{".to_owned()),
            row("d", "[]".to_owned()),
        ];
        let (log, unreadable) = read(rows);
        assert_eq!((log.len(), unreadable), (2, 2));
    }
}
