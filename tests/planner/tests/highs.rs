//! The planner's cost held against what HiGHS found for the same programs.
//!
//! Source: HiGHS (https://highs.dev), run by `highs.py` on the programs as MPS; `data/highs.csv` says with which version and limits.
//! Each program's text is known by its SHA-256, so that both have solved the same.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot read its figures must stop"
)]

use planner::model::Model;
use planner::mps::mps;
use planner::problem::Problem;
use planner::solve::{Found, solve};
use planner_checks::{Case, cases, problem};
use sha2::{Digest, Sha256};

struct Known {
    case: String,
    sha256: String,
    objective: f64,
    bound: f64,
}

fn known() -> Vec<Known> {
    let text = include_str!("../data/highs.csv");
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            Known {
                case: record[0].to_owned(),
                sha256: record[1].to_owned(),
                objective: record[3].parse().unwrap(),
                bound: record[4].parse().unwrap(),
            }
        })
        .collect()
}

fn sha256(text: &str) -> String {
    Sha256::digest(text.as_bytes())
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// Searches until nothing is gained; the clock stands still, so that a slow machine finds the same.
fn found(problem: &Problem) -> Found {
    solve(problem, f64::INFINITY, &|| 0.0, &mut |_| {}).unwrap()
}

/// What rooms hold beyond what is free, at most.
fn over(problem: &Problem, found: &Found) -> f64 {
    let mut most = f64::NEG_INFINITY;
    for (n, room) in problem.rooms.iter().enumerate() {
        for (week, free) in room.free.iter().enumerate() {
            let mut used = 0.0;
            for (choice, plants) in &found.plants {
                for take in &problem.choices[*choice].takes {
                    if take.room == n && (take.from..take.to).contains(&week) {
                        used += take.each * f64::from(*plants);
                    }
                }
            }
            most = most.max(used - free);
        }
    }
    most
}

fn held_against_highs(names: &[&str]) {
    let known = known();
    let mut told = String::new();
    for case in cases().iter().filter(|case| names.contains(&case.name)) {
        told.push_str(&hold(case, &known));
    }
    println!(
        "case, ours, HiGHS, its bound, ours above HiGHS in 100, ours above its bound in 100\n{told}"
    );
}

fn hold(case: &Case, known: &[Known]) -> String {
    let problem = problem(case.seed, case.size);
    let id = case.id();
    let known = known.iter().find(|known| known.case == id).unwrap();
    assert_eq!(
        sha256(&mps(&Model::of(&problem))),
        known.sha256,
        "{id} is another program than the one that HiGHS solved"
    );
    let found = found(&problem);
    assert!(over(&problem, &found) < 1e-6, "{id}: a room overflows");
    assert!(found.bound <= found.cost_in_parts + 1e-6, "{id}");
    // Our bound is below anything that HiGHS found.
    assert!(
        found.bound <= known.objective * (1.0 + 1e-6),
        "{id}: {}",
        found.bound
    );
    let above = found.cost_in_parts / known.objective - 1.0;
    let above_bound = found.cost_in_parts / known.bound - 1.0;
    if case.size.varieties <= 60 {
        assert!(above <= 0.005, "{id}: {above} above HiGHS");
    } else {
        assert!(above <= 0.0, "{id}: {above} above HiGHS");
        assert!(
            above_bound <= ACRE_ABOVE_BOUND,
            "{id}: {above_bound} above its bound"
        );
    }
    format!(
        "{id}, {:.1}, {:.1}, {:.1}, {:.2}, {:.2}\n",
        found.cost_in_parts,
        known.objective,
        known.bound,
        above * 100.0,
        above_bound * 100.0
    )
}

/// How far above the bound that HiGHS reaches in its time the largest plans may lie. One in 100 was aimed at; what HiGHS itself finds
/// in that time lies 1.2 to 2.1 above it.
const ACRE_ABOVE_BOUND: f64 = 0.018;

#[test]
fn small_plans_cost_what_highs_says_they_must() {
    held_against_highs(&["tiny", "small", "tight"]);
}

#[test]
fn plans_of_a_hobby_to_a_farm_cost_no_more_than_half_a_hundredth_above_highs() {
    held_against_highs(&["hobby", "farm"]);
}

#[test]
fn plans_of_an_acre_cost_less_than_what_highs_finds() {
    held_against_highs(&["large", "acre"]);
}
