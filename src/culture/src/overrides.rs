//! A grower's own figures laid over the reference.

use std::collections::BTreeMap;

use crate::crop::Crop;
use crate::definitions::allowed;
use crate::error::CultureError;
use crate::figure::{Confidence, Range};
use crate::reference::check;
use crate::thermal::{BASE, THERMAL, WARM_DAYS, thermal_time};

impl Crop {
    /// The same crop with typical values replaced by the grower's own, by figure
    /// name. A low or high end that the new value passes moves along. A figure
    /// the crop lacks is added, if any crop has it. Thermal time to bloom is
    /// reckoned anew when the days or the base it comes from change and it is
    /// not itself given.
    ///
    /// # Errors
    /// [`CultureError::NoSuchFigure`] for a name that is no figure's,
    /// [`CultureError::OutOfRange`] for a value that is not possible for it.
    pub fn with_overrides(&self, own: &BTreeMap<String, f64>) -> Result<Self, CultureError> {
        let mut crop = self.clone();
        for (name, value) in own {
            let (low, high) = allowed(name).ok_or_else(|| CultureError::NoSuchFigure {
                crop: self.id().to_string(),
                figure: name.clone(),
            })?;
            if !(low..=high).contains(value) {
                return Err(CultureError::OutOfRange {
                    crop: self.id().to_string(),
                    figure: name.clone(),
                    low,
                    high,
                    got: *value,
                });
            }
            let known = self.figure(name);
            let range = Range {
                low: known.and_then(|range| range.low).map(|low| low.min(*value)),
                typical: *value,
                high: known
                    .and_then(|range| range.high)
                    .map(|high| high.max(*value)),
                src: Vec::new(),
                confidence: Confidence::Grower,
            };
            crop.figures.insert(name.clone(), range);
        }
        if !own.contains_key(THERMAL) && (own.contains_key(WARM_DAYS) || own.contains_key(BASE)) {
            crop.derive_thermal_time()?;
        }
        Ok(crop)
    }

    fn derive_thermal_time(&mut self) -> Result<(), CultureError> {
        if let (Some(thermal), Some(known)) =
            (thermal_time(&self.figures), self.figures.get_mut(THERMAL))
        {
            check(self.id.as_str(), THERMAL, &thermal)?;
            *known = thermal;
        }
        Ok(())
    }
}
