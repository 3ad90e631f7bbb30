//! How safe stored data is from the browser's own clearing, and how much room
//! there is.

use js_sys::Promise;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{StorageEstimate, StorageManager};

/// Whether the browser promises not to clear this site of its own accord.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Persisted {
    /// It promises.
    Yes,
    /// It may clear it when space is short or the site goes unused.
    No,
    /// It does not say.
    Unknown,
}

/// Asks the browser to keep this site's data. Best asked after the first real
/// data. Some browsers ask the user, and answer only when he does: do not
/// wait for it before anything else.
pub async fn ask_to_persist() -> Persisted {
    let Some(storage) = storage() else {
        return Persisted::Unknown;
    };
    answer(storage.persist().ok()).await
}

/// What the browser promises now, without asking for anything.
pub async fn persisted() -> Persisted {
    let Some(storage) = storage() else {
        return Persisted::Unknown;
    };
    answer(storage.persisted().ok()).await
}

/// Bytes used by this site and bytes it may use, by the browser's estimate,
/// which rounds on purpose.
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
    // Beyond 2^53 a byte more or less is not in the number anyway.
    (value.is_finite() && value >= 0.0).then_some(value as u64)
}

/// Missing in old browsers and on pages that are not secure.
fn storage() -> Option<StorageManager> {
    let storage = web_sys::window()?.navigator().storage();
    (!storage.is_undefined()).then_some(storage)
}
