//! The text of a file, however it is coded.

use std::borrow::Cow;

use super::LoggerError;

/// Bytes of a file that is read: ten probes over ten seasons stay below it.
const BYTES_MAX: usize = 64 * 1024 * 1024;

/// First bytes of files that are no text, and what they are.
const OTHERS: [(&[u8], LoggerError); 8] = [
    (b"PK\x03\x04", LoggerError::Workbook),
    (b"\xd0\xcf\x11\xe0", LoggerError::Workbook),
    (b"\x89PNG", LoggerError::NotText),
    (b"\xff\xd8\xff", LoggerError::NotText),
    (b"GIF8", LoggerError::NotText),
    (b"%PDF", LoggerError::NotText),
    (b"\x1f\x8b", LoggerError::NotText),
    (b"SQLite format 3", LoggerError::NotText),
];

/// Bytes looked at to tell a text from something else.
const LOOK: usize = 2_048;

/// UTF-8 and UTF-16, with or without a mark in front, else Latin-1, in which older loggers write their degree signs.
pub(super) fn decoded(bytes: &[u8]) -> Result<Cow<'_, str>, LoggerError> {
    if bytes.len() > BYTES_MAX {
        return Err(LoggerError::TooLarge);
    }
    if let Some((_, what)) = OTHERS.iter().find(|(begin, _)| bytes.starts_with(begin)) {
        return Err(*what);
    }
    let wide = |bytes: &[u8], pair: fn([u8; 2]) -> u16| {
        let units = bytes.chunks_exact(2).map(|two| pair([two[0], two[1]]));
        let text = char::decode_utf16(units).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER));
        Cow::Owned(text.collect::<String>())
    };
    let text = match bytes {
        [0xff, 0xfe, rest @ ..] => wide(rest, u16::from_le_bytes),
        [0xfe, 0xff, rest @ ..] => wide(rest, u16::from_be_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] => narrow(rest),
        _ => {
            let head = &bytes[..bytes.len().min(LOOK) & !1];
            let empty = |at: usize| head.iter().skip(at).step_by(2).filter(|b| **b == 0).count();
            // What is written in Latin letters has every second byte empty in UTF-16.
            match (empty(0) * 4 > head.len(), empty(1) * 4 > head.len()) {
                (false, true) => wide(bytes, u16::from_le_bytes),
                (true, false) => wide(bytes, u16::from_be_bytes),
                _ => narrow(bytes),
            }
        }
    };
    let mut look = text.chars().take(LOOK);
    if look.any(|c| {
        c.is_control()
            && !matches!(
                c,
                '\t' | '\r' | '\n' | '\u{c}' | '\u{1a}' | '\u{80}'..='\u{9f}'
            )
    }) {
        return Err(LoggerError::NotText);
    }
    if text.trim().is_empty() {
        return Err(LoggerError::Empty);
    }
    Ok(text)
}

fn narrow(bytes: &[u8]) -> Cow<'_, str> {
    match core::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        // Every byte of Latin-1 is the character of the same number.
        Err(_) => Cow::Owned(bytes.iter().map(|b| char::from(*b)).collect()),
    }
}

/// The lines of a text with their numbers, from 1; those with nothing in them are passed over.
pub(super) fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    // Some write a carriage return alone between lines.
    let mark = if text.contains('\n') { '\n' } else { '\r' };
    let numbered = text
        .split(mark)
        .enumerate()
        .map(|(at, line)| (at + 1, line.trim_end_matches('\r')));
    numbered.filter(|(_, line)| !line.trim().is_empty())
}

/// Parts a line into its cells, without blanks and quotes around them. A quote that never ends ends with its line: in files of
/// loggers no cell is longer, and a season must not vanish in one.
pub(super) fn part<'a>(line: &'a str, mark: char, cells: &mut Vec<&'a str>) {
    cells.clear();
    let (mut from, mut quoted) = (0, false);
    for (at, c) in line.char_indices() {
        if c == '"' {
            quoted = !quoted && line[from..at].trim().is_empty();
        } else if c == mark && !quoted {
            cells.push(bare(&line[from..at]));
            from = at + c.len_utf8();
        }
    }
    cells.push(bare(&line[from..]));
}

fn bare(cell: &str) -> &str {
    let cell = cell.trim();
    let inside = cell
        .strip_prefix('"')
        .map_or(cell, |rest| rest.strip_suffix('"').unwrap_or(rest));
    inside.trim()
}
