//! What the app has to tell, between two rules.

use leptos::prelude::*;

use super::{Icon, Words};

/// How much it matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoticeKind {
    /// Good to know.
    Info,
    /// Take care.
    Caution,
    /// Something did not work.
    Problem,
}

/// A notice, with its actions as children.
#[component]
pub fn Notice(
    /// How much it matters.
    kind: NoticeKind,
    /// In a few words.
    #[prop(into)]
    head: Words,
    /// What it means and what to do.
    #[prop(optional, into)]
    text: Option<Words>,
    /// Buttons or links.
    #[prop(optional)]
    children: Option<Children>,
) -> impl IntoView {
    let (class, icon, role) = match kind {
        NoticeKind::Info => ("notice notice--info", "info", "status"),
        NoticeKind::Caution => ("notice notice--caution", "caution", "status"),
        NoticeKind::Problem => ("notice notice--problem", "caution", "alert"),
    };
    view! {
        <div class=class role=role>
            <Icon name=icon />
            <p class="notice__head">{move || head.get()}</p>
            {text.map(|text| view! { <p>{move || text.get()}</p> })}
            {children.map(|children| view! { <div class="actions">{children()}</div> })}
        </div>
    }
}
