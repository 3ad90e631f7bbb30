//! Points of a video frame or a photo, by way of a canvas that is never shown.

use wasm_bindgen::{JsCast, JsValue};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, HtmlVideoElement, ImageBitmap};

use super::decode::luma;
use crate::browser::page;

/// A grey picture.
pub(super) struct Grey {
    /// Brightness of each point, row by row.
    pub luma: Vec<u8>,
    /// Points across.
    pub width: usize,
    /// Points down.
    pub height: usize,
}

/// Where a picture comes from.
pub(super) enum Source<'a> {
    /// The frame that a video shows.
    Video(&'a HtmlVideoElement),
    /// A photo.
    Photo(&'a ImageBitmap),
}

impl Source<'_> {
    /// Points across and down.
    pub(super) fn size(&self) -> (u32, u32) {
        match self {
            Self::Video(video) => (video.video_width(), video.video_height()),
            Self::Photo(photo) => (photo.width(), photo.height()),
        }
    }
}

/// A picture made smaller, so that its longer side has at most so many points; `None` where there is no picture yet, or this browser
/// gives none.
pub(super) fn grey(source: &Source<'_>, longest: u32) -> Option<Grey> {
    let (wide, high) = source.size();
    if wide == 0 || high == 0 {
        return None;
    }
    let scale = (f64::from(longest) / f64::from(wide.max(high))).min(1.0);
    let scaled = |n: u32| ((f64::from(n) * scale).round() as u32).max(1);
    let (wide, high) = (scaled(wide), scaled(high));
    let canvas: HtmlCanvasElement = page::document()?
        .create_element("canvas")
        .ok()?
        .dyn_into()
        .ok()?;
    canvas.set_width(wide);
    canvas.set_height(high);
    let context: CanvasRenderingContext2d = canvas.get_context("2d").ok()??.dyn_into().ok()?;
    draw(&context, source, f64::from(wide), f64::from(high)).ok()?;
    let points = context
        .get_image_data(0.0, 0.0, f64::from(wide), f64::from(high))
        .ok()?
        .data();
    Some(Grey {
        luma: luma(&points.0),
        width: wide as usize,
        height: high as usize,
    })
}

fn draw(
    context: &CanvasRenderingContext2d,
    source: &Source<'_>,
    wide: f64,
    high: f64,
) -> Result<(), JsValue> {
    match source {
        Source::Video(video) => {
            context.draw_image_with_html_video_element_and_dw_and_dh(video, 0.0, 0.0, wide, high)
        }
        Source::Photo(photo) => {
            context.draw_image_with_image_bitmap_and_dw_and_dh(photo, 0.0, 0.0, wide, high)
        }
    }
}
