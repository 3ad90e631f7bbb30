//! The first page of the shed.

use leptos::prelude::*;
use season::words::{Arg, Say};

use super::safety::Safety;
use crate::browser::clock;
use crate::parts::{Contents, ContentsLine, DemoDoor, Frame, Section};
use crate::route::{Area, Route, ShedPart};
use crate::store::Store;

#[component]
pub(super) fn DoorScreen() -> impl IntoView {
    view! {
        <Frame title="place.shed" area=Area::Shed>
            <div class="spread">
                <div class="leaf">
                    <SetUp />
                </div>
                <div class="leaf">
                    <Data />
                    <Safety />
                </div>
            </div>
        </Frame>
    }
}

/// A line's note that follows the season.
fn note(say: impl Fn(Store) -> Say + Send + Sync + 'static) -> Signal<String> {
    let store = Store::here();
    Signal::derive(move || say(store).write(store.manner()))
}

#[component]
fn SetUp() -> impl IntoView {
    let place = note(|store| {
        let season = store.season();
        match season.place() {
            Some(place) if !place.name.is_empty() => Say::new("shed.place.note")
                .with("name", place.name.clone())
                .with_some("latitude", place.latitude.map(|l| Arg::Decimal(l, 1))),
            Some(_) => Say::new("shed.place.unnamed"),
            None => Say::new("shed.place.none"),
        }
    });
    let spaces = note(|store| {
        let season = store.season();
        let spaces = season.spaces.values().filter(|s| !s.retired).count();
        let beds = season.beds.values().filter(|b| !b.retired).count();
        if spaces == 0 {
            return Say::new("shed.spaces.none");
        }
        Say::new("shed.spaces.note")
            .with("spaces", spaces)
            .with("beds", beds)
    });
    let varieties = note(|store| {
        let season = store.season();
        let n = season.varieties.values().filter(|v| !v.retired).count();
        let lots = season.lots.values().filter(|l| !l.retired).count();
        if n == 0 {
            return Say::new("shed.varieties.none");
        }
        Say::new("shed.varieties.note")
            .with("n", n)
            .with("lots", lots)
    });
    view! {
        <Section head="shed.set_up">
            <Contents>
                <ContentsLine
                    to=Route::Shed(ShedPart::Place)
                    icon="pin"
                    name="shed.place"
                    note=place
                />
                <ContentsLine
                    to=Route::Shed(ShedPart::Spaces)
                    icon="tunnel"
                    name="shed.spaces"
                    note=spaces
                />
                <ContentsLine
                    to=Route::Shed(ShedPart::Varieties)
                    icon="seed"
                    name="shed.varieties"
                    note=varieties
                />
                <ContentsLine
                    to=Route::Shed(ShedPart::Selling)
                    icon="order"
                    name="shed.selling"
                    note="shed.selling.note"
                />
                <ContentsLine
                    to=Route::Shed(ShedPart::Device)
                    icon="shed"
                    name="shed.device"
                    note="shed.device.note"
                />
            </Contents>
        </Section>
    }
}

#[component]
fn Data() -> impl IntoView {
    let store = Store::here();
    let tally = note(|store| Say::new("shed.entries").with("n", store.with_log(|l| l.len())));
    let export = note(|store| {
        let exported = store.prefs().exported_ms;
        let on = exported.and_then(clock::date_of);
        match (exported, on) {
            (Some(ms), Some(on)) => {
                let new = store.with_log(|log| log.iter().filter(|e| e.at().ms() > ms).count());
                Say::new("shed.export.note").with("date", on).with("n", new)
            }
            _ => Say::new("shed.export.never"),
        }
    });
    let problems = move || store.season().problems.len();
    let problems_note =
        note(|store| Say::new("shed.problems.note").with("n", store.season().problems.len()));
    view! {
        <Section head="shed.data" tally=tally>
            <Contents>
                <ContentsLine
                    to=Route::Shed(ShedPart::Export)
                    icon="export"
                    name="shed.export"
                    note=export
                />
                <ContentsLine
                    to=Route::Shed(ShedPart::Import)
                    icon="import"
                    name="shed.import"
                    note="shed.import.note"
                />
                <ContentsLine
                    to=Route::Shed(ShedPart::Logger)
                    icon="today"
                    name="shed.logger"
                    note="shed.logger.note"
                />
                <ContentsLine
                    to=Route::Shed(ShedPart::History)
                    icon="undo"
                    name="shed.history"
                    note="shed.history.note"
                />
                {move || {
                    (problems() > 0)
                        .then(|| {
                            view! {
                                <ContentsLine
                                    to=Route::Shed(ShedPart::Problems)
                                    icon="caution"
                                    name="shed.problems"
                                    note=problems_note
                                />
                            }
                        })
                }}
            </Contents>
            <DemoDoor />
        </Section>
    }
}
