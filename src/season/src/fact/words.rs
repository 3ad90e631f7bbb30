//! Closed lists of words that stand inside facts.

use serde::{Deserialize, Serialize};

macro_rules! words {
    ($($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal),+ $(,)? })+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $word)] $variant,)+
        }

        impl $name {
            /// All of them, in the order in which they are offered.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word as written in files and as key of its text on the screen.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
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
    SpaceKind {
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
    Role {
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
    CellKind {
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
    Keeping {
        /// Dry, in a room of the house.
        Room = "room",
        /// In a fridge, dry and airtight.
        Cool = "cool",
        /// In a freezer, dry and airtight.
        Freezer = "freezer",
    }

    /// Why plants were lost.
    LossCause {
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
    WaterRegime {
        /// Never dry: mist or water from below.
        NeverDry = "never_dry",
        /// Surface matt between waterings.
        MattBetween = "matt_between",
        /// Dry between waterings.
        DryBetween = "dry_between",
    }

    /// What was seen on a planting.
    BloomStage {
        /// First bud seen.
        VisibleBud = "visible_bud",
        /// First colour.
        FirstColour = "first_colour",
    }

    /// Length and quality of a cut.
    Grade {
        /// Florist length, straight and clean.
        First = "first",
        /// Usable, short or bent.
        Second = "second",
    }
}
