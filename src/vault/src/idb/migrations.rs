//! The layout of the database, and the way up from any older one.
//!
//! A step is written once and never changed after release; a new layout is
//! one more step and the next number. Steps change stores only: entries are
//! never rewritten.

use indexed_db_futures::Build;
use indexed_db_futures::database::Database;
use indexed_db_futures::error::Error;

/// Store of the entries.
pub(crate) const ENTRIES: &str = "entries";
/// Store of the device record.
pub(crate) const META: &str = "meta";

/// The layout this version reads and writes.
pub const SCHEMA_VERSION: u32 = 1;

/// One step up.
pub struct Step {
    /// The version that stands after the step.
    pub(crate) to: u32,
    /// Runs inside the browser's upgrade transaction.
    pub(crate) climb: fn(&Database) -> Result<(), Error>,
}

/// All steps, lowest first.
pub(crate) const LADDER: &[Step] = &[Step {
    to: SCHEMA_VERSION,
    climb: lay_out,
}];

fn lay_out(db: &Database) -> Result<(), Error> {
    db.create_object_store(ENTRIES).build()?;
    db.create_object_store(META).build()?;
    Ok(())
}

/// A ladder with one more step, for the upgrade tests.
#[cfg(feature = "trial")]
pub const TALLER: &[Step] = &[
    Step {
        to: SCHEMA_VERSION,
        climb: lay_out,
    },
    Step {
        to: TALLER_VERSION,
        climb: |db| db.create_object_store("later").build().map(|_| ()),
    },
];

/// Where [`TALLER`] ends.
#[cfg(feature = "trial")]
pub const TALLER_VERSION: u32 = SCHEMA_VERSION + 1;

/// The version a ladder leads to: 0 for a ladder without steps.
pub(crate) fn top(ladder: &[Step]) -> u32 {
    ladder.iter().map(|step| step.to).max().unwrap_or(0)
}

/// The steps still to climb from version `from`; 0 is a new database.
pub(crate) fn steps_from(
    ladder: &'static [Step],
    from: u32,
) -> impl Iterator<Item = &'static Step> {
    ladder.iter().filter(move |step| step.to > from)
}

#[cfg(test)]
mod tests {
    use super::*;

    const THREE: &[Step] = &[
        Step {
            to: 1,
            climb: |_| Ok(()),
        },
        Step {
            to: 2,
            climb: |_| Ok(()),
        },
        Step {
            to: 3,
            climb: |_| Ok(()),
        },
    ];

    #[test]
    fn only_the_steps_above_are_climbed_in_order() {
        let from = |version| steps_from(THREE, version).map(|s| s.to).collect::<Vec<_>>();
        assert_eq!(from(0), [1, 2, 3]);
        assert_eq!(from(1), [2, 3]);
        assert_eq!(from(3), [] as [u32; 0]);
        assert_eq!(top(THREE), 3);
        assert_eq!(top(&[]), 0);
    }

    #[test]
    fn the_ladder_has_every_rung_up_to_the_schema_version() {
        let rungs: Vec<_> = LADDER.iter().map(|s| s.to).collect();
        let expect: Vec<_> = (1..=SCHEMA_VERSION).collect();
        assert_eq!(rungs, expect);
    }
}
