//! What there is to choose from in a field.

use season::Fact;
use season::almanac::Almanac;
use season::fact::{BloomStage, CellKind, Grade, LossCause, WaterRegime};
use season::mishap::trays_left;
use season::words::Say;

use super::names;
use super::spec::{Pick, Word};
use crate::parts::Picked;
use crate::store::Store;

macro_rules! keys {
    ($prefix:literal: $($word:literal),+ $(,)?) => {
        &[$(($word, concat!($prefix, $word))),+]
    };
}

/// The words of a closed list with their keys, in the order in which they are offered.
fn words(word: Word) -> &'static [(&'static str, &'static str)] {
    match word {
        Word::Cell => keys!("cell.": "block", "plug", "pot", "open"),
        Word::Cause => keys!("cause.":
            "dried_out", "damping_off", "dropped", "algae", "eaten", "too_hot", "cold", "culled", "other"),
        Word::Regime => keys!("water.regime.": "never_dry", "matt_between", "dry_between"),
        Word::Bloom => keys!("bloom.": "visible_bud", "first_colour"),
        Word::Grade => keys!("grade.": "first", "second"),
    }
}

/// A closed list as choices.
pub fn of_word(word: Word) -> Vec<Picked> {
    words(word)
        .iter()
        .map(|(value, key)| Picked::new(*value, *key))
        .collect()
}

/// The key of a word for what seed is sown into.
pub fn cell_key(what: CellKind) -> &'static str {
    key(Word::Cell, what.word())
}

/// The key of a word for a loss's cause.
pub fn cause_key(cause: LossCause) -> &'static str {
    key(Word::Cause, cause.word())
}

/// The key of a word for how wet a tray is kept.
pub fn regime_key(regime: WaterRegime) -> &'static str {
    key(Word::Regime, regime.word())
}

/// The key of a word for what was seen.
pub fn bloom_key(stage: BloomStage) -> &'static str {
    key(Word::Bloom, stage.word())
}

/// The key of a word for a grade.
pub fn grade_key(grade: Grade) -> &'static str {
    key(Word::Grade, grade.word())
}

fn key(list: Word, word: &str) -> &'static str {
    words(list)
        .iter()
        .find(|(value, _)| *value == word)
        .map_or("field.none", |(_, key)| *key)
}

/// What the grower set up, as choices, in walking order. `chosen` stays among them even if it was retired since.
pub fn of_pick(almanac: &Almanac<'_>, pick: Pick, fact: &Fact, chosen: &str) -> Vec<Picked> {
    let season = almanac.season();
    let mut options: Vec<Picked> = match pick {
        Pick::Space(kinds) => season
            .spaces_in_order()
            .into_iter()
            .filter(|space| kinds.contains(&space.what))
            .map(|space| Picked::new(space.id.as_str(), names::space(almanac, &space.id)))
            .collect(),
        Pick::Bed => season
            .spaces_in_order()
            .into_iter()
            .flat_map(|space| season.beds_of(&space.id))
            .map(|bed| Picked::new(bed.id.as_str(), names::bed(almanac, &bed.id)))
            .collect(),
        Pick::Variety => season
            .varieties_in_order()
            .into_iter()
            .map(|v| Picked::new(v.id.as_str(), names::variety(almanac, &v.id)))
            .collect(),
        Pick::Lot => lots(almanac, fact),
        Pick::Order => orders(almanac),
    };
    let there = options.iter().any(|option| option.value == chosen);
    if !chosen.is_empty() && !there {
        options.push(Picked::new(chosen, retired(almanac, pick, chosen)));
    }
    options
}

/// The trays of the sowing that a loss is of; first, some of its cells.
pub fn trays_of(fact: &Fact) -> Vec<Picked> {
    let Fact::Lost(f) = fact else {
        return Vec::new();
    };
    let store = Store::here();
    let season = store.season_now();
    let Some(sowing) = f.sowing.as_ref().and_then(|id| season.sowings.get(id)) else {
        return Vec::new();
    };
    let mut trays = trays_left(sowing, f.date);
    if let Some(tray) = f.tray.filter(|tray| !trays.contains(tray)) {
        trays.push(tray);
    }
    let one = trays.len() == 1;
    let whole = trays.into_iter().map(|tray| {
        let say = Say::new(if one { "lost.whole" } else { "lost.tray" }).with("n", tray);
        Picked::new(tray.to_string(), say)
    });
    core::iter::once(Picked::new("", "lost.some"))
        .chain(whole)
        .collect()
}

fn lots(almanac: &Almanac<'_>, fact: &Fact) -> Vec<Picked> {
    let variety = match fact {
        Fact::Sown(f) => &f.variety,
        Fact::DirectSown(f) => &f.variety,
        _ => return Vec::new(),
    };
    let mut lots: Vec<_> = almanac
        .season()
        .lots
        .values()
        .filter(|lot| lot.variety.as_ref() == Some(variety) && !lot.retired)
        .collect();
    lots.sort_by_key(|lot| (core::cmp::Reverse(lot.year), lot.name.clone()));
    lots.into_iter()
        .map(|lot| {
            let year = lot.year.map(|year| year.to_string());
            let name = Some(lot.name.clone()).filter(|name| !name.is_empty());
            let words = Say::new("name.lot")
                .with_some("name", name)
                .with_some("year", year);
            Picked::new(lot.id.as_str(), words)
        })
        .collect()
}

fn orders(almanac: &Almanac<'_>) -> Vec<Picked> {
    let mut orders: Vec<_> = almanac
        .season()
        .orders
        .values()
        // Which delivery of a standing order it is for is chosen at the order.
        .filter(|order| !order.done && !order.retired && !order.is_standing())
        .collect();
    orders.sort_by_key(|order| (order.date, order.who.clone()));
    orders
        .into_iter()
        .map(|order| {
            let words = Say::new("name.order")
                .with("who", order.who.clone())
                .with_some("date", order.date);
            Picked::new(order.id.as_str(), words)
        })
        .collect()
}

/// The name of something chosen earlier that is no longer offered.
fn retired(almanac: &Almanac<'_>, pick: Pick, id: &str) -> String {
    let season = almanac.season();
    let name = match pick {
        Pick::Space(_) => season
            .spaces
            .values()
            .find(|s| s.id.as_str() == id)
            .map(|s| &s.name),
        Pick::Bed => season
            .beds
            .values()
            .find(|b| b.id.as_str() == id)
            .map(|b| &b.name),
        Pick::Variety => season
            .varieties
            .values()
            .find(|v| v.id.as_str() == id)
            .map(|v| &v.name),
        Pick::Lot => season
            .lots
            .values()
            .find(|l| l.id.as_str() == id)
            .map(|l| &l.name),
        Pick::Order => season
            .orders
            .values()
            .find(|o| o.id.as_str() == id)
            .map(|o| &o.who),
    };
    name.filter(|name| !name.is_empty())
        .cloned()
        .unwrap_or_else(|| id.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_that_a_fact_can_hold_is_offered_and_has_its_text() {
        fn check<T: Copy>(all: &[T], word: fn(T) -> &'static str, list: Word) {
            let offered: Vec<&str> = words(list).iter().map(|(value, _)| *value).collect();
            let known: Vec<&str> = all.iter().map(|w| word(*w)).collect();
            assert_eq!(offered, known);
            for (_, key) in words(list) {
                assert!(season::words::has(key), "{key}");
            }
        }
        check(CellKind::ALL, CellKind::word, Word::Cell);
        check(LossCause::ALL, LossCause::word, Word::Cause);
        check(WaterRegime::ALL, WaterRegime::word, Word::Regime);
        check(BloomStage::ALL, BloomStage::word, Word::Bloom);
        check(Grade::ALL, Grade::word, Word::Grade);
    }
}
