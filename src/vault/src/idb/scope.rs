//! Transactions: started with the right durability, finished with the actual
//! reason of a failure.

use super::fault;
use crate::error::Fault;
use indexed_db_futures::Build;
use indexed_db_futures::database::Database;
use indexed_db_futures::internals::SystemRepr;
use indexed_db_futures::transaction::{
    Transaction, TransactionDurability, TransactionMode, TransactionOptions,
};
use web_sys::IdbTransaction;

/// Starts a transaction for reading one store.
pub(super) fn reading<'a>(db: &'a Database, store: &str) -> Result<Transaction<'a>, Fault> {
    Ok(db.transaction(store).build()?)
}

/// Starts a transaction for writing one store that completes only when it is on
/// the disk: several browsers guarantee less by default.
pub(super) fn writing<'a>(db: &'a Database, store: &str) -> Result<Transaction<'a>, Fault> {
    let strict = TransactionOptions::new().with_durability(TransactionDurability::Strict);
    Ok(db
        .transaction(store)
        .with_mode(TransactionMode::Readwrite)
        .with_options(strict)
        .build()?)
}

/// Commits, and resolves after the complete event. A failure is reported with
/// the transaction's own reason if it has one.
pub(super) async fn commit(transaction: Transaction<'_>) -> Result<(), Fault> {
    let raw = raw(&transaction);
    match transaction.commit().await {
        Ok(()) => Ok(()),
        Err(error) => Err(match raw.error() {
            Some(exception) => fault::of_exception(&exception),
            None => fault::of_use(error),
        }),
    }
}

/// The browser's own object, because the library hides the error of a
/// transaction that it has committed.
fn raw(transaction: &Transaction<'_>) -> IdbTransaction {
    let sys: &IdbTransaction = transaction.as_sys();
    sys.clone()
}
