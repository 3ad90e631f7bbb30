//! The sheet in which the grower chooses the bed of a planned sowing.

use leptos::prelude::*;
use season::fact::PlannedFact;
use season::ids::{BedId, PlannedId};
use season::words::{Say, text};

use crate::forms::names;
use crate::parts::{Choice, Picked, SaveButton, SaveProblem, Saver, Sheet, Typed};
use crate::store::Store;

/// Beds to choose from: those of the space that it is meant for, in walking order.
fn options(store: Store, id: &PlannedId) -> Option<(Say, Vec<Picked>, PlannedFact, String)> {
    store.with_almanac_now(|almanac| {
        let planned = almanac.season().planned.get(id)?;
        let space = almanac.space_or_usual(planned.space.as_ref())?;
        let mut options = vec![Picked::new("", text("bed_plan.leave"))];
        options.extend(
            almanac
                .season()
                .beds_of(&space.id)
                .iter()
                .map(|bed| Picked::new(bed.id.to_string(), names::bed(almanac, &bed.id))),
        );
        let name = planned.variety.as_ref().map_or_else(
            || Say::new("variety.unknown"),
            |id| names::variety(almanac, id),
        );
        let fact = PlannedFact {
            // A space without a bed leaves the bed to the plan.
            space: Some(space.id.clone()),
            ..PlannedFact::new(id.clone())
        };
        let chosen = planned
            .bed
            .as_ref()
            .map_or_else(String::new, BedId::to_string);
        Some((name, options, fact, chosen))
    })
}

/// The sheet; open for as long as it is mounted.
#[component]
pub fn ChooseSheet(id: PlannedId, choosing: RwSignal<Option<PlannedId>>) -> impl IntoView {
    let store = Store::here();
    let (which, options, fact, chosen) = options(store, &id)?;
    let saver = Saver::new();
    let typed = Typed::new(chosen);
    let on_close = Callback::new(move |()| choosing.set(None));
    let save = Callback::new(move |()| {
        let fact = PlannedFact {
            bed: BedId::new(typed.text_now()).ok(),
            ..fact.clone()
        };
        saver.check_and_save(vec![fact.into()], &[("bed", typed)], move |_| {
            choosing.set(None)
        });
    });
    Some(view! {
        <Sheet title="bed_plan.sheet" which=which on_close>
            <div class="sheet__body">
                <Choice typed label="bed_plan.choose" hint="bed_plan.sheet.lead" options />
                <SaveProblem saver />
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| choosing.set(None)>
                    {text("form.not_now")}
                </button>
                <SaveButton saver label="bed_plan.save" on_tap=save />
            </div>
        </Sheet>
    })
}
