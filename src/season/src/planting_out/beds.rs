//! What goes into which bed.

use agronomy::quantity::Metres;
use agronomy::spacing::bed_metres_for;
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::ids::*;
use crate::space::{bed_on, plants_that_fit, spacing_cm};
use crate::state::{Bed, Sowing, Space};

/// Plants proposed for a bed.
#[derive(Debug, Clone, PartialEq)]
pub struct BedRoom {
    /// Which bed.
    pub bed: BedId,
    /// Plants for which it has room today; where the bed's size is not said, all that there are.
    pub fits: u32,
    /// Plants proposed.
    pub plants: u32,
    /// Metres of bed that these take; 0 where the bed's width is not said.
    pub metres: f64,
    /// Distance between plants, cm.
    pub spacing_cm: f64,
}

/// Beds of a space until all plants have one, as of a day; those without room are passed over.
pub(super) fn rooms(
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    space: &Space,
    plants: u32,
    today: NaiveDate,
) -> Vec<BedRoom> {
    let season = almanac.season();
    let spacing = spacing_cm(almanac, &sowing.variety);
    let planned = sowing
        .planned
        .as_ref()
        .and_then(|id| season.planned.get(id)?.bed.clone());
    let fits =
        |bed: &Bed| plants_that_fit(bed, &bed_on(almanac, bed, today), spacing).unwrap_or(plants);
    let mut beds: Vec<(&Bed, u32)> = season
        .beds_of(&space.id)
        .into_iter()
        .filter(|bed| bed.in_use(today))
        .map(|bed| (bed, fits(bed)))
        .filter(|(_, fits)| *fits > 0)
        .collect();
    // In walking order within each of the three.
    beds.sort_by_key(|(bed, fits)| (planned.as_ref() != Some(&bed.id), *fits < plants));
    let mut left = plants;
    let mut rooms = Vec::new();
    for (bed, fits) in beds {
        let plants = left.min(fits);
        if plants == 0 {
            break;
        }
        left -= plants;
        let metres = bed.width_m.map_or(0.0, |width| {
            bed_metres_for(plants, Metres(width), Metres(spacing / 100.0)).0
        });
        rooms.push(BedRoom {
            bed: bed.id.clone(),
            fits,
            plants,
            metres: if metres.is_finite() { metres } else { 0.0 },
            spacing_cm: spacing,
        });
    }
    rooms
}
