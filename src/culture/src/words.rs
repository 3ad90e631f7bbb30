//! The terms by which crops are classified.

use serde::Deserialize;

/// When a crop may be planted out, by its cold tolerance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
pub enum Hardiness {
    /// Planted before the last frost; many tolerate autumn planting.
    #[serde(rename = "hardy")]
    Hardy,
    /// Planted around the last frost; tolerates light frost when hardened.
    #[serde(rename = "half-hardy")]
    HalfHardy,
    /// Planted after the last frost into warm soil.
    #[serde(rename = "tender")]
    Tender,
    /// Sown in summer, planted in late summer, blooms the next year; first-year strains are hardy annuals.
    #[serde(rename = "biennial")]
    Biennial,
    /// Hardy, lives for many years.
    #[serde(rename = "perennial")]
    Perennial,
    /// Cool-season corm or tuber: planted from autumn to late winter under cover.
    #[serde(rename = "cool corm")]
    CoolCorm,
    /// Tender corm or tuber: needs soil of 10 to 15 degrees.
    #[serde(rename = "tender corm")]
    TenderCorm,
    /// Hardy bulb.
    #[serde(rename = "bulb")]
    Bulb,
}

impl Hardiness {
    /// The trade term.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hardy => "hardy",
            Self::HalfHardy => "half-hardy",
            Self::Tender => "tender",
            Self::Biennial => "biennial",
            Self::Perennial => "perennial",
            Self::CoolCorm => "cool corm",
            Self::TenderCorm => "tender corm",
            Self::Bulb => "bulb",
        }
    }
}

/// The role of a stem in a bouquet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// Tall line.
    Spike,
    /// The main flower.
    Focal,
    /// Smaller blooms around the focal ones.
    Secondary,
    /// Fills the body.
    Filler,
    /// Light texture above the rest.
    Airy,
    /// Greens.
    Foliage,
}

impl Role {
    /// All roles, in the order of a recipe.
    pub const ALL: [Self; 6] = [
        Self::Focal,
        Self::Secondary,
        Self::Spike,
        Self::Filler,
        Self::Airy,
        Self::Foliage,
    ];

    /// The trade term.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Spike => "spike",
            Self::Focal => "focal",
            Self::Secondary => "secondary",
            Self::Filler => "filler",
            Self::Airy => "airy",
            Self::Foliage => "foliage",
        }
    }
}

/// What is bought and planted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Unit {
    /// Seed, raw or pelleted.
    Seed,
    /// A corm, or a tuberous root sold as one.
    Corm,
    /// A tuber.
    Tuber,
    /// A bulb.
    Bulb,
}

impl Unit {
    /// The trade term for one of it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Seed => "seed",
            Self::Corm => "corm",
            Self::Tuber => "tuber",
            Self::Bulb => "bulb",
        }
    }
}

/// The event from which a crop's days to first bloom are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
pub enum Basis {
    /// Transplanting into the bed.
    #[serde(rename = "transplant")]
    Transplant,
    /// Sowing in the bed; a transplant is about 10 to 14 days quicker.
    #[serde(rename = "direct sowing")]
    DirectSowing,
    /// Planting the corm, tuber or bulb.
    #[serde(rename = "piece")]
    Piece,
    /// Shoots about 8 cm tall in spring, whenever it was planted.
    #[serde(rename = "shoots")]
    SpringShoots,
    /// The first planting, across one winter.
    #[serde(rename = "across winter")]
    AcrossWinter,
}

/// Whether a crop's trays go on the heat mat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MatUse {
    /// Never: bulbs and pieces, cool germinators, seed that needs chilling.
    Never,
    /// On the mat until the crop's share is up.
    Usual,
    /// Only if the mix is cold, and never above the crop's maximum.
    OnlyIfCold,
}
