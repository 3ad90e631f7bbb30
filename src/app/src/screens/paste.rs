//! Pasting a table from a spreadsheet: each line is read back in plain words before anything is kept.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::paste::{Line, Pasted};
use season::words::{Manner, Say, text};

use crate::browser::page;
use crate::parts::{
    AreaField, Back, Frame, Icon, Notice, NoticeKind, SaveButton, SaveProblem, Saver, Section,
    Typed,
};
use crate::route::Area;
use crate::store::Store;

/// A pasted line in words.
#[derive(Debug, Clone, PartialEq)]
struct Told {
    number: usize,
    raw: String,
    said: String,
    asks: Vec<String>,
    is_wrong: bool,
}

/// A pasted table in words, and what would be recorded.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Preview {
    lines: Vec<Told>,
    good: usize,
    left_over: String,
}

impl Preview {
    /// Of a table whose lines are read back by `say`.
    pub fn of<T>(pasted: &Pasted<T>, manner: Manner, say: impl Fn(&T) -> Say) -> Self {
        let told = |line: &Line<T>| Told {
            number: line.number,
            raw: line.raw.clone(),
            said: match &line.read {
                Ok(value) => say(value).write(manner),
                Err(why) => why.write(manner),
            },
            asks: line.asks.iter().map(|ask| ask.write(manner)).collect(),
            is_wrong: line.read.is_err(),
        };
        Self {
            lines: pasted.lines.iter().map(told).collect(),
            good: pasted.rows().count(),
            left_over: pasted.left_over(),
        }
    }

    fn wrong(&self) -> usize {
        self.lines.iter().filter(|line| line.is_wrong).count()
    }
}

/// What is pasted on a screen.
#[derive(Clone, Copy)]
pub struct Kind {
    /// Key of the title.
    pub title: &'static str,
    /// Key of what may stand in the table.
    pub lead: &'static str,
    /// Key of the sentence on the button, given `n`.
    pub keep: &'static str,
    /// Where it belongs.
    pub area: Area,
    /// The way back, which is also taken when all is kept.
    pub back: fn() -> Back,
    /// Reads a table.
    pub preview: fn(&Almanac<'_>, &str, NaiveDate, Manner) -> Preview,
    /// What is recorded of the lines that read.
    pub facts: fn(&Almanac<'_>, &str, NaiveDate) -> Vec<Fact>,
}

/// A screen for pasting.
#[component]
pub fn PasteScreen(
    /// What.
    kind: Kind,
) -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let typed = Typed::new("");
    let kept = RwSignal::new(None::<usize>);
    let preview = Memo::new(move |_| {
        let (today, manner) = (store.today(), store.manner());
        let pasted = typed.text();
        store.with_almanac(|almanac| (kind.preview)(almanac, &pasted, today, manner))
    });
    let keep = Callback::new(move |()| {
        let (good, left_over) = preview.with_untracked(|p| (p.good, p.left_over.clone()));
        let pasted = typed.text_now();
        let today = store.today_now();
        let facts = store.with_almanac_now(|almanac| (kind.facts)(almanac, &pasted, today));
        saver.save(facts, move |_| {
            if left_over.is_empty() {
                return page::go(&(kind.back)().to.href());
            }
            // What does not read yet stays to be mended.
            typed.put(left_over);
            kept.try_set(Some(good));
        });
    });
    let label = Signal::derive(move || {
        let good = preview.with(|preview| preview.good);
        Say::new(kind.keep).with("n", good).write(store.manner())
    });
    let back = (kind.back)();
    view! {
        <Frame title=kind.title area=kind.area back>
            <p class="section__lead">{text(kind.lead)}</p>
            {move || kept.get().map(told_kept)}
            <div class="paste__table">
                <AreaField typed label="paste.table" hint="paste.table.hint" />
            </div>
            {move || {
                let preview = preview.get();
                (!preview.lines.is_empty()).then(|| view! { <Lines preview /> })
            }}
            <SaveProblem saver />
            <div class="actions actions--stay">
                {move || {
                    (preview.with(|p| p.good) > 0)
                        .then(|| view! { <SaveButton saver label on_tap=keep /> })
                }}
            </div>
        </Frame>
    }
}

fn told_kept(good: usize) -> impl IntoView {
    let head = Say::new("paste.kept").with("n", good);
    view! { <Notice kind=NoticeKind::Info head text="paste.kept.rest" /> }
}

/// The lines read back.
#[component]
fn Lines(preview: Preview) -> impl IntoView {
    let (good, wrong) = (preview.good, preview.wrong());
    let tally = Say::new("paste.tally")
        .with("n", good)
        .with_some("wrong", (wrong > 0).then_some(wrong));
    let lines = preview.lines.into_iter().map(line).collect_view();
    view! {
        <Section head="paste.read_back" tally=tally>
            <ol class="paste" role="list">
                {lines}
            </ol>
        </Section>
    }
}

fn line(told: Told) -> impl IntoView {
    let (class, icon) = if told.is_wrong {
        ("paste__line paste__line--wrong", "caution")
    } else {
        ("paste__line", "tick")
    };
    let number = Say::new("paste.line")
        .with("n", told.number)
        .write(Manner::default());
    let asks = told
        .asks
        .into_iter()
        .map(|ask| view! { <p class="soft small">{ask}</p> })
        .collect_view();
    view! {
        <li class=class>
            <Icon name=icon small=true />
            <div>
                <p>
                    <span class="soft small">{number}": "</span>
                    {told.said}
                </p>
                {told.is_wrong.then(|| view! { <p class="paste__raw">{told.raw}</p> })}
                {asks}
            </div>
        </li>
    }
}
