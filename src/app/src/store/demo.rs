//! The demo season: an invented grower's book, apart from the own one.

use leptos::prelude::*;
use season::Log;
use season::file::{self, FileError};
use season::words::Say;
use vault::{Book, Vault};

use super::recording::rows;
use super::{Store, trouble};
use crate::browser::files;

/// Where the demo lies, below the app.
const DEMO_FILE: &str = "demo/demo-season.json";

impl Store {
    /// Opens the demo season, writing it first if its book is empty. The own book is not touched.
    ///
    /// On an error the own book stays open.
    pub async fn enter_demo(self) -> Result<(), Say> {
        let vault = match Vault::open(Book::Demo).await {
            Ok(vault) => vault,
            Err(vault::VaultError::Unavailable | vault::VaultError::Refused) => Vault::in_memory(),
            Err(error) => return Err(trouble::say(&error)),
        };
        let stored = vault.read_all().await.map_err(|e| trouble::say(&e))?;
        if stored.is_empty() {
            let bytes = files::fetch(DEMO_FILE)
                .await
                .ok_or_else(|| Say::new("demo.missing"))?;
            let demo = file::read(&bytes).map_err(|_: FileError| Say::new("demo.damaged"))?;
            let log: Log = demo.entries.into_iter().collect();
            let entries: Vec<season::Entry> = log.iter().cloned().collect();
            vault
                .append(&rows(&entries))
                .await
                .map_err(|e| trouble::say(&e))?;
        }
        self.fill(vault, Book::Demo).await;
        Ok(())
    }

    /// Goes back to the own book as it was.
    pub async fn leave_demo(self) {
        self.open(Book::Own).await;
        self.put_slip_away();
    }

    /// Whether the demo season is open, without following it, for handlers.
    pub fn in_demo_now(self) -> bool {
        self.prefs.with_untracked(|prefs| prefs.book) == Book::Demo
    }

    /// Whether the demo season is open.
    pub fn in_demo(self) -> bool {
        self.prefs.with(|prefs| prefs.book) == Book::Demo
    }
}
