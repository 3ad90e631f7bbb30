//! What can be given out, and giving it out.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;

use super::lines::LineCover;
use crate::almanac::Almanac;
use crate::fact::{OrderLine, Wanted};
use crate::forecast::{Outlook, Sum, Supply, shifted};
use crate::ids::*;
use crate::plan::answers;
use crate::stock::{Batch, ForWhom, Stock, on_their_way};

/// Days that cut stems are taken to keep where the crop says nothing (from memory of practice).
const KEEPS_DAYS_USUAL: i64 = 5;

pub(super) type ByVariety = BTreeMap<VarietyId, u32>;

/// Stems of a variety in a week, and the share of them that is promised to nobody.
#[derive(Debug, Clone)]
pub(super) struct Coming {
    pub(super) stems: Sum,
    pub(super) free: f64,
}

/// What is left to give out.
#[derive(Debug, Clone)]
pub(super) struct Store {
    /// Stems that are put aside for nobody.
    pub(super) batches: Vec<Batch>,
    /// Stems that are put aside.
    aside: BTreeMap<ForWhom, Vec<Batch>>,
    pub(super) to_come: BTreeMap<VarietyId, BTreeMap<IsoWeek, Coming>>,
    share: f64,
    pub(super) today: NaiveDate,
}

impl Store {
    pub(super) fn of(outlook: &Outlook<'_>, stock: &Stock, share: f64) -> Self {
        let (almanac, today) = (outlook.almanac(), outlook.today());
        let mut batches = stock.batches.clone();
        batches.extend(on_their_way(almanac, today));
        let aside = put_aside(almanac, stock, &mut batches, today);
        Self {
            batches,
            aside,
            to_come: to_come(almanac, outlook.supply()),
            share,
            today,
        }
    }

    pub(super) fn serve(
        &mut self,
        almanac: &Almanac<'_>,
        line: OrderLine,
        whom: &ForWhom,
        date: NaiveDate,
        handed: &mut ByVariety,
    ) -> LineCover {
        let mut open = line.stems;
        let mut of_handed = 0;
        for (variety, stems) in handed.iter_mut() {
            if answers(almanac, variety, &line.wanted) {
                of_handed += take(stems, &mut open);
            }
        }
        let day = date.max(self.today);
        let keeps = |batch: &&mut Batch| batch.keeps_until(day, self.today);
        let own = self.aside.get_mut(whom).into_iter().flatten();
        let mut stock = take_from(almanac, own.filter(keeps), &line.wanted, &mut open);
        let aside = stock.iter().map(|(_, _, stems)| stems).sum();
        let free = self.batches.iter_mut().filter(keeps);
        // The batches are sorted by the keeping that is left, so the oldest that will do goes first.
        stock.extend(take_from(almanac, free, &line.wanted, &mut open));
        let to_come = self.take_from_beds(almanac, &line.wanted, date, f64::from(open));
        LineCover {
            wanted: line.wanted,
            stems: line.stems,
            handed: of_handed,
            in_stock: stock.iter().map(|(_, _, stems)| stems).sum(),
            aside,
            stock,
            to_come,
            share: self.share,
        }
    }

    fn take_from_beds(
        &mut self,
        almanac: &Almanac<'_>,
        wanted: &Wanted,
        date: NaiveDate,
        mut open: f64,
    ) -> Spread<f64> {
        let today = self.today;
        let mut found = Sum::default();
        for (variety, weeks) in &mut self.to_come {
            if !answers(almanac, variety, wanted) {
                continue;
            }
            let from = cut_from(almanac, variety, date).max(today);
            for (week, coming) in weeks {
                let share = share_between(*week, today, from, date).min(coming.free);
                let there = coming.stems.middle() * share;
                if there <= 0.0 {
                    continue;
                }
                found.add(coming.stems.times(share));
                let taken = open.min(there);
                open -= taken;
                coming.free -= share * taken / there;
            }
        }
        found.spread()
    }

    /// Stems of a variety for nobody that would do on a day: in the cooler, and of the forecast the share that may be promised.
    pub(super) fn spare(
        &self,
        almanac: &Almanac<'_>,
        variety: &VarietyId,
        date: NaiveDate,
    ) -> (u32, u32) {
        let day = date.max(self.today);
        let there = self
            .batches
            .iter()
            .filter(|batch| batch.variety == *variety && batch.keeps_until(day, self.today))
            .fold(0u32, |sum, batch| sum.saturating_add(batch.stems));
        let from = cut_from(almanac, variety, date).max(self.today);
        let coming: f64 = self
            .to_come
            .get(variety)
            .into_iter()
            .flatten()
            .map(|(week, coming)| {
                coming.stems.middle()
                    * share_between(*week, self.today, from, date).min(coming.free)
            })
            .sum();
        (there, (coming * self.share).floor().max(0.0) as u32)
    }
}

/// Takes what is put aside out of the batches: those that keep until the day first, so that none is held that is of no use.
fn put_aside(
    almanac: &Almanac<'_>,
    stock: &Stock,
    batches: &mut [Batch],
    today: NaiveDate,
) -> BTreeMap<ForWhom, Vec<Batch>> {
    let mut aside = BTreeMap::<ForWhom, Vec<Batch>>::new();
    for (whom, varieties) in &stock.aside {
        let order = almanac.season().orders.get(&whom.0);
        let day = whom.1.or_else(|| order?.date).unwrap_or(today).max(today);
        for (variety, stems) in varieties {
            let mut open = *stems;
            for useful in [true, false] {
                let own = batches.iter_mut().filter(|batch| {
                    batch.variety == *variety
                        && batch.cut <= today
                        && batch.keeps_until(day, today) == useful
                });
                let taken = own
                    .map(|batch| Batch {
                        stems: take(&mut batch.stems, &mut open),
                        ..batch.clone()
                    })
                    .filter(|taken| taken.stems > 0);
                aside.entry(whom.clone()).or_default().extend(taken);
            }
        }
    }
    aside
}

fn to_come(
    almanac: &Almanac<'_>,
    supply: &Supply,
) -> BTreeMap<VarietyId, BTreeMap<IsoWeek, Coming>> {
    let free = |stems| Coming { stems, free: 1.0 };
    almanac
        .season()
        .varieties
        .keys()
        .map(|id| {
            let weeks = supply.sums(|variety| variety == id);
            let weeks = weeks.into_iter().map(|(week, stems)| (week, free(stems)));
            (id.clone(), weeks.collect())
        })
        .collect()
}

fn take_from<'a>(
    almanac: &Almanac<'_>,
    batches: impl Iterator<Item = &'a mut Batch>,
    wanted: &Wanted,
    open: &mut u32,
) -> Vec<(VarietyId, NaiveDate, u32)> {
    batches
        .filter(|batch| answers(almanac, &batch.variety, wanted))
        .map(|batch| {
            let taken = take(&mut batch.stems, open);
            (batch.variety.clone(), batch.cut, taken)
        })
        .filter(|(_, _, taken)| *taken > 0)
        .collect()
}

/// Takes as much as is open; returns how much.
fn take(there: &mut u32, open: &mut u32) -> u32 {
    let taken = (*there).min(*open);
    *there -= taken;
    *open -= taken;
    taken
}

/// The first day on which stems may be cut that keep until a date.
pub(crate) fn cut_from(almanac: &Almanac<'_>, variety: &VarietyId, date: NaiveDate) -> NaiveDate {
    let keeps = almanac
        .crop(variety)
        .and_then(|crop| crop.typical("cold_storage_max_days"))
        .map_or(KEEPS_DAYS_USUAL, |days| days.round() as i64);
    shifted(date, -keeps)
}

/// The share of a week's stems from today on that is cut from one day to another, both included.
pub(crate) fn share_between(
    week: IsoWeek,
    today: NaiveDate,
    from: NaiveDate,
    to: NaiveDate,
) -> f64 {
    let first = week.monday().max(today);
    let days = |from: NaiveDate, to: NaiveDate| ((to - from).num_days() + 1).max(0) as f64;
    let whole = days(first, week.sunday());
    if whole <= 0.0 {
        return 0.0;
    }
    days(first.max(from), week.sunday().min(to)) / whole
}
