//! What a season by chance takes: ten thousand seasons of three hundred batches are to be played in less than two seconds in a
//! browser.

use bench::by_chance::case;
use divan::{Bencher, black_box};
use planner::chance::{Run, expected};

fn main() {
    divan::main();
}

#[divan::bench(sample_count = 3)]
fn ten_thousand_seasons_of_300_batches(bencher: Bencher<'_, '_>) {
    let asked = case(300, 10_000);
    bencher.bench(|| {
        Run::new(black_box(&asked)).map(|mut run| {
            run.advance(u32::MAX);
            run.outcome()
        })
    });
}

#[divan::bench]
fn expected_stems_of_300_batches(bencher: Bencher<'_, '_>) {
    let asked = case(300, 1);
    bencher.bench(|| expected(black_box(&asked)));
}
