//! Targets pasted from a spreadsheet.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::ids::TargetId;
use season::paste::{TargetRow, targets};
use season::words::{Arg, Manner, Say};

use crate::browser::{clock, random};
use crate::forms::names;
use crate::parts::Back;
use crate::route::{Area, Route, SeasonPart};
use crate::screens::paste::{Kind, PasteScreen, Preview};
use crate::screens::wanted;

fn say(almanac: &Almanac<'_>, row: &TargetRow) -> Say {
    Say::new("paste.target")
        .with("n", row.stems)
        .with("what", wanted::say(almanac, &row.wanted))
        .with("from", row.from.to_string())
        .with_some("to", (row.from != row.to).then(|| row.to.to_string()))
        .with("first", row.from.monday())
        .with("last", row.to.sunday())
        .with_some("space", names::space_arg(almanac, row.space.as_ref()))
        .with("chance", Arg::Share(row.chance))
}

fn preview(almanac: &Almanac<'_>, pasted: &str, today: NaiveDate, manner: Manner) -> Preview {
    let found = targets(almanac, pasted, today);
    Preview::of(&found, manner, |row| say(almanac, row))
}

fn facts(almanac: &Almanac<'_>, pasted: &str, today: NaiveDate) -> Vec<Fact> {
    let new_id = || TargetId::mint(clock::now_ms(), random::bits());
    let found = targets(almanac, pasted, today);
    found.rows().map(|row| row.fact(new_id()).into()).collect()
}

fn back() -> Back {
    Back {
        to: Route::Season(SeasonPart::Targets),
        words: "targets.title".into(),
    }
}

/// Pasting targets.
#[component]
pub fn PasteTargetsScreen() -> impl IntoView {
    let kind = Kind {
        title: "paste.targets",
        lead: "paste.targets.lead",
        keep: "paste.targets.keep",
        area: Area::Season,
        back,
        preview,
        facts,
    };
    view! { <PasteScreen kind /> }
}
