//! Storage life of cut stems against a handbook's table and worked figures.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::keeping::{respiration, storage_days_used};
use agronomy::quantity::{Celsius, Hours};
use culture::Reference;
use published::{close, table};

/// Source: Celikel & Reid, respiration of roses and gypsophila: threefold from 0 to 10 degrees; the other
/// figures by hand.
#[test]
fn warm_hours_use_up_the_days_of_cold_storage_worked_by_hand() {
    for row in table("cold_days.csv") {
        let (hours, at) = (Hours(row.number("hours")), Celsius(row.number("celsius")));
        let used = storage_days_used(hours, at, Celsius(0.0)).unwrap();
        close(used, row.number("days"), row.number("tolerance"), &row);
    }
    let times = respiration(Celsius(10.0)).unwrap() / respiration(Celsius(0.0)).unwrap();
    close(times, 3.0, 1e-12, &"ten degrees");
}

/// Source: Wills et al. 1998, storage temperature and storage life of cut flowers.
#[test]
fn crops_are_stored_at_the_temperature_and_for_the_time_of_the_handbook() {
    let reference = Reference::builtin().unwrap();
    for row in table("storage_life.csv") {
        let crop = reference.crop(row.text("crop")).unwrap();
        let keeps = crop.typical("cold_storage_max_days").unwrap();
        let (low, high) = (row.number("days_low"), row.number("days_high"));
        assert!((low..=high).contains(&keeps), "{keeps} days: {row:?}");
        let (coldest, usual, warmest) = crop.figure("cold_storage_c").unwrap().spread();
        let (low, high) = (row.number("temp_low"), row.number("temp_high"));
        assert!(coldest <= high && warmest >= low, "{usual} C: {row:?}");
        // The typical temperature may differ by one degree, which costs about a tenth of the storage life.
        assert!(
            (low - 1.0..=high + 1.0).contains(&usual),
            "{usual} C: {row:?}"
        );
    }
}
