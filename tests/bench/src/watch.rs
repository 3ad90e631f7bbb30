//! A stopwatch.

use std::hint::black_box;
use std::time::{Duration, Instant};

/// Times that each piece of work is done; one more goes before, unmeasured.
const RUNS: usize = 11;

/// What a piece of work took, beside a reference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The median of all runs.
    pub median: Duration,
    /// The quickest.
    pub least: Duration,
    /// The median of each run's time as a multiple of the reference's in the same run.
    pub ratio: f64,
}

/// Does the reference and the work in turn, and times both. What `prepare` makes for each run of the work, and dropping what comes
/// of it, is not timed.
pub fn beside<P, R, S>(
    mut reference: impl FnMut() -> S,
    mut prepare: impl FnMut() -> P,
    mut work: impl FnMut(P) -> R,
) -> Figure {
    let mut pairs = Vec::with_capacity(RUNS);
    for run in 0..=RUNS {
        let known = timed(&mut reference);
        let input = prepare();
        let took = timed(|| work(input));
        if run > 0 {
            pairs.push((known, took));
        }
    }
    let mut times: Vec<Duration> = pairs.iter().map(|(_, took)| *took).collect();
    times.sort_unstable();
    let mut ratios: Vec<f64> = pairs
        .iter()
        .map(|(known, took)| took.as_secs_f64() / known.as_secs_f64().max(f64::MIN_POSITIVE))
        .collect();
    ratios.sort_unstable_by(f64::total_cmp);
    Figure {
        median: times[RUNS / 2],
        least: times[0],
        ratio: ratios[RUNS / 2],
    }
}

fn timed<R>(work: impl FnOnce() -> R) -> Duration {
    let start = Instant::now();
    let result = black_box(work());
    let took = start.elapsed();
    drop(result);
    took
}
