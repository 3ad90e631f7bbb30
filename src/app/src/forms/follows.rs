//! What follows from a form's fields and is recorded with them.

use season::Fact;
use season::almanac::Almanac;
use season::mishap::tray_holds;

/// A fact as its form gives it, with what follows: how many seedlings a lost tray had, and no map of cells beside numbers that are not
/// the map's.
pub fn completed(almanac: &Almanac<'_>, before: &Fact, fact: Fact) -> Fact {
    match fact {
        Fact::Lost(mut f) => {
            let sowing = f
                .sowing
                .as_ref()
                .and_then(|id| almanac.season().sowings.get(id));
            if let (Some(sowing), Some(tray)) = (sowing, f.tray) {
                // Fewer than the tray holds are not the whole tray.
                match tray_holds(sowing, tray, f.date) {
                    Some(holds) if f.number == holds.cells => f.up = Some(holds.up),
                    Some(_) => (f.tray, f.up) = (None, None),
                    None => {}
                }
            } else {
                f.up = None;
                // All that is left is lost with the seedlings that stood in it.
                let standing = sowing.map(|sowing| sowing.standing(f.date));
                if let Some(now) = standing.filter(|now| now.cells == f.number) {
                    f.up = now.up;
                }
            }
            Fact::Lost(f)
        }
        Fact::Counted(mut f) => {
            if let Fact::Counted(was) = before
                && (was.up, was.of, was.doubles) != (f.up, f.of, f.doubles)
            {
                f.map = None;
            }
            Fact::Counted(f)
        }
        other => other,
    }
}
