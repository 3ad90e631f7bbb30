//! Reading and appending rows.

use super::connection::Connection;
use super::migrations::ENTRIES;
use super::scope;
use crate::error::Fault;
use crate::merge::{Appended, merge};
use crate::row::Row;
use indexed_db_futures::BuildPrimitive;
use indexed_db_futures::object_store::ObjectStore;
use indexed_db_futures::prelude::QuerySource;
use std::collections::{HashMap, HashSet};
use std::ops::RangeInclusive;
use wasm_bindgen::JsValue;

/// Up to this many ids are requested one by one; for more, requesting the keys
/// or texts of their whole range at once is faster.
const SINGLE_GETS_MAX: usize = 256;

impl Connection {
    /// All rows ordered by id, always in two requests.
    pub(crate) async fn read_all(&self) -> Result<Vec<Row>, Fault> {
        let transaction = scope::reading(&self.db, ENTRIES)?;
        let store = transaction.object_store(ENTRIES)?;
        let keys = store.get_all_keys::<JsValue>().primitive()?;
        let texts = store.get_all::<JsValue>().primitive()?;
        let (keys, texts) = (keys.await?, texts.await?);
        let mut rows = Vec::with_capacity(texts.len());
        for (key, text) in keys.zip(texts) {
            rows.push(Row {
                id: text_of(&key?),
                json: text_of(&text?),
            });
        }
        Ok(rows)
    }

    /// The stored rows among `ids`, in the order of `ids`.
    pub(crate) async fn read(&self, ids: &[String]) -> Result<Vec<Row>, Fault> {
        let transaction = scope::reading(&self.db, ENTRIES)?;
        let store = transaction.object_store(ENTRIES)?;
        get_each(&store, ids.iter().map(String::as_str)).await
    }

    /// Appends in one strict transaction. Only reads are awaited before the
    /// commit, so that no browser stores part of a batch that fails.
    pub(crate) async fn append(&self, batch: &[Row]) -> Result<Appended, Fault> {
        let transaction = scope::writing(&self.db, ENTRIES)?;
        let store = transaction.object_store(ENTRIES)?;
        let kept = kept_of(&store, batch).await?;
        let merged = merge(batch, &kept)?;
        for row in &merged.fresh {
            store
                .add(row.json.as_str())
                .with_key(row.id.as_str())
                .without_key_type()
                .primitive()?;
        }
        drop(store);
        scope::commit(transaction).await?;
        Ok(merged.appended())
    }
}

/// The stored texts of the ids of the batch that are already stored.
async fn kept_of(store: &ObjectStore<'_>, batch: &[Row]) -> Result<HashMap<String, String>, Fault> {
    let ids: HashSet<&str> = batch.iter().map(|row| row.id.as_str()).collect();
    if ids.len() <= SINGLE_GETS_MAX {
        return Ok(by_id(get_each(store, ids).await?));
    }
    let Some(range) = key_range(&ids) else {
        return Ok(HashMap::new());
    };
    let keys = store
        .get_all_keys::<JsValue>()
        .with_query(range.clone())
        .primitive()?
        .await?;
    let stored: Vec<String> = keys
        .map(|key| key.map(|key| text_of(&key)))
        .collect::<Result<_, _>>()?;
    let shared: Vec<&str> = stored
        .iter()
        .map(String::as_str)
        .filter(|id| ids.contains(id))
        .collect();
    if shared.len() <= SINGLE_GETS_MAX {
        return Ok(by_id(get_each(store, shared).await?));
    }
    let texts = store
        .get_all::<JsValue>()
        .with_query(range)
        .primitive()?
        .await?;
    let mut kept = HashMap::with_capacity(shared.len());
    for (id, text) in stored.iter().zip(texts) {
        let text = text?;
        if ids.contains(id.as_str()) {
            kept.insert(id.clone(), text_of(&text));
        }
    }
    Ok(kept)
}

/// From the lowest to the highest id in IndexedDB's order, which is by UTF-16
/// code units and differs from the order of Rust's strings.
fn key_range(ids: &HashSet<&str>) -> Option<RangeInclusive<String>> {
    let order = |a: &&&str, b: &&&str| a.encode_utf16().cmp(b.encode_utf16());
    let low = ids.iter().min_by(order)?;
    let high = ids.iter().max_by(order)?;
    Some((*low).to_owned()..=(*high).to_owned())
}

/// One request per id, all sent before the first is awaited.
async fn get_each<'a>(
    store: &ObjectStore<'_>,
    ids: impl IntoIterator<Item = &'a str>,
) -> Result<Vec<Row>, Fault> {
    let mut sent = Vec::new();
    for id in ids {
        sent.push((id, store.get::<JsValue, _, _>(id).primitive()?));
    }
    let mut rows = Vec::with_capacity(sent.len());
    for (id, request) in sent {
        if let Some(text) = request.await? {
            rows.push(Row {
                id: id.to_owned(),
                json: text_of(&text),
            });
        }
    }
    Ok(rows)
}

fn by_id(rows: Vec<Row>) -> HashMap<String, String> {
    rows.into_iter().map(|row| (row.id, row.json)).collect()
}

/// A stored text. A value that is not text was not written by this app: it is
/// returned as JSON, so that the caller can report it instead of losing it.
fn text_of(value: &JsValue) -> String {
    value.as_string().unwrap_or_else(|| {
        js_sys::JSON::stringify(value)
            .ok()
            .and_then(|text| text.as_string())
            .unwrap_or_default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_range_follows_the_order_of_utf_16() {
        // U+FFFD is below U+1F33B as a code point, but above its surrogates.
        let ids = HashSet::from(["\u{fffd}", "\u{1f33b}", "a"]);
        assert_eq!(
            key_range(&ids),
            Some("a".to_owned()..="\u{fffd}".to_owned())
        );
        assert_eq!(key_range(&HashSet::new()), None);
    }
}
