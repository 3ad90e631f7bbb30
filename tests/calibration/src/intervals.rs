//! Coverage of the interval of the final stand.

use agronomy::emergence::{Count, Outlook, outlook};
use culture::{Crop, Reference};
use season::forecast::{QUIET_DAYS, QUIET_SHARE};

use crate::book::Book;
use crate::truth::{Drawn, Truth, up_by};
use crate::{TRAYS, cells_of};

/// Days between counts, as requested by the app.
const COUNT_EVERY_DAYS: usize = 2;
/// Maximum number of days of counting.
const DAYS_MAX: i64 = 120;

/// When the forecast of a tray is evaluated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// At the first count.
    First,
    /// At the first count with half of the final stand up.
    Middle,
    /// When counting is complete.
    Quiet,
}

/// Coverage of intervals over trays.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Held {
    /// Trays.
    pub trays: u32,
    /// The truth is within the interval, its ends included.
    pub inside: u32,
    /// The truth is below it.
    pub below: u32,
    /// Width of the intervals in cells, summed over the trays.
    pub width: f64,
    /// Cells by which the median is too high, summed over the trays.
    pub error: f64,
}

impl Held {
    fn add(&mut self, forecast: &Outlook, truth: u32) {
        let truth = f64::from(truth);
        let interval = forecast.final_up;
        self.trays += 1;
        self.inside += u32::from((interval.p10..=interval.p90).contains(&truth));
        self.below += u32::from(truth < interval.p10);
        self.width += interval.p90 - interval.p10;
        self.error += interval.p50 - truth;
    }

    /// The sum with others.
    pub fn plus(mut self, other: Self) -> Self {
        self.trays += other.trays;
        self.inside += other.inside;
        self.below += other.below;
        self.width += other.width;
        self.error += other.error;
        self
    }

    /// Percentage of trays whose true stand is within the interval.
    pub fn per_100(&self) -> f64 {
        100.0 * f64::from(self.inside) / f64::from(self.trays.max(1))
    }

    /// Percentage of trays whose true stand is below it.
    pub fn below_per_100(&self) -> f64 {
        100.0 * f64::from(self.below) / f64::from(self.trays.max(1))
    }

    /// A sum per tray.
    pub fn mean(&self, sum: f64) -> f64 {
        sum / f64::from(self.trays.max(1))
    }
}

/// The intervals of a crop's trays at the first count, at half of the stand and when counting is complete.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Intervals {
    /// At the first count.
    pub first: Held,
    /// At the first count with half of the final stand up.
    pub middle: Held,
    /// When counting is complete.
    pub quiet: Held,
}

/// Counts the trays of a crop every second day and compares the forecast at three of the counts with the
/// final stand.
///
/// # Panics
/// If the season's forecast from the same counts differs from the model's.
pub fn of_crop(reference: &Reference, number: u64, crop: &Crop, drawn: Drawn) -> Intervals {
    let usual = crop.emergence_usual().expect("it comes up from seed");
    let truth = Truth::of(crop, drawn);
    let mut found = Intervals::default();
    for tray in 0..TRAYS {
        let cells = cells_of(tray);
        let seeds = truth.tray(number, tray, cells);
        let in_the_end = up_by(&seeds, f64::INFINITY);
        let mut book = Book::sown(reference, crop.id().as_str(), cells);
        let mut counts = Vec::new();
        let mut is_past_middle = false;
        for day in (usual.first_day.round() as i64..DAYS_MAX).step_by(COUNT_EVERY_DAYS) {
            let up = up_by(&seeds, day as f64);
            counts.push(Count {
                day: day as f64,
                up,
                of: cells,
            });
            book.count(day, up);
            let predicted = outlook(&usual, cells, &counts).expect("counts that can be");
            if counts.len() == 1 {
                found.first.add(&predicted, in_the_end);
            }
            if !is_past_middle && 2 * up >= in_the_end {
                is_past_middle = true;
                found.middle.add(&predicted, in_the_end);
                let forecast = book.forecast(day);
                assert_eq!(forecast.final_up, Some(predicted.final_up), "{}", crop.id());
            }
            if is_past_middle
                && predicted.quiet_day(day as f64, QUIET_DAYS, QUIET_SHARE) <= day as f64
            {
                found.quiet.add(&predicted, in_the_end);
                break;
            }
        }
    }
    found
}
