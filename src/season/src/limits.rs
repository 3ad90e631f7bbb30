//! A named limit on everything that comes from outside.

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
/// Cells of one sowing.
pub const CELLS_MAX: u32 = 100_000;
/// Characters of a map of cells: more than enough for as many as anyone marks one by one.
pub const MAP_LENGTH_MAX: usize = 10_000;
/// Trays of one sowing, or of one space's room.
pub const TRAYS_MAX: u32 = 10_000;
/// Numbers that trays are called by: short enough to be called across the bench and written on a stake.
pub const TRAY_NUMBERS: core::ops::RangeInclusive<u32> = 1..=9_999;
/// Rows of a tray, or cells in a row.
pub const TRAY_SIDE_MAX: u32 = 1_000;
/// Seeds in one cell.
pub const SEEDS_PER_CELL_MAX: u32 = 50;
/// Seeds of one lot.
pub const SEEDS_MAX: u32 = 100_000_000;
/// Prices of one packet, in whatever money the grower counts in.
pub const PACKET_PRICES: core::ops::RangeInclusive<f64> = 0.0..=1_000_000.0;
/// Plants of one planting.
pub const PLANTS_MAX: u32 = 1_000_000;
/// Stems in one entry, or wanted in one week.
pub const STEMS_MAX: u32 = 1_000_000;
/// Metres of one bed's length.
pub const BED_LENGTH_M_MAX: f64 = 1_000.0;
/// Metres of one bed's width.
pub const BED_WIDTH_M_MAX: f64 = 20.0;
/// Distances between plants, cm.
pub const SPACINGS_CM: core::ops::RangeInclusive<f64> = 0.5..=1_000.0;
/// Temperatures, C: beyond any that a plant, a thermometer or a climate table knows.
pub const DEGREES_C: core::ops::RangeInclusive<f64> = -100.0..=100.0;
/// A culture figure, either way, before the reference says what that figure may be.
pub const FIGURE_MAX: f64 = 1e9;
/// Light of lamps at the leaves, micromoles per square metre and second: full sun is about 2000.
pub const PPFDS: core::ops::RangeInclusive<f64> = 0.0..=5_000.0;
/// The highest bloom group.
pub const BLOOM_GROUP_MAX: u8 = 4;
/// Characters of a currency's code or sign.
pub const CURRENCY_LENGTH_MAX: usize = 8;
/// Days before an order's date by which missing stems are bought in.
pub const BUY_IN_DAYS: core::ops::RangeInclusive<u32> = 1..=60;
/// Shares of the forecast that may be promised.
pub const PROMISE_SHARES: core::ops::RangeInclusive<f64> = 0.05..=1.0;
/// Days from one delivery of a standing order to the next.
pub const EVERY_DAYS_MAX: u32 = 366;
/// Seasons behind a learned figure.
pub const SEASONS_MAX: u32 = 100;
/// Hours for which cut stems stood in the warm.
pub const HOURS_WARM: core::ops::RangeInclusive<f64> = 0.0..=1_000.0;
/// Chances of having enough that may be wanted.
pub const CHANCES: core::ops::RangeInclusive<f64> = 0.5..=0.99;
/// Weeks that one target may span.
pub const TARGET_WEEKS_MAX: i32 = 104;
/// The first and last year a date may lie in.
pub const YEARS: core::ops::RangeInclusive<i32> = 1990..=2199;
/// Milliseconds that another device's clock may run ahead before the import report says so.
pub const CLOCK_AHEAD_MS: u64 = 24 * 60 * 60 * 1_000;
