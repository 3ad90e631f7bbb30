//! A variety's seed lots.

use leptos::prelude::*;
use season::fact::{Keeping, SeedLotFact};
use season::ids::{LotId, VarietyId};
use season::limits::{SEEDS, YEARS};
use season::state::SeedLot;
use season::words::{Arg, Say, text};

use super::clean::{changed, changed_if_any};
use super::retire::Retire;
use crate::browser::{clock, random};
use crate::parts::typed::show_first_wrong;
use crate::parts::words::number;
use crate::parts::{
    Choice, Icon, NumberField, Picked, SaveButton, SaveProblem, Saver, Section, Sheet, TextField,
    Typed, Words, read,
};
use crate::route::Which;
use crate::store::Store;

#[component]
pub(super) fn Lots(variety: VarietyId) -> impl IntoView {
    let store = Store::here();
    let open = RwSignal::new(None::<Which<LotId>>);
    let of = variety.clone();
    let lines = move || {
        let season = store.season();
        let lots = season.lots.values();
        let mut lots: Vec<&SeedLot> = lots
            .filter(|lot| lot.variety.as_ref() == Some(&of))
            .collect();
        lots.sort_by(|a, b| (a.retired, &a.year, &a.id).cmp(&(b.retired, &b.year, &b.id)));
        lots.into_iter()
            .map(|lot| {
                let id = lot.id.clone();
                let (name, note) = (Words::from(told(lot)), Words::from(seeds_told(lot)));
                view! {
                    <li>
                        <button
                            class="contents__link contents__link--deed"
                            type="button"
                            aria-haspopup="dialog"
                            on:click=move |_| open.set(Some(Which::This(id.clone())))
                        >
                            <Icon name="seed" />
                            <span>
                                <span class="contents__name">{move || name.get()}</span>
                                <span class="contents__note">{move || note.get()}</span>
                            </span>
                        </button>
                    </li>
                }
            })
            .collect::<Vec<_>>()
    };
    let of = variety.clone();
    let none = move || {
        let season = store.season();
        let mut lots = season.lots.values();
        !lots.any(|lot| lot.variety.as_ref() == Some(&of) && !lot.retired)
    };
    let sheet = move || {
        open.get().map(|which| {
            let variety = variety.clone();
            let on_close = Callback::new(move |()| open.set(None));
            view! { <LotSheet variety which on_close /> }
        })
    };
    view! {
        <Section head="lots.head">
            <p class="section__lead">{text("lots.lead")}</p>
            {move || none().then(|| view! { <p>{text("lots.none")}</p> })}
            <ul class="contents">{lines}</ul>
            <div class="actions">
                <button
                    class="btn"
                    type="button"
                    aria-haspopup="dialog"
                    on:click=move |_| open.set(Some(Which::New))
                >
                    <Icon name="plus" />
                    {text("lots.add")}
                </button>
            </div>
        </Section>
        {sheet}
    }
}

fn told(lot: &SeedLot) -> Say {
    let key = if lot.retired { "lots.gone" } else { "lots.lot" };
    let name = Some(lot.name.clone()).filter(|name| !name.is_empty());
    Say::new(key)
        .with_some("name", name)
        .with_some("year", lot.year.map(|y| y.to_string()))
}

fn seeds_told(lot: &SeedLot) -> Say {
    Say::new("lots.note")
        .with_some("seeds", lot.seeds)
        .with_some("germination", lot.germination.map(Arg::Share))
}

#[derive(Clone, Copy)]
struct LotForm {
    name: Typed,
    year: Typed,
    seeds: Typed,
    germination: Typed,
    kept: Typed,
}

impl LotForm {
    fn new(lot: Option<&SeedLot>) -> Self {
        let shown = |n: Option<String>| Typed::new(n.unwrap_or_default());
        Self {
            name: shown(lot.map(|l| l.name.clone())),
            year: shown(lot.and_then(|l| l.year).map(|y| y.to_string())),
            seeds: shown(lot.and_then(|l| l.seeds).map(|n| n.to_string())),
            germination: shown(
                lot.and_then(|l| l.germination)
                    .map(|g| number(g * 100.0, 1)),
            ),
            kept: shown(lot.and_then(|l| l.kept).map(|k| k.word().to_owned())),
        }
    }

    /// What to record; `None` when a field is wrong.
    fn read(self, variety: &VarietyId, old: Option<&SeedLot>) -> Option<SeedLotFact> {
        let years = YEARS.record.0.unsigned_abs()..=YEARS.record.1.unsigned_abs();
        let name = self.name.read(read::name_or_none);
        let year = self.year.read_if_any(|text| read::count(text, years));
        let seeds = self
            .seeds
            .read_if_any(|text| read::count(text, SEEDS.range()));
        let germination = self
            .germination
            .read_if_any(|text| read::share(text, 1.0..=100.0));
        let kept = Keeping::of_word(&self.kept.text_now());
        let year = year?.and_then(|year| i32::try_from(year).ok());
        Some(SeedLotFact {
            variety: changed(variety.clone(), old.and_then(|l| l.variety.as_ref())),
            name: changed(name?, old.map(|l| &l.name)),
            year: changed_if_any(year, old.and_then(|l| l.year.as_ref())),
            seeds: changed_if_any(seeds?, old.and_then(|l| l.seeds.as_ref())),
            germination: changed_if_any(germination?, old.and_then(|l| l.germination.as_ref())),
            kept: changed_if_any(kept, old.and_then(|l| l.kept.as_ref())),
            ..SeedLotFact::new(old.map_or_else(
                || LotId::mint(clock::now_ms(), random::bits()),
                |l| l.id.clone(),
            ))
        })
    }
}

#[component]
fn LotSheet(variety: VarietyId, which: Which<LotId>, on_close: Callback<()>) -> impl IntoView {
    let store = Store::here();
    let id = match which {
        Which::New => None,
        Which::This(id) => Some(id),
    };
    let title = if id.is_none() { "lots.new" } else { "lots.one" };
    let retire = id.clone().map(|id| {
        let of = id.clone();
        let retired =
            Signal::derive(move || store.season().lots.get(&id).is_some_and(|l| l.retired));
        let fact = Callback::new(move |retired: bool| {
            SeedLotFact {
                retired: Some(retired),
                ..SeedLotFact::new(of.clone())
            }
            .into()
        });
        view! { <Retire retired fact /> }
    });
    let old = move || {
        let season = store.season_now();
        let id = id.as_ref()?;
        season.lots.get(id).cloned()
    };
    let ways = Keeping::ALL
        .iter()
        .map(|kept| Picked::new(kept.word(), kept.key()))
        .collect::<Vec<_>>();
    let form = LotForm::new(old().as_ref());
    let saver = Saver::new();
    let save = Callback::new(move |()| {
        let Some(fact) = form.read(&variety, old().as_ref()) else {
            return show_first_wrong();
        };
        let fields = [("year", form.year), ("germination", form.germination)];
        saver.check_and_save(vec![fact.into()], &fields, move |_| on_close.run(()));
    });
    view! {
        <Sheet title on_close>
            <div class="sheet__body">
                <TextField typed=form.name label="lots.name" hint="lots.name.hint" />
                <NumberField typed=form.year label="lots.year" hint="lots.year.hint" />
                <NumberField typed=form.seeds label="lots.seeds" hint="lots.seeds.hint" />
                <NumberField
                    typed=form.germination
                    label="lots.germination"
                    hint="lots.germination.hint"
                    unit=Words::from("unit.percent")
                />
                <Choice typed=form.kept label="lots.kept" hint="lots.kept.hint" options=ways />
                <SaveProblem saver />
                {retire}
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| on_close.run(())>
                    {text("shed.not_now")}
                </button>
                <SaveButton saver label="lots.save" on_tap=save />
            </div>
        </Sheet>
    }
}
