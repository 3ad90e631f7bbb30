//! Every kind of fact that can be recorded: one closed enum.
//!
//! These are wire types: what stands in a file. The domain's own types are in [`crate::state`]. A kind or a field that this
//! version does not know is kept in the entry's text (see [`crate::entry`]) and comes through here as [`Fact::Unknown`] or is
//! passed over.

mod definitions;
mod events;
mod ranges;
mod words;

pub use definitions::*;
pub use events::*;
pub use words::*;

macro_rules! facts {
    ($($(#[$doc:meta])* $variant:ident($type:ident) = $kind:literal),+ $(,)?) => {
        /// What an entry says happened or holds.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Fact {
            $($(#[$doc])* $variant(Box<$type>),)+
            /// A kind that a newer version wrote; kept as it is.
            Unknown,
            /// A known kind whose fields don't read or are out of range; kept as it is, told as a problem.
            Unreadable(String),
        }

        impl Fact {
            /// Every kind this version knows, as written in files.
            pub const KINDS: &'static [&'static str] = &[$($kind),+];

            /// The kind as written in files; `None` for what was not understood.
            pub fn kind(&self) -> Option<&'static str> {
                match self {
                    $(Self::$variant(_) => Some($kind),)+
                    Self::Unknown | Self::Unreadable(_) => None,
                }
            }

            /// Reads the fields of an entry of a kind from the entry's JSON.
            pub(crate) fn read(kind: &str, json: &str) -> Self {
                match kind {
                    $($kind => match serde_json::from_str::<$type>(json) {
                        Ok(fact) => Self::$variant(Box::new(fact)).or_unreadable(),
                        Err(error) => Self::Unreadable(error.to_string()),
                    },)+
                    _ => Self::Unknown,
                }
            }

            /// The fields by their names in files; `None` for what was not understood.
            pub fn fields(&self) -> Option<serde_json::Map<String, serde_json::Value>> {
                let value = match self {
                    $(Self::$variant(fact) => serde_json::to_value(fact).ok()?,)+
                    Self::Unknown | Self::Unreadable(_) => return None,
                };
                match value {
                    serde_json::Value::Object(map) => Some(map),
                    _ => None,
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
    Device(DeviceFact) = "device",
    /// The site.
    Place(PlaceFact) = "place",
    /// Somewhere plants sit.
    Space(SpaceFact) = "space",
    /// A bed.
    Bed(BedFact) = "bed",
    /// A crop's figures as this grower sets them.
    Crop(CropFact) = "crop",
    /// A variety.
    Variety(VarietyFact) = "variety",
    /// A seed lot.
    SeedLot(SeedLotFact) = "seed_lot",
    /// Stems wanted by week.
    Target(TargetFact) = "target",
    /// Stems wanted on a date.
    Order(OrderFact) = "order",
    /// Stems by role per piece.
    Recipe(RecipeFact) = "recipe",
    /// A crop year.
    Season(SeasonFact) = "season",
    /// A sowing accepted from the plan.
    Planned(PlannedFact) = "planned",
    /// Seed sown into trays.
    Sown(SownFact) = "sown",
    /// Seed sown into a bed.
    DirectSown(DirectSownFact) = "direct_sown",
    /// Seedlings counted.
    Counted(CountedFact) = "counted",
    /// A sowing's trays moved.
    Moved(MovedFact) = "moved",
    /// The dome lifted.
    DomeLifted(DomeLiftedFact) = "dome_lifted",
    /// Bottom heat ended.
    MatOff(MatOffFact) = "mat_off",
    /// Cells or plants lost.
    Lost(LostFact) = "lost",
    /// Doubles pricked out into empty cells.
    PrickedOut(PrickedOutFact) = "pricked_out",
    /// Moved to a bigger cell or pot.
    PottedOn(PottedOnFact) = "potted_on",
    /// Hardening off begun.
    Hardening(HardeningFact) = "hardening",
    /// Plants set into a bed.
    Transplanted(TransplantedFact) = "transplanted",
    /// Growing tips taken out.
    Pinched(PinchedFact) = "pinched",
    /// Support mesh put up.
    Netted(NettedFact) = "netted",
    /// Watered.
    Watered(WateredFact) = "watered",
    /// Fed.
    Fed(FedFact) = "fed",
    /// A bud or the first colour seen.
    Seen(SeenFact) = "seen",
    /// A day's lowest and highest temperature.
    Temperature(TemperatureFact) = "temperature",
    /// A frost.
    Frost(FrostFact) = "frost",
    /// Stems cut.
    Cut(CutFact) = "cut",
    /// Stems bundled.
    Bunched(BunchedFact) = "bunched",
    /// Stems thrown away.
    Discarded(DiscardedFact) = "discarded",
    /// Stems handed over.
    Sold(SoldFact) = "sold",
    /// Stems bought from somebody else.
    BoughtIn(BoughtInFact) = "bought_in",
    /// Stems put aside for an order.
    Allocated(AllocatedFact) = "allocated",
    /// A delivery of a standing order closed.
    HandedOver(HandedOverFact) = "handed_over",
    /// Cut stems stood in the warm.
    Warmed(WarmedFact) = "warmed",
    /// Cut stems rested in water.
    Conditioned(ConditionedFact) = "conditioned",
    /// A low that is forecast for the night.
    LowExpected(LowExpectedFact) = "low_expected",
    /// Covered against the night's cold.
    Covered(CoveredFact) = "covered",
    /// Side buds taken out.
    Disbudded(DisbuddedFact) = "disbudded",
    /// A sowing or planting ended.
    Finished(FinishedFact) = "finished",
    /// A note.
    Note(NoteFact) = "note",
    /// Fields of an earlier event corrected.
    Revised(RevisedFact) = "revised",
    /// An earlier entry taken back.
    Voided(VoidedFact) = "voided",
}

impl Fact {
    /// A fact of a kind from its fields by their names in files; [`Fact::Unreadable`] where they don't read, [`Fact::Unknown`]
    /// for a kind that this version does not know.
    pub fn of_fields(kind: &str, fields: &serde_json::Map<String, serde_json::Value>) -> Self {
        match serde_json::to_string(fields) {
            Ok(json) => Self::read(kind, &json),
            Err(error) => Self::Unreadable(error.to_string()),
        }
    }

    /// The day on which it happened, for events.
    pub fn date(&self) -> Option<chrono::NaiveDate> {
        Some(match self {
            Self::Sown(f) => f.date,
            Self::DirectSown(f) => f.date,
            Self::Counted(f) => f.date,
            Self::Moved(f) => f.date,
            Self::DomeLifted(f) => f.date,
            Self::MatOff(f) => f.date,
            Self::Lost(f) => f.date,
            Self::PrickedOut(f) => f.date,
            Self::PottedOn(f) => f.date,
            Self::Hardening(f) => f.date,
            Self::Transplanted(f) => f.date,
            Self::Pinched(f) => f.date,
            Self::Netted(f) => f.date,
            Self::Watered(f) => f.date,
            Self::Fed(f) => f.date,
            Self::Seen(f) => f.date,
            Self::Temperature(f) => f.date,
            Self::Frost(f) => f.date,
            Self::Cut(f) => f.date,
            Self::Bunched(f) => f.date,
            Self::Discarded(f) => f.date,
            Self::Sold(f) => f.date,
            Self::BoughtIn(f) => f.date,
            Self::Allocated(f) => f.date,
            Self::HandedOver(f) => f.date,
            Self::Warmed(f) => f.date,
            Self::Conditioned(f) => f.date,
            Self::LowExpected(f) => f.date,
            Self::Covered(f) => f.date,
            Self::Disbudded(f) => f.date,
            Self::Finished(f) => f.date,
            Self::Note(f) => f.date,
            _ => return None,
        })
    }
}
