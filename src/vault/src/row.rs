//! A stored row and its limits.

use crate::error::{Limit, VaultError};

/// Maximum length of a row's id, in bytes of UTF-8.
pub const ROW_ID_BYTES_MAX: usize = 128;
/// Maximum length of a row's JSON text, in bytes of UTF-8. An entry has a few
/// hundred, the cell map of a large tray a few thousand.
pub const ROW_JSON_BYTES_MAX: usize = 1 << 20;
/// Maximum number of rows in one append. A busy season has a few thousand
/// entries.
pub const APPEND_ROWS_MAX: usize = 200_000;
/// Maximum bytes of JSON text in one append.
pub const APPEND_BYTES_MAX: usize = 128 << 20;

/// One entry as stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Globally unique key of 1 to [`ROW_ID_BYTES_MAX`] bytes.
    pub id: String,
    /// The entry's JSON text, stored byte for byte. At most
    /// [`ROW_JSON_BYTES_MAX`] bytes. The same id always has the same text.
    pub json: String,
}

/// Checks a batch against the limits before anything is written.
///
/// # Errors
/// [`VaultError::Limit`] with the first limit that is exceeded.
pub(crate) fn check(batch: &[Row]) -> Result<(), VaultError> {
    if batch.len() > APPEND_ROWS_MAX {
        return Err(VaultError::Limit(Limit::AppendRows));
    }
    let mut bytes = 0_usize;
    for row in batch {
        if row.id.is_empty() || row.id.len() > ROW_ID_BYTES_MAX {
            return Err(VaultError::Limit(Limit::RowId));
        }
        if row.json.len() > ROW_JSON_BYTES_MAX {
            return Err(VaultError::Limit(Limit::RowJson));
        }
        bytes = bytes.saturating_add(row.json.len());
    }
    if bytes > APPEND_BYTES_MAX {
        return Err(VaultError::Limit(Limit::AppendBytes));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(id_bytes: usize, json_bytes: usize) -> Row {
        Row {
            id: "i".repeat(id_bytes),
            json: "j".repeat(json_bytes),
        }
    }

    #[test]
    fn each_limit_holds_to_the_byte() {
        let limit = |l| Err(VaultError::Limit(l));
        assert_eq!(check(&[row(1, 0)]), Ok(()));
        assert_eq!(check(&[row(ROW_ID_BYTES_MAX, ROW_JSON_BYTES_MAX)]), Ok(()));
        assert_eq!(check(&[row(0, 1)]), limit(Limit::RowId));
        assert_eq!(check(&[row(ROW_ID_BYTES_MAX + 1, 1)]), limit(Limit::RowId));
        assert_eq!(
            check(&[row(1, ROW_JSON_BYTES_MAX + 1)]),
            limit(Limit::RowJson)
        );
    }

    #[test]
    fn a_batch_has_a_limit_in_rows_and_in_bytes() {
        let many = vec![row(1, 0); APPEND_ROWS_MAX];
        assert_eq!(check(&many), Ok(()));
        let more = vec![row(1, 0); APPEND_ROWS_MAX + 1];
        assert_eq!(check(&more), Err(VaultError::Limit(Limit::AppendRows)));
        let full = APPEND_BYTES_MAX / ROW_JSON_BYTES_MAX;
        let mut heavy = vec![row(1, ROW_JSON_BYTES_MAX); full];
        assert_eq!(check(&heavy), Ok(()));
        heavy.push(row(1, 1));
        assert_eq!(check(&heavy), Err(VaultError::Limit(Limit::AppendBytes)));
    }
}
