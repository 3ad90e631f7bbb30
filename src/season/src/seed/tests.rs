use super::*;
use crate::fact::*;
use crate::sample::Sample;
use crate::why::Basis;

const LESS: f64 = 0.0;

fn lot(sample: &mut Sample, id: &str, variety: &VarietyId, year: i32, seeds: Option<u32>) -> LotId {
    let of = LotId::new(id).expect("id");
    sample.add(SeedLotFact {
        variety: Some(variety.clone()),
        name: Some(id.to_uppercase()),
        year: Some(year),
        seeds,
        ..SeedLotFact::new(of.clone())
    });
    of
}

fn planned(sample: &mut Sample, id: &str, variety: &VarietyId, cells: u32, plants: Option<u32>) {
    let sow = Some(sample.day("2027-02-15"));
    sample.add(PlannedFact {
        variety: Some(variety.clone()),
        sow,
        cells: Some(cells),
        plants,
        ..PlannedFact::new(PlannedId::new(id).expect("id"))
    });
}

fn packet(sample: &mut Sample, variety: &VarietyId, seeds: Option<u32>, price: Option<f64>) {
    sample.add(VarietyFact {
        packet_seeds: seeds,
        packet_price: price,
        ..VarietyFact::new(variety.clone())
    });
}

fn order(sample: &Sample, spare: f64) -> SeedOrder {
    let today = sample.day("2027-01-10");
    sample.with(|almanac| seed_order(almanac, &[], today, spare))
}

fn keys(why: &[Reason]) -> Vec<&'static str> {
    why.iter().map(|reason| reason.say.key()).collect()
}

#[test]
fn seed_in_hand_is_what_the_lots_held_less_what_was_sown() {
    let mut sample = Sample::new();
    let variety = sample.variety("a", "antirrhinum", "white");
    let bare = sample.variety("b", "ocimum", "green");
    let of = lot(&mut sample, "l", &variety, 2027, Some(250));
    let date = sample.day("2027-01-05");
    sample.add(SownFact {
        seeds_per_cell: 2,
        lot: Some(of.clone()),
        ..SownFact::new(variety.clone(), 60, date)
    });
    let bed = sample.bed("b1", 5.0);
    sample.add(DirectSownFact {
        lot: Some(of),
        ..DirectSownFact::new(variety.clone(), bed, 30, date)
    });
    planned(&mut sample, "p1", &variety, 100, None);
    planned(&mut sample, "p2", &variety, 60, None);
    planned(&mut sample, "p3", &bare, 40, None);
    let found = order(&sample, LESS);
    // 250 less 60 x 2 and 30 are 100; 160 are wanted.
    let said: Vec<_> = found
        .lines
        .iter()
        .map(|l| (l.needed.value, l.usable.value, l.to_order.value))
        .collect();
    assert_eq!(said, [(160, 100, 60), (40, 0, 40)]);
    assert_eq!(found.totals.without_lot, [bare]);
    assert_eq!(keys(&found.lines[1].usable.why), ["why.no_lot"]);
    assert_eq!(found.lines[0].left_over, None, "the packet is not known");
}

/// Middling seed keeps 85 in 100 a year (rule of thumb of the crop reference): 0.85^2 = 0.7225 of 200 seeds are 144 (144.5).
#[test]
fn old_seed_counts_for_what_age_left_of_it() {
    let mut sample = Sample::new();
    let variety = sample.variety("a", "antirrhinum", "white");
    lot(&mut sample, "l", &variety, 2025, Some(200));
    planned(&mut sample, "p", &variety, 300, None);
    let found = order(&sample, LESS);
    let line = &found.lines[0];
    assert_eq!((line.usable.value, line.to_order.value), (144, 156));
    let ratio = line.lots[0].now.expect("rate") / line.lots[0].fresh.expect("rate");
    assert!((ratio - 0.7225).abs() < 1e-9, "{ratio}");
    assert_eq!(
        keys(&line.usable.why),
        [
            "why.lots_on",
            "why.lot_held",
            "why.germination_usual",
            "why.germination_age",
            "why.lot_counts"
        ]
    );
}

/// 0.85^4 = 0.522 is still more than half, 0.85^5 = 0.444 is less: a lot of 2023 counts, one of 2022 does not.
#[test]
fn seed_under_half_of_fresh_counts_for_nothing_and_says_why() {
    let mut sample = Sample::new();
    let variety = sample.variety("a", "antirrhinum", "white");
    lot(&mut sample, "old", &variety, 2023, Some(100));
    lot(&mut sample, "older", &variety, 2022, Some(100));
    lot(&mut sample, "unsaid", &variety, 2026, None);
    planned(&mut sample, "p", &variety, 300, None);
    let found = order(&sample, LESS);
    let line = &found.lines[0];
    let standings: Vec<_> = line
        .lots
        .iter()
        .map(|l| (l.standing, l.counts_as))
        .collect();
    assert_eq!(
        standings,
        [
            (LotStanding::NotSaid, 0),
            (LotStanding::Counts, 52),
            (LotStanding::TooOld, 0)
        ]
    );
    let last = line.lots[2].why.last().expect("a reason");
    assert_eq!(
        (last.say.key(), last.basis),
        ("why.lot_too_old", Basis::Assumed)
    );
    assert_eq!(line.to_order.value, 300 - 52);
}

#[test]
fn a_lots_own_trays_outweigh_its_age() {
    let mut sample = Sample::new();
    let variety = sample.variety("a", "antirrhinum", "white");
    let of = lot(&mut sample, "l", &variety, 2021, Some(300));
    planned(&mut sample, "p", &variety, 100, None);
    assert_eq!(
        order(&sample, LESS).lines[0].lots[0].standing,
        LotStanding::TooOld
    );
    let date = sample.day("2026-11-01");
    let sowing: SowingId = sample
        .add(SownFact {
            lot: Some(of),
            ..SownFact::new(variety, 100, date)
        })
        .into();
    let date = sample.day("2026-12-20");
    sample.add(CountedFact::new(sowing, 80, date));
    let lot = order(&sample, LESS).lines[0].lots[0].clone();
    assert_eq!((lot.standing, lot.left), (LotStanding::Counts, Some(200)));
    assert!(lot.counts_as > 150, "{}", lot.counts_as);
}

/// A sowing counted for seed that hardly comes up asks no more fresh seed than its plants need.
#[test]
fn cells_counted_for_old_seed_need_fewer_of_fresh() {
    let mut sample = Sample::new();
    let variety = sample.variety("a", "antirrhinum", "white");
    planned(&mut sample, "p", &variety, 200, Some(50));
    assert_eq!(
        order(&sample, LESS).lines[0].needed.value,
        200,
        "no old seed about"
    );
    lot(&mut sample, "l", &variety, 2020, Some(500));
    let on = sample.day("2027-02-15");
    let found = order(&sample, LESS);
    let line = &found.lines[0];
    // Without the lot the plan itself would count so many.
    let mut bare = Sample::new();
    let same = bare.variety("a", "antirrhinum", "white");
    let fresh = bare.with(|almanac| {
        let crop = almanac.crop(&same).expect("crop");
        let found = crate::plan::cells_for(almanac, crop, &same, 50, 0.8, on);
        found.expect("cells").cells
    });
    assert_eq!(line.needed.value, fresh);
    assert!(fresh < 120, "{fresh}");
    assert_eq!(line.to_order.value, fresh);
    assert!(keys(&line.needed.why).contains(&"why.seed_fresh_for_old"));
}

/// Worked by hand: 130 seeds in packets of 50 are 3 packets (150), at 4.25 they cost 12.75 and 20 are left.
#[test]
fn seeds_become_whole_packets_with_their_cost_and_what_is_left() {
    let mut sample = Sample::new();
    let known = sample.variety("a", "antirrhinum", "white");
    let unpriced = sample.variety("b", "ocimum", "green");
    let unsized_ = sample.variety("c", "cosmos", "pink");
    let enough = sample.variety("d", "antirrhinum", "pink");
    for (id, variety, cells) in [
        ("p1", &known, 130),
        ("p2", &unpriced, 10),
        ("p3", &unsized_, 10),
        ("p4", &enough, 10),
    ] {
        planned(&mut sample, id, variety, cells, None);
    }
    packet(&mut sample, &known, Some(50), Some(4.25));
    packet(&mut sample, &unpriced, Some(100), None);
    packet(&mut sample, &unsized_, None, Some(3.0));
    lot(&mut sample, "l", &enough, 2027, Some(40));
    let found = order(&sample, LESS);
    let line = &found.lines[0];
    let packets = line.packets.expect("packets");
    assert_eq!((packets.number, packets.seeds()), (3, 150));
    assert_eq!(packets.cost().map(money).as_deref(), Some("12.75"));
    assert_eq!(line.left_over, Some(20));
    assert_eq!(found.lines[2].packets, None);
    assert_eq!(
        (found.lines[3].to_order.value, found.lines[3].left_over),
        (0, Some(30))
    );
    let totals = &found.totals;
    assert_eq!((totals.seeds, totals.packets), (150, 4));
    assert_eq!(totals.cost.map(money).as_deref(), Some("12.75"));
    assert_eq!(totals.without_packet, std::slice::from_ref(&unsized_));
    assert_eq!(totals.without_price, [unpriced, unsized_]);
    // The spare of one in ten: 143 seeds still fit three packets, and what is left is the spare and more.
    let spared = order(&sample, SPARE_USUAL);
    let line = &spared.lines[0];
    assert_eq!((line.spare, line.to_order.value), (13, 143));
    assert_eq!(line.left_over, Some(20));
    let first = &line.to_order.why[0];
    assert_eq!(
        (first.say.key(), first.basis),
        ("why.seed_spare", Basis::Assumed)
    );
}

#[test]
fn the_list_reads_as_text_and_as_a_table() {
    let mut sample = Sample::new();
    let one = sample.variety("a", "antirrhinum", "white");
    let two = sample.variety("b", "ocimum", "");
    sample.add(VarietyFact {
        name: Some("=Sum, \"green\"".into()),
        ..VarietyFact::new(two.clone())
    });
    planned(&mut sample, "p1", &one, 130, None);
    planned(&mut sample, "p2", &two, 10, None);
    packet(&mut sample, &one, Some(50), Some(4.25));
    let found = order(&sample, LESS);
    sample.with(|almanac| {
        let said = as_text(almanac, &found, Default::default());
        assert!(
            said.contains("(snapdragon, white): 3 packets of 50 seeds, 12.75"),
            "{said}"
        );
        assert!(said.contains(": 10 seeds\n"), "{said}");
        assert!(
            said.contains("140 seeds to order, 3 packets, 12.75 in all"),
            "{said}"
        );
        assert!(
            said.ends_with("No price is known for 1 variety: not in the sum."),
            "{said}"
        );
        let table = as_csv(almanac, &found);
        let rows: Vec<&str> = table.split("\r\n").collect();
        assert_eq!(rows.len(), 4, "{table}");
        assert!(rows[0].starts_with("variety,crop,colour,"));
        assert_eq!(rows[1], "\"'=Sum, \"\"green\"\"\",basil,,10,0,,0,10,,,,,");
        assert_eq!(
            rows[2],
            "Variety a,snapdragon,white,130,0,,0,130,50,3,4.25,12.75,20"
        );
    });
}

#[test]
fn every_reason_has_its_words() {
    let mut sample = Sample::new();
    let variety = sample.variety("a", "antirrhinum", "white");
    packet(&mut sample, &variety, Some(50), Some(4.25));
    planned(&mut sample, "p", &variety, 300, Some(60));
    for (id, year, seeds) in [
        ("l1", 2025, Some(20)),
        ("l2", 2015, Some(20)),
        ("l3", 2026, None),
    ] {
        lot(&mut sample, id, &variety, year, seeds);
    }
    for line in order(&sample, SPARE_USUAL).lines {
        let chains = [&line.needed.why, &line.usable.why, &line.to_order.why];
        for reason in chains.into_iter().flatten() {
            let said = reason.say.write(Default::default());
            assert!(crate::words::has(reason.say.key()), "{}", reason.say.key());
            assert!(!said.contains("  ") && !said.contains('{'), "{said}");
        }
    }
}
