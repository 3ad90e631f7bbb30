//! Facts to record without a task: the likely one for a tray, a planting, a variety or the place, to be confirmed or changed.

use chrono::NaiveDate;
use season::Fact;
use season::almanac::Almanac;
use season::fact::*;
use season::ids::{PlantingId, SowingId, VarietyId};
use season::space::{space_with_room, spacing_cm};
use season::tasks::{Subject, TaskKind, draft_of, spare_doubles};
use season::tray_number::next_number;

/// What can be recorded of a tray.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfTray {
    /// Seedlings counted.
    Count,
    /// Cells lost.
    Lost,
    /// Moved.
    Move,
    /// Dome lifted.
    Dome,
    /// Mat off.
    MatOff,
    /// Watered.
    Water,
    /// Fed.
    Feed,
    /// Doubles pricked out into empty cells.
    PrickOut,
    /// Potted on.
    PotOn,
    /// Hardening off begun.
    Harden,
    /// Planted out.
    Transplant,
    /// A note.
    Note,
    /// The rest given up.
    Finish,
}

impl OfTray {
    /// All of them, in the order of a tray's life.
    pub const ALL: [Self; 13] = [
        Self::Count,
        Self::Lost,
        Self::Move,
        Self::Dome,
        Self::MatOff,
        Self::Water,
        Self::Feed,
        Self::PrickOut,
        Self::PotOn,
        Self::Harden,
        Self::Transplant,
        Self::Note,
        Self::Finish,
    ];

    /// The key of its name on a button.
    pub fn key(self) -> &'static str {
        match self {
            Self::Count => "do.count",
            Self::Lost => "do.lost",
            Self::Move => "do.move",
            Self::Dome => "do.dome",
            Self::MatOff => "do.mat_off",
            Self::Water => "do.water",
            Self::Feed => "do.feed",
            Self::PrickOut => "do.prick_out",
            Self::PotOn => "do.pot_on",
            Self::Harden => "do.harden",
            Self::Transplant => "do.transplant",
            Self::Note => "do.note",
            Self::Finish => "do.give_up",
        }
    }

    /// Whether it can be done to a sowing as it is.
    pub fn fits(self, almanac: &Almanac<'_>, id: &SowingId) -> bool {
        let Some(sowing) = almanac.season().sowings.get(id) else {
            return false;
        };
        let on_mat = sowing
            .space()
            .and_then(|space| almanac.space(space))
            .is_some_and(|space| space.what == SpaceKind::Mat);
        match self {
            Self::Dome => sowing.dome && sowing.dome_lifted.is_none(),
            Self::MatOff => on_mat && sowing.mat_off.is_none(),
            Self::Harden => sowing.hardening.is_none(),
            Self::Finish => sowing.finished.is_none(),
            _ => true,
        }
    }
}

/// The likely fact of a tray. `None` where something must be set up first: a space to move to, a bed to plant into.
pub fn of_tray(
    almanac: &Almanac<'_>,
    what: OfTray,
    id: &SowingId,
    today: NaiveDate,
) -> Option<Fact> {
    let sowing = almanac.season().sowings.get(id)?;
    let now = sowing.standing(today);
    let subject = Subject::Sowing(id.clone());
    let drafted = |kind| draft_of(almanac, kind, &subject, now.up.or(Some(now.cells)), today);
    let id = id.clone();
    Some(match what {
        OfTray::Count => drafted(TaskKind::Count)?,
        OfTray::Dome => drafted(TaskKind::LiftDome)?,
        OfTray::MatOff => drafted(TaskKind::MatOff)?,
        OfTray::Harden => drafted(TaskKind::Harden)?,
        OfTray::Transplant => drafted(TaskKind::Transplant)?,
        OfTray::PotOn => drafted(TaskKind::PotOn)?,
        OfTray::PrickOut => PrickedOutFact::new(id, spare_doubles(&now), today).into(),
        OfTray::Lost => LostFact {
            sowing: Some(id),
            ..LostFact::new(LossCause::DriedOut, 1, today)
        }
        .into(),
        OfTray::Move => MovedFact::new(
            id,
            next_space(almanac, sowing.space(), sowing.trays(), today)?,
            today,
        )
        .into(),
        OfTray::Water => WateredFact {
            sowing: Some(id),
            ..WateredFact::new(today)
        }
        .into(),
        OfTray::Feed => FedFact {
            sowing: Some(id),
            ..FedFact::new(today)
        }
        .into(),
        OfTray::Note => note(Some(id.to_string()), today),
        OfTray::Finish => FinishedFact {
            sowing: Some(id),
            ..FinishedFact::new(today)
        }
        .into(),
    })
}

/// Where trays usually go next: from the mat to a shelf, from a shelf to hardening, else anywhere else.
fn next_space(
    almanac: &Almanac<'_>,
    from: Option<&season::ids::SpaceId>,
    trays: u32,
    today: NaiveDate,
) -> Option<season::ids::SpaceId> {
    let season = almanac.season();
    let next = match from
        .and_then(|id| almanac.space(id))
        .map(|space| space.what)
    {
        Some(SpaceKind::Shelf) => SpaceKind::Hardening,
        _ => SpaceKind::Shelf,
    };
    let other = || {
        season
            .spaces_in_order()
            .into_iter()
            .find(|space| space.holds_trays() && Some(&space.id) != from)
    };
    space_with_room(season, next, trays, today)
        .filter(|space| Some(&space.id) != from)
        .or_else(other)
        .map(|space| space.id.clone())
}

/// What can be recorded of a planting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfPlanting {
    /// Stems cut.
    Cut,
    /// First bud seen.
    Bud,
    /// First colour seen.
    Colour,
    /// Pinched.
    Pinch,
    /// Netted.
    Net,
    /// Side buds taken out.
    Disbud,
    /// Covered for the night.
    Cover,
    /// Plants lost.
    Lost,
    /// Watered.
    Water,
    /// Fed.
    Feed,
    /// A note.
    Note,
    /// Bed cleared.
    Finish,
}

impl OfPlanting {
    /// All of them, the daily ones first.
    pub const ALL: [Self; 12] = [
        Self::Cut,
        Self::Bud,
        Self::Colour,
        Self::Pinch,
        Self::Net,
        Self::Disbud,
        Self::Cover,
        Self::Lost,
        Self::Water,
        Self::Feed,
        Self::Note,
        Self::Finish,
    ];

    /// The key of its name on a button.
    pub fn key(self) -> &'static str {
        match self {
            Self::Cut => "do.cut",
            Self::Bud => "do.bud",
            Self::Colour => "do.colour",
            Self::Pinch => "do.pinch",
            Self::Net => "do.net",
            Self::Disbud => "do.disbud",
            Self::Cover => "do.cover",
            Self::Lost => "do.lost",
            Self::Water => "do.water",
            Self::Feed => "do.feed",
            Self::Note => "do.note",
            Self::Finish => "do.clear",
        }
    }

    /// Whether it can be done to a planting as it is.
    pub fn fits(self, almanac: &Almanac<'_>, id: &PlantingId) -> bool {
        let Some(planting) = almanac.season().plantings.get(id) else {
            return false;
        };
        match self {
            Self::Bud => planting.visible_bud.is_none() && planting.cuts.is_empty(),
            Self::Colour => planting.first_colour.is_none() && planting.cuts.is_empty(),
            Self::Pinch => planting.pinched.is_none(),
            Self::Net => planting.netted.is_none(),
            Self::Disbud => {
                planting.disbudded.is_none()
                    && almanac
                        .crop(&planting.variety)
                        .is_some_and(|crop| crop.text("disbud").is_some())
            }
            Self::Finish => planting.finished.is_none(),
            _ => true,
        }
    }
}

/// The likely fact of a planting.
pub fn of_planting(
    almanac: &Almanac<'_>,
    what: OfPlanting,
    id: &PlantingId,
    today: NaiveDate,
) -> Option<Fact> {
    let subject = Subject::Planting(id.clone());
    let drafted = |kind| draft_of(almanac, kind, &subject, None, today);
    match what {
        OfPlanting::Cut => drafted(TaskKind::Cut),
        OfPlanting::Bud => drafted(TaskKind::LookForBud),
        OfPlanting::Colour => drafted(TaskKind::LookForColour),
        OfPlanting::Pinch => drafted(TaskKind::Pinch),
        OfPlanting::Net => drafted(TaskKind::Net),
        OfPlanting::Disbud => drafted(TaskKind::Disbud),
        OfPlanting::Cover => drafted(TaskKind::Cover),
        OfPlanting::Finish => drafted(TaskKind::Clear),
        OfPlanting::Lost => Some(
            LostFact {
                planting: Some(id.clone()),
                ..LostFact::new(LossCause::Eaten, 1, today)
            }
            .into(),
        ),
        OfPlanting::Water => Some(
            WateredFact {
                planting: Some(id.clone()),
                ..WateredFact::new(today)
            }
            .into(),
        ),
        OfPlanting::Feed => Some(
            FedFact {
                planting: Some(id.clone()),
                ..FedFact::new(today)
            }
            .into(),
        ),
        OfPlanting::Note => Some(note(Some(id.to_string()), today)),
    }
}

/// A sowing of a variety into trays, as the last one of its crop.
pub fn sow(almanac: &Almanac<'_>, variety: &VarietyId, today: NaiveDate) -> Fact {
    let crop_of = |id: &VarietyId| almanac.variety(id).map(|v| v.crop.clone());
    let last = almanac
        .season()
        .sowings
        .values()
        .filter(|s| crop_of(&s.variety) == crop_of(variety))
        .max_by_key(|s| (s.date, s.id.clone()));
    let tray = last.and_then(|s| s.tray).unwrap_or(Tray {
        what: CellKind::Block,
        rows: 6,
        columns: 10,
    });
    let crop = almanac.crop(variety);
    let warm = crop.is_some_and(|crop| crop.mat_use() == culture::MatUse::Usual);
    let what = if warm {
        SpaceKind::Mat
    } else {
        SpaceKind::Shelf
    };
    let space = space_with_room(almanac.season(), what, 1, today)
        .or_else(|| space_with_room(almanac.season(), SpaceKind::Shelf, 1, today));
    let lot = almanac
        .season()
        .lots
        .values()
        .filter(|lot| lot.variety.as_ref() == Some(variety) && !lot.retired)
        .max_by_key(|lot| (lot.year, lot.id.clone()));
    SownFact {
        space: space.map(|space| space.id.clone()),
        tray: Some(tray),
        seeds_per_cell: last.map_or(1, |s| s.seeds_per_cell),
        dome: crop.is_some_and(|crop| crop.typical("dome_off_share").is_some()),
        lot: lot.map(|lot| lot.id.clone()),
        for_space: last.and_then(|s| s.for_space.clone()),
        number: next_number(almanac.season(), today),
        ..SownFact::new(variety.clone(), tray.cells(), today)
    }
    .into()
}

/// A sowing of a variety into a bed; `None` while there is no bed.
pub fn sow_direct(almanac: &Almanac<'_>, variety: &VarietyId, today: NaiveDate) -> Option<Fact> {
    let season = almanac.season();
    let bed = season
        .spaces_in_order()
        .into_iter()
        .flat_map(|space| season.beds_of(&space.id))
        .max_by(|a, b| {
            let free = |bed| season::space::bed_on(almanac, bed, today).free_m();
            free(a)
                .partial_cmp(&free(b))
                .unwrap_or(core::cmp::Ordering::Equal)
        })?;
    Some(
        DirectSownFact {
            spacing_cm: Some(spacing_cm(almanac, variety)),
            ..DirectSownFact::new(variety.clone(), bed.id.clone(), 1, today)
        }
        .into(),
    )
}

/// Fields that begin empty, since a guess would be recorded unseen.
pub fn blanks(fact: &Fact) -> &'static [&'static str] {
    match fact {
        Fact::Temperature(_) => &["min_c", "max_c"],
        Fact::LowExpected(_) => &["min_c"],
        Fact::Warmed(_) => &["hours", "temp_c"],
        Fact::BoughtIn(_) => &["stems"],
        Fact::Lost(_) => &["number", "cause"],
        Fact::DirectSown(_) => &["plants"],
        Fact::PrickedOut(f) if f.cells == 0 => &["cells"],
        _ => &[],
    }
}

/// A day's temperatures outdoors. Nobody can guess them: see [`blanks`].
pub fn temperature(today: NaiveDate) -> Fact {
    TemperatureFact::new(0.0, 0.0, today).into()
}

/// A frost outdoors.
pub fn frost(today: NaiveDate) -> Fact {
    FrostFact::new(today).into()
}

/// A low that the forecast has for tonight, outdoors.
pub fn low_expected(today: NaiveDate) -> Fact {
    LowExpectedFact::new(0.0, today).into()
}

/// Cut stems that stood in the warm: of one cut, or all that are in the cooler.
pub fn warmed(of: Option<(VarietyId, NaiveDate)>, today: NaiveDate) -> Fact {
    let (variety, cut) = of.unzip();
    WarmedFact {
        variety,
        cut,
        ..WarmedFact::new(0.0, 0.0, today)
    }
    .into()
}

/// Stems of a variety bought in.
pub fn bought_in(variety: &VarietyId, today: NaiveDate) -> Fact {
    BoughtInFact::new(variety.clone(), 0, today).into()
}

/// An empty note.
pub fn note(about: Option<String>, today: NaiveDate) -> Fact {
    NoteFact {
        about,
        ..NoteFact::new(String::new(), today)
    }
    .into()
}
