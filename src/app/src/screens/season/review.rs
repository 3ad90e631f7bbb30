//! What came of each planting, against what such plants usually give.

use agronomy::climate::Cover;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::forecast::stem_figures;
use season::state::Planting;
use season::words::{Arg, Manner, Say, text};

use crate::forms::names;
use crate::parts::{Back, Column, Frame, Section, Table, TableRow};
use crate::route::{Area, Route};
use crate::store::Store;

/// What a planting gave.
#[derive(Clone, PartialEq)]
struct Row {
    to: String,
    name: String,
    plants: u32,
    stems: u32,
    per_plant: String,
    usual: String,
    saleable: String,
}

fn row(almanac: &Almanac<'_>, planting: &Planting, manner: Manner) -> Row {
    let stems = planting.stems_cut();
    let culls = planting
        .cuts
        .iter()
        .fold(0u32, |sum, cut| sum.saturating_add(cut.culls));
    let number = |x: f64| {
        Say::new("plain.n")
            .with("n", Arg::Decimal(x, 1))
            .write(manner)
    };
    let per_plant = f64::from(stems) / f64::from(planting.plants.max(1));
    let cover: Cover = almanac.cover(almanac.space_of_bed(&planting.bed));
    let usual = almanac
        .crop(&planting.variety)
        .and_then(|crop| stem_figures(crop, cover))
        .map_or_else(
            || text("year.none").to_owned(),
            |figures| number(figures.saleable_per_plant()),
        );
    let all = stems.saturating_add(culls);
    let saleable = if all == 0 {
        text("year.none").to_owned()
    } else {
        Say::new("review.share")
            .with("n", Arg::Share(f64::from(stems) / f64::from(all)))
            .write(manner)
    };
    Row {
        to: Route::Planting(planting.id.clone()).href(),
        name: names::planting(almanac, &planting.id).write(manner),
        plants: planting.plants,
        stems,
        per_plant: number(per_plant),
        usual,
        saleable,
    }
}

/// Plantings that stems were cut from, or that were cleared, by their planting date.
fn rows(store: Store) -> Vec<Row> {
    let manner = store.manner();
    store.with_almanac(|almanac| {
        let mut plantings: Vec<&Planting> = almanac
            .season()
            .plantings
            .values()
            .filter(|planting| !planting.cuts.is_empty() || planting.finished.is_some())
            .collect();
        plantings.sort_by_key(|planting| (planting.date, planting.id.clone()));
        plantings
            .into_iter()
            .map(|planting| row(almanac, planting, manner))
            .collect()
    })
}

/// The review.
#[component]
pub fn ReviewScreen() -> impl IntoView {
    let store = Store::here();
    let rows = Memo::new(move |_| rows(store));
    view! {
        <Frame title="review.title" area=Area::Season back=Back::to_area(Area::Season)>
            <Section head="review.head">
                <p class="section__lead">{text("review.lead")}</p>
                {move || {
                    let rows = rows.get();
                    if rows.is_empty() {
                        view! { <p class="soft">{text("review.none")}</p> }.into_any()
                    } else {
                        table(rows).into_any()
                    }
                }}
            </Section>
        </Frame>
    }
}

/// The rows of the review with what they are made of.
fn table(rows: Vec<Row>) -> impl IntoView {
    let columns = vec![
        Column::Words("year.col.what"),
        Column::Figures("review.col.plants"),
        Column::Figures("review.col.stems"),
        Column::Figures("review.col.per_plant"),
        Column::Figures("review.col.usual"),
        Column::Figures("review.col.saleable"),
    ];
    let rows = rows
        .into_iter()
        .map(|row| {
            TableRow::new(view! { <a href=row.to>{row.name}</a> })
                .with(row.plants)
                .with(row.stems)
                .with(row.per_plant)
                .with(row.usual)
                .with(row.saleable)
        })
        .collect();
    view! { <Table caption="review.title" columns rows /> }
}
