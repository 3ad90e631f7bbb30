use chrono::NaiveDate;
use culture::Reference;

use super::*;
use crate::fact::*;
use crate::ids::*;
use crate::log::Log;
use crate::state::Season;

fn day(text: &str) -> NaiveDate {
    text.parse().expect("date")
}

/// A log with a sowing of 60 on 15 January 2027 on a mat with room for one tray, and 50 plants set on 20 March.
fn logged() -> (Log, SowingId, PlantingId) {
    let device = DeviceId::new("d").expect("id");
    let mut log = Log::new();
    let mut add = |fact: Fact| {
        let entry = log
            .draft(&device, 1_800_000_000_000, log.len() as u128, fact)
            .expect("entry");
        let id = entry.id().clone();
        log.insert(entry);
        id
    };
    let variety = VarietyId::new("v").expect("id");
    let (mat, tunnel, bed) = (
        SpaceId::new("m").expect("id"),
        SpaceId::new("t").expect("id"),
        BedId::new("b").expect("id"),
    );
    let space = |of: &SpaceId, what| SpaceFact {
        what: Some(what),
        name: Some(format!("{what:?}")),
        room: (what == SpaceKind::Mat).then_some(1),
        ..SpaceFact::new(of.clone())
    };
    add(space(&mat, SpaceKind::Mat).into());
    add(space(&tunnel, SpaceKind::Tunnel).into());
    add(BedFact {
        name: Some("T1".into()),
        length_m: Some(5.0),
        width_m: Some(1.2),
        space: Some(tunnel),
        ..BedFact::new(bed.clone())
    }
    .into());
    add(VarietyFact {
        crop: Some("antirrhinum".into()),
        name: Some("Chalk spike".into()),
        group: Some(1),
        ..VarietyFact::new(variety.clone())
    }
    .into());
    let sown: SowingId = add(SownFact {
        space: Some(mat),
        tray: Some(Tray {
            what: CellKind::Block,
            rows: 6,
            columns: 10,
        }),
        dome: true,
        number: Some(41),
        ..SownFact::new(variety, 60, day("2027-01-15"))
    }
    .into())
    .into();
    add(CountedFact::new(sown.clone(), 55, day("2027-01-25")).into());
    let planted = add(TransplantedFact {
        spacing_cm: Some(15.0),
        ..TransplantedFact::new(sown.clone(), bed, 50, day("2027-03-20"))
    }
    .into());
    (log, sown, planted.into())
}

fn keys(fact: impl Into<Fact>) -> Vec<(&'static str, Weight, &'static str)> {
    let (log, _, _) = logged();
    let season = Season::of(&log);
    assert_eq!(season.problems, vec![]);
    let reference = Reference::builtin().expect("reference");
    let almanac = Almanac::new(&season, &reference);
    check(&almanac, &fact.into(), day("2027-04-01"))
        .into_iter()
        .map(|o| (o.field, o.weight, o.say.key()))
        .collect()
}

#[test]
fn dates_out_of_order_are_refused_with_both_dates() {
    let (_, sowing, planting) = logged();
    let count = CountedFact::new(sowing.clone(), 3, day("2027-01-10"));
    assert!(keys(count).contains(&("date", Weight::Refuse, "check.before_sowing")));
    let cut = CutFact::new(planting, 10, day("2027-03-01"));
    assert!(keys(cut).contains(&("date", Weight::Refuse, "check.before_planting")));
    let future = DomeLiftedFact::new(sowing, day("2027-04-02"));
    assert_eq!(keys(future), vec![("date", Weight::Refuse, "check.future")]);
}

#[test]
fn absurd_counts_are_refused_and_odd_ones_asked_about() {
    let (_, sowing, planting) = logged();
    let date = day("2027-02-01");
    let more = CountedFact::new(sowing.clone(), 64, date);
    assert_eq!(keys(more), vec![("up", Weight::Refuse, "check.more_up")]);
    let fewer = CountedFact::new(sowing.clone(), 40, date);
    assert_eq!(keys(fewer), vec![("up", Weight::Ask, "check.fewer_up")]);
    let lost = LostFact {
        sowing: Some(sowing),
        ..LostFact::new(LossCause::Dropped, 61, date)
    };
    assert_eq!(
        keys(lost),
        vec![("number", Weight::Refuse, "check.more_lost")]
    );
    let cut = CutFact::new(planting.clone(), 5_000, day("2027-04-01"));
    assert_eq!(keys(cut), vec![("stems", Weight::Ask, "check.cut_much")]);
    let nothing = CutFact::new(planting, 0, day("2027-04-01"));
    assert_eq!(
        keys(nothing),
        vec![("stems", Weight::Refuse, "check.cut_nothing")]
    );
}

#[test]
fn a_full_mat_and_a_full_bed_are_asked_about() {
    let (_, sowing, _) = logged();
    let sown = SownFact {
        space: SpaceId::new("m").ok(),
        ..SownFact::new(VarietyId::new("v").expect("id"), 60, day("2027-01-20"))
    };
    assert_eq!(keys(sown), vec![("space", Weight::Ask, "check.space_full")]);
    // 50 plants at 15 cm take about 1 m of the 5 m bed; 5 plants fit, 500 do not.
    let plant = |plants, spacing| TransplantedFact {
        spacing_cm: Some(spacing),
        ..TransplantedFact::new(
            sowing.clone(),
            BedId::new("b").expect("id"),
            plants,
            day("2027-03-21"),
        )
    };
    assert_eq!(keys(plant(5, 15.0)), vec![]);
    assert_eq!(
        keys(plant(5, 300.0)),
        vec![("plants", Weight::Ask, "check.bed_full")]
    );
    assert_eq!(
        keys(plant(500, 15.0))[0],
        ("plants", Weight::Refuse, "check.more_planted")
    );
}

#[test]
fn a_number_that_a_standing_tray_has_is_asked_about() {
    let sown = |number| SownFact {
        number,
        ..SownFact::new(VarietyId::new("v").expect("id"), 60, day("2027-01-20"))
    };
    assert_eq!(
        keys(sown(Some(41))),
        vec![("number", Weight::Ask, "check.number_taken")]
    );
    assert_eq!(keys(sown(Some(42))), vec![]);
    assert_eq!(keys(sown(None)), vec![]);
    for beyond in [0, 10_000] {
        // What is beyond its range would not be read back.
        assert!(keys(sown(Some(beyond))).contains(&("number", Weight::Refuse, "check.number")));
    }
}

#[test]
fn what_is_fine_meets_no_objection() {
    let (_, sowing, planting) = logged();
    assert_eq!(
        keys(CountedFact::new(sowing, 57, day("2027-02-01"))),
        vec![]
    );
    assert_eq!(
        keys(CutFact {
            culls: 2,
            ..CutFact::new(planting, 20, day("2027-04-01"))
        }),
        vec![]
    );
}

#[test]
fn targets_upside_down_or_past_are_refused() {
    let target = |from: &str, to: &str| TargetFact {
        from: from.parse().ok(),
        to: to.parse().ok(),
        stems: Some(40),
        ..TargetFact::new(TargetId::new("t").expect("id"))
    };
    assert_eq!(
        keys(target("2027-W31", "2027-W24")),
        vec![("to", Weight::Refuse, "check.weeks_upside_down")]
    );
    assert_eq!(
        keys(target("2026-W24", "2026-W31")),
        vec![("to", Weight::Refuse, "check.target_past")]
    );
    assert_eq!(keys(target("2027-W24", "2027-W31")), vec![]);
}

/// A place at 44 N with average frosts on 15 May and 1 October, and one-in-ten dates as told.
fn frosts(last: [Option<&str>; 3], first: [Option<&str>; 3]) -> PlaceFact {
    let day = |text: Option<&str>| text.map(|text| text.parse().expect("day"));
    PlaceFact {
        last_frost: day(last[0]),
        last_frost_10: day(last[1]),
        last_frost_90: day(last[2]),
        first_frost: day(first[0]),
        first_frost_10: day(first[1]),
        first_frost_90: day(first[2]),
        ..PlaceFact::new(PlaceId::new("p").expect("id"))
    }
}

#[test]
fn rare_frosts_on_the_wrong_side_are_refused_at_their_field() {
    let (last, first) = (Some("05-15"), Some("10-01"));
    let fine = frosts(
        [last, Some("05-29"), Some("05-02")],
        [first, Some("09-18"), Some("10-16")],
    );
    assert_eq!(keys(fine), vec![]);
    let swapped = frosts(
        [last, Some("05-02"), Some("05-29")],
        [first, Some("10-16"), Some("09-18")],
    );
    assert_eq!(
        keys(swapped),
        vec![
            (
                "last_frost_10",
                Weight::Refuse,
                "check.frost_before_average"
            ),
            ("last_frost_90", Weight::Refuse, "check.frost_after_average"),
            (
                "first_frost_10",
                Weight::Refuse,
                "check.frost_after_average"
            ),
            (
                "first_frost_90",
                Weight::Refuse,
                "check.frost_before_average"
            ),
        ]
    );
    let far = frosts([last, None, Some("01-15")], [first, None, Some("12-24")]);
    assert_eq!(
        keys(far),
        vec![
            ("last_frost_90", Weight::Refuse, "check.frost_far"),
            ("first_frost_90", Weight::Refuse, "check.frost_far"),
        ]
    );
    // South of the equator a side may cross the new year.
    let south = frosts([Some("01-05"), Some("01-20"), Some("12-20")], [None; 3]);
    assert_eq!(keys(south), vec![]);
}

#[test]
fn a_date_of_frost_is_held_against_those_recorded_before() {
    let (mut log, _, _) = logged();
    let entry = log
        .draft(
            &DeviceId::new("d").expect("id"),
            1_800_000_000_001,
            99,
            frosts([Some("05-15"), None, Some("05-02")], [None; 3]).into(),
        )
        .expect("entry");
    log.insert(entry);
    let season = Season::of(&log);
    let reference = Reference::builtin().expect("reference");
    let almanac = Almanac::new(&season, &reference);
    let objections = |fact: PlaceFact| check(&almanac, &fact.into(), day("2027-04-01"));
    let moved = objections(frosts([Some("04-20"), None, None], [None; 3]));
    assert_eq!(moved.len(), 1, "{moved:?}");
    assert_eq!(moved[0].field, "last_frost_90");
    assert_eq!(
        moved[0].say.write(crate::words::Manner::default()),
        "This comes after the average date. It must come before it, by 75 days at most."
    );
    assert_eq!(objections(frosts([None; 3], [None; 3])), vec![]);
}

#[test]
fn every_objection_has_its_words() {
    let sources = [
        include_str!("mod.rs"),
        include_str!("events.rs"),
        include_str!("set_up.rs"),
    ];
    let mut seen = 0;
    for source in sources {
        for part in source.split("Say::new(\"").skip(1) {
            let key = part.split('"').next().unwrap_or_default();
            assert!(crate::words::has(key), "{key} has no words");
            seen += 1;
        }
    }
    assert!(seen > 30, "{seen}");
}

fn bed_of(length_m: Option<f64>, width_m: Option<f64>, days: [Option<&str>; 2]) -> BedFact {
    let day = |text: Option<&str>| text.map(|text| text.parse().expect("day"));
    BedFact {
        length_m,
        width_m,
        in_use_from: day(days[0]),
        in_use_to: day(days[1]),
        ..BedFact::new(BedId::new("b").expect("id"))
    }
}

#[test]
fn a_bed_of_no_size_is_refused_at_its_field() {
    for size in [0.0, 0.09, -1.0, f64::NAN] {
        assert_eq!(
            keys(bed_of(Some(size), Some(1.2), [None, None])),
            vec![("length_m", Weight::Refuse, "check.number")],
            "{size}"
        );
        assert_eq!(
            keys(bed_of(Some(5.0), Some(size), [None, None])),
            vec![("width_m", Weight::Refuse, "check.number")],
            "{size}"
        );
    }
    assert_eq!(keys(bed_of(Some(5.0), Some(1.2), [None, None])), vec![]);
}

#[test]
fn a_bed_is_planted_while_it_is_in_use() {
    let (mut log, sowing, _) = logged();
    let device = DeviceId::new("d").expect("id");
    let days = [Some("04-15"), Some("10-15")];
    assert_eq!(
        keys(bed_of(None, None, [Some("04-15"), None])),
        vec![("in_use_from", Weight::Refuse, "check.bed_one_date")]
    );
    assert_eq!(keys(bed_of(None, None, days)), vec![]);
    let fact = bed_of(None, None, days).into();
    let entry = log.draft(&device, 1_800_000_000_001, 99, fact);
    log.insert(entry.expect("entry"));
    let season = Season::of(&log);
    let reference = Reference::builtin().expect("reference");
    let almanac = Almanac::new(&season, &reference);
    let planted = |date: &str| {
        let fact = TransplantedFact {
            spacing_cm: Some(15.0),
            ..TransplantedFact::new(sowing.clone(), BedId::new("b").expect("id"), 4, day(date))
        };
        check(&almanac, &fact.into(), day("2027-04-20"))
    };
    let found = planted("2027-04-10");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].field, found[0].weight), ("date", Weight::Ask));
    let said = found[0].say.write(Default::default());
    assert!(
        said.starts_with("T1 is in use from 15 Apr to 15 Oct;"),
        "{said}"
    );
    assert_eq!(planted("2027-04-15"), vec![]);
    // One day alone is enough where the other was said before.
    let later = bed_of(None, None, [Some("04-20"), None]).into();
    assert_eq!(check(&almanac, &later, day("2027-04-20")), vec![]);
}

#[test]
fn normals_upside_down_name_their_month() {
    let (mut log, _, _) = logged();
    let device = DeviceId::new("d").expect("id");
    let place = |tmin, tmax| PlaceFact {
        tmin,
        tmax,
        ..frosts([None; 3], [None; 3])
    };
    let (low, mut high) = ([5.0; 12], [15.0; 12]);
    high[6] = 4.0;
    let upside_down = |facts: &[Fact], log: &Log| {
        let season = Season::of(log);
        let reference = Reference::builtin().expect("reference");
        let almanac = Almanac::new(&season, &reference);
        let found = facts
            .iter()
            .flat_map(|fact| check(&almanac, fact, day("2027-04-01")));
        found
            .map(|o| format!("{}: {}", o.field, o.say.write(Default::default())))
            .collect::<Vec<_>>()
    };
    let both = place(Some(low), Some(high)).into();
    let told = "tmin: Jul: the minimum is above the maximum.";
    assert_eq!(upside_down(&[both], &log), [told]);
    let entry = log.draft(
        &device,
        1_800_000_000_001,
        99,
        place(Some(low), None).into(),
    );
    log.insert(entry.expect("entry"));
    let alone = place(None, Some(high)).into();
    assert_eq!(
        upside_down(&[alone], &log),
        [told],
        "the other row is as it was"
    );
    let neither = place(None, None).into();
    assert_eq!(upside_down(&[neither], &log), Vec::<String>::new());
    high[6] = f64::INFINITY;
    let absurd = place(None, Some(high)).into();
    assert_eq!(
        upside_down(&[absurd], &log),
        ["tmin: Jul: that is no temperature of a month."]
    );
}
