//! Finding a crop of the reference by any of its names.

use culture::{Crop, Reference};
use leptos::prelude::*;
use season::words::{Say, text};

use crate::parts::{TextField, Typed, Words};
use crate::store::Store;

/// Crops that are shown at once: about a screen.
const SHOWN_MAX: usize = 8;

/// Crops that a text finds, best first: by the start of a name, then by the start of a word, then by any part of a name.
pub(super) fn find<'a>(reference: &'a Reference, typed: &str) -> Vec<&'a Crop> {
    let sought = fold(typed);
    if sought.is_empty() {
        return Vec::new();
    }
    let mut found: Vec<(u8, &Crop)> = reference
        .crops()
        .iter()
        .filter_map(|crop| Some((rank(crop, &sought)?, crop)))
        .collect();
    // The reference is in order of names, which stays within a rank.
    found.sort_by_key(|(rank, _)| *rank);
    found.into_iter().map(|(_, crop)| crop).collect()
}

fn rank(crop: &Crop, sought: &str) -> Option<u8> {
    let names = [crop.name(), crop.botanical()]
        .into_iter()
        .chain(crop.also().iter().map(String::as_str));
    names
        .filter_map(|name| {
            let name = fold(name);
            if name.starts_with(sought) {
                Some(0)
            } else if name.split([' ', '-']).any(|word| word.starts_with(sought)) {
                Some(1)
            } else {
                name.contains(sought).then_some(2)
            }
        })
        .min()
}

fn fold(text: &str) -> String {
    text.trim().to_lowercase()
}

/// A field to type a crop's name into, and the crops it finds to choose from.
#[component]
pub(super) fn CropSearch(
    /// What is typed.
    typed: Typed,
    /// Called with the crop that is chosen.
    on_pick: Callback<&'static Crop>,
) -> impl IntoView {
    let store = Store::here();
    let found = move || find(store.reference(), &typed.text());
    let lines = move || {
        found()
            .into_iter()
            .take(SHOWN_MAX)
            .map(|crop| {
                view! {
                    <li>
                        <button
                            class="contents__link contents__link--deed"
                            type="button"
                            on:click=move |_| on_pick.run(crop)
                        >
                            <span>
                                <span class="contents__name">{crop.name()}</span>
                                <span class="contents__note">{names(crop)}</span>
                            </span>
                        </button>
                    </li>
                }
            })
            .collect_view()
    };
    let tally = move || {
        if typed.text().trim().is_empty() {
            return String::new();
        }
        let n = found().len();
        let key = if n > SHOWN_MAX {
            "crop.found_more"
        } else {
            "crop.found"
        };
        Words::from(Say::new(key).with("n", n)).get()
    };
    view! {
        <TextField typed label="crop.search" hint="crop.search.hint" />
        <p class="soft small" aria-live="polite">
            {tally}
        </p>
        <ul class="contents" aria-label=text("crop.list")>
            {lines}
        </ul>
    }
}

/// Its botanical and other names.
fn names(crop: &Crop) -> String {
    let mut names = vec![crop.botanical().to_owned()];
    names.extend(crop.also().iter().cloned());
    names.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn first(typed: &str) -> Option<String> {
        let reference = Reference::builtin().unwrap();
        find(&reference, typed).first().map(|c| c.id().to_string())
    }

    #[test]
    fn a_crop_is_found_by_common_and_botanical_name() {
        assert_eq!(first("snap").as_deref(), Some("antirrhinum"));
        assert_eq!(first(" Antirrh ").as_deref(), Some("antirrhinum"));
        assert_eq!(first("eustoma").as_deref(), Some("eustoma"));
        assert_eq!(first("millefolium").as_deref(), Some("achillea"));
        assert_eq!(first("tractor"), None);
        assert_eq!(first("  "), None);
    }

    #[test]
    fn every_crop_is_first_or_near_it_by_its_own_name() {
        let reference = Reference::builtin().unwrap();
        for crop in reference.crops() {
            let found = find(&reference, crop.name());
            let at = found.iter().position(|c| c.id() == crop.id());
            assert!(at.is_some_and(|at| at < SHOWN_MAX), "{}", crop.name());
        }
    }
}
