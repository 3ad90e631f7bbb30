//! From a grey picture to the texts of the codes in it. Knows no browser, so that it can run in a thread of its own. Odd pictures
//! must not stop the reader: where a panic ends the page, one label in ten thousand is too many.

use quircs::{DecodeError, Quirc};

/// Points along one side below which no code fits: the smallest has 21 (ISO/IEC 18004).
const SIDE_LEAST: usize = 21;

/// Why a picture gave no text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScanError {
    /// No code was seen in it.
    NoCode,
    /// A code was seen, but too much of it is torn, soiled or out of focus.
    Torn,
}

/// The texts of all codes in a picture: `luma` has a brightness for each point, row by row, `width` by `height` of them. A picture
/// whose points don't make up its sides holds no code.
pub fn decode(luma: &[u8], width: usize, height: usize) -> Result<Vec<String>, ScanError> {
    let whole = width.checked_mul(height) == Some(luma.len());
    if !whole || width < SIDE_LEAST || height < SIDE_LEAST {
        return Err(ScanError::NoCode);
    }
    let mut finder = Quirc::default();
    let mut texts = Vec::new();
    let mut is_torn = false;
    // What only looks like corner marks comes as an error, or as a code of no size that there is.
    for code in finder.identify(width, height, luma).flatten() {
        match code.decode() {
            Ok(data) => texts.push(String::from_utf8_lossy(&data.payload).into_owned()),
            Err(DecodeError::InvalidGridSize | DecodeError::InvalidVersion) => {}
            Err(_) => is_torn = true,
        }
    }
    match (texts.is_empty(), is_torn) {
        (false, _) => Ok(texts),
        (true, true) => Err(ScanError::Torn),
        (true, false) => Err(ScanError::NoCode),
    }
}

/// Brightness of coloured points, four bytes a point (red, green, blue, opacity), by the weights of ITU-R BT.601.
pub fn luma(rgba: &[u8]) -> Vec<u8> {
    let grey =
        |r: u8, g: u8, b: u8| (u32::from(r) * 299 + u32::from(g) * 587 + u32::from(b) * 114) / 1000;
    rgba.chunks_exact(4)
        .map(|point| u8::try_from(grey(point[0], point[1], point[2])).unwrap_or(u8::MAX))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::code::Code;

    const TEXT: &str = "farm.example/app/#/bench/01J8ZC3VZP3Q4W5E6R7T8Y9A0B";
    /// Picture points for one point of the code.
    const SCALE: usize = 4;

    /// A label's code as a picture.
    struct Picture {
        luma: Vec<u8>,
        side: usize,
    }

    impl Picture {
        fn of(text: &str) -> Self {
            let code = Code::of(text).unwrap();
            let side = code.side() as usize * SCALE;
            let point = |n: usize| (n / SCALE) as u32;
            let luma = (0..side * side)
                .map(|n| (point(n % side), point(n / side)))
                .map(|(x, y)| if code.is_dark(x, y) { 20 } else { 235 })
                .collect();
            Self { luma, side }
        }

        /// Tears away points of the code, counted from its own upper left: white paper shows.
        fn tear(mut self, x: core::ops::Range<usize>, y: core::ops::Range<usize>) -> Self {
            for row in y.start * SCALE..y.end * SCALE {
                for column in x.start * SCALE..x.end * SCALE {
                    self.luma[row * self.side + column] = 235;
                }
            }
            self
        }

        fn read(&self) -> Result<Vec<String>, ScanError> {
            decode(&self.luma, self.side, self.side)
        }
    }

    #[test]
    fn what_a_label_says_is_read_back() {
        for text in [
            TEXT,
            "localhost:8080/#/bench/01J8ZC3VZP3Q4W5E6R7T8Y9A0B",
            "farm.example/#/bench/an-id_in_small-letters",
            "Grüße vom Feld",
        ] {
            assert_eq!(Picture::of(text).read(), Ok(vec![text.to_owned()]));
        }
    }

    #[test]
    fn a_scratch_is_repaired_and_a_tear_is_told() {
        // 4 of 33 points off one end, across 5 lines: a twentieth of the code.
        let scratched = Picture::of(TEXT).tear(20..26, 20..24);
        assert_eq!(scratched.read(), Ok(vec![TEXT.to_owned()]));
        // The middle gone, the three finders still there: well past the 15 in 100 that can be repaired.
        let torn = Picture::of(TEXT).tear(13..32, 12..32);
        assert_eq!(torn.read(), Err(ScanError::Torn));
        // Half the label gone, two finders with it.
        let half = Picture::of(TEXT).tear(0..41, 20..41);
        assert_eq!(half.read(), Err(ScanError::NoCode));
    }

    #[test]
    fn a_picture_without_a_code_says_so() {
        let blank = vec![200; 640 * 480];
        assert_eq!(decode(&blank, 640, 480), Err(ScanError::NoCode));
        // Stripes as of a tray's cells.
        let cells: Vec<u8> = (0..640 * 480)
            .map(|n| {
                if (n % 640) / 40 % 2 == (n / 640) / 40 % 2 {
                    30
                } else {
                    220
                }
            })
            .collect();
        assert_eq!(decode(&cells, 640, 480), Err(ScanError::NoCode));
        assert_eq!(decode(&[], 0, 0), Err(ScanError::NoCode));
        assert_eq!(decode(&[0; 10], 640, 480), Err(ScanError::NoCode));
        assert_eq!(decode(&[], usize::MAX, 2), Err(ScanError::NoCode));
    }

    /// As a phone sees a label on a tray: turned, from aside, a little out of focus, half in the shade.
    #[test]
    fn a_label_seen_from_aside_is_read() {
        const WIDE: usize = 640;
        const HIGH: usize = 480;
        let code = Code::of(TEXT).unwrap();
        let middle = f64::from(code.side()) / 2.0;
        let bright = |x: f64, y: f64| {
            let (sin, cos) = 0.35_f64.sin_cos();
            let (dx, dy) = (x - 320.0, y - 240.0);
            // Farther away at the right: fewer picture points to a point of the code.
            let near = 7.0 - dx / 160.0;
            let (u, v) = ((dx * cos + dy * sin) / near, (dy * cos - dx * sin) / near);
            let point = |n: f64| (n + middle).floor();
            let on = |n: f64| (0.0..2.0 * middle).contains(&n);
            let (u, v) = (point(u), point(v));
            let shade = if x + y > 560.0 { 0.6 } else { 1.0 };
            // Soil around a white label.
            let ink = match on(u) && on(v) {
                true if code.is_dark(u as u32, v as u32) => 25.0,
                true => 230.0,
                false => 70.0,
            };
            ink * shade
        };
        let luma: Vec<u8> = (0..WIDE * HIGH)
            .map(|n| {
                let (x, y) = ((n % WIDE) as f64, (n / WIDE) as f64);
                let around = [-1.0, 0.0, 1.0];
                let sum: f64 = around
                    .iter()
                    .flat_map(|dx| around.iter().map(move |dy| (x + dx, y + dy)))
                    .map(|(x, y)| bright(x, y))
                    .sum();
                (sum / 9.0) as u8
            })
            .collect();
        assert_eq!(decode(&luma, WIDE, HIGH), Ok(vec![TEXT.to_owned()]));
    }

    /// Whatever a camera sees must not stop the app: noise, alone and over a code, by a small generator with a fixed seed.
    #[test]
    fn noise_gives_an_answer_and_no_crash() {
        let mut state = 0x2545_f491_4f6c_dd1d_u64;
        let mut next = || {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            (state >> 32) as u32
        };
        for round in 0..150 {
            let mut picture = Picture::of(TEXT);
            // From a few specks to nothing but specks.
            let specks = picture.luma.len() * round / 150;
            for _ in 0..specks {
                let at = next() as usize % picture.luma.len();
                picture.luma[at] = next() as u8;
            }
            match picture.read() {
                Ok(texts) => assert!(texts.iter().all(|text| text == TEXT), "{round}: {texts:?}"),
                Err(error) => assert!(round > 0, "{error:?}"),
            }
        }
    }

    #[test]
    fn brightness_weighs_green_most() {
        let points = [
            255, 0, 0, 255, 0, 255, 0, 255, 0, 0, 255, 255, 255, 255, 255, 255, 9,
        ];
        assert_eq!(luma(&points), [76, 149, 29, 255]);
    }
}
