//! A week's stems: its number, a bar as wide as they are uncertain, and a mark.

use leptos::prelude::*;
use season::words::text;

/// The week's number with its first day.
#[component]
pub fn WeekNumber(
    /// Its number.
    number: u32,
    /// Its first day, in words.
    begins: String,
) -> impl IntoView {
    view! {
        <p class="supply__no">
            <span class="visually-hidden">{text("supply.week")} " "</span>
            {number}
            <small>{begins}</small>
        </p>
    }
}

/// The bar: solid to what is sure, close dashes to what is likely, wide ones to what may be.
#[component]
pub fn StemsBar(
    /// 10, 50 and 90 in 100, percent of the ground.
    bar: [f64; 3],
    /// Where a mark stands, percent, and its class.
    #[prop(optional)]
    mark: Option<(f64, &'static str)>,
) -> impl IntoView {
    let at = |x: f64| format!("{x:.1}%");
    let [low, mid, high] = bar.map(at);
    let mark = mark.map(|(x, class)| {
        view! { <line class=class x1=at(x) x2=at(x) y1="0" y2="28"></line> }
    });
    view! {
        <svg class="supply__bar" aria-hidden="true">
            <line class="supply__sure" x1="0" x2=low.clone() y1="14" y2="14"></line>
            <line class="supply__likely" x1=low x2=mid.clone() y1="14" y2="14"></line>
            <line class="supply__maybe" x1=mid x2=high y1="14" y2="14"></line>
            {mark}
        </svg>
    }
}
