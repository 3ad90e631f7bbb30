//! Saving a form: once at a time, with what went wrong beside the button.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::Fact;
use season::check::{Objection, Weight, check};
use season::ids::EntryId;
use season::words::Say;

use super::typed::show_first_wrong;
use super::{Notice, NoticeKind, Typed, Words};
use crate::store::Store;

/// A form's saving. It lives as long as the component that makes it.
#[derive(Clone, Copy)]
pub struct Saver {
    store: Store,
    busy: RwSignal<bool>,
    wrong: RwSignal<Option<Say>>,
    /// What was asked about, until the form is saved as it is.
    asked: RwSignal<Vec<Say>>,
}

/// What is to happen to a form, by what speaks against its facts.
#[derive(Debug, PartialEq)]
enum Gate {
    /// It can't be.
    Refuse,
    /// Unlikely, and not asked about yet.
    Ask(Vec<Say>),
    /// Nothing speaks against it, or the grower is believed.
    Save,
}

fn gate(objections: &[Objection], asked: &[Say]) -> Gate {
    if objections.iter().any(|o| o.weight == Weight::Refuse) {
        return Gate::Refuse;
    }
    let asks: Vec<Say> = objections.iter().map(|o| o.say.clone()).collect();
    if asks.iter().all(|say| asked.contains(say)) {
        Gate::Save
    } else {
        Gate::Ask(asks)
    }
}

impl Default for Saver {
    fn default() -> Self {
        Self::new()
    }
}

impl Saver {
    /// For one form.
    pub fn new() -> Self {
        Self {
            store: Store::here(),
            busy: RwSignal::new(false),
            wrong: RwSignal::new(None),
            asked: RwSignal::new(Vec::new()),
        }
    }

    /// As [`Saver::save`], once the facts clear the check. What speaks against them is shown at the field of `fields` that it names
    /// (by the fact's field name), otherwise above the button.
    pub fn check_and_save(
        self,
        facts: Vec<Fact>,
        fields: &[(&'static str, Typed)],
        then: impl FnOnce(Vec<EntryId>) + 'static,
    ) {
        let today = self.store.today_now();
        let objections: Vec<Objection> = self.store.with_almanac_now(|almanac| {
            let of = |fact| check(almanac, fact, today);
            facts.iter().flat_map(of).collect()
        });
        let cleared = self.clears(&objections, |objection| {
            match fields.iter().find(|(name, _)| *name == objection.field) {
                Some((_, typed)) => typed.object(objection.say.clone()),
                None => self.wrong.set(Some(objection.say.clone())),
            }
        });
        if cleared {
            self.save(facts, then);
        }
    }

    /// As [`Saver::check_and_save`] for facts that each have a field of their own; what is wrong with their day is shown at `date`.
    pub fn check_and_save_rows(
        self,
        rows: Vec<(Fact, Option<Typed>)>,
        date: Typed,
        then: impl FnOnce(Vec<EntryId>) + 'static,
    ) {
        let today = self.store.today_now();
        let found: Vec<(Objection, Option<Typed>)> = self.store.with_almanac_now(|almanac| {
            rows.iter()
                .flat_map(|(fact, typed)| {
                    let objections = check(almanac, fact, today).into_iter();
                    objections.map(|objection| (objection, *typed))
                })
                .collect()
        });
        let objections: Vec<Objection> = found.iter().map(|(o, _)| o.clone()).collect();
        let mut fields = found.iter().map(|(_, typed)| *typed);
        let cleared = self.clears(&objections, |objection| {
            let field = fields
                .next()
                .flatten()
                .filter(|_| objection.field != "date");
            field.unwrap_or(date).object(objection.say.clone());
        });
        if cleared {
            self.save(rows.into_iter().map(|(fact, _)| fact).collect(), then);
        }
    }

    /// The one gate of all forms: whether facts with these objections may be saved. What is impossible never is; what is only
    /// unlikely is asked about once, and the second tap is believed. `object` shows each objection, in their order.
    pub fn clears(self, objections: &[Objection], object: impl FnMut(&Objection)) -> bool {
        let gate = gate(objections, &self.asked.get_untracked());
        self.wrong.set(None);
        if gate != Gate::Save {
            objections.iter().for_each(object);
            show_first_wrong();
        }
        match gate {
            Gate::Save => true,
            Gate::Refuse => {
                self.asked.set(Vec::new());
                false
            }
            Gate::Ask(asks) => {
                self.asked.set(asks);
                false
            }
        }
    }

    /// Whether the next tap saves what was asked about. Follows changes.
    pub fn has_asked(self) -> bool {
        self.asked.with(|asked| !asked.is_empty())
    }

    /// Forgets what was asked about: something else is in the form now.
    pub fn forget(self) {
        if self.asked.with_untracked(|asked| !asked.is_empty()) {
            self.asked.set(Vec::new());
        }
    }

    /// Records facts together, unless it is still at the last ones. `then` is called once they are saved; on an error the form
    /// stays as it is and [`SaveProblem`] says why.
    pub fn save(self, facts: Vec<Fact>, then: impl FnOnce(Vec<EntryId>) + 'static) {
        if self.busy.get_untracked() {
            return;
        }
        self.busy.set(true);
        self.wrong.set(None);
        self.asked.set(Vec::new());
        spawn_local(async move {
            let result = self.store.record(facts).await;
            // The form may be gone by now.
            self.busy.try_set(false);
            match result {
                Ok(ids) => then(ids),
                Err(error) => {
                    self.wrong.try_set(Some(error.say()));
                }
            }
        });
    }

    /// Whether it is at it. Follows changes.
    pub fn is_busy(self) -> bool {
        self.busy.get()
    }
}

/// The form's main button; says the fact, not "OK".
#[component]
pub fn SaveButton(
    /// The form's saving.
    saver: Saver,
    /// What it does.
    #[prop(into)]
    label: Words,
    /// Reads the form and calls [`Saver::save`].
    on_tap: Callback<()>,
) -> impl IntoView {
    view! {
        <button
            class="btn btn--primary btn--great"
            type="button"
            aria-busy=move || saver.is_busy().then_some("true")
            on:click=move |_| on_tap.run(())
        >
            {move || label.get()}
        </button>
    }
}

/// What went wrong when saving, if anything did.
#[component]
pub fn SaveProblem(
    /// The form's saving.
    saver: Saver,
    /// Where the button itself says that the next tap saves what was asked about.
    #[prop(optional)]
    quiet: bool,
) -> impl IntoView {
    let asked = move || !quiet && saver.has_asked();
    view! {
        {move || {
            saver
                .wrong
                .get()
                .map(|why| {
                    view! {
                        <Notice kind=NoticeKind::Problem head="saver.not_saved" text=why />
                    }
                })
        }}
        {move || {
            asked()
                .then(|| {
                    view! {
                        <Notice
                            kind=NoticeKind::Caution
                            head="saver.asked"
                            text="saver.asked.text"
                        />
                    }
                })
        }}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn objection(weight: Weight, key: &'static str) -> Objection {
        Objection {
            field: "up",
            weight,
            say: Say::new(key),
        }
    }

    #[test]
    fn what_is_unlikely_is_asked_once_and_then_believed() {
        let many = [objection(Weight::Ask, "a"), objection(Weight::Ask, "b")];
        let asks = vec![Say::new("a"), Say::new("b")];
        assert_eq!(gate(&many, &[]), Gate::Ask(asks.clone()));
        assert_eq!(gate(&many, &asks), Gate::Save);
        assert_eq!(
            gate(&many, &asks[..1]),
            Gate::Ask(asks.clone()),
            "one is new"
        );
        assert_eq!(gate(&[], &[]), Gate::Save);
    }

    #[test]
    fn what_cannot_be_is_never_believed() {
        let refused = [objection(Weight::Refuse, "a")];
        assert_eq!(gate(&refused, &[Say::new("a")]), Gate::Refuse);
    }
}
