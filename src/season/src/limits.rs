//! A named limit on everything that comes from outside.

/// What a number may be: in a file that is read, and in what is recorded anew. The second lies within the first, so that a limit can
/// be narrowed for new records without losing old ones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit<T> {
    /// Least and most that is read.
    pub read: (T, T),
    /// Least and most that is recorded.
    pub record: (T, T),
}

impl<T: Copy> Limit<T> {
    /// The same for reading and recording.
    pub const fn new(least: T, most: T) -> Self {
        Self {
            read: (least, most),
            record: (least, most),
        }
    }

    /// Narrower for what is recorded anew.
    pub const fn recorded(self, least: T, most: T) -> Self {
        Self {
            record: (least, most),
            ..self
        }
    }

    /// What is recorded, as a range.
    pub const fn range(&self) -> core::ops::RangeInclusive<T> {
        self.record.0..=self.record.1
    }
}

impl<T: Copy + PartialOrd> Limit<T> {
    /// Whether a value may be recorded.
    pub fn contains(&self, value: &T) -> bool {
        self.range().contains(value)
    }
}

/// How long a text may be, in characters, and whether it must say something when it is recorded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Letters {
    /// The longest.
    pub most: usize,
    /// Blank is refused when it is recorded.
    pub needed: bool,
}

/// Characters of an id.
pub const ID_LENGTH_MAX: usize = 64;
/// Characters of a name (place, space, bed, variety, person).
pub const NAME_LENGTH_MAX: usize = 80;
/// Characters of a note.
pub const NOTE_LENGTH_MAX: usize = 4_000;
/// Bytes of one entry's JSON.
pub const ENTRY_BYTES_MAX: usize = 64 * 1024;
/// Objects and lists within each other in one entry, itself counted. A reader that stops at 128, as ours does, still takes it.
pub const ENTRY_DEPTH_MAX: usize = 100;
/// Bytes of a file that is read; ten seasons of five acres stay well below it.
pub const FILE_BYTES_MAX: usize = 256 * 1024 * 1024;
/// Entries of a file that is read.
pub const FILE_ENTRIES_MAX: usize = 1_000_000;
/// A name that must be there.
pub const NAME: Letters = Letters {
    most: NAME_LENGTH_MAX,
    needed: true,
};
/// A name or other short text that may be blank.
pub const SHORT_TEXT: Letters = Letters {
    most: NAME_LENGTH_MAX,
    needed: false,
};
/// A note's text. The check of notes says itself what is wrong with one.
pub const NOTE_TEXT: Letters = Letters {
    most: NOTE_LENGTH_MAX,
    needed: false,
};
/// An id of the crop reference, or of anything that a note is about.
pub const ANY_ID: Letters = Letters {
    most: ID_LENGTH_MAX,
    needed: false,
};
/// A currency's code or sign.
pub const CURRENCY: Letters = Letters {
    most: 8,
    needed: false,
};
/// A map of cells: long enough for as many as anyone marks one by one.
pub const CELL_MAP: Letters = Letters {
    most: 10_000,
    needed: false,
};

/// Cells of one sowing, at most.
pub const CELLS_MAX: u32 = 100_000;
/// Cells sown.
pub const CELLS: Limit<u32> = Limit::new(0, CELLS_MAX).recorded(1, CELLS_MAX);
/// Cells found to be something: up, double.
pub const CELLS_FOUND: Limit<u32> = Limit::new(0, CELLS_MAX);
/// Cells looked at, or trays counted from 1.
pub const CELLS_LOOKED_AT: Limit<u32> = Limit::new(1, CELLS_MAX);
/// Trays of one sowing, or of one space's room, at most.
pub const TRAYS_MAX: u32 = 10_000;
/// Room of a space in trays or buckets.
pub const ROOM: Limit<u32> = Limit::new(0, TRAYS_MAX).recorded(1, TRAYS_MAX);
/// Numbers that trays are called by: short enough to be called across the bench and written on a stake.
pub const TRAY_NUMBERS: Limit<u32> = Limit::new(1, 9_999);
/// Rows of a tray, or cells in a row.
pub const TRAY_SIDE: Limit<u32> = Limit::new(1, 1_000).recorded(1, 100);
/// Seeds in one cell.
pub const SEEDS_PER_CELL: Limit<u32> = Limit::new(1, 50);
/// Seeds in one packet.
pub const SEEDS_PER_PACKET: Limit<u32> = Limit::new(1, 100_000_000);
/// Seeds of one lot.
pub const SEEDS: Limit<u32> = Limit::new(0, 100_000_000).recorded(0, 10_000_000);
/// Prices of one packet, in whatever money the grower counts in.
pub const PACKET_PRICES: Limit<f64> = Limit::new(0.0, 1_000_000.0);
/// Plants of one planting, at most.
pub const PLANTS_MAX: u32 = 1_000_000;
/// Plants set, or lost.
pub const PLANTS: Limit<u32> = Limit::new(0, PLANTS_MAX).recorded(1, PLANTS_MAX);
/// Plants that a plan or a count comes to.
pub const PLANTS_FOUND: Limit<u32> = Limit::new(0, PLANTS_MAX);
/// Stems in one entry, or wanted in one week, at most.
pub const STEMS_MAX: u32 = 1_000_000;
/// Stems, bunches or pieces that change hands or are wanted.
pub const STEMS: Limit<u32> = Limit::new(0, STEMS_MAX).recorded(1, STEMS_MAX);
/// Stems found at a cut.
pub const STEMS_FOUND: Limit<u32> = Limit::new(0, STEMS_MAX);
/// Stems in one bunch.
pub const STEMS_PER_BUNCH: Limit<u32> = Limit::new(0, STEMS_MAX).recorded(1, 1_000);
/// Stems that a price is for.
pub const STEMS_PER_PRICE: Limit<u32> = Limit::new(1, STEMS_MAX);
/// Pieces of a recipe in an order.
pub const PIECES: Limit<u32> = Limit::new(0, STEMS_MAX);
/// A bed's length, m.
pub const BED_LENGTHS_M: Limit<f64> = Limit::new(0.0, 1_000.0).recorded(0.1, 1_000.0);
/// A bed's width, m.
pub const BED_WIDTHS_M: Limit<f64> = Limit::new(0.0, 20.0).recorded(0.1, 20.0);
/// Distances between plants, cm.
pub const SPACINGS_CM: Limit<f64> = Limit::new(0.5, 1_000.0).recorded(1.0, 500.0);
/// Temperatures, C: read are any that a thermometer or a climate table knows.
pub const DEGREES_C: Limit<f64> = Limit::new(-100.0, 100.0).recorded(-60.0, 60.0);
/// Lows that a forecast has for a night, C.
pub const LOWS_C: Limit<f64> = Limit::new(-100.0, 100.0).recorded(-60.0, 40.0);
/// How warm cut stems may have been, C: beyond it, it is more likely a slip of the finger.
pub const WARM_C: Limit<f64> = Limit::new(-100.0, 100.0).recorded(-5.0, 60.0);
/// Soil temperatures, C.
pub const SOIL_C: Limit<f64> = Limit::new(-100.0, 100.0).recorded(-20.0, 60.0);
/// A culture figure, either way, before the reference says what that figure may be.
pub const FIGURE_MAX: f64 = 1e9;
/// A culture figure.
pub const FIGURES: Limit<f64> = Limit::new(-FIGURE_MAX, FIGURE_MAX);
/// Light of lamps at the leaves, micromoles per square metre and second: full sun is about 2000.
pub const PPFDS: Limit<f64> = Limit::new(0.0, 5_000.0);
/// Hours of a day.
pub const HOURS_OF_DAY: Limit<f64> = Limit::new(0.0, 24.0);
/// Degrees north.
pub const LATITUDES: Limit<f64> = Limit::new(-90.0, 90.0);
/// A share of one, or a chance.
pub const SHARES: Limit<f64> = Limit::new(0.0, 1.0);
/// Bloom groups; 0 for none.
pub const BLOOM_GROUPS: Limit<u8> = Limit::new(0, 4);
/// Days before an order's date by which missing stems are bought in.
pub const BUY_IN_DAYS: Limit<u32> = Limit::new(1, 60);
/// Shares of the forecast that may be promised.
pub const PROMISE_SHARES: Limit<f64> = Limit::new(0.05, 1.0);
/// Days from one delivery of a standing order to the next; 0 for an order wanted once.
pub const EVERY_DAYS: Limit<u32> = Limit::new(0, 366);
/// Seasons behind a learned figure.
pub const SEASONS: Limit<u32> = Limit::new(0, 100);
/// Hours for which cut stems stood in the warm.
pub const HOURS_WARM: Limit<f64> = Limit::new(0.0, 1_000.0).recorded(0.1, 1_000.0);
/// Chances of having enough that may be wanted.
pub const CHANCES: Limit<f64> = Limit::new(0.5, 0.99);
/// Places in the daily walk.
pub const WALK: Limit<i32> = Limit::new(i32::MIN, i32::MAX);
/// Weeks that one target may span.
pub const TARGET_WEEKS_MAX: i32 = 104;
/// The years a date may lie in.
pub const YEARS: Limit<i32> = Limit::new(1990, 2199);
/// Milliseconds that another device's clock may run ahead before the import report says so.
pub const CLOCK_AHEAD_MS: u64 = 24 * 60 * 60 * 1_000;
