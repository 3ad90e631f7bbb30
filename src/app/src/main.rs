//! Stemtide in the browser.
use leptos::prelude::*;
fn main() {
    leptos::mount::mount_to_body(|| view! { <p>"Stemtide"</p> });
}
