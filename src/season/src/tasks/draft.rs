//! The likely fact that settles a task, to be confirmed or changed before it is recorded.

use chrono::NaiveDate;

use super::{Subject, Task, TaskKind};
use crate::almanac::Almanac;
use crate::fact::*;
use crate::ids::*;
use crate::space::{bed_on, plants_that_fit, space_with_room, spacing_cm};
use crate::tray_number::next_number;

/// Stems that a cut is first shown with: one bunch where the crop says nothing.
const BUNCH_USUAL: f64 = 10.0;

/// The fact that most likely settles a task today. `None` where nobody can guess it (a bed to plant into does not exist, an order
/// has to be made up stem by stem).
pub fn draft(almanac: &Almanac<'_>, task: &Task, today: NaiveDate) -> Option<Fact> {
    draft_of(almanac, task.kind, &task.subject, task.number, today)
}

/// As [`draft`], for what is done without having been a task: `number` is how many cells, plants or stems it is about.
pub fn draft_of(
    almanac: &Almanac<'_>,
    kind: TaskKind,
    subject: &Subject,
    number: Option<u32>,
    today: NaiveDate,
) -> Option<Fact> {
    match subject {
        Subject::Planned(id) => sown(almanac, id, today),
        Subject::Sowing(id) => of_sowing(almanac, kind, number, id, today),
        Subject::Planting(id) => of_planting(almanac, kind, id, today),
        Subject::Variety(variety) if kind == TaskKind::Condition => {
            Some(ConditionedFact::new(variety.clone(), today).into())
        }
        Subject::Variety(variety) => {
            Some(DiscardedFact::new(variety.clone(), number.unwrap_or(0), today).into())
        }
        // What is to be bought is chosen at the order.
        Subject::Order(_) | Subject::Delivery(..) if kind == TaskKind::BuyIn => None,
        Subject::Delivery(id, due) => Some(HandedOverFact::new(id.clone(), *due, today).into()),
        Subject::Order(id) => Some(
            OrderFact {
                done: Some(true),
                ..OrderFact::new(id.clone())
            }
            .into(),
        ),
    }
}

fn sown(almanac: &Almanac<'_>, id: &PlannedId, today: NaiveDate) -> Option<Fact> {
    let planned = almanac.season().planned.get(id)?;
    let variety = planned.variety.clone()?;
    let crop = almanac.crop(&variety)?;
    // As last time for this variety or crop, else soil blocks.
    let last = almanac
        .season()
        .sowings
        .values()
        .filter(|s| {
            almanac.variety(&s.variety).map(|v| &v.crop)
                == almanac.variety(&variety).map(|v| &v.crop)
        })
        .max_by_key(|s| (s.date, s.id.clone()));
    let tray = last.and_then(|s| s.tray).unwrap_or(Tray {
        what: CellKind::Block,
        rows: 6,
        columns: 10,
    });
    let trays = planned.cells.div_ceil(tray.cells());
    let warm = matches!(crop.mat_use(), culture::MatUse::Usual);
    let what = if warm {
        SpaceKind::Mat
    } else {
        SpaceKind::Shelf
    };
    let space = space_with_room(almanac.season(), what, trays, today)
        .or_else(|| space_with_room(almanac.season(), SpaceKind::Shelf, trays, today));
    let lot = almanac
        .season()
        .lots
        .values()
        .filter(|lot| lot.variety.as_ref() == Some(&variety) && !lot.retired)
        .max_by_key(|lot| (lot.year, lot.id.clone()));
    Some(
        SownFact {
            space: space.map(|s| s.id.clone()),
            tray: Some(tray),
            dome: crop.typical("dome_off_share").is_some(),
            lot: lot.map(|lot| lot.id.clone()),
            planned: Some(planned.id.clone()),
            for_space: planned.space.clone(),
            number: next_number(almanac.season(), today),
            ..SownFact::new(variety, planned.cells, today)
        }
        .into(),
    )
}

fn of_sowing(
    almanac: &Almanac<'_>,
    kind: TaskKind,
    number: Option<u32>,
    id: &SowingId,
    date: NaiveDate,
) -> Option<Fact> {
    let season = almanac.season();
    let sowing = season.sowings.get(id)?;
    let id = id.clone();
    let room = |what| space_with_room(season, what, sowing.trays(), date).map(|s| s.id.clone());
    Some(match kind {
        TaskKind::Count => {
            let now = sowing.standing(date);
            CountedFact::new(id, now.up.unwrap_or(0), date).into()
        }
        TaskKind::LiftDome => DomeLiftedFact::new(id, date).into(),
        TaskKind::MatOff => MatOffFact {
            space: room(SpaceKind::Shelf),
            ..MatOffFact::new(id, date)
        }
        .into(),
        TaskKind::LetDry => WateredFact {
            sowing: Some(id),
            regime: Some(WaterRegime::DryBetween),
            ..WateredFact::new(date)
        }
        .into(),
        TaskKind::DigSeeds => NoteFact {
            about: Some(id.to_string()),
            ..NoteFact::new(crate::words::text("draft.dug").to_owned(), date)
        }
        .into(),
        TaskKind::PrickOut => PrickedOutFact::new(id, number.unwrap_or(1), date).into(),
        TaskKind::MindHeat => TemperatureFact {
            space: sowing.space_on(date).cloned(),
            ..TemperatureFact::new(
                // Asked for: the form shows neither.
                0.0, 0.0, date,
            )
        }
        .into(),
        TaskKind::Feed => FedFact {
            sowing: Some(id),
            ..FedFact::new(date)
        }
        .into(),
        TaskKind::Cover => CoveredFact {
            sowing: Some(id),
            ..CoveredFact::new(date)
        }
        .into(),
        TaskKind::PotOn => PottedOnFact {
            tray: sowing.tray.map(bigger),
            ..PottedOnFact::new(id, date)
        }
        .into(),
        TaskKind::HardenOn => HardeningFact::new(id, date).into(),
        TaskKind::Harden => HardeningFact {
            space: room(SpaceKind::Hardening),
            ..HardeningFact::new(id, date)
        }
        .into(),
        TaskKind::SowAgain => {
            let trays = sowing
                .tray
                .map_or(1, |tray| number.unwrap_or(0).div_ceil(tray.cells()));
            let what = if sowing
                .stood
                .iter()
                .any(|(_, s)| almanac.space(s).is_some_and(|s| s.what == SpaceKind::Mat))
            {
                SpaceKind::Mat
            } else {
                SpaceKind::Shelf
            };
            SownFact {
                space: space_with_room(season, what, trays, date).map(|s| s.id.clone()),
                tray: sowing.tray,
                seeds_per_cell: sowing.seeds_per_cell,
                dome: sowing.dome,
                lot: sowing.lot.clone(),
                planned: sowing.planned.clone(),
                for_space: sowing.for_space.clone(),
                number: next_number(season, date),
                again_for: Some(id),
                ..SownFact::new(sowing.variety.clone(), number.unwrap_or(1), date)
            }
            .into()
        }
        TaskKind::Transplant | TaskKind::CannotWait => {
            let plants = number
                .unwrap_or(0)
                .min(sowing.standing(date).up.unwrap_or(u32::MAX));
            let spacing = spacing_cm(almanac, &sowing.variety);
            let space = almanac.space_or_usual(sowing.for_space.as_ref())?;
            let beds = season.beds_of(&space.id);
            let fits = |bed: &Bed| {
                plants_that_fit(bed, &bed_on(almanac, bed, date), spacing)
                    .is_none_or(|fit| fit >= plants)
            };
            let bed = beds.iter().find(|bed| fits(bed)).or(beds.first())?;
            TransplantedFact {
                spacing_cm: Some(spacing),
                ..TransplantedFact::new(id, bed.id.clone(), plants, date)
            }
            .into()
        }
        _ => return None,
    })
}

fn of_planting(
    almanac: &Almanac<'_>,
    kind: TaskKind,
    id: &PlantingId,
    date: NaiveDate,
) -> Option<Fact> {
    let planting = almanac.season().plantings.get(id)?;
    let id = id.clone();
    Some(match kind {
        TaskKind::Pinch => PinchedFact::new(id, date).into(),
        TaskKind::Net => NettedFact::new(id, date).into(),
        TaskKind::Disbud => DisbuddedFact::new(id, date).into(),
        TaskKind::Cover => CoveredFact {
            planting: Some(id),
            ..CoveredFact::new(date)
        }
        .into(),
        TaskKind::FeedBed => FedFact {
            planting: Some(id),
            ..FedFact::new(date)
        }
        .into(),
        TaskKind::LookForBud => SeenFact::new(id, BloomStage::VisibleBud, date).into(),
        TaskKind::LookForColour => SeenFact::new(id, BloomStage::FirstColour, date).into(),
        TaskKind::Cut => {
            let bunch = almanac
                .crop(&planting.variety)
                .and_then(|crop| crop.typical("bunch_size"))
                .unwrap_or(BUNCH_USUAL);
            let stems = planting
                .cuts
                .last()
                .map_or(bunch.round() as u32, |cut| cut.stems);
            CutFact::new(id, stems, date).into()
        }
        TaskKind::Clear => FinishedFact {
            planting: Some(id),
            ..FinishedFact::new(date)
        }
        .into(),
        _ => return None,
    })
}

/// The next bigger cells. Common practice: 200 and more to 128, those to 72, those to 50, those to pots.
fn bigger(tray: Tray) -> Tray {
    let (what, rows, columns) = match tray.cells() {
        200.. => (tray.what, 8, 16),
        100..200 => (tray.what, 6, 12),
        60..100 => (tray.what, 5, 10),
        _ => (CellKind::Pot, 3, 6),
    };
    Tray {
        what,
        rows,
        columns,
    }
}
