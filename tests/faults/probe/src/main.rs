//! Exposes the vault to a test page. Rows are passed as JSON, `[[id, json], ..]`;
//! an error is thrown as the text of its `Debug` form.

use std::cell::RefCell;
use std::rc::Rc;
use vault::prefs::{Prefs, Theme, Units};
use vault::tabs::Tabs;
use vault::{Book, Device, NEWER_MIGRATIONS, Row, Vault, VaultError, durability};
use wasm_bindgen::prelude::wasm_bindgen;

// Nothing to do at start: the page calls the exported functions below.
fn main() {}

/// An open vault.
#[wasm_bindgen]
pub struct Probe {
    vault: Vault,
    closings: Rc<RefCell<Vec<String>>>,
}

#[wasm_bindgen]
impl Probe {
    /// Opens "own" or "demo".
    pub async fn open(book: String) -> Result<Probe, String> {
        Vault::open(book_of(&book)).await.map(probe).map_err(thrown)
    }

    /// Opens a database of any name with one more migration.
    #[wasm_bindgen(js_name = openNewer)]
    pub async fn open_newer(name: String) -> Result<Probe, String> {
        Vault::open_trial(&name, NEWER_MIGRATIONS)
            .await
            .map(probe)
            .map_err(thrown)
    }

    /// A vault without a disk.
    #[wasm_bindgen(js_name = inMemory)]
    pub fn in_memory() -> Probe {
        probe(Vault::in_memory())
    }

    /// Whether it stores permanently.
    pub fn keeps(&self) -> bool {
        self.vault.keeps()
    }

    /// Why the vault was closed.
    pub fn closings(&self) -> Vec<String> {
        self.closings.borrow().clone()
    }

    /// Appends; returns `[added, already]`.
    pub async fn append(&self, rows: String) -> Result<Vec<u32>, String> {
        let rows = rows_of(&rows)?;
        let done = self.vault.append(&rows).await.map_err(thrown)?;
        let count = |n: usize| u32::try_from(n).map_err(|e| e.to_string());
        Ok(vec![count(done.added)?, count(done.already)?])
    }

    /// All rows.
    #[wasm_bindgen(js_name = readAll)]
    pub async fn read_all(&self) -> Result<String, String> {
        Ok(text_of(&self.vault.read_all().await.map_err(thrown)?))
    }

    /// Reads all rows and returns only their number and their bytes.
    pub async fn tally(&self) -> Result<Vec<f64>, String> {
        let rows = self.vault.read_all().await.map_err(thrown)?;
        let bytes: usize = rows.iter().map(|r| r.id.len() + r.json.len()).sum();
        Ok(vec![rows.len() as f64, bytes as f64])
    }

    /// Some rows.
    pub async fn read(&self, ids: Vec<String>) -> Result<String, String> {
        Ok(text_of(&self.vault.read(&ids).await.map_err(thrown)?))
    }

    /// The device as `[id, name]`, empty when not set.
    pub async fn device(&self) -> Result<Vec<String>, String> {
        let device = self.vault.device().await.map_err(thrown)?;
        Ok(device.map(|d| vec![d.id, d.name]).unwrap_or_default())
    }

    /// Offers a device; returns the stored one.
    #[wasm_bindgen(js_name = setDevice)]
    pub async fn set_device(&self, id: String, name: String) -> Result<Vec<String>, String> {
        let offered = Device { id, name };
        let merged = self.vault.set_device(&offered).await.map_err(thrown)?;
        Ok(vec![merged.id, merged.name])
    }

    /// Replaces the device.
    #[wasm_bindgen(js_name = replaceDevice)]
    pub async fn replace_device(&self, id: String, name: String) -> Result<(), String> {
        let device = Device { id, name };
        self.vault.replace_device(&device).await.map_err(thrown)
    }
}

/// Deletes the demo.
#[wasm_bindgen(js_name = forgetDemo)]
pub async fn forget_demo() -> Result<(), String> {
    Vault::forget_demo().await.map_err(thrown)
}

/// A book's channel and the ids it received.
#[wasm_bindgen]
pub struct Channel {
    tabs: Tabs,
    received: Rc<RefCell<Vec<String>>>,
}

#[wasm_bindgen]
impl Channel {
    /// Joins and listens.
    pub fn join(book: String) -> Channel {
        let tabs = Tabs::join(book_of(&book));
        let received = Rc::new(RefCell::new(Vec::new()));
        let sink = Rc::clone(&received);
        tabs.listen(move |ids| sink.borrow_mut().extend(ids));
        Channel { tabs, received }
    }

    /// Notifies the other tabs.
    pub fn announce(&self, ids: Vec<String>) {
        self.tabs.announce(&ids);
    }

    /// All ids received so far.
    pub fn received(&self) -> Vec<String> {
        self.received.borrow().clone()
    }
}

/// Requests persistent storage.
#[wasm_bindgen(js_name = askToPersist)]
pub async fn ask_to_persist() -> String {
    format!("{:?}", durability::ask_to_persist().await)
}

/// The browser's current guarantee.
#[wasm_bindgen]
pub async fn persisted() -> String {
    format!("{:?}", durability::persisted().await)
}

/// Bytes used and allowed; empty if unknown.
#[wasm_bindgen]
pub async fn estimate() -> Vec<f64> {
    match durability::estimate().await {
        Some((usage, quota)) => vec![usage as f64, quota as f64],
        None => Vec::new(),
    }
}

/// The preferences as `theme units screen book exported_ms`.
#[wasm_bindgen(js_name = loadPrefs)]
pub fn load_prefs() -> String {
    shown(&Prefs::load())
}

/// Sets a theme and a screen, US units, the demo and a time of export.
#[wasm_bindgen(js_name = setPrefs)]
pub fn set_prefs(theme: String, screen: String) -> String {
    let (prefs, kept) = Prefs::update(|prefs| {
        prefs.theme = Theme::parse(&theme).unwrap_or_default();
        prefs.units = Units::Us;
        prefs.screen = Some(screen);
        prefs.book = Book::Demo;
        prefs.exported_ms = Some(1_800_000_000_000);
    });
    format!("{} kept={kept}", shown(&prefs))
}

fn shown(prefs: &Prefs) -> String {
    format!(
        "{} {} {} {} {}",
        prefs.theme.word(),
        prefs.units.word(),
        prefs.screen.as_deref().unwrap_or("-"),
        prefs.book.name(),
        prefs.exported_ms.unwrap_or(0)
    )
}

fn probe(vault: Vault) -> Probe {
    let closings = Rc::new(RefCell::new(Vec::new()));
    let sink = Rc::clone(&closings);
    vault.on_closed(move |closing| sink.borrow_mut().push(format!("{closing:?}")));
    Probe { vault, closings }
}

fn book_of(name: &str) -> Book {
    if name == "demo" {
        Book::Demo
    } else {
        Book::Own
    }
}

fn rows_of(text: &str) -> Result<Vec<Row>, String> {
    let pairs: Vec<(String, String)> = serde_json::from_str(text).map_err(|e| e.to_string())?;
    Ok(pairs
        .into_iter()
        .map(|(id, json)| Row { id, json })
        .collect())
}

fn text_of(rows: &[Row]) -> String {
    let pairs: Vec<_> = rows.iter().map(|r| (&r.id, &r.json)).collect();
    serde_json::to_string(&pairs).unwrap_or_default()
}

fn thrown(error: VaultError) -> String {
    format!("{error:?}")
}
