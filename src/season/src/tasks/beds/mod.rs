//! Tasks of beds: pinch, net, disbud, feed, look, cut, clear.

mod care;
mod cut;
mod watch;

use chrono::NaiveDate;
use culture::Crop;

use super::{Subject, Task, TaskKind};
use crate::almanac::Almanac;
use crate::forecast::{BedForecast, Window, shifted};
use crate::state::Planting;
use crate::words::Say;

/// Tasks of one planting.
pub(super) fn of_planting(
    almanac: &Almanac<'_>,
    planting: &Planting,
    forecast: &BedForecast,
    today: NaiveDate,
    tasks: &mut Vec<Task>,
) {
    let ended = planting.finished.is_some() || planting.standing() == 0 || planting.date > today;
    let Some(crop) = almanac.crop(&planting.variety).filter(|_| !ended) else {
        return;
    };
    let bed = Bed {
        almanac,
        crop,
        planting,
        forecast,
        today,
    };
    tasks.extend(
        [
            care::pinch(&bed),
            care::net(&bed),
            care::disbud(&bed),
            care::feed(&bed),
        ]
        .into_iter()
        .flatten(),
    );
    if let Some(bloom) = forecast.bloom {
        tasks.extend(watch::bud(&bed, bloom));
        tasks.extend(watch::colour(&bed, bloom));
        tasks.extend(cut::clear(&bed).or_else(|| cut::cut(&bed, bloom)));
    }
}

/// A planting and what its tasks look up.
struct Bed<'a> {
    almanac: &'a Almanac<'a>,
    crop: &'a Crop,
    planting: &'a Planting,
    forecast: &'a BedForecast,
    today: NaiveDate,
}

impl Bed<'_> {
    fn text(&self, name: &str) -> Option<&str> {
        self.crop.text(name).map(|note| note.text.as_str())
    }

    /// A bud was seen, or more.
    fn is_budding(&self) -> bool {
        self.planting.visible_bud.is_some() || self.is_colouring()
    }

    /// Colour was seen, or stems cut.
    fn is_colouring(&self) -> bool {
        self.planting.first_colour.is_some() || self.forecast.cutting
    }

    /// The day from which its plants are as far as transplants: the day they were set, or so long after they were sown in place as
    /// others stand in trays.
    fn set_on(&self) -> NaiveDate {
        let weeks = match self.planting.sowing {
            Some(_) => 0.0,
            None => self.crop.typical("weeks_sow_to_transplant").unwrap_or(0.0),
        };
        shifted(self.planting.date, (weeks * 7.0).round() as i64)
    }

    fn task(&self, kind: TaskKind, window: Window, why: Say) -> Task {
        Task {
            kind,
            subject: Subject::Planting(self.planting.id.clone()),
            variety: Some(self.planting.variety.clone()),
            space: self
                .almanac
                .bed(&self.planting.bed)
                .and_then(|bed| bed.space.clone()),
            bed: Some(self.planting.bed.clone()),
            window,
            why,
            reasons: self.forecast.why.clone(),
            number: None,
            caution: None,
        }
    }
}

#[cfg(test)]
mod tests;
