//! Which fields a kind of fact has in its form, in the order in which they are asked.

use season::Fact;
use season::fact::SpaceKind;
use season::limits::{CELLS_MAX, PLANTS_MAX, SEEDS_PER_CELL_MAX, STEMS_MAX, TRAY_NUMBERS};

use crate::parts::read::Measure;

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Input {
    /// A day.
    Date,
    /// A whole number, typed or tapped.
    Count {
        /// Smallest.
        least: u32,
        /// Largest.
        most: u32,
        /// With large keys below it: what is counted at the bench in gloves.
        pad: bool,
    },
    /// A quantity in the reader's units; the bounds are SI.
    Measure(Measure, f64, f64),
    /// A plain number within bounds.
    Number(f64, f64),
    /// An amount of money.
    Money,
    /// A text of one line.
    Line,
    /// A text of several lines.
    Area,
    /// Yes or no.
    Tick,
    /// One of a closed list of words.
    Word(Word),
    /// Something that the grower set up.
    Pick(Pick),
    /// One of a sowing's trays, by its number.
    TrayNumber,
}

/// A closed list of words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Word {
    /// What seed is sown into.
    Cell,
    /// Why plants were lost.
    Cause,
    /// How wet a tray is kept.
    Regime,
    /// What was seen on a planting.
    Bloom,
    /// Length and quality of a cut.
    Grade,
}

/// Something that the grower set up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pick {
    /// A space of one of these kinds.
    Space(&'static [SpaceKind]),
    /// A bed.
    Bed,
    /// A variety.
    Variety,
    /// A seed lot of the fact's variety.
    Lot,
    /// An order that is still open.
    Order,
}

/// One field of a form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spec {
    /// Its name in files; `tray.rows` stands for `rows` inside `tray`.
    pub name: &'static str,
    /// The key of its label.
    pub label: &'static str,
    /// What it takes.
    pub input: Input,
    /// Whether it must be filled in.
    pub needed: bool,
    /// Asked only when an earlier record is corrected: else it was chosen before the form opened.
    pub fixed: bool,
}

const fn needed(name: &'static str, label: &'static str, input: Input) -> Spec {
    Spec {
        name,
        label,
        input,
        needed: true,
        fixed: false,
    }
}

const fn optional(name: &'static str, label: &'static str, input: Input) -> Spec {
    Spec {
        needed: false,
        ..needed(name, label, input)
    }
}

const fn fixed(spec: Spec) -> Spec {
    Spec {
        fixed: true,
        ..spec
    }
}

const fn count(least: u32, most: u32) -> Input {
    Input::Count {
        least,
        most,
        pad: false,
    }
}

const fn pad(least: u32, most: u32) -> Input {
    Input::Count {
        least,
        most,
        pad: true,
    }
}

const WHEN: Spec = needed("date", "field.date", Input::Date);
/// Where trays may stand.
const TRAYS: Input = Input::Pick(Pick::Space(&[
    SpaceKind::Mat,
    SpaceKind::Shelf,
    SpaceKind::Hardening,
]));
/// Where plants may be set.
const GROUND: Input = Input::Pick(Pick::Space(&[SpaceKind::Tunnel, SpaceKind::Outdoors]));
/// Where a thermometer may hang; nothing picked is outdoors.
const ANYWHERE: Input = Input::Pick(Pick::Space(&[
    SpaceKind::Mat,
    SpaceKind::Shelf,
    SpaceKind::Hardening,
    SpaceKind::Tunnel,
    SpaceKind::Outdoors,
    SpaceKind::Cooler,
]));
const FROSTY: Input = Input::Pick(Pick::Space(&[
    SpaceKind::Hardening,
    SpaceKind::Tunnel,
    SpaceKind::Outdoors,
]));
const SPACING: Spec = optional(
    "spacing_cm",
    "field.spacing",
    Input::Measure(Measure::Spacing, 1.0, 500.0),
);
const TEMPERATURE: Input = Input::Measure(Measure::Temperature, -60.0, 60.0);
const TRAY_WHAT: Spec = optional("tray.what", "field.tray_what", Input::Word(Word::Cell));
const TRAY_ROWS: Spec = optional("tray.rows", "field.rows", count(1, 100));
const TRAY_COLUMNS: Spec = optional("tray.columns", "field.columns", count(1, 100));

const SOWN: &[Spec] = &[
    fixed(needed(
        "variety",
        "field.variety",
        Input::Pick(Pick::Variety),
    )),
    needed("cells", "field.cells", count(1, CELLS_MAX)),
    WHEN,
    optional("space", "field.stands", TRAYS),
    TRAY_WHAT,
    TRAY_ROWS,
    TRAY_COLUMNS,
    needed(
        "seeds_per_cell",
        "field.seeds",
        count(1, SEEDS_PER_CELL_MAX),
    ),
    optional("dome", "field.dome", Input::Tick),
    optional("lot", "field.lot", Input::Pick(Pick::Lot)),
    optional("for_space", "field.for_space", GROUND),
    optional("label", "field.label", Input::Line),
    optional(
        "number",
        "field.number",
        count(TRAY_NUMBERS.record.0, TRAY_NUMBERS.record.1),
    ),
];
const DIRECT_SOWN: &[Spec] = &[
    fixed(needed(
        "variety",
        "field.variety",
        Input::Pick(Pick::Variety),
    )),
    needed("bed", "field.bed", Input::Pick(Pick::Bed)),
    needed("plants", "field.plants_thinned", count(1, PLANTS_MAX)),
    SPACING,
    WHEN,
    optional("lot", "field.lot", Input::Pick(Pick::Lot)),
];
const COUNTED: &[Spec] = &[
    needed("up", "field.up", pad(0, CELLS_MAX)),
    optional("about", "field.about", Input::Tick),
    WHEN,
    optional("of", "field.of", count(1, CELLS_MAX)),
    optional("doubles", "field.doubles", count(0, CELLS_MAX)),
];
const MOVED: &[Spec] = &[needed("space", "field.to", TRAYS), WHEN];
const DAY_ONLY: &[Spec] = &[WHEN];
const TO_MAYBE: &[Spec] = &[optional("space", "field.to_maybe", TRAYS), WHEN];
const LOST: &[Spec] = &[
    needed("cause", "field.cause", Input::Word(Word::Cause)),
    needed("number", "field.lost", pad(1, PLANTS_MAX)),
    WHEN,
];
const LOST_CELLS: &[Spec] = &[
    needed("cause", "field.cause", Input::Word(Word::Cause)),
    optional("tray", "field.lost_tray", Input::TrayNumber),
    needed("number", "field.lost", pad(1, PLANTS_MAX)),
    WHEN,
];
const PRICKED_OUT: &[Spec] = &[needed("cells", "field.filled", count(1, CELLS_MAX)), WHEN];
const POTTED_ON: &[Spec] = &[TRAY_WHAT, TRAY_ROWS, TRAY_COLUMNS, WHEN];
const TRANSPLANTED: &[Spec] = &[
    needed("bed", "field.bed", Input::Pick(Pick::Bed)),
    needed("plants", "field.plants", count(1, PLANTS_MAX)),
    SPACING,
    WHEN,
];
const WATERED: &[Spec] = &[
    optional("regime", "field.regime", Input::Word(Word::Regime)),
    WHEN,
];
const SEEN: &[Spec] = &[
    needed("stage", "field.stage", Input::Word(Word::Bloom)),
    WHEN,
];
const TEMPERATURES: &[Spec] = &[
    needed("min_c", "field.min", TEMPERATURE),
    needed("max_c", "field.max", TEMPERATURE),
    optional("space", "field.where", ANYWHERE),
    WHEN,
];
const FROST: &[Spec] = &[
    optional("min_c", "field.min_read", TEMPERATURE),
    optional("space", "field.where", FROSTY),
    needed("date", "field.morning", Input::Date),
];
const CUT: &[Spec] = &[
    needed("stems", "field.stems", pad(0, STEMS_MAX)),
    optional("culls", "field.culls", count(0, STEMS_MAX)),
    optional("grade", "field.grade", Input::Word(Word::Grade)),
    WHEN,
];
const BUNCHED: &[Spec] = &[
    needed("bunches", "field.bunches", count(1, STEMS_MAX)),
    needed("stems_each", "field.stems_each", count(1, 1000)),
    WHEN,
];
const DISCARDED: &[Spec] = &[
    needed("stems", "field.stems_gone", count(1, STEMS_MAX)),
    WHEN,
];
const SOLD: &[Spec] = &[
    needed("stems", "field.stems_sold", count(1, STEMS_MAX)),
    optional("order", "field.order", Input::Pick(Pick::Order)),
    optional("income", "field.income", Input::Money),
    WHEN,
];
const BOUGHT_IN: &[Spec] = &[
    fixed(needed(
        "variety",
        "field.variety",
        Input::Pick(Pick::Variety),
    )),
    needed("stems", "field.stems_bought", pad(1, STEMS_MAX)),
    optional("cost", "field.cost", Input::Money),
    needed("date", "field.comes", Input::Date),
];
const ALLOCATED: &[Spec] = &[
    needed("stems", "field.stems_aside", count(1, STEMS_MAX)),
    WHEN,
];
const HANDED_OVER: &[Spec] = &[optional("skipped", "field.skipped", Input::Tick), WHEN];
const WARMED: &[Spec] = &[
    needed("hours", "field.hours", Input::Number(0.1, 1_000.0)),
    needed("temp_c", "field.how_warm", TEMPERATURE),
    WHEN,
];
const LOW_EXPECTED: &[Spec] = &[
    needed("min_c", "field.low", TEMPERATURE),
    optional("space", "field.where", FROSTY),
    needed("date", "field.evening", Input::Date),
];
const COVERED: &[Spec] = &[needed("date", "field.evening", Input::Date)];
const NOTE: &[Spec] = &[needed("text", "field.note", Input::Area), WHEN];

/// The fields of a fact's form; `None` for facts that are recorded elsewhere. An order, here, is only marked as done.
pub fn fields_of(fact: &Fact) -> Option<&'static [Spec]> {
    Some(match fact {
        Fact::Sown(_) => SOWN,
        Fact::DirectSown(_) => DIRECT_SOWN,
        Fact::Counted(_) => COUNTED,
        Fact::Moved(_) => MOVED,
        Fact::MatOff(_) | Fact::Hardening(_) => TO_MAYBE,
        Fact::Lost(f) if f.sowing.is_some() => LOST_CELLS,
        Fact::Lost(_) => LOST,
        Fact::PrickedOut(_) => PRICKED_OUT,
        Fact::PottedOn(_) => POTTED_ON,
        Fact::Transplanted(_) => TRANSPLANTED,
        Fact::DomeLifted(_)
        | Fact::Pinched(_)
        | Fact::Netted(_)
        | Fact::Fed(_)
        | Fact::Disbudded(_)
        | Fact::Conditioned(_)
        | Fact::Finished(_) => DAY_ONLY,
        Fact::Watered(_) => WATERED,
        Fact::Seen(_) => SEEN,
        Fact::Temperature(_) => TEMPERATURES,
        Fact::Frost(_) => FROST,
        Fact::Cut(_) => CUT,
        Fact::Bunched(_) => BUNCHED,
        Fact::Discarded(_) => DISCARDED,
        Fact::Sold(_) => SOLD,
        Fact::BoughtIn(_) => BOUGHT_IN,
        Fact::Allocated(_) => ALLOCATED,
        Fact::HandedOver(_) => HANDED_OVER,
        Fact::Warmed(_) => WARMED,
        Fact::LowExpected(_) => LOW_EXPECTED,
        Fact::Covered(_) => COVERED,
        Fact::Note(_) => NOTE,
        Fact::Order(_) => &[],
        _ => return None,
    })
}
