//! A recorded fact in one sentence, for histories.

use chrono::NaiveDate;
use season::Fact;
use season::almanac::Almanac;
use season::fact::{SownFact, Tray};
use season::ids::{OrderId, PlantingId, SowingId};
use season::money::Money;
use season::words::faults::kind_key;
use season::words::{Arg, Say};

use super::inputs::currency;
use super::names;

/// What was recorded, without its date.
pub fn tell(almanac: &Almanac<'_>, fact: &Fact) -> Say {
    match fact {
        Fact::Sown(f) => sown(almanac, f),
        Fact::DirectSown(f) => Say::new("told.direct_sown")
            .with("variety", names::variety(almanac, &f.variety))
            .with("bed", names::bed(almanac, &f.bed))
            .with("n", f.plants),
        Fact::Counted(f) => Say::new("told.counted")
            .with("up", f.up)
            .with_some("of", f.of),
        Fact::Moved(f) => Say::new("told.moved").with("space", names::space(almanac, &f.space)),
        Fact::DomeLifted(_) => Say::new("told.dome_lifted"),
        Fact::MatOff(f) => {
            Say::new("told.mat_off").with_some("space", names::space_arg(almanac, f.space.as_ref()))
        }
        Fact::Lost(f) => Say::new("told.lost")
            .with("n", f.number)
            .with("cause", Arg::Key(f.cause.key())),
        Fact::PrickedOut(f) => Say::new("told.pricked_out").with("n", f.cells),
        Fact::PottedOn(f) => Say::new("told.potted_on")
            .with_some("what", f.tray.map(|tray| Arg::Key(tray.what.key())))
            .with_some("cells", f.tray.map(Tray::cells)),
        Fact::Hardening(f) => Say::new("told.hardening")
            .with_some("space", names::space_arg(almanac, f.space.as_ref())),
        Fact::Transplanted(f) => Say::new("told.transplanted")
            .with("n", f.plants)
            .with("bed", names::bed(almanac, &f.bed))
            .with_some("spacing", f.spacing_cm.map(Arg::Spacing)),
        Fact::Pinched(_) => Say::new("told.pinched"),
        Fact::Netted(_) => Say::new("told.netted"),
        Fact::Watered(f) => match f.regime {
            Some(regime) => Say::new("told.regime").with("regime", Arg::Key(regime.key())),
            None => Say::new("told.watered"),
        },
        Fact::Fed(_) => Say::new("told.fed"),
        Fact::Seen(f) => Say::new("told.seen").with("stage", Arg::Key(f.stage.key())),
        Fact::Temperature(f) => Say::new("told.temperature")
            .with("min", Arg::Temperature(f.min_c))
            .with("max", Arg::Temperature(f.max_c))
            .with_some("space", names::space_arg(almanac, f.space.as_ref())),
        Fact::Frost(f) => Say::new("told.frost")
            .with_some("min", f.min_c.map(Arg::Temperature))
            .with_some("space", names::space_arg(almanac, f.space.as_ref())),
        Fact::Cut(f) => Say::new("told.cut")
            .with("n", f.stems)
            .with_some("grade", f.grade.map(|grade| Arg::Key(grade.key())))
            .with_some("culls", Some(f.culls).filter(|n| *n > 0)),
        Fact::Bunched(f) => Say::new("told.bunched")
            .with("n", f.bunches)
            .with("each", f.stems_each),
        Fact::Discarded(f) => Say::new("told.discarded").with("n", f.stems),
        Fact::Sold(f) => Say::new("told.sold")
            .with("n", f.stems)
            .with_some("who", f.order.as_ref().and_then(|id| who(almanac, id)))
            .with_some("income", f.income.map(|income| money_arg(almanac, income))),
        Fact::BoughtIn(f) => Say::new("told.bought_in")
            .with("n", f.stems)
            .with_some("cost", f.cost.map(|cost| money_arg(almanac, cost))),
        Fact::Allocated(f) => Say::new("told.allocated")
            .with("n", f.stems)
            .with_some("who", who(almanac, &f.order)),
        Fact::HandedOver(f) => Say::new(if f.skipped {
            "told.skipped"
        } else {
            "told.handed_over"
        })
        .with("date", f.due)
        .with_some("who", who(almanac, &f.order)),
        Fact::Warmed(f) => Say::new("told.warmed")
            .with("n", Arg::Decimal(f.hours, 1))
            .with("at", Arg::Temperature(f.temp_c))
            .with_some("cut", f.cut),
        Fact::Conditioned(_) => Say::new("told.conditioned"),
        Fact::LowExpected(f) => Say::new("told.low_expected")
            .with("min", Arg::Temperature(f.min_c))
            .with_some("space", names::space_arg(almanac, f.space.as_ref())),
        Fact::Covered(_) => Say::new("told.covered"),
        Fact::Disbudded(_) => Say::new("told.disbudded"),
        Fact::Finished(_) => Say::new("told.finished"),
        Fact::Note(f) => Say::new("told.note").with("text", f.text.clone()),
        fact => Say::new(fact.kind().and_then(kind_key).unwrap_or("kind.unknown")),
    }
}

fn who(almanac: &Almanac<'_>, order: &OrderId) -> Option<String> {
    let order = almanac.season().orders.get(order)?;
    Some(order.who.clone())
}

/// An amount with what money is counted in.
pub fn money_arg(almanac: &Almanac<'_>, amount: Money) -> Arg {
    Say::new("money.amount")
        .with("n", amount.to_string())
        .with_some(
            "unit",
            Some(currency(almanac)).filter(|unit| !unit.is_empty()),
        )
        .into()
}

fn sown(almanac: &Almanac<'_>, f: &SownFact) -> Say {
    Say::new("told.sown")
        .with("n", f.cells)
        .with_some("what", f.tray.map(|tray| Arg::Key(tray.what.key())))
        .with_some("seeds", Some(f.seeds_per_cell).filter(|n| *n > 1))
        .with_some("space", names::space_arg(almanac, f.space.as_ref()))
        .with_some("dome", f.dome.then_some(1u32))
}

/// Which tray, planting, stems or order a fact is about.
pub fn about(almanac: &Almanac<'_>, fact: &Fact) -> Option<Say> {
    if let Some(id) = sowing_of(fact) {
        return Some(names::sowing(almanac, id));
    }
    if let Some(id) = planting_of(fact) {
        return Some(names::planting(almanac, id));
    }
    match fact {
        Fact::Sown(f) => Some(names::variety(almanac, &f.variety)),
        Fact::DirectSown(f) => Some(names::variety(almanac, &f.variety)),
        Fact::Bunched(f) => Some(names::variety(almanac, &f.variety)),
        Fact::Discarded(f) => Some(names::variety(almanac, &f.variety)),
        Fact::Sold(f) => Some(names::variety(almanac, &f.variety)),
        Fact::BoughtIn(f) => Some(names::variety(almanac, &f.variety)),
        Fact::Allocated(f) => Some(names::variety(almanac, &f.variety)),
        Fact::Conditioned(f) => Some(names::variety(almanac, &f.variety)),
        Fact::Warmed(f) => Some(match &f.variety {
            Some(variety) => names::variety(almanac, variety),
            None => Say::new("warmed.all"),
        }),
        Fact::HandedOver(f) => name_of_order(almanac, &f.order, Some(f.due)),
        Fact::Order(f) => name_of_order(almanac, &f.of, None),
        Fact::Bed(f) => Some(names::bed(almanac, &f.of)),
        Fact::Note(f) => {
            let (season, about) = (almanac.season(), f.about.as_deref()?);
            let sowing = season.sowings.keys().find(|id| id.as_str() == about);
            let planting = season.plantings.keys().find(|id| id.as_str() == about);
            match (sowing, planting) {
                (Some(id), _) => Some(names::sowing(almanac, id)),
                (None, Some(id)) => Some(names::planting(almanac, id)),
                (None, None) => None,
            }
        }
        _ => None,
    }
}

/// An order's name, with the day of one of its deliveries or its own.
fn name_of_order(almanac: &Almanac<'_>, id: &OrderId, due: Option<NaiveDate>) -> Option<Say> {
    let order = almanac.season().orders.get(id)?;
    Some(
        Say::new("name.order")
            .with("who", order.who.clone())
            .with_some("date", due.or(order.date)),
    )
}

/// The sowing that a fact names.
pub fn sowing_of(fact: &Fact) -> Option<&SowingId> {
    match fact {
        Fact::Counted(f) => Some(&f.sowing),
        Fact::Moved(f) => Some(&f.sowing),
        Fact::DomeLifted(f) => Some(&f.sowing),
        Fact::MatOff(f) => Some(&f.sowing),
        Fact::PrickedOut(f) => Some(&f.sowing),
        Fact::PottedOn(f) => Some(&f.sowing),
        Fact::Hardening(f) => Some(&f.sowing),
        Fact::Transplanted(f) => Some(&f.sowing),
        Fact::Lost(f) => f.sowing.as_ref(),
        Fact::Watered(f) => f.sowing.as_ref(),
        Fact::Fed(f) => f.sowing.as_ref(),
        Fact::Covered(f) => f.sowing.as_ref(),
        Fact::Finished(f) => f.sowing.as_ref(),
        _ => None,
    }
}

/// The planting that a fact names.
pub fn planting_of(fact: &Fact) -> Option<&PlantingId> {
    match fact {
        Fact::Pinched(f) => Some(&f.planting),
        Fact::Netted(f) => Some(&f.planting),
        Fact::Seen(f) => Some(&f.planting),
        Fact::Cut(f) => Some(&f.planting),
        Fact::Lost(f) => f.planting.as_ref(),
        Fact::Watered(f) => f.planting.as_ref(),
        Fact::Fed(f) => f.planting.as_ref(),
        Fact::Covered(f) => f.planting.as_ref(),
        Fact::Disbudded(f) => Some(&f.planting),
        Fact::Finished(f) => f.planting.as_ref(),
        _ => None,
    }
}
