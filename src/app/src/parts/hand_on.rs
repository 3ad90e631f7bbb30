//! Handing a list on: copied as text, printed, and as a file shared or saved.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::words::{Say, text};

use super::{Notice, NoticeKind};
use crate::browser::files::{Handed, Kind, Outgoing};
use crate::browser::{clipboard, page};

/// What became of it.
#[derive(Debug, Clone, PartialEq)]
enum Done {
    Copied,
    NotCopied,
    Saved(String),
    NotSaved,
}

/// A list made ready before the tap: after it, it would be too late for some browsers.
#[derive(Clone)]
pub struct Ready {
    text: String,
    name: String,
    /// The key of the button that hands the file over.
    button: &'static str,
    file: StoredValue<Option<Outgoing>, LocalStorage>,
}

impl Ready {
    /// A list as text, and the same as a table for a spreadsheet.
    pub fn with_table(text: String, name: String, table: &str) -> Self {
        Self {
            file: StoredValue::new_local(Outgoing::new(&name, table, Kind::Csv)),
            text,
            name,
            button: "hand_on.csv",
        }
    }

    /// A list as text, to be shared as it is.
    pub fn of_text(text: String, name: String) -> Self {
        Self {
            file: StoredValue::new_local(Outgoing::new(&name, &text, Kind::Text)),
            text,
            name,
            button: "hand_on.share",
        }
    }
}

/// Buttons for handing a list on.
#[component]
pub fn HandOn(
    /// The list.
    ready: Ready,
) -> impl IntoView {
    let done = RwSignal::new(None::<Done>);
    let Ready {
        text: list,
        name,
        button,
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
                    {text("hand_on.copy")}
                </button>
                <button class="btn" type="button" on:click=save>
                    {text(button)}
                </button>
                <button class="btn" type="button" on:click=|_| page::print()>
                    {text("hand_on.print")}
                </button>
            </div>
            {move || done.get().map(told)}
            <details class="fold" prop:open=is_open>
                <summary class="fold__ask">{text("hand_on.text")}</summary>
                <textarea
                    class="input"
                    readonly
                    rows=lines
                    aria-label=text("hand_on.text")
                    prop:value=shown
                ></textarea>
            </details>
        </div>
    }
}

fn told(done: Done) -> AnyView {
    match done {
        Done::Copied => view! { <Notice kind=NoticeKind::Info head="hand_on.copied" /> }.into_any(),
        Done::NotCopied => {
            view! { <Notice kind=NoticeKind::Caution head="hand_on.copy_by_hand" /> }.into_any()
        }
        Done::Saved(name) => {
            let said = Say::new("hand_on.done").with("name", name);
            view! { <Notice kind=NoticeKind::Info head=said /> }.into_any()
        }
        Done::NotSaved => {
            view! { <Notice kind=NoticeKind::Problem head="hand_on.failed" /> }.into_any()
        }
    }
}
