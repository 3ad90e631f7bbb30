//! Properties of climate and frost for any site.

#![allow(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "a check that cannot be set up must stop, and some results are exact"
)]

mod place;

use agronomy::AgronomyError;
use agronomy::climate::{Climate, Cover, FrostDates, FrostModel, Normals};
use agronomy::frost::FrostTiming;
use agronomy::quantity::{Celsius, Chance, Latitude};
use chrono::{Datelike, Days, NaiveDate};
use place::{FROST, TMAX, TMIN, date, northern, place};
use proptest::prelude::*;

/// The same site mirrored to the other hemisphere, half a year later.
fn southern() -> Climate {
    let turned = |north: [f64; 12]| -> [f64; 12] { std::array::from_fn(|m| north[(m + 6) % 12]) };
    let frost = FrostDates {
        last_p50: (11, 14),
        last_p10: (11, 27),
        first_p50: (4, 2),
        first_p10: (3, 20),
    };
    place(-44.0, turned(TMIN), turned(TMAX), frost)
}

#[test]
fn invalid_sites_are_refused() {
    let latitude = Latitude::new(44.0).unwrap();
    let normals = Normals::new(TMIN.map(Celsius), TMAX.map(Celsius)).unwrap();
    assert!(Normals::new(TMAX.map(Celsius), TMIN.map(Celsius)).is_err());
    assert!(Normals::new([Celsius(f64::NAN); 12], TMAX.map(Celsius)).is_err());
    assert!(Normals::new([Celsius(-80.0); 12], TMAX.map(Celsius)).is_err());
    for frost in [
        // No such day; the late date before the median; the early one after it.
        FrostDates {
            last_p50: (2, 30),
            ..FROST
        },
        FrostDates {
            last_p10: (5, 1),
            ..FROST
        },
        FrostDates {
            first_p10: (10, 9),
            ..FROST
        },
    ] {
        assert!(Climate::new(latitude, normals, frost).is_err(), "{frost:?}");
    }
}

#[test]
fn the_leap_day_and_the_turn_of_the_year_are_continuous() {
    let climate = northern();
    let mean = |day: NaiveDate| {
        let (min, max) = climate.day(day);
        f64::midpoint(min.0, max.0)
    };
    for (before, day) in [
        (date(2028, 2, 28), date(2028, 2, 29)),
        (date(2028, 2, 29), date(2028, 3, 1)),
        (date(2026, 12, 31), date(2027, 1, 1)),
    ] {
        assert!((mean(before) - mean(day)).abs() < 0.5, "{day}");
    }
    assert_eq!(climate.day(date(2027, 7, 4)), climate.day(date(2031, 7, 4)));
}

#[test]
fn a_measured_day_replaces_the_usual_one() {
    let day = date(2027, 4, 10);
    let usual = northern();
    let outdoors = northern()
        .with_observed(day, Cover::Open, Celsius(-6.0), Celsius(4.0))
        .unwrap();
    assert_eq!(outdoors.day(day), (Celsius(-6.0), Celsius(4.0)));
    assert_eq!(outdoors.day(date(2028, 4, 10)), usual.day(day));
    // The tunnel follows the measurement outdoors unless it has its own.
    let (under_usual, _) = usual.day_under(day, Cover::Tunnel);
    let (under_cold, _) = outdoors.day_under(day, Cover::Tunnel);
    assert!(under_cold < under_usual);
    let both = outdoors
        .with_observed(day, Cover::Tunnel, Celsius(1.5), Celsius(19.0))
        .unwrap();
    assert_eq!(
        both.day_under(day, Cover::Tunnel),
        (Celsius(1.5), Celsius(19.0))
    );
    assert_eq!(both.day(day), (Celsius(-6.0), Celsius(4.0)));
    assert!(
        northern()
            .with_observed(day, Cover::Open, Celsius(5.0), Celsius(4.0))
            .is_err()
    );
}

#[test]
fn the_tunnel_is_warmer_by_its_gains() {
    let climate = northern();
    for day in date(2027, 1, 1).iter_days().take(365) {
        let (min, max) = climate.day(day);
        let (under_min, under_max) = climate.day_under(day, Cover::Tunnel);
        assert!((under_min.0 - min.0 - 1.3).abs() < 1e-9, "{day}");
        let gain = under_max.0 - max.0;
        assert!((2.7 - 1e-9..=7.5 + 1e-9).contains(&gain), "{day} {gain}");
    }
}

#[test]
fn frost_chances_fall_through_spring_and_rise_through_autumn_on_both_hemispheres() {
    for (climate, spring, autumn) in [
        (northern(), date(2027, 5, 15), date(2027, 10, 1)),
        (southern(), date(2027, 11, 14), date(2027, 4, 2)),
    ] {
        assert!((climate.frost_chance_after(spring).get() - 0.5).abs() < 1e-9);
        assert!((climate.frost_chance_before(autumn).get() - 0.5).abs() < 1e-9);
        assert_eq!(climate.last_frost_with_chance(2027, Chance::EVEN), spring);
        assert_eq!(climate.first_frost_with_chance(2027, Chance::EVEN), autumn);
        // One in ten: thirteen days later in spring, thirteen earlier in autumn.
        let tenth = Chance::ONE_IN_TEN;
        assert_eq!(
            climate.last_frost_with_chance(2027, tenth),
            spring + Days::new(13)
        );
        assert_eq!(
            climate.first_frost_with_chance(2027, tenth),
            autumn - Days::new(13)
        );

        let around = |middle: NaiveDate| (middle - Days::new(90)).iter_days().take(180);
        let after: Vec<f64> = around(spring)
            .map(|day| climate.frost_chance_after(day).get())
            .collect();
        let before: Vec<f64> = around(autumn)
            .map(|day| climate.frost_chance_before(day).get())
            .collect();
        assert!(after.windows(2).all(|pair| pair[0] >= pair[1]));
        assert!(before.windows(2).all(|pair| pair[0] <= pair[1]));
        assert!(after[0] > 0.999 && after[179] < 0.001);
        assert!(before[0] < 0.001 && before[179] > 0.999);
    }
}

#[test]
fn frost_dates_can_come_from_a_deviation() {
    let frost = FrostDates::from_deviation((5, 15), 10.0, (10, 1), 10.0).unwrap();
    assert_eq!((frost.last_p10, frost.first_p10), ((5, 28), (9, 18)));
    let sharp = FrostDates::from_deviation((5, 15), 0.0, (10, 1), 0.0).unwrap();
    let climate = place(44.0, TMIN, TMAX, sharp);
    assert_eq!(climate.frost_chance_after(date(2027, 5, 14)).get(), 1.0);
    assert_eq!(climate.frost_chance_after(date(2027, 5, 16)).get(), 0.0);
    assert!(FrostDates::from_deviation((5, 15), -1.0, (10, 1), 10.0).is_err());
}

#[test]
fn a_single_frost_date_is_certain_on_its_day() {
    let sharp = FrostTiming::normal(135.0, 0.0).unwrap();
    let chances = |day| {
        let day = date(2027, 5, day);
        (
            sharp.chance_on_or_before(day).get(),
            sharp.chance_on_or_after(day).get(),
        )
    };
    assert_eq!(chances(14), (0.0, 1.0));
    assert_eq!(chances(15), (1.0, 1.0));
    assert_eq!(chances(16), (1.0, 0.0));
    assert_eq!(sharp.date_by(2027, Chance::ONE_IN_TEN), date(2027, 5, 15));
}

#[test]
fn invalid_frost_dates_are_refused_by_name() {
    let field = |timing: Result<FrostTiming, AgronomyError>| timing.map_err(|error| error.field());
    let of = FrostTiming::from_dates;
    assert_eq!(field(of((5, 30), (5, 15), (5, 28))), Err("early"));
    assert_eq!(field(of((5, 1), (5, 15), (5, 10))), Err("late"));
    assert_eq!(field(of((5, 1), (2, 29), (5, 10))), Err("median"));
    assert_eq!(field(of((13, 1), (5, 15), (5, 28))), Err("early"));
    assert_eq!(field(of((1, 15), (5, 15), (5, 28))), Err("early"));
    for bad in [f64::NAN, f64::INFINITY, 0.5, 366.5, -1.0] {
        let timing = FrostTiming::normal(bad, 10.0);
        assert_eq!(field(timing), Err("mean_day_of_year"), "{bad}");
    }
    for bad in [f64::NAN, f64::INFINITY, -0.1, 50.1] {
        let timing = FrostTiming::normal(130.0, bad);
        assert_eq!(field(timing), Err("deviation_days"), "{bad}");
    }
}

/// Every day of a common year, January first.
fn year(climate: &Climate) -> Vec<(u32, f64, f64)> {
    let days = date(2027, 1, 1).iter_days().take(365);
    days.map(|day| {
        let (min, max) = climate.day(day);
        (day.month(), min.0, max.0)
    })
    .collect()
}

fn any_normals() -> impl Strategy<Value = ([f64; 12], [f64; 12])> {
    let month = (
        -60.0f64..=60.0,
        prop_oneof![Just(0.0), 0.0f64..1.0, 0.0f64..=60.0],
    );
    prop::array::uniform12(month).prop_map(|months| {
        let tmin = months.map(|(low, _)| low);
        (tmin, months.map(|(low, range)| (low + range).min(60.0)))
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Even if consecutive months differ by a hundred degrees and some have no daily range.
    #[test]
    fn days_of_any_normals_average_to_the_months_and_stay_in_order((tmin, tmax) in any_normals()) {
        let days = year(&place(44.0, tmin, tmax, FROST));
        for (month, (low, high)) in (1..=12).zip(tmin.into_iter().zip(tmax)) {
            let of: Vec<_> = days.iter().filter(|day| day.0 == month).collect();
            let mean = |sum: f64| sum / of.len() as f64;
            prop_assert!((mean(of.iter().map(|day| day.1).sum()) - low).abs() < 1e-9);
            prop_assert!((mean(of.iter().map(|day| day.2).sum()) - high).abs() < 1e-9);
        }
        for (_, min, max) in &days {
            prop_assert!(min <= max, "{} {}", min, max);
        }
    }

    /// The slope of the daily mean changes no more at the ends of months than inside them.
    #[test]
    fn any_normals_give_a_curve_without_kinks((tmin, tmax) in any_normals()) {
        let days = year(&place(44.0, tmin, tmax, FROST));
        let mean = |index: usize| {
            let (_, min, max) = days[index % days.len()];
            f64::midpoint(min, max)
        };
        let bends: Vec<(bool, f64)> = (1..=days.len())
            .map(|index| {
                let at_end = days[index % days.len()].0 != days[(index + 1) % days.len()].0
                    || days[index % days.len()].0 != days[index - 1].0;
                (at_end, (mean(index - 1) - 2.0 * mean(index) + mean(index + 1)).abs())
            })
            .collect();
        let most = |wanted: bool| {
            let of = bends.iter().filter(|(at_end, _)| *at_end == wanted);
            of.map(|(_, bend)| *bend).fold(0.0, f64::max)
        };
        prop_assert!(most(true) <= 1.05 * most(false) + 1e-9, "{} {}", most(true), most(false));
    }

    /// Through any three dates: meets them, never falls, and has an inverse.
    #[test]
    fn frost_chances_meet_their_dates_and_never_fall(
        median in 0u64..365, before in 0u64..=75, after in 0u64..=75, share in 0.002f64..0.998,
    ) {
        let middle = date(2001, 1, 1) + Days::new(median);
        let pair = |day: NaiveDate| (day.month(), day.day());
        // Wraps around a common year, as the dates do.
        let around = |days: i64| {
            let at = (i64::try_from(median).unwrap() + days).rem_euclid(365);
            date(2001, 1, 1) + Days::new(u64::try_from(at).unwrap())
        };
        let (early, late) = (around(-(before as i64)), around(after as i64));
        let timing = FrostTiming::from_dates(pair(early), pair(middle), pair(late)).unwrap();
        let centre = middle.with_year(2027).unwrap();
        let by = |days: i64| timing.chance_on_or_before(centre + chrono::TimeDelta::days(days)).get();
        if before > 0 && after > 0 {
            for (days, wanted) in [(-(before as i64), 0.1), (0, 0.5), (after as i64, 0.9)] {
                prop_assert!((by(days) - wanted).abs() < 1e-9, "{} {}", days, by(days));
            }
        }
        let run: Vec<f64> = (-180..=180).map(by).collect();
        prop_assert!(run.windows(2).all(|pair| pair[0] <= pair[1]));
        prop_assert!(run.iter().all(|chance| (0.0..=1.0).contains(chance)));
        let chance = Chance::new(share).unwrap();
        let day = timing.date_by(2027, chance);
        let off = (day - centre).num_days();
        // Within half a day of rounding on either side.
        if before > 0 && after > 0 {
            prop_assert!(by(off - 1) <= share + 1e-9 && by(off + 1) >= share - 1e-9);
        }
        let exact = timing.day_of_year_by(chance) - f64::from(middle.ordinal());
        prop_assert!((exact - off as f64).abs() <= 0.5 + 1e-9);
    }
}

/// A frost with three dates uses a different width on either side.
#[test]
fn a_skewed_frost_keeps_both_widths() {
    let frost = FrostModel {
        last: FrostTiming::from_dates((5, 3), (5, 15), (5, 28)).unwrap(),
        first: FrostTiming::from_dates((9, 18), (10, 1), (10, 21)).unwrap(),
    };
    let normals = Normals::new(TMIN.map(Celsius), TMAX.map(Celsius)).unwrap();
    let climate = Climate::with_frost(Latitude::new(44.0).unwrap(), normals, frost).unwrap();
    assert_eq!(climate.frost(), &frost);
    let last = |chance| climate.last_frost_with_chance(2028, chance);
    assert_eq!(last(Chance::ONE_IN_TEN), date(2028, 5, 28));
    assert_eq!(last(Chance::NINE_IN_TEN), date(2028, 5, 3));
    let first = |chance| climate.first_frost_with_chance(2028, chance);
    assert_eq!(first(Chance::ONE_IN_TEN), date(2028, 9, 18));
    assert_eq!(first(Chance::NINE_IN_TEN), date(2028, 10, 21));
}
