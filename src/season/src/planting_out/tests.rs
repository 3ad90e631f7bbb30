use super::*;
use crate::fact::*;
use crate::sample::Sample;
use crate::words::{Manner, Units};

/// A place at 44 N, last frost 15 May and first 1 October; a field, and a tunnel walked after it.
fn place() -> (Sample, BedId) {
    let mut sample = Sample::new();
    let bed = sample.bed("north", 10.0);
    sample.bed("south", 4.0);
    space(&mut sample, "tunnel", SpaceKind::Tunnel, 9, None);
    (sample, bed)
}

fn space(sample: &mut Sample, id: &str, what: SpaceKind, walk: i32, risk: Option<f64>) {
    sample.add(SpaceFact {
        what: Some(what),
        name: Some(id.into()),
        walk: Some(walk),
        frost_risk: risk,
        ..SpaceFact::new(SpaceId::new(id).unwrap())
    });
}

/// Plants of a crop sown on a day, 100 of 100 up a month later, and hardened off from a day on.
fn plants(sample: &mut Sample, crop: &str, sown: &str, hardened_from: Option<&str>) -> SowingId {
    let variety = sample.variety(crop, crop, "white");
    let sowing = sample.sown(&variety, sown, 100);
    let counted = sample.day(sown) + chrono::Days::new(28);
    sample.counted(&sowing, &counted.to_string(), 100);
    if let Some(from) = hardened_from {
        let date = sample.day(from);
        sample.add(HardeningFact::new(sowing.clone(), date));
    }
    sowing
}

fn of(sample: &Sample, sowing: &SowingId, today: &str) -> Vec<SpaceVerdict> {
    let today = sample.day(today);
    let found = sample.with(|almanac| verdicts(almanac, sowing, today));
    for verdict in &found {
        for say in core::iter::once(&verdict.say).chain(verdict.reasons.iter().map(|r| &r.say)) {
            let text = say.write(Manner::default());
            assert!(
                crate::words::has(say.key()) && !text.contains(['{', '}']),
                "{text}"
            );
        }
    }
    found
}

#[test]
fn differences_and_depths_are_written_in_the_readers_units() {
    let (mut sample, _) = place();
    let soft = plants(&mut sample, "antirrhinum", "2027-02-10", None);
    let verdicts = of(&sample, &soft, "2027-06-01");
    let [field, tunnel] = verdicts.as_slice() else {
        panic!("{verdicts:?}")
    };
    let wanted = field.hardening.wanted;
    for (units, warmer, softer, depth) in [
        (Units::Metric, "1.3 °C", "3 °C", "5 cm to 10 cm deep"),
        (Units::Us, "2 °F", "5 °F", "2 in to 4 in deep"),
    ] {
        let manner = Manner { units };
        let reasons = |verdict: &SpaceVerdict| -> Vec<String> {
            let said = verdict
                .reasons
                .iter()
                .map(|reason| reason.say.write(manner));
            said.collect()
        };
        let soft = format!("Hardened off 0 of {wanted} days; without, it bears {softer} less");
        assert!(reasons(field).contains(&soft), "{:?}", reasons(field));
        let gain = format!("Nights in the tunnel are {warmer} warmer, less on clear ones");
        assert!(reasons(tunnel).contains(&gain), "{:?}", reasons(tunnel));
        let soil = field.soil.as_ref().unwrap().say.write(manner);
        assert!(soil.contains(depth), "{soil}");
    }
}

/// A measurement of the bed stands beside what the crop wants, until it is two weeks old.
#[test]
fn a_soil_temperature_is_shown_until_it_says_nothing_of_today() {
    let (mut sample, bed) = place();
    let zinnia = plants(&mut sample, "zinnia", "2027-04-05", Some("2027-04-28"));
    let field = |sample: &Sample, today: &str| {
        let soil = of(sample, &zinnia, today)[0].soil.clone().unwrap();
        (soil.measured, soil.say.write(Manner::default()))
    };
    assert!(
        field(&sample, "2027-05-20")
            .1
            .ends_with("Not measured yet.")
    );
    let day = |text: &str| text.parse::<NaiveDate>().unwrap();
    let measured = |c, on: &str| BedFact {
        soil_temperature_c: Some(c),
        soil_measured_on: Some(day(on)),
        ..BedFact::new(bed.clone())
    };
    sample.add(measured(11.0, "2027-05-18"));
    let (got, say) = field(&sample, "2027-05-20");
    assert_eq!(got, Some((11.0, day("2027-05-18"))));
    assert!(say.contains("11 °C on Tue 18 May: too cold."), "{say}");
    sample.add(measured(16.0, "2027-05-25"));
    let (_, say) = field(&sample, "2027-06-08");
    assert!(say.contains("16 °C on Tue 25 May."), "{say}");
    assert_eq!(field(&sample, "2027-06-09").0, None);
}

/// What frost kills waits until its risk is past; the tunnel lets it out sooner, and in between the plan's date says which.
#[test]
fn the_tender_wait_for_the_end_of_frost_and_less_long_in_the_tunnel() {
    let (mut sample, _) = place();
    let zinnia = plants(&mut sample, "zinnia", "2027-04-05", Some("2027-04-28"));
    let day = |text: &str| text.parse::<NaiveDate>().unwrap();
    let early = of(&sample, &zinnia, "2027-05-05");
    let [field, tunnel] = early.as_slice() else {
        panic!("{early:?}")
    };
    assert_eq!(
        (field.harms_below_c, field.night_bears_c),
        (Some(0.0), Some(7.0))
    );
    // Eleven days' deviation: one year in ten has a frost on or after 29 May.
    assert_eq!(
        field.state,
        State::Wait {
            until: day("2027-05-29")
        }
    );
    assert!(field.chance_of_harm.unwrap().get() > 0.7);
    assert!(tunnel.chance_of_harm.unwrap() < field.chance_of_harm.unwrap());
    let State::Wait { until } = tunnel.state else {
        panic!("{:?}", tunnel.state)
    };
    assert!(
        until < day("2027-05-29") && until > day("2027-05-15"),
        "{until}"
    );
    let late = of(&sample, &zinnia, "2027-06-01");
    assert_eq!((late[0].state, late[1].state), (State::Safe, State::Safe));
    assert!(late[0].chance_of_harm.unwrap().get() < 0.1);
    assert_eq!(late[0].soil.as_ref().map(|soil| soil.wanted_c), Some(15.0));
}

/// The hardy go out before the last frost, with cloth at hand while nights that harm even them are likely.
#[test]
fn the_hardy_go_out_before_the_last_frost() {
    let (mut sample, _) = place();
    let snap = plants(&mut sample, "antirrhinum", "2027-02-10", Some("2027-04-10"));
    let verdicts = of(&sample, &snap, "2027-05-02");
    let field = &verdicts[0];
    assert!(field.harms_below_c.unwrap() < -2.0, "{field:?}");
    assert!(
        matches!(field.state, State::Safe | State::WithCover { .. }),
        "{:?}",
        field.state
    );
    let tender = plants(
        &mut sample,
        "celosia_plumosa",
        "2027-03-20",
        Some("2027-04-20"),
    );
    assert!(matches!(
        of(&sample, &tender, "2027-05-02")[0].state,
        State::Wait { .. }
    ));
    // In winter nobody plants into the open, whatever it bears.
    let early = of(&sample, &snap, "2027-03-12");
    assert!(
        matches!(early[0].state, State::Wait { .. }),
        "{:?}",
        early[0].state
    );
}

/// The dates follow from the risk that the grower accepts.
#[test]
fn who_accepts_more_risk_plants_sooner() {
    let (mut sample, _) = place();
    let zinnia = plants(&mut sample, "zinnia", "2027-04-05", Some("2027-04-28"));
    let mut until = Vec::new();
    for risk in [0.05, 0.2, 0.4] {
        space(&mut sample, "field", SpaceKind::Outdoors, 0, Some(risk));
        let verdict = of(&sample, &zinnia, "2027-05-05").remove(0);
        assert!(verdict.accepted_said);
        let State::Wait { until: day } = verdict.state else {
            panic!("{verdict:?}")
        };
        until.push(day);
    }
    assert!(until.is_sorted_by(|a, b| a > b), "{until:?}");
}

#[test]
fn what_was_not_hardened_off_waits_for_it_and_bears_less() {
    let (mut sample, _) = place();
    let soft = plants(&mut sample, "antirrhinum", "2027-02-10", None);
    let verdict = of(&sample, &soft, "2027-06-01").remove(0);
    assert_eq!(verdict.hardening.done, 0);
    let over = sample.day("2027-06-01") + chrono::Days::new(u64::from(verdict.hardening.wanted));
    assert_eq!(verdict.state, State::Wait { until: over });
    assert_eq!(verdict.say.key(), "planting_out.wait_hardening");
    sample.with(|almanac| {
        let crop = almanac
            .crop(&VarietyId::new("antirrhinum").unwrap())
            .unwrap();
        let apart = harms_below(crop, false).unwrap() - harms_below(crop, true).unwrap();
        assert!((apart - SOFT_MARGIN.0).abs() < 1e-9);
    });
}

#[test]
fn what_frost_would_end_before_its_bloom_is_too_late() {
    let (mut sample, _) = place();
    let zinnia = plants(&mut sample, "zinnia", "2027-08-10", Some("2027-09-05"));
    let verdict = of(&sample, &zinnia, "2027-09-12").remove(0);
    assert!(
        matches!(verdict.state, State::Late { .. }),
        "{:?}",
        verdict.state
    );
}

/// 92 good plants at 23 cm: five rows in a bed of 1.2 m.
#[test]
fn beds_are_filled_in_order_and_what_finds_no_room_stays_in_the_tray() {
    let (mut sample, north) = place();
    let zinnia = plants(&mut sample, "zinnia", "2027-04-05", Some("2027-04-28"));
    let verdict = of(&sample, &zinnia, "2027-06-01").remove(0);
    let [room] = verdict.beds.as_slice() else {
        panic!("{:?}", verdict.beds)
    };
    assert_eq!(
        (&room.bed, room.plants, room.spacing_cm),
        (&north, 92, 23.0)
    );
    assert!(
        room.fits >= 92 && room.metres > 3.5 && room.metres < 5.0,
        "{room:?}"
    );
    assert_eq!(verdict.left_in_tray, 0);
    // Most of the long bed is taken: the short one takes what it can, the long one the rest, and some stay.
    let other = sample.variety("other", "zinnia", "red");
    sample.sown_in_bed(&other, &north, "2027-05-20", 290);
    let full = of(&sample, &zinnia, "2027-06-01").remove(0);
    assert_eq!(
        full.beds.iter().map(|bed| bed.plants).sum::<u32>() + full.left_in_tray,
        92
    );
    assert!(full.left_in_tray > 0, "{full:?}");
    // The tunnel has no bed.
    let tunnel = &of(&sample, &zinnia, "2027-06-01")[1];
    assert_eq!((tunnel.beds.len(), tunnel.left_in_tray), (0, 92));
}

#[test]
fn a_place_without_frost_dates_and_the_other_half_of_the_world() {
    let (mut sample, _) = place();
    let zinnia = plants(&mut sample, "zinnia", "2027-09-25", Some("2027-10-20"));
    let south = |last: &str, first: &str| PlaceFact {
        latitude: Some(-41.0),
        last_frost: last.parse().ok(),
        first_frost: first.parse().ok(),
        ..PlaceFact::new(PlaceId::new("place").unwrap())
    };
    sample.add(south("10-25", "04-20"));
    let early = of(&sample, &zinnia, "2027-10-25").remove(0);
    let State::Wait { until } = early.state else {
        panic!("{early:?}")
    };
    assert_eq!(until, sample.day("2027-11-08"));
    assert_eq!(of(&sample, &zinnia, "2027-11-12")[0].state, State::Safe);
    // Nothing that is not there is judged.
    let none = SowingId::new("none").unwrap();
    assert_eq!(of(&sample, &none, "2027-11-12"), []);
}
