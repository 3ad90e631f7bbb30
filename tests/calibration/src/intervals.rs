//! How often the interval of the final stand holds the truth.

use agronomy::emergence::{Count, Outlook, outlook};
use culture::{Crop, Reference};
use season::forecast::{QUIET_DAYS, QUIET_SHARE};

use crate::book::Book;
use crate::truth::{Drawn, Truth, up_by};
use crate::{TRAYS, cells_of};

/// Days from one count to the next, as the app asks for.
const COUNT_EVERY_DAYS: usize = 2;
/// Counted for so many days at the most.
const DAYS_MAX: i64 = 120;

/// When a tray is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// At the first count.
    First,
    /// At the first count with half of the final stand up.
    Middle,
    /// When the count is called.
    Quiet,
}

/// How intervals did over trays.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Held {
    /// Trays.
    pub trays: u32,
    /// The truth lies in the interval, its ends included.
    pub inside: u32,
    /// The truth lies below it.
    pub below: u32,
    /// Cells from end to end, all trays together.
    pub width: f64,
    /// Cells by which the middle is too high, all trays together.
    pub error: f64,
}

impl Held {
    fn add(&mut self, told: &Outlook, truth: u32) {
        let truth = f64::from(truth);
        let interval = told.final_up;
        self.trays += 1;
        self.inside += u32::from((interval.p10..=interval.p90).contains(&truth));
        self.below += u32::from(truth < interval.p10);
        self.width += interval.p90 - interval.p10;
        self.error += interval.p50 - truth;
    }

    /// Together with others.
    pub fn plus(mut self, other: Self) -> Self {
        self.trays += other.trays;
        self.inside += other.inside;
        self.below += other.below;
        self.width += other.width;
        self.error += other.error;
        self
    }

    /// Trays of 100 whose truth the interval holds.
    pub fn per_100(&self) -> f64 {
        100.0 * f64::from(self.inside) / f64::from(self.trays.max(1))
    }

    /// Trays of 100 whose truth lies below it.
    pub fn below_per_100(&self) -> f64 {
        100.0 * f64::from(self.below) / f64::from(self.trays.max(1))
    }

    /// Of one tray.
    pub fn mean(&self, sum: f64) -> f64 {
        sum / f64::from(self.trays.max(1))
    }
}

/// The intervals of a crop's trays at the first count, in the middle and when the count is called.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Intervals {
    /// At the first count.
    pub first: Held,
    /// At the first count with half of the final stand up.
    pub middle: Held,
    /// When the count is called.
    pub quiet: Held,
}

/// Counts the trays of a crop every second day, and holds what is told at three of the counts against what comes in the end.
///
/// # Panics
/// If the season tells anything else from the same counts than the model does.
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
            let told = outlook(&usual, cells, &counts).expect("counts that can be");
            if counts.len() == 1 {
                found.first.add(&told, in_the_end);
            }
            if !is_past_middle && 2 * up >= in_the_end {
                is_past_middle = true;
                found.middle.add(&told, in_the_end);
                let forecast = book.forecast(day);
                assert_eq!(forecast.final_up, Some(told.final_up), "{}", crop.id());
            }
            if is_past_middle && told.quiet_day(day as f64, QUIET_DAYS, QUIET_SHARE) <= day as f64 {
                found.quiet.add(&told, in_the_end);
                break;
            }
        }
    }
    found
}
