//! Taking entries from a file: first what would happen, then, if it is wanted, all of it.

use std::collections::{BTreeMap, BTreeSet};

use leptos::ev::Event;
use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;
use season::file::{self, Preview};
use season::ids::DeviceId;
use season::limits::FILE_BYTES_MAX;
use season::words::faults::{kind_key, of_file};
use season::words::{Arg, Say, text};
use season::{Entry, Season};

use super::back_to;
use crate::browser::files::{self, PickError};
use crate::browser::{clock, page};
use crate::parts::{Frame, Icon, Notice, NoticeKind, Section, Words};
use crate::route::{Area, Route, ShedPart};
use crate::store::{Store, Taken};

/// How far taking a file has come.
#[derive(Clone, PartialEq)]
enum Step {
    /// Nothing picked.
    Begin,
    /// Being read.
    Reading,
    /// Not to be taken, and why.
    Refused(Say),
    /// What would happen.
    Preview(Box<Found>),
    /// Taken.
    Taken(Taken),
}

/// What a file holds, against what is here.
#[derive(Clone, PartialEq)]
struct Found {
    file: String,
    from: String,
    preview: Preview,
    /// New entries by device, with the name it goes by.
    devices: Vec<(String, usize)>,
    /// When the first and the last new one was recorded, ms since 1970.
    span_ms: Option<(u64, u64)>,
}

#[component]
pub(super) fn ImportScreen() -> impl IntoView {
    let store = Store::here();
    let step = RwSignal::new(Step::Begin);
    // The field stays the same one while its file is read and refused.
    let picking = Memo::new(move |_| {
        step.with(|step| matches!(step, Step::Begin | Step::Refused(_) | Step::Reading))
    });
    let found = move || match step.get() {
        Step::Preview(found) => Some(view! { <Ask found=*found step /> }.into_any()),
        Step::Taken(taken) => Some(view! { <Done taken /> }.into_any()),
        Step::Begin | Step::Refused(_) | Step::Reading => None,
    };
    view! {
        <Frame title="shed.import" area=Area::Shed back=back_to(ShedPart::Door)>
            {move || {
                store
                    .in_demo()
                    .then(|| {
                        view! { <Notice kind=NoticeKind::Caution head="import.into_demo" /> }
                    })
            }}
            {move || picking.get().then(|| view! { <Pick step /> })}
            {found}
        </Frame>
    }
}

#[component]
fn Pick(step: RwSignal<Step>) -> impl IntoView {
    let store = Store::here();
    let input = NodeRef::<Input>::new();
    let picked = move |_: Event| {
        let Some(input) = input.get_untracked() else {
            return;
        };
        step.set(Step::Reading);
        spawn_local(async move {
            let next = match files::picked(&input, FILE_BYTES_MAX).await {
                Some(picked) => look(store, picked),
                None => Step::Begin,
            };
            step.try_set(next);
            request_animation_frame(|| {
                page::focus("#import-found");
            });
        });
    };
    view! {
        <Section head="import.head">
            <p class="section__lead">{text("import.lead")}</p>
            <div id="import-found" tabindex="-1">
                {move || match step.get() {
                    Step::Refused(why) => {
                        Some(
                            view! {
                                <Notice kind=NoticeKind::Problem head="import.refused" text=why />
                            },
                        )
                    }
                    _ => None,
                }}
            </div>
            <div class="actions">
                <label class="btn btn--primary btn--great">
                    <Icon name="import" />
                    {move || {
                        text(
                            if step.get() == Step::Reading {
                                "import.reading"
                            } else {
                                "import.pick"
                            },
                        )
                    }}
                    // Any name: files come back from mail and chat with all kinds of endings.
                    <input
                        class="visually-hidden"
                        type="file"
                        node_ref=input
                        on:change=picked
                    />
                </label>
            </div>
        </Section>
    }
}

/// Reads a picked file and holds it against the log.
fn look(store: Store, picked: files::Picked) -> Step {
    let bytes = match picked.bytes {
        Ok(bytes) => bytes,
        Err(PickError::TooLarge) => return Step::Refused(of_file(&file::FileError::TooLarge)),
        Err(PickError::Unreadable) => return Step::Refused(Say::new("import.unreadable")),
    };
    let read = match file::read(&bytes) {
        Ok(read) => read,
        Err(error) => return Step::Refused(of_file(&error)),
    };
    let preview = store.with_log_now(|log| file::preview(log, &read, clock::now_ms()));
    let names = names(&store.season_now(), &read);
    let stamps = preview.new.iter().map(|entry| entry.at().ms());
    Step::Preview(Box::new(Found {
        from: if read.device.name.is_empty() {
            text("import.no_name").to_owned()
        } else {
            read.device.name.clone()
        },
        devices: by_device(&preview.new, &names),
        span_ms: stamps.clone().min().zip(stamps.max()),
        file: picked.name,
        preview,
    }))
}

/// Names of devices: as known here, as the file's entries say, and the file's own.
fn names(season: &Season, read: &file::SeasonFile) -> BTreeMap<DeviceId, String> {
    let mut names = season.devices.clone();
    for entry in &read.entries {
        if let season::Fact::Device(f) = entry.fact() {
            names.insert(f.of.clone(), f.name.clone());
        }
    }
    if !read.device.name.is_empty() {
        names.insert(read.device.id.clone(), read.device.name.clone());
    }
    names
}

fn by_device(new: &[Entry], names: &BTreeMap<DeviceId, String>) -> Vec<(String, usize)> {
    let mut counts = BTreeMap::<&DeviceId, usize>::new();
    for entry in new {
        *counts.entry(entry.device()).or_default() += 1;
    }
    let mut devices: Vec<(String, usize)> = counts
        .into_iter()
        .map(|(id, n)| {
            let name = names.get(id).filter(|name| !name.is_empty());
            let name = name.map_or_else(|| text("import.no_name"), String::as_str);
            (name.to_owned(), n)
        })
        .collect();
    devices.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    devices
}

#[component]
fn Ask(found: Found, step: RwSignal<Step>) -> impl IntoView {
    let store = Store::here();
    let wrong = RwSignal::new(None::<Say>);
    let busy = RwSignal::new(false);
    let n = found.preview.new.len();
    let preview = StoredValue::new(found.preview.clone());
    let take = move |_| {
        if busy.get_untracked() {
            return;
        }
        busy.set(true);
        spawn_local(async move {
            let Some(preview) = preview.try_get_value() else {
                return;
            };
            let result = store.take(&preview).await;
            busy.try_set(false);
            match result {
                Ok(taken) => {
                    step.try_set(Step::Taken(taken));
                }
                Err(error) => {
                    wrong.try_set(Some(error.say()));
                }
            }
        });
    };
    let file = found.file.clone();
    view! {
        <Section head="import.would" tally=file>
            <div id="import-found" tabindex="-1">
                <FoundLines found />
            </div>
            {move || {
                wrong
                    .get()
                    .map(|why| {
                        view! { <Notice kind=NoticeKind::Problem head="import.failed" text=why /> }
                    })
            }}
            <div class="actions">
                {(n > 0)
                    .then(|| {
                        let label = Words::from(Say::new("import.take").with("n", n));
                        view! {
                            <button
                                class="btn btn--primary btn--great"
                                type="button"
                                aria-busy=move || busy.get().then_some("true")
                                on:click=take
                            >
                                {move || label.get()}
                            </button>
                        }
                    })}
                <button class="btn" type="button" on:click=move |_| step.set(Step::Begin)>
                    {text(if n > 0 { "import.leave" } else { "import.other" })}
                </button>
            </div>
        </Section>
    }
}

#[component]
fn FoundLines(found: Found) -> impl IntoView {
    let preview = &found.preview;
    let new = preview.new.len();
    let clashes: BTreeSet<&DeviceId> = preview.clashes.iter().map(Entry::device).collect();
    let kinds: Vec<String> = preview
        .kinds
        .iter()
        .map(|(kind, n)| {
            let key = kind_key(kind).unwrap_or("kind.unknown");
            let say = Say::new("import.kind")
                .with("kind", Arg::Key(key))
                .with("n", *n);
            Words::from(say).get()
        })
        .collect();
    let devices: Vec<String> = found
        .devices
        .iter()
        .map(|(name, n)| {
            let say = Say::new("import.device").with("name", name.clone());
            Words::from(say.with("n", *n)).get()
        })
        .collect();
    let span = found.span_ms.and_then(|(first, last)| {
        let manner = Store::here().manner_now();
        let day = |ms| clock::date_of(ms).map(|date| manner.full_date(date));
        Some(
            Say::new("import.span")
                .with("from", day(first)?)
                .with("to", day(last)?),
        )
    });
    let from = Words::from(Say::new("import.from").with("name", found.from.clone()));
    let lines = [
        (new, "import.new", false),
        (preview.known, "import.known", false),
        (preview.clashes.len(), "import.clashes", true),
        (preview.unknown, "import.unknown", false),
        (preview.ahead, "import.ahead", true),
        (preview.new_problems, "import.problems", true),
    ]
    .into_iter()
    .filter(|(n, key, _)| *n > 0 || *key == "import.new")
    .map(|(n, key, cautions)| {
        let class = if cautions {
            "import__line import__line--refused"
        } else {
            "import__line"
        };
        view! {
            <li class=class>
                <span class="import__num">{n}</span>
                <span>{text(key)}</span>
            </li>
        }
    })
    .collect_view();
    view! {
        <p>{move || from.get()} " " {span.map(|say| Words::from(say).get())}</p>
        <ul class="import">{lines}</ul>
        {(!kinds.is_empty()).then(|| view! { <p class="soft">{kinds.join(", ")}</p> })}
        {(devices.len() > 1).then(|| view! { <p class="soft">{devices.join(", ")}</p> })}
        {(!clashes.is_empty())
            .then(|| {
                view! {
                    <Notice
                        kind=NoticeKind::Caution
                        head="import.clash.head"
                        text="import.clash.text"
                    />
                }
            })}
    }
}

#[component]
fn Done(taken: Taken) -> impl IntoView {
    let head = Say::new("import.done").with("n", taken.entries);
    view! {
        <div class="stack">
            <Notice kind=NoticeKind::Info head=head text="import.done.text">
                <a class="btn btn--primary" href=Route::Today.href()>
                    {text("import.to_today")}
                </a>
            </Notice>
            {taken
                .new_device_id
                .then(|| {
                    view! {
                        <Notice
                            kind=NoticeKind::Caution
                            head="import.cloned"
                            text="import.cloned.text"
                        />
                    }
                })}
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::Log;
    use season::fact::DeviceFact;

    #[test]
    fn devices_are_counted_under_the_names_they_go_by() {
        let id = |id: &str| DeviceId::new(id).unwrap();
        let mut log = Log::new();
        for (n, by) in ["a", "a", "b"].into_iter().enumerate() {
            let fact = DeviceFact::new(id(by), format!("Phone {by}"));
            let entry = log.draft(&id(by), 1_800_000_000_000, n as u128, fact.into());
            log.insert(entry.unwrap());
        }
        let entries: Vec<Entry> = log.iter().cloned().collect();
        let read = file::SeasonFile {
            device: file::Origin {
                id: id("a"),
                name: "Kitchen".into(),
            },
            exported_at: String::new(),
            entries: entries.clone(),
        };
        let names = names(&Season::default(), &read);
        let counted = by_device(&entries, &names);
        assert_eq!(counted, [("Kitchen".into(), 2), ("Phone b".into(), 1)]);
        assert_eq!(by_device(&entries, &BTreeMap::new()).len(), 2);
    }
}
