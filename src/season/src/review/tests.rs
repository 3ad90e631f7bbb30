use agronomy::iso_week::IsoWeek;

use super::*;
use crate::fact::*;
use crate::forecast::of_planting;
use crate::forecast::shifted;
use crate::sample::Sample;
use crate::words::Manner;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn week(text: &str) -> IsoWeek {
    text.parse().unwrap()
}

/// The year 2027, looked back on in winter.
fn year(sample: &Sample) -> Review {
    until(sample, "2027-12-31")
}

fn until(sample: &Sample, today: &str) -> Review {
    let (from, to) = (day("2027-01-01"), day("2027-12-31"));
    sample.with(|almanac| review(almanac, from, to, day(today), &|_| None))
}

pub(super) fn cut(
    sample: &mut Sample,
    planting: &PlantingId,
    date: NaiveDate,
    stems: u32,
    culls: u32,
) {
    sample.add(CutFact {
        culls,
        ..CutFact::new(planting.clone(), stems, date)
    });
}

pub(super) fn cleared(sample: &mut Sample, planting: &PlantingId, date: &str) {
    sample.add(FinishedFact {
        planting: Some(planting.clone()),
        ..FinishedFact::new(day(date))
    });
}

fn lost(sample: &mut Sample, planting: &PlantingId, number: u32, cause: LossCause) -> EntryId {
    sample.add(LostFact {
        planting: Some(planting.clone()),
        ..LostFact::new(cause, number, day("2027-06-10"))
    })
}

/// 60 zinnias sown into 2 m of a bed on 20 May, with their forecast of that day.
fn zinnias(sample: &mut Sample) -> (VarietyId, PlantingId, crate::forecast::BedForecast) {
    let variety = sample.variety("zin", "zinnia", "red");
    let bed = sample.bed("bed", 10.0);
    let planting = sample.sown_in_bed(&variety, &bed, "2027-05-20", 60);
    let forecast = sample.with(|almanac| {
        let planting = &almanac.season().plantings[&planting];
        of_planting(almanac, planting, planting.date)
    });
    (variety, planting, forecast)
}

#[test]
fn a_planting_is_held_against_the_forecast_of_its_first_day() {
    let mut sample = Sample::new();
    let (variety, planting, forecast) = zinnias(&mut sample);
    let bloom = forecast.bloom.unwrap();
    let first = shifted(bloom.p90, 3);
    lost(&mut sample, &planting, 6, LossCause::Eaten);
    for date in [day("2027-06-20"), day("2027-06-21")] {
        sample.add(TemperatureFact::new(20.0, 38.0, date));
    }
    for weeks in 0..4 {
        cut(&mut sample, &planting, shifted(first, 7 * weeks), 30, 10);
    }
    cleared(&mut sample, &planting, "2027-10-07");
    let found = sample.with(|almanac| {
        let (from, to) = (day("2027-01-01"), day("2027-12-31"));
        review(almanac, from, to, to, &|of| (*of == variety).then_some(0.5))
    });
    let [row] = found.plantings.as_slice() else {
        panic!("{found:?}");
    };
    // What was seen later leaves the forecast as it was.
    assert_eq!(
        (row.bloom, row.forecast),
        (Some(bloom), Some(forecast.total))
    );
    assert_eq!(
        (row.plants, row.standing, row.cut, row.culls),
        (60, 54, 120, 40)
    );
    assert_eq!(row.first, Some(first));
    assert_eq!(row.late_days(), Some((first - bloom.p50).num_days()));
    assert_eq!(row.bloom_held(), Some(false));
    assert!(row.over);
    let close = |found: Option<f64>, wanted: f64| {
        assert!((found.unwrap() - wanted).abs() < 1e-9, "{found:?}")
    };
    close(row.metres, 2.0);
    close(Some(row.bed_weeks), 20.0);
    close(row.per_plant(), 2.0);
    close(row.per_metre(), 60.0);
    close(row.cull_share(), 0.25);
    close(row.returns, 60.0);
    close(row.returns_per_bed_week(), 1.5);
    close(found.varieties[0].returns_per_bed_week(), 1.5);
    close(found.varieties[0].per_bed_week(), 3.0);
    assert_eq!(found.calibration.blooms, Held { held: 0, of: 1 });
    let said: Vec<String> = found
        .notes
        .iter()
        .map(|note| note.say.write(Manner::default()))
        .collect();
    assert!(
        said.iter().any(|text| text.contains("later than forecast")),
        "{said:?}"
    );
    assert!(
        said.iter().any(|text| text.contains("25% of stems")),
        "{said:?}"
    );
}

#[test]
fn weeks_add_up_what_was_forecast_and_what_was_cut() {
    let mut sample = Sample::new();
    let (_, planting, forecast) = zinnias(&mut sample);
    // As forecast, week by week, and a variety of no known crop beside it.
    for (week, stems) in &forecast.weeks {
        cut(
            &mut sample,
            &planting,
            week.monday(),
            stems.p50.round() as u32,
            0,
        );
    }
    let other = sample.variety("odd", "no_such_crop", "blue");
    let bed = sample.bed("second", 5.0);
    let odd = sample.sown_in_bed(&other, &bed, "2027-05-25", 10);
    cut(&mut sample, &odd, day("2027-06-01"), 7, 0);
    let found = year(&sample);
    let by_week: Vec<(IsoWeek, Spread<f64>)> = found
        .weeks
        .iter()
        .filter_map(|row| Some((row.week, row.forecast?)))
        .collect();
    let told = |week: &(IsoWeek, Spread<f64>)| week.1.p90 >= 1.0;
    let whole: Vec<_> = forecast.weeks.iter().copied().filter(told).collect();
    assert_eq!(by_week, whole);
    assert!(found.weeks.iter().all(|row| row.held() != Some(false)));
    assert!(found.calibration.weeks.of >= 3, "{:?}", found.calibration);
    let odd_week = found
        .weeks
        .iter()
        .find(|row| row.week == week("2027-W22"))
        .unwrap();
    assert_eq!(
        (odd_week.cut, odd_week.cut_of_forecast, odd_week.held()),
        (7, 0, None)
    );
    assert_eq!(found.calibration.weeks.share(), Some(1.0));
}

#[test]
fn a_season_without_records_and_records_without_figures_are_fine() {
    let mut sample = Sample::new();
    assert_eq!(year(&sample), Review::default());
    let odd = sample.variety("odd", "no_such_crop", "blue");
    let known = sample.variety("zin", "zinnia", "red");
    let nowhere = BedId::new("nowhere").unwrap();
    let unknown = sample.sown_in_bed(&odd, &nowhere, "2027-05-01", 10);
    let uncut = sample.sown_in_bed(&known, &nowhere, "2027-05-02", 0);
    cleared(&mut sample, &uncut, "2027-07-01");
    let coloured = sample.sown_in_bed(&known, &nowhere, "2027-05-03", 10);
    sample.add(SeenFact::new(
        coloured.clone(),
        BloomStage::FirstColour,
        day("2027-07-20"),
    ));
    // Planted and cut the year before: no part of this one.
    let bed = sample.bed("bed", 5.0);
    let earlier = sample.sown_in_bed(&known, &bed, "2026-05-20", 30);
    cut(&mut sample, &earlier, day("2026-08-10"), 50, 0);
    let found = until(&sample, "2027-08-01");
    let row = |id: &PlantingId| {
        found
            .plantings
            .iter()
            .find(|row| row.planting == *id)
            .unwrap()
    };
    assert_eq!(found.plantings.len(), 3);
    let odd_row = row(&unknown);
    assert_eq!(
        (odd_row.bloom, odd_row.forecast, odd_row.over),
        (None, None, false)
    );
    assert_eq!(
        (
            odd_row.metres,
            odd_row.per_plant(),
            odd_row.returns_per_bed_week()
        ),
        (None, Some(0.0), None)
    );
    assert_eq!(
        (row(&uncut).stems_held(), row(&uncut).per_plant()),
        (None, None)
    );
    assert!(row(&coloured).first.unwrap() > day("2027-07-20"));
    assert!(
        found
            .notes
            .iter()
            .any(|note| note.about == About::Planting(uncut.clone()))
    );
    assert_eq!(found.calibration.stems, Held::default());
    // Days to come are no part of it either.
    assert_eq!(until(&sample, "2027-04-30").plantings, Vec::new());
}

#[test]
fn losses_are_told_by_cause_and_what_was_taken_back_is_not() {
    let mut sample = Sample::new();
    let (_, planting, _) = zinnias(&mut sample);
    lost(&mut sample, &planting, 4, LossCause::Eaten);
    let mistaken = lost(&mut sample, &planting, 30, LossCause::Cold);
    sample.add(VoidedFact::new(mistaken));
    let variety = VarietyId::new("zin").unwrap();
    let sowing = sample.sown(&variety, "2027-04-20", 72);
    for (number, cause) in [(10, LossCause::DampingOff), (2, LossCause::Eaten)] {
        sample.add(LostFact {
            sowing: Some(sowing.clone()),
            ..LostFact::new(cause, number, day("2027-05-01"))
        });
    }
    let rows: Vec<(LossCause, u32, u32)> = year(&sample)
        .losses
        .iter()
        .map(|row| (row.cause, row.cells, row.plants))
        .collect();
    assert_eq!(
        rows,
        [(LossCause::DampingOff, 10, 0), (LossCause::Eaten, 2, 4)]
    );
}

#[test]
fn weeks_without_a_role_are_those_that_fell_short_of_targets() {
    let mut sample = Sample::new();
    let variety = sample.variety("snap", "antirrhinum", "white");
    let bed = sample.bed("bed", 5.0);
    let planting = sample.sown_in_bed(&variety, &bed, "2027-04-20", 60);
    let role = sample.with(|almanac| almanac.role(&variety)).unwrap();
    let wanted = Wanted {
        role: Some(role),
        ..Wanted::default()
    };
    sample.target("t", wanted, ("2027-W30", "2027-W32"), 40);
    cut(&mut sample, &planting, week("2027-W30").monday(), 39, 0);
    cut(&mut sample, &planting, week("2027-W31").monday(), 25, 0);
    let rows = until(&sample, "2027-08-10").roles;
    // Nearly all counts as all, and a week that is not past counts as nothing yet.
    let [row] = rows.as_slice() else {
        panic!("{rows:?}");
    };
    assert_eq!(
        (row.week, row.role, row.wanted, row.cut),
        (week("2027-W31"), role, 40, 25)
    );
    assert_eq!(row.missing(), 15);
}

#[test]
fn lots_tell_what_came_up_beside_the_packet() {
    let mut sample = Sample::new();
    let variety = sample.variety("zin", "zinnia", "red");
    let sowing = sample.sown(&variety, "2027-04-01", 100);
    sample.counted(&sowing, "2027-04-04", 30);
    sample.counted(&sowing, "2027-04-07", 70);
    sample.counted(&sowing, "2027-04-20", 80);
    // Not followed to its end.
    let young = sample.sown(&variety, "2027-05-01", 50);
    sample.counted(&young, "2027-05-03", 5);
    let lots = year(&sample).lots;
    let [row] = lots.as_slice() else {
        panic!("{lots:?}");
    };
    assert_eq!((row.sowings, row.seeds, row.up), (1, 100, 80));
    assert_eq!(
        (row.share(), row.packet, row.lot.as_ref()),
        (Some(0.8), None, None)
    );
    let half = row.half_day.unwrap();
    assert!((3.0..6.0).contains(&half), "{half}");
    let crop = sample.with(|almanac| {
        almanac
            .crop(&variety)
            .unwrap()
            .typical("germination_pct")
            .unwrap()
    });
    assert!((row.expected.unwrap() - crop / 100.0).abs() < 1e-9);
}

#[test]
fn what_was_thrown_away_stands_out_and_what_pays_comes_first() {
    let mut sample = Sample::new();
    let (poor, first, _) = zinnias(&mut sample);
    let good = sample.variety("good", "zinnia", "white");
    let bed = sample.bed("second", 5.0);
    let second = sample.sown_in_bed(&good, &bed, "2027-05-20", 60);
    for (planting, stems) in [(&first, 100), (&second, 90)] {
        cut(&mut sample, planting, day("2027-08-01"), stems, 0);
        cleared(&mut sample, planting, "2027-10-07");
    }
    sample.add(SoldFact::new(poor.clone(), 60, day("2027-08-02")));
    sample.add(DiscardedFact::new(poor.clone(), 40, day("2027-08-08")));
    let found = year(&sample);
    let first_of = |found: &Review| found.varieties[0].variety.clone();
    assert_eq!(first_of(&found), poor);
    assert_eq!(found.varieties[0].sold_share(), Some(0.6));
    let note = Note {
        about: About::Variety(poor.clone()),
        say: crate::words::Say::new("review.note.sold")
            .with("variety", "Variety zin")
            .with("n", crate::words::Arg::Share(0.6)),
    };
    assert!(found.notes.contains(&note), "{:?}", found.notes);
    // With prices the dearer stems pay more, though they are fewer.
    let (from, to) = (day("2027-01-01"), day("2027-12-31"));
    let priced = sample.with(|almanac| {
        review(almanac, from, to, to, &|variety| {
            Some(if *variety == good { 0.9 } else { 0.5 })
        })
    });
    assert_eq!(first_of(&priced), good);
}

/// A grower who stops writing down in midsummer has not stopped cutting.
#[test]
fn days_after_the_last_cut_noted_say_nothing() {
    let mut sample = Sample::new();
    let (_, planting, forecast) = zinnias(&mut sample);
    let first = forecast.bloom.unwrap().p50;
    cut(&mut sample, &planting, first, 20, 0);
    let found = year(&sample);
    let row = &found.plantings[0];
    assert_eq!((row.over, row.cut, row.stems_held()), (false, 20, None));
    let judged = |row: &&WeekRow| row.held().is_some();
    let last = found.weeks.iter().rfind(judged).unwrap();
    assert_eq!(last.week, IsoWeek::of(first));
    assert!(found.weeks.last().unwrap().week > last.week);
    cleared(&mut sample, &planting, "2027-10-20");
    assert!(year(&sample).plantings[0].over);
}
