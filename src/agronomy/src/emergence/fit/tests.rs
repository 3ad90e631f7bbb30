use super::*;
use crate::emergence::outlook;
use crate::quantity::Spread;
use proptest::prelude::*;

const USUAL: EmergenceFigures = EmergenceFigures {
    first_day: 6.0,
    half_day: 9.0,
    most_day: 14.0,
    germination: 0.8,
    germination_low: 0.65,
    germination_high: 0.9,
    weight_seeds: 20.0,
};

fn counts(counts: &[(f64, u32)]) -> Vec<Count> {
    let of = 100;
    counts
        .iter()
        .map(|(day, up)| Count {
            day: *day,
            up: *up,
            of,
        })
        .collect()
}

fn alone(inspections: &[(f64, u32)]) -> Fit {
    fit(&[&counts(inspections)], None).unwrap()
}

fn with_usual(inspections: &[(f64, u32)]) -> Fit {
    fit(&[&counts(inspections)], Some(&USUAL)).unwrap()
}

fn final_stand(fit: &Fit) -> Option<Spread<f64>> {
    fit.stand_after(f64::INFINITY)
}

#[test]
fn one_count_identifies_a_curve_only_with_the_usual_figures() {
    let found = alone(&[(9.0, 40)]);
    assert_eq!(found.half_day(), None);
    assert!((found.final_share().value - 0.4).abs() < 1e-12);
    assert_eq!(final_stand(&found), None);
    let found = with_usual(&[(9.0, 40)]);
    assert!((found.half_day().unwrap().value - 9.0).abs() < 0.5);
    let stand = final_stand(&found).unwrap();
    assert!((70.0..90.0).contains(&stand.p50), "{stand:?}");
    assert!(stand.p10 < stand.p50 && stand.p50 < stand.p90, "{stand:?}");
}

#[test]
fn nothing_is_to_come_once_all_are_up() {
    for found in [
        alone(&[(6.0, 20), (8.0, 70), (11.0, 100)]),
        alone(&[(8.0, 100)]),
        with_usual(&[(8.0, 100)]),
    ] {
        assert_eq!(final_stand(&found), Some(Spread::exact(100.0)));
        assert_eq!(found.stand_after(5.0), Some(Spread::exact(100.0)));
    }
}

#[test]
fn none_up_gives_a_share_of_zero_alone_and_a_falling_stand_with_the_usual_figures() {
    let found = alone(&[(7.0, 0), (12.0, 0)]);
    assert!(found.final_share().value.abs() < 1e-12);
    assert_eq!(found.half_day(), None);
    let early = final_stand(&with_usual(&[(5.0, 0)])).unwrap();
    let late = final_stand(&with_usual(&[(5.0, 0), (30.0, 0)])).unwrap();
    assert!(early.p50 > 60.0, "{early:?}");
    assert!(late.p50 < 20.0, "{late:?}");
}

#[test]
fn seedlings_that_died_still_count_as_emerged() {
    let died = alone(&[(6.0, 20), (8.0, 60), (10.0, 55), (14.0, 72), (20.0, 70)]);
    let lived = alone(&[(6.0, 20), (8.0, 60), (10.0, 60), (14.0, 72), (20.0, 72)]);
    assert_eq!(died, lived);
    assert!((died.seen_up() - 72.0).abs() < 1e-9);
}

#[test]
fn a_count_still_rising_steeply_allows_any_final_stand() {
    let found = alone(&[(8.0, 2), (9.0, 8), (10.0, 30)]);
    assert_eq!(found.final_share().standard_error, None);
    let stand = final_stand(&found).unwrap();
    assert!((stand.p10 - 30.0).abs() < 1e-9 && (stand.p90 - 100.0).abs() < 1e-9);
}

#[test]
fn the_stand_grows_with_waiting_up_to_the_final_one() {
    let found = with_usual(&[(7.0, 15), (9.0, 45)]);
    let mut before = 45.0;
    for days in [0.0, 1.0, 2.0, 5.0, 20.0, 1000.0, f64::INFINITY] {
        let stand = found.stand_after(days).unwrap();
        assert!(stand.p50 >= before, "{days}: {stand:?}");
        before = stand.p50;
    }
    assert!(before > 70.0, "{before}");
    assert_eq!(found.stand_after(0.0), Some(Spread::exact(45.0)));
    assert_eq!(found.stand_after(f64::NAN), found.stand_after(0.0));
    assert_eq!(found.stand_after(-2.0), found.stand_after(0.0));
}

/// Two methods with one answer: the most likely curve with its errors, and the whole posterior on a grid.
#[test]
fn the_fit_and_the_grid_agree() {
    for inspections in [
        vec![(9.0, 40)],
        vec![(7.0, 12), (9.0, 45), (11.0, 66)],
        vec![(6.0, 10), (8.0, 50), (10.0, 75), (13.0, 82), (18.0, 83)],
    ] {
        let stand = final_stand(&with_usual(&inspections)).unwrap();
        let summed = outlook(&USUAL, 100, &counts(&inspections))
            .unwrap()
            .final_up;
        assert!(
            (stand.p50 - summed.p50).abs() <= 3.0,
            "{stand:?} {summed:?}"
        );
        assert!(
            (stand.p10 - summed.p10).abs() <= 5.0,
            "{stand:?} {summed:?}"
        );
        assert!(
            (stand.p90 - summed.p90).abs() <= 5.0,
            "{stand:?} {summed:?}"
        );
    }
}

#[test]
fn invalid_arguments_are_refused_by_name() {
    let field = |trays: &[&[Count]]| fit(trays, None).map_err(|error| error.field()).err();
    let one = |day, up, of| field(&[&[Count { day, up, of }]]);
    assert_eq!(field(&[]), Some("counts"));
    assert_eq!(field(&[&[]]), Some("counts"));
    assert_eq!(one(3.0, 5, 4), Some("count.up"));
    assert_eq!(one(3.0, 0, 0), Some("count.of"));
    assert_eq!(one(0.0, 1, 4), Some("count.up"));
    assert_eq!(one(0.0, 0, 4), None);
    for day in [-1.0, f64::NAN, f64::INFINITY, 1e9] {
        assert_eq!(one(day, 1, 4), Some("count.day"), "{day}");
    }
    let usual = EmergenceFigures {
        half_day: 3.0,
        ..USUAL
    };
    let found = fit(&[&counts(&[(3.0, 5)])], Some(&usual));
    assert_eq!(
        found.map_err(|error| error.field()).err(),
        Some("usual.half_day")
    );
}

proptest! {
    #[test]
    fn the_final_stand_is_between_what_was_seen_and_what_was_sown(
        steps in prop::collection::vec((0.1f64..9.0, 0u32..60), 1..10),
        of in 1u32..200,
        usual in any::<bool>(),
    ) {
        let mut day = 0.0;
        let inspections: Vec<Count> = steps
            .iter()
            .map(|(more, up)| {
                day += more;
                Count { day, up: (*up).min(of), of }
            })
            .collect();
        let most = inspections.iter().map(|inspection| inspection.up).max().unwrap_or(0);
        let found = fit(&[&inspections], usual.then_some(&USUAL)).unwrap();
        let share = found.final_share().value;
        prop_assert!((0.0..=1.0).contains(&share));
        prop_assert!((found.seen_up() - f64::from(most)).abs() < 1e-9);
        prop_assert!(!usual || found.half_day().is_some());
        if let Some(stand) = final_stand(&found) {
            let (most, of) = (f64::from(most), f64::from(of));
            for stand in [stand.p10, stand.p50, stand.p90] {
                prop_assert!(most <= stand && stand <= of, "{most} {stand} {of}");
            }
        }
        for estimate in [found.half_day(), found.steepness()].into_iter().flatten() {
            prop_assert!(estimate.value.is_finite() && estimate.value > 0.0);
            prop_assert!(estimate.standard_error.is_some_and(f64::is_finite));
        }
    }
}
