//! The square code of a label (QR code, ISO/IEC 18004), as one path of its dark points.

use core::fmt::Write;

use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};

/// Light points around a code that its readers need, by the standard.
const QUIET: i32 = 4;

/// The narrowest point that a phone's camera tells apart from a hand's width, mm. Common practice; known from memory.
pub const POINT_LEAST_MM: f64 = 0.25;

/// A code, its light border included.
#[derive(Clone)]
pub struct Code(QrCode);

impl Code {
    /// The code of a text, made so that at least 15 in 100 of it may be soiled or torn (level M). `None` for a text too long
    /// for any code.
    pub fn of(text: &str) -> Option<Self> {
        let code = QrCode::encode_segments_advanced(
            &segments(text),
            QrCodeEcc::Medium,
            Version::MIN,
            Version::MAX,
            None,
            true,
        );
        code.ok().map(Self)
    }

    /// Points along one side.
    pub fn side(&self) -> u32 {
        u32::try_from(self.0.size() + 2 * QUIET).unwrap_or_default()
    }

    /// Whether a point is dark; beyond the code it is not.
    pub fn is_dark(&self, x: u32, y: u32) -> bool {
        let at = |n: u32| i32::try_from(n).map_or(-1, |n| n - QUIET);
        self.0.get_module(at(x), at(y))
    }

    /// The dark points as a path on a ground of [`Code::side`] by as much: one rectangle a run, so that no seam shows.
    pub fn path(&self) -> String {
        let side = self.side();
        let mut path = String::new();
        for y in 0..side {
            let mut x = 0;
            while x < side {
                let run = (x..side).take_while(|x| self.is_dark(*x, y)).count();
                if run > 0 {
                    // Writing to a text does not fail.
                    let _written = write!(path, "M{x} {y}h{run}v1h-{run}z");
                }
                x += run as u32 + 1;
            }
        }
        path
    }
}

/// An address ends in an id of capitals and digits, which take less room than letters of both cases.
fn segments(text: &str) -> Vec<QrSegment> {
    let (head, tail) = text.split_at(text.rfind('/').map_or(0, |at| at + 1));
    if QrSegment::is_alphanumeric(tail) {
        vec![
            QrSegment::make_bytes(head.as_bytes()),
            QrSegment::make_alphanumeric(tail),
        ]
    } else {
        vec![QrSegment::make_bytes(text.as_bytes())]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_path_covers_the_dark_points_and_keeps_the_border_clear() {
        let code = Code::of("stemtide.example/#/bench/01J8ZC3VZP3Q4W5E6R7T8Y9A0B").unwrap();
        let side = code.side();
        // Rectangles of the path, read back.
        let mut dark = std::collections::BTreeSet::new();
        for piece in code.path().split('M').skip(1) {
            let (x, rest) = piece.split_once(' ').unwrap();
            let (y, rest) = rest.split_once('h').unwrap();
            let run = rest.split_once('v').unwrap().0;
            let (x, y, run): (u32, u32, u32) =
                (x.parse().unwrap(), y.parse().unwrap(), run.parse().unwrap());
            dark.extend((x..x + run).map(|x| (x, y)));
        }
        for y in 0..side {
            for x in 0..side {
                assert_eq!(dark.contains(&(x, y)), code.is_dark(x, y), "{x} {y}");
            }
        }
        // Four light points on every side: ISO/IEC 18004, 5.3.8.
        let clear = 4..side - 4;
        assert!(
            dark.iter()
                .all(|(x, y)| clear.contains(x) && clear.contains(y))
        );
        assert!(dark.contains(&(4, 4)), "a corner of the first finder");
    }

    #[test]
    fn an_address_of_usual_length_takes_37_points_or_fewer() {
        // Version 5 has 37 points a side.
        let address = format!("{:/<32}#/bench/01J8ZC3VZP3Q4W5E6R7T8Y9A0B", "farm.example");
        assert!(Code::of(&address).unwrap().side() <= 37 + 8);
    }

    #[test]
    fn a_text_longer_than_any_code_is_refused() {
        assert!(Code::of(&"x".repeat(5_000)).is_none());
        assert!(Code::of("").is_some());
    }
}
