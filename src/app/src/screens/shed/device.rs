//! This device: its name, colours, units, and the installed app.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::words::{Say, text};
use vault::DEVICE_NAME_BYTES_MAX;
use vault::prefs::{Theme, Units};

use super::back_to;
use super::safety::Safety;
use crate::browser::boot::{self, Told};
use crate::browser::page;
use crate::parts::{
    Choice, Frame, Notice, NoticeKind, Picked, Section, TextField, Typed, Words, read,
};
use crate::route::{Area, ShedPart};
use crate::store::Store;

#[component]
pub(super) fn DeviceScreen() -> impl IntoView {
    view! {
        <Frame title="shed.device" area=Area::Shed back=back_to(ShedPart::Door)>
            <div class="spread">
                <div class="leaf">
                    <Choices />
                    <Name />
                </div>
                <div class="leaf">
                    <Installed />
                    <Safety />
                </div>
            </div>
        </Frame>
    }
}

#[component]
fn Choices() -> impl IntoView {
    let store = Store::here();
    let prefs = store.prefs_now();
    let (theme, units) = (
        Typed::new(prefs.theme.word()),
        Typed::new(prefs.units.word()),
    );
    let forgotten = RwSignal::new(false);
    let choose_theme = Callback::new(move |word: String| {
        if let Some(theme) = Theme::parse(&word) {
            forgotten.set(!store.choose(|prefs| prefs.theme = theme));
        }
    });
    let choose_units = Callback::new(move |word: String| {
        if let Some(units) = Units::parse(&word) {
            forgotten.set(!store.choose(|prefs| prefs.units = units));
        }
    });
    let themes = vec![
        Picked::new(Theme::Auto.word(), "theme.auto"),
        Picked::new(Theme::Light.word(), "theme.light"),
        Picked::new(Theme::Dark.word(), "theme.dark"),
        Picked::new(Theme::Sunlight.word(), "theme.sunlight"),
    ];
    let both = vec![
        Picked::new(Units::Metric.word(), "units.metric"),
        Picked::new(Units::Us.word(), "units.us"),
    ];
    view! {
        <Section head="device.choices">
            <Choice typed=theme label="device.theme" options=themes on_pick=choose_theme />
            <Choice typed=units label="device.units" options=both on_pick=choose_units />
            {move || {
                forgotten
                    .get()
                    .then(|| {
                        view! {
                            <Notice kind=NoticeKind::Caution head="device.forgotten" />
                        }
                    })
            }}
        </Section>
    }
}

#[component]
fn Name() -> impl IntoView {
    let store = Store::here();
    let device = store.device_now();
    let name = Typed::new(device.map(|d| d.name).unwrap_or_default());
    let wrong = RwSignal::new(None::<Say>);
    let busy = RwSignal::new(false);
    let save = move |_| {
        let read = name.read(|text| {
            read::name(text).and_then(|name| {
                if name.len() > DEVICE_NAME_BYTES_MAX {
                    Err(Say::new("device.name.long"))
                } else {
                    Ok(name)
                }
            })
        });
        let Some(typed) = read.filter(|_| !busy.get_untracked()) else {
            return;
        };
        busy.set(true);
        spawn_local(async move {
            let result = store.name_device(typed).await;
            busy.try_set(false);
            wrong.try_set(result.err().map(|error| error.say()));
        });
    };
    view! {
        <Section head="device.name.head">
            <TextField typed=name label="device.name" hint="device.name.hint" />
            {move || {
                wrong
                    .get()
                    .map(|why| {
                        view! {
                            <Notice kind=NoticeKind::Problem head="saver.not_saved" text=why />
                        }
                    })
            }}
            <div class="actions">
                <button
                    class="btn"
                    type="button"
                    aria-busy=move || busy.get().then_some("true")
                    on:click=save
                >
                    {text("device.name.save")}
                </button>
            </div>
        </Section>
    }
}

#[component]
fn Installed() -> impl IntoView {
    let store = Store::here();
    let install = move |_| {
        boot::install();
        // An offer is good for one asking; the browser makes another if it wants.
        store.untell(Told::CanInstall);
    };
    let body = move || {
        if store.was_told(Told::CanInstall) {
            view! {
                <p>{text("install.offer")}</p>
                <div class="actions">
                    <button class="btn" type="button" on:click=install>
                        {text("install.do")}
                    </button>
                </div>
            }
            .into_any()
        } else if store.was_told(Told::Installed) || page::is_installed() {
            view! { <p>{text("install.done")}</p> }.into_any()
        } else {
            view! { <p>{text("install.how")}</p> }.into_any()
        }
    };
    let build = page::build().unwrap_or_default();
    let build = Words::from(Say::new("install.build").with("build", build));
    view! {
        <Section head="install.head">
            {body} <p class="soft small">{move || build.get()}</p>
        </Section>
    }
}
