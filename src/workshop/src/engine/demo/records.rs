//! What a logger, a cold night and the year before left in the book.

use std::collections::BTreeMap;

use season::fact::*;
use season::ids::SeasonId;

use super::super::Trouble;
use super::beds::Set;
use super::book::{Book, Device};
use super::day;
use super::set_up::{Farm, id};

/// A fortnight of July, from the 5th on: outdoors lowest, highest and mean; how much warmer the tunnel was at each; C.
const FORTNIGHT: [[f64; 6]; 14] = [
    [13.2, 25.1, 18.9, 1.1, 5.6, 3.0],
    [14.0, 26.8, 20.1, 1.2, 6.0, 3.3],
    [15.1, 28.9, 21.6, 1.2, 6.4, 3.6],
    [14.8, 28.3, 21.2, 1.3, 6.3, 3.5],
    [15.9, 24.4, 19.8, 1.0, 3.9, 2.1],
    [14.3, 22.7, 18.1, 0.9, 3.6, 1.9],
    [12.1, 24.0, 17.8, 1.0, 5.5, 2.9],
    [12.8, 26.2, 19.3, 1.1, 5.9, 3.2],
    [14.4, 28.0, 21.0, 1.2, 6.2, 3.5],
    [16.2, 30.4, 23.1, 1.3, 6.8, 3.9],
    [17.5, 31.2, 24.2, 1.3, 6.9, 4.0],
    [16.8, 27.5, 21.7, 1.1, 4.8, 2.6],
    [13.9, 26.1, 19.8, 1.1, 5.8, 3.1],
    [14.1, 27.3, 20.5, 1.2, 6.1, 3.3],
];

/// Records the season's own name and what the last one taught, the fortnight's readings, a cold evening and side buds taken out.
pub fn record(book: &mut Book, farm: &Farm, sets: &[Set]) -> Result<(), Trouble> {
    last_year(book, farm)?;
    readings(book, farm)?;
    cold(book, sets)?;
    // One stem to a bloom on the big round ones.
    let date = day(2027, 7, 12);
    for set in sets.iter().filter(|set| set.variety == "Peach round") {
        let planting = set.id.clone();
        book.record(date, 16, Device::Phone, DisbuddedFact::new(planting, date))?;
    }
    Ok(())
}

fn last_year(book: &mut Book, farm: &Farm) -> Result<(), Trouble> {
    let date = day(2026, 12, 27);
    let fact = SeasonFact {
        name: Some("2027".into()),
        from: Some(day(2027, 1, 1)),
        ..SeasonFact::new(id(SeasonId::new(book.new_id(date)))?)
    };
    book.record(date, 20, Device::Laptop, fact)?;
    let stems = Learned {
        value: 5.2,
        low: 4.4,
        high: 6.1,
        plantings: 3,
        seasons: 1,
        until: day(2026, 10, 31),
    };
    let fact = VarietyFact {
        learned: BTreeMap::from([("stems_per_plant_season".to_owned(), Some(stems))]),
        ..VarietyFact::new(farm.variety("Slate wand")?.clone())
    };
    book.record(date, 20, Device::Laptop, fact)?;
    let fact = NoteFact {
        about: Some(farm.variety("Slate wand")?.to_string()),
        ..NoteFact::new(
            "Stems to the plant as three sowings of 2026 gave them.".into(),
            date,
        )
    };
    book.record(date, 20, Device::Laptop, fact)?;
    Ok(())
}

fn readings(book: &mut Book, farm: &Farm) -> Result<(), Trouble> {
    let tunnel = farm.space("Tunnel")?;
    let tenth = |c: f64| (c * 10.0).round() / 10.0;
    for (date, [min_c, max_c, mean, by_night, by_day, over]) in (5..).zip(FORTNIGHT) {
        let date = day(2027, 7, date);
        let outdoors = TemperatureFact {
            mean_c: Some(mean),
            ..TemperatureFact::new(min_c, max_c, date)
        };
        let under = TemperatureFact {
            mean_c: Some(tenth(mean + over)),
            space: Some(tunnel.clone()),
            ..TemperatureFact::new(tenth(min_c + by_night), tenth(max_c + by_day), date)
        };
        for fact in [outdoors, under] {
            book.record(date, 21, Device::Laptop, fact)?;
        }
    }
    Ok(())
}

/// The evening before the frost of 9 May: what stood outdoors was covered.
fn cold(book: &mut Book, sets: &[Set]) -> Result<(), Trouble> {
    let date = day(2027, 5, 8);
    let expected = LowExpectedFact::new(-1.5, date);
    book.record(date, 16, Device::Phone, expected)?;
    for set in sets.iter().filter(|set| !set.tunnel && set.date <= date) {
        let covered = CoveredFact {
            planting: Some(set.id.clone()),
            ..CoveredFact::new(date)
        };
        book.record(date, 18, Device::Phone, covered)?;
    }
    Ok(())
}
