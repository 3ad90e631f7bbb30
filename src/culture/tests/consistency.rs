//! The assumptions of the other crates: related figures are consistent, and emergence and bloom can be
//! computed from them.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::bloom::{StageKnown, first_bloom};
use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::emergence::outlook;
use agronomy::quantity::{Celsius, Latitude};
use chrono::NaiveDate;
use culture::{Basis, Confidence, Crop, Reference};

fn reference() -> Reference {
    Reference::builtin().expect("the compiled-in reference loads")
}

/// The thermal time is warm days times the degree-days of a day at 20 degrees, and no crop is quicker in the
/// cool than in the warm.
#[test]
fn days_and_thermal_time_are_consistent() {
    let reference = reference();
    for crop in reference.crops() {
        let (Some(cool), Some(warm)) = (
            crop.figure("days_transplant_to_first_bloom_cool"),
            crop.figure("days_transplant_to_first_bloom_warm"),
        ) else {
            panic!("{} has no days", crop.id());
        };
        let (cool, warm) = (cool.spread(), warm.spread());
        assert!(cool.1 >= warm.1, "{}", crop.id());
        assert!(cool.0 >= warm.0 && cool.2 >= warm.2, "{}", crop.id());

        let thermal = crop.figure("thermal_time_transplant_to_bloom_cd");
        let counts = !matches!(crop.basis(), Basis::SpringShoots | Basis::AcrossWinter);
        assert_eq!(thermal.is_some(), counts, "{}", crop.id());
        if let Some(thermal) = thermal {
            let base = crop.typical("base_temp_c").unwrap();
            assert!((thermal.typical - warm.1 * (20.0 - base)).abs() < 1e-9);
            assert_eq!(thermal.confidence, Confidence::Derived);
        }
    }
}

/// Long-day crops have full hours above their least, short-day crops below; a crop without a slowdown does
/// not bloom at its least.
#[test]
fn day_length_figures_are_complete() {
    let reference = reference();
    let mut obligate = Vec::new();
    for crop in reference.crops() {
        let full = crop.typical("daylength_full_h");
        let least = crop.typical("daylength_least_h");
        let slowdown = crop.typical("daylength_slowdown");
        assert_eq!(full.is_some(), least.is_some(), "{}", crop.id());
        assert!(full.is_some() || slowdown.is_none(), "{}", crop.id());
        if let (Some(full), Some(least)) = (full, least) {
            assert!((full - least).abs() >= 1.0, "{}", crop.id());
            if slowdown.is_none() {
                obligate.push(crop.id().as_str());
            }
        }
    }
    assert_eq!(
        obligate,
        [
            "campanula_medium",
            "craspedia",
            "rudbeckia",
            "trachelium",
            "tanacetum"
        ]
    );
    let short_day = |id: &str| {
        let crop = reference.crop(id).unwrap();
        crop.typical("daylength_full_h") < crop.typical("daylength_least_h")
    };
    assert!(short_day("tagetes") && short_day("helianthus") && !short_day("rudbeckia"));
}

/// Eustoma: group 1 blooms 10 to 14 days before group 2, group 3 about 7 to 14 days after it (Utah State
/// University Extension, Lisianthus Cut Flower Production in Utah). Antirrhinum: 681 degree-days above 4.6 C
/// for one early line, fitted to Munir et al. 2015, Pakistan Journal of Botany 47:1717.
#[test]
fn bloom_groups_agree_with_published_figures() {
    let reference = reference();
    for crop in reference.crops() {
        let factors: Vec<f64> = (1..=4)
            .filter_map(|group| crop.typical(&format!("group_{group}_factor")))
            .collect();
        assert_eq!(
            factors.len(),
            usize::from(crop.bloom_groups()),
            "{}",
            crop.id()
        );
        assert!(factors.is_sorted(), "{}", crop.id());
    }
    let eustoma = reference.crop("eustoma").unwrap();
    let days = eustoma
        .typical("days_transplant_to_first_bloom_warm")
        .unwrap();
    let at = |group: u8| days * eustoma.typical(&format!("group_{group}_factor")).unwrap();
    assert!((10.0..=14.0).contains(&(at(2) - at(1))));
    assert!((7.0..=14.0).contains(&(at(3) - at(2))));
    let snapdragon = reference.crop("antirrhinum").unwrap();
    let early = snapdragon.typical("group_1_factor").unwrap()
        * snapdragon
            .typical("thermal_time_transplant_to_bloom_cd")
            .unwrap();
    assert!((early - 681.0).abs() < 7.0, "{early}");
}

fn temperate() -> Climate {
    let tmin = [-10., -9., -4., 1., 7., 12., 14., 13., 9., 3., -2., -7.].map(Celsius);
    let tmax = [-1., 1., 6., 14., 21., 25., 28., 27., 23., 15., 8., 2.].map(Celsius);
    let frost = FrostDates {
        last_p50: (5, 15),
        last_p10: (5, 28),
        first_p50: (10, 1),
        first_p10: (9, 18),
    };
    Climate::new(
        Latitude::new(44.0).unwrap(),
        Normals::new(tmin, tmax).unwrap(),
        frost,
    )
    .unwrap()
}

#[test]
fn emergence_and_bloom_can_be_computed_for_every_crop() {
    let climate = temperate();
    let planted = NaiveDate::from_ymd_opt(2027, 5, 20).unwrap();
    for crop in reference().crops() {
        let usual = crop.emergence_usual().unwrap();
        let outlook = outlook(&usual, 60, &[]).unwrap();
        let up = outlook.final_up.p50 / 60.0;
        assert!((up - usual.germination).abs() < 0.08, "{} {up}", crop.id());

        let Some(figures) = crop.bloom_figures(None) else {
            assert_eq!(crop.basis(), Basis::SpringShoots, "{}", crop.id());
            continue;
        };
        let bloom = first_bloom(
            &figures,
            planted,
            &climate,
            Cover::Open,
            StageKnown::Planted,
        )
        .unwrap();
        let days = (bloom.p50 - planted).num_days() as f64;
        // In a temperate summer, bloom is within the range of the reference, with some slack for nights below
        // the base.
        let least = figures.days_warm.0 * 0.85;
        let most = figures.days_cool.2 * 1.1;
        assert!((least..=most).contains(&days), "{} {days}", crop.id());
    }
}

#[test]
fn bloom_groups_count_only_where_the_crop_has_them() {
    let reference = reference();
    let factor = |crop: &str, group| {
        reference
            .crop(crop)
            .and_then(|crop| crop.bloom_figures(group))
            .map(|figures| figures.line_factor)
    };
    assert_eq!(factor("antirrhinum", Some(9)), Some(1.0));
    assert_eq!(factor("antirrhinum", None), Some(1.0));
    assert_eq!(factor("zinnia", Some(3)), Some(1.0));
    let early = reference
        .crop("antirrhinum")
        .unwrap()
        .typical("group_1_factor");
    assert_eq!(factor("antirrhinum", Some(1)), early);
}

#[test]
fn day_length_figures_make_a_response_for_every_crop_that_has_them() {
    let reference = reference();
    for crop in reference.crops() {
        let given = crop.figure("daylength_full_h").is_some();
        assert_eq!(crop.day_length_response().is_some(), given, "{}", crop.id());
        assert_eq!(
            crop.figure("daylength_least_h").is_some(),
            given,
            "{}",
            crop.id()
        );
    }
    let response = |crop: &str| reference.crop(crop).and_then(Crop::day_length_response);
    assert!(response("rudbeckia").is_some_and(|r| r.is_long_day() && r.is_obligate()));
    assert!(response("helianthus").is_some_and(|r| !r.is_long_day() && !r.is_obligate()));
    assert!(response("eustoma").is_some_and(|r| r.is_long_day() && !r.is_obligate()));
}

/// Records of half as many stems again scale the range; other figures stay.
#[test]
fn learned_figures_scale_their_range() {
    let reference = Reference::builtin().unwrap();
    let crop = reference.crop("antirrhinum").unwrap();
    let known = crop.figure("stems_per_plant_season").unwrap().clone();
    let own = [("stems_per_plant_season".to_owned(), known.typical * 1.5)].into();
    let learned = crop.with_learned(&own).unwrap();
    let moved = learned.figure("stems_per_plant_season").unwrap();
    for (before, after) in [(known.low, moved.low), (known.high, moved.high)] {
        let (before, after) = (before.unwrap(), after.unwrap());
        assert!((after - before * 1.5).abs() < 1e-9, "{after}");
    }
    assert_eq!(learned.figure("spacing_cm"), crop.figure("spacing_cm"));
    let share = [("marketable_tunnel".to_owned(), 0.98)].into();
    let most = crop.with_learned(&share).unwrap();
    assert!(most.figure("marketable_tunnel").unwrap().high.unwrap() <= 1.0);
    let odd = [("marketable_tunnel".to_owned(), 1.5)].into();
    assert!(crop.with_learned(&odd).is_err());
}
