//! What stands in the cooler, in the order in which it must go.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::fact::{BunchedFact, ConditionedFact, DiscardedFact, SoldFact};
use season::ids::VarietyId;
use season::keeping::State;
use season::stock::{Batch, stock_today};
use season::words::{Arg, Manner, Say, text};

use super::bunch_of;
use crate::forms::{Asked, Deed, Quick, Recorder, fresh, names};
use crate::parts::{Caution, Icon, Section, Sheet, Words};
use crate::screens::hazard::hazards;
use crate::screens::petal::Petal;
use crate::store::Store;

/// Keeping days that are drawn at most.
const DAYS_MAX: i64 = 28;

/// Stems of one cut, in words.
#[derive(Debug, Clone, PartialEq)]
struct Told {
    variety: VarietyId,
    cut: NaiveDate,
    name: String,
    colour: String,
    stems: u32,
    facts: String,
    /// What is to be minded: cold, ethylene, warmth that it stood in.
    mind: Vec<String>,
    by: String,
    /// The last day or past it.
    last: bool,
    /// Days used and days in all.
    keeping: Option<(i64, i64)>,
    bunch: u32,
}

/// Days of keeping by which it is told that warmth used up more than the days that passed.
const WARMTH_TOLD_DAYS: f64 = 0.75;
/// From this much harm by ethylene on it is told: high.
const ETHYLENE_TOLD: f64 = 3.0;

/// What is to be minded of a batch.
fn mind(almanac: &Almanac<'_>, batch: &Batch, manner: Manner) -> Vec<String> {
    let keeping = &batch.keeping;
    let figure = |name| {
        let crop = almanac.crop(&batch.variety)?;
        crop.typical(name)
    };
    let mut said = Vec::new();
    if keeping.cold_days - keeping.age_days as f64 >= WARMTH_TOLD_DAYS {
        said.push(
            Say::new("stock.warmed")
                .with("n", Arg::Decimal(keeping.cold_days, 1))
                .with("days", keeping.age_days),
        );
    }
    if let Some(chill) = keeping.chill {
        said.push(
            Say::new("stock.chilled")
                .with("noted", Arg::Temperature(chill.noted_c))
                .with("below", Arg::Temperature(chill.below_c)),
        );
    } else if let Some(below) = figure("chill_injury_below_c") {
        said.push(Say::new("stock.tender").with("below", Arg::Temperature(below)));
    }
    if figure("ethylene_harm").is_some_and(|harm| harm >= ETHYLENE_TOLD) {
        said.push(Say::new("stock.ethylene"));
    }
    said.iter().map(|say| say.write(manner)).collect()
}

fn told(
    almanac: &Almanac<'_>,
    batch: &Batch,
    bunched: u32,
    today: NaiveDate,
    manner: Manner,
) -> Told {
    let left = batch.days_left();
    let (age_days, keeps) = (batch.keeping.age_days, batch.keeping.keeps_days);
    let facts = Say::new(if age_days == 0 {
        "stock.facts_today"
    } else {
        "stock.facts"
    })
    .with("date", batch.cut)
    .with("n", age_days)
    .with_some("keeps", keeps.map(|days| days.round() as i64))
    .with_some("bunched", Some(bunched).filter(|n| *n > 0));
    let by = match left {
        Some(left) if left < 0 => Say::new("stock.past").with("n", -left),
        Some(0) => Say::new("stock.last_day"),
        Some(left) => {
            let on = chrono::TimeDelta::try_days(left).unwrap_or_default();
            Say::new("stock.until")
                .with("n", left)
                .with("date", today.checked_add_signed(on).unwrap_or(today))
        }
        None => Say::new("stock.no_keeping"),
    };
    Told {
        variety: batch.variety.clone(),
        cut: batch.cut,
        mind: mind(almanac, batch, manner),
        name: names::variety(almanac, &batch.variety).write(manner),
        colour: almanac
            .variety(&batch.variety)
            .map_or_else(String::new, |variety| variety.colour.clone()),
        stems: batch.stems,
        facts: facts.write(manner),
        by: by.write(manner),
        last: matches!(batch.keeping.state, State::LastDay | State::Past)
            || left.is_some_and(|left| left <= 1),
        keeping: keeps
            .map(|keeps| keeps.round() as i64)
            .map(|keeps| {
                let used = batch.keeping.cold_days.round() as i64;
                (used.clamp(0, keeps.max(0)), keeps)
            })
            .filter(|(_, keeps)| (1..=DAYS_MAX).contains(keeps)),
        bunch: bunch_of(almanac, &batch.variety),
    }
}

/// All batches, least keeping left first, and varieties with more gone than was cut.
fn all(store: Store) -> (Vec<Told>, Vec<String>) {
    let manner = store.manner();
    store.outlook().with(|outlook| {
        let (almanac, today) = (outlook.almanac(), outlook.today());
        let stock = stock_today(outlook);
        let mut batches: Vec<Told> = Vec::new();
        for batch in &stock.batches {
            let first = batches.iter().all(|told| told.variety != batch.variety);
            let bunched = if first {
                bunched(almanac, &stock.batches, &batch.variety, today)
            } else {
                0
            };
            batches.push(told(almanac, batch, bunched, today, manner));
        }
        let odd = stock
            .unaccounted
            .iter()
            .map(|(variety, stems)| {
                Say::new("stock.unaccounted")
                    .with("n", *stems)
                    .with("name", names::variety(almanac, variety))
                    .write(manner)
            })
            .collect();
        (batches, odd)
    })
}

/// Stems of a variety in stock that were bundled since the oldest of them was cut.
fn bunched(almanac: &Almanac<'_>, batches: &[Batch], id: &VarietyId, today: NaiveDate) -> u32 {
    let own = || batches.iter().filter(|batch| batch.variety == *id);
    let there: u32 = own().map(|batch| batch.stems).sum();
    let Some(since) = own().map(|batch| batch.cut).min() else {
        return 0;
    };
    let bundled = almanac
        .season()
        .bunched
        .iter()
        .filter(|b| b.variety == *id && b.date >= since && b.date <= today)
        .fold(0u32, |sum, b| sum.saturating_add(b.stems));
    bundled.min(there)
}

/// The stock, first to use first.
#[component]
pub fn StockView(recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let stock = Memo::new(move |_| all(store));
    let out = RwSignal::new(None::<Told>);
    let tally = Signal::derive(move || {
        let stems: u32 = stock.with(|(batches, _)| batches.iter().map(|b| b.stems).sum());
        Say::new("stock.tally")
            .with("n", stems)
            .write(store.manner())
    });
    view! {
        <Section head="stock.head" tally=tally>
            {move || {
                let (batches, odd) = stock.get();
                let none = batches
                    .is_empty()
                    .then(|| view! { <p class="soft">{text("cooler.empty.text")}</p> });
                let odd = odd
                    .into_iter()
                    .map(|said| view! { <p class="soft small">{said}</p> })
                    .collect_view();
                let lines = batches
                    .into_iter()
                    .map(|told| view! { <Line told out /> })
                    .collect_view();
                view! {
                    {none}
                    <ul>{lines}</ul>
                    {odd}
                    <div class="actions no-print">
                        <button
                            class="btn"
                            type="button"
                            aria-haspopup="dialog"
                            on:click=move |_| {
                                recorder.ask(Asked::Quick(Quick::Which(Deed::BoughtIn)));
                            }
                        >
                            {text("do.bought_in")}
                        </button>
                        <button
                            class="btn"
                            type="button"
                            aria-haspopup="dialog"
                            on:click=move |_| {
                                recorder.record(fresh::warmed(None, store.today_now()));
                            }
                        >
                            {text("do.warmed")}
                        </button>
                    </div>
                }
            }}
        </Section>
        {move || out.get().map(|told| view! { <OutSheet told out recorder /> })}
    }
}

#[component]
fn Line(told: Told, out: RwSignal<Option<Told>>) -> impl IntoView {
    let class = if told.last {
        "bunch bunch--last"
    } else {
        "bunch"
    };
    let label = told.name.clone();
    let asked = told.clone();
    let mind = told
        .mind
        .into_iter()
        .map(|said| {
            view! {
                <p class="bunch__mind">
                    <Icon name="caution" small=true />
                    {said}
                </p>
            }
        })
        .collect_view();
    let unit = Say::new("stock.unit")
        .with("n", told.stems)
        .write(Default::default());
    view! {
        <li class=class data-guarded="">
            <p class="bunch__many">
                <span class="bunch__num">{told.stems}</span>
                <span class="bunch__unit">{unit}</span>
            </p>
            <h3 class="bunch__name">
                <Petal colour=told.colour />
                {told.name}
            </h3>
            <p class="bunch__facts">{told.facts}</p>
            {mind}
            {told.keeping.map(|(used, keeps)| keeping(used, keeps))}
            <p class="bunch__by">{told.by}</p>
            <button
                class="btn bunch__do"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| out.set(Some(asked.clone()))
            >
                {text("stock.out")}
                <span class="visually-hidden">": " {label}</span>
            </button>
        </li>
    }
}

/// A tick for each day of keeping; those used are low.
fn keeping(used: i64, keeps: i64) -> impl IntoView {
    let at = format!("{:.2}%", used as f64 / keeps as f64 * 100.0);
    let left = keeps - used;
    view! {
        <svg class="keeping" aria-hidden="true">
            {(used > 0)
                .then(|| {
                    view! {
                        <line
                            class="keeping__used"
                            x1="0"
                            x2=at.clone()
                            y1="9"
                            y2="9"
                            pathLength=used.to_string()
                            stroke-dasharray="0.8 0.2"
                        ></line>
                    }
                })}
            {(left > 0)
                .then(|| {
                    view! {
                        <line
                            class="keeping__left"
                            x1=at.clone()
                            x2="100%"
                            y1="9"
                            y2="9"
                            pathLength=left.to_string()
                            stroke-dasharray="0.8 0.2"
                        ></line>
                    }
                })}
        </svg>
    }
}

/// What becomes of stems: handed over, bundled, thrown away.
#[component]
fn OutSheet(told: Told, out: RwSignal<Option<Told>>, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let date = store.today_now();
    let (variety, stems) = (told.variety.clone(), told.stems);
    let caution = store.with_almanac_now(|almanac| hazards(almanac, [&variety].into_iter()));
    let which = Say::new("stock.which")
        .with("name", told.name.clone())
        .with("n", stems);
    let on_close = Callback::new(move |()| out.set(None));
    let sold = SoldFact::new(variety.clone(), stems, date);
    let warmed = fresh::warmed(Some((variety.clone(), told.cut)), date);
    let rested = ConditionedFact::new(variety.clone(), date);
    let bunched = BunchedFact::new(
        variety.clone(),
        (stems / told.bunch).max(1),
        told.bunch,
        date,
    );
    let discarded = DiscardedFact::new(variety, stems, date);
    let deed = move |icon: &'static str, key: &'static str, fact: season::Fact| {
        view! {
            <li>
                <button
                    class="contents__link contents__link--deed"
                    type="button"
                    on:click=move |_| {
                        let fact = fact.clone();
                        out.set(None);
                        recorder.record(fact);
                    }
                >
                    <Icon name=icon />
                    <span>
                        <span class="contents__name">{text(key)}</span>
                    </span>
                    <Icon name="chevron" />
                </button>
            </li>
        }
    };
    view! {
        <Sheet title="stock.out_title" which=which on_close>
            <div class="sheet__body">
                <ul class="contents">
                    {deed("order", "stock.sell", sold.into())}
                    {deed("cut", "stock.bunch", bunched.into())}
                    {deed("count", "stock.rest", rested.into())}
                    {deed("caution", "stock.warm", warmed)}
                    {deed("lost", "stock.throw", discarded.into())}
                </ul>
                {caution
                    .map(|say| view! { <Caution head="caution.head" text=Words::from(say) /> })}
            </div>
        </Sheet>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use culture::Reference;
    use season::keeping::Keeping;
    use season::{Log, Season};

    #[test]
    fn stems_are_told_by_the_keeping_that_is_left() {
        let reference = Reference::builtin().unwrap();
        let season = Season::of(&Log::new());
        let almanac = Almanac::new(&season, &reference);
        let cut: NaiveDate = "2027-06-10".parse().unwrap();
        let of = |age_days: i64, cold_days: f64, keeps_days: Option<f64>| {
            let left = keeps_days.map(|keeps| keeps - cold_days);
            let batch = Batch {
                variety: VarietyId::new("v").unwrap(),
                cut,
                stems: 12,
                keeping: Keeping {
                    age_days,
                    cold_days,
                    keeps_days,
                    left,
                    state: if left.is_some_and(|left| left < 0.0) {
                        State::Past
                    } else {
                        State::Fresh
                    },
                    chill: None,
                    tender: false,
                },
            };
            let today = cut + chrono::TimeDelta::days(age_days);
            told(&almanac, &batch, 0, today, Manner::default())
        };
        let fresh = of(1, 1.0, Some(7.0));
        assert_eq!(fresh.keeping, Some((1, 7)));
        assert!(
            !fresh.last && fresh.by.contains("Thu 17 Jun"),
            "{}",
            fresh.by
        );
        assert!(fresh.mind.is_empty());
        assert!(of(6, 6.0, Some(7.0)).last && of(7, 7.0, Some(7.0)).last);
        assert!(of(9, 9.0, Some(7.0)).last);
        assert_eq!(of(9, 9.0, Some(7.0)).keeping, Some((7, 7)));
        assert_eq!(of(3, 3.0, None).keeping, None);
        // Warm hours cost days.
        let warm = of(1, 4.0, Some(7.0));
        assert_eq!(warm.keeping, Some((4, 7)));
        assert!(warm.by.contains("Mon 14 Jun"), "{}", warm.by);
        assert_eq!(warm.mind.len(), 1);
    }
}
