//! Times of the agronomy that a phone computes over and over, and of SciPy for the same emergence fit in the same run, if it is
//! installed.

use std::error::Error;
use std::process::Command;

use agronomy::bloom::{StageKnown, first_bloom};
use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::degree_days::single_sine;
use agronomy::emergence::fit::{Fit, fit};
use agronomy::emergence::{Count, EmergenceFigures, outlook};
use agronomy::quantity::{Celsius, Chance, Latitude};
use agronomy::sowing::{Cell, Germination, least_sown};
use agronomy::{AgronomyError, daylength};
use chrono::NaiveDate;
use culture::Reference;
use divan::{Bencher, black_box};

/// Ten inspections of a tray of 128 cells: day and seedlings up.
const TRAY: [(f64, u32); 10] = [
    (4.0, 0),
    (5.0, 2),
    (6.0, 9),
    (7.0, 27),
    (8.0, 51),
    (9.0, 72),
    (10.0, 85),
    (12.0, 97),
    (14.0, 101),
    (18.0, 104),
];
const CELLS: u32 = 128;

const USUAL: EmergenceFigures = EmergenceFigures {
    first_day: 5.0,
    half_day: 8.0,
    most_day: 13.0,
    germination: 0.8,
    germination_low: 0.65,
    germination_high: 0.9,
    weight_seeds: 20.0,
};

fn main() -> Result<(), Box<dyn Error>> {
    scipy(&fit(&[&tray()], None)?)?;
    divan::main();
    Ok(())
}

/// Has SciPy fit the same counts, compares its curve with ours, and prints its time.
fn scipy(ours: &Fit) -> Result<(), Box<dyn Error>> {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/emergence_fit.py");
    let counts: Vec<String> = TRAY.iter().map(|(day, up)| format!("{day}:{up}")).collect();
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".into());
    let ran = Command::new(python)
        .arg(script)
        .arg(CELLS.to_string())
        .args(counts)
        .output();
    let Some(answer) = ran.ok().filter(|ran| ran.status.success()) else {
        println!("No Python with SciPy here: set PYTHON to one to time its fit beside ours.");
        return Ok(());
    };
    let text = String::from_utf8(answer.stdout)?;
    let numbers: Vec<f64> = text
        .split_whitespace()
        .map(str::parse)
        .collect::<Result<_, _>>()?;
    let [share, steepness, half_day, median, least] = numbers[..] else {
        return Err(format!("SciPy answered {text:?}").into());
    };
    let (Some(our_steepness), Some(our_half_day)) = (ours.steepness(), ours.half_day()) else {
        return Err("no curve of our own".into());
    };
    for (ours, theirs) in [
        (ours.final_share().value, share),
        (our_steepness.value, steepness),
        (our_half_day.value, half_day),
    ] {
        if (ours / theirs - 1.0).abs() > 1e-3 {
            return Err(format!("not the same curve: {ours} here, {theirs} by SciPy").into());
        }
    }
    println!(
        "SciPy, the same fit with standard errors: median {:.0} us, least {:.0} us",
        median * 1e6,
        least * 1e6
    );
    Ok(())
}

fn tray() -> Vec<Count> {
    TRAY.iter()
        .map(|(day, up)| Count {
            day: *day,
            up: *up,
            of: CELLS,
        })
        .collect()
}

#[divan::bench]
fn fit_of_ten_inspections(bencher: Bencher<'_, '_>) {
    let counts = tray();
    bencher.bench(|| fit(&[black_box(&counts)], None));
}

#[divan::bench]
fn fit_of_ten_inspections_with_usual_figures(bencher: Bencher<'_, '_>) {
    let counts = tray();
    bencher.bench(|| fit(&[black_box(&counts)], Some(&USUAL)));
}

#[divan::bench]
fn final_stand_from_the_fit(bencher: Bencher<'_, '_>) {
    let fitted = fit(&[&tray()], Some(&USUAL));
    bencher.bench(|| {
        fitted
            .as_ref()
            .map(|fit| black_box(fit).stand_after(f64::INFINITY))
    });
}

#[divan::bench]
fn outlook_summed_over_its_grid(bencher: Bencher<'_, '_>) {
    let counts = tray();
    bencher.bench(|| outlook(&USUAL, CELLS, black_box(&counts)));
}

fn chance(share: f64) -> Result<Chance, AgronomyError> {
    Chance::new(share)
}

#[divan::bench(args = [0.9, 0.5, 0.1])]
fn least_cells_for_2000_plants(rate: f64) -> Result<u32, AgronomyError> {
    let cell = Cell::new(Germination::Known(chance(rate)?), 1, Chance::CERTAIN)?;
    cell.least_cells(black_box(2000), Chance::NINE_IN_TEN)
}

#[divan::bench]
fn least_sown_for_2000_plants_of_uncertain_germination() -> Result<u32, AgronomyError> {
    least_sown(black_box(2000), 40.0, 10.0, Chance::NINE_IN_TEN)
}

fn place() -> Result<Climate, AgronomyError> {
    let tmin = [-10., -9., -4., 1., 7., 12., 14., 13., 9., 3., -2., -7.].map(Celsius);
    let tmax = [-2., 0., 6., 13., 20., 25., 27., 26., 21., 14., 6., 0.].map(Celsius);
    let frost = FrostDates {
        last_p50: (5, 15),
        last_p10: (5, 28),
        first_p50: (10, 1),
        first_p10: (9, 18),
    };
    Climate::new(Latitude::new(44.0)?, Normals::new(tmin, tmax)?, frost)
}

fn new_year(year: i32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, 1, 1).unwrap_or_default()
}

#[divan::bench(args = ["outdoors", "tunnel"])]
fn a_year_of_degree_days(bencher: Bencher<'_, '_>, under: &str) {
    let cover = match under {
        "tunnel" => Cover::Tunnel,
        _ => Cover::Open,
    };
    let place = place();
    bencher.bench(|| {
        place.as_ref().map(|place| {
            let days = new_year(2027).iter_days().take(365);
            days.map(|day| {
                let (min, max) = black_box(place).day_under(day, cover);
                single_sine(min, max, Celsius(5.0), Some(Celsius(28.0))).0
            })
            .sum::<f64>()
        })
    });
}

#[divan::bench]
fn climate_of_a_place() -> Result<Climate, AgronomyError> {
    place()
}

#[divan::bench]
fn a_year_of_day_lengths(bencher: Bencher<'_, '_>) {
    let latitude = Latitude::new(44.0);
    bencher.bench(|| {
        latitude.as_ref().map(|latitude| {
            new_year(2027)
                .iter_days()
                .take(365)
                .map(|date| daylength::day_length(*latitude, date, daylength::Horizon::UpperLimb).0)
                .sum::<f64>()
        })
    });
}

#[divan::bench]
fn a_first_bloom(bencher: Bencher<'_, '_>) {
    let figures = Reference::builtin()
        .ok()
        .and_then(|reference| reference.crop("antirrhinum")?.bloom_figures(Some(2)));
    let asked = figures.zip(place().ok());
    let planted = NaiveDate::from_ymd_opt(2027, 3, 20).unwrap_or_default();
    bencher.bench(|| {
        asked.as_ref().map(|(figures, place)| {
            first_bloom(
                figures,
                black_box(planted),
                place,
                Cover::Tunnel,
                StageKnown::Planted,
            )
        })
    });
}
