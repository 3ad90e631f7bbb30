//! The layout algorithm.

use core::cmp::Reverse;

use super::gaps::{TOLERANCE_M, Taken, gaps};
use super::problem::{LayoutError, LayoutProblem, Piece, Placement, Planting};

/// The order in which plantings are placed.
#[derive(Debug, Clone, Copy)]
enum Order {
    /// By date.
    ByDate,
    /// Fixed ones first, then by date.
    FixedThenDate,
    /// Fixed ones first, then the longest first.
    FixedThenLongest,
    /// Fixed ones first, then those that take the least room and time.
    FixedThenLeast,
}

const ORDERS: [Order; 4] = [
    Order::ByDate,
    Order::FixedThenDate,
    Order::FixedThenLongest,
    Order::FixedThenLeast,
];

/// Which of several sufficient gaps a planting takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fit {
    First,
    Tightest,
}

/// Lays out the plantings; the result is in their order.
///
/// # Errors
/// [`LayoutError`] as for [`LayoutProblem::check`].
pub fn lay_out(problem: &LayoutProblem) -> Result<Vec<Placement>, LayoutError> {
    problem.check()?;
    let mut best: Option<(Worth, Vec<Placement>)> = None;
    for order in ORDERS {
        for fit in [Fit::First, Fit::Tightest] {
            let laid = attempt(problem, order, fit);
            let worth = Worth::of(problem, &laid);
            if best
                .as_ref()
                .is_none_or(|(best, _)| worth.is_better_than(best))
            {
                best = Some((worth, laid));
            }
        }
    }
    Ok(best.map(|(_, laid)| laid).unwrap_or_default())
}

/// The quality of a layout, by descending priority.
struct Worth {
    fixed_missing: f64,
    missing: f64,
    pieces: usize,
}

impl Worth {
    fn of(problem: &LayoutProblem, laid: &[Placement]) -> Self {
        let missing = |fixed: bool| {
            let both = problem.plantings.iter().zip(laid);
            both.filter(|(planting, _)| planting.fixed || !fixed)
                .map(|(_, laid)| laid.missing_m)
                .sum()
        };
        Self {
            fixed_missing: missing(true),
            missing: missing(false),
            pieces: laid.iter().map(|laid| laid.pieces.len()).sum(),
        }
    }

    fn is_better_than(&self, other: &Self) -> bool {
        let less = |a: f64, b: f64| {
            (a < b - TOLERANCE_M)
                .then_some(true)
                .or((a > b + TOLERANCE_M).then_some(false))
        };
        less(self.fixed_missing, other.fixed_missing)
            .or_else(|| less(self.missing, other.missing))
            .unwrap_or(self.pieces < other.pieces)
    }
}

fn attempt(problem: &LayoutProblem, order: Order, fit: Fit) -> Vec<Placement> {
    let metres = |planting: &Planting| planting.options.first().map_or(0.0, |option| option.metres);
    // Whole millimetres are sortable integers.
    let size = |metres: f64| (metres * 1000.0).round() as u64;
    let mut turns: Vec<(usize, &Planting)> = problem.plantings.iter().enumerate().collect();
    turns.sort_by_key(|(n, planting)| {
        let weeks = u64::from(planting.to - planting.from);
        let fixed = !planting.fixed;
        let longest = Reverse(size(metres(planting)));
        let (first, second) = match order {
            Order::ByDate => (u64::from(planting.from), u64::from(fixed)),
            Order::FixedThenDate => (u64::from(fixed), u64::from(planting.from)),
            Order::FixedThenLongest => (u64::from(fixed), 0),
            Order::FixedThenLeast => (u64::from(fixed), size(metres(planting)) * weeks),
        };
        // Fixed ones always by date, so that as many as possible fit.
        let date = if planting.fixed { planting.from } else { 0 };
        (first, second, date, longest, planting.from, *n)
    });
    let mut field = Field {
        problem,
        fit,
        taken: vec![Vec::new(); problem.beds.len()],
    };
    let mut laid: Vec<Placement> = vec![
        Placement {
            pieces: Vec::new(),
            missing_m: 0.0,
            short: None
        };
        problem.plantings.len()
    ];
    for (n, planting) in turns {
        let found = field.lay(planting);
        if let Some(laid) = laid.get_mut(n) {
            *laid = found;
        }
    }
    for (planting, laid) in problem.plantings.iter().zip(&mut laid) {
        if laid.missing_m > 0.0 {
            laid.short = Some(field.short_weeks(planting, laid));
        }
    }
    laid
}

/// Beds with what was placed in them so far.
struct Field<'a> {
    problem: &'a LayoutProblem,
    fit: Fit,
    taken: Vec<Vec<Taken>>,
}

/// A gap for a part of a planting.
struct Gap {
    bed: usize,
    from_m: f64,
    to_m: f64,
    /// Length of the whole planting in this bed.
    whole: f64,
}

impl Gap {
    fn length(&self) -> f64 {
        self.to_m - self.from_m
    }

    /// The share of the planting that fits.
    fn share(&self) -> f64 {
        self.length() / self.whole
    }

    /// Length left over beside the whole planting.
    fn over(&self) -> f64 {
        self.length() - self.whole
    }

    fn holds_all(&self) -> bool {
        self.over() + TOLERANCE_M >= 0.0
    }

    /// A share of the planting at the start of the gap.
    fn cut(&self, share: f64) -> Piece {
        Piece {
            bed: self.bed,
            from_m: self.from_m,
            to_m: (self.from_m + share * self.whole).min(self.to_m),
        }
    }
}

impl Field<'_> {
    fn lay(&mut self, planting: &Planting) -> Placement {
        let mut open = self.gaps(planting);
        let mut holding = open.iter().filter(|gap| gap.holds_all());
        let whole = match self.fit {
            Fit::First => holding.next(),
            Fit::Tightest => holding.min_by(|a, b| a.over().total_cmp(&b.over())),
        };
        let mut pieces = Vec::new();
        let mut left = 1.0;
        if let Some(gap) = whole {
            pieces.push(gap.cut(1.0));
            left = 0.0;
        } else if self.problem.split {
            // In few pieces: from the bed with the most room, its longest gaps first.
            let mut rooms = vec![0.0; self.problem.beds.len()];
            for gap in &open {
                if let Some(room) = rooms.get_mut(gap.bed) {
                    *room += gap.share();
                }
            }
            let room = |gap: &Gap| rooms.get(gap.bed).copied().unwrap_or(0.0);
            open.sort_by(|a, b| {
                room(b)
                    .total_cmp(&room(a))
                    .then(b.share().total_cmp(&a.share()))
            });
            for gap in &open {
                if left * gap.whole <= TOLERANCE_M {
                    break;
                }
                let share = gap.share().min(left);
                pieces.push(gap.cut(share));
                left -= share;
            }
        }
        for piece in &pieces {
            if let Some(taken) = self.taken.get_mut(piece.bed) {
                taken.push(Taken {
                    piece: *piece,
                    from: planting.from,
                    to: planting.to,
                });
            }
        }
        let missing = left * planting.options.first().map_or(0.0, |option| option.metres);
        Placement {
            pieces,
            missing_m: if missing > TOLERANCE_M { missing } else { 0.0 },
            short: None,
        }
    }

    /// Gaps during the planting's weeks, in the order of its beds.
    fn gaps(&self, planting: &Planting) -> Vec<Gap> {
        let mut found = Vec::new();
        for option in &planting.options {
            let (Some(bed), Some(taken)) = (
                self.problem.beds.get(option.bed),
                self.taken.get(option.bed),
            ) else {
                continue;
            };
            if bed.serves(planting) {
                found.extend(
                    gaps(taken, bed.length_m, planting.from, planting.to)
                        .into_iter()
                        .map(|(from_m, to_m)| Gap {
                            bed: option.bed,
                            from_m,
                            to_m,
                            whole: option.metres,
                        }),
                );
            }
        }
        found
    }

    /// The weeks without enough room for the whole planting; all its weeks if each of them alone has enough.
    fn short_weeks(&self, planting: &Planting, laid: &Placement) -> (u32, u32) {
        let missing = laid.missing_m / planting.options.first().map_or(1.0, |option| option.metres);
        let short = |week: u32| {
            let there = Planting {
                from: week,
                to: week + 1,
                ..planting.clone()
            };
            let room: f64 = self.gaps(&there).iter().map(Gap::share).sum();
            room < missing - TOLERANCE_M
        };
        let mut weeks = (planting.from..planting.to).filter(|week| short(*week));
        match weeks.next() {
            Some(first) => (first, weeks.next_back().unwrap_or(first) + 1),
            None => (planting.from, planting.to),
        }
    }
}
