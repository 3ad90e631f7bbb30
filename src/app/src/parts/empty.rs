//! What a place shows while there is nothing in it: what it is for, and the first thing to do.

use leptos::prelude::*;

use super::Words;

/// A drawing for an empty place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drawing {
    /// Sun over the tide.
    Today,
    /// A tray with seedlings.
    Bench,
    /// Beds to the horizon.
    Beds,
    /// A bucket of stems.
    Cooler,
    /// Stems under a curve.
    Season,
}

impl Drawing {
    /// Its lines, on a ground of 240 by 90; the second ones dotted, the third ones thick.
    fn lines(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Today => (
                "M4 70c29 0 29-14 58-14s29 14 58 14 29-14 58-14 29 14 58 14M80 57a40 40 0 0 1 80 0M120 8v-4M82 22l-4-4M158 22l4-4",
                "",
                "",
            ),
            Self::Bench => (
                "M20 66h200l-10 18H30zM70 66v18M120 66v18M170 66v18M45 66V52M45 54c0-7-5-11-13-11 0 7 5 11 13 11Zm0 0c0-7 5-11 13-11 0 7-5 11-13 11ZM95 66V46M95 48c0-8-6-13-15-13 0 8 6 13 15 13Zm0 0c0-8 6-13 15-13 0 8-6 13-15 13ZM145 66V58M145 59c0-5-4-8-9-8 0 5 4 8 9 8Zm0 0c0-5 4-8 9-8 0 5-4 8-9 8ZM195 66v-2M4 86h232",
                "",
                "",
            ),
            Self::Beds => (
                "M40 20h160l36 66H4zM80 20 60 86M120 20v66M160 20l20 66",
                "M28 42h184M18 61h204",
                "",
            ),
            Self::Cooler => (
                "M80 44h80l-11 42H91zM84 60c12 0 12-5 24-5s12 5 24 5 12-5 24-5M104 44 92 12M120 44V4M136 44l12-32M112 44l-6-22M130 44l8-26M110 6c0-3 4-4 10-4s10 1 10 4c0 6-4 10-10 10s-10-4-10-10Z",
                "",
                "",
            ),
            Self::Season => (
                "M4 80h232M4 62c40 0 46-50 92-50s52 50 140 50",
                "",
                "M40 80V62M64 80V44M88 80V30M112 80V30M136 80V44M160 80V56M184 80V66",
            ),
        }
    }
}

/// An empty place, with the ways on as children.
#[component]
pub fn Empty(
    /// Its drawing.
    drawing: Drawing,
    /// What is not there yet.
    #[prop(into)]
    head: Words,
    /// What will stand here, and what to do first.
    #[prop(into)]
    text: Words,
    /// Links or buttons.
    children: Children,
) -> impl IntoView {
    let (lines, dotted, thick) = drawing.lines();
    view! {
        <div class="empty">
            <svg class="empty__drawing" viewBox="0 0 240 90" aria-hidden="true">
                <path d=lines />
                <path d=dotted stroke-dasharray="0 9" stroke-width="4" />
                <path d=thick stroke-width="2.5" />
            </svg>
            <h2 class="empty__head">{move || head.get()}</h2>
            <p>{move || text.get()}</p>
            <div class="actions">{children()}</div>
        </div>
    }
}
