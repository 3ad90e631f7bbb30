//! A sentence before it is put into words: a key and what goes into it.

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::{Celsius, Spread, TemperatureDifference};
use chrono::NaiveDate;

use super::manner::{Manner, rounded};
use super::{measured, text};
use crate::month_day::MonthDay;

/// What goes into a sentence.
#[derive(Debug, Clone, PartialEq)]
pub enum Arg {
    /// A whole number.
    Number(i64),
    /// A number with so many decimals.
    Decimal(f64, usize),
    /// A share of one, written in whole per cent.
    Share(f64),
    /// A share of one whose tenths of a per cent count: a small one, or one to compare by.
    FineShare(f64),
    /// A day of this season.
    Date(NaiveDate),
    /// A day of any year.
    DayMonth(MonthDay),
    /// A week.
    Week(IsoWeek),
    /// A temperature, C.
    Temperature(f64),
    /// How much warmer or colder.
    Difference(TemperatureDifference),
    /// A length, m.
    Length(f64),
    /// A distance between plants, cm.
    Spacing(f64),
    /// So much to a square metre.
    PerArea(f64),
    /// So many to a gram.
    PerWeight(f64),
    /// Degree-days C.
    DegreeDays(f64),
    /// A width as fine as print, mm.
    Fine(f64),
    /// So much to a metre of bed, with so many decimals; the unit stands in the sentence or the column's head.
    PerMetre(f64, usize),
    /// A note of the crop reference, whose figures are written in the reader's units.
    Note(String),
    /// A text as it is: a name or a note that the grower gave.
    Text(String),
    /// Another key of the catalogue.
    Key(&'static str),
    /// Another sentence.
    Said(Box<Say>),
}

impl Arg {
    /// By itself, in a reader's manner.
    pub fn written(&self, manner: Manner) -> String {
        self.write(manner)
    }

    fn write(&self, manner: Manner) -> String {
        match self {
            Self::Number(n) => rounded(*n as f64, 0),
            Self::Decimal(x, decimals) => rounded(*x, *decimals),
            Self::Share(x) => percent(*x, 0),
            Self::FineShare(x) => percent(*x, 1),
            Self::Date(date) => manner.date(*date),
            Self::DayMonth(day) => manner.day_of_year(*day),
            Self::Week(week) => text("week.short").replace("{n}", &week.week().to_string()),
            Self::Temperature(c) => manner.temperature(*c),
            Self::Difference(by) => manner.temperature_difference(*by),
            Self::Length(m) => manner.length(*m),
            Self::Spacing(cm) => manner.spacing(*cm),
            Self::PerArea(n) => manner.per_area(*n),
            Self::PerWeight(n) => manner.per_weight(*n),
            Self::DegreeDays(sum) => manner.degree_days(*sum),
            Self::Fine(mm) => manner.fine_width(*mm),
            Self::PerMetre(n, decimals) => rounded(manner.per_length_value(*n), *decimals),
            Self::Note(note) => measured::written(note, manner),
            Self::Text(text) => text.clone(),
            Self::Key(key) => text(key).to_owned(),
            Self::Said(say) => say.write(manner),
        }
    }

    fn is_one(&self) -> bool {
        matches!(self, Self::Number(1))
    }
}

fn percent(share: f64, decimals: usize) -> String {
    format!(
        "{}{}",
        rounded(share * 100.0, decimals),
        text("unit.percent")
    )
}

macro_rules! from_whole {
    ($($type:ty),+) => {$(
        impl From<$type> for Arg {
            fn from(n: $type) -> Self {
                Self::Number(i64::try_from(n).unwrap_or(i64::MAX))
            }
        }
    )+};
}

from_whole!(u8, u32, i32, i64, usize);

impl From<NaiveDate> for Arg {
    fn from(date: NaiveDate) -> Self {
        Self::Date(date)
    }
}

impl From<MonthDay> for Arg {
    fn from(day: MonthDay) -> Self {
        Self::DayMonth(day)
    }
}

impl From<IsoWeek> for Arg {
    fn from(week: IsoWeek) -> Self {
        Self::Week(week)
    }
}

impl From<Celsius> for Arg {
    fn from(at: Celsius) -> Self {
        Self::Temperature(at.0)
    }
}

impl From<TemperatureDifference> for Arg {
    fn from(by: TemperatureDifference) -> Self {
        Self::Difference(by)
    }
}

impl From<&str> for Arg {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Arg {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<Say> for Arg {
    fn from(say: Say) -> Self {
        Self::Said(Box::new(say))
    }
}

/// A sentence: a key of the catalogue and its arguments.
#[derive(Debug, Clone, PartialEq)]
pub struct Say {
    key: &'static str,
    args: Vec<(&'static str, Arg)>,
}

impl Say {
    /// A sentence without arguments so far.
    pub fn new(key: &'static str) -> Self {
        Self {
            key,
            args: Vec::new(),
        }
    }

    /// With an argument.
    #[must_use]
    pub fn with(mut self, name: &'static str, arg: impl Into<Arg>) -> Self {
        self.args.push((name, arg.into()));
        self
    }

    /// With an argument, if there is one.
    #[must_use]
    pub fn with_some(self, name: &'static str, arg: Option<impl Into<Arg>>) -> Self {
        match arg {
            Some(arg) => self.with(name, arg),
            None => self,
        }
    }

    /// With three numbers `low`, `mid` and `high`, rounded to whole ones.
    #[must_use]
    pub fn with_spread(self, spread: Spread<f64>) -> Self {
        self.with("low", Arg::Number(spread.p10.round() as i64))
            .with("mid", Arg::Number(spread.p50.round() as i64))
            .with("high", Arg::Number(spread.p90.round() as i64))
    }

    /// The key.
    pub fn key(&self) -> &'static str {
        self.key
    }

    fn arg(&self, name: &str) -> Option<&Arg> {
        self.args
            .iter()
            .find(|(n, _)| *n == name)
            .map(|(_, arg)| arg)
    }

    /// In words.
    pub fn write(&self, manner: Manner) -> String {
        self.fill(text(self.key), manner)
    }

    fn fill(&self, template: &str, manner: Manner) -> String {
        let mut out = String::with_capacity(template.len() + 32);
        let mut rest = template;
        while let Some(open) = rest.find('{') {
            out.push_str(&rest[..open]);
            let Some(close) = closing(&rest[open..]) else {
                rest = &rest[open..];
                break;
            };
            self.slot(&rest[open + 1..open + close], manner, &mut out);
            rest = &rest[open + close + 1..];
        }
        out.push_str(rest);
        out
    }

    fn slot(&self, slot: &str, manner: Manner, out: &mut String) {
        if let Some((name, inner)) = slot.split_once('?') {
            if self.arg(name).is_some() {
                out.push_str(&self.fill(inner, manner));
            }
        } else if let Some((name, words)) = slot.split_once('|') {
            let (one, more) = words.split_once('|').unwrap_or((words, words));
            out.push_str(if self.arg(name).is_some_and(Arg::is_one) {
                one
            } else {
                more
            });
        } else if let Some(arg) = self.arg(slot) {
            out.push_str(&arg.write(manner));
        }
    }
}

/// The place of the brace that closes the one a text begins with.
fn closing(text: &str) -> Option<usize> {
    let mut depth = 0usize;
    for (at, c) in text.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => {
                depth -= 1;
                if depth == 0 {
                    return Some(at);
                }
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slots_are_filled_pluralised_and_left_out() {
        let say = Say::new("x").with("n", 1u32).with("who", "Ada");
        let m = Manner::default();
        assert_eq!(
            say.fill("{n} {n|stem|stems} for {who}{date? on {date}}.", m),
            "1 stem for Ada."
        );
        let say = Say::new("x").with("n", 2u32);
        assert_eq!(
            say.fill("{n} {n|stem|stems}{who? for {who}}.", m),
            "2 stems."
        );
        assert_eq!(say.fill("open { brace", m), "open { brace");
    }
}
