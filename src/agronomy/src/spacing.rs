//! How many plants a bed holds, and how much bed plants need.
//!
//! Plants are on a square grid. Rows are the bed's width divided by the spacing, plants in a row its length
//! divided by the spacing, both rounded down (common practice). A bed narrower than one spacing still holds
//! one row.

use crate::quantity::Metres;

/// Keeps 1.2 / 0.2 from being rounded down to 5.
const ROUNDING: f64 = 1e-9;

/// Rows that fit across a bed of `width`; zero if a measure is not positive.
pub fn rows_across(width: Metres, spacing: Metres) -> u32 {
    if usable(width) && usable(spacing) {
        fitting(width.0, spacing.0).max(1)
    } else {
        0
    }
}

/// Plants that fit in a bed of `length` by `width` at `spacing`; zero if a measure is not positive.
pub fn plants_in_bed(length: Metres, width: Metres, spacing: Metres) -> u32 {
    if usable(length) {
        rows_across(width, spacing).saturating_mul(fitting(length.0, spacing.0))
    } else {
        0
    }
}

/// Length of bed for `plants`, in whole rows across the bed; zero if a measure is not positive.
pub fn bed_metres_for(plants: u32, width: Metres, spacing: Metres) -> Metres {
    match rows_across(width, spacing) {
        0 => Metres(0.0),
        rows => Metres(f64::from(plants.div_ceil(rows)) * spacing.0),
    }
}

fn usable(measure: Metres) -> bool {
    measure.0.is_finite() && measure.0 > 0.0
}

fn fitting(measure: f64, spacing: f64) -> u32 {
    // Saturates for extreme ratios.
    (measure / spacing + ROUNDING).floor() as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn measures_that_are_not_positive_hold_no_plants() {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let bad = Metres(bad);
            assert_eq!(plants_in_bed(bad, Metres(1.2), Metres(0.2)), 0);
            assert_eq!(plants_in_bed(Metres(10.0), bad, Metres(0.2)), 0);
            assert_eq!(plants_in_bed(Metres(10.0), Metres(1.2), bad), 0);
            assert_eq!(bed_metres_for(10, bad, Metres(0.2)), Metres(0.0));
        }
        assert_eq!(plants_in_bed(Metres(10.0), Metres(0.2), Metres(0.4)), 25);
    }

    proptest! {
        #[test]
        fn the_bed_computed_for_plants_holds_them(
            plants in 0u32..5000, width in 0.3f64..2.0, spacing in 0.05f64..1.0,
        ) {
            let length = bed_metres_for(plants, Metres(width), Metres(spacing));
            prop_assert!(plants == 0 || plants_in_bed(length, Metres(width), Metres(spacing)) >= plants);
            let shorter = Metres(length.0 - spacing);
            prop_assert!(plants == 0 || plants_in_bed(shorter, Metres(width), Metres(spacing)) < plants);
        }
    }
}
