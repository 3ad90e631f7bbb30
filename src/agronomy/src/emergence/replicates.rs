//! Whether trays of one sowing, or replicates of one test, differ by more than
//! chance.
//!
//! Seed testing allows so many points between the best and the worst of two or
//! four replicates of 100 seeds, from a printed table (7 CFR 201.55, US Federal
//! Seed Act regulations). The table is not a formula: computed limits miss it
//! by a point in many rows. Trays of other sizes are held against chance by the
//! usual chi-square test of equal shares.

use statrs::distribution::{ChiSquared, ContinuousCDF};

use crate::error::{AgronomyError, within};
use crate::quantity::Chance;

/// How many replicates of 100 seeds a test has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Replicates {
    /// Two of 100.
    Two,
    /// Four of 100.
    Four,
}

/// From each average percentage down to the next the largest range between four
/// replicates: 7 CFR 201.55 to an average of 70; below it the International
/// Rules for Seed Testing, table 5B (S. R. Miles 1963, Proc. ISTA 28:525-686),
/// from memory, which agree with it above.
const FOUR: [(u32, u32); 16] = [
    (99, 5),
    (98, 6),
    (97, 7),
    (96, 8),
    (95, 9),
    (94, 10),
    (92, 11),
    (90, 12),
    (88, 13),
    (86, 14),
    (83, 15),
    (80, 16),
    (77, 17),
    (72, 18),
    (66, 19),
    (55, 20),
];

/// The same for two replicates, from averages of 97 to 71 only. Between printed
/// rows that differ the narrower limit is taken.
const TWO: [(u32, u32); 9] = [
    (97, 6),
    (95, 6),
    (94, 8),
    (92, 8),
    (91, 9),
    (88, 10),
    (87, 11),
    (82, 12),
    (79, 13),
];

/// The same for averages from 75 to 71.
const TWO_LOWEST: (u32, u32, u32) = (75, 71, 14);

/// The largest difference between two tests of 400 seeds, from each average
/// percentage on: table of the Federal Seed Act and of the Association of
/// Official Seed Analysts, as printed in Louisiana Administrative Code
/// 7:XIII.139.
const TESTS: [(u32, u32); 10] = [
    (99, 2),
    (98, 3),
    (96, 4),
    (93, 5),
    (90, 6),
    (86, 7),
    (81, 8),
    (75, 9),
    (69, 10),
    (59, 11),
];

/// The most that the best and the worst of replicates of 100 seeds may differ,
/// in seeds, at an average of `average` percent; averages below 51 mirror those
/// above (49 as 52). `None` where the table has no row: for two replicates above
/// 97 and below 71, mirrored likewise.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for an average that is no number or outside 0
/// to 100.
pub fn largest_range(average: f64, replicates: Replicates) -> Result<Option<u32>, AgronomyError> {
    let percent = row(average)?;
    Ok(match replicates {
        Replicates::Four => limit(&FOUR, percent),
        Replicates::Two if percent > 97 || percent < TWO_LOWEST.1 => None,
        Replicates::Two if percent <= TWO_LOWEST.0 => Some(TWO_LOWEST.2),
        Replicates::Two => limit(&TWO, percent),
    })
}

/// The most that two tests of 400 seeds may differ, in percent, at an average of
/// `average` percent.
///
/// # Errors
/// As [`largest_range`].
pub fn largest_difference_of_tests(average: f64) -> Result<Option<u32>, AgronomyError> {
    Ok(limit(&TESTS, row(average)?))
}

/// The table's row: whole percent, brought above 50, with 100 read as 99.
fn row(average: f64) -> Result<u32, AgronomyError> {
    let percent = within("average", average, 0.0, 100.0)?.round() as u32;
    let above = if percent < 51 { 101 - percent } else { percent };
    Ok(above.min(99))
}

fn limit(table: &[(u32, u32)], percent: u32) -> Option<u32> {
    table
        .iter()
        .rev()
        .find(|(from, _)| percent <= *from)
        .map(|(_, most)| *most)
}

/// Whether two or four replicates of 100 seeds, given by how many came up in
/// each, agree within the printed table. `None` where the table has no row.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] unless there are two or four (`replicates`)
/// with 0 to 100 up each (`replicates.up`).
pub fn agree(up: &[u32]) -> Result<Option<bool>, AgronomyError> {
    let replicates = match up.len() {
        4 => Replicates::Four,
        2 => Replicates::Two,
        other => {
            return Err(AgronomyError::OutOfRange {
                field: "replicates",
                low: 2.0,
                high: 4.0,
                got: other as f64,
            });
        }
    };
    let (mut least, mut most, mut sum) = (u32::MAX, 0, 0.0);
    for count in up {
        within("replicates.up", f64::from(*count), 0.0, 100.0)?;
        (least, most) = (least.min(*count), most.max(*count));
        sum += f64::from(*count);
    }
    let allowed = largest_range(sum / up.len() as f64, replicates)?;
    Ok(allowed.map(|allowed| most.saturating_sub(least) <= allowed))
}

/// The chance that trays as unlike as these, given as (up, of), come from one
/// common share: chi-square test of homogeneity with one degree of freedom
/// fewer than trays. Small chances (below 1 in 40, where the printed tables
/// stand) say that something other than luck made a difference: a cold end of
/// the mat, one dry tray. With all up or none up nothing speaks against it.
///
/// Approximate; fair from about five expected up and five not up in each tray.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for fewer than two trays (`trays`), an empty
/// one (`trays.of`) or more up than there are (`trays.up`).
pub fn chance_of_one_share(trays: &[(u32, u32)]) -> Result<Chance, AgronomyError> {
    within("trays", trays.len() as f64, 2.0, 1e6)?;
    let (mut up, mut of) = (0.0, 0.0);
    for (came, cells) in trays {
        let cells = within("trays.of", f64::from(*cells), 1.0, f64::from(u32::MAX))?;
        up += within("trays.up", f64::from(*came), 0.0, cells)?;
        of += cells;
    }
    let share = up / of;
    let spread = share * (1.0 - share);
    if spread <= 0.0 {
        return Ok(Chance::CERTAIN);
    }
    let statistic: f64 = trays
        .iter()
        .map(|(came, cells)| {
            let cells = f64::from(*cells);
            let away = f64::from(*came) - cells * share;
            away * away / (cells * spread)
        })
        .sum();
    let freedom = (trays.len() - 1) as f64;
    Ok(ChiSquared::new(freedom).map_or(Chance::CERTAIN, |chi| Chance::clamped(chi.sf(statistic))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn replicates_within_the_table_agree() {
        // Average 90: 12 points are allowed between four.
        assert_eq!(agree(&[96, 90, 90, 84]), Ok(Some(true)));
        assert_eq!(agree(&[97, 90, 89, 84]), Ok(Some(false)));
        assert_eq!(agree(&[95, 85]), Ok(Some(false)));
        assert_eq!(agree(&[50, 60]), Ok(None));
        assert_eq!(agree(&[100, 100, 100, 100]), Ok(Some(true)));
    }

    #[test]
    fn what_cannot_be_is_named() {
        let field = |error: AgronomyError| error.field();
        for count in [0, 1, 3, 5] {
            assert_eq!(
                agree(&vec![90; count]).map_err(field),
                Err("replicates"),
                "{count}"
            );
        }
        assert_eq!(agree(&[101, 90]).map_err(field), Err("replicates.up"));
        for bad in [f64::NAN, -1.0, 100.5] {
            let found = largest_range(bad, Replicates::Four).map_err(field);
            assert_eq!(found, Err("average"), "{bad}");
        }
        let share = |trays: &[(u32, u32)]| chance_of_one_share(trays).map_err(field);
        assert_eq!(share(&[(3, 10)]), Err("trays"));
        assert_eq!(share(&[(3, 10), (0, 0)]), Err("trays.of"));
        assert_eq!(share(&[(3, 10), (11, 10)]), Err("trays.up"));
        assert_eq!(share(&[(10, 10), (12, 12)]), Ok(Chance::CERTAIN));
    }
}
