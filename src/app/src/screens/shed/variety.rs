//! One variety: crop, name, colour, group, role; its seed lots and its culture figures.

use culture::Crop;
use leptos::prelude::*;
use season::fact::{Role, VarietyFact};
use season::ids::VarietyId;
use season::limits::{PACKET_PRICES, SEEDS_PER_PACKET};
use season::seed::money;
use season::state::Variety;
use season::words::{Say, text};

use super::clean::{changed, changed_if_any};
use super::crop_search::CropSearch;
use super::figures::Figures;
use super::lots::Lots;
use super::retire::Retire;
use super::{Missing, back_to};
use crate::browser::{clock, page, random};
use crate::parts::typed::show_first_wrong;
use crate::parts::{
    Choice, Frame, NumberField, Picked, SaveButton, SaveProblem, Saver, SelectField, TextField,
    Typed, Words, read,
};
use crate::route::{Area, Route, ShedPart, Which};
use crate::store::Store;

#[derive(Clone, Copy)]
struct VarietyForm {
    name: Typed,
    colour: Typed,
    group: Typed,
    role: Typed,
    packet_seeds: Typed,
    packet_price: Typed,
}

impl VarietyForm {
    fn new(crop: &Crop, variety: Option<&Variety>) -> Self {
        let role = variety.and_then(|v| v.role).or_else(|| usual_role(crop));
        let group = variety.and_then(|v| v.group);
        let seeds = variety.and_then(|v| v.packet_seeds);
        let price = variety.and_then(|v| v.packet_price);
        Self {
            name: Typed::new(variety.map(|v| v.name.clone()).unwrap_or_default()),
            colour: Typed::new(variety.map(|v| v.colour.clone()).unwrap_or_default()),
            group: Typed::new(group.unwrap_or(0).to_string()),
            role: Typed::new(role.map_or("", Role::word)),
            packet_seeds: Typed::new(seeds.map(|n| n.to_string()).unwrap_or_default()),
            packet_price: Typed::new(price.map(money).unwrap_or_default()),
        }
    }

    /// What to record; `None` when a field is wrong.
    fn read(self, crop: &Crop, old: Option<&Variety>) -> Option<VarietyFact> {
        let name = self.name.read(read::name);
        let colour = self.colour.read(read::name_or_none);
        let packet_seeds = self
            .packet_seeds
            .read_if_any(|text| read::count(text, SEEDS_PER_PACKET.range()));
        let price_before = old.and_then(|v| v.packet_price);
        let packet_price = self.packet_price.read_if_any(|text| match price_before {
            // What was shown rounded and not touched stays as it was.
            Some(before) if money(before) == text.trim() => Ok(before),
            _ => read::decimal(text, PACKET_PRICES.range()),
        });
        let group: u8 = self.group.text_now().parse().unwrap_or(0);
        let old_group = old.map(|v| v.group.unwrap_or(0));
        let role = Role::of_word(&self.role.text_now());
        // The crop's own first role needs no saying, unless another one was said before.
        let said = old.and_then(|v| v.role).or_else(|| usual_role(crop));
        Some(VarietyFact {
            crop: changed(crop.id().to_string(), old.map(|v| &v.crop)),
            name: changed(name?, old.map(|v| &v.name)),
            colour: changed(colour?, old.map(|v| &v.colour).or(Some(&String::new()))),
            group: changed(group, old_group.or(Some(0)).as_ref()),
            role: changed_if_any(role, said.as_ref()),
            packet_seeds: changed_if_any(packet_seeds?, old.and_then(|v| v.packet_seeds.as_ref())),
            packet_price: changed_if_any(packet_price?, price_before.as_ref()),
            ..VarietyFact::new(old.map_or_else(
                || VarietyId::mint(clock::now_ms(), random::bits()),
                |v| v.id.clone(),
            ))
        })
    }
}

fn usual_role(crop: &Crop) -> Option<Role> {
    crop.roles().first().and_then(|r| Role::of_word(r.word()))
}

#[component]
pub(super) fn NewVarietyScreen() -> impl IntoView {
    let sought = Typed::new("");
    let crop = RwSignal::new(None::<&'static Crop>);
    let body = move || match crop.get() {
        None => {
            let on_pick = Callback::new(move |picked| crop.set(Some(picked)));
            view! { <CropSearch typed=sought on_pick /> }.into_any()
        }
        Some(picked) => view! {
            <p class="lead">
                {capital(picked.name())} " " <span class="soft">{picked.botanical()}</span>
            </p>
            <div class="actions">
                <button class="btn btn--quiet" type="button" on:click=move |_| crop.set(None)>
                    {text("variety.other_crop")}
                </button>
            </div>
            <Form crop=picked id=None />
        }
        .into_any(),
    };
    view! {
        <Frame title="variety.new" area=Area::Shed back=back_to(ShedPart::Varieties)>
            {body}
        </Frame>
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

#[component]
pub(super) fn VarietyScreen(id: VarietyId) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let Some(variety) = season.varieties.get(&id) else {
        return view! { <Missing back=ShedPart::Varieties /> }.into_any();
    };
    let Some(crop) = store.reference().crop(&variety.crop) else {
        let why = Say::new("variety.no_crop").with("crop", variety.crop.clone());
        let why = Words::from(why);
        return view! {
            <Frame
                title=variety.name.clone()
                area=Area::Shed
                back=back_to(ShedPart::Varieties)
            >
                <p>{move || why.get()}</p>
            </Frame>
        }
        .into_any();
    };
    let name = variety.name.clone();
    let (of, of_lots, of_figures) = (id.clone(), id.clone(), id.clone());
    let retired = {
        let id = id.clone();
        Signal::derive(move || store.season().varieties.get(&id).is_some_and(|v| v.retired))
    };
    let retire = Callback::new(move |retired: bool| {
        VarietyFact {
            retired: Some(retired),
            ..VarietyFact::new(of.clone())
        }
        .into()
    });
    view! {
        <Frame title=name area=Area::Shed back=back_to(ShedPart::Varieties)>
            <div class="spread">
                <div class="leaf">
                    <p class="lead">
                        {capital(crop.name())} " " <span class="soft">{crop.botanical()}</span>
                    </p>
                    <Form crop id=Some(id) />
                    <Lots variety=of_lots />
                    <Retire retired fact=retire />
                </div>
                <div class="leaf">
                    <Figures variety=of_figures />
                </div>
            </div>
        </Frame>
    }
    .into_any()
}

#[component]
fn Form(crop: &'static Crop, id: Option<VarietyId>) -> impl IntoView {
    let store = Store::here();
    let is_new = id.is_none();
    let old = move || {
        let season = store.season_now();
        let id = id.as_ref()?;
        season.varieties.get(id).cloned()
    };
    let form = VarietyForm::new(crop, old().as_ref());
    let saver = Saver::new();
    let save = Callback::new(move |()| {
        let Some(fact) = form.read(crop, old().as_ref()) else {
            return show_first_wrong();
        };
        let of = fact.of.clone();
        let fields = [
            ("name", form.name),
            ("group", form.group),
            ("packet_seeds", form.packet_seeds),
            ("packet_price", form.packet_price),
        ];
        saver.check_and_save(vec![fact.into()], &fields, move |_| {
            let next = if is_new {
                // Seed and figures of the new one come next.
                ShedPart::Variety(Which::This(of))
            } else {
                ShedPart::Varieties
            };
            page::go(&Route::Shed(next).href());
        });
    });
    let groups = (crop.bloom_groups() > 0).then(|| {
        let known = (1..=crop.bloom_groups()).map(|n| Picked::new(n.to_string(), n.to_string()));
        let options = known
            .chain([Picked::new("0", "variety.group.unknown")])
            .collect::<Vec<_>>();
        view! {
            <Choice
                typed=form.group
                label="variety.group"
                hint="variety.group.hint"
                options
            />
        }
    });
    let roles = Signal::derive(|| {
        Role::ALL
            .iter()
            .map(|role| Picked::new(role.word(), role.key()))
            .collect::<Vec<_>>()
    });
    view! {
        <TextField typed=form.name label="variety.name" hint="variety.name.hint" />
        <TextField typed=form.colour label="variety.colour" hint="variety.colour.hint" />
        {groups}
        <SelectField typed=form.role label="variety.role" options=roles />
        <NumberField
            typed=form.packet_seeds
            label="variety.packet_seeds"
            hint="variety.packet_seeds.hint"
        />
        <NumberField
            typed=form.packet_price
            label="variety.packet_price"
            hint="variety.packet_price.hint"
        />
        <SaveProblem saver />
        <div class="actions">
            <SaveButton saver label="variety.save" on_tap=save />
        </div>
    }
}
