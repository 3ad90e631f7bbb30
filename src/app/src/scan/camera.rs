//! The phone's camera: asked for, looked through, and given back.

use js_sys::{Array, Function, Object, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{HtmlVideoElement, MediaStream, MediaStreamConstraints, MediaStreamTrack};

use super::decode::{ScanError, decode};
use super::pixels::{Source, grey};
use crate::browser::page;

/// The longest side a frame is looked at with: quick enough for some looks a second on an old phone.
const LONGEST: u32 = 640;

/// Why there is nothing to look through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CameraError {
    /// This device or browser has none for us.
    Missing,
    /// The grower or the device said no.
    Refused,
    /// It is there, but in use or broken.
    Busy,
}

/// A camera that is on. Dropping it turns it off.
pub struct Camera {
    stream: MediaStream,
    detector: Option<Detector>,
}

impl Camera {
    /// Asks for the camera at the back.
    pub async fn open() -> Result<Self, CameraError> {
        let navigator = page::window().ok_or(CameraError::Missing)?.navigator();
        // Not there at all on pages that are not secure.
        let devices = navigator
            .media_devices()
            .map_err(|_| CameraError::Missing)?;
        if devices.is_undefined() {
            return Err(CameraError::Missing);
        }
        let facing = Object::new();
        Reflect::set(&facing, &"facingMode".into(), &"environment".into())
            .map_err(|_| CameraError::Missing)?;
        let wanted = MediaStreamConstraints::new();
        wanted.set_video(&facing);
        let promise = devices
            .get_user_media_with_constraints(&wanted)
            .map_err(|error| told(&error))?;
        let stream = JsFuture::from(promise)
            .await
            .map_err(|error| told(&error))?;
        Ok(Self {
            stream: stream.unchecked_into(),
            detector: Detector::here().await,
        })
    }

    /// Shows what it sees.
    pub fn show(&self, video: &HtmlVideoElement) {
        video.set_src_object(Some(&self.stream));
        // Without this, phones show a video in a window of its own.
        let _set = video.set_attribute("playsinline", "");
        video.set_muted(true);
        if let Ok(promise) = video.play() {
            wasm_bindgen_futures::spawn_local(async move {
                // A video that is taken away before it plays says so here.
                let _played = JsFuture::from(promise).await;
            });
        }
    }

    /// The texts of the codes in the frame that is shown.
    pub async fn look(&self, video: &HtmlVideoElement) -> Result<Vec<String>, ScanError> {
        if let Some(detector) = &self.detector
            && let Some(texts) = detector.detect(video).await
        {
            return if texts.is_empty() {
                Err(ScanError::NoCode)
            } else {
                Ok(texts)
            };
        }
        let grey = grey(&Source::Video(video), LONGEST).ok_or(ScanError::NoCode)?;
        decode(&grey.luma, grey.width, grey.height)
    }
}

impl Drop for Camera {
    fn drop(&mut self) {
        for track in self.stream.get_tracks() {
            track.unchecked_into::<MediaStreamTrack>().stop();
        }
    }
}

/// What a refusal means, by its name in the standard (Media Capture and Streams).
fn told(error: &JsValue) -> CameraError {
    let name = Reflect::get(error, &"name".into())
        .ok()
        .and_then(|name| name.as_string())
        .unwrap_or_default();
    match name.as_str() {
        "NotAllowedError" | "SecurityError" => CameraError::Refused,
        "NotReadableError" | "AbortError" => CameraError::Busy,
        _ => CameraError::Missing,
    }
}

/// The browser's own reader of codes (Shape Detection API), which not all have.
struct Detector {
    object: JsValue,
    detect: Function,
}

impl Detector {
    async fn here() -> Option<Self> {
        let kind: Function = Reflect::get(&page::window()?.into(), &"BarcodeDetector".into())
            .ok()?
            .dyn_into()
            .ok()?;
        let formats: Function = Reflect::get(&kind, &"getSupportedFormats".into())
            .ok()?
            .dyn_into()
            .ok()?;
        let promise: Promise = formats.call0(&kind).ok()?.dyn_into().ok()?;
        let formats: Array = JsFuture::from(promise).await.ok()?.dyn_into().ok()?;
        let square = JsValue::from_str("qr_code");
        if !formats.includes(&square, 0) {
            return None;
        }
        let options = Object::new();
        Reflect::set(&options, &"formats".into(), &Array::of1(&square)).ok()?;
        let object = Reflect::construct(&kind, &Array::of1(&options)).ok()?;
        let detect = Reflect::get(&object, &"detect".into())
            .ok()?
            .dyn_into()
            .ok()?;
        Some(Self { object, detect })
    }

    /// Texts that it reads; `None` where it fails, as some do on a frame that is not there yet.
    async fn detect(&self, video: &HtmlVideoElement) -> Option<Vec<String>> {
        let promise: Promise = self
            .detect
            .call1(&self.object, video)
            .ok()?
            .dyn_into()
            .ok()?;
        let found: Array = JsFuture::from(promise).await.ok()?.dyn_into().ok()?;
        let text = |code: JsValue| Reflect::get(&code, &"rawValue".into()).ok()?.as_string();
        Some(found.iter().filter_map(text).collect())
    }
}
