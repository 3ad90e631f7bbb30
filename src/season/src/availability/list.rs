//! The availability as a short list of plain text, to be sent to florists.

use super::Line;
use crate::words::{Arg, Manner, Say};

/// The list: a heading, then each week with what can be promised in it. `names` tells a line's name; lines and weeks with nothing
/// to promise are left out, and an empty list says so.
pub fn list(lines: &[Line], title: &Say, names: impl Fn(&Line) -> Say, manner: Manner) -> String {
    let mut told = vec![title.write(manner)];
    let weeks = lines.first().map_or(0, |line| line.weeks.len());
    for n in 0..weeks {
        let mut any = false;
        for line in lines {
            let Some(week) = line.weeks.get(n).filter(|week| week.free > 0) else {
                continue;
            };
            if !any {
                any = true;
                told.push(String::new());
                let monday = week.week.monday();
                told.push(
                    Say::new("avail.list.week")
                        .with("week", week.week)
                        .with("date", monday)
                        .write(manner),
                );
            }
            told.push(
                Say::new("avail.list.line")
                    .with("name", names(line))
                    .with("n", Arg::Number(i64::from(week.free)))
                    .write(manner),
            );
        }
    }
    if told.len() == 1 {
        told.push(crate::words::text("avail.list.none").to_owned());
    }
    told.join("\n")
}
