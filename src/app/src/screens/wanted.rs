//! What stems are wanted, in words and as fields: of targets, orders and recipes.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::fact::{Role, Wanted};
use season::ids::VarietyId;
use season::words::{Arg, Say};

use crate::forms::names;
use crate::parts::{Picked, SelectField, Typed};
use crate::store::Store;

/// A wish in words: "white spike".
pub fn say(almanac: &Almanac<'_>, wanted: &Wanted) -> Say {
    let role = wanted.role.map(|role| Arg::Key(role.key()));
    let crop = wanted.crop.as_ref().map(|id| {
        let crop = almanac.reference().crop(id);
        Arg::Text(crop.map_or_else(|| id.clone(), |crop| crop.name().to_owned()))
    });
    let colour = wanted.colour.clone().filter(|colour| !colour.is_empty());
    let named = match (&wanted.variety, crop, role) {
        (Some(variety), _, _) => {
            return Say::new("wanted.variety").with("what", names::variety(almanac, variety));
        }
        (None, Some(crop), role) => (Some(crop), role),
        (None, None, role) => (role, None),
    };
    let open = wanted.crop.is_none() && wanted.role.is_some() && colour.is_none();
    Say::new(if open { "wanted.role" } else { "wanted.words" })
        .with_some("colour", colour)
        .with("what", named.0.unwrap_or(Arg::Key("wanted.any")))
        .with_some("role", named.1)
}

/// The fields of a wish.
#[derive(Debug, Clone, Copy)]
pub struct WantedTyped {
    /// Role, crop or variety; see [`value_of`].
    what: Typed,
    /// Colour; empty for any.
    colour: Typed,
    /// What it began with; what the fields don't ask stays.
    base: StoredValue<Wanted>,
}

impl WantedTyped {
    /// Fields that begin with a wish.
    pub fn new(wanted: &Wanted) -> Self {
        Self {
            what: Typed::new(value_of(wanted)),
            colour: Typed::new(wanted.colour.clone().unwrap_or_default()),
            base: StoredValue::new(wanted.clone()),
        }
    }

    /// The wish, unless nothing was chosen: then that is said at the field.
    pub fn read(self) -> Option<Wanted> {
        let base = self.base.get_value();
        let wanted = self.what.read(|text| {
            if text == value_of(&base) && !text.is_empty() {
                return Ok(base);
            }
            wanted_of(text).ok_or_else(|| Say::new("wanted.missing"))
        })?;
        let colour = self.colour.text_now().trim().to_owned();
        let open = wanted.variety.is_none() && !colour.is_empty();
        Some(Wanted {
            colour: open.then_some(colour),
            ..wanted
        })
    }

    /// Whether a variety was chosen: then its colour is known.
    fn is_variety(self) -> bool {
        self.what.text().starts_with(VARIETY)
    }
}

const ROLE: &str = "role:";
const CROP: &str = "crop:";
const VARIETY: &str = "variety:";

/// The value of a wish in its field, colour apart.
fn value_of(wanted: &Wanted) -> String {
    match wanted {
        Wanted {
            variety: Some(variety),
            ..
        } => format!("{VARIETY}{variety}"),
        Wanted {
            crop: Some(crop), ..
        } => format!("{CROP}{crop}"),
        Wanted {
            role: Some(role), ..
        } => format!("{ROLE}{}", role.word()),
        _ => String::new(),
    }
}

fn wanted_of(value: &str) -> Option<Wanted> {
    let none = Wanted::default();
    if let Some(id) = value.strip_prefix(VARIETY) {
        let variety = Some(VarietyId::new(id).ok()?);
        return Some(Wanted { variety, ..none });
    }
    if let Some(crop) = value.strip_prefix(CROP) {
        let crop = Some(crop.to_owned()).filter(|crop| !crop.is_empty())?;
        return Some(Wanted {
            crop: Some(crop),
            ..none
        });
    }
    let role = Some(Role::of_word(value.strip_prefix(ROLE)?)?);
    Some(Wanted { role, ..none })
}

/// What can be wished for: roles, the crops of the grower's varieties, the varieties.
fn options(almanac: &Almanac<'_>, chosen: &str) -> Vec<Picked> {
    let season = almanac.season();
    let varieties = season.varieties_in_order();
    let mut options = vec![Picked::new("", "wanted.choose")];
    for role in Role::ALL {
        let words = Say::new("wanted.role_first").with("what", Arg::Key(role.key()));
        options.push(Picked::new(format!("{ROLE}{}", role.word()), words));
    }
    let mut crops: Vec<(&str, &str)> = varieties
        .iter()
        .filter_map(|variety| {
            let crop = almanac.reference().crop(&variety.crop)?;
            Some((crop.name(), variety.crop.as_str()))
        })
        .collect();
    crops.sort_unstable();
    crops.dedup();
    for (name, id) in crops {
        let words = Say::new("wanted.crop").with("what", name);
        options.push(Picked::new(format!("{CROP}{id}"), words));
    }
    for variety in varieties {
        let words = names::variety(almanac, &variety.id);
        options.push(Picked::new(format!("{VARIETY}{}", variety.id), words));
    }
    if options.iter().all(|option| option.value != chosen)
        && let Some(wanted) = wanted_of(chosen)
    {
        options.push(Picked::new(chosen, say(almanac, &wanted)));
    }
    options
}

/// The colours of the grower's varieties, and any.
fn colours(almanac: &Almanac<'_>, chosen: &str) -> Vec<Picked> {
    let mut colours: Vec<String> = almanac
        .season()
        .varieties_in_order()
        .iter()
        .map(|variety| variety.colour.trim().to_owned())
        .chain([chosen.trim().to_owned()])
        .filter(|colour| !colour.is_empty())
        .collect();
    colours.sort();
    colours.dedup();
    let any = Picked::new("", "wanted.any_colour");
    core::iter::once(any)
        .chain(colours.into_iter().map(|c| Picked::new(c.clone(), c)))
        .collect()
}

/// Fields for a wish.
#[component]
pub fn WantedFields(
    /// What is wished for.
    typed: WantedTyped,
) -> impl IntoView {
    let store = Store::here();
    let what = Signal::derive(move || {
        let chosen = typed.what.text();
        store.with_almanac(|almanac| options(almanac, &chosen))
    });
    let colour = Signal::derive(move || {
        let chosen = typed.colour.text();
        store.with_almanac(|almanac| colours(almanac, &chosen))
    });
    view! {
        <SelectField typed=typed.what label="wanted.what" options=what />
        {move || {
            (!typed.is_variety())
                .then(|| {
                    view! { <SelectField typed=typed.colour label="wanted.colour" options=colour /> }
                })
        }}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wish_reads_back_from_its_field() {
        let none = Wanted::default();
        let wishes = [
            Wanted {
                role: Some(Role::Airy),
                ..none.clone()
            },
            Wanted {
                crop: Some("antirrhinum".into()),
                ..none.clone()
            },
            Wanted {
                variety: VarietyId::new("v1").ok(),
                ..none.clone()
            },
        ];
        for wish in wishes {
            assert_eq!(wanted_of(&value_of(&wish)), Some(wish));
        }
        for odd in ["", "role:", "role:tall", "crop:", "variety:a b", "x"] {
            assert_eq!(wanted_of(odd), None, "{odd}");
        }
    }
}
