//! How wide a text will be, before any font is known: estimated on the wide side, so that it fits in whichever font is there.

/// Strong type over plain one.
const STRONG: f64 = 1.08;

/// Width of a text of size 1. Between the sans-serif faces of phones and laptops it differs by a tenth; the estimate lies at the
/// upper end (from memory, of widths in common faces).
pub(super) fn width(text: &str, strong: bool) -> f64 {
    let plain: f64 = text.chars().map(of_letter).sum();
    if strong { plain * STRONG } else { plain }
}

fn of_letter(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | '\'' | '|' | '!' | ':' | ';' | ' ' | '·' => 0.3,
        'f' | 't' | 'r' | '(' | ')' | '-' | '/' => 0.4,
        'm' | 'w' | 'M' | 'W' | '@' | '%' | '…' => 0.95,
        '0'..='9' => 0.58,
        c if c.is_uppercase() => 0.7,
        // Letters beyond these may be as wide as they are high.
        c if u32::from(c) > 0x2000 => 1.0,
        _ => 0.58,
    }
}

/// A text cut so that it is at most `most` wide at a size, with an ellipsis where something was left out.
pub(super) fn fitted(text: &str, size: f64, strong: bool, most: f64) -> String {
    if width(text, strong) * size <= most {
        return text.to_owned();
    }
    let mut kept: String = text.to_owned();
    while kept.pop().is_some() {
        let short = format!("{}…", kept.trim_end());
        if width(&short, strong) * size <= most {
            return short;
        }
    }
    String::new()
}

/// A text broken between words into lines at most `most` wide, at most so many; the last one is cut.
pub(super) fn broken(text: &str, size: f64, strong: bool, most: f64, lines: usize) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let joined = found.last().map(|line| format!("{line} {word}"));
        match joined {
            // What is beyond the last line is cut off it below.
            Some(joined) if found.len() >= lines || width(&joined, strong) * size <= most => {
                found.pop();
                found.push(joined);
            }
            _ => found.push(word.to_owned()),
        }
    }
    found.truncate(lines);
    found
        .into_iter()
        .map(|line| fitted(&line, size, strong, most))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_cut_only_where_it_must_be() {
        assert_eq!(fitted("Early spike", 3.0, false, 100.0), "Early spike");
        let cut = fitted("Early spike, snapdragon, white", 3.0, false, 20.0);
        assert!(cut.starts_with("Early") && cut.ends_with('…'), "{cut}");
        assert!(width(&cut, false) * 3.0 <= 20.0);
        assert_eq!(fitted("Early", 3.0, false, 0.5), "");
    }

    #[test]
    fn a_text_breaks_between_words_and_loses_none_while_there_is_room() {
        let text = "Early spike, snapdragon, white, group 1";
        let lines = broken(text, 3.0, true, 40.0, 3);
        assert!(lines.len() > 1);
        assert_eq!(lines.join(" "), text);
        let two = broken(text, 3.0, true, 25.0, 2);
        assert_eq!(two.len(), 2);
        assert!(two[1].ends_with('…'));
        assert_eq!(broken("", 3.0, true, 25.0, 2), Vec::<String>::new());
    }
}
