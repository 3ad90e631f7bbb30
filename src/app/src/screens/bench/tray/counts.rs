//! Counts over days as a small drawing, with the same in words.

use leptos::prelude::*;
use season::forecast::{fitted, reading, statistics};
use season::words::{Arg, Manner, Say, text};

use super::Tray;
use super::curve::{Curve, Point, curve};
use crate::parts::Section;
use crate::parts::why::Reasons;
use crate::store::Store;

/// The drawing's ground and height, px.
const GROUND: f64 = 120.0;
const TALL: f64 = 108.0;

/// Seedlings up, day by day.
#[component]
pub(super) fn Counts(tray: Tray) -> impl IntoView {
    let store = Store::here();
    let (today, manner) = (store.today_now(), store.manner_now());
    let season = store.season_now();
    let sowing = season.sowings.get(&tray.id)?;
    let (fit, read, stats) = store.with_almanac_now(|almanac| {
        (
            fitted(almanac, sowing, today),
            reading(almanac, sowing, today),
            statistics(almanac, sowing, today),
        )
    });
    let found = curve(sowing, &tray.forecast, fit.as_ref(), today)?;
    let label = label(&found, manner);
    let read = (!read.is_empty()).then(|| {
        view! {
            <details class="fold">
                <summary class="fold__ask">{text("counts.reading")}</summary>
                <Reasons reasons=read />
                <details class="fold">
                    <summary class="fold__ask">{text("counts.statistics")}</summary>
                    <Reasons reasons=stats />
                </details>
            </details>
        }
    });
    Some(view! {
        <Section head="tray.counts">
            <svg class="counts" role="img" aria-label=label>
                {drawing(&found)}
            </svg>
            <Legend has_fit=!found.fitted.is_empty() has_usual=!found.usual.is_empty() />
            {read}
        </Section>
    })
}

fn label(curve: &Curve, manner: Manner) -> String {
    let mut said: Vec<String> = curve
        .counted
        .iter()
        .map(|point| {
            Say::new("counts.day")
                .with("day", Arg::Decimal(point.day, 0))
                .with("up", Arg::Decimal(point.up, 0))
                .write(manner)
        })
        .collect();
    if let Some(last) = curve.expected.last() {
        let say = Say::new("counts.expected")
            .with("day", Arg::Decimal(last.day, 0))
            .with("up", Arg::Decimal(last.up, 0));
        said.push(say.write(manner));
    }
    said.join(" ")
}

fn drawing(curve: &Curve) -> impl IntoView + use<> {
    let x = {
        let days = curve.days;
        move |day: f64| format!("{:.2}%", 6.0 + 88.0 * day / days)
    };
    let y = {
        let cells = curve.cells;
        move |up: f64| GROUND - TALL * (up / cells).clamp(0.0, 1.0)
    };
    let line = |points: &[Point], class: &'static str| {
        points
            .windows(2)
            .filter_map(|pair| {
                let [from, to] = pair else { return None };
                Some(view! {
                    <line class=class x1=x(from.day) x2=x(to.day) y1=y(from.up) y2=y(to.up) />
                })
            })
            .collect_view()
    };
    let band = curve.end.map(|(low, high)| {
        view! {
            <rect
                class="counts__band"
                x="0"
                width="100%"
                y=y(high)
                height=(y(low) - y(high)).max(1.0)
            />
        }
    });
    let marks = curve
        .counted
        .iter()
        .map(|point| {
            view! {
                <circle class="counts__mark" cx=x(point.day) cy=y(point.up) r="4" />
                <text class="counts__number" x=x(point.day) y=y(point.up) - 10.0>
                    {point.up.round() as i64}
                </text>
                <text class="counts__day" x=x(point.day) y=GROUND + 18.0>
                    {point.day as i64}
                </text>
            }
        })
        .collect_view();
    // The band as narrow upright pieces: a drawing as wide as the page knows no polygon in shares of it.
    let reach = curve
        .band
        .windows(2)
        .filter_map(|pair| {
            let [(day, low, high), (next, ..)] = pair else {
                return None;
            };
            let width = format!("{:.2}%", 88.0 * (next - day) / curve.days + 0.05);
            Some(view! {
                <rect
                    class="counts__band"
                    x=x(*day)
                    width=width
                    y=y(*high)
                    height=(y(*low) - y(*high)).max(1.0)
                />
            })
        })
        .collect_view();
    view! {
        <line class="counts__all" x1="0" x2="100%" y1=y(curve.cells) y2=y(curve.cells) />
        {if curve.band.is_empty() { band.into_any() } else { reach.into_any() }}
        {line(&curve.usual, "counts__usual")}
        {line(&curve.fitted, "counts__fitted")}
        <line class="counts__ground" x1="0" x2="100%" y1=GROUND y2=GROUND />
        {line(&curve.expected, "counts__expected")}
        {line(&curve.counted, "counts__counted")}
        {marks}
    }
}

/// What the lines are, each beside a piece of it.
#[component]
fn Legend(has_fit: bool, has_usual: bool) -> impl IntoView {
    let lines = [
        ("counts__counted", "counts.line_counted", true),
        ("counts__fitted", "counts.line_fitted", has_fit),
        ("counts__band", "counts.line_band", has_fit),
        ("counts__usual", "counts.line_usual", has_usual),
    ];
    let lines = lines
        .into_iter()
        .filter(|(_, _, there)| *there)
        .map(|(class, key, _)| {
            let piece = if class == "counts__band" {
                view! { <rect class=class x="0" y="2" width="28" height="8" /> }.into_any()
            } else {
                view! { <line class=class x1="0" x2="28" y1="6" y2="6" /> }.into_any()
            };
            view! {
                <li>
                    <svg class="counts__piece" width="28" height="12" aria-hidden="true">
                        {piece}
                    </svg>
                    {text(key)}
                </li>
            }
        })
        .collect_view();
    view! { <ul class="counts__legend">{lines}</ul> }
}
