use super::*;
use crate::fact::*;
use crate::ids::*;
use crate::sample::Sample;

/// Plants of a crop set into a bed outdoors on 20 May, out of trays sown eight weeks before.
fn planted(crop: &str) -> (Sample, PlantingId) {
    let mut sample = Sample::new();
    let bed = sample.bed("bed", 20.0);
    let variety = sample.variety("v", crop, "white");
    let sowing = sample.sown(&variety, "2027-03-25", 100);
    sample.counted(&sowing, "2027-04-20", 90);
    let date = sample.day("2027-05-20");
    let planting = sample.add(TransplantedFact::new(sowing, bed, 80, date));
    (sample, planting.into())
}

fn seen(sample: &mut Sample, planting: &PlantingId, date: &str, stage: BloomStage) {
    let date = sample.day(date);
    sample.add(SeenFact::new(planting.clone(), stage, date));
}

fn of(sample: &Sample, date: &str) -> Vec<Task> {
    let date = sample.day(date);
    sample.on(date, |outlook| crate::tasks::tasks(outlook).to_vec())
}

fn task(sample: &Sample, date: &str, kind: TaskKind) -> Option<Task> {
    of(sample, date)
        .into_iter()
        .find(|task| task.kind == kind && matches!(task.subject, Subject::Planting(_)))
}

/// Common practice: "pinch ... once rooted in (7-14 d after planting)"; "do not pinch: stock, single-stem sunflower, crested celosia,
/// larkspur, poppies, statice, gladiolus, tulip, lily".
#[test]
fn pinching_comes_once_rooted_in_and_not_to_crops_that_it_ruins() {
    let (sample, _) = planted("zinnia");
    let pinch = task(&sample, "2027-05-21", TaskKind::Pinch).unwrap();
    assert_eq!(
        (pinch.window.earliest, pinch.window.best),
        (sample.day("2027-05-27"), sample.day("2027-06-01"))
    );
    for crop in [
        "matthiola",
        "helianthus",
        "celosia_cristata",
        "consolida",
        "papaver",
        "limonium",
        "gladiolus",
        "tulipa",
        "lilium",
    ] {
        let (sample, _) = planted(crop);
        assert_eq!(task(&sample, "2027-05-28", TaskKind::Pinch), None, "{crop}");
    }
    // Sown in place there is nothing to pinch a week later.
    let mut sample = Sample::new();
    let bed = sample.bed("bed", 20.0);
    let zinnia = sample.variety("v", "zinnia", "white");
    sample.sown_in_bed(&zinnia, &bed, "2027-05-20", 80);
    let pinch = task(&sample, "2027-05-21", TaskKind::Pinch).unwrap();
    assert!(
        pinch.window.earliest > sample.day("2027-06-15"),
        "{:?}",
        pinch.window
    );
}

#[test]
fn side_buds_are_taken_once_a_bud_is_seen_and_only_where_the_crop_asks_for_it() {
    let (mut sample, planting) = planted("dahlia_tuber");
    assert_eq!(task(&sample, "2027-07-10", TaskKind::Disbud), None);
    seen(&mut sample, &planting, "2027-07-10", BloomStage::VisibleBud);
    let disbud = task(&sample, "2027-07-12", TaskKind::Disbud).unwrap();
    assert_eq!(disbud.window.best, sample.day("2027-07-17"));
    let date = sample.day("2027-07-16");
    let fact = sample
        .with(|almanac| crate::tasks::draft(almanac, &disbud, date))
        .unwrap();
    sample.add(fact);
    assert_eq!(task(&sample, "2027-07-17", TaskKind::Disbud), None);
    let (mut sample, planting) = planted("zinnia");
    seen(&mut sample, &planting, "2027-07-01", BloomStage::VisibleBud);
    assert_eq!(task(&sample, "2027-07-02", TaskKind::Disbud), None);
}

#[test]
fn beds_cut_over_and_over_are_fed_every_three_weeks_until_colour() {
    let (mut sample, planting) = planted("zinnia");
    let feed = task(&sample, "2027-05-21", TaskKind::FeedBed).unwrap();
    assert_eq!(
        (feed.window.best, feed.caution),
        (sample.day("2027-06-06"), Some("caution.feed"))
    );
    let date = sample.day("2027-06-06");
    let fact = sample
        .with(|almanac| crate::tasks::draft(almanac, &feed, date))
        .unwrap();
    sample.add(fact);
    let next = task(&sample, "2027-06-07", TaskKind::FeedBed).unwrap();
    assert_eq!(next.window.best, sample.day("2027-06-27"));
    seen(
        &mut sample,
        &planting,
        "2027-06-20",
        BloomStage::FirstColour,
    );
    assert_eq!(task(&sample, "2027-06-21", TaskKind::FeedBed), None);
    // A single stem is cut and gone.
    let (sample, _) = planted("helianthus");
    assert_eq!(task(&sample, "2027-05-21", TaskKind::FeedBed), None);
}

/// Common practice: zinnia three times a week, sunflowers daily, statice weekly to twice a week.
#[test]
fn the_next_cut_comes_as_often_as_the_crop_is_cut() {
    for (crop, best, latest) in [
        ("zinnia", 2, 3),
        ("helianthus", 1, 2),
        ("limonium", 5, 7),
        ("rudbeckia", 2, 4),
    ] {
        let (mut sample, planting) = planted(crop);
        seen(
            &mut sample,
            &planting,
            "2027-07-05",
            BloomStage::FirstColour,
        );
        let date = sample.day("2027-07-10");
        sample.add(CutFact::new(planting, 10, date));
        let cut = task(&sample, "2027-07-11", TaskKind::Cut).unwrap_or_else(|| panic!("{crop}"));
        let after = |day: NaiveDate| (day - date).num_days();
        assert_eq!(
            (after(cut.window.best), after(cut.window.latest)),
            (best, latest),
            "{crop}"
        );
    }
}

/// Common practice: "visible bud (3-5 weeks out)".
#[test]
fn buds_are_asked_for_about_four_weeks_before_bloom() {
    let (sample, _) = planted("zinnia");
    let look = task(&sample, "2027-05-21", TaskKind::LookForBud).unwrap();
    let bloom = sample.on(sample.day("2027-05-21"), |outlook| {
        outlook
            .supply()
            .beds
            .values()
            .next()
            .and_then(|bed| bed.bloom)
            .unwrap()
    });
    let ahead = (bloom.p50 - look.window.best).num_days();
    assert!((21..=42).contains(&ahead), "{ahead}");
    let colour = task(&sample, "2027-05-21", TaskKind::LookForColour).unwrap();
    assert!(colour.window.best > look.window.best && colour.window.best < bloom.p50);
}
