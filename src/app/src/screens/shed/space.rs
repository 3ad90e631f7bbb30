//! One space: its kind, name, room, and the frost that is risked there.

use leptos::prelude::*;
use season::fact::{SpaceFact, SpaceKind};
use season::ids::SpaceId;
use season::limits::{HOURS_OF_DAY, PPFDS, ROOM};
use season::state::Space;

use super::clean::{changed, changed_if_any};
use super::retire::Retire;
use super::{Missing, back_to};
use crate::browser::{clock, page, random};
use crate::parts::typed::show_first_wrong;
use crate::parts::words::number;
use crate::parts::{
    Choice, Frame, NumberField, Picked, SaveButton, SaveProblem, Saver, TextField, Typed, Words,
    read,
};
use crate::route::{Area, Route, ShedPart};
use crate::store::Store;

#[derive(Clone, Copy)]
struct SpaceForm {
    what: Typed,
    name: Typed,
    room: Typed,
    frost_risk: Typed,
    ppfd: Typed,
    lamp_hours: Typed,
}

impl SpaceForm {
    fn new(space: Option<&Space>) -> Self {
        let risk = space.and_then(|s| s.frost_risk);
        let room = space.and_then(|s| s.room);
        Self {
            what: Typed::new(space.map_or("", |s| s.what.word())),
            name: Typed::new(space.map(|s| s.name.clone()).unwrap_or_default()),
            room: Typed::new(room.map(|n| n.to_string()).unwrap_or_default()),
            frost_risk: Typed::new(risk.map(|r| number(r * 100.0, 1)).unwrap_or_default()),
            ppfd: decimal(space.and_then(|s| s.ppfd)),
            lamp_hours: decimal(space.and_then(|s| s.lamp_hours)),
        }
    }

    fn kind(self) -> Option<SpaceKind> {
        SpaceKind::of_word(&self.what.text())
    }

    /// What to record; `None` when a field is wrong. A new space comes last in the walk.
    fn read(self, old: Option<&Space>, walk: i32) -> Option<SpaceFact> {
        let what = self.what.read(|word| {
            SpaceKind::of_word(word).ok_or_else(|| season::words::Say::new("typed.not_picked"))
        });
        let name = self.name.read(read::name);
        let room = self
            .room
            .read_if_any(|text| read::count(text, ROOM.range()));
        let risk = self
            .frost_risk
            .read_if_any(|text| read::share(text, 0.0..=100.0));
        let ppfd = self
            .ppfd
            .read_if_any(|text| read::decimal(text, PPFDS.range()));
        let hours = self
            .lamp_hours
            .read_if_any(|text| read::decimal(text, HOURS_OF_DAY.range()));
        let what = what?;
        Some(SpaceFact {
            what: changed(what, old.map(|s| &s.what)),
            name: changed(name?, old.map(|s| &s.name)),
            room: changed_if_any(
                room?.filter(|_| !holds_beds(what)),
                old.and_then(|s| s.room.as_ref()),
            ),
            walk: old.is_none().then_some(walk),
            frost_risk: changed_if_any(
                risk?.filter(|_| holds_beds(what)),
                old.and_then(|s| s.frost_risk.as_ref()),
            ),
            ppfd: changed_if_any(
                ppfd?.filter(|_| is_lit(what)),
                old.and_then(|s| s.ppfd.as_ref()),
            ),
            lamp_hours: changed_if_any(
                hours?.filter(|_| is_lit(what)),
                old.and_then(|s| s.lamp_hours.as_ref()),
            ),
            ..SpaceFact::new(old.map_or_else(
                || SpaceId::mint(clock::now_ms(), random::bits()),
                |s| s.id.clone(),
            ))
        })
    }
}

fn decimal(value: Option<f64>) -> Typed {
    Typed::new(value.map(|value| number(value, 1)).unwrap_or_default())
}

/// Where lamps hang over trays.
fn is_lit(what: SpaceKind) -> bool {
    matches!(what, SpaceKind::Mat | SpaceKind::Shelf)
}

fn holds_beds(what: SpaceKind) -> bool {
    matches!(what, SpaceKind::Tunnel | SpaceKind::Outdoors)
}

#[component]
pub(super) fn NewSpaceScreen() -> impl IntoView {
    view! {
        <Frame title="space.new" area=Area::Shed back=back_to(ShedPart::Spaces)>
            <Form id=None />
        </Frame>
    }
}

#[component]
pub(super) fn SpaceScreen(id: SpaceId) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let Some(space) = season.spaces.get(&id) else {
        return view! { <Missing back=ShedPart::Spaces /> }.into_any();
    };
    let name = space.name.clone();
    let of = id.clone();
    let retired = {
        let id = id.clone();
        Signal::derive(move || store.season().spaces.get(&id).is_some_and(|s| s.retired))
    };
    let retire = Callback::new(move |retired: bool| {
        SpaceFact {
            retired: Some(retired),
            ..SpaceFact::new(of.clone())
        }
        .into()
    });
    view! {
        <Frame title=name area=Area::Shed back=back_to(ShedPart::Spaces)>
            <Form id=Some(id) />
            <Retire retired fact=retire />
        </Frame>
    }
    .into_any()
}

#[component]
fn Form(id: Option<SpaceId>) -> impl IntoView {
    let store = Store::here();
    let old = move || {
        let season = store.season_now();
        id.as_ref().and_then(|id| season.spaces.get(id)).cloned()
    };
    let form = SpaceForm::new(old().as_ref());
    let saver = Saver::new();
    let save = Callback::new(move |()| {
        let season = store.season_now();
        let walk = season.spaces_in_order().iter().map(|s| s.walk).max();
        let Some(fact) = form.read(old().as_ref(), walk.unwrap_or(0).saturating_add(1)) else {
            return show_first_wrong();
        };
        let fields = [
            ("name", form.name),
            ("room", form.room),
            ("frost_risk", form.frost_risk),
            ("ppfd", form.ppfd),
            ("lamp_hours", form.lamp_hours),
        ];
        saver.check_and_save(vec![fact.into()], &fields, |_| {
            page::go(&Route::Shed(ShedPart::Spaces).href());
        });
    });
    let kinds = SpaceKind::ALL
        .iter()
        .map(|kind| Picked::new(kind.word(), kind.key()))
        .collect();
    // The kind's own word is a good name until there is a second of the kind.
    let name_it = Callback::new(move |word: String| {
        let Some(kind) = SpaceKind::of_word(&word) else {
            return;
        };
        let is_kinds_word = |text: &str| {
            let of_a_kind = |k: &SpaceKind| season::words::text(k.key()) == text;
            text.trim().is_empty() || SpaceKind::ALL.iter().any(of_a_kind)
        };
        if is_kinds_word(&form.name.text_now()) {
            form.name.put(season::words::text(kind.key()));
        }
    });
    let room = move || {
        let kind = form.kind()?;
        if holds_beds(kind) {
            return None;
        }
        let (label, hint): (&'static str, &'static str) = if kind == SpaceKind::Cooler {
            ("space.buckets", "space.buckets.hint")
        } else {
            ("space.trays", "space.trays.hint")
        };
        Some(view! { <NumberField typed=form.room label=label hint=hint /> })
    };
    let risk = move || {
        form.kind().filter(|kind| holds_beds(*kind)).map(|_| {
            view! {
                <NumberField
                    typed=form.frost_risk
                    label="space.frost_risk"
                    hint="space.frost_risk.hint"
                    unit=Words::from("unit.percent")
                />
            }
        })
    };
    let light = move || {
        form.kind().filter(|kind| is_lit(*kind)).map(|_| {
            view! {
                <NumberField
                    typed=form.ppfd
                    label="space.ppfd"
                    hint="space.ppfd.hint"
                    unit=Words::from("unit.ppfd")
                />
                <NumberField
                    typed=form.lamp_hours
                    label="space.lamp_hours"
                    unit=Words::from("unit.hours_a_day")
                />
            }
        })
    };
    view! {
        <Choice typed=form.what label="space.what" options=kinds on_pick=name_it />
        <TextField typed=form.name label="space.name" hint="space.name.hint" />
        {room}
        {risk}
        {light}
        <SaveProblem saver />
        <div class="actions actions--stay">
            <SaveButton saver label="space.save" on_tap=save />
        </div>
    }
}
