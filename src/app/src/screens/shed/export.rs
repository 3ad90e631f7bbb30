//! Writing all entries to a file and handing it over.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::file::{self, Origin};
use season::ids::DeviceId;
use season::words::{Arg, Say, text};

use super::back_to;
use crate::browser::clock;
use crate::browser::files::{Handed, Kind, Outgoing, Way};
use crate::parts::{Frame, Notice, NoticeKind, Section, Words};
use crate::route::{Area, ShedPart};
use crate::store::Store;

/// A file that is ready to be handed over.
#[derive(Clone)]
struct Ready {
    file: StoredValue<Outgoing, LocalStorage>,
    name: String,
    entries: usize,
    kilobytes: f64,
    way: Way,
    /// When it was made, ms since 1970.
    made_ms: u64,
}

/// Makes the file now: after the tap it would be too late for some browsers.
fn prepare(store: Store) -> Option<Ready> {
    let device = store.device()?;
    let origin = Origin {
        id: DeviceId::new(device.id).ok()?,
        name: device.name,
    };
    let made_ms = clock::now_ms();
    let exported_at = clock::now_rfc3339();
    let (text, entries) = store.with_log(|log| {
        let text = file::write(log, &origin, &exported_at);
        (text, log.len())
    });
    let text = text.ok()?;
    let day = clock::today();
    let name = if store.in_demo() {
        format!("stemtide-demo-{day}.json")
    } else {
        format!("stemtide-{day}.json")
    };
    let file = Outgoing::new(&name, &text, Kind::Json)?;
    Some(Ready {
        way: file.way(),
        file: StoredValue::new_local(file),
        name,
        entries,
        kilobytes: text.len() as f64 / 1_000.0,
        made_ms,
    })
}

#[component]
pub(super) fn ExportScreen() -> impl IntoView {
    let store = Store::here();
    let handed = RwSignal::new(None::<(Handed, Way)>);
    let body = move || match prepare(store) {
        Some(ready) => view! { <HandOver ready handed /> }.into_any(),
        None => view! {
            <Notice kind=NoticeKind::Problem head="export.failed" text="export.no_file" />
        }
        .into_any(),
    };
    view! {
        <Frame title="shed.export" area=Area::Shed back=back_to(ShedPart::Door)>
            <Section head="export.head">
                <p class="section__lead">{text("export.lead")}</p>
                {body}
                {move || {
                    handed.get().and_then(|(how, way)| told(how, way))
                }}
            </Section>
        </Frame>
    }
}

fn told(how: Handed, way: Way) -> Option<AnyView> {
    match (how, way) {
        (Handed::Done, Way::Download) => Some(
            view! { <Notice kind=NoticeKind::Info head="export.download" text="export.check" /> }
                .into_any(),
        ),
        (Handed::Done, _) => Some(
            view! { <Notice kind=NoticeKind::Info head="export.done" text="export.check" /> }
                .into_any(),
        ),
        (Handed::NotWanted, _) => None,
        (Handed::Failed, _) => Some(
            view! { <Notice kind=NoticeKind::Problem head="export.failed" text="export.other_way" /> }
                .into_any(),
        ),
    }
}

#[component]
fn HandOver(ready: Ready, handed: RwSignal<Option<(Handed, Way)>>) -> impl IntoView {
    let store = Store::here();
    let what = Words::from(
        Say::new("export.what")
            .with("name", ready.name.clone())
            .with("n", ready.entries)
            .with("kb", Arg::Decimal(ready.kilobytes, 0)),
    );
    let (file, made_ms) = (ready.file, ready.made_ms);
    let hand_over = move |way: Way| {
        let Some(file) = file.try_get_value() else {
            return;
        };
        spawn_local(async move {
            let how = file.hand_over(way).await;
            handed.try_set(Some((how, way)));
            if how == Handed::Done && !store.in_demo_now() {
                store.choose(|prefs| prefs.exported_ms = Some(made_ms));
            }
        });
    };
    let way = ready.way;
    let main = match way {
        Way::Share => "export.share",
        Way::Picker => "export.save",
        Way::Download => "export.do_download",
    };
    view! {
        <p>{move || what.get()}</p>
        <div class="actions">
            <button
                class="btn btn--primary btn--great"
                type="button"
                on:click=move |_| hand_over(way)
            >
                {text(main)}
            </button>
            {(way != Way::Download)
                .then(|| {
                    view! {
                        <button
                            class="btn"
                            type="button"
                            on:click=move |_| hand_over(Way::Download)
                        >
                            {text("export.do_download")}
                        </button>
                    }
                })}
        </div>
    }
}
