//! How surely targets and orders get their stems: the season played many times over by chance.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::chance::{ByChance, WeekChance};
use season::words::{Arg, Manner, Say, text};

use super::planning::Planning;
use super::target;
use crate::parts::{Column, Section, Table, TableRow};
use crate::store::Store;

/// A target or an order by chance, in words.
#[derive(Clone)]
struct Row {
    name: String,
    short: String,
    missing: String,
    weeks: Vec<(String, String)>,
}

fn rows(almanac: &Almanac<'_>, chances: &ByChance, manner: Manner) -> Vec<Row> {
    let targets = chances.targets.iter().filter_map(|(id, weeks)| {
        let worst = worst(weeks)?;
        let missing: f64 = weeks.iter().map(|week| week.outcome.missing.value).sum();
        Some(Row {
            name: target::name(almanac, id).write(manner),
            short: Say::new("chance.worst")
                .with("week", worst.week)
                .with("n", Arg::Share(worst.outcome.short.value))
                .write(manner),
            missing: Arg::Number(missing.round() as i64).written(manner),
            weeks: weeks.iter().map(|week| of_week(week, manner)).collect(),
        })
    });
    let orders = chances.orders.iter().filter_map(|(id, chance)| {
        let order = almanac.season().orders.get(id)?;
        let who = (!order.who.is_empty()).then(|| order.who.clone());
        let missing: f64 = chance.lines.iter().map(|line| line.2.missing.value).sum();
        Some(Row {
            name: Say::new("chance.order")
                .with_some("who", who)
                .with("date", order.date?)
                .write(manner),
            short: Say::new("chance.week")
                .with("n", Arg::Share(1.0 - chance.filled.value))
                .write(manner),
            missing: Arg::Number(missing.round() as i64).written(manner),
            weeks: Vec::new(),
        })
    });
    targets.chain(orders).collect()
}

/// The week that falls short most often.
fn worst(weeks: &[WeekChance]) -> Option<&WeekChance> {
    let short = |week: &&WeekChance| week.outcome.short.value;
    weeks
        .iter()
        .max_by(|a, b| short(a).total_cmp(&short(b)).then(b.week.cmp(&a.week)))
}

fn of_week(week: &WeekChance, manner: Manner) -> (String, String) {
    let name = Arg::Week(week.week).written(manner);
    let chance = Say::new("chance.week").with("n", Arg::Share(week.outcome.short.value));
    (name, chance.write(manner))
}

/// The largest standard error of a chance of falling short.
fn error(chances: &ByChance) -> f64 {
    let weeks = chances.targets.values().flatten();
    let weeks = weeks.map(|week| week.outcome.short.error);
    let orders = chances.orders.values().map(|order| order.filled.error);
    weeks.chain(orders).fold(0.0, f64::max)
}

/// The section.
#[component]
pub fn Chances(planning: Planning) -> impl IntoView {
    view! {
        <Section head="chance.head">
            {move || match planning.chances() {
                Some(chances) => view! { <Played chances=(*chances).clone() /> }.into_any(),
                None => {
                    let playing = planning.is_playing();
                    let key = if playing { "chance.playing" } else { "chance.not" };
                    view! {
                        <p class="soft" role="status" aria-busy=playing.then_some("true")>
                            {text(key)}
                        </p>
                    }
                        .into_any()
                }
            }}
        </Section>
    }
    .into_any()
}

#[component]
fn Played(chances: ByChance) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner();
    let rows = store.with_almanac(|almanac| rows(almanac, &chances, manner));
    if rows.is_empty() {
        return view! { <p class="soft">{text("chance.none")}</p> }.into_any();
    }
    let lead = Say::new("chance.lead").with("seasons", chances.seasons);
    let seed = Say::new("chance.seed")
        .with("seed", Arg::Text(chances.seed.to_string()))
        .with("error", Arg::FineShare(error(&chances)));
    let lines = rows
        .into_iter()
        .map(|row| {
            let weeks = row
                .weeks
                .into_iter()
                .map(|(week, chance)| {
                    view! {
                        <div>
                            <dt>{week}</dt>
                            <dd>{chance}</dd>
                        </div>
                    }
                })
                .collect::<Vec<_>>();
            let each = (weeks.len() > 1).then(|| {
                view! {
                    <details class="why why--inline">
                        <summary class="why__ask">{text("chance.each")}</summary>
                        <div class="why__panel">
                            <dl class="why__inputs">{weeks}</dl>
                        </div>
                    </details>
                }
            });
            TableRow::new(row.name)
                .with(row.short)
                .with(row.missing)
                .with(each)
        })
        .collect();
    let columns = vec![
        Column::Words("chance.col.who"),
        Column::Words("chance.col.short"),
        Column::Figures("chance.col.missing"),
        Column::Bare,
    ];
    view! {
        <p class="section__lead">{lead.write(manner)}</p>
        <Table caption="chance.head" columns rows=lines />
        <p class="soft small">{seed.write(manner)}</p>
    }
    .into_any()
}
