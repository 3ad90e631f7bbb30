//! The year: one line a sowing, below day length and frost.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::forecast::Source;
use season::ids::PlannedId;
use season::tray_hold;
use season::words::{Arg, Manner, Say, text};

use super::axis::Axis;
use super::bands::Bands;
use super::legend::{Legend, Mark};
use super::lives::{Life, Stroke, Texture, lives};
use super::locked::LockedLine;
use super::moved::Mover;
use super::mover::PlannedLine;
use super::rooms::Rooms;
use super::sky::{Sky, sky};
use super::weeks::span;
use crate::forms::names;
use crate::parts::{Column, Section, Table, TableRow};
use crate::route::{Route, SeasonPart};
use crate::store::Store;

use agronomy::iso_week::IsoWeek;

/// Days after which what ended is left out of the drawing.
const ENDED_DAYS: i64 = 180;
/// Places on the heights of a line, px: the ground, and where stems stand.
const GROUND: u32 = 25;
const UNSURE: u32 = 18;
const SURE: u32 = 13;

/// A line with its words.
#[derive(Clone, PartialEq)]
pub struct Line {
    /// What is drawn.
    pub life: Life,
    /// The variety.
    pub name: String,
    /// When there are stems.
    pub when: String,
    /// Where it leads.
    pub to: Route,
    /// Why its trays may not wait for a late spring.
    pub hold: Option<Say>,
    /// What can be moved.
    planned: Option<PlannedId>,
}

/// All that is drawn.
#[derive(Clone, PartialEq)]
struct Drawing {
    axis: Axis,
    sky: Option<Sky>,
    lines: Vec<Line>,
    today: NaiveDate,
    manner: Manner,
}

fn drawing(store: Store) -> Drawing {
    let manner = store.manner();
    store.outlook().with(|outlook| {
        let (almanac, today) = (outlook.almanac(), outlook.today());
        let since = today
            .checked_sub_days(chrono::Days::new(ENDED_DAYS as u64))
            .unwrap_or(today);
        let lives = lives(outlook, since);
        let axis = Axis::around(today, lives.iter().flat_map(Life::dates));
        let sky = almanac
            .climate()
            .ok()
            .map(|climate| sky(axis, climate, today));
        Drawing {
            axis,
            sky,
            lines: lives
                .into_iter()
                .map(|life| line(almanac, life, manner))
                .collect(),
            today,
            manner,
        }
    })
}

fn line(almanac: &Almanac<'_>, life: Life, manner: Manner) -> Line {
    let course = &life.course;
    let planned = match &life.source {
        Source::Planned(id) => Some(id.clone()),
        Source::Sowing(_) | Source::Planting(_) => None,
    };
    let hold = planned.as_ref().and_then(|id| {
        let planned = almanac.season().planned.get(id)?;
        tray_hold::of_planned(almanac, planned, course.sown, course.planted()?)
    });
    Line {
        name: names::variety(almanac, &course.variety).write(manner),
        when: when(&life).write(manner),
        to: match &life.source {
            Source::Sowing(id) => Route::Tray(id.clone()),
            Source::Planting(id) => Route::Planting(id.clone()),
            Source::Planned(_) => Route::Season(SeasonPart::Plan),
        },
        hold: hold.map(|hold| hold.say),
        planned,
        life,
    }
}

/// When there are stems, in a few words.
pub fn when(life: &Life) -> Say {
    let course = &life.course;
    if let Some(ended) = course.ended {
        return Say::new("life.ended").with("date", ended);
    }
    if let Some((first, _)) = course.cut {
        return Say::new("life.cutting").with("date", first);
    }
    let planned = matches!(life.source, Source::Planned(_));
    match (course.bloom, course.last()) {
        (Some(bloom), Some(last)) => {
            let key = if planned {
                "life.planned_stems"
            } else {
                "life.stems"
            };
            Say::new(key)
                .with("weeks", span(IsoWeek::of(bloom.p50), IsoWeek::of(last.p50)))
                .with("date", course.sown)
        }
        _ => Say::new("life.sown").with("date", course.sown),
    }
}

/// The section with the drawing and its table.
#[component]
pub fn Year() -> impl IntoView {
    let store = Store::here();
    let drawn = Memo::new(move |_| drawing(store));
    let mover = Mover::new();
    // What was held is held against a season that is no more.
    Effect::new(move |_| {
        store.season();
        mover.put_back();
    });
    let said = move || {
        mover.with(|held| {
            let said = held.map(|held| held.said.clone()).unwrap_or_default();
            let said: Vec<String> = said.iter().map(|say| say.write(store.manner())).collect();
            said.join(" ")
        })
    };
    view! {
        <p class="visually-hidden" role="status">
            {said}
        </p>
        {move || {
            let drawn = drawn.get();
            let (axis, today) = (drawn.axis, drawn.today);
            let weeks = axis.weeks().count();
            let tally = Say::new("year.tally").with("n", drawn.lines.len());
            let can_move = drawn.lines.iter().any(|line| line.planned.is_some());
            view! {
                <Section head="year.head" tally=tally>
                    <p class="section__lead">{text("year.lead")}</p>
                    {can_move
                        .then(|| view! { <p class="section__lead no-print">{text("year.move.how")}</p> })}
                    <figure class="year" data-weeks=weeks>
                        <SkyDrawing drawn=drawn.clone() />
                        <AxisDrawing axis today />
                        <Lines drawn=drawn.clone() mover />
                        <Textures />
                        <Bands axis today mover />
                        <Rooms axis today mover />
                    </figure>
                    <AsTable lines=drawn.lines manner=drawn.manner />
                </Section>
            }
        }}
    }
}

#[component]
fn SkyDrawing(drawn: Drawing) -> impl IntoView {
    let Some(sky) = drawn.sky else {
        return view! { <p class="soft">{text("year.no_sky")}</p> }.into_any();
    };
    let label = Say::new("year.sky")
        .with("short", Arg::Decimal(sky.shortest.1, 1))
        .with("short_day", sky.shortest.0)
        .with("long", Arg::Decimal(sky.longest.2, 1))
        .with("long_day", sky.longest.1)
        .with("last", sky.frosts.0)
        .with("first", sky.frosts.1)
        .write(drawn.manner);
    let longest = Say::new("year.longest")
        .with("n", Arg::Decimal(sky.longest.2, 1))
        .write(drawn.manner);
    let now = percent(drawn.axis.x(drawn.today));
    let now_word = now.clone();
    view! {
        <svg class="year__sky" role="img" aria-label=label>
            <svg viewBox="0 0 100 100" preserveAspectRatio="none" width="100%" height="100%">
                <path class="year__frost" d=sky.frost></path>
                <polyline class="year__daylight" points=sky.daylight></polyline>
            </svg>
            <text class="year__note year__note--middle" x=percent(sky.longest.0) y="62">
                {longest}
            </text>
            {sky
                .frost_at
                .0
                .then(|| {
                    view! {
                        <text class="year__note" x="6" y="62">
                            {text("year.frost")}
                        </text>
                    }
                })}
            {sky
                .frost_at
                .1
                .then(|| {
                    view! {
                        <text class="year__note year__note--end" x="98%" y="62">
                            {text("year.frost")}
                        </text>
                    }
                })}
            <text class="year__now-word" x=now_word dx="4" y="96">
                {text("year.today")}
            </text>
            <line class="year__now" x1=now.clone() x2=now y1="0" y2="104"></line>
        </svg>
    }
    .into_any()
}

/// Months and weeks, with a thread at today.
#[component]
pub fn AxisDrawing(axis: Axis, today: NaiveDate) -> impl IntoView {
    let months = axis
        .months()
        .into_iter()
        .map(|month| {
            let letter: String = text(month_key(month.number)).chars().take(1).collect();
            let begins = percent(month.begins);
            let tick = (month.begins >= 0.0).then(|| {
                view! { <line class="year__tick year__tick--month" x1=begins.clone() x2=begins y1="0" y2="32"></line> }
            });
            view! {
                {tick}
                <text class="year__month" x=percent(month.middle) y="22">
                    {letter}
                </text>
            }
        })
        .collect_view();
    let ticks = axis
        .weeks()
        .map(|week| {
            let x = percent(axis.x(week.monday()));
            view! { <line class="year__tick" x1=x.clone() x2=x y1="27" y2="32"></line> }
        })
        .collect_view();
    let now = percent(axis.x(today));
    view! {
        <svg class="year__axis" aria-hidden="true">
            {months}
            {ticks}
            <line class="year__now" x1=now.clone() x2=now y1="0" y2="32"></line>
        </svg>
    }
}

#[component]
fn Lines(drawn: Drawing, mover: Mover) -> impl IntoView {
    let (axis, today, manner) = (drawn.axis, drawn.today, drawn.manner);
    let lines = drawn
        .lines
        .into_iter()
        .map(|line| match line.planned.clone() {
            Some(id) => view! { <PlannedLine line id axis today manner mover /> }.into_any(),
            None => view! { <LockedLine line axis today /> }.into_any(),
        })
        .collect_view();
    view! { <ul>{lines}</ul> }
}

/// A line's strokes.
pub fn strokes_of(axis: Axis, life: &Life) -> impl IntoView + use<> {
    life.strokes
        .iter()
        .map(|stroke| drawn_stroke(axis, *stroke))
        .collect_view()
}

fn drawn_stroke(axis: Axis, stroke: Stroke) -> impl IntoView {
    let (class, y) = look(stroke.what);
    view! {
        <line
            class=class
            x1=percent(axis.x(stroke.from))
            x2=percent(axis.x(stroke.to))
            y1=y
            y2=y
        ></line>
    }
}

fn look(what: Texture) -> (&'static str, u32) {
    match what {
        Texture::Mat => ("life__mat", GROUND),
        Texture::Shelf => ("life__shelf", GROUND),
        Texture::Hardening => ("life__hardening", GROUND),
        Texture::Bed => ("life__bed", GROUND),
        Texture::Maybe => ("life__maybe", UNSURE),
        Texture::Likely => ("life__likely", SURE),
        Texture::Cut => ("life__cut", SURE),
    }
}

#[component]
fn Textures() -> impl IntoView {
    let marks = [
        (Texture::Mat, "year.mat"),
        (Texture::Shelf, "year.shelf"),
        (Texture::Hardening, "year.hardening"),
        (Texture::Bed, "year.bed"),
        (Texture::Maybe, "year.maybe"),
        (Texture::Likely, "year.likely"),
        (Texture::Cut, "year.cut"),
    ];
    let marks = marks.map(|(what, key)| (Mark::Stroke(look(what).0), key));
    view! { <Legend marks=marks.to_vec() /> }
}

/// The drawing's dates as a table.
#[component]
fn AsTable(lines: Vec<Line>, manner: Manner) -> impl IntoView {
    let rows = lines
        .into_iter()
        .map(|line| {
            let course = line.life.course;
            let day = move |date: Option<NaiveDate>| {
                date.map_or_else(|| text("year.none").to_owned(), |d| manner.day_month(d))
            };
            let first = match (course.cut, course.bloom) {
                (Some((first, _)), _) => day(Some(first)),
                (None, Some(bloom)) => Say::new("year.band")
                    .with("from", manner.day_month(bloom.p10))
                    .with("mid", manner.day_month(bloom.p50))
                    .with("to", manner.day_month(bloom.p90))
                    .write(manner),
                (None, None) => day(None),
            };
            TableRow::new(line.name)
                .with(day(Some(course.sown)))
                .with(day(course.planted()))
                .with(first)
                .with(day(course.last().map(|last| last.p50)))
        })
        .collect();
    let columns = [
        "year.col.what",
        "year.col.sown",
        "year.col.planted",
        "year.col.first",
        "year.col.last",
    ];
    let columns = columns.map(Column::Words).to_vec();
    view! {
        <details class="why">
            <summary class="why__ask">{text("year.as_table")}</summary>
            <Table caption="year.as_table" columns rows />
        </details>
    }
}

/// A place along the weeks.
pub fn percent(x: f64) -> String {
    format!("{x:.2}%")
}

fn month_key(number: u32) -> &'static str {
    const KEYS: [&str; 12] = [
        "month.1", "month.2", "month.3", "month.4", "month.5", "month.6", "month.7", "month.8",
        "month.9", "month.10", "month.11", "month.12",
    ];
    KEYS[(number.wrapping_sub(1) % 12) as usize]
}
