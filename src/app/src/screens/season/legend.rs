//! What the marks of a drawing mean.

use leptos::prelude::*;
use season::words::text;

/// A mark as it is drawn, by the class of its look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// A stroke along the ground.
    Stroke(&'static str),
    /// A field.
    Field(&'static str),
}

/// Each mark beside its word, given by its key.
#[component]
pub fn Legend(marks: Vec<(Mark, &'static str)>) -> impl IntoView {
    let lines = marks
        .into_iter()
        .map(|(mark, key)| {
            let drawn = match mark {
                Mark::Stroke(class) => {
                    view! { <line class=class x1="2" x2="38" y1="12" y2="12"></line> }.into_any()
                }
                Mark::Field(class) => {
                    view! { <rect class=class x="2" y="4" width="36" height="16"></rect> }
                        .into_any()
                }
            };
            view! {
                <li>
                    <svg aria-hidden="true">{drawn}</svg>
                    {text(key)}
                </li>
            }
        })
        .collect_view();
    view! { <ul class="year__legend">{lines}</ul> }
}
