//! A program indexed by choice instead of by row, with its connected components.

use std::collections::BTreeMap;

use microlp::{ComparisonOp, OptimizationDirection, Problem as Linear, SolveOptions, Variable};

use crate::model::{Model, RowKind};
use crate::problem::{Choice, Problem};

/// Fewer plants than this count as none.
pub(super) const PLANTS_LEAST: f64 = 1e-6;

/// Plants by choice.
pub(super) type Plants = Vec<f64>;

/// A problem and its program, prepared for solving parts of it.
pub(super) struct ProgramIndex<'a> {
    pub problem: &'a Problem,
    pub model: Model,
    /// Rows and coefficients of each choice's plants.
    terms: Vec<Vec<(usize, f64)>>,
    /// Rows and coefficients of the other columns: missing stems, and stems allocated to a demand.
    others: Vec<Vec<(usize, f64)>>,
    /// The component of each row: rows connected by such columns.
    component_of: Vec<usize>,
    rows_of_component: BTreeMap<usize, Vec<usize>>,
    columns_of_component: BTreeMap<usize, Vec<usize>>,
    /// Whether two classes serve a common demand.
    related: Vec<Vec<bool>>,
    /// Possible choices by class.
    by_class: Vec<Vec<usize>>,
    /// The mean week of each choice's stems.
    middle: Vec<f64>,
}

/// The solution of a part of the program.
pub(super) struct Part {
    /// Plants of the free choices, in their order.
    pub plants: Plants,
    /// Cost of missing stems in its rows.
    pub missing_cost: f64,
}

impl<'a> ProgramIndex<'a> {
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
            if matches!(model.kinds.get(n), Some(RowKind::Made { .. })) {
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
        let component_of = components(model.rows.len(), &others);
        let mut rows_of_component = BTreeMap::<usize, Vec<usize>>::new();
        for (row, component) in component_of.iter().enumerate() {
            if !matches!(model.kinds.get(row), Some(RowKind::Made { .. })) {
                rows_of_component.entry(*component).or_default().push(row);
            }
        }
        let mut columns_of_component = BTreeMap::<usize, Vec<usize>>::new();
        for (column, rows) in others.iter().enumerate() {
            let component = rows.first().and_then(|(row, _)| component_of.get(*row));
            if let Some(component) = component {
                columns_of_component
                    .entry(*component)
                    .or_default()
                    .push(column);
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
        let related = related(problem);
        Self {
            problem,
            model,
            terms,
            others,
            component_of,
            rows_of_component,
            columns_of_component,
            related,
            by_class,
            middle,
        }
    }

    /// Choices that are possible.
    pub fn open_to(&self) -> impl Iterator<Item = usize> {
        let plants = self.model.plants.iter().enumerate();
        plants.filter_map(|(choice, column)| column.map(|_| choice))
    }

    /// A choice.
    pub fn choice(&self, n: usize) -> Option<&'a Choice> {
        self.problem.choices.get(n)
    }

    /// The largest useful number of plants of a choice; 0 if it is impossible.
    pub fn most(&self, choice: usize) -> f64 {
        let column = self.model.plants.get(choice).copied().flatten();
        column
            .and_then(|column| self.model.columns.get(column))
            .map_or(0.0, |column| column.upper)
    }

    /// Whether two choices bloom within `weeks` of each other for a common demand.
    pub fn near(&self, a: usize, b: usize, weeks: f64) -> bool {
        let class = |n: usize| self.choice(n).map(|choice| choice.class);
        let related = class(a)
            .zip(class(b))
            .and_then(|(a, b)| self.related.get(a)?.get(b).copied());
        let apart = self.middle.get(a).zip(self.middle.get(b));
        related.unwrap_or(false) && apart.is_some_and(|(a, b)| (a - b).abs() <= weeks)
    }

    /// Choices that bloom within `weeks` of `of` for a common demand.
    pub fn all_near(&self, of: usize, weeks: f64) -> impl Iterator<Item = usize> {
        let class = self.choice(of).map(|choice| choice.class);
        let related = class.and_then(|class| self.related.get(class));
        let lists = self
            .by_class
            .iter()
            .zip(related.into_iter().flatten())
            .filter_map(|(list, related)| related.then_some(list));
        let mine = self.middle.get(of).copied().unwrap_or(f64::NAN);
        lists.flatten().copied().filter(move |n| {
            let other = self.middle.get(*n).copied().unwrap_or(f64::NAN);
            *n != of && (other - mine).abs() <= weeks
        })
    }

    /// The contribution of all plants to each row.
    pub fn activity(&self, plants: &[f64]) -> Vec<f64> {
        let mut activity = vec![0.0; self.model.rows.len()];
        for (choice, plants) in plants.iter().enumerate().filter(|(_, n)| **n > 0.0) {
            self.add(&mut activity, choice, *plants);
        }
        activity
    }

    /// Adds the contribution of `plants` of a choice.
    pub fn add(&self, activity: &mut [f64], choice: usize, plants: f64) {
        for (row, factor) in self.terms.get(choice).into_iter().flatten() {
            if let Some(sum) = activity.get_mut(*row) {
                *sum += factor * plants;
            }
        }
    }

    /// Cost of `plants` of a choice, including its fixed cost.
    pub fn cost(&self, choice: usize, plants: f64) -> f64 {
        match self.choice(choice) {
            Some(choice) if plants > PLANTS_LEAST => choice.start + choice.cost * plants,
            _ => 0.0,
        }
    }

    /// The optimal plants of some choices at the given costs, with all others unchanged.
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
        let mut components = std::collections::BTreeSet::new();
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
                components.insert(*self.component_of.get(*row)?);
            }
        }
        let mut others = Vec::new();
        for component in &components {
            for row in self.rows_of_component.get(component).into_iter().flatten() {
                rows.entry(*row)
                    .or_insert_with(|| (Vec::new(), bound(*row).unwrap_or(0.0)));
            }
            for column in self
                .columns_of_component
                .get(component)
                .into_iter()
                .flatten()
            {
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
            // Excess by rounding is not free room.
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

/// Connected components of the rows: for each row, the first row of its component.
fn components(rows: usize, columns: &[Vec<(usize, f64)>]) -> Vec<usize> {
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

fn related(problem: &Problem) -> Vec<Vec<bool>> {
    let classes = &problem.classes;
    let common = |a: &[usize], b: &[usize]| a.iter().any(|demand| b.contains(demand));
    let row = |a: &[usize]| classes.iter().map(|b| common(a, &b.answers)).collect();
    classes.iter().map(|class| row(&class.answers)).collect()
}

/// The mean week of a choice's stems.
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
