use season::fact::RevisedFact;
use season::ids::EntryId;

use super::*;
use crate::label::address::of_tray;
use crate::label::sample::Bench;

/// Four sowings: two of one variety, one ended with the number of one that stands, one with words on its label.
struct Shelf {
    bench: Bench,
    chalk: SowingId,
    dusk: SowingId,
    ended: SowingId,
    cloth: SowingId,
}

impl Shelf {
    fn new() -> Self {
        let mut bench = Bench::new();
        let ended = bench.sow("chalk", "2025-11-02", 60, Some(41));
        bench.end(&ended, "2026-02-01");
        let chalk = bench.sow("chalk", "2027-01-15", 60, Some(41));
        let dusk = bench.sow("dusk", "2027-01-20", 60, Some(42));
        let cloth = bench.sow("cloth", "2027-01-25", 60, None);
        bench.record(RevisedFact::new(
            EntryId::new(cloth.as_str()).unwrap(),
            [("label".to_owned(), "Nähe Tür 7b".into())]
                .into_iter()
                .collect(),
        ));
        Self {
            bench,
            chalk,
            dusk,
            ended,
            cloth,
        }
    }

    fn found(&self, typed: &str) -> Vec<SowingId> {
        let found = self.bench.with(|almanac| find(almanac, typed));
        found.into_iter().map(|found| found.id).collect()
    }

    fn sole(&self, typed: &str) -> Option<SowingId> {
        let found = self.bench.with(|almanac| find(almanac, typed));
        sole(&found).cloned()
    }
}

#[test]
fn a_number_is_found_however_it_is_written() {
    let shelf = Shelf::new();
    for typed in [
        "42", " 42 ", "No. 42", "no 42", "#42", "No.42", "tray 42", "042",
    ] {
        assert_eq!(
            shelf.found(typed),
            std::slice::from_ref(&shelf.dusk),
            "{typed}"
        );
    }
    // Not every number that begins so.
    assert!(shelf.found("4").is_empty());
    assert!(shelf.found("421").is_empty());
}

#[test]
fn the_tray_that_stands_comes_before_an_ended_one_of_the_same_number() {
    let shelf = Shelf::new();
    assert_eq!(
        shelf.found("41"),
        [shelf.chalk.clone(), shelf.ended.clone()]
    );
    assert_eq!(shelf.sole("41"), Some(shelf.chalk.clone()));
    assert_eq!(shelf.sole("chalk 41"), Some(shelf.chalk.clone()));
    assert_eq!(shelf.sole("spike"), None, "two stand");
}

#[test]
fn two_standing_trays_of_one_number_are_both_found() {
    let mut shelf = Shelf::new();
    let twin = shelf.bench.sow("cloth", "2027-02-01", 60, Some(42));
    assert_eq!(shelf.found("42"), [twin.clone(), shelf.dusk.clone()]);
    assert_eq!(shelf.sole("42"), None);
    assert_eq!(shelf.sole("42 cloth"), Some(twin));
}

#[test]
fn words_are_found_in_any_order_without_case_or_accents() {
    let shelf = Shelf::new();
    for typed in [
        "creme",
        "CRÈME dusk",
        "spike du",
        "dusk, snapdragon",
        "snap creme",
    ] {
        assert_eq!(
            shelf.found(typed),
            std::slice::from_ref(&shelf.dusk),
            "{typed}"
        );
    }
    for typed in [
        "rose",
        "nahe",
        "tur 7b",
        "7B",
        "cloth Tür",
        "lisianthus old",
    ] {
        assert_eq!(
            shelf.found(typed),
            std::slice::from_ref(&shelf.cloth),
            "{typed}"
        );
    }
    assert!(shelf.found("dusk white").is_empty(), "every word counts");
    assert!(shelf.found("tractor").is_empty());
    // A word's middle is not its beginning.
    assert!(shelf.found("pike").is_empty());
}

#[test]
fn nothing_typed_finds_what_stands_newest_first() {
    let shelf = Shelf::new();
    let standing = [&shelf.cloth, &shelf.dusk, &shelf.chalk].map(Clone::clone);
    assert_eq!(shelf.found(""), standing);
    assert_eq!(shelf.found(" # "), standing);
}

#[test]
fn a_label_s_address_or_its_id_finds_its_tray() {
    let shelf = Shelf::new();
    let address = of_tray("farm.example/app/", &shelf.ended);
    assert_eq!(shelf.found(&address), std::slice::from_ref(&shelf.ended));
    assert_eq!(
        shelf.found(shelf.dusk.as_str()),
        std::slice::from_ref(&shelf.dusk)
    );
    let elsewhere = of_tray("farm.example/", &SowingId::new("01J8ZC3VZP").unwrap());
    assert!(shelf.found(&elsewhere).is_empty());
}

#[test]
fn a_scanned_label_is_known_from_elsewhere_or_none_of_ours() {
    let shelf = Shelf::new();
    let scanned = |texts: &[&str]| {
        let texts: Vec<String> = texts.iter().map(|text| (*text).to_owned()).collect();
        shelf
            .bench
            .with(|almanac| scanned(almanac.season(), &texts))
    };
    let ours = of_tray("farm.example/", &shelf.dusk);
    let elsewhere = of_tray("farm.example/", &SowingId::new("01J8ZC3VZP").unwrap());
    assert_eq!(scanned(&[&ours]), Scanned::Tray(shelf.dusk.clone()));
    // A seed packet's code beside the label.
    let beside = ["packet.example/lot", &elsewhere, &ours];
    assert_eq!(scanned(&beside), Scanned::Tray(shelf.dusk.clone()));
    assert_eq!(scanned(&[&elsewhere]), Scanned::Unknown);
    assert_eq!(scanned(&["packet.example/lot"]), Scanned::NotOurs);
}
