//! What could fill a shortage: stems of the same role that nobody is promised, of the same colour first.

use chrono::NaiveDate;

use super::Promises;
use super::lines::LineCover;
use crate::almanac::Almanac;
use crate::ids::*;
use crate::plan::answers;
use crate::roles::role_of;

/// Stems that could stand in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fill {
    /// Of which variety.
    pub variety: VarietyId,
    /// Whether they have the colour that is wanted too.
    pub same_colour: bool,
    /// In the cooler, for nobody, and still good on the day.
    pub in_stock: u32,
    /// Of what is to be cut in time, the share that may be promised.
    pub to_come: u32,
}

/// What could fill a line that is short on a day; what has the colour comes first, then what there is most of. Stems that answer to
/// the line itself are in its forecast already and are left out.
pub fn fills(
    almanac: &Almanac<'_>,
    promises: &Promises,
    line: &LineCover,
    date: NaiveDate,
) -> Vec<Fill> {
    let Some(role) = role_of(almanac, &line.wanted) else {
        return Vec::new();
    };
    let own = line
        .wanted
        .variety
        .as_ref()
        .and_then(|id| almanac.variety(id));
    let colour = line
        .wanted
        .colour
        .clone()
        .or_else(|| own.map(|variety| variety.colour.clone()))
        .map(|colour| colour.trim().to_lowercase())
        .filter(|colour| !colour.is_empty());
    let mut found: Vec<Fill> = almanac
        .season()
        .varieties_in_order()
        .into_iter()
        .filter(|variety| almanac.role(&variety.id) == Some(role))
        .filter(|variety| !answers(almanac, &variety.id, &line.wanted))
        .map(|variety| {
            let (in_stock, to_come) = promises.spare(almanac, &variety.id, date);
            let same = colour
                .as_ref()
                .is_none_or(|wanted| *wanted == variety.colour.trim().to_lowercase());
            Fill {
                variety: variety.id.clone(),
                same_colour: same,
                in_stock,
                to_come,
            }
        })
        .filter(|fill| fill.in_stock > 0 || fill.to_come > 0)
        .collect();
    found.sort_by_key(|fill| {
        let there = fill.in_stock.saturating_add(fill.to_come);
        (!fill.same_colour, core::cmp::Reverse(there))
    });
    found
}
