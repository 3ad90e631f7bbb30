//! Plain text tables: columns two spaces apart, each as wide as its widest cell.

/// A table with its heading.
pub struct Table {
    title: &'static str,
    /// The head first, if there is one.
    rows: Vec<Vec<String>>,
    head: usize,
}

impl Table {
    /// An empty table with the names of its columns, or with none.
    pub fn new(title: &'static str, columns: &[&str]) -> Self {
        let head: Vec<String> = columns.iter().map(|name| (*name).to_owned()).collect();
        let rows: Vec<Vec<String>> = Some(head)
            .filter(|row| !row.is_empty())
            .into_iter()
            .collect();
        Self {
            title,
            head: rows.len(),
            rows,
        }
    }

    /// Adds a row.
    pub fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.rows.push(cells.into_iter().collect());
    }

    /// Writes the table after an empty line; nothing where it has no rows.
    pub fn write(&self, out: &mut String) {
        if self.rows.len() == self.head {
            return;
        }
        let columns = self.rows.iter().map(Vec::len).max().unwrap_or(0);
        let width = |column: usize| {
            let cells = self.rows.iter().filter_map(|row| row.get(column));
            cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..columns).map(width).collect();
        out.push_str(&format!("\n{}\n", self.title));
        for row in &self.rows {
            let cells = row.iter().zip(&widths);
            let line: Vec<String> = cells.map(|(cell, wide)| format!("{cell:wide$}")).collect();
            out.push_str(&format!("  {}\n", line.join("  ").trim_end()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Table;

    #[test]
    fn columns_line_up_and_an_empty_table_is_left_out() {
        let mut out = String::new();
        let mut table = Table::new("Weeks", &["Week", "Cut"]);
        table.write(&mut out);
        assert_eq!(out, "");
        table.row(["2027-W28".into(), "7".into()]);
        table.row([String::new(), "120".into()]);
        table.write(&mut out);
        let lines = [
            "",
            "Weeks",
            "  Week      Cut",
            "  2027-W28  7",
            "            120",
            "",
        ];
        assert_eq!(out, lines.join("\n"));
    }
}
