//! A small sample: a bench in winter on day 10, with the decision that day asks for.

use chrono::NaiveDate;
use season::fact::*;
use season::ids::*;
use season::month_day::MonthDay;

use super::super::Trouble;
use super::book::{Book, Device};
use super::day;

fn id<T, E: std::fmt::Display>(made: Result<T, E>) -> Result<T, Trouble> {
    made.map_err(|error| Trouble::Inside(error.to_string()))
}

/// The sample's file: two groups of one slow crop, 45 and 56 of 60 blocks up on day 10, and a tray of a slower one.
pub fn bench() -> Result<String, Trouble> {
    let mut book = Book::new(20_270_126);
    let begun = day(2027, 1, 10);
    book.name_devices(begun)?;
    let of = id(PlaceId::new(book.new_id(begun)))?;
    let place = PlaceFact {
        of,
        name: Some("Oxbow bottom".into()),
        latitude: Some(44.0),
        tmin: None,
        tmax: None,
        last_frost: MonthDay::new(5, 15),
        last_frost_10: None,
        last_frost_90: None,
        first_frost: MonthDay::new(10, 1),
        first_frost_10: None,
        first_frost_90: None,
        retired: None,
        currency: None,
        buy_in_days: None,
        promise_share: None,
    };
    book.record(begun, 18, Device::Phone, place)?;
    let mut spaces = Vec::new();
    for (walk, (name, what, room)) in (1..).zip([
        ("Heat mat", SpaceKind::Mat, Some(4)),
        ("Shelves", SpaceKind::Shelf, Some(16)),
        ("Tunnel", SpaceKind::Tunnel, None),
    ]) {
        let of = id(SpaceId::new(book.new_id(begun)))?;
        spaces.push(of.clone());
        let space = SpaceFact {
            of,
            name: Some(name.into()),
            what: Some(what),
            room,
            walk: Some(walk),
            frost_risk: None,
            retired: None,
            ppfd: None,
            lamp_hours: None,
        };
        book.record(begun, 18, Device::Phone, space)?;
    }
    let sown = day(2027, 1, 16);
    trays(&mut book, &spaces, sown)?;
    book.write()
}

fn trays(book: &mut Book, spaces: &[SpaceId], sown: NaiveDate) -> Result<(), Trouble> {
    let counted = day(2027, 1, 26);
    for (name, crop, group, sow, counts) in [
        ("Chalk spike", "antirrhinum", 1, sown, [(7, 12), (10, 45)]),
        ("Brick spike", "antirrhinum", 3, sown, [(7, 21), (10, 56)]),
        (
            "Pale open cup",
            "eustoma",
            2,
            day(2027, 1, 14),
            [(10, 9), (12, 21)],
        ),
    ] {
        let of = id(VarietyId::new(book.new_id(sown)))?;
        let variety = VarietyFact {
            of: of.clone(),
            crop: Some(crop.into()),
            name: Some(name.into()),
            colour: None,
            group: Some(group),
            role: None,
            figures: Figures::new(),
            packet_seeds: None,
            packet_price: None,
            retired: None,
            learned: Default::default(),
        };
        book.record(day(2027, 1, 13), 18, Device::Phone, variety)?;
        let fact = SownFact {
            variety: of,
            lot: None,
            date: sow,
            space: spaces.first().cloned(),
            cells: 60,
            seeds_per_cell: 1,
            tray: Some(Tray {
                what: CellKind::Block,
                rows: 6,
                columns: 10,
            }),
            dome: true,
            planned: None,
            for_space: spaces.last().cloned(),
            label: None,
            number: None,
            again_for: None,
        };
        let sowing = SowingId::from(book.record(sow, 15, Device::Phone, fact)?);
        for (days, up) in counts {
            let date = sow + chrono::TimeDelta::days(days);
            debug_assert!(date <= counted);
            let fact = CountedFact {
                sowing: sowing.clone(),
                date,
                up,
                of: None,
                doubles: None,
                about: false,
                map: None,
            };
            book.record(date, 12, Device::Phone, fact)?;
        }
    }
    Ok(())
}
