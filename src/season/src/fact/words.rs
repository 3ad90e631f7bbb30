//! Closed lists of words that stand inside facts.

use serde::{Deserialize, Serialize};

/// A closed list of words.
#[derive(Debug, PartialEq, Eq)]
pub struct WordList {
    /// The words as written in files, in the order in which they are offered, each with the key of its text on the screen.
    pub words: &'static [(&'static str, &'static str)],
}

macro_rules! words {
    ($($(#[$doc:meta])* $name:ident in $prefix:literal { $($(#[$vdoc:meta])* $variant:ident = $word:literal),+ $(,)? })+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $word)] $variant,)+
        }

        impl $name {
            /// All of them, in the order in which they are offered.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The list by its words.
            pub const LIST: WordList = WordList {
                words: &[$(($word, concat!($prefix, ".", $word))),+],
            };

            /// The word as written in files.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// The key of its text on the screen.
            pub fn key(self) -> &'static str {
                match self { $(Self::$variant => concat!($prefix, ".", $word)),+ }
            }

            /// The value of a word as written in files.
            pub fn of_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }
    )+};
}

words! {
    /// What kind of space: in the order in which a plant walks through them.
    SpaceKind in "space" {
        /// Heat mat.
        Mat = "mat",
        /// Lit shelf.
        Shelf = "shelf",
        /// Hardening spot or cold frame.
        Hardening = "hardening",
        /// Unheated tunnel.
        Tunnel = "tunnel",
        /// Outdoors.
        Outdoors = "outdoors",
        /// Cooler.
        Cooler = "cooler",
    }

    /// What a stem does in a bouquet.
    Role in "role" {
        /// Spike or line.
        Spike = "spike",
        /// Focal.
        Focal = "focal",
        /// Secondary.
        Secondary = "secondary",
        /// Filler.
        Filler = "filler",
        /// Airy or texture.
        Airy = "airy",
        /// Foliage or greens.
        Foliage = "foliage",
    }

    /// What seed is sown into.
    CellKind in "cell" {
        /// Soil block.
        Block = "block",
        /// Plug tray cell.
        Plug = "plug",
        /// Pot.
        Pot = "pot",
        /// Open tray without cells.
        Open = "open",
    }

    /// How seed is kept from one season to the next.
    Keeping in "kept" {
        /// Dry, in a room of the house.
        Room = "room",
        /// In a fridge, dry and airtight.
        Cool = "cool",
        /// In a freezer, dry and airtight.
        Freezer = "freezer",
    }

    /// Why plants were lost.
    LossCause in "cause" {
        /// Dried out.
        DriedOut = "dried_out",
        /// Damping off.
        DampingOff = "damping_off",
        /// Dropped or knocked over.
        Dropped = "dropped",
        /// Algae.
        Algae = "algae",
        /// Mice, slugs, birds, deer.
        Eaten = "eaten",
        /// Too hot.
        TooHot = "too_hot",
        /// Frost or cold.
        Cold = "cold",
        /// Weak seedlings culled.
        Culled = "culled",
        /// Something else.
        Other = "other",
    }

    /// How wet a tray is kept.
    WaterRegime in "water.regime" {
        /// Never dry: mist or water from below.
        NeverDry = "never_dry",
        /// Surface matt between waterings.
        MattBetween = "matt_between",
        /// Dry between waterings.
        DryBetween = "dry_between",
    }

    /// What was seen on a planting.
    BloomStage in "bloom" {
        /// First bud seen.
        VisibleBud = "visible_bud",
        /// First colour.
        FirstColour = "first_colour",
    }

    /// Length and quality of a cut.
    Grade in "grade" {
        /// Florist length, straight and clean.
        First = "first",
        /// Usable, short or bent.
        Second = "second",
    }
}

/// Where trays may be.
pub const FOR_TRAYS: &[SpaceKind] = &[SpaceKind::Mat, SpaceKind::Shelf, SpaceKind::Hardening];
/// Where plants may be set.
pub const GROUND: &[SpaceKind] = &[SpaceKind::Tunnel, SpaceKind::Outdoors];
/// Where a thermometer may hang.
pub const ANYWHERE: &[SpaceKind] = SpaceKind::ALL;
/// Where it may freeze.
pub const FROSTY: &[SpaceKind] = &[SpaceKind::Hardening, SpaceKind::Tunnel, SpaceKind::Outdoors];
