//! Names.

use crate::limits::NAME_LENGTH_MAX;
use crate::words::Say;

/// A name; blanks around it go.
pub fn name(text: &str) -> Result<String, Say> {
    let name = text.trim();
    if name.is_empty() {
        return Err(Say::new("typed.no_name"));
    }
    within_length(name)?;
    Ok(name.to_owned())
}

/// A name or nothing.
pub fn name_or_none(text: &str) -> Result<String, Say> {
    within_length(text.trim())?;
    Ok(text.trim().to_owned())
}

fn within_length(name: &str) -> Result<(), Say> {
    if name.chars().count() > NAME_LENGTH_MAX {
        return Err(Say::new("typed.too_long").with("n", NAME_LENGTH_MAX));
    }
    Ok(())
}
