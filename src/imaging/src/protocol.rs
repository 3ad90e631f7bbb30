//! The messages between the page and the thread about pictures.
//!
//! A request is a JavaScript array of two: a [`Request`] as JSON, and the picture's bytes, since encoding a
//! picture as JSON would take seconds. The response is a [`Response`] as JSON.

use serde::{Deserialize, Serialize};

use crate::corners::Corners;
use crate::error::LookError;
use crate::look::look;
use crate::picture::Picture;
use crate::seen::Look;

/// A request of the page.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Request {
    /// Analyse a tray.
    Look(Tray),
}

/// The tray in the accompanying picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Tray {
    /// Width of the picture in pixels.
    pub width: u32,
    /// Height of the picture in pixels.
    pub height: u32,
    /// The corners of the tray.
    pub corners: Corners,
    /// Rows of cells.
    pub rows: u32,
    /// Cells in a row.
    pub columns: u32,
}

/// A response of the thread.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Response {
    /// The thread is ready for requests.
    Ready,
    /// The content of the tray.
    Looked(Look),
    /// The picture or its corners are invalid.
    Refused(LookError),
    /// The request failed, with the reason for developers.
    Failed(String),
}

/// Handles a request.
pub fn answer(request: &Request, bytes: &[u8]) -> Response {
    let Request::Look(tray) = request;
    let looked = Picture::new(tray.width, tray.height, bytes)
        .and_then(|picture| look(&picture, &tray.corners, tray.rows, tray.columns));
    looked.map_or_else(Response::Refused, Response::Looked)
}
