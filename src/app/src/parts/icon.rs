//! Icons of the page's sprite.

use leptos::prelude::*;

/// An icon beside words that say the same. Alone in a button, the button needs a label.
#[component]
pub fn Icon(
    /// Its name in the sprite, without `i-`.
    name: &'static str,
    /// 18 px instead of 24.
    #[prop(optional)]
    small: bool,
) -> impl IntoView {
    let class = if small { "icon icon--small" } else { "icon" };
    view! {
        <svg class=class aria-hidden="true">
            <use_ href=format!("#i-{name}")></use_>
        </svg>
    }
}
