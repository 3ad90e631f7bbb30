//! The same vault without a disk, for a window that may not store data.

use crate::device::Device;
use crate::error::VaultError;
use crate::merge::{Appended, merge};
use crate::row::Row;
use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};

/// Rows that are lost with the page.
#[derive(Default)]
pub(crate) struct Memory {
    rows: RefCell<BTreeMap<String, String>>,
    device: RefCell<Option<Device>>,
}

impl Memory {
    pub(crate) fn read_all(&self) -> Vec<Row> {
        let rows = self.rows.borrow();
        rows.iter().map(|(id, json)| row(id, json)).collect()
    }

    pub(crate) fn read(&self, ids: &[String]) -> Vec<Row> {
        let rows = self.rows.borrow();
        ids.iter()
            .filter_map(|id| rows.get(id).map(|json| row(id, json)))
            .collect()
    }

    pub(crate) fn append(&self, batch: &[Row]) -> Result<Appended, VaultError> {
        let mut rows = self.rows.borrow_mut();
        let kept: HashMap<_, _> = batch
            .iter()
            .filter_map(|r| rows.get(&r.id).map(|json| (r.id.clone(), json.clone())))
            .collect();
        let merged = merge(batch, &kept)?;
        for row in &merged.fresh {
            rows.insert(row.id.clone(), row.json.clone());
        }
        Ok(merged.appended())
    }

    pub(crate) fn device(&self) -> Option<Device> {
        self.device.borrow().clone()
    }

    pub(crate) fn set_device(&self, offered: &Device) -> Device {
        let merged = offered.merged_with(self.device());
        self.replace_device(&merged);
        merged
    }

    pub(crate) fn replace_device(&self, device: &Device) {
        *self.device.borrow_mut() = Some(device.clone());
    }
}

fn row(id: &str, json: &str) -> Row {
    Row {
        id: id.to_owned(),
        json: json.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_kept_in_order_of_id_and_a_conflict_writes_nothing() {
        let memory = Memory::default();
        let added = memory.append(&[row("b", "2"), row("a", "1")]);
        assert_eq!(
            added,
            Ok(Appended {
                added: 2,
                already: 0
            })
        );
        assert_eq!(memory.read_all(), [row("a", "1"), row("b", "2")]);

        let clash = memory.append(&[row("c", "3"), row("a", "9")]);
        let ids = vec!["a".to_owned()];
        assert_eq!(clash, Err(VaultError::Conflict { ids }));
        assert_eq!(memory.read_all(), [row("a", "1"), row("b", "2")]);

        let again = memory.append(&[row("a", "1"), row("c", "3")]);
        assert_eq!(
            again,
            Ok(Appended {
                added: 1,
                already: 1
            })
        );
    }

    #[test]
    fn reading_leaves_out_missing_rows() {
        let memory = Memory::default();
        memory.append(&[row("a", "1")]).expect("no conflict");
        let ids = ["x".to_owned(), "a".to_owned()];
        assert_eq!(memory.read(&ids), [row("a", "1")]);
    }

    #[test]
    fn the_first_device_id_is_kept_until_it_is_replaced() {
        let device = |id: &str| Device {
            id: id.to_owned(),
            name: String::new(),
        };
        let memory = Memory::default();
        assert_eq!(memory.device(), None);
        assert_eq!(memory.set_device(&device("a")), device("a"));
        assert_eq!(memory.set_device(&device("b")), device("a"));
        memory.replace_device(&device("c"));
        assert_eq!(memory.device(), Some(device("c")));
    }
}
