//! First bloom and yields against published trials: the figures of the crop reference and the models together.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::bloom::{BloomFigures, DayLengthResponse, StageKnown, first_bloom};
use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::quantity::{Celsius, Chance, Hours, Latitude};
use agronomy::yields;
use chrono::NaiveDate;
use culture::{Crop, Reference};
use published::{close, table};

const FROST: FrostDates = FrostDates {
    last_p50: (5, 10),
    last_p10: (5, 25),
    first_p50: (10, 1),
    first_p10: (9, 18),
};

fn climate(latitude: f64, tmin: [f64; 12], tmax: [f64; 12]) -> Climate {
    let normals = Normals::new(tmin.map(Celsius), tmax.map(Celsius)).unwrap();
    Climate::new(Latitude::new(latitude).unwrap(), normals, FROST).unwrap()
}

/// A station's published normals, NOAA NCEI.
fn station(name: &str) -> Climate {
    let rows = table("station_monthly_normals.csv");
    let months = |variable: &str| -> [f64; 12] {
        let row = rows
            .iter()
            .find(|row| row.text("name").starts_with(name) && row.text("var") == variable)
            .unwrap();
        std::array::from_fn(|month| (row.number(&format!("m{:02}", month + 1)) - 32.0) / 1.8)
    };
    let latitude = rows
        .iter()
        .find(|row| row.text("name").starts_with(name))
        .unwrap()
        .number("lat");
    climate(latitude, months("TMIN_F"), months("TMAX_F"))
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn days(figures: &BloomFigures, climate: &Climate, cover: Cover, planted: &str) -> f64 {
    let planted = date(planted);
    let bloom = first_bloom(figures, planted, climate, cover, StageKnown::Planted).unwrap();
    (bloom.p50 - planted).num_days() as f64
}

fn crop(reference: &Reference, id: &str) -> Crop {
    reference.crop(id).unwrap().clone()
}

/// Source: Munir, Hadley et al. 2015, Pak. J. Bot. 47:1717: days from transplant to flower of one early
/// snapdragon line at five temperatures in two years. Within 4 days except for the hottest of one year (31.8 C,
/// 34 days), where heat delayed the plants; at 31.5 C in the other year they took 30 days.
#[test]
fn an_early_snapdragon_takes_the_published_days_at_each_temperature() {
    let reference = Reference::builtin().unwrap();
    let figures = BloomFigures {
        // Grown in the long days of an English summer.
        day_length: None,
        ..crop(&reference, "antirrhinum")
            .bloom_figures(Some(1))
            .unwrap()
    };
    for (mean, published, tolerance) in [
        (14.6, 68.0, 4.0),
        (19.5, 43.0, 4.0),
        (23.1, 37.0, 4.0),
        (25.3, 35.0, 4.0),
        (31.8, 34.0, 6.0),
        (15.1, 67.0, 4.0),
        (22.5, 39.0, 4.0),
        (24.0, 34.0, 4.0),
        (27.5, 29.0, 4.0),
        (31.5, 30.0, 4.0),
    ] {
        let even = climate(51.4, [mean - 2.0; 12], [mean + 2.0; 12]);
        let bloom = days(&figures, &even, Cover::Open, "2027-06-01");
        close(bloom, published, tolerance, &mean);
    }
}

/// Source: National Cut Flower Centre, information sheet 5 (G. Hanks 2014): about eight weeks from transplanting
/// in tunnels planted in weeks 14 to 26, Lincolnshire, 52.8 N, whose climate is from memory. The forecast is
/// within a week for weeks 20 and 26, and up to three weeks late for week 14.
#[test]
fn summer_snapdragons_in_tunnels_bloom_about_eight_weeks_after_planting() {
    let reference = Reference::builtin().unwrap();
    let lincolnshire = climate(
        52.8,
        [1.4, 1.4, 2.6, 4.2, 6.9, 9.8, 12.0, 11.9, 9.8, 7.2, 4.0, 1.7],
        [
            7.0, 7.8, 10.3, 13.2, 16.3, 19.2, 21.8, 21.5, 18.6, 14.5, 10.2, 7.3,
        ],
    );
    let figures = crop(&reference, "antirrhinum").bloom_figures(None).unwrap();
    for (planted, tolerance) in [
        ("2027-05-17", 7.0),
        ("2027-06-28", 7.0),
        ("2027-04-05", 21.0),
    ] {
        let bloom = days(&figures, &lincolnshire, Cover::Tunnel, planted);
        close(bloom, 56.0, tolerance, &planted);
    }
}

/// Source: Lewis et al., HortScience: first tunnel planting on 8 February 2018, the earliest lines in bloom on 4
/// and 6 May, North Logan, Utah, 41.8 N, 1382 m; the climate is from memory, and the abstract does not link the
/// two dates. A closed tunnel in the mountain sun is warmer than the model's: the forecast is up to three weeks
/// late, which is the safe side.
#[test]
fn the_earliest_tunnel_planting_is_forecast_late_by_no_more_than_three_weeks() {
    let reference = Reference::builtin().unwrap();
    let logan = climate(
        41.8,
        [
            -8.3, -6.1, -1.1, 2.2, 6.7, 11.1, 15.6, 15.0, 10.0, 3.9, -2.2, -7.2,
        ],
        [
            0.0, 3.3, 10.0, 14.4, 20.0, 26.1, 31.7, 31.1, 25.0, 17.2, 8.3, 1.1,
        ],
    );
    let figures = crop(&reference, "antirrhinum")
        .bloom_figures(Some(1))
        .unwrap();
    let bloom = days(&figures, &logan, Cover::Tunnel, "2018-02-08");
    assert!((86.0..=107.0).contains(&bloom), "{bloom}");
}

/// Source: C. Wien, Cornell (autumn 2008): seedlings planted in early May bloom 60 to 75 days later in a high
/// tunnel at Ithaca, 42.4 N; the climate is that of Lebanon, New Hampshire, 43.6 N (NOAA NCEI), slightly colder.
#[test]
fn lisianthus_in_a_northern_tunnel_bloom_when_published() {
    let reference = Reference::builtin().unwrap();
    let figures = crop(&reference, "eustoma").bloom_figures(Some(2)).unwrap();
    let bloom = days(&figures, &station("LEBANON"), Cover::Tunnel, "2027-05-05");
    assert!((60.0..=82.0).contains(&bloom), "{bloom}");
}

/// Source: C. Wien, Cornell (2007 to 2013): day-length-sensitive sunflowers bloom 53 days after sowing at 12 h
/// and 70 at 16 h.
#[test]
fn sensitive_sunflowers_bloom_as_much_sooner_in_short_days_as_published() {
    let reference = Reference::builtin().unwrap();
    let sunflower = crop(&reference, "helianthus");
    let slowdown = sunflower.figure("daylength_slowdown").unwrap();
    let response = DayLengthResponse::new(
        Hours(sunflower.typical("daylength_full_h").unwrap()),
        Hours(sunflower.typical("daylength_least_h").unwrap()),
        slowdown.high,
    )
    .unwrap();
    let ratio = response.rate(Hours(12.0)) / response.rate(Hours(16.0));
    close(ratio, 70.0 / 53.0, 0.01, &response);
}

/// Source: Islam et al. 2005 (abstract): long days from the sixth week brought lisianthus buds 10 days sooner in
/// low light and 21 days sooner in high light.
#[test]
fn long_days_speed_up_lisianthus_as_much_as_published() {
    let reference = Reference::builtin().unwrap();
    let lisianthus = crop(&reference, "eustoma");
    let response = lisianthus.day_length_response().unwrap();
    let usual = lisianthus
        .typical("days_transplant_to_first_bloom_warm")
        .unwrap();
    let gained = usual / response.rate(Hours(10.0)) - usual / response.rate(Hours(16.0));
    assert!((10.0..=21.0).contains(&gained), "{gained}");
}

/// Sources: snapdragons 103 to 110 stems a square metre in a tunnel, 65 to 89 % of them saleable, Utah 2018-19
/// (Lewis et al., HortScience); lisianthus 65 to 108 saleable stems a square metre in a tunnel (Utah State
/// University Extension). The published years must be within the band of a first year.
#[test]
fn published_yields_are_within_the_forecast_band() {
    let reference = Reference::builtin().unwrap();
    for (id, low, high) in [
        ("antirrhinum", 103.0 * 0.65, 110.0 * 0.89),
        ("eustoma", 65.0, 108.0),
    ] {
        let crop = crop(&reference, id);
        let plants = crop.typical("plants_per_m2_bed").unwrap().round() as u32;
        let stems = yields::of_planting(
            plants,
            crop.typical("stems_per_plant_season").unwrap(),
            Chance::new(crop.typical("marketable_tunnel").unwrap()).unwrap(),
            yields::variation_between_years(0),
        )
        .unwrap()
        .saleable;
        assert!(stems.p10 <= high && low <= stems.p90, "{id}: {stems:?}");
        assert!((low..=high).contains(&stems.p50), "{id}: {stems:?}");
    }
}
