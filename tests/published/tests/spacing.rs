//! Plants per bed against growers' figures.

use agronomy::quantity::Metres;
use agronomy::spacing::{bed_metres_for, plants_in_bed, rows_across};

/// Growers' figures of plants per 10 m of a 1.2 m bed (derived from common practice, not from one source): 480
/// to 530 at 15 cm, 300 at 20 cm, 176 to 210 at 23 cm, 130 at 30 cm. They are rounded, hence 3 % either way.
#[test]
fn ten_metres_of_bed_hold_the_usual_number_of_plants() {
    for (spacing, low, high) in [
        (0.15, 480.0, 530.0),
        (0.20, 300.0, 300.0),
        (0.23, 176.0, 210.0),
        (0.30, 130.0, 130.0),
    ] {
        let plants = f64::from(plants_in_bed(Metres(10.0), Metres(1.2), Metres(spacing)));
        assert!(
            plants >= low * 0.97 && plants <= high * 1.03,
            "{plants} at {spacing}"
        );
    }
}

/// Common practice: five or six rows at 15 to 20 cm, up to the edge of the bed.
#[test]
fn rows_fill_the_width() {
    assert_eq!(rows_across(Metres(1.2), Metres(0.20)), 6);
    assert_eq!(rows_across(Metres(1.2), Metres(0.30)), 4);
    let bed = bed_metres_for(300, Metres(1.2), Metres(0.20));
    assert!((bed.0 - 10.0).abs() < 1e-9, "{bed:?}");
    let one_more = bed_metres_for(301, Metres(1.2), Metres(0.20));
    assert!((one_more.0 - 10.2).abs() < 1e-9, "{one_more:?}");
}
