//! Figures of a review in words.

use season::words::{Arg, Manner, Say, text};

/// A figure, or the mark for none.
pub fn or_none(say: Option<Say>, manner: Manner) -> String {
    say.map_or_else(|| text("year.none").to_owned(), |say| say.write(manner))
}

/// A plain number.
pub fn number(value: Option<f64>, decimals: usize, manner: Manner) -> String {
    or_none(
        value.map(|n| Say::new("plain.n").with("n", Arg::Decimal(n, decimals))),
        manner,
    )
}

/// So much to a metre of bed, or to a foot.
pub fn per_length(value: Option<f64>, decimals: usize, manner: Manner) -> String {
    or_none(
        value.map(|n| Say::new("plain.n").with("n", Arg::PerMetre(n, decimals))),
        manner,
    )
}

/// A share in per cent.
pub fn share(value: Option<f64>, manner: Manner) -> String {
    or_none(
        value.map(|n| Say::new("plain.n").with("n", Arg::Share(n))),
        manner,
    )
}

/// Days late or early.
pub fn days_off(days: Option<i64>, manner: Manner) -> String {
    let say = days.map(|days| match days {
        0 => Say::new("review.on_time"),
        n if n > 0 => Say::new("review.late").with("n", n),
        n => Say::new("review.early").with("n", -n),
    });
    or_none(say, manner)
}
