//! Tables of words and figures. On a phone every row stands by itself, each cell beside the head of its column.

use leptos::prelude::*;
use season::words::text;

/// A column by the key of its head.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    /// Of words.
    Words(&'static str),
    /// Of figures, one under the other.
    Figures(&'static str),
    /// Without a head: of what speaks for itself.
    Bare,
}

impl Column {
    fn class(self) -> Option<&'static str> {
        matches!(self, Self::Figures(_)).then_some("table__num")
    }

    fn head(self) -> Option<&'static str> {
        match self {
            Self::Words(key) | Self::Figures(key) => Some(text(key)),
            Self::Bare => None,
        }
    }
}

/// A row: what it is about, then a cell for each further column.
pub struct TableRow {
    name: AnyView,
    cells: Vec<AnyView>,
}

impl TableRow {
    /// A row by its name; cells follow.
    pub fn new(name: impl IntoView + 'static) -> Self {
        Self {
            name: name.into_any(),
            cells: Vec::new(),
        }
    }

    /// With one more cell.
    pub fn with(mut self, cell: impl IntoView + 'static) -> Self {
        self.cells.push(cell.into_any());
        self
    }
}

/// The table.
#[component]
pub fn Table(
    /// The key of what readers hear it called.
    caption: &'static str,
    /// Its columns, the one of the rows' names first.
    columns: Vec<Column>,
    /// Its rows, each with a cell for every further column.
    rows: Vec<TableRow>,
) -> impl IntoView {
    let heads = columns
        .iter()
        .map(|column| match column.head() {
            Some(head) => view! {
                <th scope="col" role="columnheader" class=column.class()>
                    {head}
                </th>
            }
            .into_any(),
            None => view! { <td role="cell"></td> }.into_any(),
        })
        .collect_view();
    let rows = rows
        .into_iter()
        .map(|row| {
            let cells = row
                .cells
                .into_iter()
                .zip(columns.iter().skip(1))
                .map(|(cell, column)| {
                    view! {
                        <td class=column.class() role="cell" data-label=column.head()>
                            {cell}
                        </td>
                    }
                })
                .collect_view();
            view! {
                <tr role="row">
                    <th scope="row" role="rowheader">
                        {row.name}
                    </th>
                    {cells}
                </tr>
            }
        })
        .collect_view();
    view! {
        <table class="table table--stack" role="table">
            <caption class="visually-hidden">{text(caption)}</caption>
            <thead role="rowgroup">
                <tr role="row">{heads}</tr>
            </thead>
            <tbody role="rowgroup">{rows}</tbody>
        </table>
    }
}
