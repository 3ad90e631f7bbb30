//! Handing the order on: printed, copied as text, saved for a spreadsheet.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::seed::{SeedOrder, as_csv, as_text};
use season::words::{Say, text};

use crate::browser::files::{Handed, Kind, Outgoing};
use crate::browser::{clipboard, page};
use crate::parts::{Notice, NoticeKind};
use crate::store::Store;

/// What became of it.
#[derive(Debug, Clone, PartialEq)]
enum Done {
    Copied,
    NotCopied,
    Saved(String),
    NotSaved,
}

/// The order's texts, made before the tap: after it, it would be too late for some browsers.
#[derive(Clone)]
struct Ready {
    text: String,
    name: String,
    file: StoredValue<Option<Outgoing>, LocalStorage>,
}

fn prepare(store: Store, order: &SeedOrder) -> Ready {
    let manner = store.manner();
    let (text, table) = store.with_almanac(|almanac| {
        let text = as_text(almanac, order, manner);
        (text, as_csv(almanac, order))
    });
    let name = format!("stemtide-seed-{}.csv", store.today());
    Ready {
        file: StoredValue::new_local(Outgoing::new(&name, &table, Kind::Csv)),
        text,
        name,
    }
}

/// Buttons for handing the order on.
#[component]
pub(super) fn HandOn(
    /// The order; none before it is reckoned.
    order: Memo<Option<SeedOrder>>,
) -> impl IntoView {
    let store = Store::here();
    let done = RwSignal::new(None::<Done>);
    move || {
        let order = order.get().filter(|order| !order.lines.is_empty())?;
        let ready = prepare(store, &order);
        Some(view! { <Buttons ready done /> })
    }
}

#[component]
fn Buttons(ready: Ready, done: RwSignal<Option<Done>>) -> impl IntoView {
    let Ready {
        text: list,
        name,
        file,
    } = ready;
    let shown = list.clone();
    let copy = move |_| {
        let list = list.clone();
        spawn_local(async move {
            let copied = clipboard::copy(&list).await;
            done.try_set(Some(if copied {
                Done::Copied
            } else {
                Done::NotCopied
            }));
        });
    };
    let save = move |_| {
        let name = name.clone();
        let Some(file) = file.try_get_value().flatten() else {
            return done.set(Some(Done::NotSaved));
        };
        spawn_local(async move {
            let way = file.way();
            let told = match file.hand_over(way).await {
                Handed::Done => Some(Done::Saved(name)),
                Handed::NotWanted => None,
                Handed::Failed => Some(Done::NotSaved),
            };
            done.try_set(told);
        });
    };
    let lines = shown.lines().count().clamp(4, 24);
    let is_open = move || done.with(|done| *done == Some(Done::NotCopied));
    view! {
        <div class="no-print">
            <div class="actions">
                <button class="btn btn--primary" type="button" on:click=copy>
                    {text("seed.copy")}
                </button>
                <button class="btn" type="button" on:click=save>
                    {text("seed.csv")}
                </button>
                <button class="btn" type="button" on:click=|_| page::print()>
                    {text("seed.print")}
                </button>
            </div>
            {move || done.get().map(told)}
            <details class="fold" prop:open=is_open>
                <summary class="fold__ask">{text("seed.text")}</summary>
                <textarea
                    class="input"
                    readonly
                    rows=lines
                    aria-label=text("seed.text")
                    prop:value=shown
                ></textarea>
            </details>
        </div>
    }
}

fn told(done: Done) -> AnyView {
    match done {
        Done::Copied => view! { <Notice kind=NoticeKind::Info head="seed.copied" /> }.into_any(),
        Done::NotCopied => {
            view! { <Notice kind=NoticeKind::Caution head="seed.copy_by_hand" /> }.into_any()
        }
        Done::Saved(name) => {
            let said = Say::new("seed.csv.done").with("name", name);
            view! { <Notice kind=NoticeKind::Info head=said /> }.into_any()
        }
        Done::NotSaved => {
            view! { <Notice kind=NoticeKind::Problem head="seed.csv.failed" /> }.into_any()
        }
    }
}
