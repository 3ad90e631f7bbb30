//! The whole reference, read and checked.

use std::collections::BTreeMap;

use crate::crop::{Crop, CropId};
use crate::error::CultureError;
use crate::figure::{Confidence, Range, Source, SourceStatus, Text};
use crate::limits::allowed;
use crate::wire;
use crate::words::MatUse;

/// The reference that comes with the program.
const BUILTIN: &str = include_str!("../data/crops.json");

/// All crops with their figures, and the sources these refer to.
#[derive(Debug, Clone, PartialEq)]
pub struct Reference {
    /// By common name, so that every list shows them alike.
    crops: Vec<Crop>,
    places: BTreeMap<CropId, usize>,
    sources: BTreeMap<String, Source>,
}

impl Reference {
    /// Reads the reference that comes with the program. It takes a few
    /// milliseconds: read it once and keep it.
    ///
    /// # Errors
    /// [`CultureError`] if the compiled-in data is damaged.
    pub fn builtin() -> Result<Self, CultureError> {
        Self::parse(BUILTIN)
    }

    fn parse(text: &str) -> Result<Self, CultureError> {
        let file: wire::File = serde_json::from_str(text)
            .map_err(|error| CultureError::Unreadable(error.to_string()))?;
        let sources = file
            .sources
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
        let shelf = Shelf {
            sources: &sources,
            rules: &file.rules,
            every_crop: &file.every_crop,
        };
        let mut crops = file
            .crops
            .into_iter()
            .map(|crop| shelf.crop(crop))
            .collect::<Result<Vec<Crop>, CultureError>>()?;
        crops.sort_by(|a, b| (a.name(), a.id()).cmp(&(b.name(), b.id())));
        let mut places = BTreeMap::new();
        for (place, crop) in crops.iter().enumerate() {
            if places.insert(crop.id().clone(), place).is_some() {
                return Err(CultureError::Twice(crop.id().to_string()));
            }
        }
        Ok(Self {
            crops,
            places,
            sources,
        })
    }

    /// The crop with this id, such as `antirrhinum`.
    pub fn crop(&self, id: &str) -> Option<&Crop> {
        self.places.get(id).and_then(|place| self.crops.get(*place))
    }

    /// All crops by common name.
    pub fn crops(&self) -> &[Crop] {
        &self.crops
    }

    /// The source with this key, such as `LEWIS`.
    pub fn source(&self, key: &str) -> Option<&Source> {
        self.sources.get(key)
    }

    /// All sources by key.
    pub fn sources(&self) -> impl Iterator<Item = (&str, &Source)> {
        self.sources
            .iter()
            .map(|(key, source)| (key.as_str(), source))
    }
}

/// What a crop's entry in the file may refer to.
struct Shelf<'a> {
    sources: &'a BTreeMap<String, Source>,
    rules: &'a BTreeMap<String, wire::Rule>,
    every_crop: &'a BTreeMap<String, wire::Figure>,
}

impl Shelf<'_> {
    fn crop(&self, raw: wire::Crop) -> Result<Crop, CultureError> {
        let id = &raw.id;
        let mat = self.rule(id, &raw.mat)?;
        let dome = self.rule(id, &raw.dome)?;
        let support = self.rule(id, &raw.support)?;

        // The nearer a figure stands to the crop, the more it counts.
        let mut figures = self.every_crop.clone();
        for rule in [mat, dome, support] {
            figures.extend(rule.3.clone());
        }
        figures.extend(raw.figures);
        let figures = figures
            .into_iter()
            .map(|(name, figure)| Ok((name.clone(), self.range(id, &name, figure)?)))
            .collect::<Result<BTreeMap<String, Range>, CultureError>>()?;

        let mut texts = raw
            .texts
            .into_iter()
            .map(|(name, note)| Ok((name, self.text(id, note.0, &note.1, note.2)?)))
            .collect::<Result<BTreeMap<String, Text>, CultureError>>()?;
        for (name, rule) in [
            ("heat_mat_rule", mat),
            ("dome_rule", dome),
            ("support", support),
        ] {
            let text = self.text(id, rule.0.clone(), &rule.1, rule.2)?;
            texts.insert(name.to_owned(), text);
        }

        let mat_use = match raw.mat.as_str() {
            "M1" | "M2" => MatUse::Usual,
            "M5" => MatUse::OnlyIfCold,
            _ => MatUse::Never,
        };
        Ok(Crop {
            id: CropId::new(raw.id),
            name: raw.name,
            also: raw.also,
            botanical: raw.botanical,
            family: raw.family,
            lifecycle: raw.lifecycle,
            hardiness: raw.hardiness,
            unit: raw.unit,
            basis: raw.basis,
            pace: raw.pace,
            longevity: raw.longevity,
            roles: raw.roles,
            bloom_groups: raw.bloom_groups,
            mat_use,
            figures,
            texts,
        })
    }

    fn rule(&self, crop: &str, key: &str) -> Result<&wire::Rule, CultureError> {
        self.rules.get(key).ok_or_else(|| CultureError::Unknown {
            crop: crop.to_owned(),
            what: "rule",
            name: key.to_owned(),
        })
    }

    fn range(&self, crop: &str, name: &str, raw: wire::Figure) -> Result<Range, CultureError> {
        let wire::Figure(low, typical, high, src, trust) = raw;
        let range = Range {
            low,
            typical,
            high,
            src: self.keys(crop, &src)?,
            confidence: confidence(trust),
        };
        check(crop, name, &range)?;
        Ok(range)
    }

    fn text(
        &self,
        crop: &str,
        text: String,
        src: &str,
        trust: wire::Trust,
    ) -> Result<Text, CultureError> {
        Ok(Text {
            text,
            src: self.keys(crop, src)?,
            confidence: confidence(trust),
        })
    }

    fn keys(&self, crop: &str, src: &str) -> Result<Vec<String>, CultureError> {
        let unknown = |name: &str| CultureError::Unknown {
            crop: crop.to_owned(),
            what: "source",
            name: name.to_owned(),
        };
        let keys: Vec<String> = src.split_whitespace().map(str::to_owned).collect();
        match keys.iter().find(|key| !self.sources.contains_key(*key)) {
            Some(stranger) => Err(unknown(stranger)),
            None if keys.is_empty() => Err(unknown("")),
            None => Ok(keys),
        }
    }
}

fn confidence(trust: wire::Trust) -> Confidence {
    match trust {
        wire::Trust::Sourced => Confidence::Sourced,
        wire::Trust::Memory => Confidence::Memory,
        wire::Trust::Practice => Confidence::CommonPractice,
        wire::Trust::Derived => Confidence::Derived,
    }
}

/// Holds a figure against what is possible for it, and its values in order.
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

#[cfg(test)]
mod tests {
    use super::*;

    fn damaged(from: &str, to: &str) -> Result<Reference, CultureError> {
        assert!(BUILTIN.contains(from), "{from}");
        Reference::parse(&BUILTIN.replacen(from, to, 1))
    }

    #[test]
    fn damage_in_the_data_is_named() {
        assert!(matches!(
            Reference::parse("{"),
            Err(CultureError::Unreadable(_))
        ));
        assert!(matches!(
            damaged("\"spacing_cm\":[", "\"spacing_mm\":["),
            Err(CultureError::NoSuchFigure { .. })
        ));
        assert!(matches!(
            damaged("\"PLUGT\",\"s\"", "\"PLUGTX\",\"s\""),
            Err(CultureError::Unknown { what: "source", .. })
        ));
        assert!(matches!(
            damaged("\"mat\":\"M1\"", "\"mat\":\"M9\""),
            Err(CultureError::Unknown { what: "rule", .. })
        ));
        assert!(matches!(
            damaged("\"id\":\"zinnia\"", "\"id\":\"cosmos\""),
            Err(CultureError::Twice(_))
        ));
        assert!(matches!(
            damaged("\"germination_pct\":[", "\"germination_pct\":[99,"),
            Err(CultureError::Unreadable(_))
        ));
        assert!(matches!(
            damaged("\"base_temp_c\":[1,", "\"base_temp_c\":[14,"),
            Err(CultureError::OutOfRange { .. })
        ));
    }
}
