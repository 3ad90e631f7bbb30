//! Readings to days.

use chrono::NaiveDate;

use super::Day;

/// A reading: day, seconds since midnight, degrees C.
pub(super) type Reading = (NaiveDate, u32, f64);

/// Hours of readings from which on a day is whole.
const WHOLE_HOURS: f64 = 18.0;
/// Hours in which the lowest of a day mostly comes, and those of its highest. Both must be covered at least by half for the day's
/// minimum and maximum to be its own.
const COLDEST: core::ops::Range<u32> = 3..8;
const WARMEST: core::ops::Range<u32> = 12..17;
/// Readings further apart, in minutes, miss the lowest and the highest.
pub(super) const SELDOM_MINUTES: f64 = 181.0;

/// What became of the readings.
#[derive(Debug, Default)]
pub(super) struct Days {
    /// Days whose minimum and maximum are known.
    pub(super) days: Vec<Day>,
    /// Days of which too little is known.
    pub(super) left_out: Vec<NaiveDate>,
    /// The usual time between readings, minutes.
    pub(super) interval_minutes: Option<f64>,
    /// Readings at a time at which there was one before: the same again, or an hour that the clock went back.
    pub(super) repeats: usize,
    /// Whether they came out of order.
    pub(super) unordered: bool,
}

/// Days of readings in whatever order.
pub(super) fn of(mut readings: Vec<Reading>) -> Days {
    let mut all = Days {
        // Within a day the clock may go back by an hour.
        unordered: readings.windows(2).any(|two| two[1].0 < two[0].0),
        ..Days::default()
    };
    readings.sort_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2)));
    let before = readings.len();
    readings.dedup();
    all.repeats = before - readings.len();
    all.repeats += readings.windows(2).filter(|two| same_time(two)).count();
    let interval = usual_interval(&readings);
    all.interval_minutes = interval.map(|seconds| f64::from(seconds) / 60.0);
    for of_day in readings.chunk_by(|a, b| a.0 == b.0) {
        let Some((date, _, _)) = of_day.first() else {
            continue;
        };
        match day(*date, of_day, interval) {
            Some(day) => all.days.push(day),
            None => all.left_out.push(*date),
        }
    }
    all
}

fn same_time(two: &[Reading]) -> bool {
    (two[0].0, two[0].1) == (two[1].0, two[1].1)
}

/// The median of the seconds between neighbours of one day.
fn usual_interval(sorted: &[Reading]) -> Option<u32> {
    let steps = sorted.windows(2).filter(|two| !same_time(two)).map(|two| {
        let days = (two[1].0 - two[0].0).num_days().clamp(0, 30) as u32;
        days * 86_400 + two[1].1 - two[0].1.min(days * 86_400 + two[1].1)
    });
    let mut steps: Vec<u32> = steps.collect();
    steps.sort_unstable();
    steps.get(steps.len() / 2).copied().filter(|step| *step > 0)
}

/// One day, if its minimum and maximum can be told from its readings.
fn day(date: NaiveDate, readings: &[Reading], interval: Option<u32>) -> Option<Day> {
    let interval = f64::from(interval?);
    let covered = |hours: core::ops::Range<u32>| {
        let seconds = hours.start * 3_600..hours.end * 3_600;
        let mut times: Vec<u32> = readings
            .iter()
            .map(|r| r.1)
            .filter(|t| seconds.contains(t))
            .collect();
        times.dedup();
        let most = f64::from(hours.end - hours.start);
        (times.len() as f64 * interval / 3_600.0).min(most)
    };
    let half = |hours: &core::ops::Range<u32>| {
        covered(hours.clone()) * 2.0 >= f64::from(hours.end - hours.start)
    };
    if !half(&COLDEST) || !half(&WARMEST) {
        return None;
    }
    let degrees = || readings.iter().map(|r| r.2);
    let mean = degrees().sum::<f64>() / readings.len() as f64;
    Some(Day {
        date,
        min_c: tenth(degrees().fold(f64::INFINITY, f64::min)),
        max_c: tenth(degrees().fold(f64::NEG_INFINITY, f64::max)),
        mean_c: tenth(mean),
        readings: u32::try_from(readings.len()).unwrap_or(u32::MAX),
        whole: covered(0..24) >= WHOLE_HOURS,
    })
}

/// To a tenth of a degree, and never minus nothing.
fn tenth(c: f64) -> f64 {
    (c * 10.0).round() / 10.0 + 0.0
}
