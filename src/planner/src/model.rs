//! A planning problem as a mixed-integer linear program.
//!
//! For each sowing that could be made: plants `x`, and whether it is made, `y` (0 or 1). For each week of each demand: stems missing
//! `z`. Where stems of a kind answer several demands: how many of them go to which, `a`. At least cost, subject to
//!
//! - wanted: what goes to a demand in a week and what is missing is at least what is wanted;
//! - shared: what goes out of a kind of stems in a week is at most what comes;
//! - room: what all sowings take of a room in a week is at most what is free;
//! - made: `x` is at most as many as are of any use, and nothing unless the sowing is made.

use crate::problem::Problem;

/// The program: columns and rows.
#[derive(Debug, Clone, Default)]
pub struct Model {
    /// Variables, all of them at least 0.
    pub columns: Vec<Column>,
    /// Constraints.
    pub rows: Vec<Row>,
    /// The column of plants by choice; `None` where the choice serves nothing.
    pub plants: Vec<Option<usize>>,
    /// The column of `y` by choice; only where a sowing costs something whatever its size.
    pub made: Vec<Option<usize>>,
    /// The column of missing stems, by demand and place in its weeks.
    pub missing: Vec<Vec<usize>>,
    /// What each row stands for.
    pub meaning: Vec<Meaning>,
}

/// What a row of the program says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meaning {
    /// A demand's week, by the place of the week among the demand's.
    Wanted {
        /// Which demand.
        demand: usize,
        /// Which of its weeks.
        place: usize,
    },
    /// A kind of stems in a week.
    Shared {
        /// Which kind.
        class: usize,
        /// Which week.
        week: usize,
    },
    /// A room in a week.
    Room {
        /// Which room.
        room: usize,
        /// Which week.
        week: usize,
    },
    /// A sowing is made or not.
    Made {
        /// Which choice.
        choice: usize,
    },
}

/// A variable from 0 to `upper`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// What one of it costs.
    pub cost: f64,
    /// The most of it.
    pub upper: f64,
    /// Whether only whole numbers count.
    pub whole: bool,
}

/// A constraint: the sum of its terms against a number.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Row {
    /// Columns and their factors.
    pub terms: Vec<(usize, f64)>,
    /// Whether the sum is to be at least the number, or else at most.
    pub at_least: bool,
    /// The number.
    pub bound: f64,
}

/// Fewer stems than this from one plant in a week count as none.
const STEMS_LEAST: f64 = 1e-9;

impl Model {
    /// The program of a problem that has been checked.
    pub fn of(problem: &Problem) -> Self {
        Builder::new(problem).build()
    }
}

struct Builder<'a> {
    problem: &'a Problem,
    model: Model,
    /// Row of each demand's week.
    wanted: Vec<Vec<usize>>,
    /// Row of each class and week where stems are shared out.
    shared: Vec<Vec<Option<usize>>>,
    /// Row of each room and week that somebody takes.
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

    fn row(&mut self, meaning: Meaning, at_least: bool, bound: f64) -> usize {
        self.model.rows.push(Row {
            terms: Vec::new(),
            at_least,
            bound,
        });
        self.model.meaning.push(meaning);
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
                let row = self.row(Meaning::Wanted { demand: n, place }, true, *stems);
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
                        // One demand only: what comes anyway is taken off what is wanted.
                        if let Some(row) = self.model.rows.get_mut(*row) {
                            row.bound -= comes;
                        }
                    }
                    several => {
                        let shared = self.row(Meaning::Shared { class: n, week }, false, comes);
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
                let row = self.row(Meaning::Made { choice: n }, false, 0.0);
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
            Meaning::Room { room, week },
            false,
            free.copied().unwrap_or(0.0),
        );
        if let Some(slot) = self.room.get_mut(room).and_then(|rows| rows.get_mut(week)) {
            *slot = Some(row);
        }
        row
    }
}
