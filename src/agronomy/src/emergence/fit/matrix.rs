//! Symmetric 3 by 3 systems, solved by Cholesky decomposition.

/// A square matrix over the curve's three parameters.
pub(super) type Matrix = [[f64; 3]; 3];

/// Pivots below this fraction of their diagonal mean that the data do not identify the parameters.
const SINGULAR: f64 = 1e-9;

/// The lower triangular L with L L' = `matrix`, or `None` unless the matrix is positive definite beyond
/// rounding.
fn lower(matrix: &Matrix) -> Option<Matrix> {
    let mut low = [[0.0; 3]; 3];
    for row in 0..3 {
        for column in 0..=row {
            let known: f64 = (0..column).map(|k| low[row][k] * low[column][k]).sum();
            let rest = matrix[row][column] - known;
            if row == column {
                if !(rest > SINGULAR * matrix[row][row].abs() && rest.is_finite()) {
                    return None;
                }
                low[row][row] = rest.sqrt();
            } else {
                low[row][column] = rest / low[column][column];
            }
        }
    }
    Some(low)
}

/// The solution x of `matrix` x = `right`.
pub(super) fn solved(matrix: &Matrix, right: [f64; 3]) -> Option<[f64; 3]> {
    let low = lower(matrix)?;
    let mut x = right;
    for row in 0..3 {
        for column in 0..row {
            x[row] -= low[row][column] * x[column];
        }
        x[row] /= low[row][row];
    }
    for row in (0..3).rev() {
        for column in row + 1..3 {
            x[row] -= low[column][row] * x[column];
        }
        x[row] /= low[row][row];
    }
    Some(x)
}

/// The inverse of `matrix`.
pub(super) fn inverse(matrix: &Matrix) -> Option<Matrix> {
    let mut columns = [[0.0; 3]; 3];
    for (place, column) in columns.iter_mut().enumerate() {
        let mut unit = [0.0; 3];
        unit[place] = 1.0;
        *column = solved(matrix, unit)?;
    }
    // Symmetric, so columns equal rows.
    Some(columns)
}

/// The quadratic form `gradient`' `matrix` `gradient`: a variance by the delta method.
pub(super) fn spread_of(gradient: [f64; 3], matrix: &Matrix) -> f64 {
    let mut sum = 0.0;
    for (left, row) in gradient.iter().zip(matrix) {
        for (right, entry) in gradient.iter().zip(row) {
            sum += left * right * entry;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_matrix_times_its_inverse_is_the_identity() {
        let matrix = [[4.0, 1.0, -0.5], [1.0, 3.0, 0.2], [-0.5, 0.2, 2.0]];
        let inverse = inverse(&matrix).unwrap();
        for (row, entries) in matrix.iter().enumerate() {
            for (column, _) in matrix.iter().enumerate() {
                let products = entries.iter().zip(&inverse).map(|(a, b)| a * b[column]);
                let wanted = f64::from(u8::from(row == column));
                assert!(
                    (products.sum::<f64>() - wanted).abs() < 1e-12,
                    "{inverse:?}"
                );
            }
        }
    }

    #[test]
    fn a_singular_matrix_is_refused() {
        let twice = [[1.0, 2.0, 0.0], [2.0, 4.0, 0.0], [0.0, 0.0, 1.0]];
        assert_eq!(inverse(&twice), None);
        assert_eq!(inverse(&[[f64::NAN; 3]; 3]), None);
        assert_eq!(inverse(&[[0.0; 3]; 3]), None);
    }
}
