//! The least that Leptos can show, in the app's own shell: what cold starts are set beside.

use leptos::prelude::*;

fn main() {
    mount_to_body(|| view! { <main class="frame">"Nothing here."</main> });
}
