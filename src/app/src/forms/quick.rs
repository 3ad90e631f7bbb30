//! Something else to record: what, then of which tray, planting or variety.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::ids::{PlantingId, SowingId, VarietyId};
use season::words::{Say, text};

use super::fresh::{self, OfPlanting, OfTray};
use super::names;
use super::recorder::{Asked, Recorder};
use crate::parts::{Icon, Sheet, Words};
use crate::store::Store;

/// How far the choice has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quick {
    /// What to record.
    What,
    /// Of which.
    Which(Deed),
}

/// What can be recorded without a task.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Deed {
    /// Sown into trays.
    Sow,
    /// Sown into a bed.
    SowDirect,
    /// Counted.
    Count,
    /// Cells or plants lost.
    Lost,
    /// Trays moved.
    Move,
    /// Planted out.
    Transplant,
    /// Cut.
    Cut,
    /// A bud seen.
    Bud,
    /// A day's temperatures.
    Temperature,
    /// A frost.
    Frost,
    /// A low that is forecast for tonight.
    LowExpected,
    /// Stems bought in.
    BoughtIn,
    /// Stems stood in the warm.
    Warmed,
    /// A note.
    Note,
}

impl Deed {
    /// All of them, the frequent ones first.
    pub const ALL: [Self; 14] = [
        Self::Sow,
        Self::Count,
        Self::Lost,
        Self::Move,
        Self::Transplant,
        Self::Cut,
        Self::Bud,
        Self::SowDirect,
        Self::Temperature,
        Self::Frost,
        Self::LowExpected,
        Self::BoughtIn,
        Self::Warmed,
        Self::Note,
    ];

    fn key(self) -> &'static str {
        match self {
            Self::Sow => "do.sow",
            Self::SowDirect => "do.sow_direct",
            Self::Count => OfTray::Count.key(),
            Self::Lost => OfTray::Lost.key(),
            Self::Move => OfTray::Move.key(),
            Self::Transplant => OfTray::Transplant.key(),
            Self::Cut => OfPlanting::Cut.key(),
            Self::Bud => OfPlanting::Bud.key(),
            Self::Temperature => "do.temperature",
            Self::Frost => "do.frost",
            Self::LowExpected => "do.low_expected",
            Self::BoughtIn => "do.bought_in",
            Self::Warmed => "do.warmed",
            Self::Note => "do.note",
        }
    }

    fn icon(self) -> &'static str {
        match self {
            Self::Sow | Self::SowDirect => "sow",
            Self::Count => "count",
            Self::Lost => "lost",
            Self::Move => "move",
            Self::Transplant => "plant",
            Self::Cut => "cut",
            Self::Bud => "season",
            Self::Temperature => "today",
            Self::Frost | Self::LowExpected | Self::Warmed => "caution",
            Self::BoughtIn => "order",
            Self::Note => "note",
        }
    }

    /// What it needs to be about.
    fn subjects(self, almanac: &Almanac<'_>) -> Vec<About> {
        match self {
            Self::Sow | Self::SowDirect | Self::BoughtIn => varieties(almanac),
            Self::Count => trays(almanac, OfTray::Count),
            Self::Move => trays(almanac, OfTray::Move),
            Self::Transplant => trays(almanac, OfTray::Transplant),
            Self::Cut => plantings(almanac, OfPlanting::Cut),
            Self::Bud => plantings(almanac, OfPlanting::Bud),
            Self::Lost => {
                let mut all = trays(almanac, OfTray::Lost);
                all.extend(plantings(almanac, OfPlanting::Lost));
                all
            }
            Self::Temperature | Self::Frost | Self::LowExpected | Self::Warmed | Self::Note => {
                Vec::new()
            }
        }
    }

    fn begin(self, recorder: Recorder) {
        let today = Store::here().today_now();
        match self {
            Self::Temperature => recorder.record(fresh::temperature(today)),
            Self::Frost => recorder.record(fresh::frost(today)),
            Self::LowExpected => recorder.record(fresh::low_expected(today)),
            Self::Warmed => recorder.record(fresh::warmed(None, today)),
            Self::Note => recorder.record(fresh::note(None, today)),
            _ => recorder.ask(Asked::Quick(Quick::Which(self))),
        }
    }

    fn go_on(self, about: &About, recorder: Recorder) {
        match (self, about) {
            (Self::SowDirect, About::Variety(id)) => recorder.sow_direct(id),
            (Self::BoughtIn, About::Variety(id)) => {
                recorder.record(fresh::bought_in(id, Store::here().today_now()));
            }
            (_, About::Variety(id)) => recorder.sow(id),
            (Self::Lost, About::Tray(id)) => recorder.of_tray(OfTray::Lost, id),
            (Self::Move, About::Tray(id)) => recorder.of_tray(OfTray::Move, id),
            (Self::Transplant, About::Tray(id)) => recorder.of_tray(OfTray::Transplant, id),
            (_, About::Tray(id)) => recorder.of_tray(OfTray::Count, id),
            (Self::Lost, About::Planting(id)) => recorder.of_planting(OfPlanting::Lost, id),
            (Self::Bud, About::Planting(id)) => recorder.of_planting(OfPlanting::Bud, id),
            (_, About::Planting(id)) => recorder.of_planting(OfPlanting::Cut, id),
        }
    }
}

/// What a fact can be about.
#[derive(Debug, Clone, PartialEq, Eq)]
enum About {
    Variety(VarietyId),
    Tray(SowingId),
    Planting(PlantingId),
}

impl About {
    fn name(&self, almanac: &Almanac<'_>) -> Say {
        match self {
            Self::Variety(id) => names::variety(almanac, id),
            Self::Tray(id) => names::sowing(almanac, id),
            Self::Planting(id) => names::planting(almanac, id),
        }
    }
}

fn varieties(almanac: &Almanac<'_>) -> Vec<About> {
    almanac
        .season()
        .varieties_in_order()
        .into_iter()
        .map(|v| About::Variety(v.id.clone()))
        .collect()
}

/// Trays that something can be done to, newest first.
fn trays(almanac: &Almanac<'_>, what: OfTray) -> Vec<About> {
    let mut sowings: Vec<_> = almanac
        .season()
        .sowings
        .values()
        .filter(|s| s.in_trays() && what.fits(almanac, &s.id))
        .collect();
    sowings.sort_by_key(|s| (core::cmp::Reverse(s.date), s.id.clone()));
    sowings
        .into_iter()
        .map(|s| About::Tray(s.id.clone()))
        .collect()
}

/// Plantings that something can be done to, in walking order.
fn plantings(almanac: &Almanac<'_>, what: OfPlanting) -> Vec<About> {
    let season = almanac.season();
    let mut found = Vec::new();
    for space in season.spaces_in_order() {
        for bed in season.beds_of(&space.id) {
            let here = season
                .plantings
                .values()
                .filter(|p| p.bed == bed.id && p.finished.is_none() && what.fits(almanac, &p.id));
            found.extend(here.map(|p| About::Planting(p.id.clone())));
        }
    }
    found
}

/// The sheet that asks what to record.
#[component]
pub(super) fn QuickSheet(quick: Quick, recorder: Recorder) -> impl IntoView {
    let on_close = Callback::new(move |()| recorder.close());
    match quick {
        Quick::What => view! {
            <Sheet title="quick.what" on_close>
                <div class="sheet__body">
                    <ul class="contents">
                        {Deed::ALL
                            .into_iter()
                            .map(|deed| {
                                view! {
                                    <Line
                                        icon=deed.icon()
                                        words=Words::from(deed.key())
                                        on_tap=Callback::new(move |()| deed.begin(recorder))
                                    />
                                }
                            })
                            .collect_view()}
                    </ul>
                </div>
            </Sheet>
        }
        .into_any(),
        Quick::Which(deed) => view! {
            <Sheet title=deed.key() on_close>
                <div class="sheet__body">
                    <Subjects deed recorder />
                </div>
                <div class="sheet__foot">
                    <button
                        class="btn"
                        type="button"
                        on:click=move |_| recorder.ask(Asked::Quick(Quick::What))
                    >
                        {text("quick.back")}
                    </button>
                </div>
            </Sheet>
        }
        .into_any(),
    }
}

#[component]
fn Subjects(deed: Deed, recorder: Recorder) -> impl IntoView {
    let subjects = Store::here().with_almanac_now(|almanac| {
        deed.subjects(almanac)
            .into_iter()
            .map(|about| (about.name(almanac), about))
            .collect::<Vec<_>>()
    });
    if subjects.is_empty() {
        let key = match deed {
            Deed::Sow | Deed::SowDirect | Deed::BoughtIn => "quick.no_variety",
            Deed::Cut | Deed::Bud => "quick.no_planting",
            _ => "quick.no_tray",
        };
        return view! { <p>{text(key)}</p> }.into_any();
    }
    let lines = subjects
        .into_iter()
        .map(|(name, about)| {
            view! {
                <Line
                    icon=deed.icon()
                    words=Words::from(name)
                    on_tap=Callback::new(move |()| deed.go_on(&about, recorder))
                />
            }
        })
        .collect_view();
    view! { <ul class="contents">{lines}</ul> }.into_any()
}

#[component]
fn Line(icon: &'static str, words: Words, on_tap: Callback<()>) -> impl IntoView {
    view! {
        <li>
            <button
                class="contents__link contents__link--deed"
                type="button"
                on:click=move |_| on_tap.run(())
            >
                <Icon name=icon />
                <span>
                    <span class="contents__name">{move || words.get()}</span>
                </span>
                <Icon name="chevron" />
            </button>
        </li>
    }
}
