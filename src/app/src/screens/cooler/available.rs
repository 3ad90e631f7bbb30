//! What can be promised: stems by week, told together as the grower chooses, and a list of it for florists.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::availability::{By, Line, What, availability, list};
use season::fact::Grade;
use season::promise::promise_share;
use season::words::{Arg, Manner, Say, text};

use crate::forms::names;
use crate::parts::hand_on::{HandOn, Ready};
use crate::parts::{
    Back, Choice, Drawing, Empty, Frame, Icon, Picked, Section, StemsBar, Typed, WeekNumber,
};
use crate::route::{Area, Route, SeasonPart, ShedPart};
use crate::store::Store;

/// Weeks that are shown at first, and with the rest of the season: about half a year.
const WEEKS_SOON: usize = 4;
const WEEKS_ALL: usize = 26;

/// The name of a line.
fn name(almanac: &Almanac<'_>, what: &What) -> Say {
    if let Some(variety) = &what.variety {
        return names::variety(almanac, variety);
    }
    if let Some(crop) = &what.crop {
        let found = almanac.reference().crop(crop);
        let name = found.map_or_else(|| crop.clone(), |crop| crop.name().to_owned());
        return Say::new("name.plain").with("name", name);
    }
    if let Some(grade) = what.grade {
        return Say::new(match grade {
            Some(Grade::First) => "grade.first",
            Some(Grade::Second) => "grade.second",
            None => "avail.no_grade",
        });
    }
    let colour = what.colour.clone().filter(|colour| !colour.is_empty());
    match (what.role, colour) {
        (None, None) => Say::new("avail.no_colour"),
        (role, colour) => Say::new("avail.plain")
            .with_some("colour", colour)
            .with_some("what", role.map(|role| Arg::Key(role.key()))),
    }
}

/// A week in words.
#[derive(Debug, Clone, PartialEq)]
struct WeekTold {
    number: u32,
    begins: String,
    free: u32,
    said: String,
    thin: bool,
    /// 10, 50 and 90 in 100 and what can be promised, percent of the longest.
    bar: [f64; 4],
}

/// A line in words.
#[derive(Debug, Clone, PartialEq)]
struct Told {
    name: String,
    weeks: Vec<WeekTold>,
}

fn told(almanac: &Almanac<'_>, line: &Line, most: f64, manner: Manner) -> Told {
    let weeks = line
        .weeks
        .iter()
        .filter(|week| week.in_stock > 0 || week.stems.p90 >= 0.5);
    Told {
        name: name(almanac, &line.what).write(manner),
        weeks: weeks
            .map(|week| {
                let promised = week.promised.round() as u32;
                WeekTold {
                    number: week.week.week(),
                    begins: manner.day_month(week.week.monday()),
                    free: week.free,
                    said: Say::new("avail.said")
                        .with_spread(week.stems)
                        .with_some("promised", Some(promised).filter(|n| *n > 0))
                        .with_some("stock", Some(week.in_stock).filter(|n| *n > 0))
                        .write(manner),
                    thin: week.is_thin(),
                    bar: [
                        week.stems.p10,
                        week.stems.p50,
                        week.stems.p90,
                        f64::from(week.free),
                    ]
                    .map(|n| (n / most * 97.0).min(97.0)),
                }
            })
            .collect(),
    }
}

/// All lines, those with something to promise first.
fn lines(store: Store, by: By, weeks: usize) -> Vec<Line> {
    let outlook = store.outlook();
    let mut lines = outlook.with(|outlook| availability(outlook, by, weeks));
    lines.sort_by_key(|line| !line.has_any());
    lines
}

/// What can be promised.
#[component]
pub fn AvailableScreen() -> impl IntoView {
    let store = Store::here();
    let by = Typed::new(By::default().key());
    let all = RwSignal::new(false);
    let chosen = move || {
        let key = by.text();
        By::ALL
            .into_iter()
            .find(|by| by.key() == key)
            .unwrap_or_default()
    };
    let found = Memo::new(move |_| {
        let weeks = if all.get() { WEEKS_ALL } else { WEEKS_SOON };
        lines(store, chosen(), weeks)
    });
    let lead = Signal::derive(move || {
        let share = store.with_almanac(promise_share);
        Say::new("avail.lead")
            .with("share", Arg::Share(share))
            .write(store.manner())
    });
    let options = By::ALL.map(|by| Picked::new(by.key(), by.key())).to_vec();
    view! {
        <Frame title="avail.title" area=Area::Cooler back=Back::to_area(Area::Cooler)>
            <Section head="avail.head">
                <p class="section__lead">
                    {move || lead.get()} " "
                    <a href=Route::Shed(ShedPart::Selling).href()>{text("avail.set")}</a>
                </p>
                <div class="no-print">
                    <Choice typed=by label="avail.by" options />
                </div>
                {move || {
                    let lines = found.get();
                    if lines.is_empty() {
                        return view! { <Nothing /> }.into_any();
                    }
                    shown(store, lines).into_any()
                }}
                <div class="actions no-print">
                    <button
                        class="btn"
                        type="button"
                        aria-pressed=move || all.get().to_string()
                        on:click=move |_| all.update(|all| *all = !*all)
                    >
                        {move || text(if all.get() { "avail.soon" } else { "avail.all" })}
                    </button>
                </div>
            </Section>
            {move || {
                let lines = found.get();
                lines.iter().any(Line::has_any).then(|| {
                    view! {
                        <Section head="avail.list">
                            <HandOn ready=ready(store, &lines) />
                        </Section>
                    }
                })
            }}
        </Frame>
    }
}

fn ready(store: Store, lines: &[Line]) -> Ready {
    let today = store.today();
    let title = Say::new("avail.list.title").with("date", today);
    let text = store.with_almanac(|almanac| {
        list(
            lines,
            &title,
            |line| name(almanac, &line.what),
            store.manner(),
        )
    });
    Ready::of_text(text, format!("stemtide-stems-{today}.txt"))
}

fn shown(store: Store, lines: Vec<Line>) -> impl IntoView {
    let manner = store.manner();
    let weeks = || lines.iter().flat_map(|line| &line.weeks);
    let most = weeks()
        .map(|week| week.stems.p90.max(f64::from(week.free)))
        .fold(1.0, f64::max);
    let told: Vec<Told> = store.with_almanac(|almanac| {
        let told = |line| told(almanac, line, most, manner);
        lines.iter().map(told).collect()
    });
    let lines = told
        .into_iter()
        .map(|line| {
            let weeks = line.weeks.into_iter().map(week).collect_view();
            view! {
                <li class="avail">
                    <h3 class="avail__name">{line.name}</h3>
                    <ol class="supply">{weeks}</ol>
                </li>
            }
        })
        .collect_view();
    view! { <ul>{lines}</ul> }
}

fn week(week: WeekTold) -> impl IntoView {
    let [low, mid, high, free] = week.bar;
    let can = Say::new("avail.free")
        .with("n", week.free)
        .write(Manner::default());
    view! {
        <li class="supply__week">
            <WeekNumber number=week.number begins=week.begins />
            <StemsBar bar=[low, mid, high] mark=(free, "avail__mark") />
            <p class="supply__said">
                <strong>{can}</strong>
                " "
                {week.said}
                {week
                    .thin
                    .then(|| {
                        view! {
                            <span class="avail__thin">
                                <Icon name="caution" small=true />
                                {text("avail.thin")}
                            </span>
                        }
                    })}
            </p>
        </li>
    }
}

#[component]
fn Nothing() -> impl IntoView {
    view! {
        <Empty drawing=Drawing::Cooler head="avail.empty" text="avail.empty.text">
            <a class="btn btn--primary btn--great" href=Route::Season(SeasonPart::Plan).href()>
                {text("avail.empty.go")}
            </a>
        </Empty>
    }
}
