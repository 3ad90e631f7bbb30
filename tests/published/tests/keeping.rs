//! Keeping of cut stems against a handbook's storage table and worked figures.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::keeping::{cold_days, respiration};
use agronomy::quantity::{Celsius, Hours};
use culture::Reference;
use published::{close, table};

/// Source: Celikel & Reid, respiration of roses and gypsophila: threefold from 0 to 10 degrees; the worked figures by hand.
#[test]
fn warm_hours_cost_as_many_cold_days_as_worked_by_hand() {
    for row in table("cold_days.csv") {
        let used = cold_days(Hours(row.number("hours")), Celsius(row.number("celsius"))).unwrap();
        close(used, row.number("days"), row.number("tolerance"), &row);
    }
    let times = respiration(Celsius(10.0)).unwrap() / respiration(Celsius(0.0)).unwrap();
    close(times, 3.0, 1e-12, &"ten degrees");
}

/// Source: Wills et al. 1998, storage temperature and storage life of cut flowers.
#[test]
fn crops_are_stored_as_cold_and_as_long_as_the_handbook_has_it() {
    let reference = Reference::builtin().unwrap();
    for row in table("storage_life.csv") {
        let crop = reference.crop(row.text("crop")).unwrap();
        let keeps = crop.typical("cold_storage_max_days").unwrap();
        let (low, high) = (row.number("days_low"), row.number("days_high"));
        assert!((low..=high).contains(&keeps), "{keeps} days: {row:?}");
        let (coldest, usual, warmest) = crop.figure("cold_storage_c").unwrap().spread();
        let (low, high) = (row.number("temp_low"), row.number("temp_high"));
        assert!(coldest <= high && warmest >= low, "{usual} C: {row:?}");
        // The table's own temperature may differ by no more than costs a day in ten of keeping: one degree.
        assert!(
            (low - 1.0..=high + 1.0).contains(&usual),
            "{usual} C: {row:?}"
        );
    }
}
