//! The tables of a review.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::review::{LotRow, PlantingRow, Review, RoleRow, VarietyRow, WeekRow};
use season::words::{Arg, Manner, Say, Units, text};

use super::rows::{days_off, number, or_none, per_length, share};
use crate::forms::names;
use crate::parts::{Column, Section, Table, TableRow};
use crate::route::Route;
use crate::store::Store;

fn planting(almanac: &Almanac<'_>, row: &PlantingRow, manner: Manner) -> TableRow {
    let to = Route::Planting(row.planting.clone()).href();
    let name = names::planting(almanac, &row.planting).write(manner);
    let forecast = row
        .forecast
        .map(|stems| Say::new("review.span").with_spread(stems));
    TableRow::new(view! { <a href=to>{name}</a> })
        .with(row.plants)
        .with(row.cut)
        .with(or_none(forecast, manner))
        .with(number(row.per_plant(), 1, manner))
        .with(per_length(row.per_metre(), 0, manner))
        .with(share(row.cull_share(), manner))
        .with(days_off(row.late_days(), manner))
}

fn variety(almanac: &Almanac<'_>, row: &VarietyRow, manner: Manner) -> TableRow {
    TableRow::new(names::variety(almanac, &row.variety).write(manner))
        .with(row.cut)
        .with(share(row.sold_share(), manner))
        .with(row.discarded)
        .with(per_length(row.per_bed_week(), 1, manner))
        .with(per_length(row.returns_per_bed_week(), 2, manner))
}

fn week(row: &WeekRow, manner: Manner) -> TableRow {
    let name = Say::new("review.week")
        .with("week", row.week.week())
        .with("date", row.week.monday())
        .write(manner);
    let forecast = row
        .forecast
        .map(|stems| Say::new("review.span").with_spread(stems));
    let held = row.held().map(|held| {
        Say::new(if held {
            "review.held.yes"
        } else {
            "review.held.no"
        })
    });
    TableRow::new(name)
        .with(or_none(forecast, manner))
        .with(row.cut)
        .with(or_none(held, manner))
}

fn lot(almanac: &Almanac<'_>, row: &LotRow, manner: Manner) -> TableRow {
    let lot = row
        .lot
        .as_ref()
        .and_then(|id| almanac.season().lots.get(id));
    let name = Say::new("review.lot")
        .with("variety", names::variety(almanac, &row.variety))
        .with_some(
            "lot",
            lot.map(|lot| lot.name.clone())
                .filter(|name| !name.is_empty()),
        )
        .write(manner);
    let days = row.half_day.map(|day| {
        Say::new("review.half_day")
            .with("n", Arg::Decimal(day, 1))
            .with_some("usual", row.half_day_usual.map(|day| Arg::Decimal(day, 1)))
    });
    TableRow::new(name)
        .with(row.seeds)
        .with(row.up)
        .with(share(row.share(), manner))
        .with(share(row.packet.or(row.expected), manner))
        .with(or_none(days, manner))
}

fn role(row: &RoleRow, manner: Manner) -> TableRow {
    let name = Say::new("review.week")
        .with("week", row.week.week())
        .with("date", row.week.monday())
        .write(manner);
    TableRow::new(name)
        .with(text(row.role.key()))
        .with(row.wanted)
        .with(row.cut)
        .with(row.missing())
}

/// All tables, those that hold anything.
#[component]
pub fn Tables(review: Review) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner_now();
    let per = |metre, foot| match manner.units {
        Units::Metric => metre,
        Units::Us => foot,
    };
    store.with_almanac_now(|almanac| {
        let plantings = review
            .plantings
            .iter()
            .map(|row| planting(almanac, row, manner));
        let varieties = review
            .varieties
            .iter()
            .map(|row| variety(almanac, row, manner));
        let known = review.weeks.iter().filter(|row| row.known);
        let weeks = known.map(|row| week(row, manner));
        let lots = review.lots.iter().map(|row| lot(almanac, row, manner));
        let losses = review.losses.iter().map(|row| {
            TableRow::new(text(row.cause.key()))
                .with(row.cells)
                .with(row.plants)
        });
        let missing = review.roles.iter().filter(|row| row.missing() > 0);
        let roles = missing.map(|row| role(row, manner));
        view! {
            {table(
                "review.head",
                "review.lead",
                &["year.col.what"],
                &[
                    "review.col.plants",
                    "review.col.stems",
                    "review.col.forecast",
                    "review.col.per_plant",
                    per("review.col.per_metre", "review.col.per_foot"),
                    "review.col.culls",
                    "review.col.bloom",
                ],
                plantings.collect(),
            )}
            {table(
                "review.paid",
                "review.paid.lead",
                &["year.col.what"],
                &[
                    "review.col.stems",
                    "review.col.sold",
                    "review.col.thrown",
                    per("review.col.bed_week", "review.col.bed_week_foot"),
                    per("review.col.returns", "review.col.returns_foot"),
                ],
                varieties.collect(),
            )}
            {table(
                "review.weeks",
                "review.weeks.lead",
                &["supply.week"],
                &["review.col.forecast", "review.col.cut", "review.col.held"],
                weeks.collect(),
            )}
            {table(
                "review.lots",
                "review.lots.lead",
                &["year.col.what"],
                &[
                    "review.col.seeds",
                    "review.col.up",
                    "review.col.germination",
                    "review.col.packet",
                    "review.col.half",
                ],
                lots.collect(),
            )}
            {table(
                "review.losses",
                "review.losses.lead",
                &["field.cause"],
                &["review.col.cells", "review.col.plants"],
                losses.collect(),
            )}
            {table(
                "review.roles",
                "review.roles.lead",
                &["supply.week", "review.col.role"],
                &["review.col.wanted", "review.col.cut", "review.col.missing"],
                roles.collect(),
            )}
        }
    })
}

/// A table under its heading; nothing where it has no rows.
fn table(
    head: &'static str,
    lead: &'static str,
    words: &[&'static str],
    figures: &[&'static str],
    rows: Vec<TableRow>,
) -> AnyView {
    if rows.is_empty() {
        return ().into_any();
    }
    let words = words.iter().map(|key| Column::Words(key));
    let columns: Vec<Column> = words
        .chain(figures.iter().map(|key| Column::Figures(key)))
        .collect();
    view! {
        <Section head=head>
            <p class="section__lead">{text(lead)}</p>
            <Table caption=head columns rows />
        </Section>
    }
    .into_any()
}
