//! One target: what, how many, in which weeks, where, with what chance.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::fact::{SpaceKind, TargetFact, Wanted};
use season::ids::{SpaceId, TargetId};
use season::limits::STEMS_MAX;
use season::state::{CHANCE_USUAL, Target};
use season::words::{Say, text};

use super::last_call::LastCalls;
use crate::browser::{clock, page, random};
use crate::forms::names;
use crate::parts::read;
use crate::parts::{
    Back, Frame, Icon, Notice, NoticeKind, NumberField, Picked, SaveButton, SaveProblem, Saver,
    SelectField, Stepper, Typed, WeekField,
};
use crate::route::{Area, Route, SeasonPart, Which};
use crate::screens::wanted::{WantedFields, WantedTyped};
use crate::store::Store;

/// The chance that a target may ask for, in 100.
const CHANCES: core::ops::RangeInclusive<f64> =
    season::limits::CHANCES.record.0 * 100.0..=season::limits::CHANCES.record.1 * 100.0;
/// Stems that one tap adds or takes off.
const STEP: u32 = 5;

fn back() -> Back {
    Back {
        to: Route::Season(SeasonPart::Targets),
        words: "targets.title".into(),
    }
}

/// One target, or a new one.
#[component]
pub fn TargetScreen(
    /// Which.
    which: Which<TargetId>,
) -> impl IntoView {
    let store = Store::here();
    let (title, target) = match &which {
        Which::New => ("target.new", None),
        Which::This(id) => ("target.edit", store.season_now().targets.get(id).cloned()),
    };
    let missing = target.is_none() && matches!(which, Which::This(_));
    view! {
        <Frame title=title area=Area::Season back=back()>
            {if missing {
                view! { <Notice kind=NoticeKind::Problem head="target.missing" /> }.into_any()
            } else {
                let shown = target.as_ref().map(|target| target.id.clone());
                view! {
                    <Form target />
                    {shown.map(|id| view! { <LastCalls id /> })}
                }
                    .into_any()
            }}
        </Frame>
    }
}

#[derive(Clone, Copy)]
struct Fields {
    wanted: WantedTyped,
    stems: Typed,
    from: Typed,
    to: Typed,
    space: Typed,
    chance: Typed,
}

impl Fields {
    fn new(target: Option<&Target>) -> Self {
        let none = Wanted::default();
        let week = |week: Option<agronomy::iso_week::IsoWeek>| {
            Typed::new(week.map_or_else(String::new, |week| week.to_string()))
        };
        let chance = target.map_or(CHANCE_USUAL, |target| target.chance);
        Self {
            wanted: WantedTyped::new(target.map_or(&none, |target| &target.wanted)),
            stems: Typed::new(target.map_or_else(String::new, |t| t.stems.to_string())),
            from: week(target.and_then(|target| target.from)),
            to: week(target.and_then(|target| target.to)),
            space: Typed::new(
                target
                    .and_then(|target| target.space.as_ref())
                    .map_or_else(String::new, |space| space.to_string()),
            ),
            chance: Typed::new(format!("{:.0}", chance * 100.0)),
        }
    }

    /// The fact, unless a field does not read; that is then said at the field.
    fn read(self, of: TargetId, today: NaiveDate) -> Option<TargetFact> {
        let wanted = self.wanted.read();
        let stems = self.stems.read(|text| read::count(text, 1..=STEMS_MAX));
        let from = self.from.read(|text| read::week(text, today));
        // "To" alone means the same year as "from", or the next where it would lie before it.
        let near = from.map_or(today, |from| from.monday());
        let to = self.to.read(|text| read::week(text, near));
        let chance = self.chance.read(|text| read::share(text, CHANCES));
        let space = SpaceId::new(self.space.text_now()).ok();
        Some(TargetFact {
            wanted: Some(wanted?),
            space,
            from: Some(from?),
            to: Some(to?),
            stems: Some(stems?),
            chance: Some(chance?),
            ..TargetFact::new(of)
        })
    }

    fn by_name(self) -> [(&'static str, Typed); 5] {
        [
            ("stems", self.stems),
            ("from", self.from),
            ("to", self.to),
            ("space", self.space),
            ("chance", self.chance),
        ]
    }
}

fn new_id() -> TargetId {
    TargetId::mint(clock::now_ms(), random::bits())
}

/// The facts that make the target what was typed.
fn facts(before: Option<&Target>, mut fact: TargetFact) -> Vec<Fact> {
    let Some(before) = before else {
        return vec![fact.into()];
    };
    // A field left out stays as it was, so a space can't be taken away: then a new target takes the old one's place.
    if before.space.is_some() && fact.space.is_none() {
        fact.of = new_id();
        return vec![retire(before.id.clone(), true), fact.into()];
    }
    vec![fact.into()]
}

fn retire(of: TargetId, retired: bool) -> Fact {
    TargetFact {
        retired: Some(retired),
        ..TargetFact::new(of)
    }
    .into()
}

#[component]
fn Form(target: Option<Target>) -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let fields = Fields::new(target.as_ref());
    let target = StoredValue::new(target);
    let save = Callback::new(move |()| {
        let before = target.get_value();
        let of = before.as_ref().map_or_else(new_id, |t| t.id.clone());
        match fields.read(of, store.today_now()) {
            Some(fact) => {
                let facts = facts(before.as_ref(), fact);
                saver.check_and_save(facts, &fields.by_name(), |_| {
                    page::go(&Route::Season(SeasonPart::Targets).href());
                });
            }
            None => crate::parts::typed::show_first_wrong(),
        }
    });
    let spaces = Signal::derive(move || {
        store.with_almanac(|almanac| {
            let ground = [SpaceKind::Tunnel, SpaceKind::Outdoors];
            let of = almanac
                .season()
                .spaces_in_order()
                .into_iter()
                .filter(|space| ground.contains(&space.what))
                .map(|space| Picked::new(space.id.as_str(), names::space(almanac, &space.id)));
            core::iter::once(Picked::new("", "target.any_space"))
                .chain(of)
                .collect::<Vec<_>>()
        })
    });
    view! {
        <form on:submit=|event| event.prevent_default()>
            <WantedFields typed=fields.wanted />
            <Stepper typed=fields.stems label="target.stems" high=STEMS_MAX by=STEP />
            <WeekField typed=fields.from label="target.from" hint="target.week_hint" />
            <WeekField typed=fields.to label="target.to" />
            <SelectField typed=fields.space label="target.space" options=spaces />
            <NumberField
                typed=fields.chance
                label="target.chance"
                hint="target.chance_hint"
                unit="unit.percent"
            />
            <SaveProblem saver />
            <div class="actions">
                <SaveButton saver label="target.save" on_tap=save />
                <Retire target saver />
            </div>
        </form>
    }
}

/// Calls a target off, or takes it up again.
#[component]
fn Retire(target: StoredValue<Option<Target>>, saver: Saver) -> impl IntoView {
    let target = target.get_value()?;
    let (key, retired) = if target.retired {
        ("target.take_up", false)
    } else {
        ("target.call_off", true)
    };
    let id = target.id;
    Some(view! {
        <button
            class="btn"
            type="button"
            on:click=move |_| {
                saver
                    .save(
                        vec![retire(id.clone(), retired)],
                        |_| page::go(&Route::Season(SeasonPart::Targets).href()),
                    )
            }
        >
            {retired.then(|| view! { <Icon name="close" small=true /> })}
            {text(key)}
        </button>
    })
}

/// The name of a target, for those who plan.
pub fn name(almanac: &season::almanac::Almanac<'_>, id: &TargetId) -> Say {
    match almanac.season().targets.get(id) {
        Some(target) => crate::screens::wanted::say(almanac, &target.wanted),
        None => Say::new("target.gone"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fact(space: Option<&str>) -> TargetFact {
        TargetFact {
            wanted: Some(Wanted::default()),
            space: space.map(|id| SpaceId::new(id).unwrap()),
            stems: Some(40),
            ..TargetFact::new(TargetId::new("t").unwrap())
        }
    }

    #[test]
    fn a_changed_target_keeps_its_id_unless_a_field_must_go() {
        let log: season::Log = core::iter::empty().collect();
        let device = season::ids::DeviceId::new("d").unwrap();
        let entry = log
            .draft(&device, 0, 1, fact(Some("tunnel")).into())
            .unwrap();
        let log: season::Log = core::iter::once(entry).collect();
        let before = season::Season::of(&log)
            .targets
            .into_values()
            .next()
            .unwrap();
        let same = facts(Some(&before), fact(Some("field")));
        assert_eq!(same, vec![Fact::from(fact(Some("field")))]);
        assert_eq!(facts(None, fact(None)), vec![Fact::from(fact(None))]);
    }
}
