//! Texts as they are compared: small letters, no accents, words apart.

/// Letters with accents by what they are without, as phones' keyboards and seed lists write them in Latin scripts.
const PLAIN: [(&str, &str); 22] = [
    ("àáâãäåāăą", "a"),
    ("æ", "ae"),
    ("çćĉċč", "c"),
    ("ďđð", "d"),
    ("èéêëēĕėęě", "e"),
    ("ĝğġģ", "g"),
    ("ĥħ", "h"),
    ("ìíîïĩīĭįı", "i"),
    ("ĵ", "j"),
    ("ķ", "k"),
    ("ĺļľŀł", "l"),
    ("ñńņňŋ", "n"),
    ("òóôõöøōŏő", "o"),
    ("œ", "oe"),
    ("ŕŗř", "r"),
    ("śŝşšș", "s"),
    ("ß", "ss"),
    ("ţťŧțþ", "t"),
    ("ùúûüũūŭůűų", "u"),
    ("ŵ", "w"),
    ("ýÿŷ", "y"),
    ("źżž", "z"),
];

/// Accents that follow their letter.
const MARKS: core::ops::RangeInclusive<char> = '\u{300}'..='\u{36f}';

/// In small letters without accents.
pub(super) fn folded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars().flat_map(char::to_lowercase) {
        match c {
            c if c.is_ascii() => out.push(c),
            c if MARKS.contains(&c) => {}
            c => match PLAIN.iter().find(|(accented, _)| accented.contains(c)) {
                Some((_, plain)) => out.push_str(plain),
                None => out.push(c),
            },
        }
    }
    out
}

/// Its words: runs of letters and digits.
pub(super) fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn accents_and_capitals_fall_away() {
        assert_eq!(
            folded("Crème Brûlée ŽLUTÁ Weiß Œillet"),
            "creme brulee zluta weiss oeillet"
        );
        // An accent behind its letter, as some keyboards write it.
        assert_eq!(folded("Cre\u{300}me"), "creme");
        assert_eq!(folded("牡丹"), "牡丹");
        assert_eq!(
            words("early-spike, #41 (white)"),
            ["early", "spike", "41", "white"]
        );
    }
}
