//! A variety's culture figures: each with its source, and the grower's own in its stead.

use culture::{Confidence, Crop, Range};
use leptos::ev::Event;
use leptos::prelude::*;
use season::fact::{CropFact, VarietyFact};
use season::ids::VarietyId;
use season::why::Basis;
use season::words::{Manner, Say, text};
use season::{Fact, Season};

use crate::parts::read::{self, Measure};
use crate::parts::typed::show_first_wrong;
use crate::parts::why::{BasisMark, Sources};
use crate::parts::words::{figure_label, is_shown, number};
use crate::parts::{
    Choice, NumberField, Picked, SaveButton, SaveProblem, Saver, Section, Typed, Words,
};
use crate::store::Store;

/// How a figure is shown and typed, by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shape {
    /// A quantity in the reader's units.
    Of(Measure),
    /// A share, shown in per cent.
    Share,
    /// As it is, with the key of its unit, if it has one.
    Plain(Option<&'static str>),
}

fn shape(name: &str) -> Shape {
    if let Some(measure) = Measure::of_name(name) {
        Shape::Of(measure)
    } else if name.ends_with("_share") || name.starts_with("marketable") {
        Shape::Share
    } else if name.ends_with("_pct") {
        Shape::Plain(Some("unit.percent"))
    } else if name.ends_with("_h") {
        Shape::Plain(Some("unit.hours"))
    } else if name.contains("days") {
        Shape::Plain(Some("unit.days"))
    } else if name.contains("weeks") {
        Shape::Plain(Some("unit.weeks"))
    } else {
        Shape::Plain(None)
    }
}

impl Shape {
    fn shown(self, value: f64, manner: Manner) -> String {
        match self {
            Self::Of(measure) => number(measure.shown(value, manner), measure.decimals(manner)),
            Self::Share => number(value * 100.0, 0),
            Self::Plain(_) => number(value, 2),
        }
    }

    fn unit(self, manner: Manner) -> Option<&'static str> {
        match self {
            Self::Of(measure) => Some(measure.unit_key(manner)),
            Self::Share => Some("unit.percent"),
            Self::Plain(unit) => unit,
        }
    }

    fn read(self, text: &str, name: &str, manner: Manner) -> Result<f64, Say> {
        let (least, most) = culture::allowed(name).unwrap_or((f64::MIN, f64::MAX));
        match self {
            Self::Of(measure) => read::quantity(text, measure, least..=most, manner),
            Self::Share => read::share(text, least * 100.0..=most * 100.0),
            Self::Plain(_) => read::decimal(text, least..=most),
        }
    }
}

#[component]
pub(super) fn Figures(variety: VarietyId) -> impl IntoView {
    let store = Store::here();
    let lines = move || {
        let variety = variety.clone();
        store.with_almanac(|almanac| {
            let crop = almanac.crop(&variety)?;
            Some(
                crop.figure_names()
                    .filter(|name| is_shown(name))
                    .filter_map(|name| Some((name.to_owned(), crop.figure(name)?.clone())))
                    .map(|(name, range)| {
                        let variety = variety.clone();
                        view! { <OneFigure variety name range /> }
                    })
                    .collect::<Vec<_>>(),
            )
        })
    };
    view! {
        <Section head="figures.head">
            <p class="section__lead">{text("figures.lead")}</p>
            {lines}
        </Section>
    }
}

#[component]
fn OneFigure(variety: VarietyId, name: String, range: Range) -> impl IntoView {
    let store = Store::here();
    let opened = RwSignal::new(false);
    let basis = match range.confidence {
        Confidence::Grower => Basis::Measured,
        _ => Basis::Assumed,
    };
    let (figure, shape) = (range.clone(), shape(&name));
    let value = move || shape.shown(figure.typical, store.manner());
    let span = Words::from(span(&range, shape, store.manner_now()));
    let unit = move || shape.unit(store.manner()).map(text);
    let label = figure_label(&name);
    view! {
        <details
            class="why"
            on:toggle=move |event: Event| {
                if crate::browser::page::is_open(&event) {
                    opened.set(true);
                }
            }
        >
            <summary class="why__ask">
                <span class="why__unit">{label}</span>
                <span class="why__num">{value}</span>
                <span class="why__unit">{unit}</span>
                <span class="why__span">{move || span.get()}</span>
                <BasisMark basis />
            </summary>
            <div class="why__panel">
                <Sources keys=range.src.clone() />
                {move || {
                    opened
                        .get()
                        .then(|| {
                            let (variety, name) = (variety.clone(), name.clone());
                            view! { <Own variety name typical=range.typical shape /> }
                        })
                }}
            </div>
        </details>
    }
}

fn span(range: &Range, shape: Shape, manner: Manner) -> Say {
    match (range.low, range.high) {
        (Some(low), Some(high)) => Say::new("figures.span")
            .with("low", shape.shown(low, manner))
            .with("high", shape.shown(high, manner)),
        _ => Say::new("figures.no_span"),
    }
}

/// For whom a figure is set.
const FOR_VARIETY: &str = "variety";
const FOR_CROP: &str = "crop";

#[component]
fn Own(variety: VarietyId, name: String, typical: f64, shape: Shape) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner_now();
    let season = store.season_now();
    let set_for = set_for(&season, &variety, &name);
    let typed = Typed::new(shape.shown(typical, manner));
    let whom = Typed::new(set_for.unwrap_or(FOR_VARIETY));
    let saver = Saver::new();
    let (of, figure) = (variety.clone(), name.clone());
    let save = Callback::new(move |()| {
        let manner = store.manner_now();
        let Some(value) = typed.read(|text| shape.read(text, &figure, manner)) else {
            return show_first_wrong();
        };
        let season = store.season_now();
        let whom = whom.text_now();
        let fact = set(&season, &of, &whom, &figure, Some(value));
        // Together with others it may make no sense: that is told at once, not by a figure that does not move.
        let crop = store.with_almanac_now(|almanac| almanac.crop(&of).cloned());
        if let Some(crop) = crop
            && !makes_sense(&crop, &figure, value)
        {
            return typed.object(Say::new("figures.no_sense"));
        }
        saver.check_and_save(fact.into_iter().collect(), &[("figures", typed)], |_| ());
    });
    let back = move |_| {
        let season = store.season_now();
        let fact = set_for.and_then(|whom| set(&season, &variety, whom, &name, None));
        saver.save(fact.into_iter().collect(), |_| ());
    };
    let unit = shape
        .unit(manner)
        .map_or(Words::Plain(String::new()), Words::Key);
    view! {
        <NumberField typed label="figures.own" unit />
        <Choice
            typed=whom
            label="figures.whom"
            options=vec![
                Picked::new(FOR_VARIETY, "figures.for_variety"),
                Picked::new(FOR_CROP, "figures.for_crop"),
            ]
        />
        <SaveProblem saver />
        <div class="actions">
            <SaveButton saver label="figures.save" on_tap=save />
            {set_for
                .is_some()
                .then(|| {
                    view! {
                        <button class="btn" type="button" on:click=back>
                            {text("figures.back")}
                        </button>
                    }
                })}
        </div>
    }
}

/// Whether an own figure is set, and for whom; the variety's own comes before the crop's.
fn set_for(season: &Season, variety: &VarietyId, name: &str) -> Option<&'static str> {
    let variety = season.varieties.get(variety)?;
    if variety.figures.contains_key(name) {
        return Some(FOR_VARIETY);
    }
    let crop = season.crops.get(&variety.crop)?;
    crop.contains_key(name).then_some(FOR_CROP)
}

/// The entry that sets a figure, or takes it back.
fn set(
    season: &Season,
    variety: &VarietyId,
    whom: &str,
    name: &str,
    value: Option<f64>,
) -> Option<Fact> {
    let figures = [(name.to_owned(), value)].into();
    if whom == FOR_CROP {
        let of = season.varieties.get(variety)?.crop.clone();
        return Some(
            CropFact {
                figures,
                ..CropFact::new(of)
            }
            .into(),
        );
    }
    Some(
        VarietyFact {
            figures,
            ..VarietyFact::new(variety.clone())
        }
        .into(),
    )
}

fn makes_sense(crop: &Crop, name: &str, value: f64) -> bool {
    crop.with_overrides(&[(name.to_owned(), value)].into())
        .is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::words::Units;

    #[test]
    fn every_figure_reads_back_as_it_is_shown_within_rounding() {
        let reference = culture::Reference::builtin().unwrap();
        for manner in [Manner::default(), Manner { units: Units::Us }] {
            for crop in reference.crops() {
                for name in crop.figure_names() {
                    let shape = shape(name);
                    let typical = crop.typical(name).unwrap();
                    let shown = shape.shown(typical, manner);
                    let read = shape.read(&shown, name, manner);
                    let read = read.unwrap_or_else(|e| panic!("{name} {shown}: {e:?}"));
                    let off = (read - typical).abs();
                    assert!(off <= 0.13, "{name}: {typical} shown {shown}, read {read}");
                }
            }
        }
    }

    #[test]
    fn temperatures_are_told_from_degree_days_and_days() {
        assert_eq!(shape("base_temp_c"), Shape::Of(Measure::Temperature));
        assert_eq!(
            shape("thermal_time_transplant_to_bloom_cd"),
            Shape::Of(Measure::DegreeDays)
        );
        assert_eq!(shape("seeds_per_gram"), Shape::Of(Measure::PerWeight));
        assert_eq!(shape("plants_per_m2_bed"), Shape::Of(Measure::PerArea));
        assert_eq!(shape("hardening_off_days"), Shape::Plain(Some("unit.days")));
        assert_eq!(shape("stem_length_cm"), Shape::Of(Measure::Spacing));
        assert_eq!(shape("marketable_field"), Shape::Share);
    }
}
