//! Lines of stems in a form: of an order or a recipe. Lines are added and taken out while it is filled in.

use leptos::prelude::*;
use season::fact::{OrderLine, Wanted};
use season::limits::STEMS_MAX;
use season::money::Money;
use season::words::text;

use crate::forms::currency;
use crate::parts::read;
use crate::parts::{Icon, NumberField, Stepper, Typed};
use crate::screens::wanted::{WantedFields, WantedTyped};
use crate::store::Store;

/// One line's fields.
#[derive(Clone, Copy)]
struct Line {
    key: usize,
    wanted: WantedTyped,
    stems: Typed,
    price: Typed,
    per: Typed,
}

/// Stems that a price is for where nobody said otherwise: a bunch of ten.
const PER_USUAL: u32 = 10;

/// The lines of one form.
#[derive(Clone, Copy)]
pub struct Lines {
    lines: RwSignal<Vec<Line>>,
    next: StoredValue<usize>,
    /// Fields live as long as the form, whenever they are made.
    owner: StoredValue<Option<Owner>>,
}

impl Lines {
    /// Lines that begin as given, or one empty one. They live as long as the component that makes them.
    pub fn new(begin: &[OrderLine]) -> Self {
        let lines = Self {
            lines: RwSignal::new(Vec::new()),
            next: StoredValue::new(0),
            owner: StoredValue::new(Owner::current()),
        };
        for line in begin {
            lines.put(line, &line.stems.to_string());
        }
        lines
    }

    /// One more line, with nothing in it.
    pub fn add(self) {
        let empty = OrderLine::new(Wanted::default(), 0);
        self.put(&empty, "");
    }

    fn put(self, line: &OrderLine, stems: &str) {
        let per = line.per.unwrap_or(match line.price {
            Some(_) => 1,
            None => PER_USUAL,
        });
        let make = || Line {
            key: self.next.get_value(),
            wanted: WantedTyped::new(&line.wanted),
            stems: Typed::new(stems),
            price: Typed::new(
                line.price
                    .map_or_else(String::new, |price| price.to_string()),
            ),
            per: Typed::new(per.to_string()),
        };
        let line = self.owner.with_value(|owner| match owner {
            Some(owner) => owner.with(make),
            None => make(),
        });
        self.next.update_value(|next| *next += 1);
        self.lines.update(|lines| lines.push(line));
    }

    fn take_out(self, key: usize) {
        self.lines
            .update(|lines| lines.retain(|line| line.key != key));
    }

    /// What the lines say; `None` when one does not read, which is then said at its field.
    pub fn read(self) -> Option<Vec<OrderLine>> {
        let read: Vec<Option<OrderLine>> = self
            .lines
            .get_untracked()
            .into_iter()
            .map(|line| {
                let wanted = line.wanted.read();
                let stems = line.stems.read(|text| read::count(text, 1..=STEMS_MAX));
                let price = line.price.read_if_any(Money::of_typed);
                let per = line.per.read(|text| read::count(text, 1..=STEMS_MAX));
                let (price, per) = (price?, per?);
                Some(OrderLine {
                    price,
                    per: price.map(|_| per).filter(|per| *per > 1),
                    ..OrderLine::new(wanted?, stems?)
                })
            })
            .collect();
        read.into_iter().collect()
    }
}

/// What a line's stems cost.
#[component]
fn PriceFields(line: Line, money: String) -> impl IntoView {
    view! {
        <div class="price">
            <NumberField typed=line.price label="lines.price" unit=money />
            <NumberField typed=line.per label="lines.per" unit=text("lines.per.unit").to_owned() />
        </div>
    }
}

/// The lines with their fields.
#[component]
pub fn LineFields(
    /// The form's.
    lines: Lines,
    /// The key of the label of a line's number.
    label: &'static str,
    /// How far one tap goes.
    by: u32,
    /// Whether a line has a price.
    #[prop(optional)]
    priced: bool,
) -> impl IntoView {
    let store = Store::here();
    let money = store.with_almanac_now(currency);
    view! {
        <ol>
            <For each=move || lines.lines.get() key=|line| line.key let:line>
                <li class="section">
                    <WantedFields typed=line.wanted />
                    <Stepper typed=line.stems label low=1 high=STEMS_MAX by />
                    {priced.then(|| view! { <PriceFields line money=money.clone() /> })}
                    <button
                        class="btn btn--quiet"
                        type="button"
                        on:click=move |_| lines.take_out(line.key)
                    >
                        <Icon name="close" small=true />
                        {text("lines.out")}
                    </button>
                </li>
            </For>
        </ol>
        <button
            class="btn"
            type="button"
            on:click=move |_| lines.add()
        >
            <Icon name="plus" small=true />
            {text("lines.add")}
        </button>
    }
}
