//! Latitudes.

use super::plain_number;
use crate::words::Say;

/// A latitude: `44.1`, `44.1 N`, `33.9 S`, `-33.9`, `44° 30'`.
pub fn latitude(text: &str) -> Result<f64, Say> {
    let text = text.trim().to_ascii_uppercase();
    if text.is_empty() {
        return Err(Say::new("typed.no_latitude"));
    }
    let (text, south) = match (text.strip_suffix('N'), text.strip_suffix('S')) {
        (Some(north), _) => (north, false),
        (_, Some(south)) => (south, true),
        _ => (text.as_str(), false),
    };
    let parts: Vec<&str> = text
        .split(['°', '\'', '′', '’', '"', '″'])
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    let wrong = || Say::new("typed.not_latitude");
    let mut degrees = 0.0;
    let mut sign = if south { -1.0 } else { 1.0 };
    for (n, part) in parts.iter().enumerate().take(4) {
        let value = plain_number(part).ok_or_else(wrong)?;
        match n {
            0 => {
                if value < 0.0 {
                    sign = -1.0;
                }
                degrees = value.abs();
            }
            1 | 2 if (0.0..60.0).contains(&value) => {
                degrees += value / if n == 1 { 60.0 } else { 3_600.0 };
            }
            _ => return Err(wrong()),
        }
    }
    if parts.is_empty() || degrees > 90.0 {
        return Err(wrong());
    }
    Ok(sign * degrees)
}
