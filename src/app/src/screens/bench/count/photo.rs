//! Counting by photo: a picture from above, its four corners on the tray's edge, and what is seen in each cell as a proposal.
//!
//! The picture is looked at on this device and forgotten with the screen.

use imaging::protocol::Response;
use imaging::{Cell, Corners, CornersError, Look, LookError, Point, Remark, Seen};
use leptos::ev::{Event, KeyboardEvent, PointerEvent};
use leptos::html::{Canvas, Div};
use leptos::prelude::*;
use leptos::task::spawn_local;
use season::cells::Mark;
use season::words::{Say, text};
use wasm_bindgen::JsCast;
use web_sys::HtmlInputElement;

use super::Bench;
use crate::browser::eye::{Looking, look};
use crate::browser::picture::{PictureError, Pixels, opened};
use crate::parts::{Notice, NoticeKind};
use crate::store::Store;

/// Cells less sure than this are ringed for a second look.
const UNSURE: f64 = 0.5;
/// How far an arrow key moves a corner, as a share of the picture's longer side.
const NUDGE: f64 = 0.004;

/// How far it has come.
#[derive(Debug, Clone, PartialEq)]
enum Stage {
    /// No picture.
    None,
    /// The picture is being read.
    Opening,
    /// The corners are to be put in place.
    Corners,
    /// It is being looked at.
    Looking,
    /// It was looked at, and this is to be said.
    Seen(Vec<Say>),
    /// It does not look like a tray; what was seen may be taken all the same.
    Doubted(Look),
    /// It can't be done.
    Wrong(Say),
}

/// What the parts of it share.
#[derive(Clone, Copy)]
struct Shot {
    bench: Bench,
    stage: RwSignal<Stage>,
    corners: RwSignal<Corners>,
    size: RwSignal<(u32, u32)>,
    pixels: StoredValue<Option<Pixels>, LocalStorage>,
    running: StoredValue<Option<Looking>, LocalStorage>,
    canvas: NodeRef<Canvas>,
}

/// The fold in which a tray is counted by photo.
#[component]
pub(super) fn Photo(bench: Bench) -> impl IntoView {
    let shot = Shot {
        bench,
        stage: RwSignal::new(Stage::None),
        corners: RwSignal::new(Corners::inset(0, 0)),
        size: RwSignal::new((0, 0)),
        pixels: StoredValue::new_local(None),
        running: StoredValue::new_local(None),
        canvas: NodeRef::new(),
    };
    view! {
        <details class="fold">
            <summary class="fold__ask">{text("photo.ask")}</summary>
            <p class="soft">{text("photo.text")}</p>
            <label class="btn photo__choose">
                {text("photo.choose")}
                <input
                    class="visually-hidden"
                    type="file"
                    accept="image/*"
                    on:change=move |event| open(shot, &event)
                />
            </label>
            <Told shot />
            <Frame shot />
        </details>
    }
}

fn open(shot: Shot, event: &Event) {
    let input = event
        .target()
        .and_then(|t| t.dyn_into::<HtmlInputElement>().ok());
    let file = input.and_then(|input| {
        let file = input.files()?.item(0);
        // The same picture can be chosen again.
        input.set_value("");
        file
    });
    let (Some(file), Some(canvas)) = (file, shot.canvas.get_untracked()) else {
        return;
    };
    shot.running.set_value(None);
    shot.stage.set(Stage::Opening);
    spawn_local(async move {
        match opened(&file, &canvas).await {
            Ok(pixels) => {
                let size = (pixels.width, pixels.height);
                shot.pixels.try_set_value(Some(pixels));
                shot.size.try_set(size);
                shot.corners.try_set(Corners::inset(size.0, size.1));
                shot.stage.try_set(Stage::Corners);
            }
            Err(error) => {
                shot.stage
                    .try_set(Stage::Wrong(Say::new(picture_key(error))));
            }
        }
    });
}

fn picture_key(error: PictureError) -> &'static str {
    match error {
        PictureError::NotAPicture => "photo.not_a_picture",
        PictureError::TooBig => "photo.too_big",
        PictureError::NotHere => "photo.not_here",
    }
}

fn error_key(error: &LookError) -> &'static str {
    match error {
        LookError::Size { .. } | LookError::Bytes { .. } => "photo.size",
        LookError::Grid { .. } => "photo.grid",
        LookError::Corners(CornersError::Small) => "photo.corners_small",
        LookError::Corners(_) => "photo.corners_wrong",
    }
}

fn remark_key(remark: Remark) -> &'static str {
    match remark {
        Remark::Glare => "photo.glare",
        Remark::Film => "photo.film",
        Remark::Blurred => "photo.blurred",
        Remark::Dark => "photo.dark",
        Remark::NoGreen => "photo.no_green",
        Remark::NotLikeATray => "photo.not_a_tray",
    }
}

fn mark_of(seen: Seen) -> Mark {
    match seen {
        Seen::Empty => Mark::Empty,
        Seen::Up => Mark::Up,
        Seen::Two => Mark::Two,
    }
}

/// Has the picture looked at.
fn find(shot: Shot) {
    let grid = shot
        .bench
        .desk
        .with_untracked(|desk| (desk.map().rows(), desk.map().columns()));
    let corners = shot.corners.get_untracked();
    shot.stage.set(Stage::Looking);
    let told = move |tell: Response| {
        let stage = match tell {
            Response::Ready => return,
            Response::Looked(look) if look.remarks.contains(&Remark::NotLikeATray) => {
                Stage::Doubted(look)
            }
            Response::Looked(look) => Stage::Seen(take(shot.bench, &look)),
            Response::Refused(error) => Stage::Wrong(Say::new(error_key(&error))),
            Response::Failed(_) => Stage::Wrong(Say::new("photo.failed")),
        };
        shot.stage.try_set(stage);
    };
    let started = shot.pixels.with_value(|pixels| {
        let pixels = pixels.as_ref()?;
        look(pixels, corners, grid, told)
    });
    if started.is_none() {
        shot.stage.set(Stage::Wrong(Say::new("photo.failed")));
    }
    shot.running.set_value(started);
}

/// Puts what was seen onto the cells, as a proposal, and says what is to be said of it.
fn take(bench: Bench, look: &Look) -> Vec<Say> {
    let tray = bench.tray.get_untracked();
    let marks: Vec<Mark> = look.cells.iter().map(|cell| mark_of(cell.seen)).collect();
    bench.desk.update(|desk| desk.take_seen(tray, &marks));
    let from = bench.desk.with_untracked(|desk| desk.map().of_tray(tray));
    let is_unsure = |cell: &Cell| cell.certainty < UNSURE;
    let unsure: Vec<usize> = from
        .zip(&look.cells)
        .filter(|(_, seen)| is_unsure(seen))
        .map(|(cell, _)| cell)
        .collect();
    let tally = bench.desk.with_untracked(|desk| desk.tally_of(tray));
    let said = Say::new("photo.seen")
        .with("up", tally.up)
        .with_some("unsure", Some(unsure.len()).filter(|n| *n > 0));
    bench.unsure.set(unsure);
    core::iter::once(said)
        .chain(
            look.remarks
                .iter()
                .map(|remark| Say::new(remark_key(*remark))),
        )
        .collect()
}

/// What there is to say, and what comes next.
#[component]
fn Told(shot: Shot) -> impl IntoView {
    let store = Store::here();
    move || {
        let manner = store.manner();
        match shot.stage.get() {
            Stage::None => ().into_any(),
            Stage::Opening => view! { <p role="status">{text("photo.opening")}</p> }.into_any(),
            Stage::Corners => view! { <p role="status">{text("photo.corners")}</p> }.into_any(),
            Stage::Looking => view! {
                <p role="status" aria-busy="true">
                    {text("photo.looking")}
                </p>
            }
            .into_any(),
            Stage::Seen(said) => {
                let said: Vec<String> = said.iter().map(|say| say.write(manner)).collect();
                view! { <p role="status">{said.join(" ")}</p> }.into_any()
            }
            Stage::Doubted(look) => view! {
                <Notice
                    kind=NoticeKind::Caution
                    head="photo.not_a_tray.head"
                    text="photo.not_a_tray"
                >
                    <button
                        class="btn"
                        type="button"
                        on:click=move |_| {
                            let said = take(shot.bench, &look);
                            shot.stage.set(Stage::Seen(said));
                        }
                    >
                        {text("photo.all_the_same")}
                    </button>
                </Notice>
            }
            .into_any(),
            Stage::Wrong(why) => {
                view! { <Notice kind=NoticeKind::Problem head="photo.wrong" text=why /> }.into_any()
            }
        }
    }
}

/// The picture with its corners.
#[component]
fn Frame(shot: Shot) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    // Which corner a finger holds, and where it took hold: corner's place and finger's, in pixels of the picture.
    let held = StoredValue::new(None::<(usize, Point, Point)>);
    let there = move || shot.size.with(|(width, height)| *width > 0 && *height > 0);
    let at = move |event: &PointerEvent| {
        let frame = frame.get_untracked()?;
        let (width, height) = shot.size.get_untracked();
        let share = |px: i32, span: i32| f64::from(px) / f64::from(span.max(1));
        // The corners let fingers through: what is touched is the picture or, once a finger is held, the frame that it fills.
        Some(Point::new(
            share(event.offset_x(), frame.client_width()) * f64::from(width),
            share(event.offset_y(), frame.client_height()) * f64::from(height),
        ))
    };
    let down = move |event: PointerEvent| {
        let Some(finger) = at(&event) else { return };
        event.prevent_default();
        let corners = shot.corners.get_untracked();
        let corner = corners.nearest(finger);
        held.set_value(Some((corner, corners.0[corner], finger)));
        if let Some(frame) = frame.get_untracked() {
            let _captured = frame.set_pointer_capture(event.pointer_id());
        }
    };
    // The corner goes as far as the finger does, so that the thumb need not lie on it.
    let go = move |event: PointerEvent| {
        let (Some((corner, from, start)), Some(finger)) = (held.get_value(), at(&event)) else {
            return;
        };
        let to = Point::new(from.x + finger.x - start.x, from.y + finger.y - start.y);
        let (width, height) = shot.size.get_untracked();
        shot.corners
            .update(|corners| *corners = corners.moved(corner, to, width, height));
    };
    let up = move |_: PointerEvent| held.set_value(None);
    let outline = move || {
        let corners = shot.corners.get();
        let points = corners.0.map(|p| format!("{:.1},{:.1}", p.x, p.y));
        points.join(" ")
    };
    let size = move || {
        shot.size
            .with(|(width, height)| format!("0 0 {width} {height}"))
    };
    let handles = (0..4)
        .map(|corner| view! { <Handle shot corner /> })
        .collect_view();
    view! {
        <div class="photo" hidden=move || !there()>
            <div
                class="photo__frame"
                node_ref=frame
                on:pointerdown=down
                on:pointermove=go
                on:pointerup=up
                on:pointercancel=up
            >
                <canvas class="photo__picture" node_ref=shot.canvas></canvas>
                <svg class="photo__outline" viewBox=size preserveAspectRatio="none" aria-hidden="true">
                    <polygon points=outline />
                </svg>
                {handles}
            </div>
            <div class="actions">
                <button
                    class="btn"
                    type="button"
                    on:click=move |_| shot.corners.update(|corners| *corners = corners.turned())
                >
                    {text("photo.turn")}
                </button>
                <button
                    class="btn btn--primary"
                    type="button"
                    disabled=move || shot.stage.with(|stage| *stage == Stage::Looking)
                    on:click=move |_| find(shot)
                >
                    {text("photo.find")}
                </button>
            </div>
        </div>
    }
}

/// A corner that keys move, too.
#[component]
fn Handle(shot: Shot, corner: usize) -> impl IntoView {
    let store = Store::here();
    let share = move |x: bool| {
        let point = shot.corners.get().0[corner];
        let (width, height) = shot.size.get();
        let of = if x {
            point.x / f64::from(width.max(1))
        } else {
            point.y / f64::from(height.max(1))
        };
        format!("{:.2}%", of * 100.0)
    };
    let key = move |event: KeyboardEvent| {
        let (width, height) = shot.size.get_untracked();
        let step = NUDGE * f64::from(width.max(height));
        let by = match event.key().as_str() {
            "ArrowLeft" => Point::new(-step, 0.0),
            "ArrowRight" => Point::new(step, 0.0),
            "ArrowUp" => Point::new(0.0, -step),
            "ArrowDown" => Point::new(0.0, step),
            _ => return,
        };
        event.prevent_default();
        shot.corners
            .update(|corners| *corners = corners.nudged(corner, by, width, height));
    };
    let label = move || {
        Say::new("photo.corner")
            .with("n", corner + 1)
            .write(store.manner())
    };
    view! {
        <button
            class="photo__corner"
            type="button"
            aria-label=label
            style:left=move || share(true)
            style:top=move || share(false)
            on:keydown=key
        >
            {corner + 1}
        </button>
    }
}
