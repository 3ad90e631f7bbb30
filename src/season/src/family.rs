//! A variety's successions: all that is planned, sown and planted of it in a season, tunnel first and field later, as one family.

use agronomy::quantity::Spread;
use chrono::NaiveDate;

use crate::crop_year::spans;
use crate::forecast::{Outlook, Source};
use crate::ids::*;

/// One of a family.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Planned, in trays or in a bed.
    pub source: Source,
    /// Where it grows, or is to grow.
    pub space: Option<SpaceId>,
    /// When it was or is to be sown, or was planted.
    pub date: NaiveDate,
    /// First stems; the first cut once there was one.
    pub bloom: Option<Spread<NaiveDate>>,
    /// Stems still to come in all, where any are.
    pub to_come: f64,
    /// Days from the first stems of the one before to its own, where both are known.
    pub after_days: Option<i64>,
}

/// All of a variety in the season that is going on, in the order of their first stems; those without a forecast last.
pub fn family(outlook: &Outlook<'_>, variety: &VarietyId) -> Vec<Member> {
    let season = outlook.almanac().season();
    let from = spans(season, outlook.today()).first().map(|span| span.from);
    let date = |source: &Source| match source {
        Source::Planting(id) => season.plantings.get(id).map(|planting| planting.date),
        Source::Sowing(id) => season.sowings.get(id).map(|sowing| sowing.date),
        Source::Planned(id) => season.planned.get(id).and_then(|planned| planned.sow),
    };
    let mut found: Vec<Member> = outlook
        .supply()
        .courses
        .iter()
        .filter(|(_, course)| course.variety == *variety && !course.spare)
        .filter_map(|(source, course)| {
            Some(Member {
                source: source.clone(),
                space: course.space.clone(),
                date: date(source)?,
                bloom: course.bloom,
                to_come: course.weeks.iter().map(|(_, stems)| stems.p50).sum(),
                after_days: None,
            })
        })
        .filter(|member| from.is_none_or(|from| member.date >= from))
        .collect();
    let first = |member: &Member| member.bloom.map(|bloom| bloom.p50);
    found.sort_by_key(|member| {
        (
            first(member).unwrap_or(NaiveDate::MAX),
            member.date,
            member.source.clone(),
        )
    });
    let days: Vec<Option<NaiveDate>> = found.iter().map(first).collect();
    for (member, pair) in found.iter_mut().skip(1).zip(days.windows(2)) {
        member.after_days = match pair {
            [Some(before), Some(own)] => Some((*own - *before).num_days()),
            _ => None,
        };
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::PlannedFact;
    use crate::sample::Sample;

    fn planned(sample: &mut Sample, variety: &VarietyId, id: &str, sow: &str) {
        let sow = Some(sample.day(sow));
        sample.add(PlannedFact {
            variety: Some(variety.clone()),
            sow,
            cells: Some(100),
            plants: Some(80),
            ..PlannedFact::new(PlannedId::new(id).unwrap())
        });
    }

    #[test]
    fn one_variety_in_several_places_is_one_family_in_the_order_of_bloom() {
        let mut sample = Sample::new();
        let spike = sample.variety("a", "antirrhinum", "white");
        let other = sample.variety("b", "antirrhinum", "white");
        let bed = sample.bed("bed", 5.0);
        sample.sown_in_bed(&spike, &bed, "2027-03-01", 60);
        planned(&mut sample, &spike, "late", "2027-04-20");
        planned(&mut sample, &spike, "soon", "2027-03-20");
        planned(&mut sample, &other, "other", "2027-03-20");
        let today = sample.day("2027-03-10");
        sample.with(|almanac| {
            let outlook = Outlook::new(almanac.clone(), today);
            let found = family(&outlook, &spike);
            assert_eq!(found.len(), 3);
            assert!(matches!(found[0].source, Source::Planting(_)));
            let blooms: Vec<_> = found.iter().map(|m| m.bloom.unwrap().p50).collect();
            assert!(blooms.is_sorted(), "{blooms:?}");
            assert_eq!(found[0].after_days, None);
            for (pair, member) in blooms.windows(2).zip(&found[1..]) {
                assert_eq!(member.after_days, Some((pair[1] - pair[0]).num_days()));
            }
            assert!(found.iter().all(|member| member.to_come > 0.0));
        });
    }
}
