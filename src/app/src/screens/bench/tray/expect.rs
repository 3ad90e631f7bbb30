//! What to expect of a tray: plants, when they go out, when they bloom.

use leptos::prelude::*;
use season::almanac::{Almanac, ClimateGap};
use season::forecast::{TrayForecast, line_reasons};
use season::state::Sowing;
use season::why::{Basis, Reason};
use season::words::{Arg, Say, text};

use super::Tray;
use crate::parts::{Section, Why};
use crate::route::{Route, ShedPart};
use crate::store::Store;

/// Plants, planting window and bloom, each with its chain.
#[component]
pub(super) fn Expect(tray: Tray) -> impl IntoView {
    let store = Store::here();
    let Tray { id, forecast } = tray;
    if forecast.stage == season::forecast::TrayStage::Ended {
        return ().into_any();
    }
    let (why_bloom, gap) = store.with_almanac_now(|almanac| {
        let sowing = almanac.season().sowings.get(&id);
        let why = sowing.map(|sowing| why_bloom(almanac, sowing, &forecast));
        (why.unwrap_or_default(), almanac.climate().err())
    });
    let whole = |x: f64| Arg::Number(x.round() as i64);
    let plants = Say::new("expect.plants").with("n", whole(forecast.plants.p50));
    let plants_span = Say::new("expect.span")
        .with("low", whole(forecast.plants.p10))
        .with("high", whole(forecast.plants.p90));
    let planting = forecast.plant.map(|window| {
        let figure = Say::new("expect.date").with("date", window.best);
        let span = Say::new("expect.between")
            .with("from", window.earliest)
            .with("to", window.latest);
        view! {
            <div>
                <dt>{text("expect.planting")}</dt>
                <dd>
                    <Why
                        figure=figure
                        span=span
                        basis=Basis::Forecast
                        reasons=forecast.why_plant.clone()
                        inline=true
                    />
                </dd>
            </div>
        }
    });
    let bloom = forecast.bloom.map(|bloom| {
        let figure = Say::new("expect.date").with("date", bloom.p50);
        let span = Say::new("expect.between")
            .with("from", bloom.p10)
            .with("to", bloom.p90);
        view! {
            <div>
                <dt>{text("expect.bloom")}</dt>
                <dd>
                    <Why
                        figure=figure
                        span=span
                        basis=Basis::Forecast
                        reasons=why_bloom
                        inline=true
                    />
                </dd>
            </div>
        }
    });
    let no_climate = gap.map(|gap| view! { <NoClimate gap /> });
    view! {
        <Section head="expect.head">
            <dl class="culture">
                <div>
                    <dt>{text("expect.good_plants")}</dt>
                    <dd>
                        <Why
                            figure=plants
                            span=plants_span
                            basis=Basis::Forecast
                            reasons=forecast.why_plants.clone()
                            inline=true
                        />
                    </dd>
                </div>
                {planting}
                {bloom}
            </dl>
            {no_climate}
        </Section>
    }
    .into_any()
}

/// Why there is no bloom forecast, and where to mend it.
#[component]
fn NoClimate(gap: ClimateGap) -> impl IntoView {
    let key = match gap {
        ClimateGap::NoPlace | ClimateGap::NoLatitude => "expect.no_latitude",
        ClimateGap::NoFrostDates => "expect.no_frost_dates",
        ClimateGap::Odd => "expect.odd_place",
    };
    view! {
        <p>
            {text(key)} " "
            <a href=Route::Shed(ShedPart::Place).href()>{text("expect.to_place")}</a>
        </p>
    }
}

/// The chain behind the bloom forecast.
fn why_bloom(almanac: &Almanac<'_>, sowing: &Sowing, forecast: &TrayForecast) -> Vec<Reason> {
    let (Some(bloom), Some(plant)) = (forecast.bloom, forecast.plant) else {
        return Vec::new();
    };
    let space = forecast.space.as_ref().and_then(|id| almanac.space(id));
    let space_name = space.map_or_else(
        || text("space.outdoors").to_owned(),
        |space| space.name.clone(),
    );
    let mut days = Reason::forecast(
        Say::new("why.days_to_bloom")
            .with("n", (bloom.p50 - plant.best).num_days())
            .with("date", plant.best)
            .with("space", space_name),
    );
    let crop = almanac.crop(&sowing.variety);
    if let Some(figure) = crop.and_then(|crop| crop.figure("days_transplant_to_first_bloom_warm")) {
        days.sources.clone_from(&figure.src);
    }
    let mut why = vec![days];
    if let Some(crop) = crop {
        let group = almanac.variety(&sowing.variety).and_then(|v| v.group);
        why.extend(line_reasons(crop, group));
    }
    if almanac.normals_assumed() {
        why.push(Reason::assumed(Say::new("why.example_climate")));
    }
    why
}
