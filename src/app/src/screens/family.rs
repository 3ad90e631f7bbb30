//! The successions of a variety, told together: beside a planting and a tray.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::family::{Member, family};
use season::forecast::Source;
use season::ids::VarietyId;
use season::words::{Arg, Manner, Say};

use crate::forms::names;
use crate::parts::{Contents, ContentsLine, Section};
use crate::route::{Route, SeasonPart};
use crate::store::Store;

fn told(almanac: &Almanac<'_>, member: &Member, manner: Manner) -> (Route, String, String) {
    let space = names::space_arg(almanac, member.space.as_ref());
    let (to, key) = match &member.source {
        Source::Planting(id) => (Route::Planting(id.clone()), "family.planted"),
        Source::Sowing(id) => (Route::Tray(id.clone()), "family.sown"),
        Source::Planned(_) => (Route::Season(SeasonPart::Plan), "family.planned"),
    };
    let name = Say::new(key)
        .with("date", member.date)
        .with_some("space", space);
    let note = Say::new("family.note")
        .with_some("from", member.bloom.map(|bloom| bloom.p10))
        .with_some("to", member.bloom.map(|bloom| bloom.p90))
        .with_some("after", member.after_days.filter(|days| *days > 0))
        .with("n", Arg::Number(member.to_come.round() as i64));
    (to, name.write(manner), note.write(manner))
}

/// All of a variety in this season; nothing while there is only one.
#[component]
pub fn FamilyView(
    /// Which variety.
    variety: VarietyId,
) -> impl IntoView {
    let store = Store::here();
    let members = Memo::new(move |_| {
        let manner = store.manner();
        store.outlook().with(|outlook| {
            family(outlook, &variety)
                .iter()
                .map(|member| told(outlook.almanac(), member, manner))
                .collect::<Vec<_>>()
        })
    });
    move || {
        let members = members.get();
        (members.len() > 1).then(|| {
            let tally = Say::new("family.tally").with("n", members.len());
            let lines = members
                .into_iter()
                .map(|(to, name, note)| view! { <ContentsLine to name=name note=note /> })
                .collect_view();
            view! {
                <Section head="family.head" tally=tally>
                    <Contents>{lines}</Contents>
                </Section>
            }
        })
    }
}
