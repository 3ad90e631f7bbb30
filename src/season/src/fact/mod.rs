//! Every kind of fact that can be recorded: one closed enum, whose kinds are tables (see [`table`]).
//!
//! These are wire types: what files hold. What they add up to is in [`crate::state`]. A kind or a field that this version does not
//! know is kept in the entry's text (see [`crate::entry`]) and comes through here as [`Fact::Unknown`] or is passed over.

mod beds;
mod cooler;
mod corrections;
pub mod schema;
mod seed;
mod site;
pub mod table;
mod trays;
mod values;
mod wants;
mod weather;
mod words;

pub use beds::*;
pub use cooler::*;
pub use corrections::*;
pub use seed::*;
pub use site::*;
pub use trays::*;
pub use wants::*;
pub use weather::*;
pub use words::*;

use std::sync::LazyLock;

use chrono::NaiveDate;
use serde_json::{Map, Value};
use table::{Checked, Faults, Field, OutOfRange, Table};

/// A kind of fact by its table.
#[derive(Debug)]
pub struct Kind {
    /// Its name in files.
    pub name: &'static str,
    /// Exactly one of these fields is there, if any are named.
    pub one_of: &'static [&'static str],
    /// The key of its form's title.
    pub title: &'static str,
    /// The key of what its form's main button says.
    pub action: &'static str,
    /// Its fields.
    pub fields: Vec<Field>,
}

impl Kind {
    fn of<T: Table>() -> Self {
        Self {
            name: T::NAME,
            one_of: T::ONE_OF,
            title: T::TITLE,
            action: T::ACTION,
            fields: T::fields(),
        }
    }
}

/// What a table is and what its fields hold, for the schema.
struct Docs {
    name: &'static str,
    doc: &'static str,
    fields: Vec<&'static str>,
}

impl Docs {
    fn of<T: Table>() -> Self {
        Self {
            name: T::NAME,
            doc: T::DOC,
            fields: T::docs(),
        }
    }
}

macro_rules! facts {
    ($($(#[$doc:meta])* $variant:ident($type:ident)),+ $(,)?) => {
        /// What an entry says happened or holds.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Fact {
            $($(#[$doc])* $variant(Box<$type>),)+
            /// A kind that a newer version wrote; kept as it is.
            Unknown,
            /// A known kind whose fields don't read or are out of range; kept as it is and reported as a problem.
            Unreadable(String),
        }

        /// Every kind this version knows.
        pub static KINDS: LazyLock<Vec<Kind>> = LazyLock::new(|| vec![$(Kind::of::<$type>()),+]);

        /// What a kind is and what its fields hold.
        fn docs_of(kind: &str) -> Option<Docs> {
            match kind {
                $(<$type as Table>::NAME => Some(Docs::of::<$type>()),)+
                _ => None,
            }
        }

        impl Fact {
            /// The kind as written in files; `None` for what was not understood.
            pub fn kind(&self) -> Option<&'static str> {
                Some(self.table()?.0)
            }

            /// Its kind's name and itself as a table; `None` for what was not understood.
            fn table(&self) -> Option<(&'static str, &dyn Recordable)> {
                match self {
                    $(Self::$variant(fact) => Some((<$type as Table>::NAME, fact.as_ref())),)+
                    Self::Unknown | Self::Unreadable(_) => None,
                }
            }

            /// Reads the fields of an entry of a kind from the entry's JSON.
            pub(crate) fn read(kind: &str, json: &str) -> Self {
                match kind {
                    $(<$type as Table>::NAME => Self::of_read(serde_json::from_str::<$type>(json)),)+
                    _ => Self::Unknown,
                }
            }

        }

        $(impl From<$type> for Fact {
            fn from(fact: $type) -> Self {
                Self::$variant(Box::new(fact))
            }
        })+
    };
}

facts! {
    /// The name of a device.
    Device(DeviceFact),
    /// The site.
    Place(PlaceFact),
    /// Somewhere plants sit.
    Space(SpaceFact),
    /// A bed.
    Bed(BedFact),
    /// A crop's figures as this grower sets them.
    Crop(CropFact),
    /// A variety.
    Variety(VarietyFact),
    /// A seed lot.
    SeedLot(SeedLotFact),
    /// Stems wanted by week.
    Target(TargetFact),
    /// Stems wanted on a date.
    Order(OrderFact),
    /// Stems by role per piece.
    Recipe(RecipeFact),
    /// A crop year.
    Season(SeasonFact),
    /// A sowing accepted from the plan.
    Planned(PlannedFact),
    /// Seed sown into trays.
    Sown(SownFact),
    /// Seed sown into a bed.
    DirectSown(DirectSownFact),
    /// Seedlings counted.
    Counted(CountedFact),
    /// A sowing's trays moved.
    Moved(MovedFact),
    /// The dome lifted.
    DomeLifted(DomeLiftedFact),
    /// Bottom heat ended.
    MatOff(MatOffFact),
    /// Cells or plants lost.
    Lost(LostFact),
    /// Doubles pricked out into empty cells.
    PrickedOut(PrickedOutFact),
    /// Moved to a bigger cell or pot.
    PottedOn(PottedOnFact),
    /// Hardening off begun.
    Hardening(HardeningFact),
    /// Plants set into a bed.
    Transplanted(TransplantedFact),
    /// Growing tips taken out.
    Pinched(PinchedFact),
    /// Support mesh put up.
    Netted(NettedFact),
    /// Watered.
    Watered(WateredFact),
    /// Fed.
    Fed(FedFact),
    /// A bud or the first colour seen.
    Seen(SeenFact),
    /// A day's lowest and highest temperature.
    Temperature(TemperatureFact),
    /// A frost.
    Frost(FrostFact),
    /// Stems cut.
    Cut(CutFact),
    /// Stems bundled.
    Bunched(BunchedFact),
    /// Stems thrown away.
    Discarded(DiscardedFact),
    /// Stems handed over.
    Sold(SoldFact),
    /// Stems bought from somebody else.
    BoughtIn(BoughtInFact),
    /// Stems put aside for an order.
    Allocated(AllocatedFact),
    /// A delivery of a standing order closed.
    HandedOver(HandedOverFact),
    /// Cut stems stood in the warm.
    Warmed(WarmedFact),
    /// Cut stems rested in water.
    Conditioned(ConditionedFact),
    /// A low that is forecast for the night.
    LowExpected(LowExpectedFact),
    /// Covered against the night's cold.
    Covered(CoveredFact),
    /// Side buds taken out.
    Disbudded(DisbuddedFact),
    /// A sowing or planting ended.
    Finished(FinishedFact),
    /// A note.
    Note(NoteFact),
    /// Fields of an earlier event corrected.
    Revised(RevisedFact),
    /// An earlier entry taken back.
    Voided(VoidedFact),
}

/// A table whose fields can be written.
trait Recordable {
    fn fields(&self) -> Result<Value, serde_json::Error>;
    fn check(&self) -> Checked;
    fn faults(&self, found: &mut Faults);
    fn date(&self) -> Option<NaiveDate>;
}

impl<T: Table + serde::Serialize> Recordable for T {
    fn fields(&self) -> Result<Value, serde_json::Error> {
        serde_json::to_value(self)
    }

    fn check(&self) -> Checked {
        Table::check(self)
    }

    fn faults(&self, found: &mut Faults) {
        Table::faults(self, found);
    }

    fn date(&self) -> Option<NaiveDate> {
        Table::date(self)
    }
}

impl Fact {
    /// The kind's table; `None` for what was not understood.
    pub fn kind_table(&self) -> Option<&'static Kind> {
        let name = self.kind()?;
        KINDS.iter().find(|kind| kind.name == name)
    }

    /// A fact of a kind from its fields by their names in files; [`Fact::Unreadable`] where they don't read, [`Fact::Unknown`] for a
    /// kind that this version does not know.
    pub fn of_fields(kind: &str, fields: Map<String, Value>) -> Self {
        // As text: a second reader of every kind, from values, would weigh more than it saves.
        Self::read(kind, &Value::Object(fields).to_string())
    }

    /// The fields by their names in files; `None` for what was not understood.
    pub fn fields(&self) -> Option<Map<String, Value>> {
        match self.table()?.1.fields() {
            Ok(Value::Object(map)) => Some(map),
            _ => None,
        }
    }

    /// The day on which it happened, for events.
    pub fn date(&self) -> Option<NaiveDate> {
        self.table()?.1.date()
    }

    /// What is wrong with the first field that is beyond what is read.
    pub(crate) fn check(&self) -> Checked {
        self.table().map_or(Ok(()), |(_, fact)| fact.check())
    }

    /// Fields beyond what is recorded anew, and why.
    pub(crate) fn faults(&self) -> Faults {
        let mut found = Faults::new();
        if let Some((_, fact)) = self.table() {
            fact.faults(&mut found);
        }
        found
    }

    /// What was read, if its fields are within their ranges: a slip of the keyboard on another device must not sow four thousand
    /// million cells here.
    fn of_read<T: Into<Self>>(read: Result<T, serde_json::Error>) -> Self {
        match read {
            Ok(fact) => {
                let fact = fact.into();
                match fact.check() {
                    Ok(()) => fact,
                    Err(OutOfRange { field, why }) => Self::Unreadable(format!("{field}: {why}")),
                }
            }
            Err(error) => Self::Unreadable(error.to_string()),
        }
    }
}
