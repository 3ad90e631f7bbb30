//! Pictures: from a file that was taken or chosen to pixels on a canvas.
//!
//! Nothing is fetched and no address is made: the browser reads the file itself, and a canvas shows it, so the page's policy needs no
//! exception. Nor is anything kept.

use js_sys::Promise;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    CanvasRenderingContext2d, File, HtmlCanvasElement, ImageBitmap, ImageBitmapOptions,
    ImageOrientation,
};

use super::page;

/// Longest side that a picture is brought down to, in pixels: 80 for each of 24 cells.
const SIDE_MAX: f64 = 2000.0;
/// Largest file that is opened, in bytes: more than any phone's picture.
const BYTES_MAX: f64 = 60e6;

/// A picture's pixels.
#[derive(Debug, Clone, PartialEq)]
pub struct Pixels {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Red, green, blue and opacity of each pixel, row by row.
    pub bytes: Vec<u8>,
}

/// Why a file gives no pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PictureError {
    /// It is no picture that this browser knows.
    NotAPicture,
    /// It is too large.
    TooBig,
    /// This browser has no canvas to read, or keeps its pixels to itself.
    NotHere,
}

/// Draws the picture of a file onto a canvas, which takes on its size, as upright as it was taken, and reads its pixels.
///
/// # Errors
/// [`PictureError`], with the canvas as it was.
pub async fn opened(file: &File, canvas: &HtmlCanvasElement) -> Result<Pixels, PictureError> {
    if file.size() > BYTES_MAX {
        return Err(PictureError::TooBig);
    }
    let bitmap = JsFuture::from(bitmap_of(file)?).await;
    let bitmap: ImageBitmap = bitmap
        .map_err(|_| PictureError::NotAPicture)?
        .dyn_into()
        .map_err(|_| PictureError::NotHere)?;
    let pixels = drawn(&bitmap, canvas);
    // Some browsers keep its memory until told.
    bitmap.close();
    pixels
}

fn bitmap_of(file: &File) -> Result<Promise, PictureError> {
    let options = ImageBitmapOptions::new();
    options.set_image_orientation(ImageOrientation::FromImage);
    let window = page::window().ok_or(PictureError::NotHere)?;
    // A browser without it throws, as one that is asked for nothing would.
    window
        .create_image_bitmap_with_blob_and_image_bitmap_options(file, &options)
        .map_err(|_| PictureError::NotHere)
}

fn drawn(bitmap: &ImageBitmap, canvas: &HtmlCanvasElement) -> Result<Pixels, PictureError> {
    let (width, height) = brought_down(bitmap.width(), bitmap.height());
    if width == 0 || height == 0 {
        return Err(PictureError::NotAPicture);
    }
    canvas.set_width(width);
    canvas.set_height(height);
    let pen = canvas.get_context("2d").ok().flatten();
    let pen = pen.and_then(|pen| pen.dyn_into::<CanvasRenderingContext2d>().ok());
    let pen = pen.ok_or(PictureError::NotHere)?;
    read(&pen, bitmap, (width, height)).map_err(|_| PictureError::NotHere)
}

fn read(
    pen: &CanvasRenderingContext2d,
    bitmap: &ImageBitmap,
    (width, height): (u32, u32),
) -> Result<Pixels, JsValue> {
    let (wide, high) = (f64::from(width), f64::from(height));
    pen.draw_image_with_image_bitmap_and_dw_and_dh(bitmap, 0.0, 0.0, wide, high)?;
    let data = pen.get_image_data(0.0, 0.0, wide, high)?;
    Ok(Pixels {
        width,
        height,
        bytes: data.data().0,
    })
}

/// The size of a picture whose longest side is at most [`SIDE_MAX`].
fn brought_down(width: u32, height: u32) -> (u32, u32) {
    let share = (SIDE_MAX / f64::from(width.max(height)).max(1.0)).min(1.0);
    let side = |v: u32| (f64::from(v) * share).round() as u32;
    (side(width), side(height))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn large_pictures_are_brought_down_and_small_ones_left() {
        assert_eq!(brought_down(4000, 3000), (2000, 1500));
        assert_eq!(brought_down(3024, 4032), (1500, 2000));
        assert_eq!(brought_down(640, 480), (640, 480));
        assert_eq!(brought_down(0, 0), (0, 0));
    }
}
