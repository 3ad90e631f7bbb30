//! One sheet as a drawing in millimetres: what is seen on the screen is what is printed.

use std::sync::Arc;

use leptos::prelude::*;
use season::words::Say;

use crate::label::composition::{Line, compose};
use crate::label::stock::{Cut, POINT_MM, Place, Stock};
use crate::label::told::LabelText;

/// A code as it is drawn.
pub(super) struct Drawn {
    /// Points along one side, the light border included.
    pub side: u32,
    /// Its dark points.
    pub path: String,
}

/// One label to print.
#[derive(Clone)]
pub(super) struct Label {
    /// What it says.
    pub text: LabelText,
    /// Its code; none where the address is too long for any.
    pub code: Option<Arc<Drawn>>,
}

/// A sheet with labels in their places.
pub(super) fn draw_sheet(
    stock: &Stock,
    places: &[Place],
    labels: &[Label],
    name: String,
) -> impl IntoView + use<> {
    let (wide, high) = stock.paper.size_mm();
    let drawn = places
        .iter()
        .filter_map(|place| Some(draw_label(stock, place, labels.get(place.label)?)))
        .collect_view();
    view! {
        <div class="sheets__page">
            <svg
                class="sheets__paper"
                role="group"
                aria-label=name
                viewBox=format!("0 0 {wide:.2} {high:.2}")
            >
                {drawn}
            </svg>
        </div>
    }
}

fn draw_label(stock: &Stock, place: &Place, label: &Label) -> impl IntoView + use<> {
    let laid = compose(&label.text, stock);
    let (wide, high) = stock.label_mm;
    let lines = laid.lines.into_iter().map(draw_line).collect_view();
    let named = Say::new("labels.code")
        .with_some("number", label.text.number.clone())
        .with("name", label.text.name.clone())
        .write(Default::default());
    let square = laid.code;
    let code = label.code.as_ref().map(|code| {
        view! {
            <svg
                class="label__code"
                role="img"
                aria-label=named
                x=mm(square.x_mm)
                y=mm(square.y_mm)
                width=mm(square.side_mm)
                height=mm(square.side_mm)
                viewBox=format!("0 0 {0} {0}", code.side)
            >
                <path d=code.path.clone() shape-rendering="crispEdges" />
            </svg>
        }
    });
    // What does not fit a label does not run into the next one: an inner drawing ends at its edge.
    view! {
        <svg
            class="label"
            x=mm(place.x_mm)
            y=mm(place.y_mm)
            width=mm(wide)
            height=mm(high)
            viewBox=format!("0 0 {wide:.2} {high:.2}")
        >
            {outline(stock).map(|d| view! { <path class="label__cut" d=d /> })}
            {lines}
            {code}
        </svg>
    }
}

fn draw_line(line: Line) -> impl IntoView + use<> {
    let class = if line.strong {
        "label__line label__line--strong"
    } else {
        "label__line"
    };
    view! {
        <text class=class x=mm(line.x_mm) y=mm(line.y_mm) font-size=mm(line.size_mm)>
            {line.text}
        </text>
    }
}

/// Where to cut.
fn outline(stock: &Stock) -> Option<String> {
    let (wide, high) = stock.label_mm;
    match stock.cut {
        Cut::Nothing => None,
        Cut::Edges => Some(format!("M0 0H{wide}V{high}H0Z")),
        Cut::Point => Some(format!(
            "M{POINT_MM} 0H{wide}V{high}H{POINT_MM}L0 {}Z",
            high / 2.0
        )),
    }
}

/// A length to a hundredth of a millimetre: finer than any printer.
fn mm(length: f64) -> String {
    format!("{length:.2}")
}
