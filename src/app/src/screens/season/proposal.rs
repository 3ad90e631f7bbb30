//! Sowings that the plan proposes, each with its figures and their reasons.

use chrono::{Datelike, NaiveDate};
use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::ids::PlannedId;
use season::plan::{Asker, BED_WIDTH_M, Proposal};
use season::tray_hold::tray_hold;
use season::why::{Basis, Reason};
use season::words::{Arg, Manner, Say, text};

use agronomy::iso_week::IsoWeek;

use super::planning::Planning;
use super::target;
use super::weeks::span;
use crate::browser::{clock, random};
use crate::forms::names;
use crate::parts::{Icon, Saver, Why};
use crate::store::Store;

/// The fact that accepts a proposal.
pub fn accept(proposal: &Proposal) -> Fact {
    proposal
        .accept(PlannedId::mint(clock::now_ms(), random::bits()))
        .into()
}

/// A proposal in words.
#[derive(Clone)]
struct Told {
    name: Say,
    for_target: Say,
    place: Say,
    stems: Say,
    /// That a late spring would hold it in its tray for too long.
    hold: Option<Say>,
    proposal: Proposal,
}

fn told(almanac: &Almanac<'_>, proposal: &Proposal) -> Told {
    Told {
        name: names::variety(almanac, &proposal.variety),
        for_target: Say::new("proposal.for")
            .with("wanted", asker(almanac, &proposal.serves))
            .with("weeks", span(proposal.weeks.0, proposal.weeks.1)),
        place: Say::new("proposal.place")
            .with("space", names::space(almanac, &proposal.space))
            .with("date", proposal.plant)
            .with("metres", Arg::Length(proposal.bed_metres))
            .with("width", Arg::Length(BED_WIDTH_M)),
        stems: band("proposal.band", proposal),
        hold: tray_hold(
            almanac,
            &proposal.variety,
            proposal.sow,
            proposal.plant,
            almanac.space(&proposal.space),
        )
        .map(|hold| hold.say),
        proposal: proposal.clone(),
    }
}

/// Who wants the stems.
pub fn asker(almanac: &Almanac<'_>, asker: &Asker) -> Say {
    match asker {
        Asker::Target(id) => target::name(almanac, id),
        Asker::Order(id) => {
            let order = almanac.season().orders.get(id);
            let who = order.map_or_else(String::new, |order| order.who.clone());
            Say::new("proposal.order").with_some("who", (!who.is_empty()).then_some(who))
        }
    }
}

/// First stems as a band of days.
fn band(key: &'static str, proposal: &Proposal) -> Say {
    Say::new(key)
        .with("from", proposal.bloom.p10)
        .with("mid", proposal.bloom.p50)
        .with("to", proposal.bloom.p90)
}

/// All proposals, by date of sowing.
#[component]
pub fn Proposals(planning: Planning, saver: Saver) -> impl IntoView {
    let store = Store::here();
    move || {
        let plan = planning.plan()?;
        let (manner, today) = (store.manner(), store.today());
        if plan.proposals.is_empty() {
            return Some(view! { <p>{text("plan.nothing")}</p> }.into_any());
        }
        let all: Vec<Told> = store.with_almanac(|almanac| {
            plan.proposals
                .iter()
                .map(|proposal| told(almanac, proposal))
                .collect()
        });
        let lines = all
            .into_iter()
            .map(|told| view! { <Line told saver manner today /> })
            .collect_view();
        Some(view! { <ol class="proposals">{lines}</ol> }.into_any())
    }
}

/// The week to sow in, large, with the day below it.
#[component]
pub fn SowWeek(date: NaiveDate, today: NaiveDate, manner: Manner) -> impl IntoView {
    let year = (date.year() != today.year()).then(|| date.year());
    let by = Say::new("proposal.by")
        .with("date", manner.day_month(date))
        .with_some("year", year.map(|year| year.to_string()));
    view! {
        <p class="proposal__week">
            <span class="visually-hidden">{text("supply.week")} " "</span>
            <span class="proposal__num">{IsoWeek::of(date).week()}</span>
            {by.write(manner)}
        </p>
    }
}

#[component]
fn Line(told: Told, saver: Saver, manner: Manner, today: NaiveDate) -> impl IntoView {
    let Told {
        name,
        for_target,
        place,
        stems,
        hold,
        proposal,
    } = told;
    let named = name.write(manner);
    let label = named.clone();
    let sow = proposal.sow;
    let cells: Vec<Reason> = proposal.why_cells.clone();
    let fact = StoredValue::new(proposal.clone());
    view! {
        <li class="proposal">
            <SowWeek date=sow today manner />
            <h3 class="proposal__name">{named}</h3>
            <p class="small">{for_target.write(manner)}</p>
            <div>
                <Why
                    figure=proposal.cells.to_string()
                    unit="proposal.cells"
                    basis=Basis::Forecast
                    reasons=cells
                    inline=true
                />
                <Why
                    figure=proposal.plants.to_string()
                    unit="proposal.plants"
                    basis=Basis::Forecast
                    reasons=proposal.why_plants
                    inline=true
                />
                <Why
                    figure=manner.day_month(proposal.bloom.p50)
                    unit="proposal.first_stems"
                    span=stems.write(manner)
                    basis=Basis::Forecast
                    reasons=proposal.why_dates
                    inline=true
                />
            </div>
            <p class="proposal__why">{place.write(manner)}</p>
            {hold
                .map(|hold| {
                    view! {
                        <p class="proposal__why proposal__hold">
                            <Icon name="caution" small=true />
                            {hold.write(manner)}
                        </p>
                    }
                })}
            <div class="actions">
                <button
                    class="btn"
                    type="button"
                    aria-busy=move || saver.is_busy().then_some("true")
                    on:click=move |_| {
                        saver.save(vec![fact.with_value(accept)], |_| {});
                    }
                >
                    {text("plan.accept")}
                    <span class="visually-hidden">" " {label}</span>
                </button>
            </div>
        </li>
    }
}
