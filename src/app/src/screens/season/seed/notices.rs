//! What the order could not count, named.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::ids::VarietyId;
use season::seed::{LotStanding, SeedOrder};
use season::words::{Manner, Say, text};

use crate::forms::names;
use crate::parts::{Notice, NoticeKind};
use crate::store::Store;

/// What there is to know about some varieties: a head and a sentence that names them.
type Told = (NoticeKind, &'static str, String);

fn told(almanac: &Almanac<'_>, order: &SeedOrder, manner: Manner) -> Vec<Told> {
    let too_old: Vec<VarietyId> = order
        .lines
        .iter()
        .filter(|line| {
            let mut lots = line.lots.iter();
            lots.any(|lot| lot.standing == LotStanding::TooOld)
        })
        .map(|line| line.variety.clone())
        .collect();
    let totals = &order.totals;
    // Where the packet is not known, its price would not help yet.
    let priceless: Vec<VarietyId> = totals
        .without_price
        .iter()
        .filter(|id| !totals.without_packet.contains(id))
        .cloned()
        .collect();
    let notice = |kind, head, key, of: &[VarietyId]| {
        let names: Vec<String> = of
            .iter()
            .map(|id| names::variety(almanac, id).write(manner))
            .collect();
        let said = Say::new(key).with("names", names.join("; ")).write(manner);
        (!of.is_empty()).then_some((kind, head, said))
    };
    [
        notice(
            NoticeKind::Caution,
            "seed.without_lot",
            "seed.without_lot.text",
            &totals.without_lot,
        ),
        notice(
            NoticeKind::Caution,
            "seed.lot_too_old",
            "seed.lot_too_old.text",
            &too_old,
        ),
        notice(
            NoticeKind::Info,
            "seed.without_packet",
            "seed.without_packet.text",
            &totals.without_packet,
        ),
        notice(
            NoticeKind::Info,
            "seed.price_not_known",
            "seed.without_price.text",
            &priceless,
        ),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Notices below the order.
#[component]
pub(super) fn Notices(
    /// The order; none before it is reckoned.
    order: Memo<Option<SeedOrder>>,
) -> impl IntoView {
    let store = Store::here();
    move || {
        let manner = store.manner();
        let told = order.with(|order| {
            let order = order.as_ref()?;
            Some(store.with_almanac(|almanac| told(almanac, order, manner)))
        })?;
        let notices = told
            .into_iter()
            .map(
                |(kind, head, said)| view! { <Notice kind head=text(head).to_owned() text=said /> },
            )
            .collect_view();
        Some(notices)
    }
}
