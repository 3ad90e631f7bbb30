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
use super::day::{DayField, TypedDay};
use super::normals;
use crate::browser::{clock, page, random};
use crate::parts::typed::show_first_wrong;
use crate::parts::words::number;
use crate::parts::{
    AreaField, Frame, Notice, NoticeKind, NumberField, Picked, SaveButton, SaveProblem, Saver,
    Section, SelectField, TextField, Typed, Words, read,
};
use crate::route::{Area, ShedPart};
use crate::store::Store;

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
    table: Typed,
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
            table: Typed::new(""),
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

    /// Puts a pasted table's two rows in.
    fn take_table(self, store: Store) {
        let manner = store.manner_now();
        let Some([tmin, tmax]) = self.table.read(|text| normals::of_table(text, manner)) else {
            return show_first_wrong();
        };
        self.tmin.put(tmin);
        self.tmax.put(tmax);
        // It stands in the two fields now.
        self.table.put("");
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
        let of = old.map_or_else(
            || PlaceId::mint(clock::now_ms(), random::bits()),
            |p| p.id.clone(),
        );
        Some(PlaceFact {
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
            ..changes_of(of)
        })
    }
}

/// Nothing of a place changed.
pub(super) fn changes_of(of: PlaceId) -> PlaceFact {
    PlaceFact::new(of)
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
            <details class="field fold">
                <summary class="fold__ask">{text("place.table")}</summary>
                <AreaField typed=form.table label="place.table.label" hint=hint("place.table.hint") />
                <div class="actions">
                    <button class="btn" type="button" on:click=move |_| form.take_table(store)>
                        {text("place.table.fill")}
                    </button>
                </div>
            </details>
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
