//! What a planting is expected to give: first stems, stems in all, stems by week, each with its reasons.

use agronomy::quantity::Spread;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::forecast::{BedForecast, FlushTold};
use season::state::Planting;
use season::why::{Basis, Reason};
use season::words::{Arg, Manner, Say};

use super::told::bloom;
use crate::parts::{Section, StemsBar, WeekNumber, Why, Words};
use crate::store::Store;

/// One week's stems.
#[derive(Clone, PartialEq)]
struct Week {
    number: u32,
    begins: String,
    said: String,
    /// 10, 50 and 90 in 100, percent of the longest.
    bar: [f64; 3],
}

/// A planting's outlook in words.
#[derive(Clone, PartialEq)]
pub struct Outlook {
    bloom: Say,
    bloom_basis: Basis,
    bloom_day: Option<String>,
    /// Which flush it is in, or came out of.
    flush: Option<Say>,
    total: Spread<f64>,
    cut: u32,
    reasons: Vec<Reason>,
    weeks: Vec<Week>,
    /// Whether it was cleared.
    over: bool,
}

/// A flush in words.
fn flush(told: FlushTold) -> Say {
    match told.ended {
        Some(date) => Say::new("why.flush_over")
            .with("n", told.number)
            .with("date", date)
            .with_some("next", told.next),
        None => Say::new("why.flush_began")
            .with("n", told.number)
            .with("date", told.began),
    }
}

/// The outlook of a planting.
pub fn outlook(
    _almanac: &Almanac<'_>,
    planting: &Planting,
    forecast: &BedForecast,
    manner: Manner,
) -> Outlook {
    let (say, basis) = bloom(planting, Some(forecast));
    let most = forecast
        .weeks
        .iter()
        .map(|(_, stems)| stems.p90)
        .fold(1.0, f64::max);
    let first = planting.first_cut();
    Outlook {
        bloom: say,
        bloom_basis: basis,
        bloom_day: first
            .or(forecast.bloom.map(|bloom| bloom.p50))
            .map(|date| manner.day_month(date)),
        flush: forecast.flush.map(flush),
        total: forecast.total,
        cut: forecast.cut,
        reasons: forecast.why.clone(),
        weeks: forecast
            .weeks
            .iter()
            .filter(|(_, stems)| stems.p90 >= 0.5)
            .map(|(week, stems)| Week {
                number: week.week(),
                begins: manner.day_month(week.monday()),
                said: Say::new("planting.week").with_spread(*stems).write(manner),
                bar: [stems.p10, stems.p50, stems.p90].map(|n| n / most * 97.0),
            })
            .collect(),
        over: planting.finished.is_some(),
    }
}

/// The outlook of a planting.
#[component]
pub fn OutlookView(
    /// What is expected.
    outlook: Outlook,
) -> impl IntoView {
    let manner = Store::here().manner_now();
    let span = Say::new("planting.span")
        .with_spread(outlook.total)
        .write(manner);
    let total = Say::new("plain.n")
        .with("n", Arg::Number(outlook.total.p50.round() as i64))
        .write(manner);
    let total_basis = if outlook.over {
        Basis::Measured
    } else {
        Basis::Forecast
    };
    let weeks = outlook
        .weeks
        .into_iter()
        .map(|week| view! { <OfWeek week /> })
        .collect::<Vec<_>>();
    let any = !weeks.is_empty();
    view! {
        <Section head="planting.outlook">
            <p class="lead">{outlook.bloom.write(manner)}</p>
            {outlook.flush.map(|say| view! { <p>{say.write(manner)}</p> })}
            {outlook
                .bloom_day
                .map(|day| {
                    let reasons = outlook.reasons.clone();
                    view! {
                        <Why
                            figure=day
                            unit="planting.first"
                            basis=outlook.bloom_basis
                            reasons=reasons
                        />
                    }
                })}
            <Why
                figure=total
                unit="planting.total"
                span=Words::Plain(span)
                basis=total_basis
                reasons=outlook.reasons
            />
            <Why
                figure=outlook.cut.to_string()
                unit="planting.cut"
                basis=Basis::Measured
                reasons=Vec::new()
            />
        </Section>
        {any
            .then(|| {
                view! {
                    <Section head="planting.by_week">
                        <ol class="supply">{weeks}</ol>
                    </Section>
                }
            })}
    }
}

#[component]
fn OfWeek(week: Week) -> impl IntoView {
    let [low, mid, high] = week.bar;
    view! {
        <li class="supply__week">
            <WeekNumber number=week.number begins=week.begins />
            <StemsBar bar=[low, mid, high] />
            <p class="supply__said">{week.said}</p>
        </li>
    }
}
