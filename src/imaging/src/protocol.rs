//! What the page and the thread say to each other about pictures.
//!
//! A question is a JavaScript array of two: an [`Ask`] as JSON, and the picture's bytes as they are, since a picture written as JSON
//! would take seconds. The answer is a [`Tell`] as JSON.

use serde::{Deserialize, Serialize};

use crate::corners::Corners;
use crate::error::LookError;
use crate::look::look;
use crate::picture::Picture;
use crate::seen::Look;

/// What the page asks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ask {
    /// To look at a tray.
    Look(Tray),
}

/// The tray in the picture that comes along.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Tray {
    /// Pixels of the picture across.
    pub width: u32,
    /// Pixels of the picture down.
    pub height: u32,
    /// The corners of the tray's edge.
    pub corners: Corners,
    /// Rows of cells.
    pub rows: u32,
    /// Cells in a row.
    pub columns: u32,
}

/// What the thread tells.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tell {
    /// It is there and can be asked.
    Ready,
    /// What is seen.
    Looked(Look),
    /// The picture or its corners can't be looked at.
    Refused(LookError),
    /// It could not be done: why, for those who look into it.
    Failed(String),
}

/// Answers.
pub fn answer(ask: &Ask, bytes: &[u8]) -> Tell {
    let Ask::Look(tray) = ask;
    let looked = Picture::new(tray.width, tray.height, bytes)
        .and_then(|picture| look(&picture, &tray.corners, tray.rows, tray.columns));
    looked.map_or_else(Tell::Refused, Tell::Looked)
}
