//! How this grower sells: money, how much of the forecast is promised, and until when stems can be bought in.

use leptos::prelude::*;
use season::fact::PlaceFact;
use season::ids::PlaceId;
use season::limits::{BUY_IN_DAYS, CURRENCY, PROMISE_SHARES};
use season::promise::{BUY_IN_DAYS_USUAL, PROMISE_SHARE_USUAL};
use season::state::Place;
use season::words::{Arg, Say, text};

use super::back_to;
use super::place::changes_of;
use crate::browser::{clock, page, random};
use crate::parts::typed::show_first_wrong;
use crate::parts::words::number;
use crate::parts::{
    Frame, NumberField, SaveButton, SaveProblem, Saver, Section, Stepper, TextField, Typed, read,
};
use crate::route::{Area, ShedPart};
use crate::store::Store;

#[derive(Clone, Copy)]
struct Fields {
    currency: Typed,
    days: Typed,
    share: Typed,
}

impl Fields {
    fn new(place: Option<&Place>) -> Self {
        let days = place.and_then(|place| place.buy_in_days);
        let share = place.and_then(|place| place.promise_share);
        Self {
            currency: Typed::new(place.map_or_else(String::new, |place| place.currency.clone())),
            days: Typed::new(days.unwrap_or(BUY_IN_DAYS_USUAL).to_string()),
            share: Typed::new(number(share.unwrap_or(PROMISE_SHARE_USUAL) * 100.0, 0)),
        }
    }

    fn read(self, place: Option<&Place>) -> Option<PlaceFact> {
        let currency = self.currency.read(|text| {
            let text = text.trim();
            if text.chars().count() > CURRENCY.most {
                let most = Say::new("check.name_long").with("most", CURRENCY.most);
                return Err(most);
            }
            Ok(text.to_owned())
        });
        let days = self
            .days
            .read(|text| read::count(text, BUY_IN_DAYS.range()));
        let (low, high) = (PROMISE_SHARES.record.0, PROMISE_SHARES.record.1);
        let share = self
            .share
            .read(|text| read::share(text, low * 100.0..=high * 100.0));
        let of = place.map_or_else(
            || PlaceId::mint(clock::now_ms(), random::bits()),
            |place| place.id.clone(),
        );
        Some(PlaceFact {
            currency: Some(currency?),
            buy_in_days: Some(days?),
            promise_share: Some(share?),
            ..changes_of(of)
        })
    }
}

#[component]
pub(super) fn SellingScreen() -> impl IntoView {
    let store = Store::here();
    let fields = Fields::new(store.season_now().place());
    let saver = Saver::new();
    let save = Callback::new(move |()| {
        let Some(fact) = fields.read(store.season_now().place()) else {
            return show_first_wrong();
        };
        saver.save(vec![fact.into()], |_| page::go(&Area::Shed.route().href()));
    });
    let usual = Say::new("selling.share.hint").with("usual", Arg::Share(PROMISE_SHARE_USUAL));
    view! {
        <Frame title="shed.selling" area=Area::Shed back=back_to(ShedPart::Door)>
            <Section head="selling.head">
                <p class="section__lead">{text("selling.lead")}</p>
                <TextField
                    typed=fields.currency
                    label="selling.currency"
                    hint="selling.currency.hint"
                />
                <NumberField
                    typed=fields.share
                    label="selling.share"
                    hint=usual
                    unit="unit.percent"
                />
                <Stepper
                    typed=fields.days
                    label="selling.days"
                    hint="selling.days.hint"
                    low=BUY_IN_DAYS.record.0
                    high=BUY_IN_DAYS.record.1
                />
            </Section>
            <SaveProblem saver />
            <div class="actions">
                <SaveButton saver label="selling.save" on_tap=save />
            </div>
        </Frame>
    }
}
