//! One bed: its name and size.

use leptos::prelude::*;
use season::fact::BedFact;
use season::ids::{BedId, SpaceId};
use season::limits::{BED_LENGTHS_M, BED_WIDTHS_M, Limit};
use season::month_day::MonthDay;
use season::state::Bed;
use season::words::{Say, text};

use super::clean::{changed, changed_if_any};
use super::day::{DayField, TypedDay};
use super::retire::Retire;
use super::{Missing, back_to};
use crate::browser::{clock, page, random};
use crate::parts::read::{Measure, quantity};
use crate::parts::typed::show_first_wrong;
use crate::parts::words::number;
use crate::parts::{
    Frame, NumberField, Picked, SaveButton, SaveProblem, Saver, SelectField, TextField, Typed, read,
};
use crate::route::{Area, Route, ShedPart};
use crate::store::Store;

#[derive(Clone, Copy)]
struct BedForm {
    space: Typed,
    name: Typed,
    length: Typed,
    width: Typed,
    from: TypedDay,
    to: TypedDay,
}

impl BedForm {
    fn new(space: Option<&SpaceId>, bed: Option<&Bed>, store: Store) -> Self {
        let manner = store.manner_now();
        let span = bed.and_then(Bed::use_span);
        let size = |metres: Option<f64>| {
            let shown = |m| number(Measure::Length.shown(m, manner), 2);
            Typed::new(metres.map(shown).unwrap_or_default())
        };
        Self {
            space: Typed::new(space.map(ToString::to_string).unwrap_or_default()),
            name: Typed::new(bed.map(|b| b.name.clone()).unwrap_or_default()),
            length: size(bed.and_then(|b| b.length_m)),
            width: size(bed.and_then(|b| b.width_m)),
            from: TypedDay::new(span.map(|(from, _)| from)),
            to: TypedDay::new(span.map(|(_, to)| to)),
        }
    }

    /// What to record; `None` when a field is wrong.
    fn read(self, old: Option<&Bed>, walk: i32, store: Store) -> Option<BedFact> {
        let manner = store.manner_now();
        let size = |typed: Typed, limit: Limit<f64>, before: Option<f64>| {
            typed.read(|text| {
                // What was shown rounded and not touched stays as it was.
                if let Some(before) = before
                    && number(Measure::Length.shown(before, manner), 2) == text
                {
                    return Ok(before);
                }
                quantity(text, Measure::Length, limit.range(), manner)
            })
        };
        let space = self
            .space
            .read(|id| SpaceId::new(id).map_err(|_| Say::new("typed.not_picked")));
        let name = self.name.read(read::name);
        let length = size(self.length, BED_LENGTHS_M, old.and_then(|b| b.length_m));
        let width = size(self.width, BED_WIDTHS_M, old.and_then(|b| b.width_m));
        let (from, to) = (self.from.read_if_any(), self.to.read_if_any());
        let (in_use_from, in_use_to) = self.in_use(old, from?, to?)?;
        Some(BedFact {
            name: changed(name?, old.map(|b| &b.name)),
            length_m: changed(length?, old.and_then(|b| b.length_m.as_ref())),
            width_m: changed(width?, old.and_then(|b| b.width_m.as_ref())),
            space: changed(space?, old.and_then(|b| b.space.as_ref())),
            in_use_from,
            in_use_to,
            walk: old.is_none().then_some(walk),
            ..BedFact::new(old.map_or_else(
                || BedId::mint(clock::now_ms(), random::bits()),
                |b| b.id.clone(),
            ))
        })
    }

    /// What to record of the days in use; `None` when only one of the two was given.
    fn in_use(
        self,
        old: Option<&Bed>,
        from: Option<MonthDay>,
        to: Option<MonthDay>,
    ) -> Option<(Option<MonthDay>, Option<MonthDay>)> {
        let blank = match (from, to) {
            (Some(_), None) => self.to,
            (None, Some(_)) => self.from,
            (Some(_), Some(_)) => {
                let (old_from, old_to) = old.and_then(Bed::use_span).unzip();
                return Some((
                    changed_if_any(from, old_from.as_ref()),
                    changed_if_any(to, old_to.as_ref()),
                ));
            }
            (None, None) => {
                // What is set can't be unset: the whole year says the same.
                let was_set = old.and_then(Bed::use_span).is_some();
                let year = (MonthDay::new(1, 1), MonthDay::new(12, 31));
                return Some(if was_set { year } else { (None, None) });
            }
        };
        blank.day.object(Say::new("check.bed_one_date"));
        None
    }
}

#[component]
pub(super) fn NewBedScreen(space: SpaceId) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    if !season.spaces.get(&space).is_some_and(|s| s.holds_beds()) {
        return view! { <Missing back=ShedPart::Spaces /> }.into_any();
    }
    view! {
        <Frame title="bed.new" area=Area::Shed back=back_to(ShedPart::Spaces)>
            <Form space=Some(space) id=None />
        </Frame>
    }
    .into_any()
}

#[component]
pub(super) fn BedScreen(id: BedId) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let Some(bed) = season.beds.get(&id) else {
        return view! { <Missing back=ShedPart::Spaces /> }.into_any();
    };
    let (name, space, of) = (bed.name.clone(), bed.space.clone(), id.clone());
    let retired = {
        let id = id.clone();
        Signal::derive(move || store.season().beds.get(&id).is_some_and(|b| b.retired))
    };
    let retire = Callback::new(move |retired: bool| {
        BedFact {
            retired: Some(retired),
            ..BedFact::new(of.clone())
        }
        .into()
    });
    view! {
        <Frame title=name area=Area::Shed back=back_to(ShedPart::Spaces)>
            <Form space id=Some(id) />
            <Retire retired fact=retire />
        </Frame>
    }
    .into_any()
}

#[component]
fn Form(space: Option<SpaceId>, id: Option<BedId>) -> impl IntoView {
    let store = Store::here();
    let is_new = id.is_none();
    let old = move || {
        let season = store.season_now();
        id.as_ref().and_then(|id| season.beds.get(id)).cloned()
    };
    let form = BedForm::new(space.as_ref(), old().as_ref(), store);
    let saver = Saver::new();
    let submit = move |then: fn(BedForm)| {
        let season = store.season_now();
        let walk = season.beds.values().map(|b| b.walk).max().unwrap_or(0);
        let Some(fact) = form.read(old().as_ref(), walk.saturating_add(1), store) else {
            return show_first_wrong();
        };
        let fields = [
            ("name", form.name),
            ("length_m", form.length),
            ("width_m", form.width),
            ("in_use_from", form.from.day),
            ("in_use_to", form.to.day),
        ];
        saver.check_and_save(vec![fact.into()], &fields, move |_| then(form));
    };
    let submit = StoredValue::new(submit);
    let save = Callback::new(move |()| {
        submit.with_value(|submit| submit(|_| page::go(&Route::Shed(ShedPart::Spaces).href())));
    });
    // Beds come in rows of the same size: the next one keeps it.
    let save_and_next = move |_| {
        submit.with_value(|submit| {
            submit(|form| {
                form.name.put("");
                page::focus(".main .input");
            });
        });
    };
    let spaces = Signal::derive(move || {
        let season = store.season();
        let options = season.spaces_in_order().into_iter();
        options
            .filter(|s| s.holds_beds())
            .map(|s| Picked::new(s.id.to_string(), s.name.clone()))
            .collect::<Vec<_>>()
    });
    view! {
        <TextField typed=form.name label="bed.name" hint="bed.name.hint" />
        <NumberField typed=form.length label="bed.length" measure=Measure::Length />
        <NumberField
            typed=form.width
            label="bed.width"
            hint="bed.width.hint"
            measure=Measure::Length
        />
        <SelectField typed=form.space label="bed.space" options=spaces />
        <p class="section__lead">{text("bed.in_use.lead")}</p>
        <DayField typed=form.from label="bed.in_use_from" />
        <DayField typed=form.to label="bed.in_use_to" />
        <SaveProblem saver />
        <div class="actions actions--stay">
            <SaveButton saver label="bed.save" on_tap=save />
            {is_new
                .then(|| {
                    view! {
                        <button class="btn" type="button" on:click=save_and_next>
                            {text("bed.save_and_next")}
                        </button>
                    }
                })}
        </div>
    }
}
