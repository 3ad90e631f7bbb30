//! What there is to choose from in a field.

use season::Fact;
use season::almanac::Almanac;
use season::fact::WordList;
use season::mishap::trays_left;
use season::words::Say;

use super::names;
use super::spec::Pick;
use crate::parts::Picked;
use crate::store::Store;

/// A closed list as choices.
pub fn of_words(list: &WordList) -> Vec<Picked> {
    list.words
        .iter()
        .map(|(word, key)| Picked::new(*word, *key))
        .collect()
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
