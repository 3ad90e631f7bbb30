//! Reading a label's code: from a picture's points, and from the camera or a photo that the browser gives.

pub mod camera;
pub mod decode;
pub mod photo;
mod pixels;
