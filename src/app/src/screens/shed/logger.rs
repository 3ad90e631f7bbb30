//! Temperatures from a data logger's file: what it holds is told first, then its days are kept.

use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;
use season::Fact;
use season::fact::{SpaceKind, TemperatureFact};
use season::ids::SpaceId;
use season::logger::{Choice, LoggerError, Reading, UnitSaid, read};
use season::words::{Arg, Say, text};

use super::back_to;
use crate::browser::files::{self, PickError};
use crate::browser::page;
use crate::parts::{
    Choice as Choose, Frame, Icon, Notice, NoticeKind, Picked, SaveButton, SaveProblem, Saver,
    Section, SelectField, Typed, Words,
};
use crate::route::{Area, ShedPart};
use crate::store::Store;

/// A season of 15-minute rows of many probes stays below it.
const BYTES_MAX: usize = 64 * 1024 * 1024;
/// Days that are shown of those that were read.
const SHOWN: usize = 5;

/// How far taking a file has come.
#[derive(Clone, PartialEq)]
enum Step {
    Begin,
    Reading,
    Refused(Say),
    Read(StoredValue<Vec<u8>>, String),
    Kept(usize),
}

/// What the grower says about the file.
#[derive(Clone, Copy)]
struct Told {
    column: Typed,
    unit: Typed,
    order: Typed,
    space: Typed,
}

impl Told {
    fn new() -> Self {
        Self {
            column: Typed::new(""),
            unit: Typed::new(""),
            order: Typed::new(""),
            space: Typed::new(""),
        }
    }

    fn choice(self, store: Store) -> Choice {
        Choice {
            column: self.column.text().parse().ok(),
            fahrenheit: match self.unit.text().as_str() {
                "f" => Some(true),
                "c" => Some(false),
                _ => None,
            },
            day_first: match self.order.text().as_str() {
                "day" => Some(true),
                "month" => Some(false),
                _ => None,
            },
            today: Some(store.today()),
        }
    }
}

#[component]
pub(super) fn LoggerScreen() -> impl IntoView {
    let step = RwSignal::new(Step::Begin);
    let told = Told::new();
    // The field stays the same one while its file is read and refused.
    view! {
        <Frame title="shed.logger" area=Area::Shed back=back_to(ShedPart::Door)>
            <Pick step told />
            <div id="logger-found" tabindex="-1">
                {move || match step.get() {
                    Step::Refused(why) => {
                        view! { <Notice kind=NoticeKind::Problem head="logger.refused" text=why /> }
                            .into_any()
                    }
                    Step::Read(bytes, name) => {
                        view! { <Found bytes name told step /> }.into_any()
                    }
                    Step::Kept(n) => {
                        let said = Say::new("logger.kept").with("n", n);
                        view! { <Notice kind=NoticeKind::Info head=said /> }.into_any()
                    }
                    Step::Begin | Step::Reading => ().into_any(),
                }}
            </div>
        </Frame>
    }
}

#[component]
fn Pick(step: RwSignal<Step>, told: Told) -> impl IntoView {
    let input = NodeRef::<Input>::new();
    let picked = move |_| {
        let Some(input) = input.get_untracked() else {
            return;
        };
        step.set(Step::Reading);
        spawn_local(async move {
            let next = match files::picked(&input, BYTES_MAX).await {
                None => Step::Begin,
                Some(picked) => match picked.bytes {
                    Ok(bytes) => Step::Read(StoredValue::new(bytes), picked.name),
                    Err(PickError::TooLarge) => Step::Refused(LoggerError::TooLarge.say()),
                    Err(PickError::Unreadable) => Step::Refused(Say::new("import.unreadable")),
                },
            };
            // Another file, other answers; where it hung stays.
            for typed in [told.column, told.unit, told.order] {
                typed.put("");
            }
            step.try_set(next);
            request_animation_frame(|| {
                page::focus("#logger-found");
            });
        });
    };
    let label = move || {
        text(if step.get() == Step::Reading {
            "import.reading"
        } else {
            "logger.pick"
        })
    };
    view! {
        <Section head="logger.head">
            <p class="section__lead">{text("logger.lead")}</p>
            <div class="actions">
                <label class="btn btn--primary btn--great">
                    <Icon name="import" />
                    {label}
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

#[component]
fn Found(
    bytes: StoredValue<Vec<u8>>,
    name: String,
    told: Told,
    step: RwSignal<Step>,
) -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let found = Memo::new(move |_| {
        let choice = told.choice(store);
        bytes.with_value(|bytes| read(bytes, &choice))
    });
    // What the file itself leaves open, whatever was answered since.
    let open = Memo::new(move |_| {
        let choice = Choice {
            column: told.column.text().parse().ok(),
            today: Some(store.today()),
            ..Choice::default()
        };
        bytes.with_value(|bytes| read(bytes, &choice)).ok()
    });
    let save = Callback::new(move |()| {
        let space = SpaceId::new(told.space.text_now()).ok();
        let facts: Vec<Fact> = found.with_untracked(|read| {
            let days = read.as_ref().map(|read| read.days.as_slice());
            let days = days.unwrap_or_default().iter();
            days.map(|day| {
                TemperatureFact {
                    mean_c: Some(day.mean_c),
                    space: space.clone(),
                    ..TemperatureFact::new(day.min_c, day.max_c, day.date)
                }
                .into()
            })
            .collect()
        });
        let n = facts.len();
        saver.save(facts, move |_| {
            step.try_set(Step::Kept(n));
            request_animation_frame(|| {
                page::focus("#logger-found");
            });
        });
    });
    let head = Words::from(name);
    view! {
        {move || open.get().map(|open| view! { <Asked found=open told /> })}
        {move || match found.get() {
            Err(error) => {
                let why = error.say();
                view! { <Notice kind=NoticeKind::Problem head="logger.refused" text=why /> }
                    .into_any()
            }
            Ok(found) => {
                view! { <Preview found head=head.clone() saver save /> }.into_any()
            }
        }}
    }
}

#[component]
fn Preview(found: Reading, head: Words, saver: Saver, save: Callback<()>) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner_now();
    let notices = found
        .notices
        .iter()
        .map(|say| view! { <li>{say.write(manner)}</li> })
        .collect_view();
    let span = found
        .days
        .first()
        .zip(found.days.last())
        .map(|(first, last)| {
            Say::new("logger.found")
                .with("n", found.days.len())
                .with("from", first.date)
                .with("to", last.date)
                .with("rows", found.rows)
                .write(manner)
        });
    let days = found
        .days
        .iter()
        .rev()
        .take(SHOWN)
        .map(|day| {
            let said = Say::new("logger.day")
                .with("date", day.date)
                .with("min", Arg::Temperature(day.min_c))
                .with("max", Arg::Temperature(day.max_c))
                .with("mean", Arg::Temperature(day.mean_c))
                .write(manner);
            view! { <li>{said}</li> }
        })
        .collect_view();
    let any = !found.days.is_empty();
    let label = Say::new("logger.keep").with("n", found.days.len());
    let label = Signal::stored(label.write(manner));
    view! {
        <Section head=head>
            {span.map(|said| view! { <p class="lead">{said}</p> })}
            <ul class="logger__notices">{notices}</ul>
            {any
                .then(|| {
                    view! {
                        <p class="small">{text("logger.last_days")}</p>
                        <ul class="soft small">{days}</ul>
                    }
                })}
            <SaveProblem saver />
            <div class="actions">
                {any.then(|| view! { <SaveButton saver label on_tap=save /> })}
            </div>
        </Section>
    }
}

/// What the file leaves open, to be said by the grower.
#[component]
fn Asked(found: Reading, told: Told) -> impl IntoView {
    let columns = (found.columns.len() > 1).then(|| {
        if told.column.text_now().is_empty() {
            told.column.put(found.column.to_string());
        }
        let options = found.columns.iter().enumerate();
        let options = options
            .map(|(n, name)| Picked::new(n.to_string(), name.clone()))
            .collect::<Vec<_>>();
        let options = Signal::stored(options);
        view! { <SelectField typed=told.column label="logger.which" options /> }
    });
    let unit_open = found.unit_said != UnitSaid::Header;
    let unit = unit_open.then(|| {
        let options = vec![
            Picked::new("c", "logger.celsius"),
            Picked::new("f", "logger.fahrenheit"),
        ];
        view! { <Choose typed=told.unit label="logger.unit" options /> }
    });
    let order = found.day_first_asked.then(|| {
        if told.order.text_now().is_empty() {
            told.order
                .put(if found.day_first { "day" } else { "month" });
        }
        let options = vec![
            Picked::new("day", "logger.order.day"),
            Picked::new("month", "logger.order.month"),
        ];
        view! { <Choose typed=told.order label="logger.order" options /> }
    });
    view! {
        {columns}
        {unit}
        {order}
        <Where told />
    }
}

/// Where the logger hung.
#[component]
fn Where(told: Told) -> impl IntoView {
    let season = Store::here().season_now();
    let hangs = |what| {
        matches!(
            what,
            SpaceKind::Tunnel | SpaceKind::Outdoors | SpaceKind::Cooler | SpaceKind::Hardening
        )
    };
    let spaces = season.spaces_in_order();
    let spaces = spaces
        .iter()
        .filter(|space| hangs(space.what))
        .map(|space| Picked::new(space.id.as_str(), space.name.clone()));
    let options = core::iter::once(Picked::new("", "space.outdoors"))
        .chain(spaces)
        .collect::<Vec<_>>();
    view! { <Choose typed=told.space label="logger.where" options /> }
}
