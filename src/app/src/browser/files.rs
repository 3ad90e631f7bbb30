//! Files in and out: fetched from the app's own origin, picked by the user, handed to the user.

use js_sys::{Array, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, BlobPropertyBag, File, FilePropertyBag, FileSystemFileHandle,
    FileSystemWritableFileStream, HtmlAnchorElement, HtmlInputElement, Response, ShareData, Url,
};

/// The bytes of a file below the app; `None` if it does not come.
pub async fn fetch(path: &str) -> Option<Vec<u8>> {
    let response = JsFuture::from(web_sys::window()?.fetch_with_str(path))
        .await
        .ok()?;
    let response: Response = response.dyn_into().ok()?;
    if !response.ok() {
        return None;
    }
    let buffer = JsFuture::from(response.array_buffer().ok()?).await.ok()?;
    Some(Uint8Array::new(&buffer).to_vec())
}

/// A file that was picked.
pub struct Picked {
    /// Its name.
    pub name: String,
    /// Its content, or why there is none.
    pub bytes: Result<Vec<u8>, PickError>,
}

/// Why a picked file was not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PickError {
    /// Larger than was asked for.
    TooLarge,
    /// The browser could not read it.
    Unreadable,
}

/// Reads the file picked in an input, unless it is larger than `bytes_max`; `None` when none was picked.
pub async fn picked(input: &HtmlInputElement, bytes_max: usize) -> Option<Picked> {
    let file = input.files()?.get(0)?;
    let name = file.name();
    let bytes = if file.size() > bytes_max as f64 {
        Err(PickError::TooLarge)
    } else {
        match JsFuture::from(file.array_buffer()).await {
            Ok(buffer) => Ok(Uint8Array::new(&buffer).to_vec()),
            Err(_) => Err(PickError::Unreadable),
        }
    };
    // So that picking the same file again is a change again.
    input.set_value("");
    Some(Picked { name, bytes })
}

/// How a file can be handed over here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// The device's share sheet.
    Share,
    /// The browser's dialog for saving.
    Picker,
    /// A download.
    Download,
}

/// What became of handing a file over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Handed {
    /// It was handed over, as far as the browser says.
    Done,
    /// The user thought better of it.
    NotWanted,
    /// It did not work.
    Failed,
}

/// What a file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Entries.
    Json,
    /// A table.
    Csv,
    /// Plain text.
    Text,
}

impl Kind {
    fn media_type(self) -> &'static str {
        match self {
            Self::Json => "application/json",
            Self::Csv => "text/csv",
            Self::Text => "text/plain",
        }
    }
}

/// A file ready to be handed over by one tap: browsers allow that only at once, so nothing may be built after the tap.
#[derive(Clone)]
pub struct Outgoing {
    name: String,
    blob: Blob,
    shared: Option<ShareData>,
}

impl Outgoing {
    /// Makes a file of a text; `None` if the browser makes none.
    pub fn new(name: &str, text: &str, kind: Kind) -> Option<Self> {
        let parts = Array::of1(&JsValue::from_str(text));
        let options = BlobPropertyBag::new();
        options.set_type(kind.media_type());
        let blob = Blob::new_with_str_sequence_and_options(&parts, &options).ok()?;
        // Some share sheets refuse JSON but take the same as text.
        let shared = [
            (name.to_owned(), kind.media_type()),
            (format!("{name}.txt"), "text/plain"),
        ]
        .into_iter()
        .find_map(|(name, kind)| shareable(&name, kind, &parts));
        Some(Self {
            name: name.to_owned(),
            blob,
            shared,
        })
    }

    /// The best way here: the share sheet where fingers are, since a download is lost in an installed app on some phones;
    /// else the dialog for saving, else a download.
    pub fn way(&self) -> Way {
        let coarse = web_sys::window().is_some_and(|window| {
            let query = window.match_media("(pointer: coarse)").ok().flatten();
            query.is_some_and(|query| query.matches())
        });
        if coarse && self.shared.is_some() {
            Way::Share
        } else if has_save_picker() {
            Way::Picker
        } else {
            Way::Download
        }
    }

    /// Hands it over. Spawn it in the tap's own handler, with nothing awaited before.
    pub async fn hand_over(&self, way: Way) -> Handed {
        let result = match (way, &self.shared) {
            (Way::Share, Some(data)) => share(data).await,
            (Way::Picker, _) => self.save().await,
            (Way::Share, None) | (Way::Download, _) => self.download(),
        };
        match result {
            Ok(()) => Handed::Done,
            Err(error) if is_abort(&error) => Handed::NotWanted,
            Err(_) => Handed::Failed,
        }
    }

    async fn save(&self) -> Result<(), JsValue> {
        let window = web_sys::window().ok_or(JsValue::NULL)?;
        let options = js_sys::Object::new();
        js_sys::Reflect::set(
            &options,
            &"suggestedName".into(),
            &JsValue::from_str(&self.name),
        )?;
        let picker: js_sys::Function =
            js_sys::Reflect::get(&window, &"showSaveFilePicker".into())?.dyn_into()?;
        let promise: js_sys::Promise = picker.call1(&window, &options)?.dyn_into()?;
        let handle: FileSystemFileHandle = JsFuture::from(promise).await?.unchecked_into();
        let stream: FileSystemWritableFileStream = JsFuture::from(handle.create_writable())
            .await?
            .unchecked_into();
        JsFuture::from(stream.write_with_blob(&self.blob)?).await?;
        JsFuture::from(stream.close()).await?;
        Ok(())
    }

    fn download(&self) -> Result<(), JsValue> {
        let document = web_sys::window()
            .and_then(|window| window.document())
            .ok_or(JsValue::NULL)?;
        let url = Url::create_object_url_with_blob(&self.blob)?;
        let link: HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
        link.set_href(&url);
        link.set_download(&self.name);
        link.click();
        // The download has its own hold on the bytes by the next turn.
        leptos::prelude::set_timeout(
            move || {
                let _freed = Url::revoke_object_url(&url);
            },
            std::time::Duration::from_secs(60),
        );
        Ok(())
    }
}

fn shareable(name: &str, kind: &str, parts: &Array) -> Option<ShareData> {
    let navigator = web_sys::window()?.navigator();
    let can = js_sys::Reflect::get(&navigator, &"canShare".into()).ok()?;
    if !can.is_function() {
        return None;
    }
    let options = FilePropertyBag::new();
    options.set_type(kind);
    let file = File::new_with_str_sequence_and_options(parts, name, &options).ok()?;
    let data = ShareData::new();
    data.set_files(&Array::of1(&file));
    navigator.can_share_with_data(&data).then_some(data)
}

async fn share(data: &ShareData) -> Result<(), JsValue> {
    let navigator = web_sys::window().ok_or(JsValue::NULL)?.navigator();
    JsFuture::from(navigator.share_with_data(data)).await?;
    Ok(())
}

fn has_save_picker() -> bool {
    web_sys::window().is_some_and(|window| {
        js_sys::Reflect::get(&window, &"showSaveFilePicker".into())
            .is_ok_and(|picker| picker.is_function())
    })
}

fn is_abort(error: &JsValue) -> bool {
    js_sys::Reflect::get(error, &"name".into())
        .ok()
        .and_then(|name| name.as_string())
        .is_some_and(|name| name == "AbortError")
}
