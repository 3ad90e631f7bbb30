//! A planning problem as a mixed-integer linear program.
//!
//! The variables are, for each possible sowing, its plants `x` and whether it is made, `y` (0 or 1); for each
//! week of each demand, the missing stems `z`; and for stems that several demands share, the number allocated
//! to each, `a`. The cost is minimised subject to
//!
//! - demand: the stems allocated to a demand in a week plus the missing ones are at least those wanted;
//! - sharing: the stems allocated from a class in a week are at most those available;
//! - room: the room used in a week is at most that available;
//! - start: `x` is at most the largest useful number, and zero unless the sowing is made.

use crate::problem::Problem;

/// The program: columns and rows.
#[derive(Debug, Clone, Default)]
pub struct Model {
    /// Variables, all non-negative.
    pub columns: Vec<Column>,
    /// Constraints.
    pub rows: Vec<Row>,
    /// The column of plants by choice; `None` if the choice serves no demand.
    pub plants: Vec<Option<usize>>,
    /// The column of `y` by choice, for sowings with a fixed cost.
    pub made: Vec<Option<usize>>,
    /// The columns of missing stems, by demand and week.
    pub missing: Vec<Vec<usize>>,
    /// The kind of each row.
    pub kinds: Vec<RowKind>,
}

/// The kind of a constraint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowKind {
    /// A demand's week.
    Wanted {
        /// Index of the demand.
        demand: usize,
        /// Index among its weeks.
        place: usize,
    },
    /// A stem class in a week.
    Shared {
        /// Index of the class.
        class: usize,
        /// Week.
        week: usize,
    },
    /// A room in a week.
    Room {
        /// Index of the room.
        room: usize,
        /// Week.
        week: usize,
    },
    /// The fixed cost of a sowing.
    Made {
        /// Index of the choice.
        choice: usize,
    },
}

/// A variable from 0 to `upper`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// Cost per unit.
    pub cost: f64,
    /// Upper bound.
    pub upper: f64,
    /// Whether it is an integer.
    pub whole: bool,
}

/// A constraint on a sum of terms.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Row {
    /// Columns with their coefficients.
    pub terms: Vec<(usize, f64)>,
    /// Whether the sum must be at least the bound, otherwise at most.
    pub at_least: bool,
    /// The bound.
    pub bound: f64,
}

/// Stems per plant and week below this count as zero.
const STEMS_LEAST: f64 = 1e-9;

impl Model {
    /// The program of a valid problem.
    pub fn of(problem: &Problem) -> Self {
        Builder::new(problem).build()
    }
}

struct Builder<'a> {
    problem: &'a Problem,
    model: Model,
    /// The row of each week of each demand.
    wanted: Vec<Vec<usize>>,
    /// The row of each class and week with shared stems.
    shared: Vec<Vec<Option<usize>>>,
    /// The row of each room and week in use.
    room: Vec<Vec<Option<usize>>>,
}

impl<'a> Builder<'a> {
    fn new(problem: &'a Problem) -> Self {
        Self {
            problem,
            model: Model::default(),
            wanted: Vec::new(),
            shared: vec![vec![None; problem.weeks]; problem.classes.len()],
            room: vec![vec![None; problem.weeks]; problem.rooms.len()],
        }
    }

    fn build(mut self) -> Model {
        self.demands();
        self.classes();
        self.choices();
        self.model
    }

    fn column(&mut self, cost: f64, upper: f64, whole: bool) -> usize {
        self.model.columns.push(Column { cost, upper, whole });
        self.model.columns.len() - 1
    }

    fn row(&mut self, kinds: RowKind, at_least: bool, bound: f64) -> usize {
        self.model.rows.push(Row {
            terms: Vec::new(),
            at_least,
            bound,
        });
        self.model.kinds.push(kinds);
        self.model.rows.len() - 1
    }

    fn term(&mut self, row: usize, column: usize, factor: f64) {
        if let Some(row) = self.model.rows.get_mut(row) {
            row.terms.push((column, factor));
        }
    }

    fn demands(&mut self) {
        let problem = self.problem;
        for (n, demand) in problem.demands.iter().enumerate() {
            let mut rows = Vec::with_capacity(demand.wanted.len());
            let mut missing = Vec::with_capacity(demand.wanted.len());
            for (place, (_, stems)) in demand.wanted.iter().enumerate() {
                let column = self.column(demand.price, *stems, false);
                let row = self.row(RowKind::Wanted { demand: n, place }, true, *stems);
                self.term(row, column, 1.0);
                rows.push(row);
                missing.push(column);
            }
            self.wanted.push(rows);
            self.model.missing.push(missing);
        }
    }

    /// Stems that come anyway, and those that several demands share.
    fn classes(&mut self) {
        let problem = self.problem;
        for (n, class) in problem.classes.iter().enumerate() {
            for week in 0..problem.weeks {
                let comes = class.comes.get(week).copied().unwrap_or(0.0);
                let open: Vec<(usize, f64)> = class
                    .answers
                    .iter()
                    .filter_map(|demand| self.wanted_row(*demand, week))
                    .collect();
                match open.as_slice() {
                    [] => {}
                    [(row, _)] => {
                        // A single demand: existing stems reduce what is wanted.
                        if let Some(row) = self.model.rows.get_mut(*row) {
                            row.bound -= comes;
                        }
                    }
                    several => {
                        let shared = self.row(RowKind::Shared { class: n, week }, false, comes);
                        for (row, stems) in several {
                            let column = self.column(0.0, *stems, false);
                            self.term(*row, column, 1.0);
                            self.term(shared, column, 1.0);
                        }
                        if let Some(slot) = self.shared.get_mut(n).and_then(|s| s.get_mut(week)) {
                            *slot = Some(shared);
                        }
                    }
                }
            }
        }
        for row in &mut self.model.rows {
            if row.at_least {
                row.bound = row.bound.max(0.0);
            }
        }
    }

    fn wanted_row(&self, demand: usize, week: usize) -> Option<(usize, f64)> {
        let wanted = &self.problem.demands.get(demand)?.wanted;
        let place = wanted.binary_search_by_key(&week, |(week, _)| *week).ok()?;
        let row = *self.wanted.get(demand)?.get(place)?;
        Some((row, wanted.get(place)?.1))
    }

    fn choices(&mut self) {
        let problem = self.problem;
        for (n, choice) in problem.choices.iter().enumerate() {
            let most = problem.most(choice);
            if most <= 0.0 {
                self.model.plants.push(None);
                self.model.made.push(None);
                continue;
            }
            let plants = self.column(choice.cost, most, false);
            self.model.plants.push(Some(plants));
            for (m, gives) in choice.gives.iter().enumerate() {
                let week = choice.first + m;
                if *gives < STEMS_LEAST || week >= problem.weeks {
                    continue;
                }
                let shared = self
                    .shared
                    .get(choice.class)
                    .and_then(|rows| *rows.get(week)?);
                if let Some(row) = shared {
                    self.term(row, plants, -gives);
                    continue;
                }
                let answers = problem.classes.get(choice.class).map(|c| &c.answers);
                let row = answers
                    .into_iter()
                    .flatten()
                    .find_map(|demand| self.wanted_row(*demand, week));
                if let Some((row, _)) = row {
                    self.term(row, plants, *gives);
                }
            }
            for take in choice.takes.iter().filter(|take| take.each > 0.0) {
                for week in take.from..take.to {
                    let row = self.room_row(take.room, week);
                    self.term(row, plants, take.each);
                }
            }
            let made = (choice.start > 0.0).then(|| {
                let made = self.column(choice.start, 1.0, true);
                let row = self.row(RowKind::Made { choice: n }, false, 0.0);
                self.term(row, plants, 1.0);
                self.term(row, made, -most);
                made
            });
            self.model.made.push(made);
        }
    }

    fn room_row(&mut self, room: usize, week: usize) -> usize {
        if let Some(row) = self.room.get(room).and_then(|rows| *rows.get(week)?) {
            return row;
        }
        let free = self
            .problem
            .rooms
            .get(room)
            .and_then(|room| room.free.get(week));
        let row = self.row(
            RowKind::Room { room, week },
            false,
            free.copied().unwrap_or(0.0),
        );
        if let Some(slot) = self.room.get_mut(room).and_then(|rows| rows.get_mut(week)) {
            *slot = Some(row);
        }
        row
    }
}
