//! What a grower's earlier trays teach: how much of the next lot to expect, and how soon. Worked out by hand.

#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up must stop, and numbers made up here are there"
)]

mod book;

use book::{Book, Spaces, day};
use season::fact::{SeedLotFact, SownFact};
use season::forecast::{Expected, LotGermination, lot_germination, of_sowing, usual_for};
use season::ids::{LotId, SowingId, VarietyId};

/// Zinnias: 88 in 100 usually come up, half of them by day 5, most by day 7.
struct Bench {
    book: Book,
    spaces: Spaces,
    variety: VarietyId,
    other: VarietyId,
}

fn bench() -> Bench {
    let (mut book, spaces) = Book::at_44_north();
    let variety = book.variety("ours", "zinnia", None);
    let other = book.variety("other", "zinnia", None);
    Bench {
        book,
        spaces,
        variety,
        other,
    }
}

impl Bench {
    fn sow(&mut self, date: &str, variety: &VarietyId, lot: Option<&LotId>) -> SowingId {
        let fact = SownFact {
            space: Some(self.spaces.mat.clone()),
            dome: true,
            lot: lot.cloned(),
            ..SownFact::new(variety.clone(), 60, day(date))
        };
        self.book.record(date, fact).into()
    }

    /// Sown on 1 February; half of the 30 that come are up by day 7: 0 on day 5, 30 on day 9, no more on day 12.
    fn poor_and_late(&mut self, variety: &VarietyId) {
        let sowing = self.sow("2027-02-01", variety, None);
        for (date, up) in [("2027-02-06", 0), ("2027-02-10", 30), ("2027-02-13", 30)] {
            self.book.count(date, &sowing, up);
        }
    }

    fn lot(&mut self, germination: f64) -> LotId {
        let of = LotId::new("lot").expect("an id");
        let fact = SeedLotFact {
            variety: Some(self.variety.clone()),
            germination: Some(germination),
            ..SeedLotFact::new(of.clone())
        };
        self.book.record("2027-01-20", fact);
        of
    }

    fn expected(&self, lot: Option<&LotId>, on: &str) -> LotGermination {
        self.book.ask(|almanac| {
            let crop = almanac.crop(&self.variety).expect("crop");
            lot_germination(almanac, crop, &self.variety, lot, day(on), None)
                .expect("zinnia is sown")
        })
    }

    fn usual(&self, sowing: &SowingId) -> Expected {
        self.book.ask(|almanac| {
            let crop = almanac.crop(&self.variety).expect("crop");
            usual_for(almanac, crop, &almanac.season().sowings[sowing]).expect("zinnia is sown")
        })
    }
}

fn close(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-4, "{found}, by hand {wanted}");
}

#[test]
fn another_lot_of_the_crop_moves_what_is_expected_and_this_lots_trays_more() {
    let mut bench = bench();
    let untold = bench.expected(None, "2027-03-01");
    close(untold.rate, 0.88);
    // 60 seeds are 60 / 80 of a lot beside the two that the crop's figure is worth: (2 x 0.88 + 0.75 x 0.5) / 2.75.
    let other = bench.other.clone();
    bench.poor_and_late(&other);
    let others = bench.expected(None, "2027-03-01");
    close(others.rate, 0.776_36);
    assert!(!others.own_seed);
    // This variety's own tray counts seed by seed: (20 x 0.77636 + 30) / 80.
    let own = bench.variety.clone();
    bench.poor_and_late(&own);
    let both = bench.expected(None, "2027-03-01");
    close(both.rate, 0.569_09);
    close(both.weight, 80.0);
    assert!(both.own_seed);
    assert!(both.rate < others.rate && others.rate < untold.rate);
    // Before those trays were counted to their end nobody knew.
    close(bench.expected(None, "2027-02-12").rate, 0.88);
}

#[test]
fn a_packet_speaks_louder_than_other_lots_but_not_alone() {
    let mut bench = bench();
    let lot = bench.lot(0.9);
    let packet = bench.expected(Some(&lot), "2027-03-01");
    close(packet.rate, 0.9);
    close(packet.weight, 50.0);
    // The other lot is worth 0.75 x 10 seeds beside the packet's 50: (7.5 x 0.77636 + 50 x 0.9) / 57.5.
    let other = bench.other.clone();
    bench.poor_and_late(&other);
    close(bench.expected(Some(&lot), "2027-03-01").rate, 0.883_87);
}

#[test]
fn a_slow_bench_is_expected_slow_in_part() {
    let mut bench = bench();
    let other = bench.other.clone();
    let own = bench.variety.clone();
    let before = bench.sow("2027-02-01", &own, None);
    close(bench.usual(&before).usual.half_day, 5.0);
    // Half up on day 7 where day 5 is usual: 1.4 times. One tray moves it by the root of that, two by the cube root of its square.
    bench.poor_and_late(&other);
    let next = bench.sow("2027-03-01", &own, None);
    close(bench.usual(&next).usual.half_day, 5.0 * 1.183_22);
    bench.poor_and_late(&other);
    let found = bench.usual(&next).usual;
    close(found.half_day, 5.0 * 1.251_46);
    close(found.first_day, 3.0 * 1.251_46);
    close(found.most_day, 7.0 * 1.251_46);
    // Not in hindsight.
    close(bench.usual(&before).usual.half_day, 5.0);
}

/// A tested packet of 85 in 100 is worth 50 seeds: of 60 cells 51 are expected with a variance of 60 x 0.85 x 0.15 x 110 / 51 = 16.5, so
/// 80 in 100 lie within 1.28 x 4.06 = 5.2 of it. Knowing the packet makes sure, not unsure.
#[test]
fn a_packet_narrows_what_is_expected() {
    let mut bench = bench();
    let lot = bench.lot(0.85);
    let own = bench.variety.clone();
    let sowing = bench.sow("2027-03-01", &own, Some(&lot));
    let up = bench.book.ask(|almanac| {
        let sowing = &almanac.season().sowings[&sowing];
        of_sowing(almanac, sowing, day("2027-03-01"))
            .final_up
            .expect("an outlook")
    });
    assert!((up.p50 - 51.0).abs() <= 1.0, "{up:?}");
    assert!((up.p50 - up.p10 - 5.2).abs() <= 1.5, "{up:?}");
    assert!((up.p90 - up.p50 - 5.2).abs() <= 1.5, "{up:?}");
}
