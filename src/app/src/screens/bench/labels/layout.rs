//! How many labels to a tray, on which sheet, from which place on, and what they say besides.

use leptos::prelude::*;
use season::words::Say;

use super::Wish;
use crate::label::stock::STOCKS;
use crate::parts::read;
use crate::parts::{Choice, Picked, Section, SelectField, Stepper, Tick, Words};
use crate::store::Store;

/// Fields of the sheet.
#[component]
pub(super) fn Layout(wish: Wish) -> impl IntoView {
    let store = Store::here();
    // A place that a sheet does not have is told as soon as it is typed, or another sheet chosen.
    Effect::new(move |_| {
        let most = wish.stock().per_sheet() as u32;
        if let Err(say) = read::count(&wish.first.text(), 1..=most) {
            wish.first.object(say);
        }
    });
    let hint = Signal::derive(move || {
        Say::new("labels.first.hint")
            .with("most", wish.stock().per_sheet())
            .write(store.manner())
    });
    let stocks: Vec<Picked> = STOCKS
        .iter()
        .map(|stock| Picked::new(stock.name, stock.words))
        .collect();
    let stocks = Signal::stored(stocks);
    view! {
        <Section head="labels.layout">
            <SelectField typed=wish.stock label="labels.stock" options=stocks />
            <Choice
                typed=wish.each
                label="labels.each"
                options=vec![Picked::new("1", "labels.each.1"), Picked::new("2", "labels.each.2")]
            />
            <Stepper
                typed=wish.first
                label="labels.first"
                hint=Words::from(hint)
                low=1
                high=FIRST_MAX
            />
            <div class="field">
                <Tick ticked=wish.lot label="labels.also_lot" />
                <Tick ticked=wish.plant_by label="labels.also_plant_by" />
            </div>
        </Section>
    }
}

/// As far as tapping goes: the places of the sheet that has most.
const FIRST_MAX: u32 = 80;
