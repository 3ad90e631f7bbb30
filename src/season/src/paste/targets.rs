//! Targets: what, stems a week, first week, last week, and where or with what chance if that is said.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;

use super::header::{Columns, Heads, plain};
use super::wish::{wish, with_colour};
use super::{Desk, Pasted, lines};
use crate::almanac::Almanac;
use crate::fact::{TargetFact, Wanted};
use crate::ids::{SpaceId, TargetId};
use crate::limits::{CHANCES, STEMS_MAX};
use crate::state::CHANCE_USUAL;
use crate::typed;
use crate::words::Say;

/// A target as a line says it.
#[derive(Debug, Clone, PartialEq)]
pub struct TargetRow {
    /// What is wanted.
    pub wanted: Wanted,
    /// Stems in each week.
    pub stems: u32,
    /// First week.
    pub from: IsoWeek,
    /// Last week.
    pub to: IsoWeek,
    /// Where it is to be grown, if that is said.
    pub space: Option<SpaceId>,
    /// The chance wanted of having enough, 0.5 to 0.99.
    pub chance: f64,
}

impl TargetRow {
    /// The entry that makes it a target.
    pub fn fact(&self, of: TargetId) -> TargetFact {
        TargetFact {
            wanted: Some(self.wanted.clone()),
            space: self.space.clone(),
            from: Some(self.from),
            to: Some(self.to),
            stems: Some(self.stems),
            chance: Some(self.chance),
            ..TargetFact::new(of)
        }
    }
}

const WHAT: usize = 0;
const COLOUR: usize = 1;
const STEMS: usize = 2;
const FROM: usize = 3;
const TO: usize = 4;
const SPACE: usize = 5;
const CHANCE: usize = 6;

static HEADS: Heads = Heads {
    words: &[
        "paste.head.what",
        "paste.head.colour",
        "paste.head.stems",
        "paste.head.from",
        "paste.head.to",
        "paste.head.space",
        "paste.head.chance",
    ],
    usual: &[
        Some(WHAT),
        Some(STEMS),
        Some(FROM),
        Some(TO),
        Some(SPACE),
        Some(CHANCE),
    ],
};

/// Targets out of a pasted table. A last week left out is the first; weeks without a year are the next ones.
pub fn targets(almanac: &Almanac<'_>, pasted: &str, today: NaiveDate) -> Pasted<TargetRow> {
    let desk = Desk { almanac, today };
    // Any id will do for the checks: they ask only what the target says.
    let id = TargetId::mint(0, 0);
    lines(pasted, &HEADS, &desk, row, |row| {
        row.fact(id.clone()).into()
    })
}

fn row(desk: &Desk<'_, '_>, columns: &Columns<'_>) -> Result<TargetRow, Say> {
    let what = with_colour(columns.get(WHAT), columns.get(COLOUR));
    let wanted = wish(desk.almanac, &what)?;
    let stems = columns.read(STEMS, |text| typed::count(text, 1..=STEMS_MAX))?;
    let (from, to) = weeks(columns, desk.today)?;
    let space = columns.read_if_any(SPACE, |text| space(desk.almanac, text))?;
    let chance = columns.read_if_any(CHANCE, chance)?;
    Ok(TargetRow {
        wanted,
        stems,
        from,
        to,
        space: space.flatten(),
        chance: chance.unwrap_or(CHANCE_USUAL),
    })
}

/// First and last week. Where they have passed and bear no year, the next ones are meant.
fn weeks(columns: &Columns<'_>, today: NaiveDate) -> Result<(IsoWeek, IsoWeek), Say> {
    let read = |near: NaiveDate| {
        let from = columns.read(FROM, |text| week(text, near))?;
        // "To" alone means the same year as "from", or the next where it would lie before it.
        let to = columns.read_if_any(TO, |text| week(text, from.monday()))?;
        Ok((from, to.unwrap_or(from)))
    };
    let now = IsoWeek::of(today);
    let (from, to) = read(today)?;
    if to >= now {
        return Ok((from, to));
    }
    read(now.plus(typed::WEEKS_BACK).monday())
}

/// A week, or a date in it as a spreadsheet writes it.
fn week(text: &str, today: NaiveDate) -> Result<IsoWeek, Say> {
    typed::week(text, today).or_else(|why| match typed::date_of_sheet(text) {
        Ok(date) => Ok(IsoWeek::of(date)),
        Err(unclear) if unclear.key() == "typed.day_or_month" => Err(unclear),
        Err(_) => Err(why),
    })
}

/// A chance, in 100 or as a share of one.
fn chance(text: &str) -> Result<f64, Say> {
    let share = typed::plain_number(text).filter(|n| (CHANCES.record.0..=1.0).contains(n));
    match share {
        Some(share) if share <= CHANCES.record.1 => Ok(share),
        _ => typed::share(text, CHANCES.record.0 * 100.0..=CHANCES.record.1 * 100.0),
    }
}

/// A space by its name; `None` where any will do.
fn space(almanac: &Almanac<'_>, text: &str) -> Result<Option<SpaceId>, Say> {
    let name = plain(text);
    let mut any = crate::words::text("paste.word.anywhere").split(',');
    if any.any(|word| plain(word) == name) {
        return Ok(None);
    }
    let spaces = almanac.season().spaces_in_order();
    let mut found = spaces
        .iter()
        .filter(|s| s.holds_beds() && plain(&s.name) == name);
    match found.next() {
        Some(space) => Ok(Some(space.id.clone())),
        None => Err(Say::new("paste.no_space").with("name", text)),
    }
}
