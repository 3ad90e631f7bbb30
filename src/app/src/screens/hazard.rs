//! Usual cautions for handling crops whose reference notes a hazard.

use season::almanac::Almanac;
use season::ids::VarietyId;
use season::words::{Arg, Say};

/// The caution for handling varieties: what is noted of each crop, once. `None` where nothing is noted.
pub fn hazards<'a>(
    almanac: &Almanac<'_>,
    varieties: impl Iterator<Item = &'a VarietyId>,
) -> Option<Say> {
    let mut noted: Vec<(String, String)> = Vec::new();
    for variety in varieties {
        let Some(crop) = almanac.crop(variety) else {
            continue;
        };
        let Some(note) = crop
            .text("hazards")
            .filter(|note| !note.text.starts_with("none"))
        else {
            continue;
        };
        let line = (crop.name().to_owned(), note.text.clone());
        if !noted.contains(&line) {
            noted.push(line);
        }
    }
    let told = noted
        .into_iter()
        .fold(None, |told: Option<Say>, (crop, note)| {
            let one = Say::new("hazard.one")
                .with("crop", crop)
                .with("note", Arg::Note(note));
            Some(match told {
                Some(told) => Say::new("hazard.and").with("a", told).with("b", one),
                None => one,
            })
        })?;
    Some(Say::new("hazard.all").with("noted", told))
}
