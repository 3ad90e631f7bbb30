//! A planned sowing's line in the drawing, and the ways to move it: a hand, keys, buttons.

use agronomy::iso_week::IsoWeek;
use chrono::{Days, NaiveDate};
use leptos::ev::{KeyboardEvent, PointerEvent};
use leptos::prelude::*;
use season::forecast::Source;
use season::ids::PlannedId;
use season::words::{Manner, Say, text};
use wasm_bindgen::JsCast;
use web_sys::Element;

use super::axis::Axis;
use super::lives::Life;
use super::moved::Mover;
use super::year::{Line, percent, strokes_of, when};
use crate::browser::page;
use crate::parts::{Icon, SaveButton, SaveProblem};

/// Days by which buttons and arrow keys move a sowing.
const WEEK: i64 = 7;
/// Weeks by which the page keys move it.
const PAGE_WEEKS: i64 = 4;

/// A hand on a line.
#[derive(Clone, Copy)]
struct Grip {
    /// Where it took hold, px.
    x: i32,
    /// What a week is wide, px.
    week_px: f64,
    /// The day of sowing when it took hold.
    sow: NaiveDate,
    /// Whether the line was held before.
    held: bool,
}

/// A day some days on.
fn moved_by(date: NaiveDate, days: i64) -> NaiveDate {
    let by = Days::new(days.unsigned_abs());
    let to = if days < 0 {
        date.checked_sub_days(by)
    } else {
        date.checked_add_days(by)
    };
    to.unwrap_or(date)
}

/// Days that a hand has moved a line by: whole weeks.
fn days_by_hand(px: i32, week_px: f64) -> i64 {
    if week_px > 0.0 {
        (f64::from(px) / week_px).round() as i64 * WEEK
    } else {
        0
    }
}

/// Days that a key moves a line by.
fn days_by_key(key: &str) -> Option<i64> {
    match key {
        "ArrowLeft" | "ArrowDown" => Some(-WEEK),
        "ArrowRight" | "ArrowUp" => Some(WEEK),
        "PageDown" => Some(-PAGE_WEEKS * WEEK),
        "PageUp" => Some(PAGE_WEEKS * WEEK),
        _ => None,
    }
}

fn element_id(id: &PlannedId) -> String {
    format!("move-{id}")
}

/// Puts the focus back on a line once the page has drawn it anew.
fn focus_line(id: PlannedId) {
    request_animation_frame(move || {
        page::focus(&format!("[id=\"{}\"]", element_id(&id)));
    });
}

/// One planned sowing's line.
#[component]
pub fn PlannedLine(
    /// The line as recorded.
    line: Line,
    /// Which planned sowing.
    id: PlannedId,
    /// The weeks along the bottom.
    axis: Axis,
    /// Today.
    today: NaiveDate,
    /// The reader's units.
    manner: Manner,
    /// What holds a line.
    mover: Mover,
) -> impl IntoView {
    let recorded = line.life.course.sown;
    let key = StoredValue::new(id.clone());
    let moved = Memo::new(move |_| {
        mover.with(|held| {
            let held = held.filter(|held| key.with_value(|key| held.id == *key))?;
            Some(held.now.clone())
        })
    });
    let as_recorded = StoredValue::new(line.life.course.clone());
    let life = move || {
        let course = moved.get().unwrap_or_else(|| as_recorded.get_value());
        Life::new(Source::Planned(key.get_value()), course, today)
    };
    let sow_now = move || key.with_value(|key| mover.sow_now(key)).unwrap_or(recorded);
    let hold = move |sow: NaiveDate| key.with_value(|key| mover.hold(key, sow));
    let step = Callback::new(move |days: i64| hold(moved_by(sow_now(), days)));
    let keep = Callback::new(move |()| {
        let id = key.get_value();
        mover.keep(move || focus_line(id));
    });
    let put_back = Callback::new(move |()| {
        mover.put_back();
        focus_line(key.get_value());
    });

    let grip = StoredValue::new(None::<Grip>);
    let on_down = move |event: PointerEvent| {
        if event.button() != 0 {
            return;
        }
        let Some(element) = event
            .current_target()
            .and_then(|target| target.dyn_into::<Element>().ok())
        else {
            return;
        };
        // Without it a hand that leaves the line would lose it.
        let _ = element.set_pointer_capture(event.pointer_id());
        let weeks = axis.weeks().count().max(1) as f64;
        grip.set_value(Some(Grip {
            x: event.client_x(),
            week_px: f64::from(element.client_width()) / weeks,
            sow: sow_now(),
            held: moved.with_untracked(Option::is_some),
        }));
    };
    let on_move = move |event: PointerEvent| {
        if let Some(hand) = grip.get_value() {
            let days = days_by_hand(event.client_x() - hand.x, hand.week_px);
            let to = moved_by(hand.sow, days);
            if to != sow_now() {
                hold(to);
            }
        }
    };
    // A tap takes hold without moving, so that the buttons appear.
    let on_up = move |_: PointerEvent| {
        if grip.get_value().is_some() {
            hold(sow_now());
        }
        grip.set_value(None);
    };
    // The page scrolls instead: all as before.
    let on_cancel = move |_: PointerEvent| {
        if let Some(hand) = grip.get_value() {
            if hand.held {
                hold(hand.sow);
            } else {
                mover.put_back();
            }
        }
        grip.set_value(None);
    };
    let on_key = move |event: KeyboardEvent| {
        let key = event.key();
        match (key.as_str(), days_by_key(&key)) {
            (_, Some(days)) => step.run(days),
            ("Home", _) => hold(recorded),
            ("Enter", _) if moved.with_untracked(Option::is_some) => keep.run(()),
            ("Enter" | " ", _) => hold(sow_now()),
            ("Escape", _) if moved.with_untracked(Option::is_some) => put_back.run(()),
            _ => return,
        }
        event.prevent_default();
        event.stop_propagation();
    };

    let sown = move || moved.with(|moved| moved.as_ref().map_or(recorded, |moved| moved.sown));
    let weeks_on = move || {
        let week = IsoWeek::of(sown());
        IsoWeek::of(today).weeks_until(week).to_string()
    };
    let told = move || when(&life()).write(manner);
    let slider = Say::new("year.move.label")
        .with("name", line.name.clone())
        .write(manner);
    let now = percent(axis.x(today));
    view! {
        <li>
            <div class="life life--planned">
                <a class="life__words" href=line.to.href()>
                    <span class="life__name">{line.name.clone()}</span>
                    " "
                    <span class="life__when">{told}</span>
                    {line
                        .hold
                        .map(|say| {
                            view! {
                                <span class="life__hold">
                                    <Icon name="caution" small=true />
                                    {say.write(manner)}
                                </span>
                            }
                        })}
                </a>
                <div
                    class="life__mover"
                    class:life__mover--held=move || moved.with(Option::is_some)
                    id=element_id(&id)
                    role="slider"
                    tabindex="0"
                    aria-label=slider
                    aria-valuemin="0"
                    aria-valuemax="52"
                    aria-valuenow=weeks_on
                    aria-valuetext=told
                    on:pointerdown=on_down
                    on:pointermove=on_move
                    on:pointerup=on_up
                    on:pointercancel=on_cancel
                    on:keydown=on_key
                >
                    <svg class="life__line" aria-hidden="true">
                        {move || strokes_of(axis, &life())}
                        <circle
                            class="life__grip no-print"
                            cx=move || percent(axis.x(sown()))
                            cy="25"
                            r="7"
                        ></circle>
                        <line class="year__now" x1=now.clone() x2=now y1="0" y2="30"></line>
                    </svg>
                </div>
            </div>
            <Panel mover key step keep put_back />
        </li>
    }
}

/// What the move comes to, with its buttons, while this line is held.
#[component]
fn Panel(
    mover: Mover,
    key: StoredValue<PlannedId>,
    step: Callback<i64>,
    keep: Callback<()>,
    put_back: Callback<()>,
) -> impl IntoView {
    let manner = crate::store::Store::here().manner_now();
    let mine = move |held: Option<&super::moved::Moved>| {
        held.is_some_and(|held| key.with_value(|key| held.id == *key))
    };
    let open = Memo::new(move |_| mover.with(mine));
    let said = move || {
        mover.with(|held| {
            let said = held.map(|held| held.said.clone()).unwrap_or_default();
            said.into_iter()
                .map(|say| view! { <li>{say.write(manner)}</li> })
                .collect_view()
        })
    };
    let elsewhere = Memo::new(move |_| mover.with(|held| held.is_some_and(|h| h.is_elsewhere())));
    move || {
        open.get().then(|| {
            view! {
                <div class="mover no-print">
                    <ul class="mover__said">{said}</ul>
                    <div class="actions">
                        <button class="btn" type="button" on:click=move |_| step.run(-WEEK)>
                            <span aria-hidden="true">"←"</span>
                            {text("year.move.earlier")}
                        </button>
                        <button class="btn" type="button" on:click=move |_| step.run(WEEK)>
                            {text("year.move.later")}
                            <span aria-hidden="true">"→"</span>
                        </button>
                        {move || {
                            elsewhere
                                .get()
                                .then(|| {
                                    view! {
                                        <SaveButton
                                            saver=mover.saver
                                            label="year.move.keep"
                                            on_tap=keep
                                        />
                                    }
                                })
                        }}
                        <button class="btn" type="button" on:click=move |_| put_back.run(())>
                            {move || {
                                text(
                                    if elsewhere.get() {
                                        "year.move.put_back"
                                    } else {
                                        "year.move.done"
                                    },
                                )
                            }}
                        </button>
                    </div>
                    <SaveProblem saver=mover.saver />
                </div>
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_moves_a_line_by_whole_weeks() {
        // 52 weeks on a phone 358 px wide.
        let week = 358.0 / 52.0;
        assert_eq!(days_by_hand(3, week), 0);
        assert_eq!(days_by_hand(4, week), 7);
        assert_eq!(days_by_hand(-14, week), -14);
        assert_eq!(days_by_hand(100, 0.0), 0, "a line that is not shown");
    }

    #[test]
    fn keys_move_it_as_far_as_they_say() {
        assert_eq!(days_by_key("ArrowLeft"), Some(-7));
        assert_eq!(days_by_key("ArrowRight"), Some(7));
        assert_eq!(days_by_key("PageUp"), Some(28));
        assert_eq!(days_by_key("Tab"), None);
        let day = |text: &str| text.parse::<NaiveDate>().unwrap();
        assert_eq!(moved_by(day("2027-03-01"), -7), day("2027-02-22"));
    }
}
