//! A season of as many batches and demands as a small farm has, for playing by chance.

use planner::chance::{Batch, Case, Demand, Draw, Part, Plants, Spread};

const WEEKS: usize = 40;
const VARIETIES: usize = 60;

/// `batches` sowings of 60 varieties over a season of 40 weeks, 30 targets of 20 weeks each that six varieties answer to, and ten
/// orders of three lines.
pub fn case(batches: usize, seasons: u32) -> Case {
    let demands = orders().chain(targets()).collect();
    Case {
        seed: 1,
        seasons,
        weeks: WEEKS,
        classes: VARIETIES,
        weather_shared: 0.5,
        yield_shared: 0.5,
        batches: (0..batches).map(batch).collect(),
        demands,
    }
}

/// One of the batches: every fourth stands in a bed, the rest come from cells.
fn batch(n: usize) -> Batch {
    let step = (n * 37 % 101) as f64 / 101.0;
    let plants = if n.is_multiple_of(4) {
        Plants::Known(Spread::exact(80.0 + 60.0 * step))
    } else {
        Plants::Sown {
            cells: 60 + (n * 53 % 240) as u32,
            seeds: 1,
            alpha: 16.0,
            beta: 4.0,
            usable: 0.92,
            most: 50 + (n * 53 % 200) as u32,
        }
    };
    let bloom = 60.0 + 180.0 * step;
    Batch {
        class: n % VARIETIES,
        plants,
        survival: 0.95,
        stems: 4.0,
        variation: 0.35,
        bloom: Spread {
            p10: bloom - 8.0,
            p50: bloom,
            p90: bloom + 11.0,
        },
        shares: vec![0.3, 0.25, 0.2, 0.1, 0.1, 0.05],
        spared: (0..WEEKS)
            .map(|week| (1.0 - (week as f64 - 33.0) / 5.0).clamp(0.0, 1.0))
            .collect(),
    }
}

fn part(stems: f64, classes: impl Iterator<Item = usize>, week: usize, share: f64) -> Part {
    let draw = |class| Draw {
        class: class % VARIETIES,
        week,
        share,
    };
    Part {
        stems,
        from: classes.map(draw).collect(),
    }
}

fn targets() -> impl Iterator<Item = Demand> {
    (0..30).map(|n| Demand {
        parts: (12..32)
            .map(|week| part(60.0, n * 2..n * 2 + 6, week, 1.0))
            .collect(),
    })
}

fn orders() -> impl Iterator<Item = Demand> {
    (0..10).map(|n| Demand {
        parts: (0..3)
            .map(|line| part(40.0, (0..8).map(move |k| n + line * 20 + k), 14 + n, 0.7))
            .collect(),
    })
}
