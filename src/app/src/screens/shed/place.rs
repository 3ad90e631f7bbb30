//! The place: latitude, frost dates, monthly temperatures.

use leptos::prelude::*;
use season::example_climates::EXAMPLES;
use season::fact::PlaceFact;
use season::ids::PlaceId;
use season::month_day::MonthDay;
use season::state::Place;
use season::words::{Say, text};

use super::back_to;
use super::clean::{changed, changed_if_any};
use super::normals;
use crate::browser::{clock, page, random};
use crate::parts::form::{FieldIds, Objection};
use crate::parts::typed::show_first_wrong;
use crate::parts::words::number;
use crate::parts::{
    AreaField, Frame, Notice, NoticeKind, NumberField, Picked, SaveButton, SaveProblem, Saver,
    Section, SelectField, TextField, Typed, Words, read,
};
use crate::route::{Area, ShedPart};
use crate::store::Store;

/// A day of the year in two fields.
#[derive(Clone, Copy)]
struct TypedDay {
    day: Typed,
    month: Typed,
}

impl TypedDay {
    fn new(day: Option<MonthDay>) -> Self {
        let part = |f: fn(MonthDay) -> u32| day.map(|d| f(d).to_string()).unwrap_or_default();
        Self {
            day: Typed::new(part(MonthDay::day)),
            month: Typed::new(part(MonthDay::month)),
        }
    }

    fn put(self, day: MonthDay) {
        self.day.put(day.day().to_string());
        self.month.put(day.month().to_string());
    }

    fn is_blank(self) -> bool {
        self.day.text_now().trim().is_empty() && self.month.text_now().is_empty()
    }

    /// `None` when it is wrong, `Some(None)` when there is nothing.
    fn read_if_any(self) -> Option<Option<MonthDay>> {
        if self.is_blank() {
            self.day.put("");
            return Some(None);
        }
        self.read().map(Some)
    }

    fn read(self) -> Option<MonthDay> {
        let month: Option<u32> = self.month.text_now().parse().ok();
        self.day.read(|text| {
            let day = read::count(text, 1..=31)?;
            let month = month.ok_or_else(|| Say::new("place.no_month"))?;
            MonthDay::new(month, day).ok_or_else(|| Say::new("place.no_such_day"))
        })
    }
}

#[derive(Clone, Copy)]
struct PlaceForm {
    name: Typed,
    latitude: Typed,
    last: TypedDay,
    first: TypedDay,
    last_10: TypedDay,
    first_10: TypedDay,
    last_90: TypedDay,
    first_90: TypedDay,
    tmin: Typed,
    tmax: Typed,
    example: Typed,
}

impl PlaceForm {
    fn new(place: Option<&Place>, store: Store) -> Self {
        let manner = store.manner_now();
        let months = |normals: Option<[f64; 12]>| {
            Typed::new(normals.map_or_else(String::new, |n| normals::shown(&n, manner)))
        };
        let of = |f: fn(&Place) -> Option<MonthDay>| TypedDay::new(place.and_then(f));
        let latitude = place.and_then(|p| p.latitude);
        Self {
            name: Typed::new(place.map(|p| p.name.clone()).unwrap_or_default()),
            latitude: Typed::new(latitude.map(|l| number(l, 4)).unwrap_or_default()),
            last: of(|p| p.last_frost),
            first: of(|p| p.first_frost),
            last_10: of(|p| p.last_frost_10),
            first_10: of(|p| p.first_frost_10),
            last_90: of(|p| p.last_frost_90),
            first_90: of(|p| p.first_frost_90),
            tmin: months(place.and_then(|p| p.tmin)),
            tmax: months(place.and_then(|p| p.tmax)),
            example: Typed::new(""),
        }
    }

    /// Puts an example's figures in. Frost dates that were typed stay.
    fn fill(self, store: Store) {
        let Some(latitude) = self.latitude.read(read::latitude) else {
            return show_first_wrong();
        };
        let Some(filled) = normals::example(&self.example.text_now(), latitude) else {
            return self.example.object(Say::new("place.example.choose"));
        };
        let manner = store.manner_now();
        self.tmin.put(normals::shown(&filled.tmin, manner));
        self.tmax.put(normals::shown(&filled.tmax, manner));
        let dates = [self.last, self.last_10, self.first, self.first_10];
        let third = [self.last_90, self.first_90];
        if let Some(frost) = filled.frost
            && dates.into_iter().chain(third).all(TypedDay::is_blank)
        {
            for (field, day) in dates.into_iter().zip(frost) {
                field.put(day);
            }
        }
    }

    /// What to record; `None` when a field is wrong.
    fn read(self, place: Option<&Place>, store: Store) -> Option<PlaceFact> {
        let manner = store.manner_now();
        let normals = |typed: Typed, before: Option<&[f64; 12]>| {
            typed.read_if_any(|text| normals::kept(text, before, manner))
        };
        // All are read before any is missed, so that every objection shows.
        let name = self.name.read(read::name);
        let latitude = self.latitude.read(read::latitude);
        let last = self.last.read();
        let first = self.first.read();
        let last_10 = self.last_10.read_if_any();
        let first_10 = self.first_10.read_if_any();
        let last_90 = self.last_90.read_if_any();
        let first_90 = self.first_90.read_if_any();
        let tmin = normals(self.tmin, place.and_then(|p| p.tmin.as_ref()));
        let tmax = normals(self.tmax, place.and_then(|p| p.tmax.as_ref()));
        let (tmin, tmax) = (tmin?, tmax?);
        if tmin.is_some() != tmax.is_some() {
            let blank = if tmin.is_none() { self.tmin } else { self.tmax };
            blank.object(Say::new("place.both_rows"));
            return None;
        }
        let old = place;
        // The two rows go together, so that they are never of two sources.
        let same = old.is_some_and(|p| p.tmin == tmin && p.tmax == tmax);
        Some(PlaceFact {
            of: old.map_or_else(
                || PlaceId::mint(clock::now_ms(), random::bits()),
                |p| p.id.clone(),
            ),
            name: changed(name?, old.map(|p| &p.name)),
            latitude: changed(latitude?, old.and_then(|p| p.latitude.as_ref())),
            tmin: tmin.filter(|_| !same),
            tmax: tmax.filter(|_| !same),
            last_frost: changed(last?, old.and_then(|p| p.last_frost.as_ref())),
            last_frost_10: changed_if_any(last_10?, old.and_then(|p| p.last_frost_10.as_ref())),
            last_frost_90: changed_if_any(last_90?, old.and_then(|p| p.last_frost_90.as_ref())),
            first_frost: changed(first?, old.and_then(|p| p.first_frost.as_ref())),
            first_frost_10: changed_if_any(first_10?, old.and_then(|p| p.first_frost_10.as_ref())),
            first_frost_90: changed_if_any(first_90?, old.and_then(|p| p.first_frost_90.as_ref())),
            retired: None,
        })
    }
}

#[component]
pub(super) fn PlaceScreen() -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let form = PlaceForm::new(season.place(), store);
    let saver = Saver::new();
    let save = Callback::new(move |()| {
        let season = store.season_now();
        let Some(fact) = form.read(season.place(), store) else {
            return show_first_wrong();
        };
        let fields = [
            ("name", form.name),
            ("latitude", form.latitude),
            ("tmin", form.tmin),
            ("tmax", form.tmax),
            ("first_frost", form.first.day),
            ("last_frost_10", form.last_10.day),
            ("first_frost_10", form.first_10.day),
            ("last_frost_90", form.last_90.day),
            ("first_frost_90", form.first_90.day),
        ];
        saver.check_and_save(vec![fact.into()], &fields, |_| {
            page::go(&Area::Shed.route().href());
        });
    });
    view! {
        <Frame title="shed.place" area=Area::Shed back=back_to(ShedPart::Door)>
            <div class="spread">
                <div class="leaf">
                    <Section head="place.where">
                        <TextField typed=form.name label="place.name" hint="place.name.hint" />
                        <NumberField
                            typed=form.latitude
                            label="place.latitude"
                            hint="place.latitude.hint"
                            unit=String::from("°")
                        />
                    </Section>
                    <FrostFields form />
                </div>
                <div class="leaf">
                    <NormalsFields form />
                </div>
            </div>
            <SaveProblem saver />
            <div class="actions actions--stay">
                <SaveButton saver label="place.save" on_tap=save />
            </div>
        </Frame>
    }
}

#[component]
fn FrostFields(form: PlaceForm) -> impl IntoView {
    view! {
        <Section head="place.frost">
            <p class="section__lead">{text("place.frost.lead")}</p>
            <DayField typed=form.last label="place.last_frost" />
            <DayField typed=form.first label="place.first_frost" />
            <details class="field fold">
                <summary class="fold__ask">{text("place.frost.rare")}</summary>
                <p class="section__lead">{text("place.frost.rare.lead")}</p>
                <DayField typed=form.last_10 label="place.last_frost_10" />
                <DayField typed=form.first_10 label="place.first_frost_10" />
                <p class="section__lead">{text("place.frost.third.lead")}</p>
                <DayField typed=form.last_90 label="place.last_frost_90" />
                <DayField typed=form.first_90 label="place.first_frost_90" />
            </details>
        </Section>
    }
}

/// Day and month side by side, under one label.
#[component]
fn DayField(typed: TypedDay, label: &'static str) -> impl IntoView {
    let ids = FieldIds::new();
    let described_by = ids.described_by();
    let month_id = format!("{}m", ids.input);
    let months = move || {
        let chosen = typed.month.text();
        let blank = view! {
            <option value="" prop:selected=chosen.is_empty()>
                {text("place.month")}
            </option>
        };
        let months = (1..=12u32)
            .zip(normals::MONTHS)
            .map(|(n, key)| {
                let value = n.to_string();
                let is_chosen = value == chosen;
                view! {
                    <option value=value prop:selected=is_chosen>
                        {text(key)}
                    </option>
                }
            })
            .collect_view();
        (blank, months)
    };
    view! {
        <fieldset class="field">
            <legend class="field__label">{text(label)}</legend>
            <Objection id=ids.error typed=typed.day />
            <div class="row">
                <label class="visually-hidden" for=ids.input.clone()>
                    {text("place.day")}
                </label>
                <input
                    class="input input--short"
                    id=ids.input
                    type="text"
                    inputmode="numeric"
                    autocomplete="off"
                    placeholder=text("place.day")
                    aria-describedby=described_by
                    aria-invalid=move || typed.day.wrong().map(|_| "true")
                    prop:value=move || typed.day.text()
                    on:input=move |event| typed.day.put(event_target_value(&event))
                />
                <label class="visually-hidden" for=month_id.clone()>
                    {text("place.month")}
                </label>
                <select
                    class="input input--short"
                    id=month_id
                    on:change=move |event| {
                        typed.month.put(event_target_value(&event));
                        typed.day.put(typed.day.text_now());
                    }
                >
                    {months}
                </select>
            </div>
        </fieldset>
    }
}

#[component]
fn NormalsFields(form: PlaceForm) -> impl IntoView {
    let store = Store::here();
    let options = Signal::derive(|| {
        let mut options = vec![Picked::new("", "place.example.none")];
        options.extend(EXAMPLES.iter().map(|e| Picked::new(e.key, e.label)));
        options
    });
    let hint = move |key| {
        let unit = read::Measure::Temperature.unit_key(store.manner_now());
        Words::from(Say::new(key).with("unit", season::words::Arg::Key(unit)))
    };
    view! {
        <Section head="place.normals">
            <p class="section__lead">{text("place.normals.lead")}</p>
            <AreaField typed=form.tmin label="place.tmin" hint=hint("place.tmin.hint") />
            <AreaField typed=form.tmax label="place.tmax" hint=hint("place.tmax.hint") />
            <SelectField
                typed=form.example
                label="place.example"
                hint="place.example.hint"
                options
            />
            <div class="actions">
                <button class="btn" type="button" on:click=move |_| form.fill(store)>
                    {text("place.example.fill")}
                </button>
            </div>
            {move || {
                store
                    .with_almanac(|almanac| almanac.normals_assumed())
                    .then(|| {
                        view! {
                            <Notice
                                kind=NoticeKind::Caution
                                head="place.assumed"
                                text="place.assumed.text"
                            />
                        }
                    })
            }}
        </Section>
    }
}
