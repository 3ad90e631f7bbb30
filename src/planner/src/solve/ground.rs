//! A program turned over: by choice instead of by row, and which rows hang together.

use std::collections::BTreeMap;

use microlp::{ComparisonOp, OptimizationDirection, Problem as Linear, SolveOptions, Variable};

use crate::model::{Meaning, Model};
use crate::problem::{Choice, Problem};

/// Fewer plants than this are none.
pub(super) const PLANTS_LEAST: f64 = 1e-6;

/// Plants by choice.
pub(super) type Plants = Vec<f64>;

/// The problem and its program, ready for looking at parts of it.
pub(super) struct Ground<'a> {
    pub problem: &'a Problem,
    pub model: Model,
    /// Rows and factors of each choice's plants.
    terms: Vec<Vec<(usize, f64)>>,
    /// Rows and factors of the columns that are no choice's: missing stems, and stems handed to a demand.
    others: Vec<Vec<(usize, f64)>>,
    /// The knot of each row: rows that such columns tie together.
    knot_of: Vec<usize>,
    rows_of_knot: BTreeMap<usize, Vec<usize>>,
    columns_of_knot: BTreeMap<usize, Vec<usize>>,
    /// Whether two classes answer a demand in common.
    kin: Vec<Vec<bool>>,
    /// Choices that can be made, by class and middle week of bloom.
    by_class: Vec<Vec<usize>>,
    /// The middle week of each choice's stems.
    middle: Vec<f64>,
}

/// A part of the program solved for itself.
pub(super) struct Part {
    /// Plants of the choices that were free, in their order.
    pub plants: Plants,
    /// What missing stems in its rows cost.
    pub missing_cost: f64,
}

impl<'a> Ground<'a> {
    pub fn of(problem: &'a Problem) -> Self {
        let model = Model::of(problem);
        let mut choice_of: Vec<Option<usize>> = vec![None; model.columns.len()];
        for (choice, column) in model.plants.iter().enumerate() {
            if let Some(slot) = column.and_then(|column| choice_of.get_mut(column)) {
                *slot = Some(choice);
            }
        }
        let mut terms = vec![Vec::new(); problem.choices.len()];
        let mut others = vec![Vec::new(); model.columns.len()];
        for (n, row) in model.rows.iter().enumerate() {
            if matches!(model.meaning.get(n), Some(Meaning::Made { .. })) {
                continue;
            }
            for (column, factor) in &row.terms {
                let list = match choice_of.get(*column).copied().flatten() {
                    Some(choice) => terms.get_mut(choice),
                    None => others.get_mut(*column),
                };
                if let Some(list) = list {
                    list.push((n, *factor));
                }
            }
        }
        let knot_of = knots(model.rows.len(), &others);
        let mut rows_of_knot = BTreeMap::<usize, Vec<usize>>::new();
        for (row, knot) in knot_of.iter().enumerate() {
            if !matches!(model.meaning.get(row), Some(Meaning::Made { .. })) {
                rows_of_knot.entry(*knot).or_default().push(row);
            }
        }
        let mut columns_of_knot = BTreeMap::<usize, Vec<usize>>::new();
        for (column, rows) in others.iter().enumerate() {
            let knot = rows.first().and_then(|(row, _)| knot_of.get(*row));
            if let Some(knot) = knot {
                columns_of_knot.entry(*knot).or_default().push(column);
            }
        }
        let middle: Vec<f64> = problem.choices.iter().map(middle_of).collect();
        let mut by_class = vec![Vec::new(); problem.classes.len()];
        for (n, choice) in problem.choices.iter().enumerate() {
            let can = model.plants.get(n).is_some_and(Option::is_some);
            if let Some(list) = by_class.get_mut(choice.class).filter(|_| can) {
                list.push(n);
            }
        }
        let kin = kin(problem);
        Self {
            problem,
            model,
            terms,
            others,
            knot_of,
            rows_of_knot,
            columns_of_knot,
            kin,
            by_class,
            middle,
        }
    }

    /// Choices that could be made.
    pub fn open_to(&self) -> impl Iterator<Item = usize> {
        let plants = self.model.plants.iter().enumerate();
        plants.filter_map(|(choice, column)| column.map(|_| choice))
    }

    /// A choice.
    pub fn choice(&self, n: usize) -> Option<&'a Choice> {
        self.problem.choices.get(n)
    }

    /// The most plants of a choice that are of use; 0 where there is none.
    pub fn most(&self, choice: usize) -> f64 {
        let column = self.model.plants.get(choice).copied().flatten();
        column
            .and_then(|column| self.model.columns.get(column))
            .map_or(0.0, |column| column.upper)
    }

    /// Whether two choices bloom within so many weeks of each other for a demand in common.
    pub fn near(&self, a: usize, b: usize, weeks: f64) -> bool {
        let class = |n: usize| self.choice(n).map(|choice| choice.class);
        let kin = class(a)
            .zip(class(b))
            .and_then(|(a, b)| self.kin.get(a)?.get(b).copied());
        let apart = self.middle.get(a).zip(self.middle.get(b));
        kin.unwrap_or(false) && apart.is_some_and(|(a, b)| (a - b).abs() <= weeks)
    }

    /// Choices that bloom within so many weeks of one for a demand in common.
    pub fn all_near(&self, of: usize, weeks: f64) -> impl Iterator<Item = usize> {
        let class = self.choice(of).map(|choice| choice.class);
        let kin = class.and_then(|class| self.kin.get(class));
        let lists = self
            .by_class
            .iter()
            .zip(kin.into_iter().flatten())
            .filter_map(|(list, kin)| kin.then_some(list));
        let mine = self.middle.get(of).copied().unwrap_or(f64::NAN);
        lists.flatten().copied().filter(move |n| {
            let other = self.middle.get(*n).copied().unwrap_or(f64::NAN);
            *n != of && (other - mine).abs() <= weeks
        })
    }

    /// What all plants together add to each row.
    pub fn activity(&self, plants: &[f64]) -> Vec<f64> {
        let mut activity = vec![0.0; self.model.rows.len()];
        for (choice, plants) in plants.iter().enumerate().filter(|(_, n)| **n > 0.0) {
            self.add(&mut activity, choice, *plants);
        }
        activity
    }

    /// Adds so many plants of a choice to the rows' sums.
    pub fn add(&self, activity: &mut [f64], choice: usize, plants: f64) {
        for (row, factor) in self.terms.get(choice).into_iter().flatten() {
            if let Some(sum) = activity.get_mut(*row) {
                *sum += factor * plants;
            }
        }
    }

    /// What plants of a choice cost, with its start.
    pub fn cost(&self, choice: usize, plants: f64) -> f64 {
        match self.choice(choice) {
            Some(choice) if plants > PLANTS_LEAST => choice.start + choice.cost * plants,
            _ => 0.0,
        }
    }

    /// The best plants of some choices while all others stay as they are, each at a cost of its own.
    pub fn part(
        &self,
        plants: &[f64],
        activity: &[f64],
        free: &[usize],
        costs: &[f64],
    ) -> Option<Part> {
        let mut linear = Linear::new(OptimizationDirection::Minimize);
        let mut rows = BTreeMap::<usize, (Vec<(Variable, f64)>, f64)>::new();
        let bound = |row: usize| {
            let content = self.model.rows.get(row)?;
            Some(content.bound - activity.get(row)?)
        };
        let mut own = Vec::with_capacity(free.len());
        let mut knots = std::collections::BTreeSet::new();
        for (choice, cost) in free.iter().zip(costs) {
            let variable = linear.add_var(*cost, (0.0, self.most(*choice)));
            own.push(variable);
            let mine = plants.get(*choice).copied().unwrap_or(0.0);
            for (row, factor) in self.terms.get(*choice)? {
                let entry = rows
                    .entry(*row)
                    .or_insert_with(|| (Vec::new(), bound(*row).unwrap_or(0.0)));
                entry.0.push((variable, *factor));
                entry.1 += factor * mine;
                knots.insert(*self.knot_of.get(*row)?);
            }
        }
        let mut others = Vec::new();
        for knot in &knots {
            for row in self.rows_of_knot.get(knot).into_iter().flatten() {
                rows.entry(*row)
                    .or_insert_with(|| (Vec::new(), bound(*row).unwrap_or(0.0)));
            }
            for column in self.columns_of_knot.get(knot).into_iter().flatten() {
                let content = self.model.columns.get(*column)?;
                let variable = linear.add_var(content.cost, (0.0, content.upper));
                others.push((content.cost, variable));
                for (row, factor) in self.others.get(*column)? {
                    if let Some(entry) = rows.get_mut(row) {
                        entry.0.push((variable, *factor));
                    }
                }
            }
        }
        for (row, (terms, bound)) in rows {
            if terms.is_empty() {
                continue;
            }
            let compare = if self.model.rows.get(row)?.at_least {
                ComparisonOp::Ge
            } else {
                ComparisonOp::Le
            };
            // What is over by rounding is not free.
            let bound = match compare {
                ComparisonOp::Le => bound.max(0.0),
                _ => bound,
            };
            linear.add_constraint(terms, compare, bound);
        }
        let outcome = linear.solve_with(SolveOptions::default()).ok()?;
        let solution = outcome.solution()?;
        Some(Part {
            plants: own
                .iter()
                .map(|variable| solution.var_value(*variable).max(0.0))
                .collect(),
            missing_cost: others
                .iter()
                .map(|(cost, variable)| cost * solution.var_value(*variable))
                .sum(),
        })
    }
}

/// Rows that columns tie together: for each row the first of its knot.
fn knots(rows: usize, columns: &[Vec<(usize, f64)>]) -> Vec<usize> {
    fn root(parent: &mut [usize], mut row: usize) -> usize {
        while let Some(up) = parent.get(row).copied().filter(|up| *up != row) {
            row = up;
        }
        row
    }
    let mut parent: Vec<usize> = (0..rows).collect();
    for column in columns {
        for pair in column.windows(2) {
            if let [(a, _), (b, _)] = pair {
                let (a, b) = (root(&mut parent, *a), root(&mut parent, *b));
                if let Some(slot) = parent.get_mut(a.max(b)) {
                    *slot = a.min(b);
                }
            }
        }
    }
    (0..rows).map(|row| root(&mut parent, row)).collect()
}

fn kin(problem: &Problem) -> Vec<Vec<bool>> {
    let classes = &problem.classes;
    let common = |a: &[usize], b: &[usize]| a.iter().any(|demand| b.contains(demand));
    let row = |a: &[usize]| classes.iter().map(|b| common(a, &b.answers)).collect();
    classes.iter().map(|class| row(&class.answers)).collect()
}

/// The middle week of a choice's stems.
fn middle_of(choice: &Choice) -> f64 {
    let sum: f64 = choice.gives.iter().sum();
    let weighed: f64 = choice
        .gives
        .iter()
        .enumerate()
        .map(|(n, stems)| n as f64 * stems)
        .sum();
    choice.first as f64 + if sum > 0.0 { weighed / sum } else { 0.0 }
}
