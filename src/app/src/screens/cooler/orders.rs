//! Orders with what there is for them, earliest first.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use leptos::prelude::*;
use season::almanac::Almanac;
use season::forecast::Outlook;
use season::ids::{OrderId, VarietyId};
use season::promise::{LineCover, OrderCover, is_over, promises};
use season::state::Order;
use season::words::{Manner, Say, text};

use super::hand::{HandSheet, Handing};
use crate::parts::{Contents, ContentsLine, Icon, Section};
use crate::route::{Route, Which};
use crate::screens::wanted;
use crate::store::Store;

/// Deliveries of one standing order that are shown.
const DELIVERIES_SHOWN: usize = 3;

/// One line of an order in words.
#[derive(Debug, Clone, PartialEq)]
struct LineTold {
    name: String,
    have: String,
    coming: Option<String>,
    short: Option<String>,
}

/// An order in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// Which, for whom, and what there is in the cooler for it.
    pub handing: Handing,
    day: u32,
    of: String,
    late: Option<String>,
    /// How often a standing order comes.
    standing: Option<String>,
    /// What has to be done about a shortage, and by when.
    buy_in: Option<String>,
    pieces: Vec<String>,
    lines: Vec<LineTold>,
}

fn line(almanac: &Almanac<'_>, cover: &LineCover, date: NaiveDate, manner: Manner) -> LineTold {
    let have = cover.handed.saturating_add(cover.in_stock);
    let missing = cover.missing();
    let told = |key| Say::new(key).with("date", date).with_spread(cover.to_come);
    let (mut coming, mut short) = (None, None);
    match (missing, cover.short()) {
        (0, _) => {}
        (_, 0) => coming = Some(told("orders.coming").with("n", missing)),
        (_, n) if cover.to_come.p90 < 0.5 => short = Some(told("orders.short_none").with("n", n)),
        // Against what is missing now: the forecast stands behind it in the same sentence.
        _ => short = Some(told("orders.short").with("n", missing)),
    }
    LineTold {
        name: wanted::say(almanac, &cover.wanted).write(manner),
        have: Say::new("orders.have")
            .with("have", have)
            .with("stems", cover.stems)
            .write(manner),
        coming: coming.map(|say| say.write(manner)),
        short: short.map(|say| say.write(manner)),
    }
}

/// "Sat May" of a date whose day stands above it.
fn of_day(date: NaiveDate, manner: Manner) -> String {
    let day = date.day().to_string();
    let words = manner.date(date);
    let kept: Vec<&str> = words.split(' ').filter(|word| *word != day).collect();
    kept.join(" ")
}

/// What is handed over of an order as things stand.
pub fn handing(order: &Order, cover: &OrderCover) -> Handing {
    let mut there: Vec<(VarietyId, u32)> = Vec::new();
    for (variety, _, stems) in cover.lines.iter().flat_map(|line| &line.stock) {
        match there.iter_mut().find(|(id, _)| id == variety) {
            Some((_, sum)) => *sum = sum.saturating_add(*stems),
            None => there.push((variety.clone(), *stems)),
        }
    }
    Handing {
        order: order.id.clone(),
        due: cover.due,
        who: order.who.clone(),
        there,
        whole: cover.lines.iter().all(|line| line.missing() == 0),
    }
}

/// How often a standing order comes.
fn standing(every_days: u32) -> Say {
    match every_days {
        7 => Say::new("orders.every_week"),
        n if n % 7 == 0 => Say::new("orders.every_weeks").with("n", n / 7),
        n => Say::new("orders.every_days").with("n", n),
    }
}

/// What a shortage, or too much promised, asks for.
pub fn buy_in(cover: &OrderCover, today: NaiveDate) -> Option<Say> {
    let key = match (cover.short(), cover.at_risk()) {
        (0, 0) => return None,
        (0, _) => "orders.at_risk",
        _ if cover.buy_in_by < today => "orders.buy_in_late",
        _ => "orders.buy_in",
    };
    let number = cover.short().max(if cover.short() == 0 {
        cover.at_risk()
    } else {
        0
    });
    Some(Say::new(key).with("n", number).with("by", cover.buy_in_by))
}

fn told(
    almanac: &Almanac<'_>,
    order: &Order,
    cover: &OrderCover,
    today: NaiveDate,
    manner: Manner,
) -> Told {
    let late = (today - cover.date).num_days();
    Told {
        handing: handing(order, cover),
        day: cover.date.day(),
        of: of_day(cover.date, manner),
        late: (late > 0).then(|| Say::new("orders.late").with("n", late).write(manner)),
        standing: order
            .is_standing()
            .then(|| standing(order.every_days).write(manner)),
        buy_in: buy_in(cover, today).map(|say| say.write(manner)),
        pieces: pieces(almanac, order, manner),
        lines: cover
            .lines
            .iter()
            .map(|cover_line| line(almanac, cover_line, cover.date, manner))
            .collect(),
    }
}

fn pieces(almanac: &Almanac<'_>, order: &Order, manner: Manner) -> Vec<String> {
    order
        .pieces
        .iter()
        .filter_map(|pieces| {
            let recipe = almanac.season().recipes.get(&pieces.recipe)?;
            let say = Say::new("orders.pieces")
                .with("n", pieces.pieces)
                .with("name", recipe.name.clone());
            Some(say.write(manner))
        })
        .collect()
}

/// Open orders with what there is for them.
fn open(outlook: &Outlook<'_>, manner: Manner) -> Vec<Told> {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let mut shown = BTreeMap::<OrderId, usize>::new();
    promises(outlook)
        .orders
        .iter()
        // The next ones of a standing order stand for those that follow.
        .filter(|cover| {
            let n = shown.entry(cover.order.clone()).or_default();
            *n += 1;
            *n <= DELIVERIES_SHOWN
        })
        .filter_map(|cover| {
            let order = almanac.season().orders.get(&cover.order)?;
            Some(told(almanac, order, cover, today, manner))
        })
        .collect()
}

/// Orders and deliveries that are closed, newest first: done, called off, without a date, or run out.
fn closed(store: Store) -> Vec<(Route, Say)> {
    let (season, today) = (store.season(), store.today());
    let name = |order: &Order, date: Option<NaiveDate>| {
        Say::new("name.order")
            .with("who", order.who.clone())
            .with_some("date", date)
    };
    let mut found: Vec<(Option<NaiveDate>, Route, Say)> = Vec::new();
    for order in season.orders.values() {
        if is_over(order, today) {
            let route = Route::Pick(order.id.clone(), None);
            found.push((order.date, route, name(order, order.date)));
        }
        found.extend(order.closed.keys().map(|due| {
            let route = Route::Pick(order.id.clone(), Some(*due));
            (Some(*due), route, name(order, Some(*due)))
        }));
    }
    found.sort_by_key(|(date, route, _)| core::cmp::Reverse((*date, route.href())));
    found
        .into_iter()
        .map(|(_, route, name)| (route, name))
        .collect()
}

/// All orders.
#[component]
pub fn OrdersView() -> impl IntoView {
    let store = Store::here();
    let orders = Memo::new(move |_| {
        let manner = store.manner();
        store.outlook().with(|outlook| open(outlook, manner))
    });
    let handing = RwSignal::new(None::<Handing>);
    let tally = Signal::derive(move || {
        Say::new("orders.tally")
            .with("n", orders.with(Vec::len))
            .write(store.manner())
    });
    view! {
        <Section head="orders.head" tally=tally>
            <div class="actions">
                <a class="btn" href=Route::Order(Which::New).href()>
                    <Icon name="plus" small=true />
                    {text("orders.new")}
                </a>
                <a class="btn" href=Route::PasteOrders.href()>
                    {text("paste.open")}
                </a>
            </div>
            {move || {
                let orders = orders.get();
                if orders.is_empty() {
                    return view! { <p class="soft">{text("orders.none")}</p> }.into_any();
                }
                let lines = orders
                    .into_iter()
                    .map(|told| view! { <OneOrder told handing /> })
                    .collect_view();
                view! { <ul>{lines}</ul> }.into_any()
            }}
            <Closed />
        </Section>
        {move || handing.get().map(|told| view! { <HandSheet told handing /> })}
    }
}

#[component]
fn Closed() -> impl IntoView {
    let store = Store::here();
    let closed = Memo::new(move |_| closed(store));
    move || {
        let closed = closed.get();
        (!closed.is_empty()).then(|| {
            let lines = closed
                .into_iter()
                .map(|(to, name)| view! { <ContentsLine to name=name /> })
                .collect_view();
            view! {
                <details class="why">
                    <summary class="why__ask">{text("orders.done")}</summary>
                    <Contents>{lines}</Contents>
                </details>
            }
        })
    }
}

#[component]
fn OneOrder(told: Told, handing: RwSignal<Option<Handing>>) -> impl IntoView {
    let asked = told.handing.clone();
    let who = asked.who.clone();
    let (for_hand, for_pick, for_change) = (who.clone(), who.clone(), who.clone());
    let edit = Route::Order(Which::This(asked.order.clone())).href();
    let pick = Route::Pick(asked.order.clone(), asked.due).href();
    let none = told.lines.is_empty();
    let lines = told
        .lines
        .into_iter()
        .map(|line| view! { <OneLine line /> })
        .collect_view();
    view! {
        <li class="order" data-guarded="">
            <p class="order__when">
                <span class="order__day">{told.day}</span>
                <span class="order__month">{told.of}</span>
            </p>
            <div>
                <h3 class="order__name">{who}</h3>
                {told.late.map(|late| view! { <p><span class="chip chip--late">{late}</span></p> })}
                {told.standing.map(|said| view! { <p class="soft small">{said}</p> })}
                {(!told.pieces.is_empty())
                    .then(|| view! { <p class="soft small">{told.pieces.join(", ")}</p> })}
                {none.then(|| view! { <p class="soft small">{text("orders.no_lines")}</p> })}
                <ul class="order__lines">{lines}</ul>
                {told.buy_in.map(|said| view! { <p class="order__ask">{said}</p> })}
                <div class="actions">
                    <a class="btn btn--primary" href=pick>
                        {text("orders.pick")}
                        <span class="visually-hidden">": " {for_pick}</span>
                    </a>
                    <button
                        class="btn"
                        type="button"
                        aria-haspopup="dialog"
                        on:click=move |_| handing.set(Some(asked.clone()))
                    >
                        {text("orders.hand")}
                        <span class="visually-hidden">": " {for_hand}</span>
                    </button>
                    <a class="btn btn--quiet" href=edit>
                        {text("orders.change")}
                        <span class="visually-hidden">": " {for_change}</span>
                    </a>
                </div>
            </div>
        </li>
    }
}

#[component]
fn OneLine(line: LineTold) -> impl IntoView {
    view! {
        <li class="order__line">
            <span>{line.name}</span>
            <span class="order__have">{line.have}</span>
            {line.coming.map(|said| view! { <span class="soft small">{said}</span> })}
            {line
                .short
                .map(|said| {
                    view! {
                        <span class="order__short">
                            <Icon name="caution" small=true />
                            {said}
                        </span>
                    }
                })}
        </li>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use agronomy::quantity::Spread;
    use culture::Reference;
    use season::fact::{Role, Wanted};
    use season::{Log, Season};

    #[test]
    fn a_line_says_what_is_short_and_what_the_forecast_gives() {
        let reference = Reference::builtin().unwrap();
        let season = Season::of(&Log::new());
        let almanac = Almanac::new(&season, &reference);
        let date: NaiveDate = "2027-05-07".parse().unwrap();
        let told = |in_stock: u32, to_come: Spread<f64>| {
            let cover = LineCover {
                wanted: Wanted {
                    role: Some(Role::Focal),
                    colour: Some("blush".into()),
                    ..Wanted::default()
                },
                stems: 30,
                handed: 0,
                in_stock,
                aside: 0,
                stock: Vec::new(),
                to_come,
                share: 0.65,
            };
            line(&almanac, &cover, date, Manner::default())
        };
        let spread = |p10, p50, p90| Spread { p10, p50, p90 };
        let short = told(18, spread(6.0, 8.0, 10.0));
        assert_eq!(
            (short.name.as_str(), short.have.as_str()),
            ("blush focal", "18 of 30")
        );
        assert_eq!(
            short.short.as_deref(),
            Some("12 short. The forecast gives 6 to 10 by Fri 7 May.")
        );
        let nothing = told(18, Spread::exact(0.0));
        assert_eq!(
            nothing.short.as_deref(),
            Some("12 short, and nothing more comes by Fri 7 May.")
        );
        let enough = told(18, spread(10.0, 15.0, 22.0));
        assert_eq!(enough.short, None);
        assert!(enough.coming.is_some());
        assert_eq!(told(30, Spread::exact(0.0)).coming, None);
    }

    #[test]
    fn the_month_stands_below_the_day() {
        let date: NaiveDate = "2027-05-08".parse().unwrap();
        assert_eq!(of_day(date, Manner::default()), "Sat May");
    }
}
