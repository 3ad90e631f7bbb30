//! Symmetric systems of three unknowns, solved by Cholesky's method.

/// A square matrix of the curve's three parameters.
pub(super) type Matrix = [[f64; 3]; 3];

/// Pivots below this share of their diagonal mean that the data cannot tell the
/// parameters apart.
const SINGULAR: f64 = 1e-9;

/// The lower triangle L with L L' = `matrix`, or `None` unless that is positive
/// definite by a margin that rounding cannot make up.
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

/// The x with `matrix` x = `right`.
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
    // Symmetric, so its columns are its rows.
    Some(columns)
}

/// The value of `gradient`' `matrix` `gradient`: a variance by the delta method.
pub(super) fn spread_of(gradient: [f64; 3], matrix: &Matrix) -> f64 {
    let mut sum = 0.0;
    for (left, row) in gradient.iter().zip(matrix) {
        for (right, entry) in gradient.iter().zip(row) {
            sum += left * right * entry;
        }
    }
    sum
}

/// The product of two matrices.
pub(super) fn product(left: &Matrix, right: &Matrix) -> Matrix {
    let mut out = [[0.0; 3]; 3];
    for (out_row, left_row) in out.iter_mut().zip(left) {
        for (factor, right_row) in left_row.iter().zip(right) {
            for (slot, entry) in out_row.iter_mut().zip(right_row) {
                *slot += factor * entry;
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_matrix_times_its_inverse_is_one() {
        let matrix = [[4.0, 1.0, -0.5], [1.0, 3.0, 0.2], [-0.5, 0.2, 2.0]];
        let one = product(&matrix, &inverse(&matrix).unwrap());
        for (row, entries) in one.iter().enumerate() {
            for (column, entry) in entries.iter().enumerate() {
                let wanted = f64::from(u8::from(row == column));
                assert!((entry - wanted).abs() < 1e-12, "{one:?}");
            }
        }
    }

    #[test]
    fn what_cannot_be_told_apart_is_refused() {
        let twice = [[1.0, 2.0, 0.0], [2.0, 4.0, 0.0], [0.0, 0.0, 1.0]];
        assert_eq!(inverse(&twice), None);
        assert_eq!(inverse(&[[f64::NAN; 3]; 3]), None);
        assert_eq!(inverse(&[[0.0; 3]; 3]), None);
    }
}
