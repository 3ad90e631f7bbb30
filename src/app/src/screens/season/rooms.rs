//! Under the lines of the year: room in each space, week by week.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::forecast::Outlook;
use season::occupancy::{self, SpaceUse, WeekUse};
use season::words::{Arg, Manner, Say, text};

use super::axis::Axis;
use super::bands::{between, ends, marks, stairs};
use super::legend::{Legend, Mark};
use super::moved::Mover;
use super::weeks::weeks;
use super::year::percent;
use crate::forms::names;
use crate::parts::{Column, Table, TableRow};
use crate::store::Store;

/// How high the fullest week or the room reaches, of 100.
const HIGHEST: f64 = 80.0;
/// What its marks mean.
const MARKS: [(Mark, &str); 3] = [
    (Mark::Field("room__firm"), "year.room.firm"),
    (Mark::Field("room__planned"), "year.room.planned"),
    (Mark::Stroke("band__wanted"), "year.room.room"),
];

/// One space's chart.
#[derive(Debug, Clone, PartialEq)]
struct Room {
    name: String,
    note: String,
    full: bool,
    of: SpaceUse,
}

/// Trays or metres, as the space has them.
fn amount(of: &SpaceUse, n: f64) -> Arg {
    let trays = matches!(
        of.what,
        season::fact::SpaceKind::Mat
            | season::fact::SpaceKind::Shelf
            | season::fact::SpaceKind::Hardening
    );
    if trays {
        Say::new("year.room.trays")
            .with("n", n.round() as i64)
            .into()
    } else {
        Arg::Length(n)
    }
}

/// How full a space gets, in a sentence.
fn note(of: &SpaceUse, manner: Manner) -> Say {
    let over: Vec<IsoWeek> = of.over().map(|week| week.week).collect();
    let most = amount(of, of.most());
    match of.room {
        Some(room) if !over.is_empty() => Say::new("year.room.over")
            .with("weeks", weeks(&over, manner))
            .with("most", most)
            .with("room", amount(of, room)),
        Some(room) => Say::new("year.room.fits")
            .with("most", most)
            .with("room", amount(of, room)),
        None => Say::new("year.room.unsaid").with("most", most),
    }
}

fn room(almanac: &Almanac<'_>, of: &SpaceUse, manner: Manner) -> Room {
    let name = Say::new("year.room.name")
        .with("name", names::space(almanac, &of.space))
        .with("what", Arg::Key(of.what.key()));
    Room {
        name: name.write(manner),
        note: note(of, manner).write(manner),
        full: of.over().next().is_some(),
        of: of.clone(),
    }
}

fn rooms(store: Store, mover: Mover) -> Vec<Room> {
    let manner = store.manner();
    let show = |outlook: &Outlook<'_>| {
        occupancy::rooms(outlook)
            .iter()
            .filter(|one| one.room.is_some() || one.most() > 0.0)
            .map(|one| room(outlook.almanac(), one, manner))
            .collect()
    };
    store.outlook().with(|recorded| {
        mover.with(|held| match held {
            Some(held) => show(&held.as_moved(recorded)),
            None => show(recorded),
        })
    })
}

/// The charts, in line with the weeks above, and their table.
#[component]
pub fn Rooms(
    /// The weeks along the bottom.
    axis: Axis,
    /// Today.
    today: NaiveDate,
    /// What may be held.
    mover: Mover,
) -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| rooms(store, mover));
    let count = Memo::new(move |_| all.with(Vec::len));
    move || {
        let count = count.get();
        (count > 0).then(|| {
            let charts = (0..count)
                .map(|n| {
                    let one = Memo::new(move |_| all.with(|all| all.get(n).cloned()));
                    view! { <li class="band">{move || one.get().map(|one| chart(axis, today, one))}</li> }
                })
                .collect_view();
            view! {
                <h3 class="year__part">{text("year.room")}</h3>
                <ul>{charts}</ul>
                <Legend marks=MARKS.to_vec() />
                <RoomTable all />
            }
        })
    }
}

/// Outlines of a space on a ground of 100 by 100: what is firm, what is planned on top, and the room there is.
fn outlines(axis: Axis, of: &SpaceUse) -> (String, String, Option<String>, Vec<(f64, f64)>) {
    let room = of.room.unwrap_or(0.0);
    let most = of.most().max(room).max(1.0);
    let drawn: Vec<&WeekUse> = of
        .weeks
        .iter()
        .filter(|week| week.week.monday() <= axis.end())
        .collect();
    let at = |height: &dyn Fn(&WeekUse) -> f64| -> Vec<(f64, f64, f64)> {
        drawn
            .iter()
            .map(|week| {
                let (from, to) = ends(axis, week.week);
                (from, to, 100.0 - height(week) / most * HIGHEST)
            })
            .collect()
    };
    let (ground, firm, used) = (at(&|_| 0.0), at(&|w| w.firm), at(&|w| w.used));
    let over = |week: &WeekUse| of.over().any(|full| full.week == week.week);
    let runs = drawn
        .chunk_by(|a, b| over(a) == over(b))
        .filter(|run| run.first().is_some_and(|week| over(week)))
        .filter_map(|run| {
            Some((
                ends(axis, run.first()?.week).0,
                ends(axis, run.last()?.week).1,
            ))
        })
        .collect();
    (
        between(&ground, &firm),
        between(&firm, &used),
        of.room.map(|room| stairs(&at(&|_| room), 'M', false)),
        runs,
    )
}

fn chart(axis: Axis, today: NaiveDate, one: Room) -> impl IntoView {
    let (firm, planned, room, over) = outlines(axis, &one.of);
    let label = Say::new("year.band.label")
        .with("name", one.name.clone())
        .with("note", one.note.clone())
        .write(Manner::default());
    let now = percent(axis.x(today));
    let note = if one.full {
        "band__note band__note--full"
    } else {
        "band__note"
    };
    view! {
        <p class="band__words">
            <span class="band__name">{one.name}</span>
            " "
            <span class=note>{one.note}</span>
        </p>
        <svg class="band__drawing band__drawing--room" role="img" aria-label=label>
            <svg viewBox="0 0 100 100" preserveAspectRatio="none" width="100%" height="100%">
                <path class="room__planned" d=planned></path>
                <path class="room__firm" d=firm></path>
                {room.map(|room| view! { <path class="band__wanted" d=room></path> })}
            </svg>
            {marks(&over, "band__short", "year.full")}
            <line class="year__now" x1=now.clone() x2=now y1="0" y2="100%"></line>
        </svg>
    }
}

/// The charts of the spaces as a table.
#[component]
fn RoomTable(all: Memo<Vec<Room>>) -> impl IntoView {
    let manner = Store::here().manner_now();
    let none = || text("year.none").to_owned();
    let row = move |one: Room| {
        let of = &one.of;
        let written = |n| written(amount(of, n), manner);
        let over: Vec<IsoWeek> = of.over().map(|week| week.week).collect();
        let full = if over.is_empty() {
            none()
        } else {
            weeks(&over, manner)
        };
        TableRow::new(one.name.clone())
            .with(of.room.map_or_else(none, written))
            .with(written(of.most()))
            .with(full)
    };
    let columns = [
        "year.room.space",
        "year.room",
        "year.room.most",
        "year.room.full",
    ];
    let columns = columns.map(Column::Words).to_vec();
    let table = move || {
        let rows = all.get().into_iter().map(row).collect();
        view! { <Table caption="year.room.as_table" columns=columns.clone() rows /> }
    };
    view! {
        <details class="why">
            <summary class="why__ask">{text("year.room.as_table")}</summary>
            {table}
        </details>
    }
}

fn written(arg: Arg, manner: Manner) -> String {
    Say::new("plain.n").with("n", arg).write(manner)
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::fact::SpaceKind;
    use season::ids::SpaceId;

    fn shelf(used: &[f64]) -> SpaceUse {
        let first: IsoWeek = "2027-W09".parse().unwrap();
        SpaceUse {
            space: SpaceId::new("shelf").unwrap(),
            what: SpaceKind::Shelf,
            room: Some(16.0),
            weeks: used
                .iter()
                .zip(0..)
                .map(|(used, n)| WeekUse {
                    week: first.plus(n),
                    used: *used,
                    firm: 0.0,
                })
                .collect(),
        }
    }

    #[test]
    fn a_space_says_how_full_it_gets_and_when_it_is_too_full() {
        let say = |used: &[f64]| note(&shelf(used), Manner::default()).write(Manner::default());
        assert_eq!(
            say(&[19.0, 17.0, 12.0]),
            "Too full in weeks 9 to 10: 19 trays, room for 16 trays."
        );
        assert_eq!(
            say(&[16.0, 1.0]),
            "16 trays at the most, room for 16 trays."
        );
        let axis = Axis::around("2027-02-14".parse().unwrap(), core::iter::empty());
        let (_, _, room, over) = outlines(axis, &shelf(&[19.0, 12.0, 17.0]));
        assert!(room.is_some());
        assert_eq!(over.len(), 2);
    }
}
