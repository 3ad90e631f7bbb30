//! What a course rests on, so that a record lets those be worked out again that it changes, and no others.

use super::Source;
use crate::almanac::Almanac;
use crate::past_trays::PastTray;
use crate::space::cells_per_tray;
use crate::state::{PlannedSowing, Planting, Season, SeedLot, Sowing};

/// The records that a source's course and forecast rest on, beside the set-up of the season ([`same_set_up`]) and the day. Where they are
/// the same, course and forecast are.
#[derive(Debug, PartialEq)]
pub(in crate::forecast) struct Inputs<'a> {
    planting: Option<&'a Planting>,
    sowing: Option<&'a Sowing>,
    planned: Option<&'a PlannedSowing>,
    lot: Option<&'a SeedLot>,
    /// Earlier trays of the crop, which tell what to expect of a sowing.
    earlier: Vec<&'a PastTray>,
    /// For what is still to be sown: cells of a tray, by the last sowing of the crop.
    cells_per_tray: Option<u32>,
}

impl<'a> Inputs<'a> {
    /// The inputs of a source in a season.
    pub(in crate::forecast) fn of(almanac: &'a Almanac<'_>, source: &Source) -> Self {
        let season = almanac.season();
        let mut found = Self {
            planting: None,
            sowing: None,
            planned: None,
            lot: None,
            earlier: Vec::new(),
            cells_per_tray: None,
        };
        match source {
            Source::Planting(id) => {
                found.planting = season.plantings.get(id);
                let sowing = found.planting.and_then(|planting| planting.sowing.as_ref());
                found.sowing = sowing.and_then(|id| season.sowings.get(id));
            }
            Source::Sowing(id) => {
                found.sowing = season.sowings.get(id);
                if let Some(sowing) = found.sowing {
                    let planned = sowing.planned.as_ref();
                    found.planned = planned.and_then(|id| season.planned.get(id));
                    found.lot = sowing.lot.as_ref().and_then(|id| season.lots.get(id));
                    found.earlier = earlier(almanac, sowing);
                }
            }
            Source::Planned(id) => {
                found.planned = season.planned.get(id);
                let variety = found.planned.and_then(|planned| planned.variety.as_ref());
                found.cells_per_tray = variety.map(|variety| cells_per_tray(almanac, variety));
            }
        }
        found
    }
}

/// Trays of the crop that were counted to their end by the day of a sowing.
fn earlier<'a>(almanac: &'a Almanac<'_>, sowing: &Sowing) -> Vec<&'a PastTray> {
    let crop = almanac.crop(&sowing.variety);
    let trays = crop.map_or(&[][..], |crop| almanac.past_trays(crop.id().as_str()));
    trays
        .iter()
        .filter(|tray| tray.counted <= sowing.date && tray.sowing != sowing.id)
        .collect()
}

/// Whether two seasons have the same place, spaces, beds, crops and temperatures: what every course rests on.
pub(in crate::forecast) fn same_set_up(a: &Season, b: &Season) -> bool {
    a.places == b.places
        && a.spaces == b.spaces
        && a.beds == b.beds
        && a.crops == b.crops
        && a.varieties == b.varieties
        && a.temperatures == b.temperatures
}
