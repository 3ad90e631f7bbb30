use super::*;
use crate::emergence::outlook;
use crate::quantity::Spread;
use proptest::prelude::*;

const USUAL: Usual = Usual {
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

fn alone(looks: &[(f64, u32)]) -> Fit {
    fit(&[&counts(looks)], None).unwrap()
}

fn with_usual(looks: &[(f64, u32)]) -> Fit {
    fit(&[&counts(looks)], Some(&USUAL)).unwrap()
}

#[test]
fn one_count_tells_no_curve_alone_but_does_with_the_usual_figures() {
    let told = alone(&[(9.0, 40)]);
    assert_eq!(told.half_day(), None);
    assert!((told.final_share().value - 0.4).abs() < 1e-12);
    assert_eq!(told.final_stand(), None);
    assert_eq!(told.expected_within(3.0), None);

    let told = with_usual(&[(9.0, 40)]);
    assert!((told.half_day().unwrap().value - 9.0).abs() < 0.5);
    let stand = told.final_stand().unwrap();
    assert!((70.0..90.0).contains(&stand.p50), "{stand:?}");
    assert!(stand.p10 < stand.p50 && stand.p50 < stand.p90, "{stand:?}");
}

#[test]
fn all_up_leaves_nothing_to_come() {
    for told in [
        alone(&[(6.0, 20), (8.0, 70), (11.0, 100)]),
        alone(&[(8.0, 100)]),
        with_usual(&[(8.0, 100)]),
    ] {
        assert_eq!(told.final_stand(), Some(Spread::exact(100.0)));
        assert_eq!(told.expected_within(5.0), Some(0.0));
    }
}

#[test]
fn none_up_is_a_share_of_nothing_alone_and_less_hope_with_time() {
    let told = alone(&[(7.0, 0), (12.0, 0)]);
    assert!(told.final_share().value.abs() < 1e-12);
    assert_eq!(told.half_day(), None);

    let early = with_usual(&[(5.0, 0)]).final_stand().unwrap();
    let late = with_usual(&[(5.0, 0), (30.0, 0)]).final_stand().unwrap();
    assert!(early.p50 > 60.0, "{early:?}");
    assert!(late.p50 < 20.0, "{late:?}");
}

#[test]
fn seedlings_that_died_have_emerged() {
    let died = alone(&[(6.0, 20), (8.0, 60), (10.0, 55), (14.0, 72), (20.0, 70)]);
    let lived = alone(&[(6.0, 20), (8.0, 60), (10.0, 60), (14.0, 72), (20.0, 72)]);
    assert_eq!(died, lived);
    assert_eq!(died.up_now(), 72);
}

#[test]
fn a_count_still_climbing_steeply_says_all_may_come_and_not_how_few() {
    let told = alone(&[(8.0, 2), (9.0, 8), (10.0, 30)]);
    assert_eq!(told.final_share().standard_error, None);
    let stand = told.final_stand().unwrap();
    assert!((stand.p10 - 30.0).abs() < 1e-9 && (stand.p90 - 100.0).abs() < 1e-9);
}

#[test]
fn what_is_expected_grows_with_waiting_up_to_the_final_stand() {
    let told = with_usual(&[(7.0, 15), (9.0, 45)]);
    let mut before = 0.0;
    for days in [0.0, 1.0, 2.0, 5.0, 20.0, 1000.0] {
        let more = told.expected_within(days).unwrap();
        assert!(more >= before, "{days}: {more}");
        before = more;
    }
    let all = told.expected_within(f64::INFINITY).unwrap();
    let stand = told.final_stand().unwrap();
    assert!((45.0 + all - stand.p50).abs() < 1.5, "{all} {stand:?}");
    assert_eq!(told.expected_within(f64::NAN), told.expected_within(0.0));
    assert_eq!(told.expected_within(-2.0), Some(0.0));
}

/// Two ways to the same answer: the likeliest curve with its errors, and the
/// whole posterior summed on a grid.
#[test]
fn the_fit_and_the_summed_outlook_agree() {
    for looks in [
        vec![(9.0, 40)],
        vec![(7.0, 12), (9.0, 45), (11.0, 66)],
        vec![(6.0, 10), (8.0, 50), (10.0, 75), (13.0, 82), (18.0, 83)],
    ] {
        let stand = with_usual(&looks).final_stand().unwrap();
        let summed = outlook(&USUAL, 100, &counts(&looks)).unwrap().final_up;
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
fn trays_that_differ_widen_the_errors() {
    let trays = [
        counts(&[(7.0, 40), (9.0, 80), (12.0, 95), (20.0, 95)]),
        counts(&[(7.0, 2), (9.0, 10), (12.0, 50), (20.0, 60)]),
        counts(&[(7.0, 35), (9.0, 75), (12.0, 90), (20.0, 91)]),
    ];
    let trays: Vec<&[Count]> = trays.iter().map(Vec::as_slice).collect();
    let told = fit(&trays, None).unwrap();
    let apart = told.with_trays_apart().unwrap();
    let error = |fit: &Fit| fit.final_share().standard_error.unwrap();
    assert!(error(&apart) > 2.0 * error(&told));
    assert_eq!(fit(&trays[..1], None).unwrap().with_trays_apart(), None);
}

#[test]
fn what_cannot_be_is_named() {
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
    let usual = Usual {
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
    fn the_final_stand_lies_between_what_is_seen_and_what_was_sown(
        steps in prop::collection::vec((0.1f64..9.0, 0u32..60), 1..10),
        of in 1u32..200,
        usual in any::<bool>(),
    ) {
        let mut day = 0.0;
        let looks: Vec<Count> = steps
            .iter()
            .map(|(more, up)| {
                day += more;
                Count { day, up: (*up).min(of), of }
            })
            .collect();
        let most = looks.iter().map(|look| look.up).max().unwrap_or(0);
        let told = fit(&[&looks], usual.then_some(&USUAL)).unwrap();
        let share = told.final_share().value;
        prop_assert!((0.0..=1.0).contains(&share));
        prop_assert_eq!(told.up_now(), most);
        prop_assert!(!usual || told.half_day().is_some());
        if let Some(stand) = told.final_stand() {
            let (most, of) = (f64::from(most), f64::from(of));
            for stand in [stand.p10, stand.p50, stand.p90] {
                prop_assert!(most <= stand && stand <= of, "{most} {stand} {of}");
            }
        }
        for estimate in [told.half_day(), told.steepness()].into_iter().flatten() {
            prop_assert!(estimate.value.is_finite() && estimate.value > 0.0);
            prop_assert!(estimate.standard_error.is_some_and(f64::is_finite));
        }
    }
}
