//! A connection, and the ear on it.

use super::ladder::Step;
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
    ear: AbortHandle,
}

impl Connection {
    /// Opens, and gives the connection up as soon as another tab needs the
    /// database to itself: holding on would block that tab for good.
    pub(crate) async fn open(
        name: &str,
        ladder: &'static [Step],
        notices: Rc<Notices>,
    ) -> Result<Self, VaultError> {
        let db = open::open(name, ladder).await?;
        let mut changes = db
            .version_changes()
            .map_err(|error| match fault::of_use(error) {
                Fault::Is(error) => error,
                Fault::Lost => VaultError::Closed,
            })?;
        let lost = Rc::new(Cell::new(false));
        let (handle, gone) = (db.clone(), Rc::clone(&lost));
        let (listening, ear) = abortable(async move {
            match changes.recv().await {
                Some(event) => {
                    handle.close();
                    notices.tell(if event.new_version().is_some() {
                        Closing::Upgrading
                    } else {
                        Closing::Deleted
                    });
                }
                None => gone.set(true),
            }
        });
        spawn_local(async move {
            // The only error is that the connection was dropped.
            let _dropped = listening.await;
        });
        Ok(Self { db, lost, ear })
    }

    /// Whether the browser closed it of its own accord.
    pub(crate) fn is_lost(&self) -> bool {
        self.lost.get()
    }
}

impl Drop for Connection {
    fn drop(&mut self) {
        self.ear.abort();
        self.db.clone().close();
    }
}
