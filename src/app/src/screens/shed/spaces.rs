//! All spaces in walking order, with their beds.

use leptos::prelude::*;
use season::fact::SpaceFact;
use season::ids::SpaceId;
use season::state::{Bed, Season, Space};
use season::words::{Arg, Say, text};

use super::back_to;
use crate::parts::words::space_icon;
use crate::parts::{Contents, ContentsLine, Frame, Icon, SaveProblem, Saver, Section, Words};
use crate::route::{Area, Route, ShedPart, Which};
use crate::store::Store;

#[component]
pub(super) fn SpacesScreen() -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let in_use = move || {
        let season = store.season();
        let ids: Vec<SpaceId> = season
            .spaces_in_order()
            .into_iter()
            .map(|s| s.id.clone())
            .collect();
        let last = ids.len().saturating_sub(1);
        ids.into_iter()
            .enumerate()
            .map(|(n, id)| view! { <OneSpace id saver first=n == 0 last=n == last /> })
            .collect_view()
    };
    let is_empty = move || store.season().spaces_in_order().is_empty();
    view! {
        <Frame title="shed.spaces" area=Area::Shed back=back_to(ShedPart::Door)>
            <p class="section__lead">{text("spaces.lead")}</p>
            <SaveProblem saver />
            {in_use}
            {move || is_empty().then(|| view! { <p>{text("spaces.none")}</p> })}
            <div class="actions section">
                <a
                    class="btn btn--primary btn--great"
                    href=Route::Shed(ShedPart::Space(Which::New)).href()
                >
                    <Icon name="plus" />
                    {text("spaces.add")}
                </a>
            </div>
            <Retired />
        </Frame>
    }
}

/// A space's room or beds, in a few words.
pub(super) fn told(season: &Season, space: &Space) -> Say {
    let kind = Arg::Key(space.what.key());
    if space.holds_beds() {
        return Say::new("spaces.with_beds")
            .with("kind", kind)
            .with("n", season.beds_of(&space.id).len());
    }
    let key = if space.holds_trays() {
        "spaces.with_trays"
    } else {
        "spaces.with_buckets"
    };
    Say::new(key).with("kind", kind).with_some("n", space.room)
}

fn bed_told(bed: &Bed) -> Option<Say> {
    let length = bed.length_m?;
    let (from, to) = bed.use_span().unzip();
    Some(
        Say::new("spaces.bed_size")
            .with("length", Arg::Length(length))
            .with_some("width", bed.width_m.map(Arg::Length))
            .with_some("from", from)
            .with_some("to", to),
    )
}

#[component]
fn OneSpace(id: SpaceId, saver: Saver, first: bool, last: bool) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let space = season.spaces.get(&id)?.clone();
    let beds = season.beds_of(&id);
    let lines = beds
        .into_iter()
        .map(|bed| {
            let to = Route::Shed(ShedPart::Bed(bed.id.clone()));
            let note = bed_told(bed).unwrap_or_else(|| Say::new("spaces.no_size"));
            view! { <ContentsLine to name=bed.name.clone() note=note /> }
        })
        .collect_view();
    let (up, down) = (id.clone(), id.clone());
    let step = move |id: &SpaceId, by: isize| {
        let facts = walked(&store.season_now(), id, by);
        if !facts.is_empty() {
            saver.save(facts.into_iter().map(Into::into).collect(), |_| ());
        }
    };
    let label = |key| Say::new(key).with("name", space.name.clone());
    let written = move |say: Say| say.write(store.manner_now());
    let (up_label, down_label) = (
        written(label("spaces.earlier")),
        written(label("spaces.later")),
    );
    let note = Words::from(told(&season, &space));
    Some(view! {
        <section class="section">
            <div class="section__head">
                <h2>{space.name.clone()}</h2>
                <p class="section__tally">{move || note.get()}</p>
            </div>
            <Contents>{lines}</Contents>
            <div class="actions">
                <a
                    class="btn"
                    href=Route::Shed(ShedPart::Space(Which::This(id.clone()))).href()
                >
                    <Icon name=space_icon(space.what) />
                    {text("spaces.change")}
                </a>
                {space
                    .holds_beds()
                    .then(|| {
                        view! {
                            <a class="btn" href=Route::Shed(ShedPart::NewBed(id.clone())).href()>
                                <Icon name="plus" />
                                {text("spaces.add_bed")}
                            </a>
                        }
                    })}
                {(!first)
                    .then(|| {
                        view! {
                            <button
                                class="btn btn--quiet"
                                type="button"
                                aria-label=up_label
                                on:click=move |_| step(&up, -1)
                            >
                                {text("spaces.earlier.short")}
                            </button>
                        }
                    })}
                {(!last)
                    .then(|| {
                        view! {
                            <button
                                class="btn btn--quiet"
                                type="button"
                                aria-label=down_label
                                on:click=move |_| step(&down, 1)
                            >
                                {text("spaces.later.short")}
                            </button>
                        }
                    })}
            </div>
        </section>
    })
}

/// The entries that move a space in the daily walk: the whole walk is numbered anew, and what changed is recorded.
fn walked(season: &Season, id: &SpaceId, by: isize) -> Vec<SpaceFact> {
    let mut order = season.spaces_in_order();
    let Some(from) = order.iter().position(|space| space.id == *id) else {
        return Vec::new();
    };
    let Some(to) = from.checked_add_signed(by).filter(|to| *to < order.len()) else {
        return Vec::new();
    };
    order.swap(from, to);
    order
        .into_iter()
        .zip(1i32..)
        .filter(|(space, walk)| space.walk != *walk)
        .map(|(space, walk)| SpaceFact {
            walk: Some(walk),
            ..SpaceFact::new(space.id.clone())
        })
        .collect()
}

#[component]
fn Retired() -> impl IntoView {
    let store = Store::here();
    move || {
        let season = store.season();
        let spaces = season.spaces.values().filter(|s| s.retired).map(|s| {
            let to = ShedPart::Space(Which::This(s.id.clone()));
            (s.name.clone(), Route::Shed(to))
        });
        let beds = season
            .beds
            .values()
            .filter(|b| b.retired)
            .map(|b| (b.name.clone(), Route::Shed(ShedPart::Bed(b.id.clone()))));
        let lines: Vec<_> = spaces
            .chain(beds)
            .map(|(name, to)| view! { <ContentsLine to name=name /> })
            .collect();
        (!lines.is_empty()).then(|| {
            view! {
                <Section head="shed.retired">
                    <Contents>{lines}</Contents>
                </Section>
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::Log;
    use season::fact::SpaceKind;
    use season::ids::DeviceId;

    fn season(walks: &[(&str, i32)]) -> Season {
        let device = DeviceId::new("d").unwrap();
        let mut log = Log::new();
        for (n, (id, walk)) in walks.iter().enumerate() {
            let fact = SpaceFact {
                what: Some(SpaceKind::Shelf),
                name: Some((*id).into()),
                walk: Some(*walk),
                ..SpaceFact::new(SpaceId::new(*id).unwrap())
            };
            let entry = log.draft(&device, 1_800_000_000_000, n as u128, fact.into());
            log.insert(entry.unwrap());
        }
        Season::of(&log)
    }

    fn moved(walks: &[(&str, i32)], id: &str, by: isize) -> Vec<(String, i32)> {
        walked(&season(walks), &SpaceId::new(id).unwrap(), by)
            .into_iter()
            .map(|f| (f.of.to_string(), f.walk.unwrap_or(-1)))
            .collect()
    }

    #[test]
    fn two_neighbours_change_places() {
        let walks = [("a", 1), ("b", 2), ("c", 3)];
        assert_eq!(
            moved(&walks, "b", -1),
            [("b".to_string(), 1), ("a".to_string(), 2)]
        );
        assert_eq!(moved(&walks, "a", -1), []);
        assert_eq!(moved(&walks, "c", 1), []);
        assert_eq!(moved(&walks, "x", 1), []);
    }

    #[test]
    fn spaces_that_were_never_ordered_get_an_order_at_the_first_move() {
        let walks = [("a", 0), ("b", 0), ("c", 0)];
        assert_eq!(
            moved(&walks, "c", -1),
            [
                ("a".to_string(), 1),
                ("c".to_string(), 2),
                ("b".to_string(), 3)
            ]
        );
    }
}
