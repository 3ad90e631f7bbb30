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
    /// What was asked about, until the form is saved all the same.
    asked: RwSignal<Vec<Say>>,
}

/// What is to happen to a form, by what speaks against its facts.
#[derive(Debug, PartialEq)]
enum Way {
    /// It can't be.
    Refuse,
    /// Unlikely, and not asked about yet.
    Ask(Vec<Say>),
    /// Nothing speaks against it, or the grower is believed.
    Save,
}

fn way(objections: &[Objection], asked: &[Say]) -> Way {
    if objections.iter().any(|o| o.weight == Weight::Refuse) {
        return Way::Refuse;
    }
    let asks: Vec<Say> = objections.iter().map(|o| o.say.clone()).collect();
    if asks.iter().all(|say| asked.contains(say)) {
        Way::Save
    } else {
        Way::Ask(asks)
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

    /// As [`Saver::save`], once nothing speaks against the facts. What does is told at the field of `fields` that it names (by the
    /// fact's field name), else above the button. What is only unlikely is asked once; the second tap is believed.
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
        let asked = self.asked.get_untracked();
        match way(&objections, &asked) {
            Way::Save => self.save(facts, then),
            Way::Refuse => {
                self.asked.set(Vec::new());
                let refused = |o: &&Objection| o.weight == Weight::Refuse;
                self.tell(objections.iter().filter(refused), fields);
            }
            Way::Ask(asks) => {
                self.tell(objections.iter(), fields);
                self.asked.set(asks);
            }
        }
    }

    fn tell<'a>(
        self,
        objections: impl Iterator<Item = &'a Objection>,
        fields: &[(&'static str, Typed)],
    ) {
        self.wrong.set(None);
        for objection in objections {
            match fields.iter().find(|(name, _)| *name == objection.field) {
                Some((_, typed)) => typed.object(objection.say.clone()),
                None => self.wrong.set(Some(objection.say.clone())),
            }
        }
        show_first_wrong();
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
) -> impl IntoView {
    let asked = move || saver.asked.with(|asked| !asked.is_empty());
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
        assert_eq!(way(&many, &[]), Way::Ask(asks.clone()));
        assert_eq!(way(&many, &asks), Way::Save);
        assert_eq!(way(&many, &asks[..1]), Way::Ask(asks.clone()), "one is new");
        assert_eq!(way(&[], &[]), Way::Save);
    }

    #[test]
    fn what_cannot_be_is_never_believed() {
        let refused = [objection(Weight::Refuse, "a")];
        assert_eq!(way(&refused, &[Say::new("a")]), Way::Refuse);
    }
}
