//! What follows from a season on a day. Each part is worked out when it is first asked for, and kept.

use std::any::{Any, TypeId};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use chrono::NaiveDate;

use super::supply::{Supply, supply, supply_after};
use super::timeline::{Course, Source};
use crate::almanac::{Almanac, Groundwork};
use crate::state::Season;

/// A season on a day, with what follows from it.
///
/// The forecast is kept here; what rests on it (stems left for each target, promises, rooms, tasks) is kept by those who work it out,
/// through [`Outlook::keep`]. Good for one state of a season: a change of it needs another.
#[derive(Debug, Clone)]
pub struct Outlook<'a> {
    almanac: Almanac<'a>,
    today: NaiveDate,
    kept: Arc<Kept>,
}

/// What was worked out of a season on a day so far. Lives longer than the borrow of the season in an [`Outlook`].
#[derive(Debug, Default)]
pub struct Kept {
    before: Mutex<Option<Before>>,
    supply: OnceLock<Supply>,
    /// One result of each type.
    rest: Mutex<BTreeMap<TypeId, Arc<dyn Any + Send + Sync>>>,
}

/// The season before its last change, with what was worked out of it.
#[derive(Debug)]
struct Before {
    season: Arc<Season>,
    ground: Arc<Groundwork>,
    today: NaiveDate,
    kept: Arc<Kept>,
}

impl Kept {
    /// Nothing yet of a season that came of another one by a change; of that, `kept` was worked out on a day.
    pub fn after(
        season: Arc<Season>,
        ground: Arc<Groundwork>,
        today: NaiveDate,
        kept: Arc<Self>,
    ) -> Self {
        // Where nobody asked for a forecast since the change before, that one's is the one to go on from.
        let before = match kept.supply.get() {
            Some(_) => Some(Before {
                season,
                ground,
                today,
                kept,
            }),
            None => held(&kept.before).take(),
        };
        Self {
            before: Mutex::new(before),
            ..Self::default()
        }
    }

    /// The forecast, worked out now if it was not yet.
    pub fn supply(&self, almanac: &Almanac<'_>, today: NaiveDate) -> &Supply {
        self.supply.get_or_init(|| {
            let before = held(&self.before).take();
            let before = before.filter(|before| before.today == today);
            before
                .and_then(|before| before.go_on(almanac, today))
                .unwrap_or_else(|| supply(almanac, today))
        })
    }
}

impl Before {
    fn go_on(&self, almanac: &Almanac<'_>, today: NaiveDate) -> Option<Supply> {
        let known = self.kept.supply.get()?;
        let before = Almanac::on(&self.season, almanac.reference(), self.ground.clone());
        Some(supply_after((&before, known), almanac, today))
    }
}

/// What is under a lock is whole at any time.
fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

impl<'a> Outlook<'a> {
    /// Nothing is worked out yet.
    pub fn new(almanac: Almanac<'a>, today: NaiveDate) -> Self {
        Self::on(almanac, today, Arc::default())
    }

    /// With what was kept of this very season on this very day.
    pub fn on(almanac: Almanac<'a>, today: NaiveDate, kept: Arc<Kept>) -> Self {
        Self {
            almanac,
            today,
            kept,
        }
    }

    /// With a forecast from elsewhere.
    pub fn with_supply(almanac: Almanac<'a>, supply: Supply, today: NaiveDate) -> Self {
        let kept = Kept {
            supply: OnceLock::from(supply),
            ..Kept::default()
        };
        Self::on(almanac, today, Arc::new(kept))
    }

    /// The outlook if one course were otherwise. The others are not worked out again, nor copied where nobody else looks at them.
    pub fn with_course(self, source: Source, course: Course) -> Self {
        let Self {
            almanac,
            today,
            kept,
        } = self;
        kept.supply(&almanac, today);
        let mut supply = match Arc::try_unwrap(kept) {
            Ok(own) => own.supply.into_inner().unwrap_or_default(),
            Err(shared) => shared.supply(&almanac, today).clone(),
        };
        supply.courses.insert(source, course);
        Self::with_supply(almanac, supply, today)
    }

    /// What was worked out so far, for [`Outlook::on`].
    pub fn kept(&self) -> Arc<Kept> {
        self.kept.clone()
    }

    /// Crops, climate and spaces.
    pub fn almanac(&self) -> &Almanac<'a> {
        &self.almanac
    }

    /// The day.
    pub fn today(&self) -> NaiveDate {
        self.today
    }

    /// All that grows and is planned.
    pub fn supply(&self) -> &Supply {
        self.kept.supply(&self.almanac, self.today)
    }

    /// What `make` works out, made only once for each type. Each kind of result needs a type of its own.
    pub fn keep<T: Any + Send + Sync>(&self, make: impl FnOnce(&Self) -> T) -> Arc<T> {
        let found = held(&self.kept.rest).get(&TypeId::of::<T>()).cloned();
        if let Some(found) = found.and_then(|found| found.downcast().ok()) {
            return found;
        }
        // Not under the lock: one result may ask for another.
        let made = Arc::new(make(self));
        held(&self.kept.rest).insert(TypeId::of::<T>(), made.clone());
        made
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::Sample;

    #[test]
    fn a_result_is_worked_out_once_and_one_may_ask_for_another() {
        let sample = Sample::new();
        let today = sample.day("2027-03-01");
        sample.with(|almanac| {
            let outlook = Outlook::new(almanac.clone(), today);
            let length = |outlook: &Outlook<'_>| {
                let text = outlook.keep(|_| String::from("four"));
                *outlook.keep(|_| text.len())
            };
            assert_eq!(length(&outlook), 4);
            assert_eq!(*outlook.keep(|_| String::from("three more")), "four");
            // Another season or day keeps its own.
            let other = Outlook::new(almanac.clone(), today);
            assert_eq!(*other.keep(|_| String::from("three")), "three");
            let shared = Outlook::on(almanac.clone(), today, outlook.kept.clone());
            assert_eq!(length(&shared), 4);
        });
    }
}
