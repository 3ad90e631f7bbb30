//! A figure that says why: opened, it shows what it was made of and where that comes from.

use culture::SourceStatus;
use leptos::prelude::*;
use season::why::{Basis, Reason};
use season::words::text;

use super::Words;
use crate::store::Store;

/// A figure with its basis; opening it shows the chain behind it.
#[component]
pub fn Why(
    /// The figure.
    #[prop(into)]
    figure: Words,
    /// Its unit or noun.
    #[prop(optional, into)]
    unit: Option<Words>,
    /// How far it may be off.
    #[prop(optional, into)]
    span: Option<Words>,
    /// What it rests on.
    basis: Basis,
    /// The chain, first link first.
    reasons: Vec<Reason>,
    /// Set into a line rather than on its own.
    #[prop(optional)]
    inline: bool,
) -> impl IntoView {
    let class = if inline { "why why--inline" } else { "why" };
    view! {
        <details class=class>
            <summary class="why__ask">
                <span class="why__num">{move || figure.get()}</span>
                {unit.map(|unit| view! { <span class="why__unit">{move || unit.get()}</span> })}
                {span.map(|span| view! { <span class="why__span">{move || span.get()}</span> })}
                <BasisMark basis />
            </summary>
            <div class="why__panel">
                <Reasons reasons />
            </div>
        </details>
    }
}

/// What a figure rests on, in a word with its mark.
#[component]
pub fn BasisMark(
    /// What it rests on.
    basis: Basis,
) -> impl IntoView {
    let class = match basis {
        Basis::Measured => "basis basis--measured",
        Basis::Forecast => "basis basis--forecast",
        Basis::Assumed => "basis basis--assumed",
    };
    view! { <span class=class>{text(basis.key())}</span> }
}

/// The links of a chain, each with its basis and sources.
#[component]
pub fn Reasons(
    /// The chain, first link first.
    reasons: Vec<Reason>,
) -> impl IntoView {
    let sources = sources_of(&reasons);
    let links = reasons
        .into_iter()
        .map(|reason| {
            let words = Words::from(reason.say);
            let basis = reason.basis;
            view! {
                <li>
                    {move || words.get()} " " <BasisMark basis />
                </li>
            }
        })
        .collect_view();
    view! {
        <ul class="why__links">{links}</ul>
        <Sources keys=sources />
    }
}

/// Sources by their keys in the crop reference, each with whether it was read.
#[component]
pub fn Sources(
    /// Keys of the crop reference.
    keys: Vec<String>,
) -> impl IntoView {
    let reference = Store::here().reference();
    keys.iter()
        .filter_map(|key| reference.source(key))
        .map(|source| {
            let status = text(status_key(source.status));
            view! {
                <p class="why__source">
                    {text("why.after")} " " <cite>{source.reference.clone()}</cite> " (" {status} ")"
                </p>
            }
        })
        .collect_view()
}

fn sources_of(reasons: &[Reason]) -> Vec<String> {
    let mut keys: Vec<String> = Vec::new();
    for key in reasons.iter().flat_map(|reason| &reason.sources) {
        if !keys.contains(key) {
            keys.push(key.clone());
        }
    }
    keys
}

fn status_key(status: SourceStatus) -> &'static str {
    match status {
        SourceStatus::Read => "source.read",
        SourceStatus::PartRead => "source.part_read",
        SourceStatus::Memory => "source.memory",
        SourceStatus::Practice => "source.practice",
        SourceStatus::Derived => "source.derived",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::words::Say;

    #[test]
    fn each_source_is_named_once_in_the_order_of_the_chain() {
        let reason = |keys: &[&str]| {
            keys.iter()
                .fold(Reason::assumed(Say::new("x")), |r, key| r.from_source(key))
        };
        let chain = [reason(&["B", "A"]), reason(&[]), reason(&["A", "C"])];
        assert_eq!(sources_of(&chain), ["B", "A", "C"]);
    }
}
