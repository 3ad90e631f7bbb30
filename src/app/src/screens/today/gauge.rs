//! The drawing of the stems to come.

use leptos::prelude::*;
use season::coverage::coverage;
use season::words::{Manner, Say};

use super::tide::{Tide, WEEKS, tide};
use crate::store::Store;

/// Height of the tallest stem, px, and where the ground lies.
const TALL: f64 = 52.0;
const GROUND: f64 = 64.0;

/// Stems to come, as sentence and drawing.
#[component]
pub(super) fn Gauge() -> impl IntoView {
    let store = Store::here();
    let found = Memo::new(move |_| {
        let outlook = store.outlook();
        outlook.with(|outlook| tide(outlook.supply(), &coverage(outlook), outlook.today()))
    });
    move || {
        found.get().map(|tide| {
            let manner = store.manner();
            let (comes, goes) = tide.say(store.today());
            let label = label(&tide, manner);
            view! {
                <div class="gauge">
                    <p class="gauge__said">
                        <strong>{comes.write(manner)}</strong>
                        {goes.map(|say| format!(" {}", say.write(manner)))}
                    </p>
                    <svg class="gauge__drawing" role="img" aria-label=label>
                        {drawing(&tide)}
                    </svg>
                </div>
            }
        })
    }
}

/// The drawing in words.
fn label(tide: &Tide, manner: Manner) -> String {
    tide.weeks
        .iter()
        .map(|week| {
            Say::new("tide.week")
                .with("week", week.week)
                .with_spread(week.stems)
                .with_some("wanted", Some(week.wanted).filter(|n| *n > 0))
                .write(manner)
        })
        .collect::<Vec<_>>()
        .join(" ")
}

fn drawing(tide: &Tide) -> impl IntoView + use<> {
    let top = tide.top();
    let height = move |stems: f64| GROUND - TALL * (stems / top).clamp(0.0, 1.0);
    let percent = |x: f64| format!("{x:.2}%");
    let weeks = tide
        .weeks
        .iter()
        .enumerate()
        .map(|(n, week)| {
            let middle = (n as f64 + 0.5) / WEEKS as f64 * 100.0;
            let x = percent(middle);
            let (likely, most) = (height(week.stems.p50), height(week.stems.p90));
            let stem = (week.stems.p50 >= 0.5).then(|| {
                view! {
                    <line class="gauge__stem" x1=x.clone() x2=x.clone() y1=likely y2=GROUND />
                    <circle class="gauge__head" cx=x.clone() cy=likely r="4" />
                }
            });
            let maybe = (week.stems.p90 >= 0.5).then(|| {
                view! { <line class="gauge__maybe" x1=x.clone() x2=x.clone() y1=most y2=likely /> }
            });
            let want = (week.wanted > 0).then(|| {
                let y = height(f64::from(week.wanted));
                view! {
                    <line
                        class="gauge__want"
                        x1=percent(middle - 2.6)
                        x2=percent(middle + 2.6)
                        y1=y
                        y2=y
                    />
                }
            });
            let class = if n == 0 {
                "gauge__week gauge__week--now"
            } else {
                "gauge__week"
            };
            let number = (n % 2 == 0).then(|| {
                view! {
                    <text class=class x=x.clone() y="83">
                        {week.week.week()}
                    </text>
                }
            });
            view! {
                {maybe}
                {stem}
                {want}
                {number}
            }
        })
        .collect_view();
    view! {
        <line class="gauge__water" x1="0" x2="100%" y1=GROUND y2=GROUND />
        {weeks}
    }
}
