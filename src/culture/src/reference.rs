//! The whole reference, read and validated.

mod entry;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use crate::crop::{Crop, CropId};
use crate::definitions::allowed;
use crate::error::CultureError;
use crate::figure::{Range, Source, SourceStatus};
use crate::wire;
use entry::Loader;

/// The compiled-in reference and its sources.
const CROPS: &str = include_str!("../data/crops.json");
const SOURCES: &str = include_str!("../data/sources.json");

/// All crops with their figures, and the sources of these.
#[derive(Debug, Clone, PartialEq)]
pub struct Reference {
    /// Sorted by common name.
    crops: Vec<Crop>,
    index: BTreeMap<CropId, usize>,
    sources: BTreeMap<String, Source>,
}

impl Reference {
    /// Reads the compiled-in reference. It takes a few milliseconds, so read it once and keep it.
    ///
    /// # Errors
    /// [`CultureError`] if the compiled-in data is damaged.
    pub fn builtin() -> Result<Self, CultureError> {
        Self::parse(CROPS, SOURCES)
    }

    fn parse(crops: &str, sources: &str) -> Result<Self, CultureError> {
        let unreadable = |error: serde_json::Error| CultureError::Unreadable(error.to_string());
        let file: wire::File = serde_json::from_str(crops).map_err(unreadable)?;
        let sources: wire::Sources = serde_json::from_str(sources).map_err(unreadable)?;
        let sources = sources
            .into_iter()
            .map(|(key, (reference, status))| {
                let status = match status {
                    wire::Status::Read => SourceStatus::Read,
                    wire::Status::PartRead => SourceStatus::PartRead,
                    wire::Status::Memory => SourceStatus::Memory,
                    wire::Status::Practice => SourceStatus::Practice,
                    wire::Status::Derived => SourceStatus::Derived,
                };
                (key, Source { reference, status })
            })
            .collect();
        let loader = Loader {
            sources: &sources,
            rules: &file.rules,
            every_crop: &file.every_crop,
        };
        let mut crops = file
            .crops
            .into_iter()
            .map(|crop| loader.crop(crop))
            .collect::<Result<Vec<Crop>, CultureError>>()?;
        crops.sort_by(|a, b| (a.name(), a.id()).cmp(&(b.name(), b.id())));
        let mut index = BTreeMap::new();
        for (position, crop) in crops.iter().enumerate() {
            if index.insert(crop.id().clone(), position).is_some() {
                return Err(CultureError::Twice(crop.id().to_string()));
            }
        }
        Ok(Self {
            crops,
            index,
            sources,
        })
    }

    /// The crop with this id, such as `antirrhinum`.
    pub fn crop(&self, id: &str) -> Option<&Crop> {
        self.index
            .get(id)
            .and_then(|position| self.crops.get(*position))
    }

    /// All crops, by common name.
    pub fn crops(&self) -> &[Crop] {
        &self.crops
    }

    /// The source with this key, such as `LEWIS`.
    pub fn source(&self, key: &str) -> Option<&Source> {
        self.sources.get(key)
    }

    /// All sources, by key.
    pub fn sources(&self) -> impl Iterator<Item = (&str, &Source)> {
        self.sources
            .iter()
            .map(|(key, source)| (key.as_str(), source))
    }
}

/// Checks the limits of a figure and the order of its values.
pub(crate) fn check(crop: &str, name: &str, range: &Range) -> Result<(), CultureError> {
    let (least, most) = allowed(name).ok_or_else(|| CultureError::NoSuchFigure {
        crop: crop.to_owned(),
        figure: name.to_owned(),
    })?;
    let (low, typical, high) = range.spread();
    let fits = |value: f64, from: f64, to: f64| {
        if (from..=to).contains(&value) {
            Ok(())
        } else {
            Err(CultureError::OutOfRange {
                crop: crop.to_owned(),
                figure: name.to_owned(),
                low: from,
                high: to,
                got: value,
            })
        }
    };
    fits(low, least, most)?;
    fits(typical, low, most)?;
    fits(high, typical, most)
}
