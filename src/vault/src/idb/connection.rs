//! A connection and its close listener.

use super::migrations::Migration;
use super::{fault, open};
use crate::error::{Fault, VaultError};
use crate::notices::{Closing, Notices};
use futures_util::future::{AbortHandle, abortable};
use indexed_db_futures::database::Database;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;

/// An open database. Dropping it releases it.
pub(crate) struct Connection {
    pub(super) db: Database,
    lost: Rc<Cell<bool>>,
    listener: AbortHandle,
}

impl Connection {
    /// Opens the database. The connection is released as soon as another tab
    /// needs the database exclusively: holding it would block that tab
    /// indefinitely.
    pub(crate) async fn open(
        name: &str,
        migrations: &'static [Migration],
        notices: Rc<Notices>,
    ) -> Result<Self, VaultError> {
        let db = open::open(name, migrations).await?;
        let mut changes = db
            .version_changes()
            .map_err(|error| match fault::of_use(error) {
                Fault::Is(error) => error,
                Fault::Lost => VaultError::Closed,
            })?;
        let lost = Rc::new(Cell::new(false));
        let (handle, gone) = (db.clone(), Rc::clone(&lost));
        let (listening, listener) = abortable(async move {
            match changes.recv().await {
                Some(event) => {
                    handle.close();
                    notices.notify(if event.new_version().is_some() {
                        Closing::Upgrading
                    } else {
                        Closing::Deleted
                    });
                }
                None => gone.set(true),
            }
        });
        spawn_local(async move {
            // The only possible error is that the connection was dropped.
            let _dropped = listening.await;
        });
        Ok(Self { db, lost, listener })
    }

    /// Whether the browser closed the connection by itself.
    pub(crate) fn is_lost(&self) -> bool {
        self.lost.get()
    }
}

impl Drop for Connection {
    fn drop(&mut self) {
        self.listener.abort();
        self.db.clone().close();
    }
}
