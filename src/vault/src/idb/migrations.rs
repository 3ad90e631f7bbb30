//! The schema of the database, and the migrations from every older version.
//!
//! A migration is never changed after its release; a new schema is one more
//! migration and the next version number. Migrations change stores only:
//! entries are never rewritten.

use indexed_db_futures::Build;
use indexed_db_futures::database::Database;
use indexed_db_futures::error::Error;

/// Object store of the entries.
pub(crate) const ENTRIES: &str = "entries";
/// Object store of the device record.
pub(crate) const META: &str = "meta";

/// The schema version that this version of the app reads and writes.
pub const SCHEMA_VERSION: u32 = 1;

/// One migration.
pub struct Migration {
    /// The schema version after the migration.
    pub(crate) to: u32,
    /// Runs inside the browser's upgrade transaction.
    pub(crate) migrate: fn(&Database) -> Result<(), Error>,
}

/// All migrations in ascending order.
pub(crate) const MIGRATIONS: &[Migration] = &[Migration {
    to: SCHEMA_VERSION,
    migrate: create_stores,
}];

fn create_stores(db: &Database) -> Result<(), Error> {
    db.create_object_store(ENTRIES).build()?;
    db.create_object_store(META).build()?;
    Ok(())
}

/// Migrations with one more step, for the upgrade tests.
#[cfg(feature = "trial")]
pub const NEWER_MIGRATIONS: &[Migration] = &[
    Migration {
        to: SCHEMA_VERSION,
        migrate: create_stores,
    },
    Migration {
        to: NEWER_VERSION,
        migrate: |db| db.create_object_store("later").build().map(|_| ()),
    },
];

/// The version after [`NEWER_MIGRATIONS`].
#[cfg(feature = "trial")]
pub const NEWER_VERSION: u32 = SCHEMA_VERSION + 1;

/// The version that a list of migrations leads to: 0 for an empty list.
pub(crate) fn top(migrations: &[Migration]) -> u32 {
    migrations
        .iter()
        .map(|migration| migration.to)
        .max()
        .unwrap_or(0)
}

/// The migrations needed from version `from`, where 0 is a new database.
pub(crate) fn pending(
    migrations: &'static [Migration],
    from: u32,
) -> impl Iterator<Item = &'static Migration> {
    migrations
        .iter()
        .filter(move |migration| migration.to > from)
}

#[cfg(test)]
mod tests {
    use super::*;

    const THREE: &[Migration] = &[
        Migration {
            to: 1,
            migrate: |_| Ok(()),
        },
        Migration {
            to: 2,
            migrate: |_| Ok(()),
        },
        Migration {
            to: 3,
            migrate: |_| Ok(()),
        },
    ];

    #[test]
    fn only_newer_migrations_run_in_order() {
        let from = |version| pending(THREE, version).map(|s| s.to).collect::<Vec<_>>();
        assert_eq!(from(0), [1, 2, 3]);
        assert_eq!(from(1), [2, 3]);
        assert_eq!(from(3), [] as [u32; 0]);
        assert_eq!(top(THREE), 3);
        assert_eq!(top(&[]), 0);
    }

    #[test]
    fn every_version_up_to_the_schema_version_has_a_migration() {
        let versions: Vec<_> = MIGRATIONS.iter().map(|s| s.to).collect();
        let expect: Vec<_> = (1..=SCHEMA_VERSION).collect();
        assert_eq!(versions, expect);
    }
}
