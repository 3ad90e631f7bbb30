//! What each figure means, its unit, and what is possible for it.

mod table;

/// What a figure's name stands for. The limits are wide on purpose: they catch
/// a slip of the decimal point, not an unusual garden.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Definition {
    /// The name it goes by in the reference, such as `spacing_cm`.
    pub name: &'static str,
    /// Its unit in words, such as `days`, `C` or `stems per plant`; `1` for a
    /// number that has none.
    pub unit: &'static str,
    /// Smallest value it can have.
    pub low: f64,
    /// Largest value it can have.
    pub high: f64,
    /// What it says of a crop.
    pub doc: &'static str,
}

/// All figures there are, by name.
pub fn definitions() -> &'static [Definition] {
    table::TABLE
}

/// The figure of this name, or `None` for a name that is no figure's.
pub fn definition(figure: &str) -> Option<&'static Definition> {
    let place = table::TABLE
        .binary_search_by(|known| known.name.cmp(figure))
        .ok()?;
    table::TABLE.get(place)
}

/// Smallest and largest value that a figure of this name can have, or `None`
/// for a name that is no figure's.
pub fn allowed(figure: &str) -> Option<(f64, f64)> {
    definition(figure).map(|known| (known.low, known.high))
}

/// The unit of the figure of this name, or `None` for a name that is no figure's.
pub fn unit(figure: &str) -> Option<&'static str> {
    definition(figure).map(|known| known.unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_order_and_every_line_is_whole() {
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

    /// A name that says its unit must not contradict the table.
    #[test]
    fn names_and_units_agree() {
        for known in definitions() {
            let name = known.name;
            let told = [
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
            for (ending, unit) in told {
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
