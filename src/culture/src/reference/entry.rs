//! Converts and validates one crop's entry in the file.

use std::collections::BTreeMap;

use super::check;
use crate::crop::{Crop, CropId};
use crate::error::CultureError;
use crate::figure::{Confidence, Range, Source, SourceStatus, Text};
use crate::thermal::{THERMAL, has_thermal_time, thermal_time};
use crate::wire;
use crate::words::MatUse;

/// What a crop's entry may refer to.
pub(super) struct Loader<'a> {
    pub(super) sources: &'a BTreeMap<String, Source>,
    pub(super) rules: &'a BTreeMap<String, wire::Rule>,
    pub(super) every_crop: &'a BTreeMap<String, wire::Figure>,
}

impl Loader<'_> {
    /// The crop of this entry, validated.
    pub(super) fn crop(&self, raw: wire::Crop) -> Result<Crop, CultureError> {
        let id = &raw.id;
        let mat = self.rule(id, &raw.mat)?;
        let dome = self.rule(id, &raw.dome)?;
        let support = self.rule(id, &raw.support)?;

        // Precedence: the crop's own figures, then those of its rules, then the defaults.
        let mut figures = self.every_crop.clone();
        for rule in [mat, dome, support] {
            figures.extend(rule.3.clone());
        }
        figures.extend(raw.figures);
        let mut figures = figures
            .into_iter()
            .map(|(name, figure)| Ok((name.clone(), self.range(id, &name, figure)?)))
            .collect::<Result<BTreeMap<String, Range>, CultureError>>()?;
        if has_thermal_time(raw.basis)
            && !figures.contains_key(THERMAL)
            && let Some(thermal) = thermal_time(&figures)
        {
            check(id, THERMAL, &thermal)?;
            figures.insert(THERMAL.to_owned(), thermal);
        }

        let mut texts = raw
            .texts
            .into_iter()
            .map(|(name, note)| Ok((name.clone(), self.text(id, &name, note)?)))
            .collect::<Result<BTreeMap<String, Text>, CultureError>>()?;
        for (name, rule) in [
            ("heat_mat_rule", mat),
            ("dome_rule", dome),
            ("support", support),
        ] {
            let note = wire::Note(rule.0.clone(), rule.1.clone(), Some(rule.2));
            let text = self.text(id, name, note)?;
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
        let src = self.keys(crop, name, &src)?;
        let range = Range {
            low,
            typical,
            high,
            confidence: self.confidence(crop, name, &src, trust)?,
            src,
        };
        check(crop, name, &range)?;
        Ok(range)
    }

    fn text(&self, crop: &str, name: &str, raw: wire::Note) -> Result<Text, CultureError> {
        let wire::Note(text, src, trust) = raw;
        let src = self.keys(crop, name, &src)?;
        Ok(Text {
            text,
            confidence: self.confidence(crop, name, &src, trust)?,
            src,
        })
    }

    fn keys(&self, crop: &str, name: &str, src: &str) -> Result<Vec<String>, CultureError> {
        let keys: Vec<String> = src.split_whitespace().map(str::to_owned).collect();
        if keys.is_empty() {
            return Err(unsourced(crop, name));
        }
        match keys.iter().find(|key| !self.sources.contains_key(*key)) {
            Some(stranger) => Err(CultureError::Unknown {
                crop: crop.to_owned(),
                what: "source",
                name: stranger.clone(),
            }),
            None => Ok(keys),
        }
    }

    /// The confidence of what rests on these sources: as given in the file, otherwise as good as the best
    /// source allows. Memory alone is never sourced.
    fn confidence(
        &self,
        crop: &str,
        name: &str,
        keys: &[String],
        given: Option<wire::Trust>,
    ) -> Result<Confidence, CultureError> {
        let some = |wanted: fn(SourceStatus) -> bool| {
            let mut found = keys.iter().filter_map(|key| self.sources.get(key));
            found.any(|source| wanted(source.status))
        };
        let read = some(|status| matches!(status, SourceStatus::Read | SourceStatus::PartRead));
        match given {
            Some(wire::Trust::Sourced) if !read => Err(unsourced(crop, name)),
            Some(wire::Trust::Sourced) => Ok(Confidence::Sourced),
            Some(wire::Trust::Memory) => Ok(Confidence::Memory),
            Some(wire::Trust::Practice) => Ok(Confidence::CommonPractice),
            Some(wire::Trust::Derived) => Ok(Confidence::Derived),
            None if some(|status| status == SourceStatus::Derived) => Ok(Confidence::Derived),
            None if read => Ok(Confidence::Sourced),
            None if some(|status| status == SourceStatus::Practice) => {
                Ok(Confidence::CommonPractice)
            }
            None => Ok(Confidence::Memory),
        }
    }
}

fn unsourced(crop: &str, name: &str) -> CultureError {
    CultureError::Unsourced {
        crop: crop.to_owned(),
        name: name.to_owned(),
    }
}
