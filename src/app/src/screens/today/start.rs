//! What to do first in an empty book.

use leptos::prelude::*;
use season::Season;
use season::words::text;

use crate::parts::{DemoDoor, Icon};
use crate::route::{Route, SeasonPart, ShedPart};
use crate::store::Store;

/// A step of setting up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Latitude and frost dates.
    Place,
    /// Mat, shelves, tunnel, outdoors.
    Spaces,
    /// What to sow.
    Varieties,
    /// Stems wanted.
    Targets,
    /// A plan that was accepted.
    Plan,
}

impl Step {
    /// All of them in order.
    pub const ALL: [Self; 5] = [
        Self::Place,
        Self::Spaces,
        Self::Varieties,
        Self::Targets,
        Self::Plan,
    ];

    /// Whether it is done.
    pub fn is_done(self, season: &Season) -> bool {
        match self {
            Self::Place => season.place().is_some_and(|place| {
                place.latitude.is_some()
                    && place.last_frost.is_some()
                    && place.first_frost.is_some()
            }),
            Self::Spaces => season
                .spaces
                .values()
                .any(|s| !s.retired && s.holds_trays()),
            Self::Varieties => season.varieties.values().any(|v| !v.retired),
            Self::Targets => season.targets.values().any(|t| !t.retired),
            Self::Plan => season.planned.values().any(|p| !p.retired),
        }
    }

    fn key(self) -> (&'static str, &'static str) {
        match self {
            Self::Place => ("start.place", "start.place.why"),
            Self::Spaces => ("start.spaces", "start.spaces.why"),
            Self::Varieties => ("start.varieties", "start.varieties.why"),
            Self::Targets => ("start.targets", "start.targets.why"),
            Self::Plan => ("start.plan", "start.plan.why"),
        }
    }

    fn route(self) -> Route {
        match self {
            Self::Place => Route::Shed(ShedPart::Place),
            Self::Spaces => Route::Shed(ShedPart::Spaces),
            Self::Varieties => Route::Shed(ShedPart::Varieties),
            Self::Targets => Route::Season(SeasonPart::Targets),
            Self::Plan => Route::Season(SeasonPart::Plan),
        }
    }
}

/// Whether something was sown, planted or planned yet.
pub fn has_begun(season: &Season) -> bool {
    !season.sowings.is_empty()
        || !season.plantings.is_empty()
        || season.planned.values().any(|planned| !planned.retired)
}

/// The steps to a first plan, those that are done ticked.
#[component]
pub(super) fn Start() -> impl IntoView {
    let store = Store::here();
    view! {
        <p class="lead">{text("start.lead")}</p>
        {move || {
            let season = store.season();
            let next = Step::ALL.into_iter().find(|step| !step.is_done(&season));
            let lines = Step::ALL
                .into_iter()
                .map(|step| {
                    view! { <Line step done=step.is_done(&season) next=next == Some(step) /> }
                })
                .collect_view();
            view! { <ol class="contents">{lines}</ol> }
        }}
        <DemoDoor />
    }
}

#[component]
fn Line(step: Step, done: bool, next: bool) -> impl IntoView {
    let (name, why) = step.key();
    let icon = if done { "tick" } else { "chevron" };
    view! {
        <li>
            <a
                class="contents__link"
                href=step.route().href()
                aria-current=next.then_some("step")
            >
                <span>
                    <span class="contents__name">{text(name)}</span>
                    <span class="contents__note">
                        {text(if done { "start.done" } else { why })}
                    </span>
                </span>
                <Icon name=icon />
            </a>
        </li>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::fact::*;
    use season::ids::*;
    use season::{Fact, Log};

    fn season(facts: Vec<Fact>) -> Season {
        let device = DeviceId::new("d").unwrap();
        let mut log = Log::new();
        for (n, fact) in facts.into_iter().enumerate() {
            let entry = log
                .draft(&device, 1_800_000_000_000, n as u128, fact)
                .unwrap();
            log.insert(entry);
        }
        Season::of(&log)
    }

    #[test]
    fn steps_are_done_one_by_one() {
        let empty = season(vec![]);
        assert!(Step::ALL.iter().all(|step| !step.is_done(&empty)));
        assert!(!has_begun(&empty));
        let cooler = SpaceFact {
            what: Some(SpaceKind::Cooler),
            name: Some("Cooler".into()),
            ..SpaceFact::new(SpaceId::new("c").unwrap())
        };
        let mat = SpaceFact {
            of: SpaceId::new("m").unwrap(),
            what: Some(SpaceKind::Mat),
            ..cooler.clone()
        };
        let only_cooler = season(vec![cooler.clone().into()]);
        assert!(!Step::Spaces.is_done(&only_cooler), "trays need a space");
        assert!(Step::Spaces.is_done(&season(vec![cooler.into(), mat.into()])));
        let planned = PlannedFact::new(PlannedId::new("p").unwrap());
        let begun = season(vec![planned.into()]);
        assert!(has_begun(&begun) && Step::Plan.is_done(&begun));
    }
}
