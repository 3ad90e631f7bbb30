//! Overriding the reference with a grower's own figures.

use std::collections::BTreeMap;

use crate::crop::Crop;
use crate::definitions::allowed;
use crate::error::CultureError;
use crate::figure::{Confidence, Range};
use crate::reference::check;
use crate::thermal::{BASE, THERMAL, WARM_DAYS, thermal_time};

impl Crop {
    /// The same crop with typical values replaced by the grower's own, by figure name. A low or high end that
    /// the new value passes moves with it. A figure that the crop lacks is added, if it is defined. The
    /// thermal time to bloom is recomputed if the days or the base it is derived from change and it is not
    /// given itself.
    ///
    /// # Errors
    /// [`CultureError::NoSuchFigure`] for an undefined name, [`CultureError::OutOfRange`] for a value out of
    /// range.
    pub fn with_overrides(&self, own: &BTreeMap<String, f64>) -> Result<Self, CultureError> {
        self.with_own(own, |known, value, _| {
            let low = known.and_then(|range| range.low);
            let high = known.and_then(|range| range.high);
            (
                low.map(|low| low.min(value)),
                high.map(|high| high.max(value)),
            )
        })
    }

    /// The same crop with typical values replaced by those learned from the grower's records. The range is
    /// scaled in proportion, within the limits: records of a few plantings determine the middle, but say
    /// little about the variation between plantings.
    ///
    /// # Errors
    /// As [`Crop::with_overrides`].
    pub fn with_learned(&self, own: &BTreeMap<String, f64>) -> Result<Self, CultureError> {
        self.with_own(own, |known, value, (least, most)| {
            let moved = |end: Option<f64>| {
                let known = known.filter(|range| range.typical > 0.0)?;
                Some((end? * value / known.typical).clamp(least, most))
            };
            let low = moved(known.and_then(|range| range.low));
            let high = moved(known.and_then(|range| range.high));
            (
                low.map(|low| low.min(value)),
                high.map(|high| high.max(value)),
            )
        })
    }

    /// Replaces values; `ends` computes their ranges from the known range, the new value and the limits.
    fn with_own(
        &self,
        own: &BTreeMap<String, f64>,
        ends: impl Fn(Option<&Range>, f64, (f64, f64)) -> (Option<f64>, Option<f64>),
    ) -> Result<Self, CultureError> {
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
            let (low, high) = ends(self.figure(name), *value, (low, high));
            let range = Range {
                low,
                typical: *value,
                high,
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
