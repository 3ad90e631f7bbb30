//! Laying out.

use core::cmp::Reverse;

use super::gaps::{HAIR_M, Taken, gaps};
use super::ground::{Ground, GroundError, Laid, Piece, Stay};

/// In which order plantings are laid.
#[derive(Debug, Clone, Copy)]
enum Order {
    /// By date.
    ByDate,
    /// Those whose bed is chosen, then by date.
    FixedThenDate,
    /// Those whose bed is chosen, then the longest first.
    FixedThenLongest,
    /// Those whose bed is chosen, then those that take least room and time.
    FixedThenLeast,
}

const ORDERS: [Order; 4] = [
    Order::ByDate,
    Order::FixedThenDate,
    Order::FixedThenLongest,
    Order::FixedThenLeast,
];

/// Which of several gaps that hold a planting it takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fit {
    First,
    Tightest,
}

/// Lays out the plantings, in the order given.
///
/// # Errors
/// [`GroundError`] for what [`Ground::check`] refuses.
pub fn lay_out(ground: &Ground) -> Result<Vec<Laid>, GroundError> {
    ground.check()?;
    let mut best: Option<(Worth, Vec<Laid>)> = None;
    for order in ORDERS {
        for fit in [Fit::First, Fit::Tightest] {
            let laid = attempt(ground, order, fit);
            let worth = Worth::of(ground, &laid);
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

/// What a layout is judged by, the weightiest first.
struct Worth {
    fixed_missing: f64,
    missing: f64,
    pieces: usize,
}

impl Worth {
    fn of(ground: &Ground, laid: &[Laid]) -> Self {
        let missing = |fixed: bool| {
            let both = ground.stays.iter().zip(laid);
            both.filter(|(stay, _)| stay.fixed || !fixed)
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
            (a < b - HAIR_M)
                .then_some(true)
                .or((a > b + HAIR_M).then_some(false))
        };
        less(self.fixed_missing, other.fixed_missing)
            .or_else(|| less(self.missing, other.missing))
            .unwrap_or(self.pieces < other.pieces)
    }
}

fn attempt(ground: &Ground, order: Order, fit: Fit) -> Vec<Laid> {
    let metres = |stay: &Stay| stay.places.first().map_or(0.0, |place| place.metres);
    // Whole millimetres sort as numbers do.
    let size = |metres: f64| (metres * 1000.0).round() as u64;
    let mut turns: Vec<(usize, &Stay)> = ground.stays.iter().enumerate().collect();
    turns.sort_by_key(|(n, stay)| {
        let weeks = u64::from(stay.to - stay.from);
        let fixed = !stay.fixed;
        let longest = Reverse(size(metres(stay)));
        let (first, second) = match order {
            Order::ByDate => (u64::from(stay.from), u64::from(fixed)),
            Order::FixedThenDate => (u64::from(fixed), u64::from(stay.from)),
            Order::FixedThenLongest => (u64::from(fixed), 0),
            Order::FixedThenLeast => (u64::from(fixed), size(metres(stay)) * weeks),
        };
        // The fixed ones by date in any order, so that they fit as far as they can.
        let date = if stay.fixed { stay.from } else { 0 };
        (first, second, date, longest, stay.from, *n)
    });
    let mut field = Field {
        ground,
        fit,
        taken: vec![Vec::new(); ground.beds.len()],
    };
    let mut laid: Vec<Laid> = vec![
        Laid {
            pieces: Vec::new(),
            missing_m: 0.0,
            short: None
        };
        ground.stays.len()
    ];
    for (n, stay) in turns {
        let found = field.lay(stay);
        if let Some(laid) = laid.get_mut(n) {
            *laid = found;
        }
    }
    for (stay, laid) in ground.stays.iter().zip(&mut laid) {
        if laid.missing_m > 0.0 {
            laid.short = Some(field.short_weeks(stay, laid));
        }
    }
    laid
}

/// Beds with what was laid in them so far.
struct Field<'a> {
    ground: &'a Ground,
    fit: Fit,
    taken: Vec<Vec<Taken>>,
}

/// A gap that would do for a part of a planting.
struct Gap {
    bed: usize,
    from_m: f64,
    to_m: f64,
    /// Metres of the whole planting in this bed.
    whole: f64,
}

impl Gap {
    fn length(&self) -> f64 {
        self.to_m - self.from_m
    }

    /// The share of the planting that the gap holds.
    fn share(&self) -> f64 {
        self.length() / self.whole
    }

    /// Metres that are left beside the whole planting.
    fn over(&self) -> f64 {
        self.length() - self.whole
    }

    fn holds_all(&self) -> bool {
        self.over() + HAIR_M >= 0.0
    }

    /// A share of the planting at the gap's beginning.
    fn cut(&self, share: f64) -> Piece {
        Piece {
            bed: self.bed,
            from_m: self.from_m,
            to_m: (self.from_m + share * self.whole).min(self.to_m),
        }
    }
}

impl Field<'_> {
    fn lay(&mut self, stay: &Stay) -> Laid {
        let mut open = self.gaps(stay);
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
        } else if self.ground.split {
            // In few pieces: out of the bed with most room, its longest gaps first.
            let mut rooms = vec![0.0; self.ground.beds.len()];
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
                if left * gap.whole <= HAIR_M {
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
                    from: stay.from,
                    to: stay.to,
                });
            }
        }
        let missing = left * stay.places.first().map_or(0.0, |place| place.metres);
        Laid {
            pieces,
            missing_m: if missing > HAIR_M { missing } else { 0.0 },
            short: None,
        }
    }

    /// Gaps for as long as a planting stays, in the order of its places.
    fn gaps(&self, stay: &Stay) -> Vec<Gap> {
        let mut found = Vec::new();
        for place in &stay.places {
            let (Some(bed), Some(taken)) =
                (self.ground.beds.get(place.bed), self.taken.get(place.bed))
            else {
                continue;
            };
            if bed.serves(stay) {
                found.extend(
                    gaps(taken, bed.length_m, stay.from, stay.to)
                        .into_iter()
                        .map(|(from_m, to_m)| Gap {
                            bed: place.bed,
                            from_m,
                            to_m,
                            whole: place.metres,
                        }),
                );
            }
        }
        found
    }

    /// The weeks in which there is too little room for all of a planting: all its weeks where every one alone would do.
    fn short_weeks(&self, stay: &Stay, laid: &Laid) -> (u32, u32) {
        let missing = laid.missing_m / stay.places.first().map_or(1.0, |place| place.metres);
        let short = |week: u32| {
            let there = Stay {
                from: week,
                to: week + 1,
                ..stay.clone()
            };
            let room: f64 = self.gaps(&there).iter().map(Gap::share).sum();
            room < missing - HAIR_M
        };
        let mut weeks = (stay.from..stay.to).filter(|week| short(*week));
        match weeks.next() {
            Some(first) => (first, weeks.next_back().unwrap_or(first) + 1),
            None => (stay.from, stay.to),
        }
    }
}
