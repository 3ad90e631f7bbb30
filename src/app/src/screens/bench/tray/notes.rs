//! What the crop reference says for the time in the tray.

use culture::{Confidence, Crop, MatUse, Range, Text};
use season::why::{Basis, Reason};
use season::words::{Arg, Say};

/// One note: its label, what it says, and how far to trust it.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// The key of its label.
    pub label: &'static str,
    /// What it says.
    pub say: Say,
    /// How far to trust it, with its sources.
    pub trust: Reason,
}

/// Figures that matter in the tray, in the order in which they do.
const FIGURES: [(&str, &str, Unit); 7] = [
    (
        "germination_soil_temp_c",
        "culture.seed_temperature",
        Unit::Temperature,
    ),
    ("germination_pct", "culture.germination", Unit::Percent),
    ("growon_day_c", "culture.day", Unit::Temperature),
    ("growon_night_c", "culture.night", Unit::Temperature),
    ("weeks_sow_to_transplant", "culture.tray_weeks", Unit::Weeks),
    ("hardening_off_days", "culture.hardening", Unit::Days),
    (
        "min_safe_night_c_hardened_plants",
        "culture.safe_night",
        Unit::Temperature,
    ),
];

/// Texts that matter in the tray and the bed.
const TEXTS: [(&str, &str); 10] = [
    ("start_methods", "culture.start"),
    ("seed_cover", "culture.cover"),
    ("germination_light", "culture.light"),
    ("cell_or_container", "culture.cell"),
    ("transplant_cue", "culture.cue"),
    ("pinch", "culture.pinch"),
    ("daylength_response", "culture.daylength"),
    ("temperature_hazards", "culture.temperature_hazards"),
    ("harvest_stage", "culture.harvest"),
    ("notes", "culture.notes"),
];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Temperature,
    Percent,
    Weeks,
    Days,
}

/// A crop's notes.
pub fn notes(crop: &Crop) -> Vec<Note> {
    let text = |(name, label): &(&str, &'static str)| {
        let text = crop.text(name)?;
        Some(Note {
            label,
            say: Say::new("culture.text").with("text", Arg::Note(text.text.clone())),
            trust: of_text(text),
        })
    };
    let figure = |(name, label, unit): &(&str, &'static str, Unit)| {
        let range = crop.figure(name)?;
        Some(Note {
            label,
            say: range_of(range, *unit),
            trust: of_range(range),
        })
    };
    let mut notes: Vec<Note> = FIGURES.iter().filter_map(figure).collect();
    notes.extend(emergence(crop));
    notes.extend(dome(crop));
    notes.push(mat(crop));
    notes.extend(TEXTS.iter().filter_map(text));
    notes
}

/// The crop's hazards to people, where the reference has any.
pub fn hazards(crop: &Crop) -> Option<&Text> {
    crop.text("hazards")
        .filter(|note| !note.text.starts_with("none"))
        .filter(|text| !matches!(text.text.trim(), "" | "none" | "none known" | "none noted"))
}

fn emergence(crop: &Crop) -> Option<Note> {
    let usual = crop.emergence_usual()?;
    let range = crop.figure("days_to_emergence_first_typ_most")?;
    Some(Note {
        label: "culture.emergence",
        say: Say::new("culture.emergence.say")
            .with("first", Arg::Decimal(usual.first_day, 0))
            .with("half", Arg::Decimal(usual.half_day, 0))
            .with("most", Arg::Decimal(usual.most_day, 0)),
        trust: of_range(range),
    })
}

fn dome(crop: &Crop) -> Option<Note> {
    let range = crop.figure("dome_off_share")?;
    Some(Note {
        label: "culture.dome",
        say: Say::new("culture.dome.say").with("n", Arg::Share(range.typical)),
        trust: of_range(range),
    })
}

fn mat(crop: &Crop) -> Note {
    let key = match crop.mat_use() {
        MatUse::Usual => "culture.mat.usual",
        MatUse::OnlyIfCold => "culture.mat.if_cold",
        MatUse::Never => "culture.mat.never",
    };
    let off = crop.figure("mat_off_share");
    Note {
        label: "culture.mat",
        say: Say::new(key).with_some("n", off.map(|range| Arg::Share(range.typical))),
        trust: off.map_or_else(
            || Reason::assumed(Say::new(trust_key(Confidence::CommonPractice))),
            of_range,
        ),
    }
}

fn range_of(range: &Range, unit: Unit) -> Say {
    let (low, typical, high) = range.spread();
    let key = match unit {
        Unit::Temperature | Unit::Percent => "culture.range",
        Unit::Weeks => "culture.range.weeks",
        Unit::Days => "culture.range.days",
    };
    let arg = |x: f64| match unit {
        Unit::Temperature => Arg::Temperature(x),
        Unit::Percent => Arg::Share(x / 100.0),
        Unit::Weeks | Unit::Days => Arg::Decimal(x, 1),
    };
    let say = Say::new(key).with("n", arg(typical));
    if high - low > 0.05 {
        say.with("low", arg(low)).with("high", arg(high))
    } else {
        say
    }
}

fn of_range(range: &Range) -> Reason {
    trusted(range.confidence, &range.src)
}

fn of_text(text: &Text) -> Reason {
    trusted(text.confidence, &text.src)
}

fn trusted(confidence: Confidence, sources: &[String]) -> Reason {
    Reason {
        say: Say::new(trust_key(confidence)),
        basis: match confidence {
            Confidence::Grower => Basis::Measured,
            _ => Basis::Assumed,
        },
        sources: sources.to_vec(),
    }
}

/// The key of how far a figure can be trusted.
fn trust_key(confidence: Confidence) -> &'static str {
    match confidence {
        Confidence::Sourced => "trust.sourced",
        Confidence::Derived => "trust.derived",
        Confidence::CommonPractice => "trust.practice",
        Confidence::Memory => "trust.memory",
        Confidence::Grower => "trust.grower",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use culture::Reference;

    #[test]
    fn every_crop_has_notes_whose_words_are_there() {
        let reference = Reference::builtin().unwrap();
        for crop in reference.crops() {
            let notes = notes(crop);
            assert!(notes.len() > 8, "{}", crop.name());
            for note in notes {
                assert!(season::words::has(note.label), "{}", note.label);
                assert!(season::words::has(note.say.key()), "{}", note.say.key());
                assert!(
                    season::words::has(note.trust.say.key()),
                    "{}",
                    note.trust.say.key()
                );
                for key in &note.trust.sources {
                    assert!(reference.source(key).is_some(), "{key}");
                }
            }
        }
    }

    #[test]
    fn a_range_without_width_is_one_number() {
        let range = Range {
            low: None,
            typical: 7.0,
            high: None,
            src: Vec::new(),
            confidence: Confidence::CommonPractice,
        };
        let say = range_of(&range, Unit::Days);
        assert!(!say.write(Default::default()).contains("to"), "{say:?}");
    }
}
