//! Finding a sowing by its number, by words of its variety, or by what its label says.

mod fold;

use season::almanac::Almanac;
use season::ids::SowingId;
use season::state::{Season, Sowing};
use season::words::text;

use self::fold::{folded, words};
use crate::label::address::tray_in;

/// A sowing that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Which.
    pub id: SowingId,
    /// Whether it is still in trays.
    pub stands: bool,
}

/// Sowings that a text finds, those still in trays first, the newest first among them. Every word of the text must be a number
/// that the sowing goes by, or begin a word of its variety, colour, crop or label; their order, case and accents count for
/// nothing. A label's address or a whole id finds its sowing alone. Nothing typed finds what is in trays.
pub fn find(almanac: &Almanac<'_>, typed: &str) -> Vec<Found> {
    let season = almanac.season();
    let exact = tray_in(typed).or_else(|| SowingId::new(typed.trim()).ok());
    if let Some(sowing) = exact.and_then(|id| season.sowings.get(&id)) {
        return vec![found(sowing)];
    }
    let wanted = wanted(typed);
    let mut all: Vec<(Found, &Sowing)> = season
        .sowings
        .values()
        .map(|sowing| (found(sowing), sowing))
        .filter(|(found, _)| !wanted.is_empty() || found.stands)
        .filter(|(_, sowing)| {
            let said = words(&hay(almanac, sowing));
            wanted
                .iter()
                .all(|word| is_number(sowing, word) || said.iter().any(|s| s.starts_with(word)))
        })
        .collect();
    all.sort_by(|(a, x), (b, y)| (b.stands, y.date, &y.id).cmp(&(a.stands, x.date, &x.id)));
    all.into_iter().map(|(found, _)| found).collect()
}

/// The one that is meant: the only one found, or the only one of them still in trays.
pub fn sole(found: &[Found]) -> Option<&SowingId> {
    let mut standing = found.iter().filter(|found| found.stands);
    match (found, standing.next(), standing.next()) {
        ([one], ..) => Some(&one.id),
        (_, Some(one), None) => Some(&one.id),
        _ => None,
    }
}

/// What the texts of a scanned label come to.
#[derive(Debug, Clone, PartialEq)]
pub enum Scanned {
    /// A tray that is known here.
    Tray(SowingId),
    /// A tray that was recorded elsewhere.
    Unknown,
    /// No tray's label.
    NotOurs,
}

/// Which tray the texts of codes in one picture name.
pub fn scanned(season: &Season, texts: &[String]) -> Scanned {
    let named: Vec<SowingId> = texts.iter().filter_map(|text| tray_in(text)).collect();
    let known = named.iter().find(|id| season.sowings.contains_key(id));
    match (known, named.is_empty()) {
        (Some(id), _) => Scanned::Tray(id.clone()),
        (None, false) => Scanned::Unknown,
        (None, true) => Scanned::NotOurs,
    }
}

fn found(sowing: &Sowing) -> Found {
    Found {
        id: sowing.id.clone(),
        stands: sowing.in_trays(),
    }
}

fn is_number(sowing: &Sowing, word: &str) -> bool {
    sowing.number.is_some() && word.parse().ok() == sowing.number
}

/// The words looked for; what people write before a number is none of them.
fn wanted(typed: &str) -> Vec<String> {
    let all = words(&folded(typed));
    let before = words(text("find.before_number"));
    let before_number = |n: usize| {
        all.get(n + 1)
            .is_some_and(|next| next.bytes().all(|b| b.is_ascii_digit()))
    };
    all.iter()
        .enumerate()
        .filter(|(n, word)| !(before.contains(word) && before_number(*n)))
        .map(|(_, word)| word.clone())
        .collect()
}

/// All that a sowing may be found by, folded.
fn hay(almanac: &Almanac<'_>, sowing: &Sowing) -> String {
    let mut hay = almanac.variety_name(&sowing.variety);
    let mut add = |text: &str| {
        hay.push(' ');
        hay.push_str(text);
    };
    if let Some(variety) = almanac.variety(&sowing.variety) {
        add(&variety.colour);
    }
    if let Some(crop) = almanac.crop(&sowing.variety) {
        add(crop.name());
        crop.also().iter().for_each(|name| add(name));
    }
    if let Some(label) = &sowing.label {
        add(label);
    }
    folded(&hay)
}

#[cfg(test)]
mod tests;
