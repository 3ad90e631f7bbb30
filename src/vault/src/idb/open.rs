//! Opening and deleting a database without blocking indefinitely.

use super::fault;
use super::migrations::{Migration, pending, top};
use crate::error::{Fault, VaultError};
use futures_util::future::{Either, select};
use gloo_timers::future::TimeoutFuture;
use indexed_db_futures::Build;
use indexed_db_futures::database::Database;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;

/// Maximum time to wait for another tab to release an old version, and for the
/// browser to respond at all, in milliseconds.
pub const OPEN_WAIT_MS: u32 = 5_000;

/// Maximum time to wait for an upgrade that has begun, in milliseconds.
const UPGRADE_WAIT_MS: u32 = 60_000;

/// Progress of opening a database.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stage {
    Asked,
    Blocked,
    Upgrading,
}

/// Opens the database `name` and applies the `migrations` it still needs.
pub(super) async fn open(
    name: &str,
    migrations: &'static [Migration],
) -> Result<Database, VaultError> {
    let stage = Rc::new(Cell::new(Stage::Asked));
    let (blocked, upgrading) = (Rc::clone(&stage), Rc::clone(&stage));
    let request = Database::open(name)
        .with_version(top(migrations))
        .with_on_blocked(move |_| {
            blocked.set(Stage::Blocked);
            Ok(())
        })
        .with_on_upgrade_needed(move |event, db: Database| {
            upgrading.set(Stage::Upgrading);
            // Versions are integers below 2^53, and ours below 2^32.
            let from = event.old_version() as u32;
            pending(migrations, from).try_for_each(|step| (step.migrate)(&db))
        })
        .build()
        .map_err(fault::of_open)?;

    let mut request = Box::pin(request);
    let mut wait_ms = OPEN_WAIT_MS;
    loop {
        match select(request, TimeoutFuture::new(wait_ms)).await {
            Either::Left((opened, _)) => return opened.map_err(fault::of_open),
            Either::Right(((), late)) => {
                if stage.get() == Stage::Upgrading && wait_ms == OPEN_WAIT_MS {
                    wait_ms = UPGRADE_WAIT_MS;
                    request = late;
                    continue;
                }
                // A connection that opens after the timeout must not block
                // others.
                spawn_local(async move {
                    if let Ok(db) = late.await {
                        db.close();
                    }
                });
                return Err(match stage.get() {
                    Stage::Blocked => VaultError::Blocked,
                    Stage::Asked | Stage::Upgrading => VaultError::Unavailable,
                });
            }
        }
    }
}

/// Deletes the database `name`; a missing database is not an error.
pub(crate) async fn delete(name: &str) -> Result<(), VaultError> {
    let request = Database::delete_by_name(name).map_err(fault::of_open)?;
    match select(request, TimeoutFuture::new(OPEN_WAIT_MS)).await {
        Either::Left((done, _)) => done.map_err(|error| match fault::of_use(error) {
            Fault::Is(error) => error,
            Fault::Lost => VaultError::Closed,
        }),
        Either::Right(_) => Err(VaultError::Blocked),
    }
}
