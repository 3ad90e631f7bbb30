//! All style sheets as one.

use std::fs;
use std::path::Path;

use crate::error::Error;

/// The sheets that others refine, in order; the rest follow by name.
const FIRST: [&str; 3] = ["tokens.css", "layout.css", "components.css"];

/// Every sheet of `style/`, then the page's own `public/opening.css`.
pub fn sheet(root: &Path) -> Result<String, Error> {
    let folder = root.join("style");
    let mut names = Vec::new();
    for entry in fs::read_dir(&folder).map_err(Error::file("read", &folder))? {
        let entry = entry.map_err(Error::file("read", &folder))?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.ends_with(".css") {
            names.push(name);
        }
    }
    let mut sheet = String::new();
    for name in in_order(names) {
        append(&mut sheet, &folder.join(name))?;
    }
    append(&mut sheet, &root.join("public").join("opening.css"))?;
    Ok(sheet)
}

fn in_order(mut names: Vec<String>) -> Vec<String> {
    names.sort_by_cached_key(|name| {
        let rank = FIRST
            .iter()
            .position(|first| first == name)
            .unwrap_or(FIRST.len());
        (rank, name.clone())
    });
    names
}

fn append(sheet: &mut String, path: &Path) -> Result<(), Error> {
    let text = fs::read_to_string(path).map_err(Error::file("read", path))?;
    sheet.push_str(&text);
    if !text.ends_with('\n') {
        sheet.push('\n');
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tokens_come_first_and_the_rest_by_name() {
        let names = ["today.css", "components.css", "base.css", "tokens.css"];
        assert_eq!(
            in_order(names.map(str::to_owned).to_vec()),
            ["tokens.css", "components.css", "base.css", "today.css"]
        );
    }
}
