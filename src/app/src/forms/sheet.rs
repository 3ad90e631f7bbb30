//! The sheet in which a fact is recorded: first tap opens it filled in, second tap keeps it.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::Fact;
use season::almanac::Almanac;
use season::check::{Objection, check};
use season::ids::EntryId;
use season::words::{Say, text};

use super::filled::{Filled, Texts};
use super::fresh::blanks;
use super::hints::hints;
use super::inputs::{Around, field};
use super::quick::QuickSheet;
use super::recorder::{Asked, Recorder};
use super::revise::{correction, season_without};
use super::{beside, follows, step, tell, titles};
use crate::parts::typed::show_first_wrong;
use crate::parts::{
    Caution, Notice, NoticeKind, SaveButton, SaveProblem, Saver, Sheet, Typed, Words,
};
use crate::route::Route;
use crate::store::Store;

/// The sheet of a screen's [`Recorder`]; nothing while nothing is asked.
#[component]
pub fn RecordSheet(
    /// The screen's.
    recorder: Recorder,
) -> impl IntoView {
    step::follow(recorder);
    move || {
        recorder.asked().map(|asked| match asked {
            Asked::Form {
                fact,
                corrects,
                caution,
            } => view! { <FactSheet fact=*fact corrects caution recorder /> }.into_any(),
            Asked::Missing(say, to) => view! { <MissingSheet say to recorder /> }.into_any(),
            Asked::Quick(quick) => view! { <QuickSheet quick recorder /> }.into_any(),
            Asked::TakeBack(entries) => view! { <TakeBackSheet entries recorder /> }.into_any(),
        })
    }
}

/// A form's state while it is open.
#[derive(Clone, Copy)]
struct Form {
    store: Store,
    before: StoredValue<Fact>,
    corrects: StoredValue<Option<EntryId>>,
    filled: StoredValue<Filled>,
    typed: StoredValue<Vec<(&'static str, Typed)>>,
    around: Around,
    /// What is wrong that belongs to no field.
    wrong: RwSignal<Vec<Say>>,
    saver: Saver,
}

impl Form {
    fn new(fact: Fact, corrects: Option<EntryId>, filled: Filled) -> Self {
        let store = Store::here();
        let mut texts = filled.texts(store.manner_now());
        if corrects.is_none() {
            for name in blanks(&fact) {
                texts.insert(name, String::new());
            }
        }
        let typed: Vec<(&'static str, Typed)> = filled
            .fields()
            .iter()
            .map(|spec| {
                let text = texts.remove(spec.name).unwrap_or_default();
                (spec.name, Typed::new(text))
            })
            .collect();
        let filled = StoredValue::new(filled);
        let typed = StoredValue::new(typed);
        let saver = Saver::new();
        let begun = fact.clone();
        // While a field does not read, what is beside the others stays as it was.
        let live = Memo::new(move |last: Option<&Fact>| {
            let texts = typed.with_value(|typed| texts_of(typed, Typed::text));
            let read = filled.with_value(|filled| filled.read(&texts, store.manner()));
            read.unwrap_or_else(|_| last.unwrap_or(&begun).clone())
        });
        Effect::new(move |_| {
            live.track();
            saver.forget();
        });
        let hints = Memo::new(move |_| live.with(|fact| store.with_almanac(|a| hints(a, fact))));
        Self {
            store,
            before: StoredValue::new(fact),
            corrects: StoredValue::new(corrects),
            filled,
            typed,
            around: Around { fact: live, hints },
            wrong: RwSignal::new(Vec::new()),
            saver,
        }
    }

    /// Reads the form, and saves it if nothing speaks against it.
    fn save(self, recorder: Recorder) {
        let texts = self
            .typed
            .with_value(|typed| texts_of(typed, Typed::text_now));
        let manner = self.store.manner_now();
        self.wrong.set(Vec::new());
        let fact = match self.filled.with_value(|filled| filled.read(&texts, manner)) {
            Ok(fact) => self.with_what_follows(fact),
            Err(wrong) => {
                for (name, say) in wrong {
                    self.object(name, say);
                }
                return show_first_wrong();
            }
        };
        let object = |o: &Objection| self.object(o.field, o.say.clone());
        if !self.saver.clears(&self.objections(&fact), object) {
            return;
        }
        let corrects = self.corrects.get_value();
        let facts = match corrects {
            None => Some(fact),
            Some(entry) => self
                .before
                .with_value(|before| correction(&entry, before, &fact)),
        };
        match facts {
            Some(fact) => self.saver.save(vec![fact], move |_| recorder.close()),
            None => recorder.close(),
        }
    }

    /// The fact with what the form does not ask since it follows from what it does.
    fn with_what_follows(self, fact: Fact) -> Fact {
        let before = self.before.get_value();
        self.store
            .with_almanac_now(|almanac| follows::completed(almanac, &before, fact))
    }

    fn objections(self, fact: &Fact) -> Vec<Objection> {
        let today = self.store.today_now();
        match self.corrects.get_value() {
            None => self
                .store
                .with_almanac_now(|almanac| check(almanac, fact, today)),
            Some(entry) => {
                let season = self.store.with_log(|log| season_without(log, &entry));
                let almanac = Almanac::new(&season, self.store.reference());
                check(&almanac, fact, today)
            }
        }
    }

    /// Says at the field what is wrong; above all fields when it belongs to none of them.
    fn object(self, name: &str, say: Say) {
        let field = self.typed.with_value(|typed| {
            typed
                .iter()
                .find(|(field, _)| *field == name)
                .map(|(_, typed)| *typed)
        });
        match field {
            Some(typed) if typed.wrong().is_none() => typed.object(say),
            Some(_) => {}
            None => self.wrong.update(|wrong| wrong.push(say)),
        }
    }
}

fn texts_of(typed: &[(&'static str, Typed)], text: fn(Typed) -> String) -> Texts {
    typed
        .iter()
        .map(|(name, typed)| (*name, text(*typed)))
        .collect()
}

#[component]
fn FactSheet(
    fact: Fact,
    corrects: Option<EntryId>,
    caution: Option<&'static str>,
    recorder: Recorder,
) -> impl IntoView {
    let on_close = Callback::new(move |()| recorder.close());
    let Some(filled) = Filled::of(&fact, corrects.is_some()) else {
        return view! { <MissingSheet say=Say::new("form.elsewhere") to=Route::Today recorder /> }
            .into_any();
    };
    let title = Say::new(if corrects.is_some() {
        "form.correct"
    } else {
        "form.plain"
    })
    .with("what", season::words::Arg::Key(titles::title(&fact)));
    let store = Store::here();
    let about = store.with_almanac_now(|almanac| tell::about(almanac, &fact));
    let which = Words::from(about.unwrap_or_else(|| Say::new("form.no_subject")));
    let specs = filled.fields().to_vec();
    let form = Form::new(fact, corrects, filled);
    let fields = form.typed.with_value(|typed| {
        specs
            .into_iter()
            .zip(typed)
            .map(|(spec, (_, typed))| field(spec, *typed, form.around))
            .collect_view()
    });
    let of = |name: &str| {
        let found = |typed: &Vec<(&'static str, Typed)>| {
            typed
                .iter()
                .find(|(field, _)| *field == name)
                .map(|(_, typed)| *typed)
        };
        form.typed.with_value(found)
    };
    let aids = beside::aids(
        &form.before.get_value(),
        form.corrects.get_value().is_none(),
        of,
    );
    let deed = Signal::derive(move || {
        let say = if form.saver.has_asked() {
            Say::new("form.all_the_same")
        } else {
            form.around
                .fact
                .with(|fact| titles::deed(fact, store.today()))
        };
        say.write(store.manner())
    });
    view! {
        <Sheet title=title which=which on_close>
            <div class="sheet__body">
                <Against form />
                {aids}
                {fields}
                {caution.map(|key| view! { <Caution head="caution.head" text=key /> })}
                <SaveProblem saver=form.saver quiet=true />
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| recorder.close()>
                    {text("form.not_now")}
                </button>
                <SaveButton
                    saver=form.saver
                    label=deed
                    on_tap=Callback::new(move |()| form.save(recorder))
                />
            </div>
        </Sheet>
    }
    .into_any()
}

/// What speaks against the fact and belongs to no field.
#[component]
fn Against(form: Form) -> impl IntoView {
    move || {
        let manner = form.store.manner();
        let wrong = form.wrong.get();
        (!wrong.is_empty()).then(|| {
            let told: Vec<String> = wrong.iter().map(|say| say.write(manner)).collect();
            view! { <Notice kind=NoticeKind::Problem head="form.against" text=told.join(" ") /> }
        })
    }
}

#[component]
fn MissingSheet(say: Say, to: Route, recorder: Recorder) -> impl IntoView {
    let on_close = Callback::new(move |()| recorder.close());
    let words = Words::from(say);
    view! {
        <Sheet title="form.missing" on_close>
            <div class="sheet__body">
                <p class="lead">{move || words.get()}</p>
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| recorder.close()>
                    {text("form.not_now")}
                </button>
                // The sheet goes with the screen.
                <a class="btn btn--primary btn--great" href=to.href()>
                    {text("form.go_there")}
                </a>
            </div>
        </Sheet>
    }
}

/// Taking back a record with all that belongs to it.
#[component]
fn TakeBackSheet(entries: Vec<EntryId>, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let on_close = Callback::new(move |()| recorder.close());
    let busy = RwSignal::new(false);
    let wrong = RwSignal::new(None::<Say>);
    let said = Say::new("history.take_back_all").with("n", entries.len());
    let words = Words::from(said);
    let entries = StoredValue::new(entries);
    let take_back = move |_| {
        if busy.get_untracked() {
            return;
        }
        busy.set(true);
        spawn_local(async move {
            let result = store.undo(&entries.get_value()).await;
            busy.try_set(false);
            match result {
                Ok(_) => recorder.close(),
                Err(error) => {
                    wrong.try_set(Some(error.say()));
                }
            }
        });
    };
    view! {
        <Sheet title="history.take_back" on_close>
            <div class="sheet__body">
                <p class="lead">{move || words.get()}</p>
                {move || {
                    wrong
                        .get()
                        .map(|why| {
                            view! {
                                <Notice
                                    kind=NoticeKind::Problem
                                    head="saver.not_saved"
                                    text=why
                                />
                            }
                        })
                }}
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| recorder.close()>
                    {text("form.not_now")}
                </button>
                <button
                    class="btn btn--danger btn--great"
                    type="button"
                    aria-busy=move || busy.get().then_some("true")
                    on:click=take_back
                >
                    {text("history.take_back.do")}
                </button>
            </div>
        </Sheet>
    }
}
