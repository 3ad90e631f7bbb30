//! The part of the screen that looks at labels: the camera's picture, a photo instead, and what came of either.

use leptos::ev::Event;
use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;
use season::words::text;

use super::sight::{Outcome, Sight, Step};
use crate::parts::{Icon, Notice, NoticeKind, Section};
use crate::route::{Route, ShedPart};
use crate::scan::camera::CameraError;
use crate::scan::decode::ScanError;
use crate::scan::photo::{self, PhotoError};

/// Finding a tray by its label.
#[component]
pub(super) fn ByLabel() -> impl IntoView {
    let sight = Sight::new();
    let off = move || sight.step.get() != Step::Looking;
    view! {
        <Section head="scan.head">
            <Told sight />
            <video
                class="scan__video"
                aria-label=text("scan.video")
                node_ref=sight.video
                hidden=off
            ></video>
            <p class="soft" role="status">
                {move || match sight.step.get() {
                    Step::Off => "",
                    Step::Asking => text("scan.asking"),
                    Step::Reading => text("scan.reading"),
                    Step::Looking if sight.torn.get() => text("scan.torn_live"),
                    Step::Looking => text("scan.looking"),
                }}
            </p>
            <div class="actions">
                <Toggle sight /> <Photo sight />
            </div>
        </Section>
    }
}

#[component]
fn Toggle(sight: Sight) -> impl IntoView {
    let on = move || matches!(sight.step.get(), Step::Asking | Step::Looking);
    let toggle = move |_| {
        if on() {
            sight.stop();
        } else {
            sight.start();
        }
    };
    view! {
        <button class="btn" type="button" on:click=toggle>
            {move || text(if on() { "scan.stop" } else { "scan.start" })}
        </button>
    }
}

/// For a camera that is refused to pages, and for labels photographed at the bench.
#[component]
fn Photo(sight: Sight) -> impl IntoView {
    let input = NodeRef::<Input>::new();
    let picked = move |_: Event| {
        let Some(input) = input.get_untracked() else {
            return;
        };
        let Some(file) = input.files().and_then(|files| files.get(0)) else {
            return;
        };
        // So that picking the same photo again is a change again.
        input.set_value("");
        sight.stop();
        sight.outcome.set(None);
        sight.step.set(Step::Reading);
        spawn_local(async move {
            let read = photo::read(&file).await;
            sight.photo(read);
        });
    };
    view! {
        <label class="btn">
            <Icon name="import" small=true />
            {text("scan.photo")}
            <input
                class="visually-hidden"
                type="file"
                accept="image/*"
                node_ref=input
                on:change=picked
            />
        </label>
    }
}

/// Why no tray was opened, and what to do.
#[component]
fn Told(sight: Sight) -> impl IntoView {
    move || {
        sight.outcome.get().map(|outcome| {
            let (head, why) = words(outcome);
            let elsewhere = (outcome == Outcome::Unknown).then(|| {
                view! {
                    <div class="actions">
                        <a class="btn" href=Route::Shed(ShedPart::Import).href()>
                            {text("scan.unknown.go")}
                        </a>
                    </div>
                }
            });
            view! {
                <Notice kind=NoticeKind::Caution head=head text=why />
                {elsewhere}
            }
        })
    }
}

/// The keys of what an outcome is called and of what to do about it.
fn words(outcome: Outcome) -> (&'static str, &'static str) {
    match outcome {
        Outcome::Camera(CameraError::Missing) => ("scan.no_camera", "scan.no_camera.text"),
        Outcome::Camera(CameraError::Refused) => ("scan.refused", "scan.refused.text"),
        Outcome::Camera(CameraError::Busy) => ("scan.busy", "scan.busy.text"),
        Outcome::Photo(PhotoError::NoPicture) => ("scan.no_picture", "scan.no_picture.text"),
        Outcome::Photo(PhotoError::Scan(ScanError::NoCode)) => {
            ("scan.no_code", "scan.no_code.text")
        }
        Outcome::Photo(PhotoError::Scan(ScanError::Torn)) => ("scan.torn", "scan.torn.text"),
        Outcome::Unknown => ("scan.unknown", "scan.unknown.text"),
        Outcome::NotOurs => ("scan.not_ours", "scan.not_ours.text"),
    }
}
