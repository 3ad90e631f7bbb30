//! Forms beside a season: what is offered for a tray and a planting, what is said beside a field, what belongs together.

use chrono::NaiveDate;
use culture::Reference;
use season::almanac::Almanac;
use season::check::{Weight, check};
use season::fact::*;
use season::ids::*;
use season::{Fact, Log, Season};

use crate::forms::filled::Filled;
use crate::forms::fresh::{self, OfPlanting, OfTray, blanks};
use crate::forms::hints::hints;
use crate::forms::history::{belonging, lines};
use crate::forms::names;
use crate::forms::options::of_pick;
use crate::forms::spec::Pick;
use season::words::Manner;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A small place: mat, shelf, tunnel with one bed of 10 m by 1 m, one variety, one tray of 60 blocks.
struct Book {
    log: Log,
    variety: VarietyId,
    sowing: SowingId,
}

fn space(id: &str, what: SpaceKind, room: Option<u32>) -> Fact {
    SpaceFact {
        what: Some(what),
        name: Some(id.into()),
        room,
        ..SpaceFact::new(SpaceId::new(id).unwrap())
    }
    .into()
}

impl Book {
    fn new() -> Self {
        let mut book = Self {
            log: Log::new(),
            variety: VarietyId::new("v").unwrap(),
            sowing: SowingId::new("none").unwrap(),
        };
        book.record(space("mat", SpaceKind::Mat, Some(4)));
        book.record(space("shelf", SpaceKind::Shelf, Some(16)));
        book.record(space("tunnel", SpaceKind::Tunnel, None));
        book.record(BedFact {
            name: Some("Bed 1".into()),
            length_m: Some(10.0),
            width_m: Some(1.0),
            space: Some(SpaceId::new("tunnel").unwrap()),
            ..BedFact::new(BedId::new("bed").unwrap())
        });
        book.record(VarietyFact {
            crop: Some("eustoma".into()),
            name: Some("Old cloth".into()),
            colour: Some("white".into()),
            group: Some(1),
            ..VarietyFact::new(book.variety.clone())
        });
        let sown = book.record(SownFact {
            space: Some(SpaceId::new("mat").unwrap()),
            tray: Some(Tray {
                what: CellKind::Block,
                rows: 6,
                columns: 10,
            }),
            dome: true,
            number: Some(1040),
            ..SownFact::new(book.variety.clone(), 60, day("2027-01-08"))
        });
        book.sowing = sown.into();
        book
    }

    fn record(&mut self, fact: impl Into<Fact>) -> EntryId {
        let device = DeviceId::new("d").unwrap();
        let n = self.log.len() as u128;
        let entry = self
            .log
            .draft(&device, 1_800_000_000_000, n, fact.into())
            .unwrap();
        let id = entry.id().clone();
        self.log.insert(entry);
        id
    }

    fn count(&mut self, date: &str, up: u32) -> EntryId {
        self.record(CountedFact::new(self.sowing.clone(), up, day(date)))
    }

    fn plant(&mut self, date: &str, plants: u32) -> EntryId {
        self.record(TransplantedFact {
            spacing_cm: Some(20.0),
            ..TransplantedFact::new(
                self.sowing.clone(),
                BedId::new("bed").unwrap(),
                plants,
                day(date),
            )
        })
    }

    fn with<R>(&self, f: impl FnOnce(&Almanac<'_>) -> R) -> R {
        let reference = Reference::builtin().unwrap();
        let season = Season::of(&self.log);
        f(&Almanac::new(&season, &reference))
    }
}

/// A fact with blanks filled in as a grower would.
fn filled_in(fact: &Fact) -> Fact {
    let filled = Filled::of(fact, false).unwrap();
    let mut texts = filled.texts(Manner::default());
    for name in blanks(fact) {
        let text = if *name == "cause" { "algae" } else { "2" };
        texts.insert(name, text.into());
    }
    if let Some(text) = texts.get_mut("text") {
        *text = "Looks well".into();
    }
    filled.read(&texts, Manner::default()).unwrap()
}

#[test]
fn whatever_is_offered_for_a_tray_can_be_recorded_as_it_is_offered() {
    let mut book = Book::new();
    book.count("2027-01-18", 45);
    let today = day("2027-01-19");
    book.with(|almanac| {
        for what in OfTray::ALL {
            assert!(season::words::has(what.key()), "{what:?}");
            if !what.fits(almanac, &book.sowing) {
                continue;
            }
            let fact = fresh::of_tray(almanac, what, &book.sowing, today)
                .unwrap_or_else(|| panic!("{what:?}"));
            let fact = filled_in(&fact);
            let refused: Vec<_> = check(almanac, &fact, today)
                .into_iter()
                .filter(|objection| objection.weight == Weight::Refuse)
                .collect();
            assert_eq!(refused, [], "{what:?}");
        }
    });
}

#[test]
fn whatever_is_offered_for_a_planting_can_be_recorded_as_it_is_offered() {
    let mut book = Book::new();
    book.count("2027-01-18", 45);
    let planting = PlantingId::from(book.plant("2027-03-20", 40));
    let today = day("2027-06-20");
    book.with(|almanac| {
        for what in OfPlanting::ALL {
            assert!(season::words::has(what.key()), "{what:?}");
            let fact = fresh::of_planting(almanac, what, &planting, today)
                .unwrap_or_else(|| panic!("{what:?}"));
            let fact = filled_in(&fact);
            assert_eq!(check(almanac, &fact, today), [], "{what:?} {fact:?}");
        }
    });
}

#[test]
fn without_a_bed_nothing_is_offered_to_plant_into() {
    let mut book = Book::new();
    book.record(BedFact {
        retired: Some(true),
        ..BedFact::new(BedId::new("bed").unwrap())
    });
    let today = day("2027-03-20");
    book.with(|almanac| {
        let id = &book.sowing;
        assert_eq!(fresh::of_tray(almanac, OfTray::Transplant, id, today), None);
        assert_eq!(fresh::sow_direct(almanac, &book.variety, today), None);
    });
}

#[test]
fn what_was_done_is_not_offered_again() {
    let mut book = Book::new();
    let fits = |book: &Book, what: OfTray| book.with(|a| what.fits(a, &book.sowing));
    assert!(fits(&book, OfTray::Dome) && fits(&book, OfTray::MatOff));
    let sowing = book.sowing.clone();
    book.record(DomeLiftedFact::new(sowing.clone(), day("2027-01-20")));
    book.record(MatOffFact {
        space: Some(SpaceId::new("shelf").unwrap()),
        ..MatOffFact::new(sowing, day("2027-01-20"))
    });
    assert!(!fits(&book, OfTray::Dome) && !fits(&book, OfTray::MatOff));
}

#[test]
fn a_new_sowing_begins_as_the_last_one_of_its_crop() {
    let book = Book::new();
    let fact = book.with(|a| fresh::sow(a, &book.variety, day("2027-01-22")));
    let Fact::Sown(sown) = fact else {
        panic!("a sowing");
    };
    assert_eq!((sown.cells, sown.tray.map(Tray::cells)), (60, Some(60)));
    // This crop takes a mat only in a cold house; the place is offered by the crop, not by the last time.
    assert_eq!(sown.space.unwrap().as_str(), "shelf");
    assert_eq!(sown.date, day("2027-01-22"));
}

#[test]
fn a_new_sowing_gets_the_next_number_which_the_form_lets_be_changed() {
    let mut book = Book::new();
    let fact = book.with(|a| fresh::sow(a, &book.variety, day("2027-01-22")));
    let form = Filled::of(&fact, false).unwrap();
    let mut texts = form.texts(Manner::default());
    assert_eq!(texts["number"], "1041");
    texts.insert("number", "7".into());
    let changed = form.read(&texts, Manner::default()).unwrap();
    let id = SowingId::from(book.record(changed));
    let name = book.with(|a| names::sowing(a, &id).write(Manner::default()));
    assert!(name.starts_with("No. 7 · Old cloth"), "{name}");
    // Digits and nothing between them, however high.
    let name = book.with(|a| names::sowing(a, &book.sowing).write(Manner::default()));
    assert!(name.starts_with("No. 1040 · "), "{name}");
    for wrong in ["0", "10000", "A 7"] {
        texts.insert("number", wrong.into());
        let told = form.read(&texts, Manner::default()).unwrap_err();
        assert_eq!(told[0].0, "number", "{wrong}");
    }
    texts.insert("number", String::new());
    let Ok(Fact::Sown(bare)) = form.read(&texts, Manner::default()) else {
        panic!("a sowing");
    };
    assert_eq!(bare.number, None);
}

#[test]
fn hints_say_what_is_there_and_what_fits() {
    let mut book = Book::new();
    book.count("2027-01-18", 45);
    let said = |book: &Book, fact: &Fact, field: &str| {
        book.with(|almanac| {
            let found = hints(almanac, fact);
            let say = found.into_iter().find(|(name, _)| *name == field);
            say.map(|(_, say)| say.write(Manner::default()))
        })
        .unwrap_or_default()
    };
    let sowing = book.sowing.clone();
    let counted = CountedFact::new(sowing.clone(), 50, day("2027-01-20"));
    // 18 January 2027 is a Monday (ISO 8601: day 1 of 2027-W03).
    let hint = said(&book, &counted.into(), "up");
    assert!(
        hint.contains("60") && hint.contains("45") && hint.contains("Mon 18 Jan"),
        "{hint}"
    );
    let moved = MovedFact::new(
        sowing.clone(),
        SpaceId::new("shelf").unwrap(),
        day("2027-01-20"),
    );
    assert!(said(&book, &moved.into(), "space").contains("16"));
    let set = TransplantedFact {
        spacing_cm: Some(20.0),
        ..TransplantedFact::new(sowing, BedId::new("bed").unwrap(), 40, day("2027-03-20"))
    };
    // Rows of a bed 1 m wide at 20 cm: 5; plants of a row 10 m long: 50.
    let hint = said(&book, &set.into(), "bed");
    assert!(hint.contains("10 m") && hint.contains("250"), "{hint}");
    let fact = book.with(|a| fresh::sow(a, &book.variety, day("2027-01-22")));
    let Fact::Sown(mut sown) = fact else {
        panic!("a sowing");
    };
    sown.cells = 70;
    let hint = said(&book, &Fact::Sown(sown), "cells");
    assert!(hint.contains("2 trays of 60"), "{hint}");
}

#[test]
fn taking_a_sowing_back_takes_all_that_came_of_it() {
    let mut book = Book::new();
    let counted = book.count("2027-01-18", 45);
    let planted = book.plant("2027-03-20", 40);
    let cut = book.record(CutFact::new(planted.clone().into(), 20, day("2027-06-20")));
    let noted = book.record(fresh::note(
        Some(book.sowing.to_string()),
        day("2027-01-18"),
    ));
    let season = Season::of(&book.log);
    let sown = EntryId::from(book.sowing.clone());
    let mut all = belonging(&season, &sown);
    assert_eq!(all.first(), Some(&sown));
    all.sort();
    let mut wanted = vec![sown, counted.clone(), planted.clone(), cut.clone(), noted];
    wanted.sort();
    assert_eq!(all, wanted);
    assert_eq!(belonging(&season, &counted), [counted]);
    assert_eq!(belonging(&season, &planted).len(), 2);
    assert_eq!(belonging(&season, &cut), [cut]);
}

#[test]
fn a_history_begins_with_the_latest_day_and_knows_its_notes() {
    let mut book = Book::new();
    book.count("2027-01-18", 45);
    book.count("2027-01-16", 20);
    let Fact::Note(mut note) = fresh::note(Some(book.sowing.to_string()), day("2027-01-17")) else {
        panic!("a note");
    };
    note.text = "Algae".into();
    book.record(Fact::Note(note));
    let told = book.with(|almanac| {
        let sowing = &almanac.season().sowings[&book.sowing];
        lines(almanac, &sowing.history, book.sowing.as_str())
    });
    let days: Vec<String> = told.iter().map(|t| t.date.to_string()).collect();
    assert_eq!(
        days,
        ["2027-01-18", "2027-01-17", "2027-01-16", "2027-01-08"]
    );
    assert!(told.iter().all(|t| t.has_form));
    let texts: Vec<String> = told
        .iter()
        .map(|t| t.say.write(Manner::default()))
        .collect();
    assert_eq!(texts[0], "45 up");
    assert!(texts[1].contains("Algae"));
}

#[test]
fn names_say_crop_colour_and_group_once() {
    let mut book = Book::new();
    let name =
        |book: &Book| book.with(|a| names::variety(a, &book.variety).write(Manner::default()));
    let said = name(&book);
    assert!(
        said.starts_with("Old cloth, ") && said.ends_with("white, group 1"),
        "{said}"
    );
    book.record(VarietyFact {
        name: Some("Lisianthus white cloth".into()),
        ..VarietyFact::new(book.variety.clone())
    });
    let crop = book.with(|a| a.crop(&book.variety).unwrap().name().to_owned());
    let said = name(&book);
    assert_eq!(said.to_lowercase().matches("white").count(), 1, "{said}");
    assert_eq!(said.to_lowercase().matches(&crop).count(), 1, "{said}");
}

#[test]
fn what_was_chosen_stays_on_offer_after_it_was_retired() {
    let mut book = Book::new();
    book.record(SpaceFact {
        retired: Some(true),
        ..SpaceFact::new(SpaceId::new("shelf").unwrap())
    });
    let values = |chosen: &str| {
        book.with(|almanac| {
            let pick = Pick::Space(&[SpaceKind::Mat, SpaceKind::Shelf]);
            let fact = fresh::frost(day("2027-01-18"));
            of_pick(almanac, pick, &fact, chosen)
                .into_iter()
                .map(|picked| picked.value)
                .collect::<Vec<_>>()
        })
    };
    assert_eq!(values("mat"), ["mat"]);
    assert_eq!(values("shelf"), ["mat", "shelf"]);
}
