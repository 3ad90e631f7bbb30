//! Recognized cells in drawn trays compared with the truth.
//!
//! The minimum values are a few points below the measured ones, so that a regression fails; the required 97 %
//! of the cells of clean pictures is used as given. `cargo test -p imaging-checks --test cells --
//! --nocapture` prints the table.

#![allow(clippy::unwrap_used, reason = "a test that cannot set up must stop")]

use std::sync::atomic::{AtomicUsize, Ordering};

use imaging::{Look, Picture, Remark, Seen, look};
use imaging_checks::{CLASSES, Case, Class, cases, drawn};

/// Number of threads.
const THREADS: usize = 4;

struct Scored {
    case: Case,
    look: Look,
    seedlings: Vec<u8>,
}

fn scored() -> Vec<Scored> {
    let all = cases();
    let next = AtomicUsize::new(0);
    let mut scored: Vec<(usize, Scored)> = std::thread::scope(|scope| {
        let work = || {
            let mut done = Vec::new();
            loop {
                let at = next.fetch_add(1, Ordering::Relaxed);
                let Some(case) = all.get(at) else {
                    return done;
                };
                done.push((at, score(*case)));
            }
        };
        let threads: Vec<_> = (0..THREADS).map(|_| scope.spawn(work)).collect();
        threads
            .into_iter()
            .flat_map(|thread| thread.join().unwrap())
            .collect()
    });
    scored.sort_by_key(|(at, _)| *at);
    scored.into_iter().map(|(_, scored)| scored).collect()
}

fn score(case: Case) -> Scored {
    let drawn = drawn(&case);
    let (width, height) = (drawn.size.0 as u32, drawn.size.1 as u32);
    let picture = Picture::new(width, height, &drawn.bytes).unwrap();
    let look = look(
        &picture,
        &drawn.corners,
        drawn.rows as u32,
        drawn.columns as u32,
    )
    .unwrap();
    Scored {
        case,
        look,
        seedlings: drawn.seedlings,
    }
}

#[derive(Default)]
struct Tally {
    cells: usize,
    right: usize,
    missed: usize,
    false_positives: usize,
    /// Share of correct cells in each picture.
    shares: Vec<f64>,
    twos: usize,
    seen_twos: usize,
    right_twos: usize,
    /// Number of cells and of correct cells, for sure and for unsure ones.
    sure: (usize, usize),
    unsure: (usize, usize),
    remarks: [usize; 6],
}

const REMARKS: [Remark; 6] = [
    Remark::Glare,
    Remark::Film,
    Remark::Blurred,
    Remark::Dark,
    Remark::NoGreen,
    Remark::NotLikeATray,
];
/// Minimum confidence for a cell to count as sure.
const SURE: f64 = 0.75;

impl Tally {
    fn of<'a>(all: impl Iterator<Item = &'a Scored>) -> Self {
        let mut tally = Self::default();
        for scored in all {
            tally.take(scored);
        }
        tally.shares.sort_by(f64::total_cmp);
        tally
    }

    fn take(&mut self, scored: &Scored) {
        assert_eq!(scored.look.cells.len(), scored.seedlings.len());
        let mut right_here = 0;
        for (cell, seedlings) in scored.look.cells.iter().zip(&scored.seedlings) {
            let right = (cell.seen != Seen::Empty) == (*seedlings > 0);
            right_here += usize::from(right);
            self.missed += usize::from(!right && *seedlings > 0);
            self.false_positives += usize::from(!right && *seedlings == 0);
            self.twos += usize::from(*seedlings > 1);
            if cell.seen == Seen::Two {
                self.seen_twos += 1;
                self.right_twos += usize::from(*seedlings > 1);
            }
            assert!((0.0..=1.0).contains(&cell.certainty), "{}", cell.certainty);
            let bin = if cell.certainty >= SURE {
                &mut self.sure
            } else {
                &mut self.unsure
            };
            bin.0 += 1;
            bin.1 += usize::from(right);
        }
        let cells = scored.seedlings.len();
        self.cells += cells;
        self.right += right_here;
        self.shares.push(right_here as f64 / cells as f64);
        for (remark, n) in REMARKS.iter().zip(&mut self.remarks) {
            *n += usize::from(scored.look.remarks.contains(remark));
        }
    }

    fn accuracy(&self) -> f64 {
        100.0 * self.right as f64 / self.cells as f64
    }

    fn tenth(&self) -> f64 {
        100.0 * self.shares[self.shares.len() / 10]
    }

    fn precision(&self) -> f64 {
        100.0 * self.right_twos as f64 / self.seen_twos.max(1) as f64
    }

    fn line(&self) -> String {
        let part = |(all, some): (usize, usize)| 100.0 * some as f64 / all.max(1) as f64;
        format!(
            "{:>4} {:>6} {:>7.2} {:>6.1} {:>6.1} {:>6} {:>7} {:>6.1} {:>6.1} {:>6.1} {:>6.1} {:>6.1}  {:?}",
            self.shares.len(),
            self.cells,
            self.accuracy(),
            self.tenth(),
            100.0 * self.shares[0],
            self.missed,
            self.false_positives,
            self.precision(),
            part((self.twos, self.right_twos)),
            part(self.sure),
            part(self.unsure),
            part((self.cells, self.unsure.0)),
            self.remarks,
        )
    }
}

/// Minimum percentage of correct cells of each kind, a few points below the measured one; for the clean
/// pictures, the required one.
const FLOORS: [(Class, f64); 10] = [
    (Class::Clean, 97.0),
    (Class::Tilted, 94.5),
    (Class::Dim, 78.0),
    (Class::Blurred, 94.5),
    (Class::Algae, 80.0),
    (Class::Glare, 84.0),
    (Class::Lamp, 92.0),
    (Class::Shadow, 93.5),
    (Class::Crowded, 96.5),
    (Class::Red, 60.0),
];

#[test]
fn cells_are_recognized_as_drawn() {
    let scored = scored();
    println!(
        "{:9} pics  cells   right  tenth  worst missed   false 2 prec 2 seen   sure unsure  share  {REMARKS:?}",
        "kind"
    );
    let mut low = Vec::new();
    for (class, floor) in FLOORS {
        let tally = Tally::of(scored.iter().filter(|scored| scored.case.class == class));
        println!("{:9} {}", class.name(), tally.line());
        if tally.accuracy() < floor {
            low.push(format!(
                "{}: {:.2} below {floor}",
                class.name(),
                tally.accuracy()
            ));
        }
    }
    assert!(low.is_empty(), "{low:?}");
    let of = |classes: &[Class]| {
        Tally::of(
            scored
                .iter()
                .filter(|scored| classes.contains(&scored.case.class)),
        )
    };
    let remarked = |tally: &Tally, remark: Remark| {
        let at = REMARKS.iter().position(|other| *other == remark).unwrap();
        100 * tally.remarks[at] / tally.shares.len()
    };

    let clean = of(&[Class::Clean]);
    assert_eq!(clean.shares.len(), 100);
    assert!(clean.tenth() >= 95.0, "{}", clean.tenth());
    assert!(clean.precision() >= 92.0, "{}", clean.precision());
    // A remark without a reason would soon be ignored.
    for remark in REMARKS
        .into_iter()
        .filter(|remark| *remark != Remark::NoGreen)
    {
        assert!(
            remarked(&clean, remark) <= 8,
            "{remark:?} on {} % of the pictures",
            remarked(&clean, remark)
        );
    }
    for (class, remark) in [
        (Class::Algae, Remark::Film),
        (Class::Glare, Remark::Glare),
        (Class::Dim, Remark::Dark),
        (Class::Blurred, Remark::Blurred),
    ] {
        let remarked = remarked(&of(&[class]), remark);
        assert!(
            remarked >= 80,
            "{remark:?} on {remarked} % of the {} pictures",
            class.name()
        );
    }

    // Unsure cells are wrong more often: they are where the grower should look.
    let all = of(&CLASSES.map(|(class, _)| class));
    assert!(all.shares.len() >= 200, "{}", all.shares.len());
    let wrong = |(cells, right): (usize, usize)| (cells - right) as f64 / cells as f64;
    println!(
        "{} pictures; wrong: {:.1} % of sure cells, {:.1} % of unsure ones",
        all.shares.len(),
        100.0 * wrong(all.sure),
        100.0 * wrong(all.unsure)
    );
    assert!(wrong(all.unsure) > 5.0 * wrong(all.sure));
}
