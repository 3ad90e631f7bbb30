use agronomy::bloom::{BloomFigures, StageKnown, first_bloom};
use agronomy::climate::Cover;
use agronomy::posterior::LogNormalPrior;
use proptest::prelude::*;

use super::evidence::Ratio;
use super::figures::{Both, by_ratio};
use super::*;
use crate::fact::*;
use crate::forecast::{of_planting, shifted};
use crate::review::tests::{cleared, cut};
use crate::sample::Sample;
use crate::words::Manner;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn year(sample: &Sample) -> Vec<Suggestion> {
    let (from, to) = (day("2027-01-01"), day("2027-12-31"));
    sample.with(|almanac| suggest(almanac, from, to, to))
}

fn of<'s>(
    suggestions: &'s [Suggestion],
    variety: &VarietyId,
    figure: &str,
) -> Option<&'s Suggestion> {
    let hit = |one: &&Suggestion| one.variety == *variety && one.figure == figure;
    suggestions.iter().find(hit)
}

/// Sown on 20 May into a bed of its own, cut four times and cleared.
fn planting(
    sample: &mut Sample,
    variety: &VarietyId,
    plants: u32,
    stems: u32,
    culls: u32,
) -> PlantingId {
    let bed = sample.bed(&format!("bed-of-{variety}"), 10.0);
    let planting = sample.sown_in_bed(variety, &bed, "2027-05-20", plants);
    for n in 0..4 {
        cut(
            sample,
            &planting,
            shifted(day("2027-07-20"), 10 * n),
            stems / 4,
            culls / 4,
        );
    }
    cleared(sample, &planting, "2027-10-10");
    planting
}

#[test]
fn without_records_nothing_is_suggested() {
    let mut sample = Sample::new();
    let variety = sample.variety("zin", "zinnia", "red");
    let bed = sample.bed("bed", 10.0);
    assert_eq!(year(&sample), Vec::new());
    // Planted only, cleared without a cut, and cut the year before.
    let planting = sample.sown_in_bed(&variety, &bed, "2027-05-20", 60);
    assert_eq!(year(&sample), Vec::new());
    cleared(&mut sample, &planting, "2027-09-01");
    let earlier = sample.sown_in_bed(&variety, &bed, "2026-05-20", 60);
    cut(&mut sample, &earlier, day("2026-08-01"), 900, 500);
    assert_eq!(year(&sample), Vec::new());
}

#[test]
fn stems_and_culls_move_figures_towards_what_was_seen_but_not_all_the_way() {
    let mut sample = Sample::new();
    let variety = sample.variety("zin", "zinnia", "red");
    planting(&mut sample, &variety, 100, 2000, 2000);
    let found = year(&sample);
    let stems = of(&found, &variety, "stems_per_plant_season").unwrap();
    assert!(stems.after > stems.before * 1.05, "{stems:?}");
    assert!(stems.low < stems.after && stems.after < stems.high);
    assert_eq!((stems.rests_on.plantings, stems.rests_on.count), (1, 100));
    assert!((0.2..0.9).contains(&stems.rests_on.weight), "{stems:?}");
    let share = of(&found, &variety, "marketable_field").unwrap();
    assert!(share.after < share.before && share.after > 0.5, "{share:?}");
    assert_eq!(share.rests_on.count, 4000);
    assert_eq!(of(&found, &variety, "marketable_tunnel"), None);
    let said = stems.say.write(Manner::default());
    assert!(
        said.starts_with("Variety zin: ") && !said.contains('{'),
        "{said}"
    );
    assert!(
        stems
            .reasons
            .iter()
            .all(|reason| !reason.say.write(Manner::default()).contains('{'))
    );
}

/// Where the grower notes no culls, nothing is said of the share that sells.
#[test]
fn culls_that_nobody_counts_are_not_taken_for_none() {
    let mut sample = Sample::new();
    let variety = sample.variety("zin", "zinnia", "red");
    planting(&mut sample, &variety, 100, 2000, 0);
    let found = year(&sample);
    assert_eq!(of(&found, &variety, "marketable_field"), None);
    assert!(of(&found, &variety, "stems_per_plant_season").is_some());
}

#[test]
fn plantings_still_in_cut_say_nothing_of_their_yield() {
    let mut sample = Sample::new();
    let variety = sample.variety("liz", "eustoma", "white");
    let bed = sample.bed("bed", 10.0);
    let planting = sample.sown_in_bed(&variety, &bed, "2027-03-01", 100);
    let bloom = sample.with(|almanac| {
        let planting = &almanac.season().plantings[&planting];
        of_planting(almanac, planting, planting.date)
            .bloom
            .unwrap()
            .p50
    });
    cut(&mut sample, &planting, bloom, 10, 0);
    let (from, today) = (day("2027-01-01"), shifted(bloom, 2));
    let found = sample.with(|almanac| suggest(almanac, from, today, today));
    assert_eq!(of(&found, &variety, "stems_per_plant_season"), None);
}

#[test]
fn other_varieties_of_the_crop_have_a_say_but_no_figure_without_own_records() {
    let mut alone = Sample::new();
    let first = alone.variety("a", "zinnia", "red");
    planting(&mut alone, &first, 40, 600, 0);
    let weight = |sample: &Sample| {
        of(&year(sample), &first, "stems_per_plant_season")
            .unwrap()
            .rests_on
            .weight
    };
    let before = weight(&alone);
    let second = alone.variety("b", "zinnia", "white");
    let unsown = alone.variety("c", "zinnia", "pink");
    planting(&mut alone, &second, 40, 600, 0);
    assert!(weight(&alone) > before);
    assert!(year(&alone).iter().all(|one| one.variety != unsown));
}

/// The way to bloom that was put in comes out again.
#[test]
fn a_line_that_needs_a_longer_way_to_bloom_is_found_out() {
    for (times, pinched) in [(1.25, None), (0.8, None), (1.25, Some("2027-06-20"))] {
        let mut sample = Sample::new();
        let variety = sample.variety("zin", "zinnia", "red");
        let bed = sample.bed("bed", 10.0);
        let planting = sample.sown_in_bed(&variety, &bed, "2027-05-20", 100);
        let (usual, bloom) = sample.with(|almanac| {
            let planting = &almanac.season().plantings[&planting];
            let usual = of_planting(almanac, planting, planting.date)
                .bloom
                .unwrap()
                .p50;
            let figures = almanac.crop(&variety).unwrap().bloom_figures(None).unwrap();
            let climate = almanac.climate().unwrap();
            // The zinnia's way counts from its transplant; the day it counts from is where the usual way leads back to.
            let start =
                agronomy::bloom::planting_for_bloom(&figures, usual, climate, Cover::Open).unwrap();
            let line = BloomFigures {
                line_factor: times,
                ..figures
            };
            let bloom =
                first_bloom(&line, start, climate, Cover::Open, StageKnown::Planted).unwrap();
            (usual, bloom.p50)
        });
        assert_ne!(usual, bloom);
        let late = i64::from(pinched.is_some()) * 10;
        if let Some(date) = pinched {
            sample.add(PinchedFact::new(planting.clone(), day(date)));
        }
        cut(&mut sample, &planting, shifted(bloom, late), 10, 0);
        let found = year(&sample);
        let one = of(&found, &variety, "own_bloom_factor").unwrap();
        // One planting of which half and more is believed.
        let believed = 1.0 / (1.0 + (0.06f64 / 0.1).powi(2));
        let wanted = times.powf(believed);
        assert!((one.after - wanted).abs() < 0.02, "{times}: {one:?}");
        assert!((one.rests_on.weight - believed).abs() < 1e-9);
    }
}

#[test]
fn germination_moves_by_fresh_seed_only() {
    let mut sample = Sample::new();
    let variety = sample.variety("zin", "zinnia", "red");
    let sow = |sample: &mut Sample, lot: Option<&str>| {
        let sowing = sample.add(SownFact {
            lot: lot.map(|lot| LotId::new(lot).unwrap()),
            ..SownFact::new(variety.clone(), 200, day("2027-04-01"))
        });
        sample.counted(&sowing.into(), "2027-05-01", 80);
    };
    sample.add(SeedLotFact {
        variety: Some(variety.clone()),
        year: Some(2024),
        ..SeedLotFact::new(LotId::new("old").unwrap())
    });
    sow(&mut sample, Some("old"));
    assert_eq!(of(&year(&sample), &variety, "germination_pct"), None);
    sow(&mut sample, None);
    let found = year(&sample);
    let one = of(&found, &variety, "germination_pct").unwrap();
    assert!(one.after < one.before && one.after > 40.0, "{one:?}");
    assert_eq!(one.rests_on.count, 200);
}

/// A small generator of even numbers between 0 and 1 (Numerical Recipes' linear congruence, from memory).
struct Dice(u64);

impl Dice {
    fn even(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    /// Nearly normal: twelve even numbers less six.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.even()).sum::<f64>() - 6.0
    }
}

/// Yields of lines that differ as the prior says, in seasons whose weather all their plantings share by half.
#[test]
fn eighty_in_a_hundred_intervals_hold_a_varietys_true_yield() {
    let mut dice = Dice(3);
    let (of_lines, between) = (0.4, 0.34f64);
    for plantings in [1, 2, 5] {
        let runs = 1000;
        let mut held = 0;
        for _ in 0..runs {
            let truth = (of_lines * dice.normal()).exp();
            let season = between * 0.5f64.sqrt() * dice.normal();
            let own = (0..plantings)
                .map(|_| Ratio {
                    times: truth * (season + between * 0.5f64.sqrt() * dice.normal()).exp(),
                    weight: 1.0,
                    plants: 100,
                })
                .collect();
            let seen = Both {
                own,
                others: Vec::new(),
            };
            let prior = LogNormalPrior::new(1.0, of_lines).unwrap();
            let after = by_ratio(1.0, prior, between, &seen).unwrap().after;
            held += u32::from((after.low..=after.high).contains(&truth));
        }
        let share = f64::from(held) / f64::from(runs);
        assert!((0.76..=0.84).contains(&share), "{plantings}: {share}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn suggestions_keep_within_limits_and_move_by_something(
        plants in 0u32..5000, stems in 0u32..100_000, culls in 0u32..100_000, up in 0u32..400, late in -60i64..60,
        crop in prop_oneof![Just("zinnia"), Just("eustoma"), Just("tulipa"), Just("achillea"), Just("none")],
    ) {
        let mut sample = Sample::new();
        let variety = sample.variety("v", crop, "red");
        let bed = sample.bed("bed", 10.0);
        let planting = sample.sown_in_bed(&variety, &bed, "2027-05-20", plants);
        cut(&mut sample, &planting, shifted(day("2027-08-01"), late), stems, culls);
        cleared(&mut sample, &planting, "2027-11-10");
        let sowing = sample.sown(&variety, "2027-03-01", 400);
        sample.counted(&sowing, "2027-04-20", up);
        for one in year(&sample) {
            let (least, most) = allowed(one.figure).unwrap_or((0.4, 2.0));
            prop_assert!(least <= one.low && one.high <= most, "{one:?}");
            prop_assert!(one.low <= one.after && one.after <= one.high, "{one:?}");
            prop_assert!((one.after - one.before).abs() > 0.0299, "{one:?}");
            prop_assert!(one.rests_on.weight > 0.0 && one.rests_on.weight < 1.0);
            prop_assert!(one.rests_on.plantings > 0);
        }
    }
}
