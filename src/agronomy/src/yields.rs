//! How many stems a planting gives, how many of them are saleable, and of what length.
//!
//! Stems a plant and the saleable share are figures of the crop or the grower; this adds their variation
//! between years. Published yields of one crop at one site differ by half and more between years (lisianthus
//! 66 % between two: Wien 2016), so a forecast is wide until a grower's own records narrow it.

mod range;

use crate::error::{AgronomyError, within};
use crate::normal::probit;
use crate::quantity::{Chance, Metres, Spread, Z90};
pub use range::LogRange;

/// Coefficient of variation of a yield between years, without and with three or more years of own records:
/// middle of 30 to 40 % and of 20 to 25 % (from memory of practice; no source).
const FIRST_YEAR: f64 = 0.35;
const KNOWN: f64 = 0.225;
/// Years of own records after which more add little.
const YEARS: u32 = 3;

/// The largest number of stems accepted.
const STEMS_MAX: f64 = 1e7;

/// Coefficient of variation of a crop's yield between years, for a grower with `years` of own records.
pub fn variation_between_years(years: u32) -> f64 {
    let known = f64::from(years.min(YEARS)) / f64::from(YEARS);
    FIRST_YEAR + (KNOWN - FIRST_YEAR) * known
}

/// A yield with median `middle` and coefficient of variation `variation` (0 to 3): log-normal, so that the
/// low end stays positive.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for stems that are negative, above ten million or NaN (`stems`), and for a
/// variation out of range (`variation`).
pub fn around(middle: f64, variation: f64) -> Result<Spread<f64>, AgronomyError> {
    let middle = within("stems", middle, 0.0, STEMS_MAX)?;
    let variation = within("variation", variation, 0.0, 3.0)?;
    let sigma = (variation * variation).ln_1p().sqrt();
    Ok(Spread {
        p10: middle * (-Z90 * sigma).exp(),
        p50: middle,
        p90: middle * (Z90 * sigma).exp(),
    })
}

/// The share of a yield's median that is reached with probability `chance`, for a log-normal with coefficient
/// of variation `variation` (0 to 3): 1 for 0.5, less for a higher probability.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for a variation out of range (`variation`).
pub fn dependable(chance: Chance, variation: f64) -> Result<f64, AgronomyError> {
    let variation = within("variation", variation, 0.0, 3.0)?;
    let sigma = (variation * variation).ln_1p().sqrt();
    // Limits the quantile to one failure in ten million years.
    let quantile = probit(chance.complement().get().clamp(1e-7, 1.0 - 1e-7));
    Ok((quantile * sigma).exp())
}

/// The stems of a planting over its season.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stems {
    /// All stems cut.
    pub cut: Spread<f64>,
    /// Saleable stems.
    pub saleable: Spread<f64>,
    /// Culls.
    pub culls: Spread<f64>,
}

/// Stems of `plants` over the season: `per_plant` each (0 to 1000), of which the share `saleable` is
/// saleable, varying by `variation` between years. The share is taken as certain, so all three bands have the
/// same relative width.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for stems a plant out of range (`per_plant`), a variation outside 0 to 3 and
/// more than ten million stems (`stems`).
pub fn of_planting(
    plants: u32,
    per_plant: f64,
    saleable: Chance,
    variation: f64,
) -> Result<Stems, AgronomyError> {
    let per_plant = within("per_plant", per_plant, 0.0, 1000.0)?;
    let cut = around(f64::from(plants) * per_plant, variation)?;
    Ok(Stems {
        cut,
        saleable: cut.map(|stems| stems * saleable.get()),
        culls: cut.map(|stems| stems * saleable.complement().get()),
    })
}

/// Shares of stems by length grade: `limits` are the minimum lengths of the grades, longest first; the last
/// share is of stems too short for any. Lengths follow half a normal distribution on each side of the median.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for lengths that are negative or NaN (`length`, `limits`);
/// [`AgronomyError::OutOfOrder`] for a spread that is out of order and for limits that do not descend.
pub fn by_grade(length: Spread<Metres>, limits: &[Metres]) -> Result<Vec<Chance>, AgronomyError> {
    let length = Spread {
        p10: within("length", length.p10.0, 0.0, 10.0)?,
        p50: within("length", length.p50.0, 0.0, 10.0)?,
        p90: within("length", length.p90.0, 0.0, 10.0)?,
    };
    in_order("length.p10", length.p10, "length.p50", length.p50)?;
    in_order("length.p50", length.p50, "length.p90", length.p90)?;
    let mut shares = Vec::with_capacity(limits.len() + 1);
    let mut longer = 0.0;
    let mut before = f64::INFINITY;
    for limit in limits {
        let limit = within("limits", limit.0, 0.0, 10.0)?;
        in_order("limits", limit, "limits", before)?;
        before = limit;
        let at_least = length.chance_below(limit).complement().get();
        shares.push(Chance::clamped(at_least - longer));
        longer = at_least;
    }
    shares.push(Chance::clamped(1.0 - longer));
    Ok(shares)
}

fn in_order(
    lower_field: &'static str,
    lower: f64,
    upper_field: &'static str,
    upper: f64,
) -> Result<(), AgronomyError> {
    if lower <= upper {
        Ok(())
    } else {
        Err(AgronomyError::OutOfOrder {
            lower_field,
            upper_field,
            lower,
            upper,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn own_records_narrow_the_band_up_to_a_limit() {
        let known: Vec<f64> = (0..5).map(variation_between_years).collect();
        assert!((known[0] - 0.35).abs() < 1e-12 && (known[3] - 0.225).abs() < 1e-12);
        assert!(known.windows(2).all(|pair| pair[0] >= pair[1]), "{known:?}");
    }

    /// A log-normal with coefficient of variation c has a log with variance ln(1 + c^2); its p10 is
    /// exp(-1.2816 sigma) times the median.
    #[test]
    fn the_band_is_that_of_a_log_normal() {
        let stems = around(100.0, 0.35).unwrap();
        let sigma = (1.0_f64 + 0.35 * 0.35).ln().sqrt();
        assert!((stems.p10 - 100.0 * (-1.281_551_6 * sigma).exp()).abs() < 1e-4);
        assert!((stems.p10 * stems.p90 - 10_000.0).abs() < 1e-6);
        assert_eq!(around(100.0, 0.0).unwrap(), Spread::exact(100.0));
    }

    #[test]
    fn lengths_fall_into_grades() {
        let length = Spread {
            p10: Metres(0.40),
            p50: Metres(0.60),
            p90: Metres(0.70),
        };
        let shares = by_grade(length, &[Metres(0.70), Metres(0.60), Metres(0.40)]).unwrap();
        let wanted = [0.1, 0.4, 0.4, 0.1];
        for (share, wanted) in shares.iter().zip(wanted) {
            assert!((share.get() - wanted).abs() < 1e-6, "{shares:?}");
        }
        assert_eq!(by_grade(length, &[]), Ok(vec![Chance::CERTAIN]));
    }

    #[test]
    fn invalid_arguments_are_refused_by_name() {
        let field = |error: AgronomyError| error.field();
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(around(bad, 0.3).map_err(field), Err("stems"));
            assert_eq!(around(10.0, bad).map_err(field), Err("variation"));
            let planting = of_planting(10, bad, Chance::EVEN, 0.3);
            assert_eq!(planting.map_err(field), Err("per_plant"));
            let grades = by_grade(Spread::exact(Metres(bad)), &[]);
            assert_eq!(grades.map_err(field), Err("length"));
            let grades = by_grade(Spread::exact(Metres(0.5)), &[Metres(bad)]);
            assert_eq!(grades.map_err(field), Err("limits"));
        }
        let rising = by_grade(Spread::exact(Metres(0.5)), &[Metres(0.4), Metres(0.6)]);
        assert_eq!(rising.map_err(field), Err("limits"));
        let upside = Spread {
            p10: Metres(0.6),
            p50: Metres(0.5),
            p90: Metres(0.7),
        };
        assert_eq!(by_grade(upside, &[]).map_err(field), Err("length.p10"));
    }

    proptest! {
        #[test]
        fn saleable_stems_and_culls_make_up_what_is_cut(
            plants in 0u32..5000, per_plant in 0.0f64..60.0, saleable in 0.0f64..=1.0, variation in 0.0f64..1.5,
        ) {
            let saleable = Chance::new(saleable).unwrap();
            let stems = of_planting(plants, per_plant, saleable, variation).unwrap();
            for (cut, sold, culls) in [
                (stems.cut.p10, stems.saleable.p10, stems.culls.p10),
                (stems.cut.p50, stems.saleable.p50, stems.culls.p50),
                (stems.cut.p90, stems.saleable.p90, stems.culls.p90),
            ] {
                prop_assert!((cut - sold - culls).abs() < 1e-6 * (1.0 + cut));
            }
            prop_assert!(stems.cut.p10 <= stems.cut.p50 && stems.cut.p50 <= stems.cut.p90);
        }
    }
}
