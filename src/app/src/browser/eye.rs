//! The eye's thread: looks at the picture of a tray.

use imaging::Corners;
use imaging::protocol::{Request, Response, Tray};
use js_sys::{Array, Uint8Array};
use wasm_bindgen::JsValue;

use super::picture::Pixels;
use super::thread::{Question, Tells, Thread};

impl Tells for Response {
    fn is_ready(&self) -> bool {
        matches!(self, Self::Ready)
    }

    fn failed(why: String) -> Self {
        Self::Failed(why)
    }
}

/// A look that is under way. Dropping it ends it.
pub struct Looking {
    _running: Thread,
}

/// Looks at the tray between four corners of a picture, and tells once what is seen ([`Response::Looked`]), or why nothing is
/// ([`Response::Refused`], [`Response::Failed`]). `None` where this browser starts no thread.
pub fn look(
    pixels: &Pixels,
    corners: Corners,
    (rows, columns): (u32, u32),
    told: impl FnMut(Response) + Clone + 'static,
) -> Option<Looking> {
    let ask = Request::Look(Tray {
        width: pixels.width,
        height: pixels.height,
        corners,
        rows,
        columns,
    });
    let header = JsValue::from_str(&serde_json::to_string(&ask).ok()?);
    // A copy of its own, handed over: the page keeps the picture for another look.
    let bytes = Uint8Array::from(pixels.bytes.as_slice());
    let question = Question {
        given: Array::of1(&bytes.buffer()),
        message: Array::of2(&header, &bytes).into(),
    };
    Some(Looking {
        _running: Thread::start(question, told)?,
    })
}
