//! Light from lamps against published examples.
#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::light::{daily_light, hours_to_reach};
use agronomy::quantity::{DailyLight, Hours, Ppfd};
use published::{close, table};

/// Sources: the definition (0.0036 mol an hour per micromole), computed separately, and printed examples of
/// the two pages named in the table. Each is checked in both directions.
#[test]
fn daily_light_follows_from_ppfd_and_hours_and_back() {
    for row in table("daily_light_examples.csv") {
        let (ppfd, hours) = (Ppfd(row.number("ppfd")), Hours(row.number("hours")));
        let light = daily_light(ppfd, hours).unwrap();
        close(light.0, row.number("dli"), row.number("tolerance"), &row);
        if ppfd.0 > 0.0 {
            close(hours_to_reach(light, ppfd).unwrap().0, hours.0, 1e-9, &row);
        }
    }
    let hours = hours_to_reach(DailyLight(12.0), Ppfd(150.0)).unwrap();
    close(hours.0, 22.222_222, 1e-6, &"12 mol from a lamp of 150");
}
