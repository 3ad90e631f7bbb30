//! Rules of thumb for the ageing of seed, for species without known constants.

use super::Storage;
use crate::error::{AgronomyError, within};
use crate::quantity::Chance;

/// How well a crop's seed stores.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Longevity {
    /// One or two years: delphinium, larkspur, any primed or pelleted seed.
    Short,
    /// Two or three years: snapdragon, aster, statice.
    Middle,
    /// Four years and more: zinnia, cosmos, sunflower.
    Long,
}

impl Longevity {
    /// RULE OF THUMB. Share of germination kept per year after the packed-for year, in ordinary dry storage.
    /// From memory of the trade, no source. Seed-life tables agree on the order of the classes, not on the
    /// numbers.
    pub fn kept_per_year(self) -> f64 {
        match self {
            Self::Short => 0.60,
            Self::Middle => 0.85,
            Self::Long => 0.95,
        }
    }
}

/// RULE OF THUMB. Expected germination `years` after the packed-for year, by [`Longevity::kept_per_year`]. A
/// germination test of the lot is better, and so is [`super::viability_after`] if constants and storage
/// conditions are known.
pub fn rule_of_thumb_after(fresh: Chance, longevity: Longevity, years: u32) -> Chance {
    let kept = longevity
        .kept_per_year()
        .powi(i32::try_from(years.min(100)).unwrap_or(100));
    Chance::clamped(fresh.get() * kept)
}

/// RULE OF THUMB. How many times longer seed lasts in storage `kept` than in storage `than`: twice for each
/// per cent less moisture, and twice for each 10 °F (5.56 °C) cooler (J. F. Harrington's rules, as quoted by
/// extension services; his 1972 chapter in *Seed Biology* III was not read).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] outside the range of the rules: moisture 5..=14 %, temperature 0..=50 °C.
/// They must not be applied to frozen or very dry seed.
pub fn harrington_factor(kept: Storage, than: Storage) -> Result<f64, AgronomyError> {
    for storage in [kept, than] {
        within("moisture_percent", storage.moisture_percent(), 5.0, 14.0)?;
        within("temperature", storage.temperature().0, 0.0, 50.0)?;
    }
    let drier = than.moisture_percent() - kept.moisture_percent();
    let cooler = (than.temperature().0 - kept.temperature().0) * 1.8 / 10.0;
    Ok((drier + cooler).exp2())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Celsius;

    #[test]
    fn germination_falls_by_a_share_each_year() {
        let fresh = Chance::new(0.8).unwrap();
        let after = |longevity, years| rule_of_thumb_after(fresh, longevity, years).get();
        assert!((after(Longevity::Short, 2) - 0.288).abs() < 1e-12);
        assert!((after(Longevity::Middle, 1) - 0.68).abs() < 1e-12);
        assert!((after(Longevity::Long, 0) - 0.8).abs() < 1e-12);
        assert!(after(Longevity::Long, u32::MAX) < 0.01);
    }

    #[test]
    fn rules_are_refused_outside_their_range() {
        let store = |moisture, celsius| Storage::new(moisture, Celsius(celsius)).unwrap();
        let shelf = store(10.0, 20.0);
        for (other, field) in [
            (store(15.0, 20.0), "moisture_percent"),
            (store(10.0, -18.0), "temperature"),
            (store(10.0, 60.0), "temperature"),
        ] {
            assert_eq!(harrington_factor(other, shelf).unwrap_err().field(), field);
            assert_eq!(harrington_factor(shelf, other).unwrap_err().field(), field);
        }
    }
}
