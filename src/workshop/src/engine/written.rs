//! What the answers share: names of subjects in words, and reasons and windows for JSON.

use chrono::NaiveDate;
use season::almanac::Almanac;
use season::forecast::Window;
use season::tasks::Subject;
use season::why::Reason;
use season::words::{Manner, text};
use serde::Serialize;

/// The manner of everything that is printed here: metric units.
pub fn manner() -> Manner {
    Manner::default()
}

/// One link of the chain behind a figure.
#[derive(Serialize)]
pub struct WrittenReason {
    say: String,
    basis: &'static str,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    sources: Vec<String>,
}

/// The chain behind a figure.
pub fn reasons(why: &[Reason]) -> Vec<WrittenReason> {
    why.iter()
        .map(|reason| WrittenReason {
            say: reason.say.write(manner()),
            basis: reason.basis.key().trim_start_matches("basis."),
            sources: reason.sources.clone(),
        })
        .collect()
}

/// A span of days.
#[derive(Serialize)]
pub struct WrittenWindow {
    earliest: NaiveDate,
    best: NaiveDate,
    latest: NaiveDate,
}

impl From<Window> for WrittenWindow {
    fn from(window: Window) -> Self {
        Self {
            earliest: window.earliest,
            best: window.best,
            latest: window.latest,
        }
    }
}

impl WrittenWindow {
    /// In words: "best Sat 16 Jan, Mon 11 Jan to Sat 23 Jan".
    pub fn told(&self) -> String {
        format!(
            "best {}, {} to {}",
            manner().date(self.best),
            manner().day_month(self.earliest),
            manner().day_month(self.latest)
        )
    }
}

/// What a task is about, in words: "Chalk spike, sown Sat 16 Jan".
pub fn subject(almanac: &Almanac<'_>, subject: &Subject) -> String {
    let season = almanac.season();
    let named = |variety, what: &str, date| {
        format!(
            "{}, {what} {}",
            almanac.variety_name(variety),
            manner().date(date)
        )
    };
    match subject {
        Subject::Planned(id) => season
            .planned
            .get(id)
            .and_then(|p| p.variety.as_ref())
            .map(|v| almanac.variety_name(v)),
        Subject::Sowing(id) => season
            .sowings
            .get(id)
            .map(|s| named(&s.variety, "sown", s.date)),
        Subject::Planting(id) => season.plantings.get(id).map(|p| {
            let how = if p.sowing.is_some() {
                "planted"
            } else {
                "sown"
            };
            named(&p.variety, how, p.date)
        }),
        Subject::Variety(id) => Some(almanac.variety_name(id)),
        Subject::Order(id) | Subject::Delivery(id, _) => season
            .orders
            .get(id)
            .map(|o| o.who.clone())
            .filter(|who| !who.is_empty()),
    }
    .unwrap_or_default()
}

/// The id of what a task is about, with the kind of thing it is.
pub fn subject_id(subject: &Subject) -> (&'static str, &str) {
    match subject {
        Subject::Planned(id) => ("planned", id.as_str()),
        Subject::Sowing(id) => ("sowing", id.as_str()),
        Subject::Planting(id) => ("planting", id.as_str()),
        Subject::Variety(id) => ("variety", id.as_str()),
        Subject::Order(id) | Subject::Delivery(id, _) => ("order", id.as_str()),
    }
}

/// A space's name, or the word for its kind where it has none.
pub fn space_name(almanac: &Almanac<'_>, id: Option<&season::ids::SpaceId>) -> Option<String> {
    let space = almanac.space(id?)?;
    Some(if space.name.is_empty() {
        text(&format!("space.{}", space.what.word())).to_owned()
    } else {
        space.name.clone()
    })
}

/// An answer in JSON, with a line feed at its end.
pub fn json<T: Serialize>(answer: &T) -> Result<String, super::Trouble> {
    serde_json::to_string_pretty(answer)
        .map(|text| text + "\n")
        .map_err(|error| super::Trouble::Inside(error.to_string()))
}
