//! One order: for whom, when, which stems and pieces.

use chrono::{Datelike, NaiveDate};
use leptos::prelude::*;
use season::fact::{OrderFact, OrderPieces};
use season::ids::{OrderId, RecipeId};
use season::limits::{EVERY_DAYS, STEMS_MAX, YEARS};
use season::money::Money;
use season::state::Order;
use season::words::{Say, text};

use super::hand::done;
use super::lines::{LineFields, Lines};
use crate::browser::{clock, page, random};
use crate::forms::currency;
use crate::parts::read;
use crate::parts::typed::show_first_wrong;
use crate::parts::{
    Back, Choice, DateField, Frame, Icon, Notice, NoticeKind, NumberField, Picked, SaveButton,
    SaveProblem, Saver, Section, SelectField, Stepper, TextField, Typed,
};
use crate::route::{Area, Which};
use crate::store::Store;

/// Stems that one tap adds.
const STEP: u32 = 5;
/// The last day of an order that nobody ends.
const FOR_GOOD: NaiveDate = match NaiveDate::from_ymd_opt(YEARS.record.1, 12, 31) {
    Some(day) => day,
    None => NaiveDate::MAX,
};

/// One order, or a new one.
#[component]
pub fn OrderScreen(
    /// Which.
    which: Which<OrderId>,
) -> impl IntoView {
    let store = Store::here();
    let (title, order) = match &which {
        Which::New => ("order.new", None),
        Which::This(id) => ("order.edit", store.season_now().orders.get(id).cloned()),
    };
    let missing = order.is_none() && matches!(which, Which::This(_));
    view! {
        <Frame title=title area=Area::Cooler back=Back::to_area(Area::Cooler)>
            {if missing {
                view! { <Notice kind=NoticeKind::Problem head="order.missing" /> }.into_any()
            } else {
                view! { <Form order /> }.into_any()
            }}
        </Frame>
    }
}

/// So many of a recipe.
#[derive(Clone, Copy)]
struct Piece {
    key: usize,
    recipe: Typed,
    count: Typed,
    price: Typed,
}

/// The pieces of one order.
#[derive(Clone, Copy)]
struct Pieces {
    pieces: RwSignal<Vec<Piece>>,
    next: StoredValue<usize>,
    /// Fields live as long as the form, whenever they are made.
    owner: StoredValue<Option<Owner>>,
}

impl Pieces {
    fn new(begin: &[OrderPieces]) -> Self {
        let pieces = Self {
            pieces: RwSignal::new(Vec::new()),
            next: StoredValue::new(0),
            owner: StoredValue::new(Owner::current()),
        };
        for one in begin {
            let price = one
                .price
                .map_or_else(String::new, |price| price.to_string());
            pieces.add(one.recipe.as_str(), &one.pieces.to_string(), &price);
        }
        pieces
    }

    fn add(self, recipe: &str, count: &str, price: &str) {
        let make = || Piece {
            key: self.next.get_value(),
            recipe: Typed::new(recipe),
            count: Typed::new(count),
            price: Typed::new(price),
        };
        let piece = self.owner.with_value(|owner| match owner {
            Some(owner) => owner.with(make),
            None => make(),
        });
        self.next.update_value(|next| *next += 1);
        self.pieces.update(|pieces| pieces.push(piece));
    }

    fn take_out(self, key: usize) {
        self.pieces
            .update(|pieces| pieces.retain(|piece| piece.key != key));
    }

    /// What the fields say; `None` when one does not read, which is then said at it.
    fn read(self) -> Option<Vec<OrderPieces>> {
        let read: Vec<Option<OrderPieces>> = self
            .pieces
            .get_untracked()
            .into_iter()
            .map(|piece| {
                let recipe = piece
                    .recipe
                    .read(|text| RecipeId::new(text).map_err(|_| Say::new("order.no_recipe")));
                let count = piece.count.read(|text| read::count(text, 1..=STEMS_MAX));
                let price = piece.price.read_if_any(Money::of_typed);
                Some(OrderPieces {
                    price: price?,
                    ..OrderPieces::new(recipe?, count?)
                })
            })
            .collect();
        read.into_iter().collect()
    }
}

#[derive(Clone, Copy)]
struct Fields {
    who: Typed,
    date: Typed,
    lines: Lines,
    pieces: Pieces,
    every: Typed,
    until: Typed,
}

impl Fields {
    fn new(order: Option<&Order>) -> Self {
        let date = order.and_then(|order| order.date);
        let fields = Self {
            who: Typed::new(order.map_or_else(String::new, |order| order.who.clone())),
            date: Typed::new(date.map_or_else(String::new, |date| date.to_string())),
            lines: Lines::new(order.map_or(&[], |order| &order.lines)),
            pieces: Pieces::new(order.map_or(&[], |order| &order.pieces)),
            every: Typed::new(order.map_or(0, |order| order.every_days).to_string()),
            until: Typed::new(
                order
                    .and_then(|order| order.until)
                    .filter(|until| until.year() < YEARS.record.1)
                    .map_or_else(String::new, |date| date.to_string()),
            ),
        };
        if order.is_none() {
            fields.lines.add();
        }
        fields
    }

    /// The fact, unless a field does not read; that is then said at the field.
    fn read(self, of: OrderId) -> Option<OrderFact> {
        let who = self.who.read(read::name);
        let date = self.date.read(read::date);
        let lines = self.lines.read();
        let pieces = self.pieces.read();
        let every = self
            .every
            .read(|text| read::count(text, EVERY_DAYS.range()));
        let until = self.until.read_if_any(read::date);
        Some(OrderFact {
            who: Some(who?),
            date: Some(date?),
            lines: Some(lines?),
            pieces: Some(pieces?),
            every_days: Some(every?), // An emptied field is told as the last day there is: left out, it would stay as it was.
            until: until?.or_else(|| (every.unwrap_or(0) > 0).then_some(FOR_GOOD)),
            ..OrderFact::new(of)
        })
    }
}

#[component]
fn Form(order: Option<Order>) -> impl IntoView {
    let saver = Saver::new();
    let fields = Fields::new(order.as_ref());
    let empty = RwSignal::new(false);
    let order = StoredValue::new(order);
    let leave = || page::go(&Area::Cooler.route().href());
    let save = Callback::new(move |()| {
        empty.set(false);
        let of = order.with_value(|order| match order {
            Some(order) => order.id.clone(),
            None => OrderId::mint(clock::now_ms(), random::bits()),
        });
        let Some(fact) = fields.read(of) else {
            return show_first_wrong();
        };
        let any = |list: Option<usize>| list.is_some_and(|n| n > 0);
        let lines = fact.lines.as_ref().map(Vec::len);
        let pieces = fact.pieces.as_ref().map(Vec::len);
        if !any(lines) && !any(pieces) {
            return empty.set(true);
        }
        let names = [
            ("who", fields.who),
            ("date", fields.date),
            ("until", fields.until),
        ];
        saver.check_and_save(vec![fact.into()], &names, move |_| leave());
    });
    view! {
        <form on:submit=|event| event.prevent_default()>
            <TextField typed=fields.who label="order.who" />
            <DateField typed=fields.date label="order.date" />
            <Repeats fields />
            <Section head="order.stems">
                <LineFields lines=fields.lines label="order.stems" by=STEP priced=true />
            </Section>
            <PieceFields pieces=fields.pieces />
            <p class="field__error" role="alert">
                {move || empty.get().then(|| text("order.empty"))}
            </p>
            <SaveProblem saver />
            <div class="actions">
                <SaveButton saver label="order.save" on_tap=save />
                <Close order saver />
            </div>
        </form>
    }
}

/// Whether it comes again, and until when.
#[component]
fn Repeats(fields: Fields) -> impl IntoView {
    let mut options = vec![
        Picked::new("0", "order.once"),
        Picked::new("7", "orders.every_week"),
        Picked::new("14", Say::new("orders.every_weeks").with("n", 2u32)),
        Picked::new("28", Say::new("orders.every_weeks").with("n", 4u32)),
    ];
    let now = fields.every.text_now();
    if options.iter().all(|option| option.value != now) {
        let days: u32 = now.parse().unwrap_or(0);
        options.push(Picked::new(
            now,
            Say::new("orders.every_days").with("n", days),
        ));
    }
    view! {
        <Choice typed=fields.every label="order.every" options />
        {move || {
            (fields.every.text() != "0")
                .then(|| {
                    view! {
                        <DateField
                            typed=fields.until
                            label="order.until"
                            hint="order.until.hint"
                        />
                    }
                })
        }}
    }
}

/// Pieces by recipe; nothing while there are no recipes.
#[component]
fn PieceFields(pieces: Pieces) -> impl IntoView {
    let store = Store::here();
    let money = StoredValue::new(store.with_almanac_now(currency));
    let options = Memo::new(move |_| {
        let season = store.season();
        let mut recipes: Vec<(String, RecipeId)> = season
            .recipes
            .values()
            .filter(|recipe| !recipe.retired)
            .map(|recipe| (recipe.name.clone(), recipe.id.clone()))
            .collect();
        recipes.sort();
        recipes
    });
    let choices = Signal::derive(move || {
        let recipes = options.get().into_iter();
        let of = recipes.map(|(name, id)| Picked::new(id.as_str(), name));
        core::iter::once(Picked::new("", "wanted.choose"))
            .chain(of)
            .collect::<Vec<_>>()
    });
    move || {
        (!options.with(Vec::is_empty)).then(|| {
            view! {
                <Section head="order.pieces">
                    <ol>
                        <For each=move || pieces.pieces.get() key=|piece| piece.key let:piece>
                            <li class="section">
                                <SelectField
                                    typed=piece.recipe
                                    label="order.recipe"
                                    options=choices
                                />
                                <Stepper
                                    typed=piece.count
                                    label="order.count"
                                    low=1
                                    high=STEMS_MAX
                                />
                                <NumberField
                                    typed=piece.price
                                    label="order.piece_price"
                                    unit=money.get_value()
                                />
                                <button
                                    class="btn btn--quiet"
                                    type="button"
                                    on:click=move |_| pieces.take_out(piece.key)
                                >
                                    <Icon name="close" small=true />
                                    {text("lines.out")}
                                </button>
                            </li>
                        </For>
                    </ol>
                    <button class="btn" type="button" on:click=move |_| pieces.add("", "", "")>
                        <Icon name="plus" small=true />
                        {text("order.add_pieces")}
                    </button>
                </Section>
            }
        })
    }
}

/// Calls an order off or takes it up again; opens one that was handed over.
#[component]
fn Close(order: StoredValue<Option<Order>>, saver: Saver) -> impl IntoView {
    let order = order.get_value()?;
    let leave = |_| page::go(&Area::Cooler.route().href());
    let (key, retired) = if order.retired {
        ("order.take_up", false)
    } else {
        ("order.call_off", true)
    };
    let (id, again) = (order.id.clone(), order.id);
    let retire = move |_| {
        let fact = OrderFact {
            done: None,
            retired: Some(retired),
            ..done(id.clone(), false)
        };
        saver.save(vec![fact.into()], leave);
    };
    Some(view! {
        <button class="btn" type="button" on:click=retire>
            {text(key)}
        </button>
        {order
            .done
            .then(|| {
                view! {
                    <button
                        class="btn"
                        type="button"
                        on:click=move |_| {
                            saver.save(vec![done(again.clone(), false).into()], leave);
                        }
                    >
                        {text("order.reopen")}
                    </button>
                }
            })}
    })
}
