//! One bed, drawn as it lies, with its plantings.

use leptos::prelude::*;
use season::words::{Arg, Say, text};

use super::fill::FillSheet;
use super::strip::{HEIGHT, Piece};
use super::told::{BedTold, PlantingTold};
use crate::forms::{OfPlanting, Recorder};
use crate::parts::Icon;
use crate::parts::why::BasisMark;
use crate::route::Route;
use crate::store::Store;

/// One bed.
#[component]
pub fn BedCard(bed: BedTold, recorder: Recorder) -> impl IntoView {
    let manner = Store::here().manner_now();
    let filling = RwSignal::new(false);
    let id = StoredValue::new(bed.id);
    let name = StoredValue::new(bed.name.clone());
    let label = bed.label.write(manner);
    let plantings = bed
        .plantings
        .into_iter()
        .map(|planting| view! { <InKey planting recorder /> })
        .collect_view();
    let strip = bed
        .strip
        .zip(bed.length_m)
        .map(|(pieces, length_m)| view! { <Strip pieces length_m label /> });
    view! {
        <article class="bed">
            <div class="bed__head">
                <h3 class="bed__name">{bed.name}</h3>
                <p class="bed__size">{bed.size.write(manner)}</p>
            </div>
            {strip}
            <ol class="bed__key">{plantings}</ol>
            <div class="actions">
                <button class="btn" type="button" on:click=move |_| filling.set(true)>
                    <Icon name="plant" small=true />
                    {text("beds.fill")}
                    <span class="visually-hidden">": " {name.get_value()}</span>
                </button>
            </div>
            {move || {
                filling
                    .get()
                    .then(|| view! { <FillSheet bed=id.get_value() filling recorder /> })
            }}
        </article>
    }
}

#[component]
fn Strip(pieces: Vec<Piece>, length_m: f64, label: String) -> impl IntoView {
    let manner = Store::here().manner_now();
    let metres = |m: f64| {
        Say::new("beds.measure")
            .with("n", Arg::Length(m))
            .write(manner)
    };
    let parts = pieces.into_iter().map(drawn).collect_view();
    view! {
        <svg class="bed__strip" role="img" aria-label=label>
            <rect class="bed__edge" x="0" y="1" width="100%" height=format!("{:.0}", HEIGHT - 2.0)></rect>
            {parts}
            <text class="bed__measure" x="0" y="80">
                {metres(0.0)}
            </text>
            <text class="bed__measure" x="50%" y="80" text-anchor="middle">
                {metres(length_m / 2.0)}
            </text>
            <text class="bed__measure" x="100%" y="80" text-anchor="end">
                {metres(length_m)}
            </text>
        </svg>
    }
}

fn drawn(piece: Piece) -> impl IntoView {
    let class = piece.look.class();
    let rows = piece
        .rows
        .into_iter()
        .map(|y| {
            let y = format!("{y:.1}");
            view! { <line class=class x1="8" x2="100%" y1=y.clone() y2=y></line> }
        })
        .collect_view();
    view! {
        <svg
            x=format!("{:.2}%", piece.from)
            width=format!("{:.2}%", piece.long)
            height=format!("{HEIGHT:.0}")
        >
            {rows}
            <line class="bed__divide" x1="100%" x2="100%" y1="1" y2="59"></line>
            <rect class="bed__tag" x="0" y="1" width="24" height="24"></rect>
            <text class="bed__letter" x="12" y="19">
                {piece.letter}
            </text>
        </svg>
    }
}

#[component]
fn InKey(planting: PlantingTold, recorder: Recorder) -> impl IntoView {
    let manner = Store::here().manner_now();
    let id = planting.id.clone();
    let name = planting.name.write(manner);
    let label = name.clone();
    view! {
        <li class="planting" data-guarded="">
            <span class="planting__letter">{planting.letter}</span>
            <h4 class="planting__name">
                <a href=Route::Planting(planting.id).href()>{name}</a>
            </h4>
            <p class="planting__facts">{planting.facts.write(manner)}</p>
            <p class="planting__bloom">
                {planting.bloom.write(manner)} " " <BasisMark basis=planting.basis />
            </p>
            <button
                class="btn planting__do"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| recorder.of_planting(OfPlanting::Cut, &id)
            >
                {text("do.cut")}
                <span class="visually-hidden">": " {label}</span>
            </button>
        </li>
    }
}
