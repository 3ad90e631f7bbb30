//! The mark in hand, and what each mark looks like.

use leptos::prelude::*;
use season::cells::Mark;
use season::words::text;

use super::Bench;

/// Marks that can be taken in hand.
const BRUSHES: [Mark; 4] = [Mark::Up, Mark::Empty, Mark::Two, Mark::Lost];

/// What a mark is called in the style sheet.
pub fn state(mark: Mark) -> &'static str {
    match mark {
        Mark::Unseen => "unseen",
        Mark::Empty => "empty",
        Mark::Up => "up",
        Mark::Two => "double",
        Mark::Lost => "lost",
    }
}

/// Which mark is in hand.
#[component]
pub(super) fn Brushes(bench: Bench) -> impl IntoView {
    let buttons = BRUSHES
        .into_iter()
        .map(|mark| {
            view! {
                <button
                    class="brush"
                    type="button"
                    aria-pressed=move || (bench.brush.get() == mark).to_string()
                    on:click=move |_| bench.brush.set(mark)
                >
                    <span class="cell cell--sample" data-state=state(mark) aria-hidden="true"></span>
                    {text(mark.key())}
                </button>
            }
        })
        .collect_view();
    view! {
        <div class="brushes" role="group" aria-label=text("count.in_hand")>
            {buttons}
        </div>
    }
}

/// How to go about it without a finger.
#[component]
pub(super) fn Legend() -> impl IntoView {
    view! { <p class="soft">{text("count.keys")}</p> }
}
