//! What becomes of seed and seedlings on a bench once mat and dome are gone, or stay.
//!
//! From memory of practice unless a source is named, so every figure is varied:
//!
//! - Off the mat what is still to come takes longer, by thermal time: a lit room of 18 °C against the crop's best temperature, over its
//!   base (both from the crop reference). The harsher bench takes twice as long.
//! - Off the mat, and without the dome, a part of the seed that still waits is lost every day: it rots in a mix that is too cool for it,
//!   the more the more its pace falls behind, or dries out as it swells ("one dry afternoon kills pellets and dust seed"). Both at once
//!   cost a crop that wants it warm about a third in a week.
//! - Pelleted and dust-like seed (lisianthus, trachelium) dries out twice as fast, and its dome is vented, so what stands under it damps
//!   off half as fast ("keep vented to 60-80 % up: this keeps late ones from dying dry").
//! - Seedlings that stand under a dome damp off ("small seedlings rot fast", "damping off: 10-30 % loss"), and those that stand on a
//!   mat stretch until they are of no use ("leaving it on is the commonest cause of leggy plants"): so many of them for every day
//!   beyond the first few.

use culture::Crop;

use crate::truth::Seed;

/// Crops of pelleted or dust-like seed that dries out: the slow ones.
const DRIES_OUT: [&str; 2] = ["eustoma", "trachelium"];
/// A lit room, °C.
const ROOM_C: f64 = 18.0;
/// Days for which a seedling bears the dome.
const DOME_BORNE_DAYS: f64 = 2.0;
/// Days for which a seedling bears the mat.
const MAT_BORNE_DAYS: f64 = 3.0;

/// How a bench treats seed and seedlings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bench {
    /// Its name in the table.
    pub name: &'static str,
    /// Pace off the mat, as part of the pace on it; `None`: by thermal time.
    pub off_mat_pace: Option<f64>,
    /// Share of the waiting seed that would be lost every day off the mat if it stood still there; less, the less its pace falls.
    pub waiting_cool: f64,
    /// Share of the waiting seed that is lost every day without the dome.
    pub waiting_undomed: f64,
    /// Share of the seedlings that is lost every day that they stand too long under the dome.
    pub standing_domed: f64,
    /// Share of the seedlings that is lost every day that they stand too long on the mat.
    pub standing_on_mat: f64,
}

/// The benches on which the policies are tried. The first one is what is held likely.
pub const BENCHES: [Bench; 3] = [
    Bench {
        name: "likely",
        off_mat_pace: None,
        waiting_cool: 0.08,
        waiting_undomed: 0.03,
        standing_domed: 0.02,
        standing_on_mat: 0.02,
    },
    Bench {
        name: "kind to those that stand: half the losses under the dome and on the mat",
        off_mat_pace: None,
        waiting_cool: 0.08,
        waiting_undomed: 0.03,
        standing_domed: 0.01,
        standing_on_mat: 0.01,
    },
    Bench {
        name: "harsh to late seed: half the pace off the mat, twice the losses while waiting",
        off_mat_pace: Some(0.5),
        waiting_cool: 0.12,
        waiting_undomed: 0.06,
        standing_domed: 0.02,
        standing_on_mat: 0.02,
    },
];

/// When dome and mat went, in days after sowing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Off {
    /// The dome; infinite while it is on.
    pub dome: f64,
    /// The mat; infinite while it is on.
    pub mat: f64,
}

impl Off {
    /// Both on.
    pub const NOT_YET: Self = Self {
        dome: f64::INFINITY,
        mat: f64::INFINITY,
    };

    /// Both on one day.
    pub fn on(day: i64) -> Self {
        let day = day as f64;
        Self {
            dome: day,
            mat: day,
        }
    }
}

impl Bench {
    /// As it treats a crop.
    pub fn for_crop(mut self, crop: &Crop) -> Self {
        if DRIES_OUT.contains(&crop.id().as_str()) {
            self.waiting_undomed *= 2.0;
            self.standing_domed /= 2.0;
        }
        self
    }

    /// Whether seed that waits fares on it as on another.
    pub fn waits_like(&self, other: &Self) -> bool {
        let standing = |bench: &Self| Self {
            name: "",
            standing_domed: 0.0,
            standing_on_mat: 0.0,
            ..*bench
        };
        standing(self) == standing(other)
    }

    /// Pace off the mat, as part of the pace on it.
    pub fn pace(&self, crop: &Crop) -> f64 {
        self.off_mat_pace.unwrap_or_else(|| {
            let typical = |name| crop.typical(name).expect("the reference has it");
            let base = typical("base_temp_c");
            let best = typical("germination_soil_temp_c");
            ((ROOM_C.min(best) - base) / (best - base)).clamp(0.1, 1.0)
        })
    }

    /// The day on which a seed comes up, if it does.
    pub fn up_on(&self, pace: f64, seed: &Seed, off: Off) -> Option<f64> {
        let on_mat = seed.day?;
        let up = if on_mat <= off.mat {
            on_mat
        } else {
            off.mat + (on_mat - off.mat) / pace
        };
        let left = |share: f64, since: f64| (1.0 - share).powf((up - since).max(0.0));
        let alive =
            left(self.waiting_cool * (1.0 - pace), off.mat) * left(self.waiting_undomed, off.dome);
        (seed.luck_waiting < alive).then_some(up)
    }

    /// Whether a seed becomes a plant.
    pub fn becomes_a_plant(&self, pace: f64, seed: &Seed, off: Off) -> bool {
        self.up_on(pace, seed, off).is_some_and(|up| {
            let left = |share: f64, until: f64, borne: f64| {
                (1.0 - share).powf((until - up - borne).max(0.0))
            };
            let kept = left(self.standing_domed, off.dome, DOME_BORNE_DAYS)
                * left(self.standing_on_mat, off.mat, MAT_BORNE_DAYS);
            seed.luck_standing < kept
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seed(luck: f64) -> Seed {
        Seed {
            day: Some(10.0),
            luck_waiting: luck,
            luck_standing: luck,
        }
    }

    /// Worked out by hand: half up off the mat since day 6 at half the pace, it is up on day 6 + 4 x 2 = 14; eight days off the mat
    /// at half of 12 % and four without a dome at 6 % leave 0.94^12 = 0.476.
    #[test]
    fn seed_waits_and_is_lost_by_the_days() {
        let bench = BENCHES[2];
        let off = Off {
            dome: 10.0,
            mat: 6.0,
        };
        assert_eq!(bench.up_on(0.5, &seed(0.47), off), Some(14.0));
        assert_eq!(bench.up_on(0.5, &seed(0.48), off), None);
        assert_eq!(
            bench.up_on(0.5, &seed(0.99), Off::NOT_YET),
            Some(10.0),
            "nothing is lost where both stay"
        );
        assert_eq!(
            bench.up_on(
                0.5,
                &Seed {
                    day: None,
                    ..seed(0.0)
                },
                Off::NOT_YET
            ),
            None
        );
    }

    /// Up on day 10; dome until day 20: eight days too long; mat until day 18: five too long; 0.98^13 = 0.769.
    #[test]
    fn seedlings_bear_dome_and_mat_for_some_days() {
        let bench = BENCHES[0];
        let late = Off {
            dome: 20.0,
            mat: 18.0,
        };
        assert!(bench.becomes_a_plant(0.8, &seed(0.76), late));
        assert!(!bench.becomes_a_plant(0.8, &seed(0.78), late));
        let soon = Off {
            dome: 12.0,
            mat: 13.0,
        };
        assert!(bench.becomes_a_plant(0.8, &seed(0.999), soon));
    }
}
