//! Filling in `{{name}}`.

use std::collections::BTreeMap;

use crate::error::Error;

/// Replaces every `{{name}}` in `template` by its value.
///
/// # Errors
/// [`Error::Asset`] for a name without a value, so that a mistyped one cannot
/// be published.
pub fn fill(
    file: &str,
    template: &str,
    values: &BTreeMap<String, String>,
) -> Result<String, Error> {
    let mut filled = String::with_capacity(template.len());
    let mut rest = template;
    while let Some((before, after)) = rest.split_once("{{") {
        let Some((name, after)) = after.split_once("}}") else {
            return Err(Error::asset(file, "a {{ is never closed"));
        };
        let Some(value) = values.get(name) else {
            return Err(Error::asset(
                file,
                format_args!("nothing is known as {{{{{name}}}}}"),
            ));
        };
        filled.push_str(before);
        filled.push_str(value);
        rest = after;
    }
    filled.push_str(rest);
    Ok(filled)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_filled_in_and_unknown_ones_refused() {
        let values = BTreeMap::from([("a".to_owned(), "1".to_owned())]);
        assert_eq!(fill("f", "x{{a}}y{{a}}", &values).unwrap(), "x1y1");
        let unknown = fill("f", "{{b}}", &values).unwrap_err();
        assert_eq!(unknown.to_string(), "f: nothing is known as {{b}}.");
        assert!(fill("f", "{{a", &values).is_err());
    }
}
