//! What stands on the labels of a sowing.

use season::almanac::Almanac;
use season::forecast::TrayForecast;
use season::state::Sowing;
use season::words::{Manner, Say};

use crate::forms::names;

/// The words of one label.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelText {
    /// The sowing's number, digits only.
    pub number: Option<String>,
    /// Which of its trays, where it has more than one.
    pub part: Option<String>,
    /// What was sown.
    pub name: String,
    /// What else to say, the most wanted first.
    pub notes: Vec<String>,
}

/// What to print beside number, name, day and cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Also {
    /// The seed lot.
    pub lot: bool,
    /// By when to plant out.
    pub plant_by: bool,
}

/// One label a tray of a sowing, in the trays' order. `forecast` is needed only to say by when to plant out.
pub fn labels_of(
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    forecast: Option<&TrayForecast>,
    also: Also,
    manner: Manner,
) -> Vec<LabelText> {
    let trays = sowing.trays().max(1);
    let name = names::variety(almanac, &sowing.variety).write(manner);
    let sown = Say::new("labels.sown").with("date", manner.full_date(sowing.date));
    let lot = sowing
        .lot
        .as_ref()
        .filter(|_| also.lot)
        .and_then(|id| almanac.season().lots.get(id))
        .map(|lot| {
            Say::new("labels.lot")
                .with_some(
                    "name",
                    Some(lot.name.clone()).filter(|name| !name.is_empty()),
                )
                .with_some("year", lot.year.map(|year| year.to_string()))
        });
    let plant_by = forecast
        .filter(|_| also.plant_by)
        .and_then(|forecast| forecast.plant)
        .map(|window| Say::new("labels.plant_by").with("date", window.latest));
    (0..trays)
        .map(|tray| LabelText {
            number: names::number(sowing),
            part: (trays > 1).then(|| {
                Say::new("labels.part")
                    .with("n", tray + 1)
                    .with("of", trays)
                    .write(manner)
            }),
            name: name.clone(),
            notes: [
                Some(sown.clone()),
                Some(names::cells_of(sowing, cells_on(sowing, tray))),
                sowing
                    .label
                    .clone()
                    .map(|label| Say::new("name.plain").with("name", label)),
                lot.clone(),
                plant_by.clone(),
            ]
            .into_iter()
            .flatten()
            .map(|say| say.write(manner))
            .collect(),
        })
        .collect()
}

/// Cells on one of a sowing's trays, counted from 0: whole trays, then what is left over.
fn cells_on(sowing: &Sowing, tray: u32) -> u32 {
    match sowing.tray {
        Some(grid) => sowing
            .cells
            .saturating_sub(tray.saturating_mul(grid.cells()))
            .min(grid.cells()),
        None => sowing.cells,
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::Bench;
    use super::*;

    fn told(cells: u32, number: Option<u32>, also: Also) -> Vec<LabelText> {
        let mut bench = Bench::new();
        let id = bench.sow("chalk", "2027-01-15", cells, number);
        bench.with(|almanac| {
            let sowing = &almanac.season().sowings[&id];
            labels_of(almanac, sowing, None, also, Manner::default())
        })
    }

    #[test]
    fn a_label_says_number_name_day_and_cells() {
        let lot = Also {
            lot: true,
            plant_by: false,
        };
        let labels = told(60, Some(1041), lot);
        assert_eq!(
            labels,
            [LabelText {
                number: Some("1041".into()),
                part: None,
                name: "Chalk spike, snapdragon, white".into(),
                notes: vec![
                    "Sown Fri 15 Jan 2027".into(),
                    "60 soil blocks".into(),
                    "Lot A 7 2027".into(),
                ],
            }]
        );
    }

    #[test]
    fn each_tray_of_a_sowing_has_its_own_label_with_its_own_cells() {
        let labels = told(140, Some(41), Also::default());
        let said: Vec<_> = labels
            .iter()
            .map(|label| (label.part.as_deref(), label.notes[1].as_str()))
            .collect();
        assert_eq!(
            said,
            [
                (Some("tray 1 of 3"), "60 soil blocks"),
                (Some("tray 2 of 3"), "60 soil blocks"),
                (Some("tray 3 of 3"), "20 soil blocks"),
            ]
        );
        assert!(
            labels
                .iter()
                .all(|label| label.number.as_deref() == Some("41"))
        );
        assert_eq!(told(60, None, Also::default())[0].number, None);
    }
}
