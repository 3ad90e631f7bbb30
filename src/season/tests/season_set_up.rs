//! What a grower says of seed and place once, and what it changes all year: how seed was kept, and how early and late frost comes.

#![allow(clippy::expect_used, reason = "a test that cannot set up must stop")]

mod book;

use book::{Book, day};
use season::fact::{BedFact, Keeping, PlaceFact, SeedLotFact, SownFact};
use season::forecast::{lot_germination, of_sowing};
use season::ids::{BedId, LotId, PlaceId, SowingId, VarietyId};
use season::month_day::MonthDay;
use season::words::Manner;

/// A packet of 2025 that says 85 in 100, kept as told.
fn packet(name: &str, variety: &VarietyId, kept: Option<Keeping>) -> SeedLotFact {
    SeedLotFact {
        variety: Some(variety.clone()),
        name: Some(name.into()),
        year: Some(2025),
        seeds: Some(100),
        germination: Some(0.85),
        kept,
        ..SeedLotFact::new(LotId::new(name).expect("an id"))
    }
}

#[test]
fn how_old_seed_was_kept_moves_what_is_expected_of_its_tray() {
    let (mut book, spaces) = Book::at_44_north();
    let variety = book.variety("plume", "celosia_plumosa", None);
    let [first, second] = ["first", "second"].map(|name| {
        book.record("2027-01-10", packet(name, &variety, None));
        let sown = SownFact {
            space: Some(spaces.mat.clone()),
            dome: true,
            lot: LotId::new(name).ok(),
            for_space: Some(spaces.tunnel.clone()),
            ..SownFact::new(variety.clone(), 60, day("2027-04-10"))
        };
        SowingId::from(book.record("2027-04-10", sown))
    });
    let expected = |book: &Book, sowing: &SowingId| {
        book.ask(|almanac| {
            let sowing = &almanac.season().sowings[sowing];
            let outlook = of_sowing(almanac, sowing, day("2027-04-11")).final_up;
            outlook.expect("an outlook").p50
        })
    };
    let alike = |book: &Book| (expected(book, &first) - expected(book, &second)).abs() < 1e-9;
    assert!(alike(&book), "nothing is said of how they were kept");

    // Dry in a room 61 in 100 are left of 85 after two years, by rule of thumb; in the fridge 82: 12 of 60 blocks more.
    book.record("2027-04-10", packet("first", &variety, Some(Keeping::Room)));
    book.record(
        "2027-04-10",
        packet("second", &variety, Some(Keeping::Cool)),
    );
    let more = expected(&book, &second) - expected(&book, &first);
    assert!((10.0..=16.0).contains(&more), "{more}");
    let says = |sowing: &SowingId| {
        book.ask(|almanac| {
            let lot = almanac.season().sowings[sowing].lot.clone();
            let crop = almanac.crop(&variety).expect("a crop");
            let on = day("2027-04-10");
            let found = lot_germination(almanac, crop, &variety, lot.as_ref(), on, Some(sowing));
            let why = found.expect("figures").why;
            let last = why.last().expect("a reason");
            (last.say.write(Manner::default()), last.sources.clone())
        })
    };
    let (said, sources) = says(&second);
    assert_eq!(
        said,
        "82% still alive after 2 years in the fridge, by the viability equation of Ellis and Roberts (1980)"
    );
    assert_eq!(sources, ["DANIEL12"], "whose constants they are");

    // Said wrong, and put right by a later record.
    book.record(
        "2027-04-11",
        packet("second", &variety, Some(Keeping::Room)),
    );
    assert!(alike(&book));
}

#[test]
fn a_third_date_of_frost_lengthens_the_autumn_it_speaks_of() {
    let (mut book, _) = Book::at_44_north();
    let chances = |book: &Book| {
        book.ask(|almanac| {
            let climate = almanac.climate().expect("a climate");
            ["2027-09-20", "2027-10-20"].map(|on| climate.frost_chance_before(day(on)).get())
        })
    };
    let [september, october] = chances(&book);
    assert!(october > 0.9, "nine years in ten by 15 October: {october}");
    let third = PlaceFact {
        first_frost_90: "11-02".parse().ok(),
        ..PlaceFact::new(PlaceId::new("place").expect("an id"))
    };
    book.record("2027-01-11", third);
    let [before, after] = chances(&book);
    assert!((before - september).abs() < 1e-12, "the early side stays");
    assert!(
        (0.7..0.85).contains(&after),
        "mild autumns are known: {after}"
    );
}

/// A bed that is in use as told, on each of some days of 2027 and 2028.
fn in_use(from: Option<&str>, to: Option<&str>, days: &[&str]) -> Vec<bool> {
    let (mut book, _) = Book::at_44_north();
    let of = BedId::new("winter").expect("an id");
    let month_day = |text: Option<&str>| text.map(|text| text.parse::<MonthDay>().expect("a day"));
    let fact = BedFact {
        name: Some("Winter".into()),
        in_use_from: month_day(from),
        in_use_to: month_day(to),
        ..BedFact::new(of.clone())
    };
    book.record("2027-01-10", fact);
    book.ask(|almanac| {
        let bed = almanac.bed(&of).expect("the bed");
        days.iter().map(|date| bed.in_use(day(date))).collect()
    })
}

#[test]
fn a_bed_is_in_use_between_its_days_also_over_new_year() {
    let days = ["2027-03-31", "2027-04-01", "2027-10-15", "2027-10-16"];
    let summer = in_use(Some("04-01"), Some("10-15"), &days);
    assert_eq!(summer, [false, true, true, false]);
    let winter = in_use(Some("10-16"), Some("03-31"), &days);
    assert_eq!(winter, [true, false, false, true]);
    assert_eq!(in_use(None, None, &days), [true; 4]);
    // One day alone: from New Year, or to the year's end.
    assert_eq!(
        in_use(Some("10-15"), None, &days),
        [false, false, true, true]
    );
    assert_eq!(
        in_use(None, Some("04-01"), &days),
        [true, true, false, false]
    );
    // Leap days: in a common year they are 28 February.
    let leap = [
        "2027-02-27",
        "2027-02-28",
        "2027-03-01",
        "2028-02-28",
        "2028-02-29",
    ];
    let from = in_use(Some("02-29"), Some("12-01"), &leap);
    assert_eq!(from, [false, true, true, false, true]);
    let to = in_use(Some("01-02"), Some("02-29"), &leap);
    assert_eq!(to, [true, true, false, true, true]);
    // The day after the last is the first: the whole year, with nothing left out.
    let whole = ["2027-01-01", "2027-06-30", "2027-12-31", "2028-02-29"];
    for (from, to) in [("01-01", "12-31"), ("07-01", "06-30"), ("03-01", "02-29")] {
        assert_eq!(
            in_use(Some(from), Some(to), &whole),
            [true; 4],
            "{from} to {to}"
        );
    }
}
