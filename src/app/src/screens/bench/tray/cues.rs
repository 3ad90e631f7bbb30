//! When this grower lifts the dome and takes the mat away from a crop: sources disagree, so the cues can be set.

use leptos::prelude::*;
use season::fact::{CropFact, Figures};
use season::ids::SowingId;
use season::words::{Say, text};

use crate::parts::{SaveButton, SaveProblem, Saver, Section, Stepper, Typed, read};
use crate::store::Store;

/// The crop's figures that are cues, with their labels.
const CUES: [(&str, &str); 2] = [
    ("dome_off_share", "cues.dome"),
    ("mat_off_share", "cues.mat"),
];

/// The crop's cues, to be set for all its trays or left to the reference.
#[component]
pub(super) fn CropCues(id: SowingId) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let variety = season.varieties.get(&season.sowings.get(&id)?.variety)?;
    let crop_id = variety.crop.clone();
    let reference = store.reference().crop(&crop_id)?;
    let own = season.crops.get(&crop_id);
    let fields: Vec<(&'static str, &'static str, Typed, Option<f64>)> = CUES
        .into_iter()
        .filter_map(|(name, label)| {
            let usual = reference.figure(name)?.typical;
            let mine = own.and_then(|figures| figures.get(name)).copied();
            let shown = (mine.unwrap_or(usual) * 100.0).round().to_string();
            Some((name, label, Typed::new(shown), Some(usual)))
        })
        .collect();
    if fields.is_empty() {
        return None;
    }
    let name = reference.name().to_owned();
    let saver = Saver::new();
    let save = {
        let (fields, crop_id) = (fields.clone(), crop_id.clone());
        move |()| {
            let mut figures = Figures::new();
            for (name, _, typed, usual) in &fields {
                let Some(share) = typed.read(|text| read::count(text, 1..=100)) else {
                    return;
                };
                let share = f64::from(share) / 100.0;
                // What the reference says too is left to it.
                let same = usual.is_some_and(|usual| (usual - share).abs() < 0.005);
                figures.insert((*name).to_owned(), (!same).then_some(share));
            }
            let fact = CropFact {
                figures,
                ..CropFact::new(crop_id.clone())
            };
            saver.save(vec![fact.into()], |_| {});
        }
    };
    let inputs = fields
        .into_iter()
        .map(|(_, label, typed, usual)| {
            let hint = usual.map(|usual| {
                Say::new("cues.usual").with("n", season::words::Arg::Share(usual))
            });
            view! { <Stepper typed label hint=hint.unwrap_or_else(|| Say::new("cues.none")) low=1 high=100 by=5 /> }
        })
        .collect_view();
    let head = Say::new("cues.head").with("crop", name);
    Some(view! {
        <Section head=head>
            <details class="fold">
                <summary class="fold__ask">{text("cues.show")}</summary>
                <p class="soft">{text("cues.text")}</p>
                {inputs}
                <SaveProblem saver />
                <div class="actions">
                    <SaveButton saver label="cues.save" on_tap=Callback::new(save) />
                </div>
            </details>
        </Section>
    })
}
