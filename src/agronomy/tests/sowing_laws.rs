//! What must hold of sowing counts and of the chain from stems to packets, whatever goes in.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::quantity::Chance;
use agronomy::sowing::{
    Cell, Chain, Derivation, Germination, Met, Need, SEEDS_MAX, Stage, Wanted, cell_occupied,
    chance_of_at_least_uncertain, exactly_one, least_sown, least_sown_uncertain, occupied_cells,
};
use proptest::prelude::*;

fn chance(share: f64) -> Chance {
    Chance::new(share).unwrap()
}

fn stems(stems: u32) -> Wanted {
    Wanted::Stems {
        stems,
        per_plant: 6.0,
        marketable: chance(0.8),
    }
}

fn need() -> Need {
    Need {
        wanted: stems(400),
        chance: Chance::NINE_IN_TEN,
        survival_in_bed: chance(0.95),
        survival_to_planting: chance(0.92),
        germination: Germination::Known(chance(0.8)),
        seeds_per_cell: 2,
        cells_per_tray: 128,
        seeds_per_packet: 50,
    }
}

fn number(need: &Need, stage: Stage) -> u32 {
    Chain::of(need).unwrap().step(stage).unwrap().number
}

/// 400 stems of 6 a plant, 4 in 5 of them saleable, are 84 plants (400 / 4.8).
/// Each cell gives a plant with chance (1 - 0.2^2) 0.92 = 0.8832.
#[test]
fn the_chain_leads_from_stems_to_packets_and_says_how() {
    let need = need();
    let chain = Chain::of(&need).unwrap();
    let stages: Vec<Stage> = chain.steps().iter().map(|step| step.stage).collect();
    assert_eq!(
        stages,
        [
            Stage::Stems,
            Stage::Plants,
            Stage::Planted,
            Stage::Seedlings,
            Stage::Cells,
            Stage::Trays,
            Stage::Seeds,
            Stage::Packets,
        ]
    );
    let at = |stage| chain.step(stage).unwrap();
    assert_eq!(at(Stage::Plants).number, 84);
    assert_eq!(at(Stage::Plants).met, Met::OnAverage);
    let planted = at(Stage::Planted).number;
    assert_eq!(Ok(planted), least_sown(84, chance(0.95), need.chance));
    let seedlings = at(Stage::Seedlings).number;
    assert_eq!(
        Ok(seedlings),
        least_sown(planted, chance(0.92), need.chance)
    );
    let cells = at(Stage::Cells);
    let per_cell = chance(0.96 * 0.92);
    assert_eq!(Ok(cells.number), least_sown(planted, per_cell, need.chance));
    assert_eq!(cells.of, Some(Stage::Planted));
    assert!(
        matches!(cells.by, Derivation::PlantsFromCells { gives_plant, .. }
        if (gives_plant.get() - 0.8832).abs() < 1e-12)
    );
    assert_eq!(at(Stage::Trays).number, cells.number.div_ceil(128));
    assert_eq!(at(Stage::Seeds).number, cells.number * 2);
    assert_eq!(at(Stage::Packets).number, (cells.number * 2).div_ceil(50));
    assert_eq!(at(Stage::Packets).by, Derivation::InWhole(50));
    let overall = chain.chance_of_plants();
    assert!(overall >= chance(0.81) && overall < Chance::CERTAIN);
}

#[test]
fn nothing_wanted_takes_nothing_and_plants_can_be_asked_for() {
    let none = Need {
        wanted: stems(0),
        ..need()
    };
    let chain = Chain::of(&none).unwrap();
    assert!(chain.steps().iter().all(|step| step.number == 0));
    let plants = Need {
        wanted: Wanted::Plants(84),
        ..need()
    };
    let chain = Chain::of(&plants).unwrap();
    assert!(chain.step(Stage::Stems).is_none());
    assert_eq!(chain.step(Stage::Plants).unwrap().by, Derivation::Asked);
    let packets = number(&plants, Stage::Packets);
    assert_eq!(packets, number(&need(), Stage::Packets));
}

#[test]
fn what_cannot_be_reckoned_with_is_refused_by_name() {
    let wanted = |stems, per_plant, marketable| Need {
        wanted: Wanted::Stems {
            stems,
            per_plant,
            marketable,
        },
        ..need()
    };
    let uncertain = |alpha, beta| Need {
        germination: Germination::Uncertain { alpha, beta },
        ..need()
    };
    let good = chance(0.8);
    let cases = [
        (wanted(SEEDS_MAX + 1, 6.0, good), "stems"),
        (wanted(SEEDS_MAX, 0.5, good), "plants"),
        (wanted(40, 0.0, good), "stems_per_plant"),
        (wanted(40, -1.0, good), "stems_per_plant"),
        (wanted(40, f64::NAN, good), "stems_per_plant"),
        (wanted(40, f64::INFINITY, good), "stems_per_plant"),
        (wanted(40, 6.0, Chance::NEVER), "marketable"),
        (
            Need {
                wanted: Wanted::Plants(SEEDS_MAX + 1),
                ..need()
            },
            "plants",
        ),
        (
            Need {
                survival_in_bed: Chance::NEVER,
                ..need()
            },
            "survival_in_bed",
        ),
        (
            Need {
                survival_to_planting: Chance::NEVER,
                ..need()
            },
            "survival_to_planting",
        ),
        (
            Need {
                seeds_per_cell: 0,
                ..need()
            },
            "seeds_per_cell",
        ),
        (
            Need {
                seeds_per_cell: 101,
                ..need()
            },
            "seeds_per_cell",
        ),
        (
            Need {
                cells_per_tray: 0,
                ..need()
            },
            "cells_per_tray",
        ),
        (
            Need {
                seeds_per_packet: 0,
                ..need()
            },
            "seeds_per_packet",
        ),
        (uncertain(0.0, 1.0), "alpha"),
        (uncertain(f64::NAN, 1.0), "alpha"),
        (uncertain(8.0, -1.0), "beta"),
        (uncertain(8.0, f64::INFINITY), "beta"),
        // Certainty, or any plant of dead seed, is out of reach.
        (
            Need {
                chance: Chance::CERTAIN,
                ..need()
            },
            "sown",
        ),
        (
            Need {
                germination: Germination::Known(Chance::NEVER),
                ..need()
            },
            "sown",
        ),
    ];
    for (need, field) in cases {
        let error = Chain::of(&need).unwrap_err();
        assert_eq!(error.field(), field, "{error}");
    }
    let cell = Cell::new(Germination::Known(good), 1, good).unwrap();
    assert_eq!(
        cell.chance_of_at_least(1, SEEDS_MAX + 1)
            .unwrap_err()
            .field(),
        "cells"
    );
    assert_eq!(
        cell.least_cells(SEEDS_MAX + 1, good).unwrap_err().field(),
        "wanted"
    );
    assert_eq!(
        occupied_cells(SEEDS_MAX + 1, good, good)
            .unwrap_err()
            .field(),
        "cells"
    );
}

#[test]
fn cells_without_seed_and_seed_without_life_stay_empty() {
    assert_eq!(cell_occupied(Chance::CERTAIN, 0), Chance::NEVER);
    assert_eq!(cell_occupied(Chance::NEVER, 5), Chance::NEVER);
    assert_eq!(cell_occupied(Chance::CERTAIN, 5), Chance::CERTAIN);
    assert_eq!(exactly_one(Chance::CERTAIN, 0), Chance::NEVER);
    assert_eq!(exactly_one(Chance::CERTAIN, 1), Chance::CERTAIN);
    assert_eq!(exactly_one(Chance::CERTAIN, 2), Chance::NEVER);
    assert_eq!(occupied_cells(0, Chance::EVEN, Chance::EVEN), Ok(0));
    assert_eq!(occupied_cells(9, Chance::CERTAIN, Chance::EVEN), Ok(9));
    assert_eq!(occupied_cells(9, Chance::EVEN, Chance::NEVER), Ok(0));
    assert_eq!(occupied_cells(9, Chance::EVEN, Chance::CERTAIN), Ok(9));
}

/// Next to certain is not certain: without a spare seed, ten of ten fail once in
/// a billion already at a rate of 1 - 1e-10.
#[test]
fn a_chance_next_to_certainty_is_not_taken_for_less() {
    let rate = chance(0.9);
    let sown = least_sown(10, rate, chance(1.0 - 1e-14)).unwrap();
    let looser = least_sown(10, rate, chance(1.0 - 1e-12)).unwrap();
    assert!(sown > looser, "{sown} {looser}");
    assert!(least_sown(10, rate, Chance::CERTAIN).is_err());
    assert!(least_sown_uncertain(10, 9.0, 1.0, Chance::CERTAIN).is_err());
    assert_eq!(
        least_sown(10, chance(1.0 - 1e-10), chance(1.0 - 1e-12)),
        Ok(11)
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn the_chain_grows_with_what_is_wanted_and_shrinks_with_what_comes_up(
        wanted in 0u32..3000, safety in 0.5f64..0.98, germination in 0.05f64..0.98,
        in_tray in 0.3f64..0.98, in_bed in 0.3f64..0.98, seeds in 1u32..4,
    ) {
        let base = Need {
            wanted: stems(wanted),
            chance: chance(safety),
            survival_in_bed: chance(in_bed),
            survival_to_planting: chance(in_tray),
            germination: Germination::Known(chance(germination)),
            seeds_per_cell: seeds,
            ..need()
        };
        let chain = Chain::of(&base).unwrap();
        let more = [
            Need { wanted: stems(wanted + 7), ..base },
            Need { chance: chance(safety + 0.01), ..base },
        ];
        let less = [
            Need { germination: Germination::Known(chance(germination + 0.02)), ..base },
            Need { survival_to_planting: chance(in_tray + 0.02), ..base },
            Need { survival_in_bed: chance(in_bed + 0.02), ..base },
        ];
        for step in chain.steps() {
            for other in &more {
                prop_assert!(number(other, step.stage) >= step.number, "{step:?} {other:?}");
            }
            for other in &less {
                prop_assert!(number(other, step.stage) <= step.number, "{step:?} {other:?}");
            }
            if let Met::With(met) = step.met {
                prop_assert!(met.get() >= safety - 1e-12, "{step:?}");
            }
        }
        // More are needed, the further from the stems; cells hold all seedlings needed.
        let at = |stage| chain.step(stage).unwrap().number;
        prop_assert!(at(Stage::Plants) <= at(Stage::Planted));
        prop_assert!(at(Stage::Planted) <= at(Stage::Seedlings));
        prop_assert!(at(Stage::Seedlings) <= at(Stage::Cells));
        prop_assert!(at(Stage::Trays) * 128 >= at(Stage::Cells));
        prop_assert!(at(Stage::Packets) * 50 >= at(Stage::Seeds));
    }

    #[test]
    fn cells_of_uncertain_germination_are_the_fewest_that_serve(
        wanted in 1u32..150, share in 0.2f64..0.95, weight in 1.0f64..300.0,
        seeds in 1u32..4, survival in 0.5f64..=1.0, safety in 0.3f64..0.95,
    ) {
        let germination = Germination::Uncertain {
            alpha: share * weight,
            beta: (1.0 - share) * weight,
        };
        let cell = Cell::new(germination, seeds, chance(survival)).unwrap();
        let Ok(cells) = cell.least_cells(wanted, chance(safety)) else {
            // A germination that may well be next to nothing.
            prop_assert!(share * weight < 3.0);
            return Ok(());
        };
        let at = |cells| cell.chance_of_at_least(wanted, cells).unwrap().get();
        prop_assert!(at(cells) >= safety - 1e-11);
        prop_assert!(at(cells - 1) < safety + 1e-11);
        prop_assert!(cell.least_cells(wanted + 1, chance(safety)).map_or(true, |more| more > cells));
    }

    /// The average over the beta, against the sum over seedlings that come up first and live then.
    #[test]
    fn single_seeds_that_must_live_too_agree_with_the_two_steps_summed(
        wanted in 0u32..40, cells in 1u32..60, alpha in 0.2f64..200.0, beta in 0.2f64..100.0,
        survival in 0.1f64..0.999,
    ) {
        let up = |k| chance_of_at_least_uncertain(k, cells, alpha, beta).unwrap().get();
        let lives = |k| agronomy::sowing::chance_of_at_least(wanted, k, chance(survival)).get();
        let summed: f64 = (0..=cells).map(|k| (up(k) - up(k + 1)) * lives(k)).sum();
        let cell = Cell::new(Germination::Uncertain { alpha, beta }, 1, chance(survival)).unwrap();
        let found = cell.chance_of_at_least(wanted, cells).unwrap().get();
        prop_assert!((found - summed).abs() < 1e-12, "{found} {summed}");
    }

    #[test]
    fn better_seed_needs_fewer_even_where_the_rate_is_uncertain(
        wanted in 1u32..200, alpha in 2.0f64..80.0, beta in 0.3f64..40.0, safety in 0.1f64..0.9,
    ) {
        let at = |wanted, alpha, beta, safety| {
            least_sown_uncertain(wanted, alpha, beta, chance(safety)).unwrap_or(u32::MAX)
        };
        let sown = at(wanted, alpha, beta, safety);
        prop_assert!(at(wanted, alpha + 1.0, beta, safety) <= sown);
        prop_assert!(at(wanted, alpha, beta + 1.0, safety) >= sown);
        prop_assert!(at(wanted + 1, alpha, beta, safety) >= sown);
        prop_assert!(at(wanted, alpha, beta, safety + 0.02) >= sown);
    }
}
