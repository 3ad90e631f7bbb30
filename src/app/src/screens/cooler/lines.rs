//! Lines of stems in a form: of an order or a recipe. Lines are added and taken out while it is filled in.

use leptos::prelude::*;
use season::fact::{OrderLine, Wanted};
use season::limits::STEMS_MAX;
use season::words::text;

use crate::parts::read;
use crate::parts::{Icon, Stepper, Typed};
use crate::screens::wanted::{WantedFields, WantedTyped};

/// One line's fields.
#[derive(Clone, Copy)]
struct Line {
    key: usize,
    wanted: WantedTyped,
    stems: Typed,
}

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
            lines.add(&line.wanted, &line.stems.to_string());
        }
        lines
    }

    /// One more line.
    pub fn add(self, wanted: &Wanted, stems: &str) {
        let make = || Line {
            key: self.next.get_value(),
            wanted: WantedTyped::new(wanted),
            stems: Typed::new(stems),
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
                Some(OrderLine {
                    wanted: wanted?,
                    stems: stems?,
                    price: None,
                    per: None,
                })
            })
            .collect();
        read.into_iter().collect()
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
) -> impl IntoView {
    view! {
        <ol>
            <For each=move || lines.lines.get() key=|line| line.key let:line>
                <li class="section">
                    <WantedFields typed=line.wanted />
                    <Stepper typed=line.stems label low=1 high=STEMS_MAX by />
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
            on:click=move |_| lines.add(&Wanted::default(), "")
        >
            <Icon name="plus" small=true />
            {text("lines.add")}
        </button>
    }
}
