//! Properties of bloom forecasts for any site.

#![allow(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "a check that cannot be set up must stop, and some results are exact"
)]

mod place;

use agronomy::AgronomyError;
use agronomy::bloom::{
    BloomFigures, DayLengthResponse, Pace, StageKnown, first_bloom, planting_for_bloom,
};
use agronomy::climate::{Climate, Cover};
use agronomy::quantity::{Celsius, DegreeDays, Hours};
use chrono::{Days, NaiveDate};
use place::{FROST, date, northern, place};
use proptest::prelude::*;

fn slow_line(line_factor: f64) -> BloomFigures {
    BloomFigures {
        base: Celsius(5.0),
        ceiling: None,
        thermal_time: Some(DegreeDays(955.0)),
        days_cool: (85.0, 105.0, 130.0),
        days_warm: (60.0, 75.0, 95.0),
        harvest_window_days: 30.0,
        line_factor,
        day_length: None,
        pace: Pace::Cool,
    }
}

#[test]
fn a_later_line_blooms_later_and_the_tunnel_sooner() {
    let climate = northern();
    let planted = date(2027, 4, 20);
    let bloom = |factor, cover| {
        let figures = slow_line(factor);
        first_bloom(&figures, planted, &climate, cover, StageKnown::Planted)
            .unwrap()
            .p50
    };
    for cover in [Cover::Open, Cover::Tunnel] {
        let dates: Vec<NaiveDate> = [0.85, 0.95, 1.0, 1.05, 1.15]
            .into_iter()
            .map(|factor| bloom(factor, cover))
            .collect();
        assert!(dates.windows(2).all(|pair| pair[0] < pair[1]), "{dates:?}");
    }
    assert!(bloom(0.85, Cover::Tunnel) < bloom(0.85, Cover::Open));
}

#[test]
fn bloom_follows_the_response_to_day_length() {
    let climate = northern();
    let planted = date(2027, 3, 20);
    let bloom = |quickest, slowest, slowdown| {
        let day_length = DayLengthResponse::new(Hours(quickest), Hours(slowest), slowdown).unwrap();
        let figures = BloomFigures {
            day_length: Some(day_length),
            ..slow_line(1.0)
        };
        first_bloom(
            &figures,
            planted,
            &climate,
            Cover::Tunnel,
            StageKnown::Planted,
        )
        .map(|bloom| bloom.p50)
    };
    let plain = first_bloom(
        &slow_line(1.0),
        planted,
        &climate,
        Cover::Tunnel,
        StageKnown::Planted,
    )
    .unwrap()
    .p50;
    // Days in March and April are shorter than 16 hours at 44 degrees.
    assert!(bloom(16.0, 12.0, Some(1.3)).unwrap() > plain);
    assert!(bloom(16.0, 12.0, None).unwrap() > bloom(16.0, 12.0, Some(1.3)).unwrap());
    assert!(bloom(12.0, 16.0, Some(1.3)).unwrap() < plain);
    // No day at this latitude is shorter than 6 hours: it never blooms.
    assert!(matches!(
        bloom(5.0, 6.0, None),
        Err(AgronomyError::NotReached {
            field: "first_bloom",
            ..
        })
    ));
}

#[test]
fn the_band_narrows_as_more_is_known() {
    let climate = northern();
    let planted = date(2027, 5, 20);
    let width = |pace, known| {
        let figures = BloomFigures {
            pace,
            ..slow_line(1.0)
        };
        let bloom = first_bloom(&figures, planted, &climate, Cover::Open, known).unwrap();
        assert!(bloom.p10 <= bloom.p50 && bloom.p50 <= bloom.p90);
        (bloom.p90 - bloom.p10).num_days()
    };
    let stages = [
        StageKnown::Sown,
        StageKnown::Planted,
        StageKnown::VisibleBud,
        StageKnown::FirstColour,
    ];
    for pace in [Pace::Warm, Pace::Cool, Pace::Slow] {
        let widths: Vec<i64> = stages.iter().map(|stage| width(pace, *stage)).collect();
        assert!(
            widths.windows(2).all(|pair| pair[0] > pair[1]),
            "{widths:?}"
        );
    }
    // 5 days either side of a 90 % band is 3.9 of an 80 % band, less half a day at either end.
    assert_eq!(width(Pace::Cool, StageKnown::VisibleBud), 6);
}

/// By hand: at a constant 20 degrees a thermal time of 955 above 5 degrees takes 63.7 days; low and high days
/// are 60/75 and 95/75 of that.
#[test]
fn once_the_weather_is_measured_only_the_crops_range_remains() {
    let even = place(44.0, [15.0; 12], [25.0; 12], FROST);
    let planted = date(2027, 5, 20);
    let band = |climate: &Climate| {
        let known = StageKnown::Planted;
        let bloom = first_bloom(&slow_line(1.0), planted, climate, Cover::Open, known).unwrap();
        bloom.map(|date| (date - planted).num_days())
    };
    let measured = planted
        .iter_days()
        .take(100)
        .fold(even.clone(), |climate, day| {
            climate
                .with_observed(day, Cover::Open, Celsius(15.0), Celsius(25.0))
                .unwrap()
        });
    let (open, known) = (band(&even), band(&measured));
    assert_eq!((known.p10, known.p50, known.p90), (52, 64, 81));
    assert_eq!(open.p50, 64);
    assert!(open.p10 < known.p10 && known.p90 < open.p90, "{open:?}");
}

/// Warm weeks measured before and after planting bring bloom forward: directly, and through the expected
/// anomaly of later days.
#[test]
fn measured_warm_days_bring_bloom_forward_and_narrow_its_band() {
    let planted = date(2027, 4, 20);
    let warmer = |climate: Climate, from: NaiveDate, days: usize| {
        from.iter_days().take(days).fold(climate, |climate, day| {
            let (min, max) = northern().day(day);
            let (min, max) = (Celsius(min.0 + 3.0), Celsius(max.0 + 3.0));
            climate.with_observed(day, Cover::Open, min, max).unwrap()
        })
    };
    let bloom = |climate: &Climate| {
        let known = StageKnown::Planted;
        first_bloom(&slow_line(1.0), planted, climate, Cover::Open, known).unwrap()
    };
    let usual = bloom(&northern());
    // Days before planting do not count themselves.
    let before = bloom(&warmer(northern(), planted - Days::new(28), 28));
    let since = bloom(&warmer(northern(), planted, 28));
    assert!(before.p50 < usual.p50, "{before:?} {usual:?}");
    assert!(since.p50 < before.p50, "{since:?} {before:?}");
    let width = |bloom: agronomy::quantity::Spread<NaiveDate>| bloom.p90 - bloom.p10;
    assert!(width(since) < width(usual));
    // Measurements of a year ago have no effect.
    assert_eq!(
        bloom(&warmer(northern(), planted - Days::new(365), 28)),
        usual
    );
}

#[test]
fn without_a_thermal_time_the_cool_and_warm_days_count() {
    // Sites with a constant mean of 20 degrees, of 12, and so on.
    let even = |mean: f64| place(44.0, [mean - 5.0; 12], [mean + 5.0; 12], FROST);
    let figures = BloomFigures {
        thermal_time: None,
        ..slow_line(1.0)
    };
    let planted = date(2027, 5, 20);
    let days = |mean: f64| {
        let bloom = first_bloom(
            &figures,
            planted,
            &even(mean),
            Cover::Open,
            StageKnown::Planted,
        )
        .unwrap();
        (bloom.p50 - planted).num_days()
    };
    assert_eq!(days(20.0), 75);
    assert_eq!(days(12.0), 105);
    assert!((76..105).contains(&days(16.0)));
    // Limited to the range of the figures at any temperature.
    assert_eq!(days(40.0), 60);
    assert_eq!(days(-10.0), 130);
}

#[test]
fn invalid_figures_are_refused() {
    let climate = northern();
    let good = slow_line(0.95);
    for bad in [
        BloomFigures {
            line_factor: 0.0,
            ..good
        },
        BloomFigures {
            base: Celsius(f64::NAN),
            ..good
        },
        BloomFigures {
            ceiling: Some(Celsius(4.0)),
            ..good
        },
        BloomFigures {
            thermal_time: Some(DegreeDays(-1.0)),
            ..good
        },
        BloomFigures {
            days_warm: (60.0, 50.0, 70.0),
            ..good
        },
    ] {
        let planted = date(2027, 5, 20);
        let bloom = first_bloom(&bad, planted, &climate, Cover::Open, StageKnown::Planted);
        assert!(bloom.is_err(), "{bad:?}");
        assert!(planting_for_bloom(&bad, planted, &climate, Cover::Open).is_err());
    }
}

proptest! {
    #[test]
    fn planting_later_never_blooms_sooner(start in 0u64..365, later in 0u64..60) {
        let climate = northern();
        let planted = date(2027, 1, 1) + Days::new(start);
        let bloom = |planted| {
            first_bloom(&slow_line(1.0), planted, &climate, Cover::Open, StageKnown::Planted).unwrap().p50
        };
        prop_assert!(bloom(planted + Days::new(later)) >= bloom(planted));
    }

    #[test]
    fn the_planting_date_found_is_the_latest_possible(week in 0u64..70) {
        let climate = northern();
        let bloom_by = date(2027, 1, 1) + Days::new(week * 7);
        let figures = slow_line(1.05);
        let planted = planting_for_bloom(&figures, bloom_by, &climate, Cover::Tunnel).unwrap();
        let bloom = |planted| {
            first_bloom(&figures, planted, &climate, Cover::Tunnel, StageKnown::Sown).unwrap().p50
        };
        prop_assert!(bloom(planted) <= bloom_by);
        prop_assert!(bloom(planted + Days::new(1)) > bloom_by);
    }
}
