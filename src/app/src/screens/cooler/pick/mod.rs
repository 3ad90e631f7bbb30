//! Making up an order: what goes into it and from where, what is missing and what could stand in, what it comes to.

mod money;
mod short;

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::bill::{Bill, bill};
use season::fact::{AllocatedFact, HandedOverFact};
use season::forecast::Outlook;
use season::ids::{OrderId, VarietyId};
use season::promise::{LineCover, OrderCover, Promises, promises};
use season::state::Order;
use season::stock::stock_today;
use season::words::{Manner, Say, text};

use self::money::BillView;
use self::short::{Missing, Stand, missing};
use super::hand::{HandSheet, Handing};
use super::orders::{buy_in, handing};
use crate::browser::page;
use crate::forms::{RecordSheet, Recorder, names};
use crate::parts::{
    Back, Caution, Frame, Icon, Notice, NoticeKind, SaveProblem, Saver, Section, Words,
};
use crate::route::{Area, Route, Which};
use crate::screens::hazard::hazards;
use crate::screens::wanted;
use crate::store::Store;

/// Stems of one cut that go into an order.
#[derive(Debug, Clone, PartialEq)]
struct FromStock {
    name: String,
    facts: String,
    stems: u32,
}

/// A line of an order in words.
#[derive(Debug, Clone, PartialEq)]
struct LineTold {
    name: String,
    have: String,
    handed: u32,
    stock: Vec<FromStock>,
    coming: Option<String>,
    missing: Option<Missing>,
}

/// All about one order.
#[derive(Clone, PartialEq)]
struct Told {
    who: String,
    date: String,
    ask: Option<String>,
    is_short: bool,
    lines: Vec<LineTold>,
    handing: Handing,
    /// Stems that can still be put aside, by variety.
    loose: Vec<(VarietyId, u32)>,
    bill: Bill,
    caution: Option<Say>,
}

/// What an order's address leads to.
#[derive(Clone, PartialEq)]
enum Found {
    Open(Box<Told>),
    /// Done, called off, or not due in these weeks: what it came to.
    Closed(OrderId, String, Bill),
    Missing,
}

fn find(store: Store, id: &OrderId, due: Option<NaiveDate>) -> Found {
    let manner = store.manner();
    store.outlook().with(|outlook| {
        let almanac = outlook.almanac();
        let Some(order) = almanac.season().orders.get(id) else {
            return Found::Missing;
        };
        let promises = promises(outlook);
        let cover = promises
            .orders
            .iter()
            .find(|cover| cover.order == *id && (due.is_none() || cover.due == due));
        match cover {
            Some(cover) => Found::Open(Box::new(told(outlook, order, cover, manner))),
            None => {
                let bill = bill(almanac, order, due);
                Found::Closed(id.clone(), order.who.clone(), bill)
            }
        }
    })
}

fn told(outlook: &Outlook<'_>, order: &Order, cover: &OrderCover, manner: Manner) -> Told {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let promises = promises(outlook);
    let handing = handing(order, cover);
    let stock = stock_today(outlook);
    let aside = stock.aside.get(&(order.id.clone(), cover.due));
    let loose = handing
        .there
        .iter()
        .map(|(variety, stems)| {
            let kept = aside.and_then(|of| of.get(variety)).copied().unwrap_or(0);
            (variety.clone(), stems.saturating_sub(kept))
        })
        .filter(|(_, stems)| *stems > 0)
        .collect();
    Told {
        who: order.who.clone(),
        date: manner.date(cover.date),
        ask: buy_in(cover, today).map(|say| say.write(manner)),
        is_short: cover.short() > 0,
        lines: cover
            .lines
            .iter()
            .map(|line| line_told(almanac, order, cover, line, &promises, manner))
            .collect(),
        loose,
        bill: bill(almanac, order, cover.due),
        caution: hazards(almanac, handing.there.iter().map(|(variety, _)| variety)),
        handing,
    }
}

fn line_told(
    almanac: &Almanac<'_>,
    order: &Order,
    cover: &OrderCover,
    line: &LineCover,
    promises: &Promises,
    manner: Manner,
) -> LineTold {
    let have = line.handed.saturating_add(line.in_stock);
    let coming = (line.missing() > 0 && line.to_come.p90 >= 0.5).then(|| {
        Say::new("pick.coming")
            .with_spread(line.to_come)
            .with("date", cover.date)
            .write(manner)
    });
    LineTold {
        name: wanted::say(almanac, &line.wanted).write(manner),
        have: Say::new("orders.have")
            .with("have", have)
            .with("stems", line.stems)
            .write(manner),
        handed: line.handed,
        stock: line
            .stock
            .iter()
            .map(|(variety, cut, stems)| FromStock {
                name: names::variety(almanac, variety).write(manner),
                facts: Say::new("pick.cut").with("date", *cut).write(manner),
                stems: *stems,
            })
            .collect(),
        coming,
        missing: missing(almanac, order, cover, line, promises, manner),
    }
}

/// One order, or one delivery of a standing order.
#[component]
pub fn PickScreen(
    /// Which order.
    id: OrderId,
    /// Which delivery.
    due: Option<NaiveDate>,
) -> impl IntoView {
    let store = Store::here();
    let recorder = Recorder::new();
    let id = StoredValue::new(id);
    let found = Memo::new(move |_| id.with_value(|id| find(store, id, due)));
    view! {
        <Frame title="pick.title" area=Area::Cooler back=Back::to_area(Area::Cooler)>
            {move || match found.get() {
                Found::Open(told) => view! { <Open told=*told recorder /> }.into_any(),
                Found::Closed(id, who, bill) => {
                    view! {
                        <Section head=who>
                            <Notice kind=NoticeKind::Info head="pick.closed">
                                <a class="btn" href=Route::Order(Which::This(id)).href()>
                                    {text("orders.change")}
                                </a>
                            </Notice>
                        </Section>
                        <BillView bill />
                    }
                    .into_any()
                }
                Found::Missing => {
                    view! { <Notice kind=NoticeKind::Problem head="order.missing" /> }.into_any()
                }
            }}
            <RecordSheet recorder />
        </Frame>
    }
}

#[component]
fn Open(told: Told, recorder: Recorder) -> impl IntoView {
    let handing = RwSignal::new(None::<Handing>);
    let asked = told.handing.clone();
    let saver = Saver::new();
    let edit = Route::Order(Which::This(asked.order.clone())).href();
    let tally = Say::new("pick.for").with("date", told.date.clone());
    let lines = told
        .lines
        .into_iter()
        .map(|line| view! { <Line line recorder saver /> })
        .collect_view();
    let ask = told.ask.map(|ask| {
        let kind = if told.is_short {
            NoticeKind::Problem
        } else {
            NoticeKind::Caution
        };
        view! { <Notice kind head=ask /> }
    });
    view! {
        <div class="spread">
            <div class="leaf">
                <Section head=told.who tally=tally>
                    {ask}
                    <ul class="order__lines pick">{lines}</ul>
                    {told
                        .caution
                        .map(|say| {
                            view! { <Caution head="caution.head" text=Words::from(say) /> }
                        })}
                    <SaveProblem saver />
                    <div class="actions no-print">
                        <button
                            class="btn btn--primary btn--great"
                            type="button"
                            aria-haspopup="dialog"
                            on:click={
                                let asked = asked.clone();
                                move |_| handing.set(Some(asked.clone()))
                            }
                        >
                            {text("orders.hand")}
                        </button>
                        <Aside of=asked.clone() loose=told.loose saver />
                        <button class="btn" type="button" on:click=|_| page::print()>
                            {text("hand_on.print")}
                        </button>
                        <a class="btn btn--quiet" href=edit>
                            {text("orders.change")}
                        </a>
                        <Skip of=asked saver />
                    </div>
                </Section>
            </div>
            <div class="leaf">
                <BillView bill=told.bill />
            </div>
        </div>
        {move || handing.get().map(|told| view! { <HandSheet told handing /> })}
    }
}

#[component]
fn Line(line: LineTold, recorder: Recorder, saver: Saver) -> impl IntoView {
    let manner = Store::here().manner_now();
    let handed = (line.handed > 0).then(|| {
        let said = Say::new("pick.handed").with("n", line.handed).write(manner);
        view! { <span class="soft small">{said}</span> }
    });
    let stock = line
        .stock
        .into_iter()
        .map(|from| {
            view! {
                <li class="pick__from">
                    <span class="pick__stems">{from.stems}</span>
                    <span>
                        {from.name} " " <span class="soft small">{from.facts}</span>
                    </span>
                </li>
            }
        })
        .collect_view();
    view! {
        <li class="order__line">
            <h3 class="pick__name">{line.name}</h3>
            <span class="order__have">{line.have}</span>
            <div class="pick__all">
                {handed} <ul>{stock}</ul>
                {line.coming.map(|said| view! { <p class="soft small">{said}</p> })}
                {line.missing.map(|missing| view! { <Stand missing recorder saver /> })}
            </div>
        </li>
    }
}

/// Puts all that stands in the cooler for an order aside, so that no other order counts on it.
#[component]
fn Aside(of: Handing, loose: Vec<(VarietyId, u32)>, saver: Saver) -> impl IntoView {
    let store = Store::here();
    (!loose.is_empty()).then(|| {
        let put = move |_| {
            let facts = loose.iter().map(|(variety, stems)| -> Fact {
                AllocatedFact {
                    due: of.due,
                    ..AllocatedFact::new(
                        of.order.clone(),
                        variety.clone(),
                        *stems,
                        store.today_now(),
                    )
                }
                .into()
            });
            saver.save(facts.collect(), |_| {});
        };
        view! {
            <button class="btn" type="button" on:click=put>
                <Icon name="hold" small=true />
                {text("pick.aside")}
            </button>
        }
    })
}

/// A delivery of a standing order that is not wanted this time.
#[component]
fn Skip(of: Handing, saver: Saver) -> impl IntoView {
    let store = Store::here();
    of.due.map(|due| {
        let skip = move |_| {
            let fact = HandedOverFact {
                skipped: true,
                ..HandedOverFact::new(of.order.clone(), due, store.today_now())
            };
            saver.save(vec![fact.into()], |_| {
                page::go(&Area::Cooler.route().href())
            });
        };
        view! {
            <button class="btn btn--quiet" type="button" on:click=skip>
                {text("pick.skip")}
            </button>
        }
    })
}
