//! What grows, in numbers for playing.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use agronomy::yields::variation_between_years;
use chrono::NaiveDate;
use culture::Crop;
use planner::chance::{self, Batch, Plants};

use super::WEEKS_MAX;
use crate::almanac::Almanac;
use crate::forecast::{
    BedForecast, Course, Outlook, PLANTED_SURVIVAL, Source, StemFigures, USABLE_SHARE, by_week,
    lot_germination, spared_by_frost, stem_figures,
};
use crate::ids::*;

/// Everything that grows.
pub(super) struct Grown {
    pub batches: Vec<Batch>,
    /// The class of each variety that grows.
    pub classes: BTreeMap<VarietyId, usize>,
}

/// What stands in beds, is in trays or accepted, and what is proposed beside it.
pub(super) fn of(outlook: &Outlook<'_>, proposed: &[Course]) -> Grown {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let supply = outlook.supply();
    let mut grown = Grown {
        batches: Vec::new(),
        classes: BTreeMap::new(),
    };
    for (source, course) in &supply.courses {
        let batch = Place::of(almanac, course, today).and_then(|place| match source {
            Source::Planting(id) => place.planted(supply.beds.get(id)?),
            Source::Sowing(id) => Some(place.sown(in_numbers(supply.trays.get(id)?.plants))),
            Source::Planned(_) => Some(place.sown(place.plants_of(course))),
        });
        grown.add(&course.variety, batch);
    }
    for course in proposed {
        let place = Place::of(almanac, course, today);
        let batch = place.map(|place| place.sown(place.plants_of(course)));
        grown.add(&course.variety, batch);
    }
    grown
}

impl Grown {
    fn add(&mut self, variety: &VarietyId, batch: Option<Batch>) {
        if let Some(mut batch) = batch {
            let next = self.classes.len();
            batch.class = *self.classes.entry(variety.clone()).or_insert(next);
            self.batches.push(batch);
        }
    }
}

/// A crop in a space, with its bloom and its stems.
struct Place<'a> {
    almanac: &'a Almanac<'a>,
    crop: &'a Crop,
    variety: &'a VarietyId,
    figures: StemFigures,
    bloom: Spread<NaiveDate>,
    spared: Vec<f64>,
    first: IsoWeek,
}

impl<'a> Place<'a> {
    fn of(almanac: &'a Almanac<'a>, course: &'a Course, today: NaiveDate) -> Option<Self> {
        let variety = &course.variety;
        let crop = almanac.crop(variety)?;
        let space = course.space.as_ref().and_then(|id| almanac.space(id));
        let bloom = course.bloom?;
        let first = IsoWeek::of(today);
        let spared = spared_by_frost(almanac, crop, space, bloom.p50);
        Some(Self {
            almanac,
            crop,
            variety,
            figures: stem_figures(crop, almanac.cover(space))?,
            bloom,
            spared: (0..WEEKS_MAX)
                .map(|n| spared(first.plus(n as i32)))
                .collect(),
            first,
        })
    }

    /// Plants that are yet to be set.
    fn sown(&self, plants: Plants) -> Batch {
        self.batch(plants, PLANTED_SURVIVAL, self.figures.saleable_per_plant())
    }

    /// Plants that stand: as many stems as the forecast has still to come in a middling year.
    fn planted(&self, forecast: &BedForecast) -> Option<Batch> {
        let to_come: f64 = forecast.weeks.iter().map(|(_, stems)| stems.p50).sum();
        // The forecast's are those of the weeks to come that frost spares; the batch's are of the whole flush.
        let there: f64 = by_week(1.0, &self.figures.shares, self.bloom)
            .into_iter()
            .filter_map(|(week, share)| {
                let n = usize::try_from(self.first.weeks_until(week)).ok()?;
                Some(share * self.spared.get(n)?)
            })
            .sum();
        let whole = to_come / there;
        let one = Plants::Known(chance::Spread::exact(1.0));
        (whole.is_finite() && whole > 0.0).then(|| self.batch(one, 1.0, whole))
    }

    fn batch(&self, plants: Plants, survival: f64, stems: f64) -> Batch {
        let day = |date: NaiveDate| (date - self.first.monday()).num_days() as f64;
        Batch {
            class: 0,
            plants,
            survival,
            stems,
            variation: variation_between_years(0),
            bloom: in_figures(self.bloom.map(day)),
            shares: self.figures.shares.clone(),
            spared: self.spared.clone(),
        }
    }

    /// Plants of cells that are yet to be sown, out of the newest lot; as many as are meant where nothing is known of the seed.
    fn plants_of(&self, course: &Course) -> Plants {
        let (cells, plants) = (course.cells, course.plants);
        let lots = self.almanac.season().lots.values();
        let lot = lots
            .filter(|lot| lot.variety.as_ref() == Some(self.variety) && !lot.retired)
            .max_by_key(|lot| (lot.year, lot.id.clone()));
        let germination = lot_germination(
            self.almanac,
            self.crop,
            self.variety,
            lot.map(|lot| &lot.id),
            course.sown,
            None,
        );
        match germination.filter(|_| cells > 0) {
            Some(germination) => {
                // As the cells were reckoned: no rate is surer than anyone knows.
                let worth = |share: f64| (share * germination.weight).max(0.1);
                Plants::Sown {
                    cells,
                    seeds: 1,
                    alpha: worth(germination.rate),
                    beta: worth(1.0 - germination.rate),
                    usable: USABLE_SHARE,
                    most: plants,
                }
            }
            None => Plants::Known(chance::Spread::exact(f64::from(plants))),
        }
    }
}

fn in_figures(spread: Spread<f64>) -> chance::Spread {
    chance::Spread {
        p10: spread.p10.min(spread.p50),
        p50: spread.p50,
        p90: spread.p90.max(spread.p50),
    }
}

fn in_numbers(plants: Spread<f64>) -> Plants {
    Plants::Known(in_figures(plants.map(|n| n.max(0.0))))
}
