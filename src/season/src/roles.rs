//! Stems by their role in a bouquet, week by week: what is expected beside what is wanted.
//!
//! Farms run short of foliage and airy stems and long on filler, and a sum over all stems hides it (common practice).

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::fact::{Role, Wanted};
use crate::forecast::{Outlook, shifted};
use crate::promise::{Delivery, deliveries, lines_of};

/// Stems missing in a week that are let pass: less than this share of what is wanted, as the plan has it.
const SHORT_LET_PASS: f64 = 0.05;
/// Days before its date by which the stems of an order are cut: one to three, common practice.
const CUT_AHEAD_DAYS: i64 = 2;

/// One week of a role.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoleWeek {
    /// Which week.
    pub week: IsoWeek,
    /// Stems that targets ask for.
    pub targets: u32,
    /// Stems that dated orders ask for, recipes included, counted in the week in which they are cut.
    pub orders: u32,
    /// Stems expected.
    pub stems: Spread<f64>,
}

impl RoleWeek {
    /// Stems wanted in all.
    pub fn wanted(&self) -> u32 {
        self.targets.saturating_add(self.orders)
    }

    /// Stems that are likely to be missing; 0 where the week counts as covered.
    pub fn short(&self) -> u32 {
        let wanted = f64::from(self.wanted());
        let missing = wanted - self.stems.p50;
        if missing > SHORT_LET_PASS * wanted {
            missing.ceil() as u32
        } else {
            0
        }
    }

    /// Stems likely beyond what is wanted, where even a poor season (10 in 100) gives more than that; else 0.
    pub fn over(&self) -> u32 {
        let wanted = f64::from(self.wanted());
        if self.stems.p10 > wanted {
            (self.stems.p50 - wanted).floor() as u32
        } else {
            0
        }
    }
}

/// A role through the weeks.
#[derive(Debug, Clone, PartialEq)]
pub struct RoleCover {
    /// Which role.
    pub role: Role,
    /// Every week of the span in which anything is wanted or expected, this week and later.
    pub weeks: Vec<RoleWeek>,
}

/// Weeks one after the other in which a role is short, or over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Run {
    /// First and last week.
    pub weeks: (IsoWeek, IsoWeek),
    /// Stems in all of them together.
    pub stems: u32,
}

impl RoleCover {
    /// Whether anything is wanted of the role.
    pub fn is_wanted(&self) -> bool {
        self.weeks.iter().any(|week| week.wanted() > 0)
    }

    /// Weeks that are short.
    pub fn short(&self) -> Vec<Run> {
        self.runs(RoleWeek::short)
    }

    /// Weeks that are over.
    pub fn over(&self) -> Vec<Run> {
        self.runs(RoleWeek::over)
    }

    fn runs(&self, stems: impl Fn(&RoleWeek) -> u32) -> Vec<Run> {
        let hit = |week: &RoleWeek| stems(week) > 0;
        self.weeks
            .chunk_by(|a, b| hit(a) == hit(b))
            .filter(|run| run.first().is_some_and(hit))
            .filter_map(|run| {
                Some(Run {
                    weeks: (run.first()?.week, run.last()?.week),
                    stems: run
                        .iter()
                        .fold(0, |sum, week| sum.saturating_add(stems(week))),
                })
            })
            .collect()
    }
}

/// The role that a wish asks for: its own, its variety's, or its crop's first. A wish for a colour alone has none.
pub fn role_of(almanac: &Almanac<'_>, wanted: &Wanted) -> Option<Role> {
    if let Some(variety) = &wanted.variety {
        return almanac.role(variety);
    }
    wanted.role.or_else(|| {
        let crop = almanac.reference().crop(wanted.crop.as_ref()?)?;
        crop.roles()
            .first()
            .and_then(|role| Role::of_word(role.word()))
    })
}

/// Stems wanted by role and week: of targets, and of orders.
type Wishes = BTreeMap<Role, BTreeMap<IsoWeek, (u32, u32)>>;

fn wishes(almanac: &Almanac<'_>, today: NaiveDate) -> Wishes {
    let mut wishes = Wishes::new();
    let mut add = |role: Role, week: IsoWeek, stems: (u32, u32)| {
        let sum = wishes.entry(role).or_default().entry(week).or_default();
        sum.0 = sum.0.saturating_add(stems.0);
        sum.1 = sum.1.saturating_add(stems.1);
    };
    let now = IsoWeek::of(today);
    for target in almanac.season().targets.values().filter(|t| !t.retired) {
        let (Some(from), Some(to)) = (target.from, target.to) else {
            continue;
        };
        let Some(role) = role_of(almanac, &target.wanted) else {
            continue;
        };
        let from = from.max(now);
        for n in 0..=from.weeks_until(to) {
            add(role, from.plus(n), (target.stems, 0));
        }
    }
    for Delivery { order, date, .. } in deliveries(almanac, today) {
        if date < today {
            continue;
        }
        let week = IsoWeek::of(shifted(date, -CUT_AHEAD_DAYS).max(today));
        for line in lines_of(almanac, order) {
            if let Some(role) = role_of(almanac, &line.wanted) {
                add(role, week, (0, line.stems));
            }
        }
    }
    wishes
}

/// Every role with its weeks, in the order in which roles are offered. Empty when nothing is wanted.
pub fn roles(outlook: &Outlook<'_>) -> Vec<RoleCover> {
    let almanac = outlook.almanac();
    let wishes = wishes(almanac, outlook.today());
    let wanted = wishes.values().flat_map(BTreeMap::keys);
    let Some((first, last)) = wanted.fold(None, |span: Option<(IsoWeek, IsoWeek)>, week| {
        Some(span.map_or((*week, *week), |(a, b)| (a.min(*week), b.max(*week))))
    }) else {
        return Vec::new();
    };
    let of = |role: Role| {
        let stems = outlook
            .supply()
            .weeks(|variety| almanac.role(variety) == Some(role));
        let asked = wishes.get(&role);
        let week = |week: IsoWeek| {
            let (targets, orders) = asked
                .and_then(|w| w.get(&week))
                .copied()
                .unwrap_or_default();
            RoleWeek {
                week,
                targets,
                orders,
                stems: stems.get(&week).copied().unwrap_or(Spread::exact(0.0)),
            }
        };
        RoleCover {
            role,
            weeks: (0..=first.weeks_until(last))
                .map(|n| week(first.plus(n)))
                .collect(),
        }
    };
    Role::ALL
        .iter()
        .map(|role| of(*role))
        .filter(|cover| {
            cover
                .weeks
                .iter()
                .any(|w| w.wanted() > 0 || w.stems.p50 >= 1.0)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{OrderFact, OrderLine, OrderPieces, RecipeFact};
    use crate::forecast::{Course, Source, Supply};
    use crate::ids::*;
    use crate::sample::Sample;

    const TODAY: &str = "2027-06-14";

    fn role(role: Role) -> Wanted {
        Wanted {
            role: Some(role),
            ..Wanted::default()
        }
    }

    fn course(variety: &VarietyId, week: &str, p50: f64) -> Course {
        let spread = Spread {
            p10: p50 * 0.5,
            p50,
            p90: p50 * 1.5,
        };
        let weeks = vec![(week.parse().expect("week"), spread)];
        Course::of_stems(variety.clone(), weeks)
    }

    fn found(sample: &Sample, courses: Vec<Course>) -> Vec<RoleCover> {
        let of = |n| Source::Planting(PlantingId::new(format!("p{n}")).expect("id"));
        let courses = courses.into_iter().enumerate();
        let supply = Supply {
            courses: courses.map(|(n, course)| (of(n), course)).collect(),
            ..Supply::default()
        };
        let today = sample.day(TODAY);
        sample.supplied(&supply, today, roles)
    }

    fn of(all: &[RoleCover], role: Role) -> &RoleCover {
        all.iter().find(|cover| cover.role == role).expect("role")
    }

    fn run(from: &str, to: &str, stems: u32) -> Run {
        let week = |text: &str| text.parse().expect("week");
        Run {
            weeks: (week(from), week(to)),
            stems,
        }
    }

    /// An order of ten bouquets for Monday of week 28 with three airy stems each is cut on the Saturday before: 30 in week 27.
    #[test]
    fn a_role_is_short_by_what_targets_and_recipes_want_together() {
        let mut sample = Sample::new();
        let airy = sample.variety("airy", "gypsophila_annual", "white");
        let filler = sample.variety("filler", "ageratum", "blue");
        sample.target("t", role(Role::Airy), ("2027-W26", "2027-W28"), 20);
        sample.target("f", role(Role::Filler), ("2027-W20", "2027-W26"), 30);
        let recipe = RecipeId::new("r").expect("id");
        sample.add(RecipeFact {
            lines: Some(vec![OrderLine::new(role(Role::Airy), 3)]),
            ..RecipeFact::new(recipe.clone())
        });
        let date = Some(sample.day("2027-07-12"));
        sample.add(OrderFact {
            date,
            pieces: Some(vec![OrderPieces::new(recipe, 10)]),
            ..OrderFact::new(OrderId::new("o").expect("id"))
        });
        let all = found(
            &sample,
            vec![
                course(&airy, "2027-W26", 21.0),
                course(&airy, "2027-W27", 10.0),
                course(&filler, "2027-W26", 90.0),
                course(&filler, "2027-W27", 8.0),
            ],
        );
        let airy = of(&all, Role::Airy);
        assert_eq!(airy.short(), [run("2027-W27", "2027-W28", 40 + 20)]);
        assert!(
            airy.over().is_empty(),
            "21 of 20 may be 10 in a poor season"
        );
        let filler = of(&all, Role::Filler);
        // 30 of the 90 are wanted in week 26; in week 27 nobody wants the 8. Weeks before this one are past: 24 and 25 are short.
        assert_eq!(filler.over(), [run("2027-W26", "2027-W27", 60 + 8)]);
        assert_eq!(filler.short(), [run("2027-W24", "2027-W25", 60)]);
        assert!(
            all.iter().all(|cover| cover.role != Role::Spike),
            "nobody wants or has spikes"
        );
    }

    #[test]
    fn a_wish_has_the_role_of_its_variety_or_crop_and_a_colour_alone_has_none() {
        let mut sample = Sample::new();
        let variety = Some(sample.variety("a", "antirrhinum", "white"));
        let asks = |wanted: Wanted| sample.with(|almanac| role_of(almanac, &wanted));
        assert_eq!(
            asks(Wanted {
                variety,
                ..Wanted::default()
            }),
            Some(Role::Spike)
        );
        let crop = Some("antirrhinum".to_owned());
        assert_eq!(
            asks(Wanted {
                crop,
                ..Wanted::default()
            }),
            Some(Role::Spike)
        );
        let colour = Some("white".to_owned());
        assert_eq!(
            asks(Wanted {
                colour,
                ..Wanted::default()
            }),
            None
        );
    }

    #[test]
    fn where_nothing_is_wanted_there_is_nothing_to_say() {
        let mut sample = Sample::new();
        let variety = sample.variety("a", "antirrhinum", "white");
        assert!(found(&sample, vec![course(&variety, "2027-W26", 30.0)]).is_empty());
    }
}
