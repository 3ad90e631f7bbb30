//! Three ways of minding a tray, by what they lose and use.

use culture::{Crop, Reference};
use season::tasks::TaskKind;

use crate::bench::{Bench, Off};
use crate::book::Book;
use crate::truth::{Drawn, Seed, Truth};
use crate::{TRAYS, cells_of};

/// What a tray's day on the mat costs, in plants: its power (about 0.4 kWh) is worth a third of a bought-in plug, and its place would
/// bring on the next tray. From memory of practice.
pub const MAT_DAY_PLANTS: f64 = 0.5;
/// Nobody waits longer.
const DAYS_MAX: i64 = 90;

/// A way of minding a tray.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Policy {
    /// Count when asked, lift the dome and take the mat away when told.
    Verdict,
    /// Dome and mat until a day.
    Until(i64),
}

/// The three that are compared.
pub const POLICIES: [Policy; 3] = [Policy::Verdict, Policy::Until(14), Policy::Until(7)];

/// What became of trays, all together.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Outcome {
    /// Trays.
    pub trays: u32,
    /// Seeds that would have come up, had everything been right for each.
    pub alive: u32,
    /// Those of them that are no plants in the end.
    pub lost: u32,
    /// Days of a tray on the mat.
    pub mat_days: f64,
    /// Days of a tray under its dome.
    pub dome_days: f64,
    /// Counts taken.
    pub counts: u32,
}

impl Outcome {
    /// Together with others.
    pub fn plus(mut self, other: Self) -> Self {
        self.trays += other.trays;
        self.alive += other.alive;
        self.lost += other.lost;
        self.mat_days += other.mat_days;
        self.dome_days += other.dome_days;
        self.counts += other.counts;
        self
    }

    /// Of one tray.
    pub fn mean(&self, sum: f64) -> f64 {
        sum / f64::from(self.trays.max(1))
    }

    /// Plants lost of a tray.
    pub fn lost_each(&self) -> f64 {
        self.mean(f64::from(self.lost))
    }

    /// Days of a tray on the mat.
    pub fn mat_days_each(&self) -> f64 {
        self.mean(self.mat_days)
    }

    /// What a tray cost, in plants.
    pub fn cost_each(&self) -> f64 {
        self.lost_each() + MAT_DAY_PLANTS * self.mat_days_each()
    }
}

/// What each of [`POLICIES`] made of trays.
pub type Outcomes = [Outcome; POLICIES.len()];

/// A crop's trays on each of the benches.
pub fn of_crop(
    reference: &Reference,
    number: u64,
    crop: &Crop,
    benches: &[Bench],
) -> Vec<Outcomes> {
    let truth = Truth::of(crop, Drawn::USUAL);
    let benches: Vec<Bench> = benches.iter().map(|bench| bench.for_crop(crop)).collect();
    let mut outcomes = vec![Outcomes::default(); benches.len()];
    for tray in 0..TRAYS {
        let cells = cells_of(tray);
        let seeds = truth.tray(number, tray, cells);
        let alive = seeds.iter().filter(|seed| seed.day.is_some()).count() as u32;
        let mut followed: Option<(Bench, Off, u32)> = None;
        for (bench, outcomes) in benches.iter().zip(&mut outcomes) {
            let pace = bench.pace(crop);
            // What is seen, and so what is said, hangs on seed that waits alone.
            let (off, counts) = match followed {
                Some((same, off, counts)) if bench.waits_like(&same) => (off, counts),
                _ => {
                    let book = Book::sown(reference, crop.id().as_str(), cells);
                    Minded::new(book, bench, pace, &seeds).follow()
                }
            };
            followed = Some((*bench, off, counts));
            for (policy, outcome) in POLICIES.iter().zip(outcomes) {
                let (off, counts) = match policy {
                    Policy::Verdict => (off, counts),
                    Policy::Until(day) => (Off::on(*day), 0),
                };
                let plants = seeds
                    .iter()
                    .filter(|seed| bench.becomes_a_plant(pace, seed, off));
                *outcome = outcome.plus(Outcome {
                    trays: 1,
                    alive,
                    lost: alive - plants.count() as u32,
                    mat_days: off.mat,
                    dome_days: off.dome,
                    counts,
                });
            }
        }
    }
    outcomes
}

/// A tray whose grower does what the app says, on the day on which it says so.
struct Minded<'a> {
    book: Book<'a>,
    bench: &'a Bench,
    pace: f64,
    seeds: &'a [Seed],
    off: Off,
    counts: u32,
}

impl<'a> Minded<'a> {
    fn new(book: Book<'a>, bench: &'a Bench, pace: f64, seeds: &'a [Seed]) -> Self {
        Self {
            book,
            bench,
            pace,
            seeds,
            off: Off::NOT_YET,
            counts: 0,
        }
    }

    /// From sowing until dome and mat are off: when they went, and how many counts that took. Between two days on which something is
    /// due the app only repeats itself.
    fn follow(mut self) -> (Off, u32) {
        let mut day = 0;
        while !(self.off.dome.is_finite() && self.off.mat.is_finite()) {
            let due = self.book.due(day);
            let next = due
                .iter()
                .filter(|(kind, _)| {
                    [TaskKind::Count, TaskKind::LiftDome, TaskKind::MatOff].contains(kind)
                })
                .map(|(_, best)| *best)
                .min();
            match next {
                Some(best) if best > day => day = best.min(DAYS_MAX),
                Some(_) if day < DAYS_MAX => {
                    let now = |kind| due.iter().any(|(task, best)| *task == kind && *best <= day);
                    // Counting comes first: it may change the rest.
                    if now(TaskKind::Count) {
                        self.count(day);
                    } else {
                        self.act(day, now(TaskKind::LiftDome), now(TaskKind::MatOff));
                    }
                }
                _ => self.act(day, true, true),
            }
        }
        (self.off, self.counts)
    }

    fn count(&mut self, day: i64) {
        let up = self.seeds.iter().filter(|seed| {
            let up = self.bench.up_on(self.pace, seed, self.off);
            up.is_some_and(|up| up <= day as f64)
        });
        self.book.count(day, up.count() as u32);
        self.counts += 1;
    }

    fn act(&mut self, day: i64, lift_dome: bool, mat_off: bool) {
        if lift_dome && self.off.dome.is_infinite() {
            self.off.dome = day as f64;
            self.book.lift_dome(day);
        }
        if mat_off && self.off.mat.is_infinite() {
            self.off.mat = day as f64;
            self.book.mat_off(day);
        }
    }
}
