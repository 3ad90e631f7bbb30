//! The one store: the open book, the season it adds up to, and what this device chose.
//!
//! It is made once, above all screens, and lives as long as the page; screens get a handle by [`Store::here`]. Its signals are
//! written here only. A fact is in the log only after the vault has it on the disk.

mod demo;
pub mod draft;
pub mod keep;
mod opening;
mod outlook;
mod recording;
pub mod reminder;
mod slip;
mod taking;
pub mod today;
pub mod trouble;

use std::sync::Arc;

use chrono::NaiveDate;
use culture::Reference;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::words::{Manner, Units};
use season::{Log, Season, Stamp};
use vault::durability::Persisted;
use vault::prefs::{self, Prefs};
use vault::tabs::Tabs;
use vault::{Book, Device, Vault};

use crate::browser::boot::Told;
use crate::browser::{clock, page};

pub use keep::Keep;
pub use opening::Opening;
use outlook::Grounded;
pub use outlook::Outlook;
pub use slip::Slip;
pub use taking::Taken;
pub use today::{DayFrom, Today};
pub use trouble::RecordError;

/// A handle of the store.
#[derive(Clone, Copy)]
pub struct Store {
    reference: &'static Reference,
    opening: RwSignal<Opening>,
    log: StoredValue<Log>,
    season: RwSignal<Arc<Season>>,
    grounded: Memo<Grounded>,
    outlook: Memo<Outlook>,
    today: RwSignal<Today>,
    prefs: RwSignal<Prefs>,
    keep: RwSignal<Keep>,
    slip: RwSignal<Option<Slip>>,
    /// Whether the slip goes along to the next place.
    slip_goes_along: StoredValue<bool>,
    device: RwSignal<Option<Device>>,
    unreadable: RwSignal<usize>,
    in_memory: RwSignal<bool>,
    given_up: RwSignal<bool>,
    persisted: RwSignal<Option<Persisted>>,
    told: RwSignal<Vec<Told>>,
    vault: StoredValue<Option<Vault>, LocalStorage>,
    tabs: StoredValue<Option<Tabs>, LocalStorage>,
    last_drafted: StoredValue<Option<Stamp>>,
    /// Appends on their way to the disk or to the screen.
    appending: StoredValue<usize>,
    asked: StoredValue<bool>,
}

impl Store {
    /// Makes the store under the owner that calls, which must live as long as the page.
    pub fn new(reference: &'static Reference) -> Self {
        let season = RwSignal::new(Arc::new(Season::default()));
        let today = RwSignal::new(Today {
            date: clock::today(),
            from: DayFrom::Calendar,
        });
        let grounded = outlook::grounded(season, reference);
        Self {
            reference,
            opening: RwSignal::new(Opening::Opening),
            log: StoredValue::new(Log::new()),
            season,
            grounded,
            outlook: outlook::memo(grounded, today),
            today,
            prefs: RwSignal::new(Prefs::load()),
            keep: RwSignal::new(Keep::Saved),
            slip: RwSignal::new(None),
            slip_goes_along: StoredValue::new(false),
            device: RwSignal::new(None),
            unreadable: RwSignal::new(0),
            in_memory: RwSignal::new(false),
            given_up: RwSignal::new(false),
            persisted: RwSignal::new(None),
            told: RwSignal::new(Vec::new()),
            vault: StoredValue::new_local(None),
            tabs: StoredValue::new_local(None),
            last_drafted: StoredValue::new(None),
            appending: StoredValue::new(0),
            asked: StoredValue::new(false),
        }
    }

    /// The store of this page.
    pub fn here() -> Self {
        // The root provides it before any screen is made.
        expect_context::<Self>()
    }

    /// The crop reference.
    pub fn reference(self) -> &'static Reference {
        self.reference
    }

    /// What the log adds up to.
    pub fn season(self) -> Arc<Season> {
        self.season.get()
    }

    /// The season without following its changes, for handlers.
    pub fn season_now(self) -> Arc<Season> {
        self.season.get_untracked()
    }

    /// The season with its crops and climate.
    pub fn with_almanac<R>(self, f: impl FnOnce(&Almanac<'_>) -> R) -> R {
        let grounded = self.grounded.get();
        f(&grounded.almanac())
    }

    /// The season with its crops and climate, without following changes, for handlers.
    pub fn with_almanac_now<R>(self, f: impl FnOnce(&Almanac<'_>) -> R) -> R {
        let grounded = self.grounded.get_untracked();
        f(&grounded.almanac())
    }

    /// Tasks and forecasts as of today.
    pub fn outlook(self) -> Outlook {
        self.outlook.get()
    }

    /// Tasks and forecasts, without following changes, for handlers.
    pub fn outlook_now(self) -> Outlook {
        self.outlook.get_untracked()
    }

    /// All entries. Follows changes.
    pub fn with_log<R>(self, f: impl FnOnce(&Log) -> R) -> R {
        self.season.track();
        self.log.with_value(f)
    }

    /// All entries, without following changes, for handlers.
    pub fn with_log_now<R>(self, f: impl FnOnce(&Log) -> R) -> R {
        self.log.with_value(f)
    }

    /// The day that is worked with.
    pub fn today(self) -> NaiveDate {
        self.today.get().date
    }

    /// The day that is worked with, without following it, for handlers.
    pub fn today_now(self) -> NaiveDate {
        self.today.get_untracked().date
    }

    /// The day and who says so.
    pub fn day(self) -> Today {
        self.today.get()
    }

    /// How figures are written.
    #[track_caller]
    pub fn manner(self) -> Manner {
        manner(&self.prefs.get())
    }

    /// How figures are written, without following changes, for handlers.
    pub fn manner_now(self) -> Manner {
        manner(&self.prefs.get_untracked())
    }

    /// This device's choices.
    pub fn prefs(self) -> Prefs {
        self.prefs.get()
    }

    /// This device's choices, without following them, for handlers.
    pub fn prefs_now(self) -> Prefs {
        self.prefs.get_untracked()
    }

    /// Changes this device's choices. Whether they will outlast the page.
    pub fn choose(self, change: impl FnOnce(&mut Prefs)) -> bool {
        let mut chosen = None;
        let (_, kept) = Prefs::update(|prefs| {
            change(prefs);
            chosen = Some(prefs.clone());
        });
        if let Some(prefs) = chosen {
            page::set_theme(prefs.theme.word());
            self.prefs.set(prefs);
        }
        kept
    }

    /// Which book is open.
    pub fn book(self) -> Book {
        self.prefs.with(|prefs| prefs.book)
    }

    /// How far opening the book has come.
    pub fn opening(self) -> Opening {
        self.opening.get()
    }

    /// Whether what was recorded last is in storage.
    pub fn keep(self) -> Keep {
        self.keep.get()
    }

    /// This device's id and name.
    pub fn device(self) -> Option<Device> {
        self.device.get()
    }

    /// This device's id and name, without following them, for handlers.
    pub fn device_now(self) -> Option<Device> {
        self.device.get_untracked()
    }

    /// Stored rows that could not be read. They stay where they are.
    pub fn unreadable(self) -> usize {
        self.unreadable.get()
    }

    /// Whether this browser keeps nothing beyond the page.
    pub fn in_memory(self) -> bool {
        self.in_memory.get()
    }

    /// Whether storage was given up to a newer version in another tab: only loading anew helps.
    pub fn given_up(self) -> bool {
        self.given_up.get()
    }

    /// What the browser promised about keeping the data, once asked.
    pub fn persisted(self) -> Option<Persisted> {
        self.persisted.get()
    }

    /// Whether the start-up script has told something.
    pub fn was_told(self, what: Told) -> bool {
        self.told.with(|told| told.contains(&what))
    }

    /// Takes note of what the start-up script tells.
    pub fn tell(self, what: Told) {
        self.told.try_update(|told| {
            if what == Told::Installed {
                told.retain(|t| *t != Told::CanInstall);
            }
            if !told.contains(&what) {
                told.push(what);
            }
        });
    }

    /// Forgets an offer that was taken up.
    pub fn untell(self, what: Told) {
        self.told.try_update(|told| told.retain(|t| *t != what));
    }

    /// Entries that are in no export, if it is time to say so. The demo needs none.
    pub fn export_due(self) -> Option<usize> {
        let exported_ms = self.prefs.with(|prefs| prefs.exported_ms);
        if self.book() == Book::Demo {
            return None;
        }
        self.with_log(|log| {
            let recorded = log.iter().map(|entry| entry.at().ms());
            reminder::export_due(clock::now_ms(), exported_ms, recorded)
        })
    }

    /// Looks at the calendar again.
    pub fn look_at_calendar(self) {
        let asked = today::day_in_query(&page::query());
        let demo = || {
            let own = self.device.get_untracked()?;
            let own = season::ids::DeviceId::new(own.id).ok()?;
            self.log
                .with_value(|log| today::last_day_of_others(log, &own))
        };
        let is_demo = self.prefs.with_untracked(|prefs| prefs.book) == Book::Demo;
        let (date, from) = match (asked, is_demo.then(demo).flatten()) {
            (Some(date), _) => (date, DayFrom::Address),
            (None, Some(date)) => (date, DayFrom::Demo),
            (None, None) => (clock::today(), DayFrom::Calendar),
        };
        let now = Today { date, from };
        if self.today.try_get_untracked() != Some(now) {
            self.today.try_set(now);
        }
    }

    /// Adds the log up anew.
    fn refold(self) {
        let season = self.log.with_value(Season::of);
        self.season.try_set(Arc::new(season));
    }
}

fn manner(prefs: &Prefs) -> Manner {
    Manner {
        units: match prefs.units {
            prefs::Units::Metric => Units::Metric,
            prefs::Units::Us => Units::Us,
        },
    }
}
