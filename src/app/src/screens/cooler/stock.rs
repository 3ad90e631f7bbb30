//! What stands in the cooler, in the order in which it must go.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::fact::{BunchedFact, DiscardedFact, SoldFact};
use season::ids::VarietyId;
use season::stock::{Batch, stock};
use season::words::{Manner, Say, text};

use crate::forms::{Recorder, names};
use crate::parts::{Caution, Icon, Section, Sheet, Words};
use crate::screens::hazard::hazards;
use crate::screens::petal::Petal;
use crate::store::Store;

/// Stems in a bunch where the crop says nothing.
const BUNCH_USUAL: f64 = 10.0;
/// Keeping days that are drawn at most.
const DAYS_MAX: i64 = 28;

/// Stems of one cut, in words.
#[derive(Debug, Clone, PartialEq)]
struct Told {
    variety: VarietyId,
    name: String,
    colour: String,
    stems: u32,
    facts: String,
    by: String,
    /// The last day or past it.
    last: bool,
    /// Days used and days in all.
    keeping: Option<(i64, i64)>,
    bunch: u32,
}

fn told(almanac: &Almanac<'_>, batch: &Batch, bunched: u32, manner: Manner) -> Told {
    let left = batch.days_left();
    let facts = Say::new(if batch.age_days == 0 {
        "stock.facts_today"
    } else {
        "stock.facts"
    })
    .with("date", batch.cut)
    .with("n", batch.age_days)
    .with_some("keeps", batch.keeps_days)
    .with_some("bunched", Some(bunched).filter(|n| *n > 0));
    let by = match (left, batch.keeps_days) {
        (Some(left), _) if left < 0 => Say::new("stock.past").with("n", -left),
        (Some(0), _) => Say::new("stock.last_day"),
        (Some(left), Some(keeps)) => {
            let until = chrono::TimeDelta::try_days(keeps).unwrap_or_default();
            Say::new("stock.until").with("n", left).with(
                "date",
                batch.cut.checked_add_signed(until).unwrap_or(batch.cut),
            )
        }
        _ => Say::new("stock.no_keeping"),
    };
    let bunch = almanac
        .crop(&batch.variety)
        .and_then(|crop| crop.typical("bunch_size"))
        .unwrap_or(BUNCH_USUAL);
    Told {
        variety: batch.variety.clone(),
        name: names::variety(almanac, &batch.variety).write(manner),
        colour: almanac
            .variety(&batch.variety)
            .map_or_else(String::new, |variety| variety.colour.clone()),
        stems: batch.stems,
        facts: facts.write(manner),
        by: by.write(manner),
        last: left.is_some_and(|left| left <= 1),
        keeping: batch
            .keeps_days
            .map(|keeps| (batch.age_days.clamp(0, keeps.max(0)), keeps))
            .filter(|(_, keeps)| (1..=DAYS_MAX).contains(keeps)),
        bunch: (bunch.round() as u32).max(1),
    }
}

/// All batches, least keeping left first, and varieties with more gone than was cut.
fn all(store: Store) -> (Vec<Told>, Vec<String>) {
    let (today, manner) = (store.today(), store.manner());
    store.with_almanac(|almanac| {
        let stock = stock(almanac, today);
        let mut batches: Vec<Told> = Vec::new();
        for batch in &stock.batches {
            let first = batches.iter().all(|told| told.variety != batch.variety);
            let bunched = if first {
                bunched(almanac, &stock.batches, &batch.variety, today)
            } else {
                0
            };
            batches.push(told(almanac, batch, bunched, manner));
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
    let unit = Say::new("stock.unit")
        .with("n", told.stems)
        .write(Default::default());
    view! {
        <li class=class>
            <p class="bunch__many">
                <span class="bunch__num">{told.stems}</span>
                <span class="bunch__unit">{unit}</span>
            </p>
            <h3 class="bunch__name">
                <Petal colour=told.colour />
                {told.name}
            </h3>
            <p class="bunch__facts">{told.facts}</p>
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
    let sold = SoldFact {
        variety: variety.clone(),
        date,
        stems,
        order: None,
        due: None,
        income: None,
    };
    let bunched = BunchedFact {
        variety: variety.clone(),
        date,
        bunches: (stems / told.bunch).max(1),
        stems_each: told.bunch,
    };
    let discarded = DiscardedFact {
        variety,
        date,
        stems,
    };
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
    use season::{Log, Season};

    #[test]
    fn stems_are_told_by_the_keeping_that_is_left() {
        let reference = Reference::builtin().unwrap();
        let season = Season::of(&Log::new());
        let almanac = Almanac::new(&season, &reference);
        let cut: NaiveDate = "2027-06-10".parse().unwrap();
        let of = |age_days, keeps_days| {
            let batch = Batch {
                variety: VarietyId::new("v").unwrap(),
                cut,
                stems: 12,
                age_days,
                keeps_days,
            };
            told(&almanac, &batch, 0, Manner::default())
        };
        let fresh = of(1, Some(7));
        assert_eq!(fresh.keeping, Some((1, 7)));
        assert!(
            !fresh.last && fresh.by.contains("Thu 17 Jun"),
            "{}",
            fresh.by
        );
        assert!(of(6, Some(7)).last && of(7, Some(7)).last && of(9, Some(7)).last);
        assert_eq!(of(9, Some(7)).keeping, Some((7, 7)));
        assert_eq!(of(3, None).keeping, None);
    }
}
