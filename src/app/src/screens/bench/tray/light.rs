//! How long the lamp over the tray should burn.

use leptos::prelude::*;
use season::lamp::lamp_day;
use season::words::{Say, text};

use super::Tray;
use crate::parts::Section;
use crate::parts::why::Reasons;
use crate::route::{Route, ShedPart, Which};
use crate::store::Store;

/// Hours of lamp for the light that the crop wants, or the way to say what the lamp gives.
#[component]
pub(super) fn Light(tray: Tray) -> impl IntoView {
    let store = Store::here();
    let (today, manner) = (store.today_now(), store.manner_now());
    let season = store.season_now();
    let sowing = season.sowings.get(&tray.id)?;
    let found = store.with_almanac_now(|almanac| lamp_day(almanac, sowing, &tray.forecast, today));
    if let Some(day) = found {
        return Some(
            view! {
                <Section head="light.head">
                    <p>{day.say.write(manner)}</p>
                    <details class="fold">
                        <summary class="fold__ask">{text("tray.why")}</summary>
                        <Reasons reasons=day.why />
                    </details>
                </Section>
            }
            .into_any(),
        );
    }
    // Up, under lamps that nobody measured.
    let space = season.spaces.get(sowing.space_on(today)?)?;
    let lit = space.what == season::fact::SpaceKind::Shelf && space.ppfd.is_none();
    (lit && tray.forecast.standing.emerged > 0).then(|| {
        let to = Route::Shed(ShedPart::Space(Which::This(space.id.clone())));
        let say = Say::new("light.not_measured").with("space", space.name.clone());
        view! {
            <Section head="light.head">
                <p>
                    {say.write(manner)} " "
                    <a href=to.href()>{text("light.measure")}</a>
                </p>
            </Section>
        }
        .into_any()
    })
}
