use proptest::prelude::*;

use super::*;
use crate::fact::{SpaceFact, TemperatureFact};
use crate::sample::Sample;

/// A crop kept at 2 C for 7 days.
const HARDY: Rule = Rule {
    store_c: 2.0,
    keeps_days: Some(7.0),
    injured_below_c: None,
};
/// A crop kept at 12 C for 3 days that cold below 10 C injures.
const TENDER: Rule = Rule {
    store_c: 12.0,
    keeps_days: Some(3.0),
    injured_below_c: Some(10.0),
};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn spell(date: &str, hours: f64, temp_c: f64) -> Warm {
    Warm {
        date: day(date),
        hours,
        temp_c,
    }
}

fn space(sample: &mut Sample, id: &str, what: SpaceKind) -> SpaceId {
    let of = SpaceId::new(id).unwrap();
    sample.add(SpaceFact {
        what: Some(what),
        name: Some(id.into()),
        ..SpaceFact::new(of.clone())
    });
    of
}

fn noted(sample: &mut Sample, space: &SpaceId, date: &str, min_c: f64, max_c: f64) {
    sample.add(TemperatureFact {
        space: Some(space.clone()),
        ..TemperatureFact::new(min_c, max_c, day(date))
    });
}

#[test]
fn in_a_cooler_as_cold_as_the_crop_is_stored_days_are_days() {
    let mut sample = Sample::new();
    let variety = sample.variety("v", "antirrhinum", "white");
    for (today, left, state) in [
        ("2027-06-01", 7.0, State::Fresh),
        ("2027-06-05", 3.0, State::Fresh),
        ("2027-06-06", 2.0, State::UseFirst),
        ("2027-06-08", 0.0, State::LastDay),
        ("2027-06-09", -1.0, State::Past),
    ] {
        let keeping =
            sample.with(|almanac| used(almanac, &variety, day("2027-06-01"), day(today), &[]));
        assert_eq!(
            (keeping.left, keeping.state),
            (Some(left), state),
            "{today}"
        );
        assert_eq!(
            keeping.age_days,
            (day(today) - day("2027-06-01")).num_days()
        );
        assert!(!keeping.tender && keeping.chill.is_none());
    }
}

/// Snapdragon is stored at 2 C: a day at a middle of 7 C is 3 to the power of 0.5 days.
#[test]
fn a_warm_cooler_ages_stems_sooner_and_other_spaces_say_nothing_of_it() {
    let mut sample = Sample::new();
    let variety = sample.variety("v", "antirrhinum", "white");
    let cooler = space(&mut sample, "cooler", SpaceKind::Cooler);
    let shelf = space(&mut sample, "shelf", SpaceKind::Shelf);
    noted(&mut sample, &shelf, "2027-06-01", 20.0, 24.0);
    noted(&mut sample, &cooler, "2027-06-02", 4.0, 10.0);
    let at = |sample: &Sample| {
        sample.with(|almanac| {
            used(almanac, &variety, day("2027-06-01"), day("2027-06-03"), &[]).cold_days
        })
    };
    assert!((at(&sample) - (1.0 + 3f64.sqrt())).abs() < 1e-12);
    // Where there are two coolers, the stems stand in the one that suits them.
    let second = space(&mut sample, "second", SpaceKind::Cooler);
    noted(&mut sample, &second, "2027-06-02", 1.0, 3.0);
    assert!((at(&sample) - 2.0).abs() < 1e-12);
}

#[test]
fn hours_outside_the_cooler_take_the_place_of_its_hours() {
    let keeping = |warm: &[Warm]| {
        let cut = day("2027-06-01");
        HARDY
            .keeping(cut, day("2027-06-03"), warm, |_| None)
            .cold_days
    };
    let rate =
        |c: f64| 3f64.powf((c.min(10.0) - 2.0) / 10.0) * 2.5f64.powf((c - 10.0).max(0.0) / 10.0);
    let six = keeping(&[spell("2027-06-01", 6.0, 25.0)]);
    assert!((six - (2.0 - 0.25 + 0.25 * rate(25.0))).abs() < 1e-12);
    // On the day itself only the spell counts; before the cut, after today, and without sense, none does.
    let today = keeping(&[spell("2027-06-03", 6.0, 25.0)]);
    assert!((today - (2.0 + 0.25 * rate(25.0))).abs() < 1e-12);
    for passed_over in [
        spell("2027-05-31", 6.0, 25.0),
        spell("2027-06-04", 6.0, 25.0),
        spell("2027-06-01", f64::NAN, 25.0),
        spell("2027-06-01", -3.0, 25.0),
        spell("2027-06-01", 6.0, 900.0),
        spell("2027-06-01", 6.0, -1.0),
    ] {
        assert!(
            (keeping(&[passed_over]) - 2.0).abs() < 1e-12,
            "{passed_over:?}"
        );
    }
}

#[test]
fn cold_harms_a_tender_crop_and_does_not_keep_it() {
    let cut = day("2027-08-01");
    let keeping = TENDER.keeping(cut, day("2027-08-03"), &[], |_| Some((4.0, 2.5)));
    assert_eq!((keeping.cold_days, keeping.tender), (2.0, true));
    let harm = ChillHarm {
        below_c: 10.0,
        noted_c: 2.5,
    };
    assert_eq!(keeping.chill, Some(harm));
    let kept_warm = TENDER.keeping(cut, day("2027-08-03"), &[], |_| Some((12.0, 11.0)));
    assert_eq!((kept_warm.cold_days, kept_warm.chill), (2.0, None));
    let warm = [spell("2027-08-01", 24.0, 22.0)];
    let stood = TENDER.keeping(cut, day("2027-08-03"), &warm, |_| None);
    assert!((stood.cold_days - 3.5).abs() < 1e-12);
}

#[test]
fn stems_without_figures_and_cuts_to_come_are_fresh() {
    let mut sample = Sample::new();
    let variety = sample.variety("v", "no_such_crop", "white");
    let keeping =
        sample.with(|almanac| used(almanac, &variety, day("2027-06-01"), day("2027-09-01"), &[]));
    assert_eq!((keeping.left, keeping.state), (None, State::Fresh));
    let ahead = HARDY.keeping(day("2027-06-05"), day("2027-06-01"), &[], |_| None);
    assert_eq!((ahead.age_days, ahead.cold_days), (0, 0.0));
}

proptest! {
    #[test]
    fn stems_age_by_warmth_and_time_and_never_grow_younger(
        days in 0u64..30, cooler in -2.0f64..15.0, warmer in 0.0f64..10.0, hours in 0.0f64..24.0, more in 0.0f64..12.0,
        temp in -5.0f64..45.0, on in 0u64..30, tender: bool,
    ) {
        let rule = if tender { TENDER } else { HARDY };
        let cut = day("2027-06-01");
        let after = |days| cut.checked_add_days(Days::new(days)).unwrap();
        let age = |days, cooler: f64, hours, temp_c| {
            let warm = [Warm { date: after(on), hours, temp_c }];
            rule.keeping(cut, after(days), &warm, |_| Some((cooler, cooler))).cold_days
        };
        let some = age(days, cooler, hours, temp);
        let slack = 1e-9 * (1.0 + some);
        prop_assert!(some >= 0.0);
        prop_assert!(age(days, cooler, hours + more, temp) >= some - slack);
        prop_assert!(age(days, cooler, hours, temp + warmer) >= some - slack);
        prop_assert!(age(days, cooler + warmer, hours, temp) >= some - slack);
        prop_assert!(age(days + 1, cooler, hours, temp) >= some - slack);
        // Two spells are as one of both their hours.
        let halves = [Warm { date: after(on), hours: hours / 2.0, temp_c: temp }; 2];
        let apart = rule.keeping(cut, after(days), &halves, |_| Some((cooler, cooler))).cold_days;
        prop_assert!((apart - some).abs() <= slack);
    }
}
