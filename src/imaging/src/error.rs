//! Why a picture cannot be analysed, for the layers above to put into words.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Why a picture cannot be analysed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LookError {
    /// The picture is too small or too large.
    Size {
        /// Width in pixels.
        width: u32,
        /// Height in pixels.
        height: u32,
    },
    /// The number of bytes is not four per pixel.
    Bytes {
        /// Number of bytes expected.
        expected: u64,
        /// Number of bytes received.
        got: u64,
    },
    /// The grid has no cells, or too many in a row or column.
    Grid {
        /// Rows.
        rows: u32,
        /// Cells in a row.
        columns: u32,
    },
    /// The corners are not those of a tray.
    Corners(CornersError),
}

/// Why four points are not the corners of a tray.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CornersError {
    /// One is outside the picture.
    Outside,
    /// They are not in order around the tray: its edges cross, a corner points inwards, or the tray is
    /// mirrored.
    Crossed,
    /// Two of them nearly coincide, or three are nearly collinear.
    Flat,
    /// A cell between them would be too small to recognise anything.
    Small,
}

impl From<CornersError> for LookError {
    fn from(error: CornersError) -> Self {
        Self::Corners(error)
    }
}

impl fmt::Display for LookError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Size { width, height } => write!(f, "a picture of {width} by {height} pixels"),
            Self::Bytes { expected, got } => write!(f, "{got} bytes of a picture, not {expected}"),
            Self::Grid { rows, columns } => write!(f, "a tray of {rows} by {columns} cells"),
            Self::Corners(error) => error.fmt(f),
        }
    }
}

impl fmt::Display for CornersError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Outside => "a corner outside of the picture",
            Self::Crossed => "corners that are not in order",
            Self::Flat => "corners too near to each other or in one line",
            Self::Small => "cells of less than a few pixels",
        })
    }
}

impl std::error::Error for LookError {}
impl std::error::Error for CornersError {}
