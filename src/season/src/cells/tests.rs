use proptest::prelude::*;

use super::*;
use crate::fact::{CellKind, Tray};

fn grid(rows: u32, columns: u32) -> Tray {
    Tray {
        what: CellKind::Plug,
        rows,
        columns,
    }
}

fn any_mark() -> impl Strategy<Value = Mark> {
    prop_oneof![
        Just(Mark::Unseen),
        Just(Mark::Empty),
        Just(Mark::Up),
        Just(Mark::Two),
        Just(Mark::Lost)
    ]
}

#[test]
fn a_map_is_written_in_few_letters() {
    let mut map = CellMap::new(grid(4, 5), 20);
    assert_eq!(map.write(), "20n");
    map.set(0..12, Mark::Up);
    assert_eq!(
        map.write(),
        "12u8e",
        "who marks what is up has seen the rest"
    );
    map.set([3], Mark::Two);
    map.set([19], Mark::Lost);
    assert_eq!(map.write(), "3ud8u7el");
    let tally = map.tally();
    assert_eq!((tally.up, tally.doubles, tally.empty), (12, 1, 7));
    assert_eq!((tally.lost, tally.looked_at, tally.unseen), (1, 19, 0));
    assert_eq!(CellMap::read("3ud8u7el", grid(4, 5)), Ok(map));
}

#[test]
fn what_is_no_map_is_refused() {
    let read = |text: &str| CellMap::read(text, grid(2, 2)).map(|map| map.cells());
    assert_eq!(read("12u3"), Err(NotCells::Number));
    assert_eq!(read("0u"), Err(NotCells::Number));
    assert_eq!(read("4x"), Err(NotCells::Letter('x')));
    assert_eq!(read("99999999999u"), Err(NotCells::TooMany));
    let most = crate::limits::CELLS_MAX;
    assert_eq!(read(&format!("{most}u")), Ok(most as usize));
    assert_eq!(read(&format!("{most}ue")), Err(NotCells::TooMany));
    assert_eq!(read(""), Ok(0));
}

#[test]
fn trays_are_looked_at_one_by_one() {
    // Three trays of six, the last sown in part.
    let mut map = CellMap::new(grid(2, 3), 16);
    assert_eq!(map.trays(), 3);
    assert_eq!(map.of_tray(2), 12..16);
    assert_eq!(map.of_row(2, 1), 15..16);
    map.set(map.of_row(1, 0), Mark::Up);
    assert!(map.is_seen(1) && !map.is_seen(0) && !map.is_seen(2));
    assert_eq!(map.tally().looked_at, 6);
    map.look_at(2);
    assert_eq!((map.tally().looked_at, map.tally().unseen), (10, 6));
    let far = Place {
        tray: 2,
        row: 1,
        column: 1,
    };
    assert_eq!(map.cell(far), None, "not sown");
    assert_eq!(map.of_tray(u32::MAX), 16..16);
    map.set([99], Mark::Up);
    assert_eq!(
        map.tally().up,
        3,
        "a cell that is not there changes nothing"
    );
}

#[test]
fn a_quick_sweep_skips_no_cell() {
    let map = CellMap::new(grid(6, 12), 144);
    assert_eq!(map.between(0, 11), (0..12).collect::<Vec<_>>());
    assert_eq!(map.between(11, 0), (0..12).rev().collect::<Vec<_>>());
    assert_eq!(map.between(0, 60), [0, 12, 24, 36, 48, 60]);
    assert_eq!(map.between(0, 26), [0, 13, 26]);
    assert_eq!(map.between(5, 5), [5]);
    assert_eq!(map.between(5, 75), [75], "trays are not swept across");
}

#[test]
fn a_share_by_eye_is_a_number_of_cells() {
    assert_eq!(about(0.75, 72), 54);
    assert_eq!(about(2.0, 60), 60);
    assert_eq!(about(f64::NAN, 60), 0);
}

#[test]
fn cells_lost_since_an_earlier_map_know_whether_they_were_up() {
    let before = CellMap::read("3u2el", grid(2, 3)).unwrap();
    let now = CellMap::read("lu2lel", grid(2, 3)).unwrap();
    assert_eq!(now.newly_lost(Some(&before)), (3, 2));
    assert_eq!(now.newly_lost(None), (4, 0));
}

proptest! {
    #[test]
    fn any_map_comes_back_from_its_letters(marks in proptest::collection::vec(any_mark(), 0..600)) {
        let text = code::write(&marks);
        prop_assert_eq!(code::read(&text), Ok(marks));
    }

    #[test]
    fn no_text_breaks_the_reader(text in "[nuedl0-9x ]{0,40}") {
        if let Ok(marks) = code::read(&text) {
            prop_assert_eq!(code::read(&code::write(&marks)), Ok(marks));
        }
    }

    #[test]
    fn every_cell_has_one_place(rows in 1u32..30, columns in 1u32..30, cells in 1u32..900) {
        let map = CellMap::new(grid(rows, columns), cells);
        for cell in 0..map.cells() {
            prop_assert_eq!(map.cell(map.place(cell)), Some(cell));
        }
        let tally = map.tally();
        prop_assert_eq!(tally.unseen, cells);
    }
}
