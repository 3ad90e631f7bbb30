//! All varieties.

use leptos::prelude::*;
use season::state::Variety;
use season::words::{Arg, Say, text};

use super::back_to;
use crate::parts::{Contents, ContentsLine, Frame, Icon, Section};
use crate::route::{Area, Route, ShedPart, Which};
use crate::store::Store;

#[component]
pub(super) fn VarietiesScreen() -> impl IntoView {
    let store = Store::here();
    let lines = move |retired: bool| {
        let season = store.season();
        let mut varieties: Vec<&Variety> = season
            .varieties
            .values()
            .filter(|v| v.retired == retired)
            .collect();
        varieties.sort_by(|a, b| (&a.crop, &a.name, &a.id).cmp(&(&b.crop, &b.name, &b.id)));
        varieties
            .into_iter()
            .map(|variety| {
                let to = Route::Shed(ShedPart::Variety(Which::This(variety.id.clone())));
                let note = told(store, variety);
                view! { <ContentsLine to name=variety.name.clone() note=note /> }
            })
            .collect::<Vec<_>>()
    };
    let is_empty = move || store.season().varieties.values().all(|v| v.retired);
    view! {
        <Frame title="shed.varieties" area=Area::Shed back=back_to(ShedPart::Door)>
            <p class="section__lead">{text("varieties.lead")}</p>
            {move || is_empty().then(|| view! { <p>{text("varieties.none")}</p> })}
            <Contents>{move || lines(false)}</Contents>
            <div class="actions section">
                <a
                    class="btn btn--primary btn--great"
                    href=Route::Shed(ShedPart::Variety(Which::New)).href()
                >
                    <Icon name="plus" />
                    {text("varieties.add")}
                </a>
            </div>
            {move || {
                let lines = lines(true);
                (!lines.is_empty())
                    .then(|| {
                        view! {
                            <Section head="shed.retired">
                                <Contents>{lines}</Contents>
                            </Section>
                        }
                    })
            }}
        </Frame>
    }
}

/// A variety's crop, colour, group and seed in a few words.
fn told(store: Store, variety: &Variety) -> Say {
    let season = store.season_now();
    let crop = store.reference().crop(&variety.crop);
    let seeds: u32 = season
        .lots
        .values()
        .filter(|lot| !lot.retired && lot.variety.as_ref() == Some(&variety.id))
        .filter_map(|lot| lot.seeds)
        .fold(0, u32::saturating_add);
    Say::new("varieties.note")
        .with(
            "crop",
            crop.map_or_else(|| variety.crop.clone(), |crop| crop.name().to_owned()),
        )
        .with_some(
            "colour",
            Some(&variety.colour).filter(|c| !c.is_empty()).cloned(),
        )
        .with_some("group", variety.group)
        .with_some("seeds", (seeds > 0).then(|| Arg::Number(seeds.into())))
}
