//! What an order's line lacks, and what could stand in.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::fact::{OrderFact, OrderLine, Wanted};
use season::ids::{OrderId, VarietyId};
use season::promise::{Fill, LineCover, OrderCover, Promises, fills};
use season::state::Order;
use season::words::{Manner, Say, text};

use crate::forms::{Asked, Deed, Quick, Recorder, names};
use crate::parts::{Icon, Saver};
use crate::store::Store;

/// Offers that are shown.
const OFFERS: usize = 4;

/// What could stand in, and the order with it swapped in.
#[derive(Debug, Clone, PartialEq)]
struct Offer {
    name: String,
    note: String,
    swap: Option<(Say, OrderFact)>,
}

/// What a line lacks.
#[derive(Debug, Clone, PartialEq)]
pub struct Missing {
    said: String,
    offers: Vec<Offer>,
}

/// What a line lacks; `None` while the forecast covers it.
pub fn missing(
    almanac: &Almanac<'_>,
    order: &Order,
    cover: &OrderCover,
    line: &LineCover,
    promises: &Promises,
    manner: Manner,
) -> Option<Missing> {
    let (short, at_risk) = (line.short(), line.at_risk());
    let (key, number) = match (short, at_risk) {
        (0, 0) => return None,
        (0, n) => ("pick.at_risk", n),
        (n, _) => ("pick.short", n),
    };
    let offers = fills(almanac, promises, line, cover.date)
        .into_iter()
        .take(OFFERS)
        .map(|fill| offer(almanac, order, line, &fill, number, manner))
        .collect();
    Some(Missing {
        said: Say::new(key)
            .with("n", number)
            .with("by", cover.buy_in_by)
            .write(manner),
        offers,
    })
}

fn offer(
    almanac: &Almanac<'_>,
    order: &Order,
    line: &LineCover,
    fill: &Fill,
    number: u32,
    manner: Manner,
) -> Offer {
    let there = fill.in_stock.saturating_add(fill.to_come).min(number);
    Offer {
        name: names::variety(almanac, &fill.variety).write(manner),
        note: Say::new(if fill.same_colour {
            "pick.offer"
        } else {
            "pick.offer_other"
        })
        .with_some("stock", Some(fill.in_stock).filter(|n| *n > 0))
        .with_some("coming", Some(fill.to_come).filter(|n| *n > 0))
        .write(manner),
        swap: swapped(order, &line.wanted, &fill.variety, there)
            .map(|(n, fact)| (Say::new("pick.swap").with("n", n), fact)),
    }
}

/// The order with so many stems of a line wanted as another variety, and how many these are; `None` where the line comes out of a
/// recipe, and for a standing order, whose other deliveries are as they were ordered.
fn swapped(order: &Order, wanted: &Wanted, by: &VarietyId, stems: u32) -> Option<(u32, OrderFact)> {
    if order.is_standing() {
        return None;
    }
    let mut lines = order.lines.clone();
    let line = lines.iter_mut().find(|line| line.wanted == *wanted)?;
    let stems = stems.min(line.stems);
    line.stems -= stems;
    let (price, per) = (line.price, line.per);
    lines.retain(|line| line.stems > 0);
    let wanted = Wanted {
        variety: Some(by.clone()),
        ..Wanted::default()
    };
    match lines.iter_mut().find(|line| line.wanted == wanted) {
        Some(line) => line.stems = line.stems.saturating_add(stems),
        None => lines.push(OrderLine {
            price,
            per,
            ..OrderLine::new(wanted, stems)
        }),
    }
    Some((stems, with_lines(order.id.clone(), lines)))
}

fn with_lines(of: OrderId, lines: Vec<OrderLine>) -> OrderFact {
    OrderFact {
        lines: Some(lines),
        ..OrderFact::new(of)
    }
}

/// What is missing of a line, what could stand in, and buying in.
#[component]
pub fn Stand(missing: Missing, recorder: Recorder, saver: Saver) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner_now();
    let none = missing.offers.is_empty();
    let offers = missing
        .offers
        .into_iter()
        .map(|offer| {
            let label = offer.name.clone();
            let swap = offer.swap.map(|(say, fact)| {
                view! {
                    <button
                        class="btn no-print"
                        type="button"
                        on:click=move |_| saver.save(vec![fact.clone().into()], |_| {})
                    >
                        {say.write(manner)}
                        <span class="visually-hidden">": " {label}</span>
                    </button>
                }
            });
            view! {
                <li class="pick__offer">
                    <span>
                        {offer.name} " " <span class="soft small">{offer.note}</span>
                    </span>
                    {swap}
                </li>
            }
        })
        .collect_view();
    // Which variety it is bought as is chosen first: it need not be one of one's own.
    let buy = move |_| recorder.ask(Asked::Quick(Quick::Which(Deed::BoughtIn)));
    view! {
        <p class="order__short">
            <Icon name="caution" small=true />
            {missing.said}
        </p>
        <p class="small">{text(if none { "pick.no_offers" } else { "pick.offers" })}</p>
        <ul>{offers}</ul>
        <div class="actions">
            <button class="btn no-print" type="button" aria-haspopup="dialog" on:click=buy>
                {text("pick.buy")}
            </button>
        </div>
    }
}
