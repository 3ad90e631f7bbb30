//! Beds through the year: weeks along the bottom, each bed a field of its metres, each planting a bar in it.

mod choose;
mod told;

use leptos::prelude::*;
use season::ids::PlannedId;
use season::words::{Say, text};

use self::choose::ChooseSheet;
use self::told::{BarTold, BedTold, ConflictTold, Look, Told, Way, told};
use super::legend::{Legend, Mark};
use super::year::{AxisDrawing, percent};
use crate::parts::{Back, Column, Drawing, Empty, Frame, Icon, Section, Table, TableRow};
use crate::route::{Area, Route};
use crate::store::Store;

type Choosing = RwSignal<Option<PlannedId>>;

/// What does not fit, before the rest is folded away: the drawing should not be pages down.
const CONFLICTS_SHOWN: usize = 3;

/// The page.
#[component]
pub fn BedYearScreen() -> impl IntoView {
    let store = Store::here();
    let choosing: Choosing = RwSignal::new(None);
    let all = Memo::new(move |_| {
        let manner = store.manner();
        store.outlook().with(|outlook| told(outlook, manner))
    });
    view! {
        <Frame title="bed_plan.title" area=Area::Beds back=Back::to_area(Area::Beds)>
            {move || {
                let all = all.get();
                if all.conflicts.is_empty() && all.beds.iter().all(|bed| bed.bars.is_empty()) {
                    return view! { <Nothing /> }.into_any();
                }
                view! { <Page all choosing /> }.into_any()
            }}
            {move || choosing.get().map(|id| view! { <ChooseSheet id choosing /> })}
        </Frame>
    }
}

#[component]
fn Nothing() -> impl IntoView {
    view! {
        <Empty drawing=Drawing::Beds head="bed_plan.empty" text="bed_plan.empty.text">
            <a class="btn btn--primary btn--great" href=Route::Beds.href()>
                {text("place.beds")}
            </a>
        </Empty>
    }
}

#[component]
fn Page(all: Told, choosing: Choosing) -> impl IntoView {
    let beds = all.beds.clone();
    let (axis, now) = (all.axis, percent(all.axis.x(all.today)));
    let drawn = all
        .beds
        .into_iter()
        .map(|bed| view! { <OneBed bed now=now.clone() choosing /> })
        .collect_view();
    view! {
        <Conflicts conflicts=all.conflicts choosing />
        <Section head="bed_plan.title">
            <p class="section__lead">{text("bed_plan.lead")}</p>
            <Looks />
            <div class="bedyear">
                <AxisDrawing axis today=all.today />
                {drawn}
            </div>
            <AsTable beds />
        </Section>
    }
}

#[component]
fn Conflicts(conflicts: Vec<ConflictTold>, choosing: Choosing) -> impl IntoView {
    let tally = Say::new("plan.tally").with("n", conflicts.len());
    let none = conflicts
        .is_empty()
        .then(|| view! { <p><Icon name="tick" small=true /> " " {text("bed_plan.none")}</p> });
    let late = !conflicts.is_empty();
    let mut lines: Vec<_> = conflicts
        .into_iter()
        .map(|conflict| {
            let said = conflict.said.clone();
            view! {
                <li class="bedyear__conflict">
                    <p>
                        <Icon name="caution" small=true />
                        <span>{conflict.said}</span>
                    </p>
                    {match conflict.way {
                        Way::Choose(id) => {
                            view! {
                                <button
                                    class="btn"
                                    type="button"
                                    aria-haspopup="dialog"
                                    on:click=move |_| choosing.set(Some(id.clone()))
                                >
                                    {text("bed_plan.choose")}
                                    <span class="visually-hidden">": " {said}</span>
                                </button>
                            }
                                .into_any()
                        }
                        Way::Page(route) => {
                            view! {
                                <a class="btn" href=route.href()>
                                    {text("bed_plan.look")}
                                    <span class="visually-hidden">": " {said}</span>
                                </a>
                            }
                                .into_any()
                        }
                    }}
                </li>
            }
        })
        .collect();
    let rest = lines.split_off(lines.len().min(CONFLICTS_SHOWN));
    let rest = (!rest.is_empty()).then(|| {
        let more = Say::new("bed_plan.more").with("n", rest.len());
        view! {
            <details class="fold">
                <summary class="fold__ask">{more.write(Default::default())}</summary>
                <ul>{rest}</ul>
            </details>
        }
    });
    view! {
        <Section head="bed_plan.conflicts" tally=tally late>
            {none}
            <ul>{lines}</ul>
            {rest}
        </Section>
    }
}

#[component]
fn OneBed(bed: BedTold, now: String, choosing: Choosing) -> impl IntoView {
    let high = format!("{:.0}", bed.height);
    let view_high = format!("{:.0}", bed.height + 2.0);
    let bars = bed
        .bars
        .iter()
        .map(|bar| view! { <DrawnBar bar=bar.clone() choosing /> })
        .collect_view();
    let keys = bed
        .bars
        .into_iter()
        .map(|bar| view! { <InKey bar choosing /> })
        .collect_view();
    view! {
        <article class="bed">
            <div class="bed__head">
                <h3 class="bed__name">{bed.name}</h3>
                <p class="bed__size">{bed.size}</p>
            </div>
            <svg class="bedyear__field" role="img" aria-label=bed.label width="100%" height=view_high>
                <rect class="bedyear__ground" x="0" y="1" width="100%" height=high.clone()></rect>
                {bars}
                <line class="year__now" x1=now.clone() x2=now y1="0" y2=high></line>
            </svg>
            <ol class="bedyear__key">{keys}</ol>
        </article>
    }
}

/// A bar; for a pointer it leads where its line in the key does.
#[component]
fn DrawnBar(bar: BarTold, choosing: Choosing) -> impl IntoView {
    let (x, width, y, height) = bar.place;
    let middle = y + height / 2.0 + 7.0;
    let open = move |_| {
        if let Way::Choose(id) = &bar.way {
            choosing.set(Some(id.clone()));
        }
    };
    view! {
        <g on:click=open>
            <rect
                class=bar.look.class()
                x=percent(x)
                y=format!("{:.1}", y + 2.0)
                width=percent(width)
                height=format!("{:.1}", (height - 2.0).max(2.0))
            ></rect>
            <text class="bedyear__letter" x=percent(x) dx="6" y=format!("{middle:.1}")>
                {bar.letter}
            </text>
        </g>
    }
}

#[component]
fn InKey(bar: BarTold, choosing: Choosing) -> impl IntoView {
    let facts = Say::new("bed_plan.facts")
        .with("weeks", bar.weeks)
        .with("along", bar.along)
        .write(Store::here().manner_now());
    let words = view! {
        <span class="planting__letter">{bar.letter}</span>
        <span>
            <span class="bedyear__name">{bar.name}</span>
            <span class="bedyear__facts">{facts}</span>
        </span>
    };
    let line = match bar.way {
        Way::Choose(id) => view! {
            <button
                class="bedyear__line"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| choosing.set(Some(id.clone()))
            >
                {words}
                <span class="bedyear__do">{text("bed_plan.choose")}</span>
            </button>
        }
        .into_any(),
        Way::Page(route) => view! {
            <a class="bedyear__line" href=route.href()>
                {words}
            </a>
        }
        .into_any(),
    };
    view! { <li>{line}</li> }
}

#[component]
fn Looks() -> impl IntoView {
    let marks = [
        (Look::Stands, "bed_plan.legend.stands"),
        (Look::Chosen, "bed_plan.legend.chosen"),
        (Look::Open, "bed_plan.legend.open"),
    ];
    let marks = marks.map(|(look, key)| (Mark::Field(look.class()), key));
    view! { <Legend marks=marks.to_vec() /> }
}

/// The drawing's bars as a table.
#[component]
fn AsTable(beds: Vec<BedTold>) -> impl IntoView {
    let rows = beds
        .into_iter()
        .flat_map(|bed| bed.bars.into_iter().map(move |bar| (bed.name.clone(), bar)))
        .map(|(bed, bar)| {
            TableRow::new(bar.name)
                .with(bed)
                .with(bar.weeks)
                .with(bar.along)
        })
        .collect();
    let columns = [
        "bed_plan.col.what",
        "bed_plan.col.bed",
        "bed_plan.col.weeks",
        "bed_plan.col.along",
    ];
    let columns = columns.map(Column::Words).to_vec();
    view! {
        <details class="why">
            <summary class="why__ask">{text("year.as_table")}</summary>
            <Table caption="bed_plan.title" columns rows />
        </details>
    }
}
