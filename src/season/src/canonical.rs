//! Canonical JSON after RFC 8785, and hashes of it.

use serde::Serialize;
use serde::ser::Error as _;
use sha2::{Digest, Sha256};

/// Canonical JSON of a value: keys sorted by UTF-16 code units, numbers as ECMAScript writes them, no spaces.
///
/// Errors only for what JSON cannot hold (a number that is not finite).
pub fn to_string<T: Serialize>(value: &T) -> Result<String, serde_json::Error> {
    let bytes = serde_json_canonicalizer::to_vec(value)?;
    String::from_utf8(bytes).map_err(serde_json::Error::custom)
}

/// SHA-256 of texts joined by a line feed, in lower-case hex.
pub fn sha256_of_lines<'a>(lines: impl Iterator<Item = &'a str>) -> String {
    let mut hash = Sha256::new();
    for (n, line) in lines.enumerate() {
        if n > 0 {
            hash.update(b"\n");
        }
        hash.update(line.as_bytes());
    }
    let mut out = String::with_capacity(64);
    for byte in hash.finalize() {
        for digit in [byte >> 4, byte & 15] {
            out.push(char::from_digit(u32::from(digit), 16).unwrap_or('0'));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// SHA-256 of "abc": FIPS 180-4's worked example (value from memory, widely published).
    #[test]
    fn hash_matches_the_published_example() {
        assert_eq!(
            sha256_of_lines(["abc"].into_iter()),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }

    #[test]
    fn keys_are_sorted_and_whole_numbers_lose_their_point() {
        let value: serde_json::Value =
            serde_json::from_str(r#"{"b":1.0,"a":[1e2,"é"],"\u20ac":0}"#).expect("JSON");
        assert_eq!(
            to_string(&value).expect("canonical"),
            r#"{"a":[100,"é"],"b":1,"€":0}"#
        );
    }
}
