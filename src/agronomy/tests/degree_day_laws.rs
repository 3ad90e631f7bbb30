//! Laws that degree-days keep for any day, place and series.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::AgronomyError;
use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::degree_days::{
    ARRIVAL_DAYS_MAX, Cutoff, DayRange, Method, Series, Thresholds, accumulate, arrival,
};
use agronomy::quantity::{Celsius, DegreeDays, Latitude};
use chrono::{Days, NaiveDate};
use proptest::prelude::*;

const METHODS: [Method; 7] = [
    Method::SimpleAverage,
    Method::MeanThenThreshold,
    Method::ThresholdThenMean,
    Method::ModifiedAverage,
    Method::SingleSine(Cutoff::Horizontal),
    Method::SingleSine(Cutoff::Intermediate),
    Method::SingleSine(Cutoff::Vertical),
];
const SINE: Method = Method::SingleSine(Cutoff::Horizontal);

/// Whether more warmth never gives less: not by the cutoffs that take heat back.
fn is_monotone(method: Method) -> bool {
    !matches!(
        method,
        Method::SingleSine(Cutoff::Intermediate | Cutoff::Vertical)
    )
}

fn date(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

fn day(min: f64, max: f64) -> DayRange {
    DayRange::new(Celsius(min), Celsius(max)).unwrap()
}

fn thresholds(base: f64, ceiling: Option<f64>) -> Thresholds {
    Thresholds::new(Celsius(base), ceiling.map(Celsius)).unwrap()
}

/// An invented place at 44 N.
fn northern() -> Climate {
    let tmin = [-10., -9., -4., 1., 7., 12., 14., 13., 9., 3., -2., -7.];
    let tmax = [-1., 1., 6., 14., 21., 25., 28., 27., 23., 15., 8., 2.];
    let frost = FrostDates::from_deviation((5, 15), 10.0, (10, 1), 10.0).unwrap();
    Climate::new(
        Latitude::new(44.0).unwrap(),
        Normals::new(tmin.map(Celsius), tmax.map(Celsius)).unwrap(),
        frost,
    )
    .unwrap()
}

#[test]
fn warmth_adds_up_and_arrives_where_it_was_summed_to() {
    let climate = northern();
    let from = date(2027, 4, 1);
    let end = date(2027, 7, 10);
    let warmth = thresholds(5.0, None);
    for method in METHODS {
        let sum = |from, to| accumulate(&climate, Cover::Open, from, to, method, warmth);
        let to = |cover, need| arrival(&climate, cover, from, method, warmth, need);
        let need = sum(from, end);
        assert_eq!(to(Cover::Open, need), Ok(end), "{method:?}");
        assert_eq!(to(Cover::Open, DegreeDays(0.0)), Ok(from));
        assert_eq!(sum(end, from), DegreeDays(0.0));
        assert!(to(Cover::Tunnel, need).unwrap() < end);
    }
    let hot = arrival(
        &climate,
        Cover::Open,
        from,
        SINE,
        thresholds(24.0, None),
        DegreeDays(5000.0),
    );
    assert_eq!(
        hot,
        Err(AgronomyError::NotReached {
            field: "degree_days",
            limit: ARRIVAL_DAYS_MAX as f64,
        })
    );
}

/// What was measured stands; what follows is forecast from the usual days again.
#[test]
fn a_warm_spell_brings_the_arrival_forward_and_ends_where_it_ends() {
    let usual = northern();
    let from = date(2027, 4, 1);
    let warmth = thresholds(5.0, Some(30.0));
    let to = |climate: &Climate| {
        arrival(climate, Cover::Open, from, SINE, warmth, DegreeDays(400.0)).unwrap()
    };
    let spell = |gain: f64| {
        let days = from.iter_days().take(14);
        days.fold(usual.clone(), |climate, day| {
            let (min, max) = usual.day(day);
            let warmer = |value: Celsius| Celsius(value.0 + gain);
            climate
                .with_observed(day, Cover::Open, warmer(min), warmer(max))
                .unwrap()
        })
    };
    assert_eq!(to(&spell(0.0)), to(&usual));
    assert!(to(&spell(8.0)) < to(&spell(4.0)));
    assert!(to(&spell(4.0)) < to(&usual));
    assert!(to(&spell(-4.0)) > to(&usual));
    let warm = spell(8.0);
    for day in date(2027, 4, 15).iter_days().take(365) {
        assert_eq!(warm.day(day), usual.day(day), "{day}");
    }
    // The tunnel follows the warmth outdoors.
    let under = |climate: &Climate| {
        arrival(
            climate,
            Cover::Tunnel,
            from,
            SINE,
            warmth,
            DegreeDays(400.0),
        )
        .unwrap()
    };
    assert!(under(&warm) < under(&usual));
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    let of = |base, ceiling: Option<f64>| {
        Thresholds::new(Celsius(base), ceiling.map(Celsius)).map_err(|error| error.field())
    };
    assert!(matches!(
        Thresholds::new(Celsius(10.0), Some(Celsius(10.0))),
        Err(AgronomyError::OutOfOrder {
            lower_field: "base",
            upper_field: "ceiling",
            ..
        })
    ));
    assert_eq!(of(20.0, Some(10.0)), Err("base"));
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 71.0, -91.0] {
        assert_eq!(of(bad, None), Err("base"), "{bad}");
        assert_eq!(of(5.0, Some(bad)), Err("ceiling"), "{bad}");
        let low = DayRange::new(Celsius(bad), Celsius(20.0)).map_err(|error| error.field());
        assert_eq!(low, Err("tmin"), "{bad}");
        let high = DayRange::new(Celsius(2.0), Celsius(bad)).map_err(|error| error.field());
        assert_eq!(high, Err("tmax"), "{bad}");
    }
    // The check table's own row to be rejected: minimum 20, maximum 10.
    assert!(matches!(
        DayRange::new(Celsius(20.0), Celsius(10.0)),
        Err(AgronomyError::OutOfOrder {
            lower_field: "tmin",
            upper_field: "tmax",
            ..
        })
    ));
    let from = date(2027, 4, 1);
    let empty = Series::new(from, &[]).map_err(|error| error.field());
    assert_eq!(empty, Err("series.days"));
    let odd = [(Celsius(2.0), Celsius(9.0)), (Celsius(9.0), Celsius(2.0))];
    assert_eq!(
        Series::new(from, &odd).map_err(|error| error.field()),
        Err("tmin")
    );
    let series = Series::new(from, &[(Celsius(2.0), Celsius(18.0))]).unwrap();
    let warmth = thresholds(5.0, None);
    for bad in [f64::NAN, -1.0, f64::INFINITY] {
        let need = DegreeDays(bad);
        let there = series
            .arrival(SINE, warmth, need)
            .map_err(|error| error.field());
        assert_eq!(there, Err("degree_days"), "{bad}");
        let there = arrival(&northern(), Cover::Open, from, SINE, warmth, need);
        assert_eq!(
            there.map_err(|error| error.field()),
            Err("degree_days"),
            "{bad}"
        );
    }
    assert_eq!(
        series.arrival(SINE, warmth, DegreeDays(50.0)),
        Err(AgronomyError::NotReached {
            field: "degree_days",
            limit: 1.0
        })
    );
}

/// A climate and a series of the same days give the same sums and dates.
#[test]
fn a_measured_series_sums_like_the_climate_it_was_taken_from() {
    let climate = northern();
    let first = date(2027, 3, 1);
    let days: Vec<_> = first
        .iter_days()
        .take(200)
        .map(|day| climate.day(day))
        .collect();
    let series = Series::new(first, &days).unwrap();
    assert_eq!((series.first(), series.days()), (first, 200));
    let warmth = thresholds(5.0, Some(28.0));
    for method in METHODS {
        let whole = accumulate(
            &climate,
            Cover::Open,
            first,
            first + Days::new(200),
            method,
            warmth,
        );
        assert_eq!(series.degree_days(method, warmth), whole);
        let half = DegreeDays(whole.0 / 2.0);
        assert_eq!(
            series.arrival(method, warmth, half),
            arrival(&climate, Cover::Open, first, method, warmth, half)
        );
        assert_eq!(series.arrival(method, warmth, DegreeDays(0.0)), Ok(first));
        assert_eq!(
            series.arrival(method, warmth, whole),
            Ok(first + Days::new(200))
        );
    }
}

/// Too much heat takes development back by two of the cutoffs: a day that peaks
/// at 40 gives less than one that peaks at 30, which a horizontal cutoff denies.
#[test]
fn two_cutoffs_take_heat_back() {
    let warmth = thresholds(10.0, Some(30.0));
    for method in METHODS {
        let of = |max| method.of_day(day(20.0, max), warmth);
        assert_eq!(of(40.0) >= of(30.0), is_monotone(method), "{method:?}");
    }
}

proptest! {
    #[test]
    fn degree_days_are_never_negative_and_grow_with_warmth(
        min in -30.0f64..34.0, swing in 0.0f64..25.0, more_min in 0.0f64..10.0, more_max in 0.0f64..10.0,
        base in -5.0f64..20.0, room in 0.5f64..25.0, capped: bool,
    ) {
        let warmth = thresholds(base, capped.then_some(base + room));
        let cool = day(min, min + swing);
        let higher_night = (min + more_min).min(min + swing);
        for method in METHODS {
            let of = |day| method.of_day(day, warmth).0;
            prop_assert!(of(cool) >= 0.0);
            if capped && method != Method::SimpleAverage && method != Method::ModifiedAverage {
                prop_assert!(of(cool) <= room + 1e-9, "{:?}", method);
            }
            if !capped || is_monotone(method) {
                let warmer_night = of(day(higher_night, min + swing));
                prop_assert!(warmer_night + 1e-9 >= of(cool), "{:?}", method);
                let warmer_day = of(day(min, min + swing + more_max));
                prop_assert!(warmer_day + 1e-9 >= of(cool), "{:?}", method);
            }
        }
    }

    #[test]
    fn thresholds_move_the_sum_their_own_way(
        min in -20.0f64..30.0, swing in 0.0f64..25.0, base in -5.0f64..20.0, room in 1.0f64..20.0,
        shift in 0.0f64..0.9, along in -15.0f64..15.0,
    ) {
        let today = day(min, min + swing);
        let moved = day(min + along, min + swing + along);
        for method in METHODS {
            let of = |base: f64, ceiling: f64| method.of_day(today, thresholds(base, Some(ceiling))).0;
            let plain = of(base, base + room);
            // A higher base never gives more, a higher ceiling never less.
            prop_assert!(of(base + shift * room, base + room) <= plain + 1e-9, "{:?}", method);
            if is_monotone(method) {
                prop_assert!(of(base, base + room + shift) + 1e-9 >= plain, "{:?}", method);
            }
            // Temperatures and thresholds moved together change nothing.
            let together = thresholds(base + along, Some(base + room + along));
            prop_assert!((method.of_day(moved, together).0 - plain).abs() < 1e-9, "{:?}", method);
        }
        // The horizontal cutoff is what lies above the base less what lies above the ceiling.
        let above = |level| SINE.of_day(today, thresholds(level, None)).0;
        let between = SINE.of_day(today, thresholds(base, Some(base + room))).0;
        prop_assert!((above(base) - above(base + room) - between).abs() < 1e-9);
    }

    #[test]
    fn the_sum_of_warmth_never_falls_and_splits_anywhere(
        start in 0u64..365, first in 0u64..200, second in 0u64..200, which in 0usize..7,
    ) {
        let climate = northern();
        let from = date(2027, 1, 1) + Days::new(start);
        let (middle, end) = (from + Days::new(first), from + Days::new(first + second));
        let warmth = thresholds(5.0, Some(30.0));
        let sum = |from, to| accumulate(&climate, Cover::Open, from, to, METHODS[which], warmth).0;
        prop_assert!(sum(from, end) + 1e-9 >= sum(from, middle));
        prop_assert!((sum(from, middle) + sum(middle, end) - sum(from, end)).abs() < 1e-6);
    }
}
