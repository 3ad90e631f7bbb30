//! Three policies for a tray, compared by losses and resources.

use culture::{Crop, Reference};
use season::tasks::TaskKind;

use crate::bench::{Bench, Off};
use crate::book::Book;
use crate::truth::{Drawn, Seed, Truth};
use crate::{TRAYS, cells_of};

/// Cost of a tray's day on the mat, in plants: its electricity (about 0.4 kWh) is worth a third of a
/// bought-in plug, and its space would serve the next tray. From memory of practice.
pub const MAT_DAY_PLANTS: f64 = 0.5;
/// Maximum number of days to wait.
const DAYS_MAX: i64 = 90;

/// A policy for a tray.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Policy {
    /// Count when asked, lift the dome and remove the mat when advised.
    Verdict,
    /// Dome and mat until a day.
    Until(i64),
}

/// The three policies that are compared.
pub const POLICIES: [Policy; 3] = [Policy::Verdict, Policy::Until(14), Policy::Until(7)];

/// Results over trays.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Outcome {
    /// Trays.
    pub trays: u32,
    /// Seeds that would have emerged under ideal conditions.
    pub alive: u32,
    /// Those of them that did not become plants.
    pub lost: u32,
    /// Tray-days on the mat.
    pub mat_days: f64,
    /// Tray-days under the dome.
    pub dome_days: f64,
    /// Counts taken.
    pub counts: u32,
}

impl Outcome {
    /// The sum with others.
    pub fn plus(mut self, other: Self) -> Self {
        self.trays += other.trays;
        self.alive += other.alive;
        self.lost += other.lost;
        self.mat_days += other.mat_days;
        self.dome_days += other.dome_days;
        self.counts += other.counts;
        self
    }

    /// A sum per tray.
    pub fn mean(&self, sum: f64) -> f64 {
        sum / f64::from(self.trays.max(1))
    }

    /// Plants lost per tray.
    pub fn lost_each(&self) -> f64 {
        self.mean(f64::from(self.lost))
    }

    /// Days on the mat per tray.
    pub fn mat_days_each(&self) -> f64 {
        self.mean(self.mat_days)
    }

    /// Cost per tray, in plants.
    pub fn cost_each(&self) -> f64 {
        self.lost_each() + MAT_DAY_PLANTS * self.mat_days_each()
    }
}

/// The results of each of [`POLICIES`].
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
            // Observations, and therefore the advice, depend only on the unemerged seed.
            let (off, counts) = match followed {
                Some((same, off, counts)) if bench.same_before_emergence(&same) => (off, counts),
                _ => {
                    let book = Book::sown(reference, crop.id().as_str(), cells);
                    TrayRun::new(book, bench, pace, &seeds).follow()
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

/// A tray whose grower follows the app's advice on the day it is given.
struct TrayRun<'a> {
    book: Book<'a>,
    bench: &'a Bench,
    pace: f64,
    seeds: &'a [Seed],
    off: Off,
    counts: u32,
}

impl<'a> TrayRun<'a> {
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

    /// From sowing until dome and mat are removed: the days of removal and the number of counts. Between two
    /// due days the app's advice does not change.
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
                    // Counting comes first because it may change the rest.
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
