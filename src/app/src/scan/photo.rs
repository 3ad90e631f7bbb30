//! Reading the code in a photo of a label.

use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{File, ImageBitmap};

use super::decode::{ScanError, decode};
use super::pixels::{Source, grey};
use crate::browser::page;

/// Longest sides that a photo is looked at with, in points, the quick one first: a label far off needs the finer ones.
const LOOKS: [u32; 3] = [640, 1280, 2400];

/// Why a photo gave no text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhotoError {
    /// The browser can't read it as a picture.
    NoPicture,
    /// It shows no code, or a torn one.
    Scan(ScanError),
}

/// The texts of the codes in a photo. Nothing of it is kept.
pub async fn read(file: &File) -> Result<Vec<String>, PhotoError> {
    let photo = bitmap(file).await.ok_or(PhotoError::NoPicture)?;
    let source = Source::Photo(&photo);
    let (wide, high) = source.size();
    let mut worst = PhotoError::NoPicture;
    for (n, longest) in LOOKS.into_iter().enumerate() {
        // A finer look at a picture that has no more points sees nothing new.
        if n > 0 && wide.max(high) <= LOOKS[n - 1] {
            break;
        }
        let Some(grey) = grey(&source, longest) else {
            continue;
        };
        match decode(&grey.luma, grey.width, grey.height) {
            Ok(texts) => {
                photo.close();
                return Ok(texts);
            }
            // Once a code was seen, that none was seen at another size says nothing.
            Err(error) if worst != PhotoError::Scan(ScanError::Torn) => {
                worst = PhotoError::Scan(error);
            }
            Err(_) => {}
        }
    }
    photo.close();
    Err(worst)
}

async fn bitmap(file: &File) -> Option<ImageBitmap> {
    let promise = page::window()?.create_image_bitmap_with_blob(file).ok()?;
    JsFuture::from(promise).await.ok()?.dyn_into().ok()
}
