//! The planner, from stems wanted back to what is sown, checked by playing the plan forward again.

mod book;

use agronomy::iso_week::IsoWeek;
use book::{Book, day};
use season::coverage::coverage;
use season::fact::{Role, Wanted};
use season::forecast::supply;
use season::ids::PlannedId;
use season::plan::{Plan, plan};

fn spikes() -> Wanted {
    Wanted {
        role: Some(Role::Spike),
        ..Wanted::default()
    }
}

fn planned(book: &Book, today: &str) -> Plan {
    book.ask(|almanac| plan(almanac, day(today)))
}

/// Accepts all proposals, as entries.
fn accept(book: &mut Book, plan: &Plan, today: &str) {
    for (n, proposal) in plan.proposals.iter().enumerate() {
        let of = PlannedId::new(format!("planned-{n}")).expect("an id");
        book.record(today, proposal.accept(of));
    }
}

/// Week, stems wanted, and the middle of those expected.
fn covered(book: &Book, today: &str) -> Vec<(IsoWeek, u32, f64)> {
    book.ask(|almanac| {
        let supply = supply(almanac, day(today));
        coverage(almanac, &supply, day(today))
            .into_iter()
            .flat_map(|cover| cover.weeks)
            .map(|week| (week.week, week.wanted, week.stems.p50))
            .collect()
    })
}

#[test]
fn accepted_proposals_cover_every_week() {
    let (mut book, _) = Book::at_44_north();
    book.variety("spike-1", "antirrhinum", Some(1));
    book.variety("spike-3", "antirrhinum", Some(3));
    book.target("spikes", spikes(), ("2027-W26", "2027-W33"), 40);
    let today = "2026-12-15";
    let first = planned(&book, today);
    for p in &first.proposals {
        println!(
            "{:?} {} sow {} plant {} {:?} plants {} cells {} weeks {:?}",
            p.variety, p.space, p.sow, p.plant, p.bloom, p.plants, p.cells, p.weeks
        );
    }
    println!("{:?}", first.shortfalls);
    accept(&mut book, &first, today);
    for c in covered(&book, today) {
        println!("{c:?}");
    }
    let again = planned(&book, today);
    println!(
        "again {:?}",
        again
            .proposals
            .iter()
            .map(|p| (&p.variety, p.sow, p.plants))
            .collect::<Vec<_>>()
    );
    println!("again {:?}", again.shortfalls);
}

#[test]
fn other() {
    for (crop, weeks) in [
        ("matthiola", ("2027-W24", "2027-W27")),
        ("helianthus", ("2027-W29", "2027-W35")),
        ("zinnia", ("2027-W30", "2027-W37")),
        ("eustoma", ("2027-W29", "2027-W34")),
        ("antirrhinum", ("2027-W24", "2027-W31")),
    ] {
        println!("---- {crop}");
        let (mut book, _) = Book::at_44_north();
        book.variety("v", crop, None);
        book.target(
            "t",
            Wanted {
                crop: Some(crop.into()),
                ..Wanted::default()
            },
            weeks,
            40,
        );
        let today = "2026-12-15";
        let first = planned(&book, today);
        for p in &first.proposals {
            println!(
                "{:?} {} sow {} plant {} {:?} plants {} cells {} weeks {:?}",
                p.variety, p.space, p.sow, p.plant, p.bloom.p50, p.plants, p.cells, p.weeks
            );
        }
        println!("{:?}", first.shortfalls);
        accept(&mut book, &first, today);
        for c in covered(&book, today) {
            println!("{} {} {:.0}", c.0, c.1, c.2);
        }
        let again = planned(&book, today);
        println!(
            "again {:?}",
            again
                .proposals
                .iter()
                .map(|p| (&p.variety, p.sow, p.plants))
                .collect::<Vec<_>>()
        );
        println!("again {:?}", again.shortfalls);
    }
}
