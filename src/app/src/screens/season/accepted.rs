//! Sowings that were accepted from the plan and wait to be sown.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::fact::PlannedFact;
use season::forecast::Source;
use season::ids::PlannedId;
use season::limits::CELLS_MAX;
use season::state::PlannedSowing;
use season::tasks::{Subject, TaskKind, draft_of};
use season::words::{Say, text};

use super::proposal::SowWeek;
use super::target;
use crate::forms::{Recorder, names};
use crate::parts::read;
use crate::parts::{
    DateField, Icon, SaveButton, SaveProblem, Saver, Section, Sheet, Stepper, Typed,
};
use crate::store::Store;

/// A planned sowing in words.
#[derive(Clone, PartialEq)]
struct Told {
    id: PlannedId,
    name: Say,
    facts: Say,
    for_target: Option<Say>,
    sow: NaiveDate,
    pinned: bool,
    late: bool,
}

fn told(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    supply: &season::forecast::Supply,
    today: NaiveDate,
) -> Option<Told> {
    let (variety, sow) = (planned.variety.as_ref()?, planned.sow?);
    let bloom = supply
        .courses
        .get(&Source::Planned(planned.id.clone()))
        .and_then(|course| course.bloom);
    Some(Told {
        id: planned.id.clone(),
        name: names::variety(almanac, variety),
        facts: Say::new("accepted.facts")
            .with("cells", planned.cells)
            .with_some("plants", Some(planned.plants).filter(|n| *n > 0))
            .with_some("space", names::space_arg(almanac, planned.space.as_ref()))
            .with_some("bloom", bloom.map(|bloom| bloom.p50)),
        for_target: planned.target.as_ref().map(|id| target::name(almanac, id)),
        sow,
        pinned: planned.pinned,
        late: sow < today,
    })
}

fn all(store: Store) -> Vec<Told> {
    let (today, outlook) = (store.today(), store.outlook());
    store.with_almanac(|almanac| {
        let mut open: Vec<&PlannedSowing> = almanac
            .season()
            .planned
            .values()
            .filter(|planned| !planned.retired && planned.sown_as.is_none())
            .collect();
        open.sort_by_key(|planned| (planned.sow, planned.id.clone()));
        open.into_iter()
            .filter_map(|planned| told(almanac, planned, outlook.supply(), today))
            .collect()
    })
}

fn change(of: &PlannedId) -> PlannedFact {
    PlannedFact::new(of.clone())
}

/// The list of accepted sowings, and their sheet.
#[component]
pub fn Accepted(recorder: Recorder, saver: Saver) -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| all(store));
    let changing = RwSignal::new(None::<PlannedId>);
    let tally = Signal::derive(move || {
        Say::new("plan.tally")
            .with("n", all.with(Vec::len))
            .write(store.manner())
    });
    let anew = move |_| {
        let facts: Vec<Fact> = all
            .get_untracked()
            .iter()
            .filter(|told| !told.pinned)
            .map(|told| {
                PlannedFact {
                    retired: Some(true),
                    ..change(&told.id)
                }
                .into()
            })
            .collect();
        if !facts.is_empty() {
            saver.save(facts, |_| {});
        }
    };
    let any_loose = move || all.with(|all| all.iter().any(|told| !told.pinned));
    view! {
        <Section head="plan.accepted" tally=tally>
            {move || {
                let all = all.get();
                if all.is_empty() {
                    return view! { <p class="soft">{text("plan.none_accepted")}</p> }.into_any();
                }
                let lines = all
                    .into_iter()
                    .map(|told| view! { <Line told recorder saver changing /> })
                    .collect_view();
                view! { <ol>{lines}</ol> }.into_any()
            }}
            {move || {
                any_loose()
                    .then(|| {
                        view! {
                            <p class="soft small">{text("plan.anew_hint")}</p>
                            <button class="btn" type="button" on:click=anew>
                                {text("plan.anew")}
                            </button>
                        }
                    })
            }}
        </Section>
        {move || {
            changing
                .get()
                .map(|id| view! { <ChangeSheet id changing /> })
        }}
    }
}

#[component]
fn Line(
    told: Told,
    recorder: Recorder,
    saver: Saver,
    changing: RwSignal<Option<PlannedId>>,
) -> impl IntoView {
    let store = Store::here();
    let (manner, today) = (store.manner_now(), store.today_now());
    let class = if told.pinned {
        "proposal proposal--pinned"
    } else {
        "proposal"
    };
    let id = StoredValue::new(told.id.clone());
    let name = told.name.write(manner);
    let label = StoredValue::new(name.clone());
    let hidden = move || view! { <span class="visually-hidden">" " {label.get_value()}</span> };
    let pin = !told.pinned;
    let on_pin = move |_| {
        let fact = PlannedFact {
            pinned: Some(pin),
            ..change(&id.get_value())
        };
        saver.save(vec![fact.into()], |_| {});
    };
    let on_drop = move |_| {
        let fact = PlannedFact {
            retired: Some(true),
            ..change(&id.get_value())
        };
        saver.save(vec![fact.into()], |_| {});
    };
    let on_sow = move |_| sow(store, recorder, &id.get_value());
    view! {
        <li class=class data-guarded="">
            <SowWeek date=told.sow today manner />
            <h3 class="proposal__name">{name}</h3>
            <p class="small">{told.facts.write(manner)}</p>
            {told.for_target.map(|name| view! { <p class="proposal__why">{name.write(manner)}</p> })}
            <p>
                {told
                    .pinned
                    .then(|| {
                        view! {
                            <span class="chip">
                                <Icon name="hold" small=true />
                                {text("plan.pinned")}
                            </span>
                        }
                    })}
                {told
                    .late
                    .then(|| view! { <span class="chip chip--late">{text("plan.late")}</span> })}
            </p>
            <div class="actions">
                <button class="btn" type="button" on:click=on_sow>
                    {text("plan.sow")}
                    {hidden()}
                </button>
                <button class="btn" type="button" on:click=on_pin>
                    <Icon name="hold" small=true />
                    {text(if pin { "plan.pin" } else { "plan.unpin" })}
                    {hidden()}
                </button>
                <button class="btn" type="button" on:click=move |_| changing.set(Some(id.get_value()))>
                    {text("plan.change")}
                    {hidden()}
                </button>
                <button class="btn btn--quiet" type="button" on:click=on_drop>
                    {text("plan.drop")}
                    {hidden()}
                </button>
            </div>
        </li>
    }
}

/// Opens the sowing form for a planned sowing.
fn sow(store: Store, recorder: Recorder, id: &PlannedId) {
    let today = store.today_now();
    let subject = Subject::Planned(id.clone());
    let fact =
        store.with_almanac_now(|almanac| draft_of(almanac, TaskKind::Sow, &subject, None, today));
    if let Some(fact) = fact {
        recorder.record(fact);
    }
}

/// Plants to expect when the number of cells is changed: in the same proportion.
fn plants_of(before: &PlannedSowing, cells: u32) -> u32 {
    if before.cells == 0 {
        return before.plants;
    }
    let share = f64::from(before.plants) / f64::from(before.cells);
    (share * f64::from(cells)).round() as u32
}

#[component]
fn ChangeSheet(id: PlannedId, changing: RwSignal<Option<PlannedId>>) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let planned = season.planned.get(&id)?.clone();
    let saver = Saver::new();
    let date = Typed::new(
        planned
            .sow
            .map_or_else(String::new, |date| date.to_string()),
    );
    let cells = Typed::new(planned.cells.to_string());
    let which = planned
        .variety
        .as_ref()
        .map(|id| store.with_almanac_now(|almanac| names::variety(almanac, id)))
        .unwrap_or_else(|| Say::new("variety.unknown"));
    let on_close = Callback::new(move |()| changing.set(None));
    let save = Callback::new(move |()| {
        let sow = date.read(read::date);
        let number = cells.read(|text| read::count(text, 1..=CELLS_MAX));
        let (Some(sow), Some(number)) = (sow, number) else {
            return crate::parts::typed::show_first_wrong();
        };
        let fact = PlannedFact {
            sow: Some(sow),
            cells: Some(number),
            plants: Some(plants_of(&planned, number)),
            ..change(&planned.id)
        };
        let fields = [("sow", date), ("cells", cells)];
        saver.check_and_save(vec![fact.into()], &fields, move |_| changing.set(None));
    });
    Some(view! {
        <Sheet title="plan.change_title" which=which on_close>
            <div class="sheet__body">
                <DateField typed=date label="plan.sow_date" />
                <Stepper typed=cells label="plan.cells" low=1 high=CELLS_MAX by=6 />
                <SaveProblem saver />
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| changing.set(None)>
                    {text("form.not_now")}
                </button>
                <SaveButton saver label="plan.change_save" on_tap=save />
            </div>
        </Sheet>
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::{Log, Season};

    #[test]
    fn plants_follow_the_cells_in_proportion() {
        let of = PlannedId::new("p").unwrap();
        let device = season::ids::DeviceId::new("d").unwrap();
        let fact = PlannedFact {
            cells: Some(120),
            plants: Some(90),
            ..change(&of)
        };
        let entry = Log::new().draft(&device, 0, 1, fact.into()).unwrap();
        let log: Log = core::iter::once(entry).collect();
        let planned = &Season::of(&log).planned[&of];
        assert_eq!(plants_of(planned, 60), 45);
        assert_eq!(plants_of(planned, 121), 91);
    }
}
