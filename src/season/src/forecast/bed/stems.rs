//! What a plant of a crop gives, and how far that may stray.

use agronomy::bloom::cutting::FlushPrior;
use agronomy::bloom::weekly_shares;
use agronomy::climate::Cover;
use agronomy::yields::{LogRange, variation_between_years};
use culture::{Crop, Range};

use crate::why::Reason;
use crate::words::Arg;

/// Saleable stems a plant gives, and the chain behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct StemFigures {
    /// Stems a plant gives over the season.
    pub per_plant: f64,
    /// Share of them that sells, by where it grows.
    pub marketable: f64,
    /// Shares by week after first bloom, summing to 1.
    pub shares: Vec<f64>,
    /// Stems a plant gives, good and bad, with the crop's low and high as 10 and 90 in 100.
    pub given: LogRange,
    /// The share that sells, likewise.
    pub sells: LogRange,
    /// How its flushes are expected to go.
    pub flushes: FlushPrior,
    /// Why.
    pub why: Vec<Reason>,
}

impl StemFigures {
    /// Saleable stems a plant gives over the season.
    pub fn saleable_per_plant(&self) -> f64 {
        self.per_plant * self.marketable
    }

    /// Saleable stems of a plant, as far as the crop's ranges of stems and of the share that sells let them stray.
    pub fn saleable(&self) -> LogRange {
        self.given.times(self.sells)
    }

    /// The same figures with the ranges drawn in by so many years of own records.
    pub(super) fn known_for(mut self, years: u32) -> Self {
        let narrowed = variation_between_years(years) / variation_between_years(0);
        self.given = self.given.widened(narrowed);
        self.sells = self.sells.widened(narrowed);
        self
    }
}

/// What a plant of a crop gives under a cover.
pub fn stem_figures(crop: &Crop, cover: Cover) -> Option<StemFigures> {
    let per_plant = crop.figure("stems_per_plant_season")?;
    let marketable = crop.figure(match cover {
        Cover::Tunnel => "marketable_tunnel",
        Cover::Open => "marketable_field",
    })?;
    let window = crop.figure("harvest_window_days")?;
    let flushes = crop.typical("flushes").unwrap_or(1.0);
    let interval = crop
        .typical("flush_interval_days")
        .unwrap_or(window.typical);
    let range = |of: &Range| LogRange::new(of.low, of.typical, of.high);
    Some(StemFigures {
        per_plant: per_plant.typical.max(0.0),
        marketable: marketable.typical.clamp(0.0, 1.0),
        shares: weekly_shares(window.typical, flushes, interval),
        given: range(per_plant),
        sells: range(marketable),
        flushes: FlushPrior {
            window: range(window),
            flushes,
            interval,
            interval_seen: false,
        },
        why: vec![
            Reason::figure(
                "why.stems_per_plant",
                per_plant,
                Arg::Decimal(per_plant.typical, 1),
            ),
            Reason::figure("why.marketable", marketable, Arg::Share(marketable.typical)),
            Reason::figure("why.window", window, Arg::Decimal(window.typical, 0)),
        ],
    })
}
