//! What is promised in orders, against what stands in the cooler and what is still to be cut by then.
//!
//! The order with the earliest date has the stems first; within an order the narrower line. Stems in the cooler count only if they
//! still keep on the order's day, stems to come only if they are cut by then and keep until then.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::coverage::sum;
use crate::fact::{OrderLine, Wanted};
use crate::forecast::{Supply, shifted};
use crate::ids::*;
use crate::plan::answers;
use crate::state::Order;
use crate::stock::{Batch, Stock};

/// Days that cut stems are taken to keep where the crop says nothing (from memory of practice).
const KEEPS_DAYS_USUAL: i64 = 5;

/// One line of an order and what there is for it.
#[derive(Debug, Clone, PartialEq)]
pub struct LineCover {
    /// What is wanted.
    pub wanted: Wanted,
    /// How many stems, those of recipes included.
    pub stems: u32,
    /// Handed over for it already.
    pub handed: u32,
    /// In the cooler.
    pub in_stock: u32,
    /// The same by variety and day of cutting, the oldest that will do first.
    pub stock: Vec<(VarietyId, NaiveDate, u32)>,
    /// To be cut in time, not promised to an earlier order.
    pub to_come: Spread<f64>,
}

impl LineCover {
    /// Stems that are neither handed over nor in the cooler.
    pub fn missing(&self) -> u32 {
        self.stems
            .saturating_sub(self.handed)
            .saturating_sub(self.in_stock)
    }

    /// Stems that are likely to be missing on the day.
    pub fn short(&self) -> u32 {
        let short = f64::from(self.missing()) - self.to_come.p50;
        short.round().max(0.0) as u32
    }
}

/// An order and what there is for it.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderCover {
    /// Which order.
    pub order: OrderId,
    /// For when.
    pub date: NaiveDate,
    /// Its lines, narrow ones first.
    pub lines: Vec<LineCover>,
}

impl OrderCover {
    /// Stems that are likely to be missing on the day, all lines together.
    pub fn short(&self) -> u32 {
        self.lines
            .iter()
            .fold(0, |sum, line| sum.saturating_add(line.short()))
    }
}

/// An order's lines with the stems of its recipes, like lines together, narrow ones first.
pub fn lines_of(almanac: &Almanac<'_>, order: &Order) -> Vec<OrderLine> {
    let mut lines: Vec<OrderLine> = Vec::new();
    let mut add =
        |wanted: &Wanted, stems: u32| match lines.iter_mut().find(|line| line.wanted == *wanted) {
            Some(line) => line.stems = line.stems.saturating_add(stems),
            None => lines.push(OrderLine {
                wanted: wanted.clone(),
                stems,
                price: None,
                per: None,
            }),
        };
    for line in &order.lines {
        add(&line.wanted, line.stems);
    }
    for pieces in &order.pieces {
        let recipe = almanac.season().recipes.get(&pieces.recipe);
        for line in recipe.iter().flat_map(|recipe| &recipe.lines) {
            add(&line.wanted, line.stems.saturating_mul(pieces.pieces));
        }
    }
    lines.sort_by_key(|line| breadth(&line.wanted));
    lines
}

/// How much a wish leaves open: 0 for one variety.
fn breadth(wanted: &Wanted) -> u8 {
    if wanted.variety.is_some() {
        return 0;
    }
    let open = |named: bool| u8::from(!named);
    1 + 2 * open(wanted.crop.is_some()) + open(wanted.colour.is_some())
}

/// All open orders, earliest date first.
pub fn orders(
    almanac: &Almanac<'_>,
    stock: &Stock,
    supply: &Supply,
    today: NaiveDate,
) -> Vec<OrderCover> {
    let mut open: Vec<(NaiveDate, &Order)> = almanac
        .season()
        .orders
        .values()
        .filter(|order| !order.done && !order.retired)
        .filter_map(|order| Some((order.date?, order)))
        .collect();
    open.sort_by(|a, b| (a.0, &a.1.id).cmp(&(b.0, &b.1.id)));
    let mut store = Store {
        batches: stock.batches.clone(),
        to_come: to_come(almanac, supply),
        today,
    };
    open.into_iter()
        .map(|(date, order)| {
            let mut handed = handed(almanac, order);
            let lines = lines_of(almanac, order)
                .into_iter()
                .map(|line| store.serve(almanac, line, date, &mut handed))
                .collect();
            OrderCover {
                order: order.id.clone(),
                date,
                lines,
            }
        })
        .collect()
}

type ByVariety = BTreeMap<VarietyId, u32>;

fn handed(almanac: &Almanac<'_>, order: &Order) -> ByVariety {
    let mut handed = ByVariety::new();
    for sold in &almanac.season().sold {
        if sold.order.as_ref() == Some(&order.id) {
            let stems = handed.entry(sold.variety.clone()).or_default();
            *stems = stems.saturating_add(sold.stems);
        }
    }
    handed
}

/// Stems of a variety in a week, and the share of them that is promised to nobody.
struct Coming {
    stems: Spread<f64>,
    free: f64,
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
            let weeks = supply.weeks(|variety| variety == id);
            let weeks = weeks.into_iter().map(|(week, stems)| (week, free(stems)));
            (id.clone(), weeks.collect())
        })
        .collect()
}

struct Store {
    batches: Vec<Batch>,
    to_come: BTreeMap<VarietyId, BTreeMap<IsoWeek, Coming>>,
    today: NaiveDate,
}

impl Store {
    fn serve(
        &mut self,
        almanac: &Almanac<'_>,
        line: OrderLine,
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
        let stock = self.take_stock(almanac, &line.wanted, date, &mut open);
        let to_come = self.take_from_beds(almanac, &line.wanted, date, f64::from(open));
        LineCover {
            wanted: line.wanted,
            stems: line.stems,
            handed: of_handed,
            in_stock: stock.iter().map(|(_, _, stems)| stems).sum(),
            stock,
            to_come,
        }
    }

    fn take_stock(
        &mut self,
        almanac: &Almanac<'_>,
        wanted: &Wanted,
        date: NaiveDate,
        open: &mut u32,
    ) -> Vec<(VarietyId, NaiveDate, u32)> {
        let day = date.max(self.today);
        let keeps = |batch: &Batch| {
            batch
                .keeps_days
                .is_none_or(|days| (day - batch.cut).num_days() <= days)
        };
        // The batches are sorted by the keeping that is left, so the oldest that will do goes first.
        self.batches
            .iter_mut()
            .filter(|batch| keeps(batch) && answers(almanac, &batch.variety, wanted))
            .map(|batch| {
                let taken = take(&mut batch.stems, open);
                (batch.variety.clone(), batch.cut, taken)
            })
            .filter(|(_, _, taken)| *taken > 0)
            .collect()
    }

    fn take_from_beds(
        &mut self,
        almanac: &Almanac<'_>,
        wanted: &Wanted,
        date: NaiveDate,
        mut open: f64,
    ) -> Spread<f64> {
        let today = self.today;
        let mut found = Vec::new();
        for (variety, weeks) in &mut self.to_come {
            if !answers(almanac, variety, wanted) {
                continue;
            }
            let from = cut_from(almanac, variety, date).max(today);
            for (week, coming) in weeks {
                let share = share_between(*week, today, from, date).min(coming.free);
                let there = coming.stems.p50 * share;
                if there <= 0.0 {
                    continue;
                }
                found.push(coming.stems.map(|n| n * share));
                let taken = open.min(there);
                open -= taken;
                coming.free -= share * taken / there;
            }
        }
        sum(found.into_iter())
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{CutFact, OrderFact, OrderPieces, RecipeFact, Role, SoldFact};
    use crate::forecast::{Line, Source};
    use crate::sample::Sample;
    use crate::stock::stock;

    const TODAY: &str = "2027-06-14";

    fn role(role: Role) -> Wanted {
        Wanted {
            role: Some(role),
            ..Wanted::default()
        }
    }

    fn variety_line(id: &VarietyId, stems: u32) -> OrderLine {
        OrderLine {
            wanted: Wanted {
                variety: Some(id.clone()),
                ..Wanted::default()
            },
            stems,
            price: None,
            per: None,
        }
    }

    fn order(sample: &mut Sample, id: &str, date: &str, lines: Vec<OrderLine>) -> OrderId {
        let of = OrderId::new(id).expect("id");
        let date = Some(sample.day(date));
        sample.add(OrderFact {
            of: of.clone(),
            who: Some("Somebody".into()),
            date,
            lines: Some(lines),
            pieces: None,
            done: None,
            retired: None,
            every_days: None,
            until: None,
        });
        of
    }

    /// 25 stems of one spike cut on 12 June, and 14 more expected in the week of 21 June.
    fn season() -> (Sample, VarietyId, Supply) {
        let mut sample = Sample::new();
        let spike = sample.variety("a", "antirrhinum", "white");
        let bed = sample.bed("b", 5.0);
        let planting = sample.sown_in_bed(&spike, &bed, "2027-03-01", 60);
        let date = sample.day("2027-06-12");
        sample.add(CutFact {
            planting: planting.clone(),
            date,
            stems: 25,
            grade: None,
            culls: 0,
        });
        let supply = Supply {
            lines: vec![Line {
                source: Source::Planting(planting),
                variety: spike.clone(),
                space: None,
                bloom: None,
                weeks: vec![(
                    "2027-W25".parse().expect("week"),
                    Spread {
                        p10: 7.0,
                        p50: 14.0,
                        p90: 28.0,
                    },
                )],
            }],
            ..Supply::default()
        };
        (sample, spike, supply)
    }

    fn covers(sample: &Sample, supply: &Supply) -> Vec<OrderCover> {
        let today = sample.day(TODAY);
        sample.with(|almanac| orders(almanac, &stock(almanac, today), supply, today))
    }

    #[test]
    fn the_earlier_order_has_the_stems_and_the_later_one_is_short_by_the_rest() {
        let (mut sample, spike, supply) = season();
        order(
            &mut sample,
            "late",
            "2027-06-15",
            vec![variety_line(&spike, 15)],
        );
        order(
            &mut sample,
            "soon",
            "2027-06-14",
            vec![variety_line(&spike, 20)],
        );
        let found = covers(&sample, &supply);
        let said: Vec<(&str, u32, u32)> = found
            .iter()
            .filter_map(|cover| {
                Some((
                    cover.order.as_str(),
                    cover.lines.first()?.in_stock,
                    cover.short(),
                ))
            })
            .collect();
        assert_eq!(said, [("soon", 20, 0), ("late", 5, 10)]);
    }

    #[test]
    fn stems_that_will_not_keep_do_not_count_and_those_cut_by_then_do() {
        let (mut sample, spike, supply) = season();
        let keeps = sample.with(|almanac| {
            let keeps = almanac
                .crop(&spike)
                .and_then(|crop| crop.typical("cold_storage_max_days"));
            keeps.expect("keeps") as i64
        });
        // Wednesday of the week with 14: three of its seven days.
        order(
            &mut sample,
            "o",
            "2027-06-23",
            vec![variety_line(&spike, 30)],
        );
        let line = covers(&sample, &supply).remove(0).lines.remove(0);
        let kept = 11 <= keeps;
        assert_eq!(line.in_stock, if kept { 25 } else { 0 }, "keeps {keeps}");
        assert!((line.to_come.p50 - 6.0).abs() < 1e-9, "{line:?}");
        assert!((line.to_come.p10 - 3.0).abs() < 1e-9, "{line:?}");
    }

    #[test]
    fn recipes_are_added_up_and_what_was_handed_over_is_taken_off() {
        let (mut sample, spike, supply) = season();
        let recipe = RecipeId::new("r").expect("id");
        sample.add(RecipeFact {
            of: recipe.clone(),
            name: Some("Jar".into()),
            lines: Some(vec![OrderLine {
                wanted: role(Role::Spike),
                stems: 2,
                price: None,
                per: None,
            }]),
            retired: None,
        });
        let of = OrderId::new("o").expect("id");
        let date = sample.day("2027-06-15");
        sample.add(OrderFact {
            of: of.clone(),
            who: None,
            date: Some(date),
            lines: Some(vec![OrderLine {
                wanted: role(Role::Spike),
                stems: 4,
                price: None,
                per: None,
            }]),
            pieces: Some(vec![OrderPieces {
                recipe,
                pieces: 18,
                price: None,
            }]),
            done: None,
            retired: None,
            every_days: None,
            until: None,
        });
        let today = sample.day(TODAY);
        sample.add(SoldFact {
            variety: spike,
            date: today,
            stems: 10,
            order: Some(of),
            due: None,
            income: None,
        });
        let line = covers(&sample, &supply).remove(0).lines.remove(0);
        // 4 + 18 x 2 wanted; 10 handed over; 15 of the 25 cut are left.
        assert_eq!((line.stems, line.handed, line.in_stock), (40, 10, 15));
        assert_eq!((line.missing(), line.short()), (15, 15));
        let cut = sample.day("2027-06-12");
        assert_eq!(line.stock, [(VarietyId::new("a").expect("id"), cut, 15)]);
    }
}
