//! The planner compared with exhaustive enumeration, where that is feasible.
//!
//! With whole plants and a handful of sowings every plan can be enumerated; none may be cheaper than the
//! planner's, except for the effect of splitting plants into fractions.

#![allow(clippy::unwrap_used, reason = "a check that cannot set up must stop")]

use planner::problem::{Choice, Class, Demand, Problem, Room, Take};
use planner::solve::solve;

/// A uniform random number generator (SplitMix64).
fn draw(state: &mut u64) -> f64 {
    *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
}

/// Four sowings of at most about five plants, one demand of three weeks, one space.
fn tiny(seed: u64) -> Problem {
    let mut state = seed;
    let mut between = |low: f64, high: f64| low + (high - low) * draw(&mut state);
    let weeks = 6;
    let choices = (0..4)
        .map(|n| Choice {
            class: 0,
            first: 2 + n % 3,
            gives: vec![between(1.0, 3.0), between(0.5, 2.0)],
            takes: vec![Take {
                room: 0,
                from: n % 3,
                to: 3 + n % 3,
                each: between(0.5, 1.5),
            }],
            cost: between(0.5, 2.0),
            start: between(0.0, 3.0),
        })
        .collect();
    Problem {
        weeks,
        rooms: vec![Room {
            free: vec![between(4.0, 9.0); weeks],
        }],
        demands: vec![Demand {
            wanted: (2..5)
                .map(|week| (week, between(2.0, 8.0).round()))
                .collect(),
            price: 10.0,
        }],
        classes: vec![Class {
            answers: vec![0],
            comes: vec![0.0; weeks],
        }],
        choices,
    }
}

/// The cost of a plan; `None` if a space overflows.
fn cost(problem: &Problem, plants: &[f64]) -> Option<f64> {
    for week in 0..problem.weeks {
        let used: f64 = problem
            .choices
            .iter()
            .zip(plants)
            .flat_map(|(choice, plants)| choice.takes.iter().map(move |take| (take, plants)))
            .filter(|(take, _)| (take.from..take.to).contains(&week))
            .map(|(take, plants)| take.each * plants)
            .sum();
        if used > problem.rooms[0].free[week] + 1e-9 {
            return None;
        }
    }
    let mut cost = 0.0;
    for (choice, plants) in problem.choices.iter().zip(plants) {
        if *plants > 0.0 {
            cost += choice.start + choice.cost * plants;
        }
    }
    for (week, wanted) in &problem.demands[0].wanted {
        let stems: f64 = problem
            .choices
            .iter()
            .zip(plants)
            .filter_map(|(choice, plants)| {
                let gives = choice.gives.get(week.checked_sub(choice.first)?)?;
                Some(gives * plants)
            })
            .sum();
        cost += problem.demands[0].price * (wanted - stems).max(0.0);
    }
    Some(cost)
}

/// The minimum cost over all plans in steps of a fraction of a plant.
fn least(problem: &Problem, step: f64, most: u32) -> f64 {
    let mut best = f64::INFINITY;
    let steps = most + 1;
    for n in 0..steps.pow(4) {
        let plants: Vec<f64> = (0..4u32)
            .map(|place| f64::from(n / steps.pow(place) % steps) * step)
            .collect();
        if let Some(cost) = cost(problem, &plants) {
            best = best.min(cost);
        }
    }
    best
}

#[test]
fn no_enumerated_plan_is_cheaper() {
    let mut exact = 0;
    const SEEDS: u64 = 60;
    for seed in 0..SEEDS {
        let problem = tiny(seed);
        let found = solve(&problem, f64::INFINITY, &|| 0.0, &mut |_| {}).unwrap();
        // Steps of half a plant up to twelve: a little over 15,625 plans.
        let enumerated = least(&problem, 0.5, 18);
        assert!(
            found.cost_in_parts <= enumerated * 1.02 + 1e-9,
            "seed {seed}: {} above the enumerated {enumerated}",
            found.cost_in_parts
        );
        assert!(
            found.bound <= enumerated + 1e-9,
            "seed {seed}: the bound is too high"
        );
        exact += u64::from(found.cost_in_parts <= enumerated + 1e-9);
        // The reported figures are consistent.
        let mut plants = vec![0.0; 4];
        for (choice, n) in &found.plants {
            plants[*choice] = f64::from(*n);
        }
        let recomputed = cost(&problem, &plants).unwrap();
        assert!(
            (recomputed - found.cost).abs() < 1e-6,
            "seed {seed}: {recomputed} and {}",
            found.cost
        );
    }
    assert!(
        exact >= SEEDS * 9 / 10,
        "as cheap as any in {exact} of {SEEDS}"
    );
}
