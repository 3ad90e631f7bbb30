//! Stems wanted, by target.

use agronomy::iso_week::IsoWeek;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::ids::TargetId;
use season::state::Target;
use season::words::{Arg, Say, text};

use super::last_call::FoldedCalls;
use super::supply::NoTargets;
use super::weeks::span;
use crate::forms::names;
use crate::parts::{Back, Contents, ContentsLine, Frame, Section};
use crate::route::{Area, Route, SeasonPart, Which};
use crate::screens::wanted;
use crate::store::Store;

/// What a target asks for, apart from its wish.
fn note(almanac: &Almanac<'_>, target: &Target) -> Say {
    let weeks = target.from.zip(target.to).map(|(from, to)| span(from, to));
    Say::new("targets.note")
        .with("n", target.stems)
        .with_some("weeks", weeks)
        .with_some("space", names::space_arg(almanac, target.space.as_ref()))
        .with("chance", Arg::Share(target.chance))
}

#[derive(Clone, PartialEq)]
struct Listed {
    id: TargetId,
    to: Route,
    name: Say,
    note: Say,
}

/// Targets that are wanted, and those that are past or called off.
fn listed(store: Store) -> (Vec<Listed>, Vec<Listed>) {
    let now = IsoWeek::of(store.today());
    store.with_almanac(|almanac| {
        let mut targets: Vec<&Target> = almanac.season().targets.values().collect();
        targets.sort_by_key(|target| (target.from, target.to, target.id.clone()));
        let of = |target: &Target| Listed {
            id: target.id.clone(),
            to: Route::Season(SeasonPart::Target(Which::This(target.id.clone()))),
            name: wanted::say(almanac, &target.wanted),
            note: note(almanac, target),
        };
        let over = |target: &Target| target.retired || target.to.is_some_and(|to| to < now);
        let (gone, wanted): (Vec<&Target>, Vec<&Target>) =
            targets.into_iter().partition(|target| over(target));
        (
            wanted.into_iter().map(of).collect(),
            gone.into_iter().map(of).collect(),
        )
    })
}

fn paste() -> String {
    Route::Season(SeasonPart::PasteTargets).href()
}

/// All targets.
#[component]
pub fn TargetsScreen() -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| listed(store));
    let lines = |listed: Vec<Listed>| {
        listed
            .into_iter()
            .map(|one| view! { <ContentsLine to=one.to name=one.name note=one.note /> })
            .collect_view()
    };
    view! {
        <Frame title="targets.title" area=Area::Season back=Back::to_area(Area::Season)>
            {move || {
                let (wanted, gone) = all.get();
                if wanted.is_empty() && gone.is_empty() {
                    return view! {
                        <NoTargets />
                        <div class="actions">
                            <a class="btn" href=paste()>
                                {text("paste.open")}
                            </a>
                        </div>
                    }
                        .into_any();
                }
                let tally = Say::new("targets.tally").with("n", wanted.len());
                let new = Route::Season(SeasonPart::Target(Which::New));
                let past = (!gone.is_empty())
                    .then(|| {
                        view! {
                            <Section head="targets.gone">
                                <Contents>{lines(gone)}</Contents>
                            </Section>
                        }
                    });
                let calls = wanted
                    .iter()
                    .map(|one| {
                        let name = one.name.write(store.manner());
                        view! { <FoldedCalls id=one.id.clone() name /> }
                    })
                    .collect_view();
                let last = (!wanted.is_empty())
                    .then(|| {
                        view! {
                            <Section head="last.head">
                                <p class="section__lead">{text("last.lead")}</p>
                                {calls}
                            </Section>
                        }
                    });
                view! {
                    <div class="actions">
                        <a class="btn btn--primary btn--great" href=new.href()>
                            {text("targets.new")}
                        </a>
                        <a class="btn" href=paste()>
                            {text("paste.open")}
                        </a>
                        <a class="btn" href=Route::Season(SeasonPart::Plan).href()>
                            {text("targets.to_plan")}
                        </a>
                    </div>
                    <Section head="targets.wanted" tally=tally>
                        <Contents>{lines(wanted)}</Contents>
                    </Section>
                    {last}
                    {past}
                }
                    .into_any()
            }}
        </Frame>
    }
}
