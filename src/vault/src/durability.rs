//! How safe stored data is from being cleared by the browser, and how much
//! space there is.

use js_sys::Promise;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{StorageEstimate, StorageManager};

/// Whether the browser guarantees not to clear this site's data by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Persisted {
    /// It guarantees it.
    Yes,
    /// It may clear the data when space is short or the site is not used.
    No,
    /// The browser does not report it.
    Unknown,
}

/// Asks the browser to keep this site's data, best called after the first real
/// data was stored. Some browsers ask the user and answer only after the user
/// does: do not block anything else on it.
pub async fn ask_to_persist() -> Persisted {
    let Some(storage) = storage() else {
        return Persisted::Unknown;
    };
    answer(storage.persist().ok()).await
}

/// The browser's current guarantee, without requesting anything.
pub async fn persisted() -> Persisted {
    let Some(storage) = storage() else {
        return Persisted::Unknown;
    };
    answer(storage.persisted().ok()).await
}

/// Bytes used by this site and bytes it may use, as estimated by the browser,
/// which rounds deliberately.
pub async fn estimate() -> Option<(u64, u64)> {
    let promise = storage()?.estimate().ok()?;
    let estimate = JsFuture::from(promise).await.ok()?;
    let estimate: StorageEstimate = estimate.unchecked_into();
    Some((bytes(estimate.get_usage()?)?, bytes(estimate.get_quota()?)?))
}

async fn answer(promise: Option<Promise>) -> Persisted {
    let Some(promise) = promise else {
        return Persisted::Unknown;
    };
    match JsFuture::from(promise).await.map(|kept| kept.as_bool()) {
        Ok(Some(true)) => Persisted::Yes,
        Ok(Some(false)) => Persisted::No,
        Ok(None) | Err(_) => Persisted::Unknown,
    }
}

fn bytes(value: f64) -> Option<u64> {
    // Above 2^53 single bytes are not represented in the number anyway.
    (value.is_finite() && value >= 0.0).then_some(value as u64)
}

/// Missing in old browsers and on insecure pages.
fn storage() -> Option<StorageManager> {
    let storage = web_sys::window()?.navigator().storage();
    (!storage.is_undefined()).then_some(storage)
}
