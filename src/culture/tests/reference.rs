//! Guarantees of the reference: every crop loads, and every figure has a source and is within its limits.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::float_cmp,
    reason = "a check that cannot be set up must stop, and some results are exact"
)]

use std::collections::{BTreeMap, BTreeSet};

use culture::{Confidence, CultureError, MatUse, Reference, SourceStatus, Unit, allowed, unit};

/// Figures that the plan needs for every crop.
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

/// Notes that the screens need for every crop.
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
fn every_figure_is_within_limits_in_order_and_sourced() {
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
fn sourced_figures_have_a_source_that_was_read() {
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
fn crops_are_sorted_by_common_name() {
    let reference = reference();
    let names: Vec<&str> = reference.crops().iter().map(|crop| crop.name()).collect();
    assert!(names.is_sorted(), "{names:?}");
}

/// The compiled-in data goes to the phone: figures, notes and sources, under 144 kB together; otherwise the
/// sources would have to be loaded separately. Published figures are not part of it.
#[test]
fn the_compiled_in_data_stays_small() {
    let crops = include_str!("../data/crops.json").len();
    let sources = include_str!("../data/sources.json").len();
    assert!(crops < 128_000, "{crops} bytes");
    assert!(sources < 16_000, "{sources} bytes");
}

#[test]
fn rules_add_their_figures() {
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
    // The published share of saleable stems overrides the default.
    assert_eq!(typical("antirrhinum", "marketable_field"), Some(0.46));
    assert_eq!(typical("zinnia", "marketable_field"), Some(0.7));
}

/// Utah's published trial figures for snapdragon (Lewis et al., HortScience, 41.8 N, 2018-2019): 65-89 % of
/// tunnel stems and 34-58 % of field stems saleable, first planting in March in the tunnel, mid April
/// outdoors.
#[test]
fn snapdragon_has_the_published_trial_figures() {
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
