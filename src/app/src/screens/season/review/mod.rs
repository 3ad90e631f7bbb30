//! What came of a season: forecast beside outcome, what paid and what failed, what to carry into the next.

mod rows;
mod tables;

use leptos::prelude::*;
use season::almanac::Almanac;
use season::crop_year::{CropSpan, spans};
use season::returns::returns;
use season::review::{Held, Review, review};
use season::words::{Arg, Manner, Say, text};

use self::tables::Tables;
use crate::parts::{Back, Frame, Picked, Section, SelectField, Typed};
use crate::route::{Area, Route, SeasonPart};
use crate::store::Store;

/// A season's name.
fn name(span: &CropSpan) -> Say {
    match &span.name {
        Some(name) if !name.is_empty() => Say::new("review.season").with("name", name.clone()),
        _ => Say::new("review.season_before"),
    }
    .with("from", span.from)
    .with("to", span.to)
}

/// The review of a span.
fn of_span(almanac: &Almanac<'_>, span: &CropSpan, today: chrono::NaiveDate) -> Review {
    let prices = returns(almanac, span.from, span.to);
    let price = |variety: &season::ids::VarietyId| {
        prices.get(variety).and_then(|returns| returns.per_stem())
    };
    review(almanac, span.from, span.to, today, &price)
}

/// The review.
#[component]
pub fn ReviewScreen() -> impl IntoView {
    let store = Store::here();
    let chosen = Typed::new("0");
    let all = Memo::new(move |_| spans(&store.season(), store.today()));
    let options = Signal::derive(move || {
        let spans = all.get().into_iter().enumerate();
        spans
            .map(|(n, span)| Picked::new(n.to_string(), name(&span)))
            .collect::<Vec<_>>()
    });
    let found = move || {
        let n: usize = chosen.text().parse().unwrap_or(0);
        let span = all.with(|all| all.get(n).or(all.first()).cloned())?;
        let today = store.today();
        Some(store.with_almanac(|almanac| of_span(almanac, &span, today)))
    };
    view! {
        <Frame title="review.title" area=Area::Season back=Back::to_area(Area::Season)>
            {move || {
                (all.with(Vec::len) > 1)
                    .then(|| {
                        view! { <SelectField typed=chosen label="review.which" options /> }
                    })
            }}
            {move || {
                let manner = store.manner();
                found().map(|review| view! { <Whole review manner /> })
            }}
        </Frame>
    }
}

#[component]
fn Whole(review: Review, manner: Manner) -> impl IntoView {
    let nothing = review.plantings.is_empty() && review.lots.is_empty();
    let held = [
        ("review.held.blooms", review.calibration.blooms),
        ("review.held.stems", review.calibration.stems),
        ("review.held.weeks", review.calibration.weeks),
    ];
    let held = held
        .into_iter()
        .filter_map(|(key, held)| Some((key, held, held.share()?)))
        .map(|(key, held, share)| view! { <li>{held_said(key, held, share, manner)}</li> })
        .collect_view();
    let notes = review
        .notes
        .iter()
        .map(|note| view! { <li>{note.say.write(manner)}</li> })
        .collect_view();
    let any_notes = !review.notes.is_empty();
    view! {
        <Section head="review.sum">
            {nothing.then(|| view! { <p class="soft">{text("review.none")}</p> })}
            {any_notes
                .then(|| view! { <p class="section__lead">{text("review.notes.lead")}</p> })}
            <ul class="review__notes">{notes}</ul>
            <ul class="soft small">{held}</ul>
            <div class="actions no-print">
                <a class="btn btn--primary" href=Route::Season(SeasonPart::Next).href()>
                    {text("next.title")}
                </a>
            </div>
        </Section>
        <Tables review />
    }
}

fn held_said(key: &'static str, held: Held, share: f64, manner: Manner) -> String {
    Say::new(key)
        .with("n", held.held)
        .with("of", held.of)
        .with("share", Arg::Share(share))
        .write(manner)
}
