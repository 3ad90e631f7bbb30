//! What is wanted in the grower's own words: the name of a variety, a crop or a role, with a colour.

use crate::almanac::Almanac;
use crate::fact::{Role, Wanted};
use crate::ids::VarietyId;
use crate::state::Variety;
use crate::words::{Say, text};

use super::header::plain;

/// A word without its plural.
fn single(word: &str) -> String {
    match word.strip_suffix("ies") {
        Some(stem) if stem.len() > 1 => format!("{stem}y"),
        _ if word.len() > 3 && !word.ends_with("ss") => {
            word.strip_suffix('s').unwrap_or(word).to_owned()
        }
        _ => word.to_owned(),
    }
}

/// Words as they are compared.
fn words_of(text: &str) -> Vec<String> {
    plain(text)
        .split(' ')
        .filter(|w| !w.is_empty())
        .map(single)
        .collect()
}

/// What stands in a column for it and the colour in a column of its own.
pub(super) fn with_colour(what: &str, colour: &str) -> String {
    format!("{colour} {what}").trim().to_owned()
}

/// A wish out of its words; what is wrong with them where they are not one thing that this grower has.
pub fn wish(almanac: &Almanac<'_>, typed: &str) -> Result<Wanted, Say> {
    let mut words = words_of(typed);
    if words.is_empty() {
        return Err(Say::new("paste.no_what"));
    }
    let varieties = almanac.season().varieties_in_order();
    if let Some(variety) = variety_of(&varieties, &words, typed)? {
        let variety = Some(variety);
        return Ok(Wanted {
            variety,
            ..Wanted::default()
        });
    }
    let idle: Vec<String> = words_of(text("paste.word.any"));
    words.retain(|word| !idle.contains(word));
    let mut colours: Vec<(Vec<String>, &str)> = varieties
        .iter()
        .map(|variety| (words_of(&variety.colour), variety.colour.trim()))
        .filter(|(words, _)| !words.is_empty())
        .collect();
    // "dusty pink" before "pink".
    colours.sort_by_key(|(words, _)| core::cmp::Reverse(words.len()));
    let kind = |words: &[String]| kind_of(almanac, &varieties, words, typed);
    if let Some(wanted) = kind(&words)? {
        return Ok(wanted);
    }
    for (colour, name) in &colours {
        let rest = words
            .strip_prefix(colour.as_slice())
            .or_else(|| words.strip_suffix(colour.as_slice()));
        let Some(rest) = rest else { continue };
        let wanted = match rest {
            [] => Some(Wanted::default()),
            rest => kind(rest)?,
        };
        if let Some(wanted) = wanted {
            return Ok(Wanted {
                colour: Some((*name).to_owned()),
                ..wanted
            });
        }
    }
    Err(not_known(almanac, &varieties, &words, typed))
}

/// The variety of a name, alone or with its colour before or after it.
fn variety_of(
    varieties: &[&Variety],
    words: &[String],
    typed: &str,
) -> Result<Option<VarietyId>, Say> {
    let named = |variety: &&&Variety| {
        let (name, colour) = (words_of(&variety.name), words_of(&variety.colour));
        !name.is_empty()
            && (words == name
                || words == [colour.as_slice(), &name].concat()
                || words == [name.as_slice(), &colour].concat())
    };
    let found: Vec<&&Variety> = varieties.iter().filter(named).collect();
    match found.as_slice() {
        [] => Ok(None),
        [one] => Ok(Some(one.id.clone())),
        _ => Err(Say::new("paste.what_twice")
            .with("what", typed)
            .with("n", found.len())),
    }
}

/// A role, a crop of the grower's varieties, or both.
fn kind_of(
    almanac: &Almanac<'_>,
    varieties: &[&Variety],
    words: &[String],
    typed: &str,
) -> Result<Option<Wanted>, Say> {
    if let Some(crop) = crop_of(almanac, varieties, words, typed)? {
        return Ok(Some(Wanted {
            crop: Some(crop),
            ..Wanted::default()
        }));
    }
    for role in Role::ALL {
        for named in role_words(*role) {
            if words == named {
                return Ok(Some(Wanted {
                    role: Some(*role),
                    ..Wanted::default()
                }));
            }
            let rest = words
                .strip_prefix(named.as_slice())
                .or_else(|| words.strip_suffix(named.as_slice()));
            let Some(rest) = rest.filter(|rest| !rest.is_empty()) else {
                continue;
            };
            if let Some(crop) = crop_of(almanac, varieties, rest, typed)? {
                return Ok(Some(Wanted {
                    crop: Some(crop),
                    role: Some(*role),
                    ..Wanted::default()
                }));
            }
        }
    }
    Ok(None)
}

fn role_words(role: Role) -> Vec<Vec<String>> {
    let key = match role {
        Role::Spike => "paste.role.spike",
        Role::Focal => "paste.role.focal",
        Role::Secondary => "paste.role.secondary",
        Role::Filler => "paste.role.filler",
        Role::Airy => "paste.role.airy",
        Role::Foliage => "paste.role.foliage",
    };
    text(key).split(',').map(words_of).collect()
}

/// The crop of a name: its whole name or id, else its botanical genus, else the last words of its name ("aster").
fn crop_of(
    almanac: &Almanac<'_>,
    varieties: &[&Variety],
    words: &[String],
    typed: &str,
) -> Result<Option<String>, Say> {
    let mut crops: Vec<&culture::Crop> = varieties
        .iter()
        .filter_map(|variety| almanac.reference().crop(&variety.crop))
        .collect();
    crops.sort_by_key(|crop| crop.id().to_string());
    crops.dedup_by_key(|crop| crop.id().to_string());
    let ways: [fn(&culture::Crop, &[String]) -> bool; 3] = [
        |crop, words| words == words_of(crop.name()) || words == words_of(&crop.id().to_string()),
        |crop, words| {
            let botanical = words_of(crop.botanical());
            words == botanical || (words.len() == 1 && botanical.first() == words.first())
        },
        |crop, words| !words.is_empty() && words_of(crop.name()).ends_with(words),
    ];
    for fits in ways {
        let found: Vec<_> = crops.iter().filter(|crop| fits(crop, words)).collect();
        match found.as_slice() {
            [] => {}
            [one] => return Ok(Some(one.id().to_string())),
            more => {
                let names: Vec<&str> = more.iter().map(|crop| crop.name()).collect();
                return Err(Say::new("paste.crop_twice")
                    .with("what", typed)
                    .with("names", names.join(", ")));
            }
        }
    }
    Ok(None)
}

/// What is wrong with words that are no wish: a colour, or a crop, that no variety has.
fn not_known(almanac: &Almanac<'_>, varieties: &[&Variety], words: &[String], typed: &str) -> Say {
    let is_crop = |crop: &culture::Crop| {
        let name = words_of(crop.name());
        words.ends_with(&name)
    };
    for cut in 1..words.len() {
        let (colour, rest) = words.split_at(cut);
        if let Ok(Some(_)) = kind_of(almanac, varieties, rest, typed) {
            return Say::new("paste.no_colour").with("colour", colour.join(" "));
        }
    }
    match almanac
        .reference()
        .crops()
        .iter()
        .find(|crop| is_crop(crop))
    {
        Some(crop) => Say::new("paste.no_variety").with("crop", crop.name()),
        None => Say::new("paste.what_unknown").with("what", typed),
    }
}
