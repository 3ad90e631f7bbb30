//! How an append combines with the rows that are already stored.

use crate::error::VaultError;
use crate::row::Row;
use std::collections::{HashMap, HashSet};

/// The result of an append.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Appended {
    /// Rows written now.
    pub added: usize,
    /// Rows that were already stored with the same text, or were twice in the
    /// batch. After a lost connection a batch is sent again, and the rows that
    /// the first attempt did store are counted here.
    pub already: usize,
}

/// The new part of a batch.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Merged<'a> {
    pub(crate) fresh: Vec<&'a Row>,
    pub(crate) already: usize,
}

impl Merged<'_> {
    pub(crate) fn appended(&self) -> Appended {
        Appended {
            added: self.fresh.len(),
            already: self.already,
        }
    }
}

/// Splits a batch into new rows and rows that are already stored. `kept` holds
/// at least the stored texts of the batch's ids.
///
/// # Errors
/// [`VaultError::Conflict`] with every id, in the order of the batch, whose
/// text differs from the stored one or from an earlier one in the batch.
pub(crate) fn merge<'a>(
    batch: &'a [Row],
    kept: &HashMap<String, String>,
) -> Result<Merged<'a>, VaultError> {
    let mut seen: HashMap<&str, &str> = HashMap::with_capacity(batch.len());
    let mut fresh = Vec::new();
    let mut already = 0;
    let mut clashing = HashSet::new();
    let mut conflicts: Vec<String> = Vec::new();
    for row in batch {
        let known = seen
            .get(row.id.as_str())
            .copied()
            .or_else(|| kept.get(&row.id).map(String::as_str));
        match known {
            None => {
                seen.insert(&row.id, &row.json);
                fresh.push(row);
            }
            Some(json) if json == row.json => already += 1,
            Some(_) => {
                if clashing.insert(row.id.as_str()) {
                    conflicts.push(row.id.clone());
                }
            }
        }
    }
    if conflicts.is_empty() {
        Ok(Merged { fresh, already })
    } else {
        Err(VaultError::Conflict { ids: conflicts })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(pairs: &[(&str, &str)]) -> Vec<Row> {
        pairs
            .iter()
            .map(|(id, json)| Row {
                id: (*id).to_owned(),
                json: (*json).to_owned(),
            })
            .collect()
    }

    fn check(
        kept: &[(&str, &str)],
        batch: &[(&str, &str)],
        expect: Result<(&[&str], usize), &[&str]>,
    ) {
        let kept: HashMap<_, _> = rows(kept).into_iter().map(|r| (r.id, r.json)).collect();
        let batch = rows(batch);
        let got = merge(&batch, &kept);
        match (got, expect) {
            (Ok(got), Ok((fresh, already))) => {
                let ids: Vec<_> = got.fresh.iter().map(|r| r.id.as_str()).collect();
                assert_eq!((ids.as_slice(), got.already), (fresh, already));
            }
            (Err(VaultError::Conflict { ids }), Err(expect)) => assert_eq!(ids, expect),
            (got, expect) => panic!("{got:?} instead of {expect:?}"),
        }
    }

    #[test]
    fn new_rows_are_added_and_same_rows_are_there_already() {
        check(&[], &[], Ok((&[], 0)));
        check(&[], &[("a", "1"), ("b", "2")], Ok((&["a", "b"], 0)));
        check(&[("a", "1")], &[("a", "1"), ("b", "2")], Ok((&["b"], 1)));
        check(&[("a", "1"), ("z", "9")], &[("a", "1")], Ok((&[], 1)));
    }

    #[test]
    fn a_row_twice_in_the_batch_is_added_once() {
        check(&[], &[("a", "1"), ("a", "1")], Ok((&["a"], 1)));
    }

    #[test]
    fn another_text_for_a_known_id_is_a_conflict() {
        check(&[("a", "1")], &[("b", "2"), ("a", "3")], Err(&["a"]));
        check(&[], &[("a", "1"), ("a", "2"), ("a", "3")], Err(&["a"]));
        check(
            &[("a", "1"), ("b", "1")],
            &[("b", "2"), ("c", "1"), ("a", "2")],
            Err(&["b", "a"]),
        );
    }
}
