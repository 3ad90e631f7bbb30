//! How safe the data is in this browser, in words.

use leptos::prelude::*;
use season::words::{Arg, Say};
use vault::durability::{Persisted, estimate};

use crate::browser::boot::Told;
use crate::parts::{Notice, NoticeKind, Section, Words};
use crate::store::Store;

/// Bytes of a megabyte, as devices count their storage.
const MB: f64 = 1_000_000.0;

/// Whether the browser promised to keep the data, how much it is, and whether the app works without a signal.
#[component]
pub(super) fn Safety() -> impl IntoView {
    let store = Store::here();
    let used = LocalResource::new(estimate);
    let used = move || {
        let (bytes, _) = used.get().flatten()?;
        let say = Say::new("safety.used").with("n", Arg::Decimal(bytes as f64 / MB, 1));
        Some(say.write(store.manner()))
    };
    let promise = move || {
        Words::from(if store.in_memory() {
            "safety.memory"
        } else {
            match store.persisted() {
                Some(Persisted::Yes) => "safety.promised",
                Some(Persisted::No) => "safety.not_promised",
                Some(Persisted::Unknown) | None => "safety.unknown",
            }
        })
        .get()
    };
    let offline = move || {
        Words::from(if store.was_told(Told::OfflineReady) {
            "safety.offline"
        } else if store.was_told(Told::OfflineRefused) {
            "safety.no_offline"
        } else {
            "safety.offline_soon"
        })
        .get()
    };
    view! {
        <Section head="safety.head">
            <div class="stack">
                <p>{promise} " " {used}</p>
                <p>{offline}</p>
                {move || {
                    let n = store.unreadable();
                    (n > 0)
                        .then(|| {
                            let head = Say::new("safety.unreadable").with("n", n);
                            view! {
                                <Notice
                                    kind=NoticeKind::Problem
                                    head=head
                                    text="safety.unreadable.text"
                                />
                            }
                        })
                }}
                {move || {
                    let n = store.season().unknown;
                    (n > 0)
                        .then(|| {
                            let head = Say::new("safety.newer").with("n", n);
                            view! {
                                <Notice
                                    kind=NoticeKind::Caution
                                    head=head
                                    text="safety.newer.text"
                                />
                            }
                        })
                }}
            </div>
        </Section>
    }
}
