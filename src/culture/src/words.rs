//! The trade words a crop is sorted by.

use serde::Deserialize;

/// When a crop may go out, by the cold it bears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
pub enum Hardiness {
    /// Plant before the last frost; many stand autumn planting.
    #[serde(rename = "hardy")]
    Hardy,
    /// Plant around the last frost; light frost borne when hardened.
    #[serde(rename = "half-hardy")]
    HalfHardy,
    /// Plant after the last frost into warm soil.
    #[serde(rename = "tender")]
    Tender,
    /// Sown in summer, planted in late summer, blooms the year after; first-year
    /// strains as hardy annuals.
    #[serde(rename = "biennial")]
    Biennial,
    /// Hardy, for many years.
    #[serde(rename = "perennial")]
    Perennial,
    /// Cool-season corm or tuber: autumn to late winter under cover.
    #[serde(rename = "cool corm")]
    CoolCorm,
    /// Tender corm or tuber: soil of 10 to 15 degrees.
    #[serde(rename = "tender corm")]
    TenderCorm,
    /// Hardy bulb.
    #[serde(rename = "bulb")]
    Bulb,
}

impl Hardiness {
    /// The trade's word for it.
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

/// What a stem does in a bouquet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// Tall line.
    Spike,
    /// The flower one looks at.
    Focal,
    /// Smaller blooms around the focal ones.
    Secondary,
    /// Fills the body.
    Filler,
    /// Light texture that floats above.
    Airy,
    /// Greens.
    Foliage,
}

impl Role {
    /// All roles, in the order a recipe lists them.
    pub const ALL: [Self; 6] = [
        Self::Focal,
        Self::Secondary,
        Self::Spike,
        Self::Filler,
        Self::Airy,
        Self::Foliage,
    ];

    /// The trade's word for it.
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

/// What is bought and put into the ground.
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
    /// The trade's word for one of it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Seed => "seed",
            Self::Corm => "corm",
            Self::Tuber => "tuber",
            Self::Bulb => "bulb",
        }
    }
}

/// From when a crop's days to first bloom are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
pub enum Basis {
    /// From transplanting into the bed.
    #[serde(rename = "transplant")]
    Transplant,
    /// From sowing in the bed; a transplant is about 10 to 14 days quicker.
    #[serde(rename = "direct sowing")]
    DirectSowing,
    /// From planting the corm, tuber or bulb.
    #[serde(rename = "piece")]
    Piece,
    /// From shoots about 8 cm tall in spring, whenever it was planted.
    #[serde(rename = "shoots")]
    SpringShoots,
    /// From the first planting, across one winter.
    #[serde(rename = "across winter")]
    AcrossWinter,
}

/// Whether a crop's trays belong on the heat mat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MatUse {
    /// No mat: bulbs and pieces, cool germinators, seed that wants a chill.
    Never,
    /// On the mat until its share is up.
    Usual,
    /// Only if the mix is cold, and never above the crop's ceiling.
    OnlyIfCold,
}
