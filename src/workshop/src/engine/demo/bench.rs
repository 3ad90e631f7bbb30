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
        name: Some("Oxbow bottom".into()),
        latitude: Some(44.0),
        last_frost: MonthDay::new(5, 15),
        first_frost: MonthDay::new(10, 1),
        ..PlaceFact::new(of)
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
            what: Some(what),
            name: Some(name.into()),
            room,
            walk: Some(walk),
            ..SpaceFact::new(of)
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
            crop: Some(crop.into()),
            name: Some(name.into()),
            group: Some(group),
            ..VarietyFact::new(of.clone())
        };
        book.record(day(2027, 1, 13), 18, Device::Phone, variety)?;
        let fact = SownFact {
            space: spaces.first().cloned(),
            tray: Some(Tray {
                what: CellKind::Block,
                rows: 6,
                columns: 10,
            }),
            dome: true,
            for_space: spaces.last().cloned(),
            ..SownFact::new(of, 60, sow)
        };
        let sowing = SowingId::from(book.record(sow, 15, Device::Phone, fact)?);
        for (days, up) in counts {
            let date = sow + chrono::TimeDelta::days(days);
            debug_assert!(date <= counted);
            let fact = CountedFact::new(sowing.clone(), up, date);
            book.record(date, 12, Device::Phone, fact)?;
        }
    }
    Ok(())
}
