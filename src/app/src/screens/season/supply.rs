//! Stems expected against stems wanted, week by week.

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::coverage::{Cover, WeekCover, coverage};
use season::forecast::{Source, Supply};
use season::plan::answers;
use season::state::Target;
use season::words::{Arg, Manner, Say, text};

use super::weeks::{short_in, weeks};
use crate::forms::names;
use crate::parts::{Back, Drawing, Empty, Frame, Section, StemsBar, WeekNumber};
use crate::route::{Area, Route, SeasonPart};
use crate::screens::wanted;
use crate::store::Store;

/// The longest bar, percent of its ground.
const LONGEST: f64 = 97.0;

/// A target with its weeks, in words.
#[derive(Clone, PartialEq)]
pub struct Covered {
    /// The target's wish.
    pub name: String,
    /// What is wanted a week.
    pub wanted: String,
    /// Whether it is met, in one sentence.
    pub verdict: String,
    /// Whether a week is short.
    pub short: bool,
    weeks: Vec<Week>,
}

#[derive(Clone, PartialEq)]
struct Week {
    number: u32,
    begins: String,
    said: String,
    short_in: Option<String>,
    short: bool,
    /// 10, 50, 90 in 100 and the stems wanted, percent.
    bar: [f64; 4],
    from: Vec<(String, String)>,
}

/// All targets with their weeks.
pub fn covered(store: Store) -> Vec<Covered> {
    let manner = store.manner();
    store.outlook().with(|outlook| {
        let almanac = outlook.almanac();
        coverage(outlook)
            .iter()
            .filter_map(|cover| {
                let target = almanac.season().targets.get(&cover.target)?;
                Some(of_target(almanac, target, cover, outlook.supply(), manner))
            })
            .collect()
    })
}

fn of_target(
    almanac: &Almanac<'_>,
    target: &Target,
    cover: &Cover,
    supply: &Supply,
    manner: Manner,
) -> Covered {
    let short: Vec<IsoWeek> = cover.short_weeks().map(|week| week.week).collect();
    let verdict = if short.is_empty() {
        Say::new("supply.covered").with("n", cover.weeks.len())
    } else {
        Say::new("supply.short")
            .with("weeks", weeks(&short, manner))
            .with("n", cover.short_weeks().map(WeekCover::short).sum::<u32>())
    };
    let most = cover
        .weeks
        .iter()
        .map(|week| week.stems.p90.max(f64::from(week.wanted)))
        .fold(1.0, f64::max);
    Covered {
        name: wanted::say(almanac, &target.wanted).write(manner),
        wanted: Say::new("supply.a_week")
            .with("n", target.stems)
            .write(manner),
        verdict: verdict.write(manner),
        short: !short.is_empty(),
        weeks: cover
            .weeks
            .iter()
            .map(|week| of_week(almanac, target, week, supply, most, manner))
            .collect(),
    }
}

fn of_week(
    almanac: &Almanac<'_>,
    target: &Target,
    week: &WeekCover,
    supply: &Supply,
    most: f64,
    manner: Manner,
) -> Week {
    let part = |stems: f64| stems / most * LONGEST;
    Week {
        number: week.week.week(),
        begins: manner.day_month(week.week.monday()),
        said: Say::new("supply.said")
            .with_spread(week.stems)
            .with("wanted", week.wanted)
            .write(manner),
        short_in: short_in(week.short_chance).map(|say| say.write(manner)),
        short: week.short() > 0,
        bar: [
            part(week.stems.p10),
            part(week.stems.p50),
            part(week.stems.p90),
            part(f64::from(week.wanted)),
        ],
        from: sources(almanac, target, week.week, supply, manner),
    }
}

/// What gives stems in a week that answer to a target.
fn sources(
    almanac: &Almanac<'_>,
    target: &Target,
    week: IsoWeek,
    supply: &Supply,
    manner: Manner,
) -> Vec<(String, String)> {
    let number = |stems: Spread<f64>| Say::new("supply.spread").with_spread(stems).write(manner);
    supply
        .courses
        .iter()
        .filter(|(_, course)| answers(almanac, &course.variety, &target.wanted))
        .filter_map(|(source, course)| {
            let (_, stems) = course.weeks.iter().find(|(w, _)| *w == week)?;
            let name = match source {
                Source::Planting(id) => names::planting(almanac, id),
                Source::Sowing(id) => names::sowing(almanac, id),
                Source::Planned(id) => planned(almanac, id),
            };
            (stems.p50 >= 0.5).then(|| (name.write(manner), number(*stems)))
        })
        .collect()
}

fn planned(almanac: &Almanac<'_>, id: &season::ids::PlannedId) -> Say {
    let planned = almanac.season().planned.get(id);
    let date: Option<NaiveDate> = planned.and_then(|planned| planned.sow);
    let variety = planned.and_then(|planned| planned.variety.as_ref());
    Say::new("supply.planned")
        .with_some(
            "variety",
            variety.map(|id| Arg::from(names::variety(almanac, id))),
        )
        .with_some("date", date)
}

/// All targets, each with its weeks.
#[component]
pub fn SupplyScreen() -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| covered(store));
    view! {
        <Frame title="supply.title" area=Area::Season back=Back::to_area(Area::Season)>
            {move || {
                let all = all.get();
                if all.is_empty() {
                    view! { <NoTargets /> }.into_any()
                } else {
                    let sections = all
                        .into_iter()
                        .map(|one| view! { <OfTarget one /> })
                        .collect_view();
                    view! {
                        <super::roles::Roles />
                        <p class="section__lead">{text("supply.lead")}</p>
                        {sections}
                    }
                        .into_any()
                }
            }}
        </Frame>
    }
}

/// What to do when nothing is wanted yet.
#[component]
pub fn NoTargets() -> impl IntoView {
    use crate::route::Which;
    let new = Route::Season(SeasonPart::Target(Which::New));
    view! {
        <Empty drawing=Drawing::Season head="season.empty" text="season.empty.text">
            <a class="btn btn--primary btn--great" href=new.href()>
                {text("season.empty.go")}
            </a>
        </Empty>
    }
}

#[component]
fn OfTarget(one: Covered) -> impl IntoView {
    let weeks = one
        .weeks
        .into_iter()
        .map(|week| view! { <OfWeek week /> })
        .collect_view();
    view! {
        <Section head=one.name tally=one.wanted>
            <p class=if one.short { "lead" } else { "soft" }>{one.verdict}</p>
            <ol class="supply">{weeks}</ol>
        </Section>
    }
}

#[component]
fn OfWeek(week: Week) -> impl IntoView {
    let class = if week.short {
        "supply__week supply__week--short"
    } else {
        "supply__week"
    };
    let [low, mid, high, wanted] = week.bar;
    let short_in = week.short_in.map(|said| {
        view! {
            " "
            <strong>{said}</strong>
        }
    });
    let from = week
        .from
        .into_iter()
        .map(|(name, stems)| {
            view! {
                <div>
                    <dt>{name}</dt>
                    <dd>{stems}</dd>
                </div>
            }
        })
        .collect::<Vec<_>>();
    let any = !from.is_empty();
    view! {
        <li class=class>
            <WeekNumber number=week.number begins=week.begins />
            <StemsBar bar=[low, mid, high] mark=(wanted, "supply__want") />
            <div class="supply__said">
                {week.said} {short_in}
                {any
                    .then(|| {
                        view! {
                            <details class="why why--inline">
                                <summary class="why__ask">{text("supply.from")}</summary>
                                <div class="why__panel">
                                    <dl class="why__inputs">{from}</dl>
                                </div>
                            </details>
                        }
                    })}
            </div>
        </li>
    }
}
