//! Which role of a bouquet runs short, and which there is too much of.

use leptos::prelude::*;
use season::roles::{RoleCover, Run, roles};
use season::words::{Arg, Say, text};

use super::weeks::span;
use crate::parts::{Column, Section, Table, TableRow};
use crate::store::Store;

fn run(key: &'static str, run: &Run) -> Say {
    Say::new(key)
        .with("n", run.stems)
        .with("weeks", span(run.weeks.0, run.weeks.1))
}

/// How a role stands, in a sentence: where it is short, else where it is over, else that it is covered.
pub fn verdict(cover: &RoleCover) -> Say {
    let (short, over) = (cover.short(), cover.over());
    let list = |runs: &[Run], key| {
        let told = runs.iter().map(|one| run(key, one));
        told.reduce(|all, next| Say::new("roles.and").with("a", all).with("b", next))
    };
    match (list(&short, "roles.short"), list(&over, "roles.over")) {
        (None, None) if cover.is_wanted() => Say::new("roles.covered"),
        (None, None) => Say::new("roles.unwanted"),
        (short, over) => Say::new("roles.verdict")
            .with_some("both", short.as_ref().zip(over.as_ref()).map(|_| 2u32))
            .with_some("short", short)
            .with_some("over", over),
    }
}

/// A role in words.
#[derive(Clone, PartialEq)]
struct Told {
    name: String,
    verdict: String,
    short: bool,
    weeks: Vec<[String; 5]>,
}

fn told(store: Store) -> Vec<Told> {
    let manner = store.manner();
    store.outlook().with(|outlook| {
        let of = |cover: &RoleCover| Told {
            name: Say::new("roles.name")
                .with("role", Arg::Key(cover.role.key()))
                .write(manner),
            verdict: verdict(cover).write(manner),
            short: !cover.short().is_empty(),
            weeks: cover
                .weeks
                .iter()
                .map(|week| {
                    let stems = Say::new("supply.spread").with_spread(week.stems);
                    let how = match (week.short(), week.over()) {
                        (0, 0) => Say::new("roles.week.covered"),
                        (0, over) => Say::new("roles.week.over").with("n", over),
                        (short, _) => Say::new("roles.week.short").with("n", short),
                    };
                    [
                        Say::new("plain.n").with("n", week.week).write(manner),
                        week.targets.to_string(),
                        week.orders.to_string(),
                        stems.write(manner),
                        how.write(manner),
                    ]
                })
                .collect(),
        };
        roles(outlook).iter().map(of).collect()
    })
}

/// All roles, the short ones told first.
#[component]
pub fn Roles() -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| {
        let mut all = told(store);
        all.sort_by_key(|one| !one.short);
        all
    });
    move || {
        let all = all.get();
        (!all.is_empty()).then(|| {
            let lines = all
                .into_iter()
                .map(|one| view! { <OfRole one /> })
                .collect_view();
            view! {
                <Section head="roles.head">
                    <p class="section__lead">{text("roles.lead")}</p>
                    <ul class="roles">{lines}</ul>
                </Section>
            }
        })
    }
}

#[component]
fn OfRole(one: Told) -> impl IntoView {
    const COLUMNS: [&str; 5] = [
        "roles.col.week",
        "roles.col.targets",
        "roles.col.orders",
        "roles.col.stems",
        "roles.col.how",
    ];
    let rows = one
        .weeks
        .into_iter()
        .map(|[week, cells @ ..]| cells.into_iter().fold(TableRow::new(week), TableRow::with))
        .collect();
    let class = if one.short {
        "roles__one roles__one--short"
    } else {
        "roles__one"
    };
    view! {
        <li class=class>
            <p>
                <strong class="roles__name">{one.name.clone()}</strong>
                " "
                {one.verdict}
            </p>
            <details class="why">
                <summary class="why__ask">
                    {text("roles.by_week")} <span class="visually-hidden">" " {one.name}</span>
                </summary>
                <Table caption="roles.by_week" columns=COLUMNS.map(Column::Words).to_vec() rows />
            </details>
        </li>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use agronomy::quantity::Spread;
    use season::fact::Role;
    use season::roles::RoleWeek;

    fn cover(weeks: &[(&str, u32, f64)]) -> RoleCover {
        RoleCover {
            role: Role::Airy,
            weeks: weeks
                .iter()
                .map(|(week, targets, stems)| RoleWeek {
                    week: week.parse().unwrap(),
                    targets: *targets,
                    orders: 0,
                    stems: Spread::exact(*stems),
                })
                .collect(),
        }
    }

    #[test]
    fn a_role_says_plainly_where_it_runs_short_and_where_it_is_over() {
        let say = |weeks: &[(&str, u32, f64)]| verdict(&cover(weeks)).write(Default::default());
        assert_eq!(
            say(&[
                ("2027-W27", 40, 20.0),
                ("2027-W28", 40, 0.0),
                ("2027-W29", 10, 130.0)
            ]),
            "60 short in week 27 to week 28; 120 over in week 29."
        );
        assert_eq!(say(&[("2027-W27", 40, 40.0)]), "Covered.");
        assert_eq!(say(&[("2027-W27", 0, 0.4)]), "Not asked for.");
    }
}
