//! Under the lines of the year: stems expected against stems wanted, week by week, of each target and of each role.

use std::fmt::Write as _;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::coverage::{Cover, WeekCover, coverage};
use season::fact::Role;
use season::forecast::Outlook;
use season::roles::{RoleCover, roles};
use season::words::{Arg, Manner, Say, text};

use super::axis::Axis;
use super::legend::{Legend, Mark};
use super::moved::Mover;
use super::roles::verdict;
use super::weeks::weeks;
use super::year::percent;
use crate::screens::wanted;
use crate::store::Store;

/// How high the fullest week reaches, of 100.
const HIGHEST: f64 = 92.0;

/// One week of a chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Which.
    pub week: IsoWeek,
    /// Stems expected.
    pub stems: Spread<f64>,
    /// Stems wanted.
    pub wanted: f64,
    /// Whether it counts as short.
    pub short: bool,
}

/// One chart: a target's weeks, or a role's.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Its name.
    pub name: String,
    /// How it stands, in a sentence.
    pub note: String,
    /// Its weeks in order, none left out.
    pub steps: Vec<Step>,
}

/// Outlines of a chart on a ground of 100 by 100.
#[derive(Debug, Clone, PartialEq)]
struct Outlines {
    /// Stems that come even in a poor season: from the ground to the 10 in 100.
    sure: String,
    /// From there to the middle.
    likely: String,
    /// From the middle to the 90 in 100.
    maybe: String,
    /// Stems wanted, a line of steps.
    wanted: String,
    /// Runs of short weeks: from and to, percent.
    short: Vec<(f64, f64)>,
}

/// A line of steps from left to right, and back.
pub(super) fn stairs(corners: &[(f64, f64, f64)], start: char, back: bool) -> String {
    let mut path = String::new();
    let mut join = start;
    let mut point = |x: f64, y: f64| {
        // Writing into a text does not fail.
        let _ = write!(path, "{join}{x:.2} {y:.1} ");
        join = 'L';
    };
    if back {
        for (from, to, y) in corners.iter().rev() {
            point(*to, *y);
            point(*from, *y);
        }
    } else {
        for (from, to, y) in corners {
            point(*from, *y);
            point(*to, *y);
        }
    }
    path
}

/// The ground between two heights of the same weeks.
pub(super) fn between(low: &[(f64, f64, f64)], high: &[(f64, f64, f64)]) -> String {
    if low.is_empty() {
        return String::new();
    }
    format!("{}{}Z", stairs(high, 'M', false), stairs(low, 'L', true))
}

fn outlines(axis: Axis, steps: &[Step]) -> Outlines {
    let most = steps
        .iter()
        .map(|step| step.stems.p90.max(step.wanted))
        .fold(1.0, f64::max);
    let at = |height: &dyn Fn(&Step) -> f64| -> Vec<(f64, f64, f64)> {
        steps
            .iter()
            .map(|step| {
                let (from, to) = ends(axis, step.week);
                (from, to, 100.0 - height(step) / most * HIGHEST)
            })
            .collect()
    };
    let ground = at(&|_| 0.0);
    let low = at(&|step| step.stems.p10);
    let middle = at(&|step| step.stems.p50);
    let high = at(&|step| step.stems.p90);
    Outlines {
        sure: between(&ground, &low),
        likely: between(&low, &middle),
        maybe: between(&middle, &high),
        wanted: stairs(&at(&|step| step.wanted), 'M', false),
        short: steps
            .chunk_by(|a, b| a.short == b.short)
            .filter(|run| run.first().is_some_and(|step| step.short))
            .filter_map(|run| {
                Some((
                    ends(axis, run.first()?.week).0,
                    ends(axis, run.last()?.week).1,
                ))
            })
            .collect(),
    }
}

/// Where a week begins and ends, percent.
pub(super) fn ends(axis: Axis, week: IsoWeek) -> (f64, f64) {
    let next = week.plus(1).monday();
    (axis.x(week.monday()), axis.x(next))
}

fn of_target(almanac: &Almanac<'_>, cover: &Cover, manner: Manner) -> Option<Band> {
    let target = almanac.season().targets.get(&cover.target)?;
    let short: Vec<IsoWeek> = cover.short_weeks().map(|week| week.week).collect();
    let note = if short.is_empty() {
        Say::new("supply.covered").with("n", cover.weeks.len())
    } else {
        Say::new("supply.short")
            .with("weeks", weeks(&short, manner))
            .with("n", cover.short_weeks().map(WeekCover::short).sum::<u32>())
    };
    let name = Say::new("year.band.name")
        .with("wanted", wanted::say(almanac, &target.wanted))
        .with("n", target.stems);
    Some(Band {
        name: name.write(manner),
        note: note.write(manner),
        steps: cover
            .weeks
            .iter()
            .map(|week| Step {
                week: week.week,
                stems: week.stems,
                wanted: f64::from(week.wanted),
                short: week.short() > 0,
            })
            .collect(),
    })
}

fn of_role(cover: &RoleCover, manner: Manner) -> Band {
    let word = |role: Role| Say::new("roles.name").with("role", Arg::Key(role.key()));
    Band {
        name: word(cover.role).write(manner),
        note: verdict(cover).write(manner),
        steps: cover
            .weeks
            .iter()
            .map(|week| Step {
                week: week.week,
                stems: week.stems,
                wanted: f64::from(week.wanted()),
                short: week.short() > 0,
            })
            .collect(),
    }
}

/// Charts of all targets, then of all roles; with what is held as it would be.
fn bands(store: Store, mover: Mover) -> (Vec<Band>, Vec<Band>) {
    let manner = store.manner();
    let show = |outlook: &Outlook<'_>| {
        let targets = coverage(outlook);
        let targets = targets
            .iter()
            .filter_map(|cover| of_target(outlook.almanac(), cover, manner));
        let roles = roles(outlook);
        let roles = roles.iter().map(|cover| of_role(cover, manner));
        (targets.collect(), roles.collect())
    };
    store.outlook().with(|recorded| {
        mover.with(|held| match held {
            Some(held) => show(&held.as_moved(recorded)),
            None => show(recorded),
        })
    })
}

/// The charts, in line with the weeks above.
#[component]
pub fn Bands(
    /// The weeks along the bottom.
    axis: Axis,
    /// Today.
    today: NaiveDate,
    /// What may be held.
    mover: Mover,
) -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| bands(store, mover));
    let targets = Memo::new(move |_| all.with(|all| all.0.clone()));
    let roles = Memo::new(move |_| all.with(|all| all.1.clone()));
    view! {
        <Charts head="year.targets" bands=targets axis today />
        <Charts head="year.roles" bands=roles axis today />
        {move || {
            all.with(|all| !all.0.is_empty()).then(|| view! { <Looks /> })
        }}
    }
}

#[component]
fn Charts(
    head: &'static str,
    bands: Memo<Vec<Band>>,
    axis: Axis,
    today: NaiveDate,
) -> impl IntoView {
    let count = Memo::new(move |_| bands.with(Vec::len));
    move || {
        let count = count.get();
        (count > 0).then(|| {
            let charts = (0..count)
                .map(|n| {
                    let band = Memo::new(move |_| bands.with(|all| all.get(n).cloned()));
                    view! { <li class="band">{move || band.get().map(|band| chart(axis, today, band))}</li> }
                })
                .collect_view();
            view! {
                <h3 class="year__part">{text(head)}</h3>
                <ul>{charts}</ul>
            }
        })
    }
}

fn chart(axis: Axis, today: NaiveDate, band: Band) -> impl IntoView {
    let drawn = outlines(axis, &band.steps);
    let now = percent(axis.x(today));
    let label = Say::new("year.band.label")
        .with("name", band.name.clone())
        .with("note", band.note.clone())
        .write(Manner::default());
    view! {
        <p class="band__words">
            <span class="band__name">{band.name}</span>
            " "
            <span class="band__note">{band.note}</span>
        </p>
        <svg class="band__drawing" role="img" aria-label=label>
            <svg viewBox="0 0 100 100" preserveAspectRatio="none" width="100%" height="100%">
                <path class="band__maybe" d=drawn.maybe></path>
                <path class="band__likely" d=drawn.likely></path>
                <path class="band__sure" d=drawn.sure></path>
                <path class="band__wanted" d=drawn.wanted></path>
            </svg>
            {marks(&drawn.short, "band__short", "year.short")}
            <line class="year__now" x1=now.clone() x2=now y1="0" y2="100%"></line>
        </svg>
    }
}

/// Runs of weeks marked with a texture, and the first of them with a word.
pub(super) fn marks(
    runs: &[(f64, f64)],
    class: &'static str,
    word: &'static str,
) -> impl IntoView + use<> {
    let strips = runs
        .iter()
        .map(|(from, to)| {
            let (from, to) = (percent(*from), percent(*to));
            view! { <line class=class x1=from x2=to y1="5" y2="5"></line> }
        })
        .collect_view();
    // A word near the right end would run out of the drawing.
    let word = runs.first().map(|(from, to)| {
        let (x, class) = if *from > 75.0 {
            (*to, "year__note year__note--end")
        } else {
            (*from, "year__note")
        };
        view! {
            <text class=class x=percent(x) y="26">
                {text(word)}
            </text>
        }
    });
    view! {
        {strips}
        {word}
    }
}

#[component]
fn Looks() -> impl IntoView {
    let marks = vec![
        (Mark::Field("band__sure"), "year.band.sure"),
        (Mark::Field("band__likely"), "year.band.likely"),
        (Mark::Field("band__maybe"), "year.band.maybe"),
        (Mark::Stroke("band__wanted"), "year.band.wanted"),
        (Mark::Stroke("band__short"), "year.short"),
    ];
    view! { <Legend marks /> }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chart_is_steps_under_its_weeks_and_marks_the_short_ones() {
        let axis = Axis::around("2027-06-14".parse().unwrap(), core::iter::empty());
        let step = |week: &str, p50: f64| Step {
            week: week.parse().unwrap(),
            stems: Spread {
                p10: p50 / 2.0,
                p50,
                p90: 100.0,
            },
            wanted: 50.0,
            short: p50 < 50.0,
        };
        let drawn = outlines(axis, &[step("2027-W01", 20.0), step("2027-W02", 60.0)]);
        // Half of the fullest week's height is wanted, over the first two of 52 weeks.
        assert_eq!(drawn.wanted, "M0.00 54.0 L1.92 54.0 L1.92 54.0 L3.85 54.0 ");
        assert_eq!(drawn.short.len(), 1);
        assert!((drawn.short[0].1 - 100.0 / 52.0).abs() < 1e-9);
        assert!(drawn.sure.starts_with("M0.00 90.8 ") && drawn.sure.ends_with('Z'));
        assert_eq!(outlines(axis, &[]).sure, "");
    }
}
