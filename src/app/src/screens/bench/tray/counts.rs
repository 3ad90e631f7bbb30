//! Counts over days as a small drawing, with the same in words.

use leptos::prelude::*;
use season::forecast::reading;
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
    let found = curve(sowing, &tray.forecast, today)?;
    let label = label(&found, manner);
    let read = store.with_almanac_now(|almanac| reading(almanac, sowing, today));
    let read = (!read.is_empty()).then(|| {
        view! {
            <details class="fold">
                <summary class="fold__ask">{text("counts.reading")}</summary>
                <Reasons reasons=read />
            </details>
        }
    });
    Some(view! {
        <Section head="tray.counts">
            <svg class="counts" role="img" aria-label=label>
                {drawing(&found)}
            </svg>
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
    view! {
        <line class="counts__all" x1="0" x2="100%" y1=y(curve.cells) y2=y(curve.cells) />
        {band}
        <line class="counts__ground" x1="0" x2="100%" y1=GROUND y2=GROUND />
        {line(&curve.expected, "counts__expected")}
        {line(&curve.counted, "counts__counted")}
        {marks}
    }
}
