//! The picture to analyse.

use crate::error::LookError;

/// Shortest side of a picture, in pixels.
pub const SIDE_MIN: u32 = 16;
/// Longest side of a picture, in pixels.
pub const SIDE_MAX: u32 = 16_384;
/// Largest number of pixels: more than phones take, and 200 MB.
pub const PIXELS_MAX: u64 = 50_000_000;

/// A picture: rows from the top, four bytes per pixel (red, green, blue, and an ignored opacity), as a canvas
/// has them.
#[derive(Debug, Clone, Copy)]
pub struct Picture<'a> {
    width: usize,
    height: usize,
    bytes: &'a [u8],
}

impl<'a> Picture<'a> {
    /// A picture of `width` by `height` pixels.
    ///
    /// # Errors
    /// [`LookError::Size`] for sides out of [`SIDE_MIN`]`..=`[`SIDE_MAX`] or more than [`PIXELS_MAX`] pixels,
    /// [`LookError::Bytes`] unless there are four bytes per pixel.
    pub fn new(width: u32, height: u32, bytes: &'a [u8]) -> Result<Self, LookError> {
        let sides = SIDE_MIN..=SIDE_MAX;
        let pixels = u64::from(width) * u64::from(height);
        if !sides.contains(&width) || !sides.contains(&height) || pixels > PIXELS_MAX {
            return Err(LookError::Size { width, height });
        }
        let expected = pixels * 4;
        if bytes.len() as u64 != expected {
            return Err(LookError::Bytes {
                expected,
                got: bytes.len() as u64,
            });
        }
        Ok(Self {
            width: width as usize,
            height: height as usize,
            bytes,
        })
    }

    /// Width in pixels.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Height in pixels.
    pub fn height(&self) -> usize {
        self.height
    }

    /// Red, green and blue of a pixel, 0 to 255; black outside the picture.
    pub fn at(&self, column: usize, row: usize) -> [f32; 3] {
        let start = (row * self.width + column) * 4;
        match self.bytes.get(start..start + 3) {
            Some(&[red, green, blue]) => [f32::from(red), f32::from(green), f32::from(blue)],
            _ => [0.0; 3],
        }
    }
}
