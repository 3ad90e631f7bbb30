//! The types that fields of facts have.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use serde_json::{Map, Value as Json};

use super::table::{Checked, Fault, Faults, OutOfRange, Part, Shape, Table, Value};
use super::table::{day, recordable, within};
use super::words::{BloomStage, CellKind, Grade, Keeping, LossCause, Role, SpaceKind, WaterRegime};
use super::{Docs, Learned, OrderLine, OrderPieces, Tray, Wanted};
use crate::ids::*;
use crate::limits::{Letters, Limit, NAME_LENGTH_MAX, YEARS};
use crate::money::Money;
use crate::month_day::MonthDay;

impl<T: Value> Value for Option<T> {
    type Limit = T::Limit;

    fn shape(limit: &'static Self::Limit) -> Shape {
        T::shape(limit)
    }

    fn check(&self, field: &'static str, limit: &Self::Limit) -> Checked {
        self.as_ref()
            .map_or(Ok(()), |value| value.check(field, limit))
    }

    fn faults(&self, field: &'static str, limit: &Self::Limit, found: &mut Faults) {
        if let Some(value) = self {
            value.faults(field, limit, found);
        }
    }
}

macro_rules! whole {
    ($($type:ty),+) => {$(
        impl Value for $type {
            type Limit = Limit<$type>;

            fn shape(limit: &'static Self::Limit) -> Shape {
                let (read, record) = (limit.read, limit.record);
                Shape::Whole(Limit {
                    read: (i64::from(read.0), i64::from(read.1)),
                    record: (i64::from(record.0), i64::from(record.1)),
                })
            }

            fn check(&self, field: &'static str, limit: &Self::Limit) -> Checked {
                within(field, *self, limit)
            }

            fn faults(&self, field: &'static str, limit: &Self::Limit, found: &mut Faults) {
                let (least, most) = limit.record;
                recordable(field, f64::from(*self), (f64::from(least), f64::from(most)), found);
            }
        }
    )+};
}

whole!(u8, u32, i32);

impl Value for f64 {
    type Limit = Limit<f64>;

    fn shape(limit: &'static Self::Limit) -> Shape {
        Shape::Number(*limit)
    }

    fn check(&self, field: &'static str, limit: &Self::Limit) -> Checked {
        within(field, *self, limit)
    }

    fn faults(&self, field: &'static str, limit: &Self::Limit, found: &mut Faults) {
        recordable(field, *self, limit.record, found);
    }
}

/// What a month can't be is said month by month, in the check of places.
impl Value for [f64; 12] {
    type Limit = Limit<f64>;

    fn shape(limit: &'static Self::Limit) -> Shape {
        Shape::Months(*limit)
    }

    fn check(&self, field: &'static str, limit: &Self::Limit) -> Checked {
        self.iter()
            .try_for_each(|month| within(field, *month, limit))
    }
}

impl Value for String {
    type Limit = Letters;

    fn shape(limit: &'static Self::Limit) -> Shape {
        Shape::Text(*limit)
    }

    fn check(&self, field: &'static str, limit: &Self::Limit) -> Checked {
        if self.chars().count() > limit.most {
            let why = format!("longer than {} characters", limit.most);
            return Err(OutOfRange { field, why });
        }
        Ok(())
    }

    fn faults(&self, field: &'static str, limit: &Self::Limit, found: &mut Faults) {
        if !limit.needed {
            return;
        }
        if self.trim().is_empty() {
            found.push((field, Fault::Blank));
        } else if self.chars().count() > limit.most {
            found.push((field, Fault::Long(limit.most)));
        }
    }
}

impl Value for NaiveDate {
    type Limit = ();

    fn shape(_limit: &'static ()) -> Shape {
        Shape::Date
    }

    fn check(&self, field: &'static str, _limit: &()) -> Checked {
        day(field, *self)
    }
}

impl Value for IsoWeek {
    type Limit = ();

    fn shape(_limit: &'static ()) -> Shape {
        Shape::Week
    }

    fn check(&self, field: &'static str, _limit: &()) -> Checked {
        within(field, self.year(), &YEARS)
    }
}

macro_rules! plain {
    ($($type:ty => $shape:expr),+ $(,)?) => {$(
        impl Value for $type {
            type Limit = ();

            fn shape(_limit: &'static ()) -> Shape {
                $shape
            }
        }
    )+};
}

plain! {
    bool => Shape::Flag,
    MonthDay => Shape::MonthDay,
    Money => Shape::Money,
    Map<String, Json> => Shape::Object,
    EntryId => Shape::Id,
    DeviceId => Shape::Id,
    PlaceId => Shape::Id,
    SpaceId => Shape::Id,
    BedId => Shape::Id,
    VarietyId => Shape::Id,
    LotId => Shape::Id,
    TargetId => Shape::Id,
    OrderId => Shape::Id,
    RecipeId => Shape::Id,
    SeasonId => Shape::Id,
    PlannedId => Shape::Id,
    SowingId => Shape::Id,
    PlantingId => Shape::Id,
    SpaceKind => Shape::Word(&SpaceKind::LIST),
    Role => Shape::Word(&Role::LIST),
    CellKind => Shape::Word(&CellKind::LIST),
    Keeping => Shape::Word(&Keeping::LIST),
    LossCause => Shape::Word(&LossCause::LIST),
    WaterRegime => Shape::Word(&WaterRegime::LIST),
    BloomStage => Shape::Word(&BloomStage::LIST),
    Grade => Shape::Word(&Grade::LIST),
}

macro_rules! parts {
    ($($type:ty),+ $(,)?) => {$(
        impl Value for $type {
            type Limit = ();

            fn shape(_limit: &'static ()) -> Shape {
                Shape::Part(Part {
                    name: <Self as Table>::NAME,
                    fields: <Self as Table>::fields,
                })
            }

            fn check(&self, _field: &'static str, _limit: &()) -> Checked {
                Table::check(self)
            }

            fn faults(&self, _field: &'static str, _limit: &(), found: &mut Faults) {
                Table::faults(self, found);
            }
        }
    )+};
}

parts!(Learned, OrderLine, OrderPieces, Tray, Wanted);

/// What an object inside entries is and what its fields hold, by its name; `None` where there is none of the name.
pub(super) fn docs_of_part(name: &str) -> Option<Docs> {
    [
        Docs::of::<Learned>(),
        Docs::of::<OrderLine>(),
        Docs::of::<OrderPieces>(),
        Docs::of::<Tray>(),
        Docs::of::<Wanted>(),
    ]
    .into_iter()
    .find(|docs| docs.name == name)
}

impl<T: Value> Value for Vec<T> {
    type Limit = T::Limit;

    fn shape(limit: &'static Self::Limit) -> Shape {
        Shape::List(Box::new(T::shape(limit)))
    }

    fn check(&self, field: &'static str, limit: &Self::Limit) -> Checked {
        self.iter().try_for_each(|item| item.check(field, limit))
    }

    fn faults(&self, field: &'static str, limit: &Self::Limit, found: &mut Faults) {
        for item in self {
            item.faults(field, limit, found);
        }
    }
}

/// What a figure of the reference may be is said by the reference, in the check of figures.
impl<T: Value> Value for BTreeMap<String, Option<T>> {
    type Limit = T::Limit;

    fn shape(limit: &'static Self::Limit) -> Shape {
        Shape::ByName(Box::new(T::shape(limit)))
    }

    fn check(&self, field: &'static str, limit: &Self::Limit) -> Checked {
        self.iter().try_for_each(|(name, value)| {
            if name.chars().count() > NAME_LENGTH_MAX {
                let why = format!("a name longer than {NAME_LENGTH_MAX} characters");
                return Err(OutOfRange { field, why });
            }
            value.check(field, limit)
        })
    }
}
