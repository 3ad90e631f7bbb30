//! What the reference promises: every crop loads, every figure has a source and
//! is possible, and the computing rooms can use what they get.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::float_cmp,
    reason = "a check that cannot be set up must stop, and some results are exact"
)]

use std::collections::{BTreeMap, BTreeSet};

use agronomy::bloom::{StageKnown, first_bloom};
use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::emergence::outlook;
use agronomy::quantity::{Celsius, Latitude};
use chrono::NaiveDate;
use culture::{
    Basis, Confidence, CultureError, MatUse, Reference, SourceStatus, Unit, allowed, unit,
};

/// Figures that every crop must have for the plan to reckon with.
const EVERY_CROP_HAS: [&str; 20] = [
    "base_temp_c",
    "bunch_size",
    "cold_storage_c",
    "cold_storage_max_days",
    "days_to_emergence_first_typ_most",
    "days_transplant_to_first_bloom_cool",
    "days_transplant_to_first_bloom_warm",
    "flushes",
    "germination_pct",
    "germination_soil_temp_c",
    "hardening_off_days",
    "harvest_window_days",
    "marketable_field",
    "marketable_tunnel",
    "min_safe_night_c_hardened_plants",
    "outdoor_planting_weeks_vs_last_frost",
    "spacing_cm",
    "stems_per_plant_season",
    "unheated_tunnel_planting_weeks_vs_last_frost",
    "weeks_sow_to_transplant",
];

/// Notes that every screen counts on.
const EVERY_CROP_SAYS: [&str; 8] = [
    "dome_rule",
    "harvest_stage",
    "hazards",
    "heat_mat_rule",
    "notes",
    "pinch",
    "support",
    "temperature_hazards",
];

fn reference() -> Reference {
    Reference::builtin().expect("the compiled-in reference loads")
}

#[test]
fn all_crops_load_with_what_the_plan_needs() {
    let reference = reference();
    assert_eq!(reference.crops().len(), 56);
    for crop in reference.crops() {
        for name in EVERY_CROP_HAS {
            assert!(crop.figure(name).is_some(), "{} lacks {name}", crop.id());
        }
        for name in EVERY_CROP_SAYS {
            let text = crop.text(name).map_or("", |note| note.text.trim());
            assert!(!text.is_empty(), "{} says nothing of {name}", crop.id());
        }
        assert!(!crop.roles().is_empty(), "{} has no role", crop.id());
        assert!(reference.crop(crop.id().as_str()) == Some(crop));
    }
    assert!(reference.crop("no_such_crop").is_none());
}

#[test]
fn every_figure_is_possible_in_order_and_sourced() {
    let reference = reference();
    let mut seen = BTreeSet::new();
    for crop in reference.crops() {
        for name in crop.figure_names() {
            let range = crop.figure(name).unwrap();
            let (low, typical, high) = range.spread();
            assert!(low <= typical && typical <= high, "{} {name}", crop.id());
            assert!(unit(name).is_some_and(|unit| !unit.is_empty()), "{name}");
            let (least, most) = allowed(name).unwrap();
            assert!(least <= low && high <= most, "{} {name}", crop.id());
            assert!(!range.src.is_empty(), "{} {name}", crop.id());
            assert_ne!(range.confidence, Confidence::Grower);
            seen.extend(range.src.iter().cloned());
        }
        for name in crop.text_names() {
            let note = crop.text(name).unwrap();
            assert!(!note.src.is_empty(), "{} {name}", crop.id());
            seen.extend(note.src.iter().cloned());
        }
    }
    for key in &seen {
        let source = reference.source(key);
        assert!(
            source.is_some_and(|source| source.reference.len() > 10),
            "{key}"
        );
    }
}

#[test]
fn a_figure_called_sourced_names_more_than_memory() {
    let reference = reference();
    for crop in reference.crops() {
        for name in crop.figure_names() {
            let range = crop.figure(name).unwrap();
            if range.confidence == Confidence::Sourced {
                let read = |key: &String| {
                    let status = reference.source(key).map(|source| source.status);
                    matches!(status, Some(SourceStatus::Read | SourceStatus::PartRead))
                };
                assert!(range.src.iter().any(read), "{} {name}", crop.id());
            }
        }
    }
}

#[test]
fn crops_come_by_common_name() {
    let reference = reference();
    let names: Vec<&str> = reference.crops().iter().map(|crop| crop.name()).collect();
    assert!(names.is_sorted(), "{names:?}");
}

/// What is compiled in goes to the phone: figures and notes, and the sources
/// that the app shows by their keys. What was published stays out of it.
#[test]
fn what_reaches_the_phone_stays_small() {
    let crops = include_str!("../data/crops.json").len();
    let sources = include_str!("../data/sources.json").len();
    assert!(crops < 124_000, "{crops} bytes");
    assert!(sources < 16_000, "{sources} bytes");
}

/// Degree-days are warm days times the warmth of a day at 20 degrees, and no
/// crop is quicker in the cool than in the warm.
#[test]
fn days_and_warmth_hang_together() {
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

/// Long-day crops have their full hours above their least, short-day crops below;
/// a crop with no slowdown does not bloom at its least.
#[test]
fn day_length_figures_come_together() {
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

/// Eustoma: group 1 blooms 10 to 14 days before group 2, group 3 some 7 to 14
/// days after it (Utah State University Extension, Lisianthus Cut Flower
/// Production in Utah). Antirrhinum: 681 degree-days above 4.6 C for one early
/// line, fitted to Munir et al. 2015, Pakistan Journal of Botany 47:1717.
#[test]
fn bloom_groups_follow_what_is_published() {
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

#[test]
fn rules_bring_their_figures_along() {
    let reference = reference();
    for crop in reference.crops() {
        let share = crop.figure("mat_off_share");
        assert_eq!(
            share.is_none(),
            crop.mat_use() == MatUse::Never,
            "{}",
            crop.id()
        );
        if crop.unit() != Unit::Seed {
            assert!(crop.figure("dome_off_share").is_none(), "{}", crop.id());
        }
    }
    let typical = |crop: &str, name| reference.crop(crop).and_then(|crop| crop.typical(name));
    assert_eq!(typical("antirrhinum", "mat_off_share"), Some(0.5));
    assert_eq!(typical("zinnia", "mat_off_share"), Some(0.75));
    assert_eq!(typical("consolida", "chill_days"), Some(14.0));
    // The published share of saleable stems beats the usual one.
    assert_eq!(typical("antirrhinum", "marketable_field"), Some(0.46));
    assert_eq!(typical("zinnia", "marketable_field"), Some(0.7));
}

/// Utah's published trial figures for snapdragon (Lewis et al., HortScience,
/// 41.8 N, 2018-2019): 65-89 % of tunnel stems and 34-58 % of field stems
/// saleable, first planting in March under the tunnel, mid April outdoors.
#[test]
fn snapdragon_carries_the_published_trial_figures() {
    let reference = reference();
    let crop = reference.crop("antirrhinum").unwrap();
    assert_eq!(crop.bloom_groups(), 4);
    let tunnel = crop.figure("marketable_tunnel").unwrap();
    assert_eq!(tunnel.spread(), (0.65, 0.77, 0.89));
    assert_eq!(tunnel.src, ["LEWIS"]);
    assert!(
        reference
            .source("LEWIS")
            .unwrap()
            .reference
            .contains("HortScience")
    );
}

#[test]
fn the_growers_own_figures_replace_the_typical_ones() {
    let reference = reference();
    let crop = reference.crop("zinnia").unwrap();
    let own = |figures: &[(&str, f64)]| -> BTreeMap<String, f64> {
        figures
            .iter()
            .map(|(name, value)| ((*name).to_owned(), *value))
            .collect()
    };
    let base = crop.typical("base_temp_c").unwrap();

    let faster = crop
        .with_overrides(&own(&[("days_transplant_to_first_bloom_warm", 44.0)]))
        .unwrap();
    let days = faster
        .figure("days_transplant_to_first_bloom_warm")
        .unwrap();
    assert_eq!(days.confidence, Confidence::Grower);
    assert_eq!(days.spread(), (44.0, 44.0, 60.0));
    let thermal = faster
        .typical("thermal_time_transplant_to_bloom_cd")
        .unwrap();
    assert!((thermal - 44.0 * (20.0 - base)).abs() < 1e-9);
    assert_eq!(faster.typical("spacing_cm"), crop.typical("spacing_cm"));

    let given = crop
        .with_overrides(&own(&[
            ("days_transplant_to_first_bloom_warm", 44.0),
            ("thermal_time_transplant_to_bloom_cd", 700.0),
        ]))
        .unwrap();
    assert_eq!(
        given.typical("thermal_time_transplant_to_bloom_cd"),
        Some(700.0)
    );

    assert!(matches!(
        crop.with_overrides(&own(&[("petal_count", 5.0)])),
        Err(CultureError::NoSuchFigure { .. })
    ));
    for absurd in [-3.0, 4000.0, f64::NAN] {
        assert!(matches!(
            crop.with_overrides(&own(&[("spacing_cm", absurd)])),
            Err(CultureError::OutOfRange { .. })
        ));
    }
    assert_eq!(&crop.with_overrides(&BTreeMap::new()).unwrap(), crop);
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
fn every_crop_can_be_reckoned_with() {
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
        // Planted into a temperate summer, bloom falls within the reference's
        // own range, with the slack of a night below the base.
        let least = figures.days_warm.0 * 0.85;
        let most = figures.days_cool.2 * 1.1;
        assert!((least..=most).contains(&days), "{} {days}", crop.id());
    }
}

#[test]
fn bloom_groups_count_only_where_the_crop_has_them() {
    let reference = reference();
    let group = |crop: &str, group| {
        reference
            .crop(crop)
            .and_then(|crop| crop.bloom_figures(group))
            .and_then(|figures| figures.group)
    };
    assert_eq!(group("antirrhinum", Some(3)), Some(3));
    assert_eq!(group("antirrhinum", Some(9)), None);
    assert_eq!(group("zinnia", Some(3)), None);
}
