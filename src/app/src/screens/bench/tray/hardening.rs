//! Hardening off, day by day: what was had, what comes next.

use leptos::prelude::*;
use season::forecast::TrayStage;
use season::tasks::{Outing, hardening_day};
use season::words::{Arg, Say, text};

use super::Tray;
use crate::parts::Section;
use crate::store::Store;

/// The days of hardening off, once it has begun.
#[component]
pub(super) fn HardeningDays(tray: Tray) -> impl IntoView {
    let store = Store::here();
    let (today, manner) = (store.today_now(), store.manner_now());
    if tray.forecast.stage != TrayStage::Hardening {
        return None;
    }
    let season = store.season_now();
    let sowing = season.sowings.get(&tray.id)?;
    let next = store
        .with_almanac_now(|almanac| hardening_day(almanac.crop(&sowing.variety)?, sowing, today));
    let days = next.map(|next| next.days);
    let had = sowing.hardened.iter().filter(|day| **day <= today);
    let mut lines: Vec<(String, &'static str, bool)> = had
        .enumerate()
        .map(|(n, date)| {
            let day = n as u32 + 1;
            let outing = days.map_or("outing.out", |days| Outing::on(day, days).key());
            let say = Say::new("hardening.had")
                .with("day", day)
                .with("date", *date);
            (say.write(manner), outing, true)
        })
        .collect();
    if let Some(next) = next {
        for day in next.day..=next.days {
            let say = if day == next.day {
                Say::new("hardening.next").with("date", next.date)
            } else {
                Say::new("hardening.then")
            };
            let outing = Outing::on(day, next.days).key();
            lines.push((say.with("day", Arg::from(day)).write(manner), outing, false));
        }
    }
    let lines = lines
        .into_iter()
        .map(|(when, outing, had)| {
            view! {
                <div class:soft=had>
                    <dt>{when}</dt>
                    <dd>{text(outing)}</dd>
                </div>
            }
        })
        .collect_view();
    Some(view! {
        <Section head="hardening.head">
            <dl class="culture">{lines}</dl>
        </Section>
    })
}
