//! What this grower's earlier trays did, for what to expect of the next ones: how many came up, and how soon.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use culture::Crop;

use crate::ids::*;
use crate::state::{Season, Sowing};

/// A tray whose count was followed to its end.
#[derive(Debug, Clone, PartialEq)]
pub struct PastTray {
    /// Which sowing.
    pub sowing: SowingId,
    /// Of which variety.
    pub variety: VarietyId,
    /// From which lot.
    pub lot: Option<LotId>,
    /// When it was last counted.
    pub counted: NaiveDate,
    /// Seedlings that came up.
    pub up: u32,
    /// Cells sown, one seed in each.
    pub of: u32,
    /// The day by which half of them were up, as times the crop's usual; `None` where the counts leave it open.
    pub pace: Option<f64>,
}

/// Trays with one seed to a cell that were counted up to the day on which most are usually up, by the id of their crop, in the order
/// of their ids.
pub fn past_trays(
    season: &Season,
    crops: &BTreeMap<VarietyId, Crop>,
) -> BTreeMap<String, Vec<PastTray>> {
    let mut found = BTreeMap::<String, Vec<PastTray>>::new();
    for sowing in season.sowings.values() {
        let usual = crops
            .get(&sowing.variety)
            .and_then(|crop| Some((crop, crop.emergence_usual()?)));
        let (Some((crop, usual)), Some(count)) = (usual, sowing.last_count()) else {
            continue;
        };
        let day = (count.date - sowing.date).num_days() as f64;
        if sowing.seeds_per_cell != 1 || sowing.cells == 0 || day < usual.most_day {
            continue;
        }
        let up = sowing.standing(count.date).emerged.min(sowing.cells);
        found
            .entry(crop.id().as_str().to_owned())
            .or_default()
            .push(PastTray {
                sowing: sowing.id.clone(),
                variety: sowing.variety.clone(),
                lot: sowing.lot.clone(),
                counted: count.date,
                up,
                of: sowing.cells,
                pace: half_day(sowing, up).map(|half| half / usual.half_day),
            });
    }
    found
}

/// The day after sowing by which half of `up` were up, between the two counts around it. `None` where the first count saw that many
/// already, or nothing came up.
fn half_day(sowing: &Sowing, up: u32) -> Option<f64> {
    let half = f64::from(up) / 2.0;
    let points: Vec<(f64, f64)> = sowing
        .counts
        .iter()
        .map(|count| {
            let day = (count.date - sowing.date).num_days() as f64;
            (day, f64::from(sowing.standing(count.date).emerged))
        })
        .collect();
    points.windows(2).find_map(|pair| {
        let [(day_a, up_a), (day_b, up_b)] = pair else {
            return None;
        };
        (up > 0 && *up_a < half && *up_b >= half)
            .then(|| day_a + (day_b - day_a) * (half - up_a) / (up_b - up_a))
            .filter(|day| *day > 0.0)
    })
}

#[cfg(test)]
mod tests {
    use crate::sample::Sample;

    #[test]
    fn only_trays_counted_to_their_end_speak() {
        let mut sample = Sample::new();
        let variety = sample.variety("v", "zinnia", "white");
        let done = sample.sown(&variety, "2027-03-01", 60);
        for (date, up) in [("2027-03-05", 10), ("2027-03-07", 40), ("2027-03-15", 50)] {
            sample.counted(&done, date, up);
        }
        let young = sample.sown(&variety, "2027-03-20", 60);
        sample.counted(&young, "2027-03-22", 5);
        sample.with(|almanac| {
            let trays = almanac.past_trays("zinnia");
            assert_eq!(trays.len(), 1);
            assert_eq!((trays[0].up, trays[0].of), (50, 60));
            // 25 lies between 10 on day 4 and 40 on day 6: day 5.
            let usual = almanac.crop(&variety).unwrap().emergence_usual().unwrap();
            assert!((trays[0].pace.unwrap() * usual.half_day - 5.0).abs() < 1e-9);
            assert!(almanac.past_trays("stock").is_empty());
        });
    }
}
