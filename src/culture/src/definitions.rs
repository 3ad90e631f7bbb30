//! Definition of each figure: meaning, unit and limits.

mod table;

/// The definition of a figure. The limits are wide on purpose: they catch a misplaced decimal point, not an
/// unusual garden.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Definition {
    /// Name in the reference, such as `spacing_cm`.
    pub name: &'static str,
    /// Unit in words, such as `days`, `C` or `stems per plant`; `1` for a dimensionless number.
    pub unit: &'static str,
    /// Minimum.
    pub low: f64,
    /// Maximum.
    pub high: f64,
    /// Meaning.
    pub doc: &'static str,
}

/// All figures, by name.
pub fn definitions() -> &'static [Definition] {
    table::TABLE
}

/// The definition of the figure with this name, if there is one.
pub fn definition(figure: &str) -> Option<&'static Definition> {
    let place = table::TABLE
        .binary_search_by(|known| known.name.cmp(figure))
        .ok()?;
    table::TABLE.get(place)
}

/// Minimum and maximum of the figure with this name, if there is one.
pub fn allowed(figure: &str) -> Option<(f64, f64)> {
    definition(figure).map(|known| (known.low, known.high))
}

/// The unit of the figure with this name, if there is one.
pub fn unit(figure: &str) -> Option<&'static str> {
    definition(figure).map(|known| known.unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sorted_and_every_row_is_complete() {
        for pair in definitions().windows(2) {
            assert!(pair[0].name < pair[1].name, "{}", pair[1].name);
        }
        for known in definitions() {
            assert!(!known.unit.is_empty(), "{} has no unit", known.name);
            assert!(known.low < known.high, "{}", known.name);
            assert!(known.doc.len() > 5, "{} says nothing", known.name);
            assert_eq!(definition(known.name), Some(known));
        }
    }

    /// A unit in the name must agree with the table.
    #[test]
    fn names_and_units_agree() {
        for known in definitions() {
            let name = known.name;
            let endings = [
                ("_cm", "cm"),
                ("_c", "C"),
                ("_h", "h"),
                ("_days", "days"),
                ("_weeks", "weeks"),
                ("_pct", "percent"),
                ("_share", "share"),
                ("_cd", "degree-days"),
                ("_factor", "times"),
            ];
            for (ending, unit) in endings {
                if name.ends_with(ending) {
                    assert_eq!(known.unit, unit, "{name}");
                }
            }
        }
        assert_eq!(unit("min_safe_night_c_hardened_plants"), Some("C"));
        assert_eq!(unit("petal_count"), None);
        assert_eq!(allowed("petal_count"), None);
        assert_eq!(allowed("spacing_cm"), Some((2.0, 200.0)));
    }
}
