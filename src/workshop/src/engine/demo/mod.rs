//! `demo`: an invented grower's season, and smaller samples, made anew from a fixed seed.
//!
//! Seedlings, losses and stems are drawn about the crop reference's figures, so that counts and dates are such as a grower sees.
//! The same program always makes the same files. Nobody and no place in them is real, and no variety is one that is sold.

mod beds;
mod bench;
mod book;
mod chance;
mod cooler;
mod records;
mod schedule;
mod set_up;
mod trade;
mod trays;

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use chrono::NaiveDate;
use culture::Reference;
use season::Season;
use season::almanac::Almanac;
use season::file::{self, Origin};
use season::ids::DeviceId;

use super::{Trouble, source};
use crate::paths::workspace_root;
use book::Book;

/// The demo's own day: its newest records are of this day.
pub fn today() -> NaiveDate {
    day(2027, 7, 19)
}

/// A date that the demo is written with.
fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    // Every date here is written out by hand and exists; a slip would show as the calendar's first day.
    NaiveDate::from_ymd_opt(year, month, day).unwrap_or_default()
}

/// Writes the demo season to `out`, and the samples beside it.
pub fn run(out: Option<&Path>) -> Result<ExitCode, Trouble> {
    let usual = workspace_root().join("demo-data/demo-season.json");
    let out = out.unwrap_or(&usual);
    let beside = out.parent().unwrap_or(Path::new("."));
    if !beside.as_os_str().is_empty() {
        fs::create_dir_all(beside).map_err(|source| Trouble::File {
            doing: "make the folder",
            path: beside.to_owned(),
            source,
        })?;
    }
    for (path, text) in [
        (out.to_owned(), season()?),
        (beside.join("winter-bench.json"), bench::bench()?),
        (beside.join("empty.json"), empty()?),
    ] {
        source::write_whole(&path, &text)?;
        source::print(&format!("Wrote {}.\n", path.display()))?;
    }
    Ok(ExitCode::SUCCESS)
}

/// The demo season's file.
pub fn season() -> Result<String, Trouble> {
    let reference = source::reference()?;
    let mut book = Book::new(20_270_115);
    let farm = set_up::record(&mut book)?;
    let planned = schedule::record_plan(&mut book, &farm)?;
    // What is set up so far is enough to look crops, spaces and climate up in.
    let known = Season::of(&book.log()?);
    let almanac = Almanac::new(&known, &reference);
    grow(&mut book, &farm, &planned, &almanac, &reference)?;
    book.write()
}

fn grow(
    book: &mut Book,
    farm: &set_up::Farm,
    planned: &schedule::Planned,
    almanac: &Almanac<'_>,
    reference: &Reference,
) -> Result<(), Trouble> {
    let (mut cut, mut sets) = (Vec::new(), Vec::new());
    for row in schedule::rows().iter().filter(|row| row.sow < today()) {
        let variety = farm.variety(row.variety)?;
        let crop = almanac
            .crop(variety)
            .ok_or_else(|| Trouble::Inside(format!("no crop for {}", row.variety)))?;
        let plantings = trays::grow(book, farm, planned, row, crop)?;
        for planting in plantings {
            cut.extend(beds::grow(book, farm, almanac, crop, &planting)?);
            sets.push(planting);
        }
    }
    for planting in schedule::direct(book, farm, planned)? {
        let variety = farm.variety(planting.variety)?;
        if let Some(crop) = almanac.crop(variety) {
            cut.extend(beds::grow(book, farm, almanac, crop, &planting)?);
        }
        sets.push(planting);
    }
    let florist = trade::orders(book)?;
    cooler::sell(book, farm, reference, &florist, cut)?;
    schedule::remarks(book, farm)?;
    trade::ready(book, farm, &florist)?;
    records::record(book, farm, &sets)
}

/// The file of a season in which nothing is recorded yet.
pub fn empty() -> Result<String, Trouble> {
    let device = Origin {
        id: id("empty-device")?,
        name: String::new(),
    };
    file::write(&season::Log::new(), &device, "2027-01-01T08:00:00.000Z")
        .map_err(|error| Trouble::Inside(error.to_string()))
}

fn id(text: &str) -> Result<DeviceId, Trouble> {
    DeviceId::new(text).map_err(|error| Trouble::Inside(error.to_string()))
}

#[cfg(test)]
mod tests;
