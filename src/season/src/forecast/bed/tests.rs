//! A bed's forecast from planting to clearing.

use agronomy::quantity::Spread;

use super::*;
use crate::fact::*;
use crate::sample::Sample;

/// Zinnia: 8, 15 and 25 stems a plant, 60, 70 and 80 in 100 sell from the field (crop reference). 100 plants.
fn zinnias() -> (Sample, PlantingId) {
    let mut sample = Sample::new();
    let bed = sample.bed("b1", 10.0);
    let variety = sample.variety("z", "zinnia", "red");
    let planting = sample.sown_in_bed(&variety, &bed, "2027-05-20", 100);
    (sample, planting)
}

fn cut(sample: &mut Sample, planting: &PlantingId, date: &str, stems: u32, culls: u32) {
    let date = sample.day(date);
    sample.add(CutFact {
        culls,
        ..CutFact::new(planting.clone(), stems, date)
    });
}

fn asked(sample: &Sample, planting: &PlantingId, today: &str) -> BedForecast {
    let today = sample.day(today);
    sample.with(|almanac| of_planting(almanac, &almanac.season().plantings[planting], today))
}

fn width(of: Spread<f64>) -> f64 {
    of.p90 - of.p10
}

#[test]
fn before_cuts_the_band_is_the_crops_own_range() {
    let (sample, planting) = zinnias();
    let told = asked(&sample, &planting, "2027-05-20");
    // By hand: the ends of a product of two figures, each end a logarithm; frost leaves nearly all of it.
    let low = (15.0_f64 / 8.0).ln().hypot((0.7_f64 / 0.6).ln());
    let high = (25.0_f64 / 15.0).ln().hypot((0.8_f64 / 0.7).ln());
    let Spread { p10, p50, p90 } = told.total;
    assert!((900.0..=1050.0).contains(&p50), "{:?}", told.total);
    assert!((p10 / p50 - (-low).exp()).abs() < 1e-9);
    assert!((p90 / p50 - high.exp()).abs() < 1e-9);
    let weeks: f64 = told.weeks.iter().map(|(_, stems)| stems.p50).sum();
    assert!((weeks - p50).abs() < 1e-6);
    assert_eq!(told.flush, None);
}

#[test]
fn each_cut_moves_the_forecast_and_narrows_it() {
    let (mut sample, planting) = zinnias();
    let before = asked(&sample, &planting, "2027-07-20").total;
    // Poor cuts, all in the first third of the window.
    for (date, stems) in [
        ("2027-07-20", 10),
        ("2027-07-24", 20),
        ("2027-07-28", 28),
        ("2027-08-02", 36),
    ] {
        cut(&mut sample, &planting, date, stems, 0);
    }
    let poor = asked(&sample, &planting, "2027-08-02");
    assert!(
        poor.total.p50 < 0.75 * before.p50,
        "{:?} {before:?}",
        poor.total
    );
    assert!(width(poor.total) < width(before));
    assert_eq!((poor.cut, poor.cutting), (94, true));
    let to_come: f64 = poor.weeks.iter().map(|(_, stems)| stems.p50).sum();
    assert!((f64::from(poor.cut) + to_come - poor.total.p50).abs() < 1e-6);
    // Half as many culls again as stems sold: the rest sells as poorly.
    let (mut culled, planting) = zinnias();
    for (date, stems) in [
        ("2027-07-20", 10),
        ("2027-07-24", 20),
        ("2027-07-28", 28),
        ("2027-08-02", 36),
    ] {
        cut(&mut culled, &planting, date, stems, stems * 2);
    }
    let why = asked(&culled, &planting, "2027-08-02").why;
    let sold = why
        .iter()
        .find(|reason| reason.say.key() == "why.sold_so_far");
    assert!(sold.is_some(), "{why:?}");
}

#[test]
fn more_stems_than_ever_expected_are_believed() {
    let (mut sample, planting) = zinnias();
    let before = asked(&sample, &planting, "2027-07-20").total;
    for (date, stems) in [
        ("2027-07-20", 400),
        ("2027-07-24", 700),
        ("2027-07-28", 900),
        ("2027-08-02", 1100),
    ] {
        cut(&mut sample, &planting, date, stems, 0);
    }
    let told = asked(&sample, &planting, "2027-08-02");
    assert!(told.total.p10 > before.p90, "{:?} {before:?}", told.total);
    assert!(
        told.total.p50 > 1.4 * f64::from(told.cut),
        "{:?}",
        told.total
    );
}

#[test]
fn a_cleared_bed_gives_nothing_more() {
    let (mut sample, planting) = zinnias();
    cut(&mut sample, &planting, "2027-07-20", 40, 0);
    let date = sample.day("2027-07-25");
    sample.add(FinishedFact {
        planting: Some(planting.clone()),
        ..FinishedFact::new(date)
    });
    let told = asked(&sample, &planting, "2027-07-26");
    assert_eq!(told.total, Spread::exact(40.0));
    assert!(told.weeks.is_empty() && told.last_week.is_none());
}

/// Snapdragon: two flushes, 40 days apart (crop reference).
#[test]
fn a_gap_after_the_tail_parts_two_flushes() {
    let mut sample = Sample::new();
    let bed = sample.bed("b1", 10.0);
    let variety = sample.variety("s", "antirrhinum", "white");
    let planting = sample.sown_in_bed(&variety, &bed, "2027-03-20", 100);
    for (date, stems) in [
        ("2027-06-20", 20),
        ("2027-06-23", 40),
        ("2027-06-27", 45),
        ("2027-07-01", 30),
        ("2027-07-05", 10),
    ] {
        cut(&mut sample, &planting, date, stems, 0);
    }
    let told = asked(&sample, &planting, "2027-07-20");
    let flush = told.flush.expect("a flush");
    assert_eq!(
        (flush.number, flush.ended),
        (1, Some(sample.day("2027-07-05")))
    );
    assert_eq!(flush.next, Some(sample.day("2027-07-30")));
    assert!(
        told.why
            .iter()
            .any(|reason| reason.say.key() == "why.flush_over")
    );
    cut(&mut sample, &planting, "2027-08-01", 12, 0);
    let told = asked(&sample, &planting, "2027-08-02");
    assert_eq!(told.flush.map(|flush| flush.number), Some(2));
    assert!(!told.weeks.is_empty(), "the second flush has only begun");
}

#[test]
fn grades_go_by_the_crops_lengths_until_cuts_were_graded() {
    let (mut sample, planting) = zinnias();
    let shares = |sample: &Sample| {
        sample.with(|almanac| {
            let variety = &almanac.season().plantings[&planting].variety;
            grade_shares(almanac, variety).expect("shares")
        })
    };
    // Stems of 30, 45 and 70 cm: as many are longer than 45 cm as not.
    let usual = shares(&sample);
    assert!((usual.first - 0.5).abs() < 1e-6 && usual.rests_on == 0);
    for (grade, stems) in [(Grade::First, 180), (Grade::Second, 20)] {
        let date = sample.day("2027-07-20");
        sample.add(CutFact {
            culls: 3,
            grade: Some(grade),
            ..CutFact::new(planting.clone(), stems, date)
        });
    }
    // By hand: (180 + 10) of (200 + 20).
    let own = shares(&sample);
    assert!((own.first - 190.0 / 220.0).abs() < 1e-6, "{own:?}");
    assert!((own.first + own.second - 1.0).abs() < 1e-12);
    assert_eq!(own.rests_on, 200);
}
