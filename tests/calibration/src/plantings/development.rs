//! When simulated plantings bloom, and its forecast.
//!
//! A planting needs the crop's thermal time times a factor drawn from the range of its warm days, summed hour
//! by hour over the actual weather, at the rate of the day length. Bud and colour appear the usual time
//! before bloom (28 and 4 days), within the trade's 90 % bands for those stages. The forecast uses the same
//! bands, so the check of those two only verifies that the forecast applies them, day by day.

use agronomy::bloom::{Pace, StageKnown, first_bloom};
use agronomy::climate::{Climate, Cover};
use agronomy::quantity::Spread;
use chrono::{Datelike, NaiveDate};
use culture::Crop;
use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::weather::{PLACES_OF, Weather, usual};
use super::{Draw, Held, later, normal, share_of_typical};
use crate::TRAYS;

/// Days from bud and from colour to bloom.
const BUD_DAYS: f64 = 28.0;
const COLOUR_DAYS: f64 = 4.0;
/// Days after which the forecast is evaluated again.
const THREE_WEEKS: i64 = 21;
/// Days after planting by which all bloom.
const LONGEST: i64 = 350;
/// Index of the place near the sea.
const BY_THE_SEA: usize = 1;
/// The standard normal's 95 % quantile.
const Z95: f64 = 1.6449;

/// Intervals of first bloom by the time of the forecast.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bloom {
    /// At planting.
    pub planted: Held,
    /// Three weeks later, with temperatures recorded daily.
    pub recorded: Held,
    /// When the first bud is seen.
    pub bud: Held,
    /// When the first colour is seen.
    pub colour: Held,
}

impl Bloom {
    /// The sum with others.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            planted: self.planted.plus(other.planted),
            recorded: self.recorded.plus(other.recorded),
            bud: self.bud.plus(other.bud),
            colour: self.colour.plus(other.colour),
        }
    }
}

/// The weather of the years, and whether it is recorded before planting too.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Years {
    /// Degrees by which they are warmer than the normals.
    pub moved: f64,
    /// Whether temperatures are recorded from twelve weeks before planting.
    pub recorded: bool,
}

/// The intervals over all plantings of a crop, for one of the draws ([`super::Draw`]).
///
/// # Panics
/// If the reference lacks one of its figures.
pub fn of_crop(number: u64, crop: &Crop, years: Years, draw: Draw) -> Bloom {
    let climates: Vec<Climate> = (0..PLACES_OF).map(usual).collect();
    let mut found = Bloom::default();
    for planting in 0..TRAYS {
        let seed = draw.seed(77_000_000) + number * 1_000_000 + u64::from(planting);
        let mut rng = Xoshiro256PlusPlus::seed_from_u64(seed);
        let place = planting as usize % PLACES_OF;
        one(crop, (place, &climates[place]), years, &mut rng, &mut found);
    }
    found
}

fn one(
    crop: &Crop,
    (place, climate): (usize, &Climate),
    years: Years,
    rng: &mut Xoshiro256PlusPlus,
    found: &mut Bloom,
) {
    let figures = crop.bloom_figures(None).expect("figures of its bloom");
    // Hardy crops from April on, half of them in a tunnel; tender ones from the last frost on. Near the sea
    // only tunnels are warm enough for the tender and the slow ones.
    let (first, span, tunnels) = match figures.pace {
        Pace::Warm => ((5, 15), 35, 0.2),
        Pace::Cool | Pace::Slow => ((4, 5), 45, 0.5),
    };
    let tunnels = if place == BY_THE_SEA && figures.pace != Pace::Cool {
        1.0
    } else {
        tunnels
    };
    let first = NaiveDate::from_ymd_opt(2027, first.0, first.1).expect("a date");
    let planted = later(first, rng.random_range(0..span));
    let cover = if rng.random::<f64>() < tunnels {
        Cover::Tunnel
    } else {
        Cover::Open
    };
    let way = crop
        .figure("days_transplant_to_first_bloom_warm")
        .expect("its days");
    let share = share_of_typical(way, rng);
    let weather = Weather::drawn(climate, planted, years.moved, rng);
    let bloom = blooms(crop, &weather.all(climate), cover, planted, share);
    let ask = |known: &Climate| {
        first_bloom(&figures, planted, known, cover, StageKnown::Planted).expect("a forecast")
    };
    let add = |held: &mut Held, forecast: Spread<NaiveDate>| {
        let day = |date: NaiveDate| f64::from(date.num_days_from_ce());
        let (low, high) = (day(forecast.p10), day(forecast.p90));
        held.add(low, high, day(bloom), high - low);
    };
    let before = if years.recorded {
        ask(&weather.noted_before(climate, planted))
    } else {
        ask(climate)
    };
    add(&mut found.planted, before);
    let asked = later(planted, THREE_WEEKS);
    if asked < bloom {
        let known = weather.noted_before(climate, asked);
        add(&mut found.recorded, ask(&known));
    }
    for (held, usual, known, ninety) in [
        (
            &mut found.bud,
            BUD_DAYS,
            StageKnown::VisibleBud,
            [4.0, 5.0, 7.0],
        ),
        (
            &mut found.colour,
            COLOUR_DAYS,
            StageKnown::FirstColour,
            [2.0, 2.0, 3.0],
        ),
    ] {
        let band = match figures.pace {
            Pace::Warm => ninety[0],
            Pace::Cool => ninety[1],
            Pace::Slow => ninety[2],
        };
        let days = usual + band / Z95 * normal(rng);
        let seen = later(bloom, -(days.round() as i64));
        add(held, figures.around(later(seen, usual as i64), known));
    }
}

/// The day of first bloom in the actual weather, or the last simulated day if it does not bloom before.
fn blooms(
    crop: &Crop,
    climate: &Climate,
    cover: Cover,
    planted: NaiveDate,
    share: f64,
) -> NaiveDate {
    let figure = |name| crop.typical(name).expect("the reference has it");
    let base = figure("base_temp_c");
    let ceiling = crop.typical("bloom_ceiling_c").unwrap_or(f64::INFINITY);
    let need = figure("thermal_time_transplant_to_bloom_cd") * share;
    let response = crop.day_length_response();
    let mut sum = 0.0;
    for n in 0..LONGEST {
        let date = later(planted, n);
        if sum >= need {
            return date;
        }
        let (min, max) = climate.day_under(date, cover);
        let (mean, swing) = (f64::midpoint(min.0, max.0), (max.0 - min.0) / 2.0);
        let hours = (0..24).map(|hour| {
            let turn = (f64::from(hour) + 0.5) / 24.0 * std::f64::consts::TAU;
            (mean + swing * turn.sin()).min(ceiling) - base
        });
        let warmth = hours.map(|over| over.max(0.0)).sum::<f64>() / 24.0;
        sum += warmth * response.map_or(1.0, |rate| rate.rate(climate.photoperiod(date)));
    }
    later(planted, LONGEST)
}
