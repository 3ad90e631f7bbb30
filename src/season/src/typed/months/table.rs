//! A pasted table of lowest and highest temperatures: twelve rows of two figures, or two rows of twelve.

use crate::typed::plain_number;
use crate::words::{Arg, Say, text};

use super::{MONTHS, month_of};

/// Figures of the year under a name, which may be empty.
struct Series {
    name: String,
    figures: [f64; 12],
}

/// Lowest and highest by month, January first, out of a table with or without names of months and a header; the months may begin
/// anywhere if they are named. Which is which, the header says; else the lower of the two is the lowest. A thirteenth figure,
/// of the year, is passed over, and so is a mean between the two.
pub fn two_rows(typed: &str) -> Result<[[f64; 12]; 2], Say> {
    if typed.trim().is_empty() {
        return Err(Say::new("typed.no_table"));
    }
    let lines: Vec<Vec<&str>> = typed
        .lines()
        .map(cells)
        .filter(|cells| !cells.is_empty())
        .collect();
    let found = wide(&lines).or_else(|| tall(&lines)).unwrap_or_default();
    let [low, high] = low_and_high(found).ok_or_else(|| Say::new("typed.not_table"))?;
    match (0..12).find(|month| low[*month] > high[*month]) {
        Some(month) => {
            Err(Say::new("typed.months_upside_down").with("month", Arg::Key(MONTHS[month])))
        }
        None => Ok([low, high]),
    }
}

/// Cells of a line: parted by tabs or semicolons where there are any, else by blanks.
fn cells(line: &str) -> Vec<&str> {
    let by_mark = line.contains(['\t', ';']);
    line.split(|c: char| {
        if by_mark {
            matches!(c, '\t' | ';')
        } else {
            c.is_whitespace()
        }
    })
    .map(|cell| cell.trim().trim_end_matches(','))
    .filter(|cell| !cell.is_empty())
    .collect()
}

fn numbers(cells: &[&str]) -> Vec<f64> {
    cells.iter().filter_map(|cell| plain_number(cell)).collect()
}

/// Twelve figures with January first, given the months that they are of.
fn turned(figures: &[f64], months: &[u32]) -> Option<[f64; 12]> {
    let figures: [f64; 12] = figures.get(..12)?.try_into().ok()?;
    if months.len() < 12 {
        return Some(figures);
    }
    let mut year = [None; 12];
    for (month, figure) in months.iter().zip(figures) {
        *year.get_mut(*month as usize - 1)? = Some(figure);
    }
    year.iter()
        .copied()
        .collect::<Option<Vec<f64>>>()?
        .try_into()
        .ok()
}

/// Rows of twelve figures.
fn wide(lines: &[Vec<&str>]) -> Option<Vec<Series>> {
    let months: Vec<u32> = lines
        .iter()
        .map(|cells| {
            cells
                .iter()
                .filter_map(|cell| month_of(cell))
                .collect::<Vec<u32>>()
        })
        .find(|months| months.len() == 12)
        .unwrap_or_default();
    let series: Vec<Series> = lines
        .iter()
        .filter_map(|cells| {
            let figures = numbers(cells);
            let words = cells.iter().filter(|cell| plain_number(cell).is_none());
            let name = words.copied().collect::<Vec<_>>().join(" ");
            let fits = (12..=13).contains(&figures.len()) && !is_month_numbers(&figures);
            Some(Series {
                name,
                figures: turned(&figures, &months).filter(|_| fits)?,
            })
        })
        .collect();
    (series.len() >= 2).then_some(series)
}

/// Columns of twelve figures.
fn tall(lines: &[Vec<&str>]) -> Option<Vec<Series>> {
    let rows: Vec<(&Vec<&str>, Vec<f64>)> = lines
        .iter()
        .map(|cells| (cells, numbers(cells)))
        .filter(|(_, figures)| figures.len() >= 2)
        .take(12)
        .collect();
    let width = rows.first()?.1.len();
    if rows.len() < 12 || rows.iter().any(|(_, figures)| figures.len() != width) {
        return None;
    }
    let months: Vec<u32> = rows
        .iter()
        .filter_map(|(cells, _)| month_of(cells.first()?))
        .collect();
    let header = lines.iter().find(|cells| numbers(cells).is_empty());
    let of_column = |column: usize| {
        let column_of: Vec<f64> = rows
            .iter()
            .filter_map(|(_, f)| f.get(column).copied())
            .collect();
        // Names stand above the last columns: the months' own may have none.
        let name = header.and_then(|names| names.get((names.len() + column).checked_sub(width)?));
        Some(Series {
            name: name.map(|name| (*name).to_owned()).unwrap_or_default(),
            figures: turned(&column_of, &months).filter(|_| !is_month_numbers(&column_of))?,
        })
    };
    Some((0..width).filter_map(of_column).collect())
}

/// 1 to 12 in order: numbers of months, not temperatures.
fn is_month_numbers(figures: &[f64]) -> bool {
    let mut counted = (1..=12).map(f64::from).zip(figures);
    figures.len() >= 12 && counted.all(|(month, figure)| (month - figure).abs() < 1e-9)
}

fn low_and_high(mut found: Vec<Series>) -> Option<[[f64; 12]; 2]> {
    let named = |series: &Series, key| {
        let name = series.name.to_lowercase();
        text(key).split(',').any(|word| name.contains(word.trim()))
    };
    let of_name = |key, other| {
        let mut fits = found.iter().filter(|s| named(s, key) && !named(s, other));
        let first = fits.next().map(|series| series.figures);
        first.filter(|_| fits.next().is_none())
    };
    let (low, high) = ("paste.word.low", "paste.word.high");
    if let (Some(low), Some(high)) = (of_name(low, high), of_name(high, low)) {
        return Some([low, high]);
    }
    let sum = |series: &Series| series.figures.iter().sum::<f64>();
    found.sort_by(|a, b| sum(a).total_cmp(&sum(b)));
    match found.as_slice() {
        [low, high] | [low, _, high] => Some([low.figures, high.figures]),
        _ => None,
    }
}
