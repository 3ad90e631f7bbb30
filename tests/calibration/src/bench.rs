//! What happens to seed and seedlings on a bench after heat mat and dome are removed, or if they stay.
//!
//! From memory of practice unless a source is given, so every figure is varied:
//!
//! - Off the mat the remaining emergence is slower, by thermal time: a lit room of 18 °C compared with the
//!   crop's best temperature, above its base (both from the crop reference). On the harsher bench it takes
//!   twice as long.
//! - Off the mat, and without the dome, a share of the seed that has not emerged is lost every day: it rots
//!   in a mix that is too cool for it, the more the further its pace falls, or it dries out as it swells
//!   ("one dry afternoon kills pellets and dust seed"). Both together cost a warm-germinating crop about a
//!   third in a week.
//! - Pelleted and dust-like seed (lisianthus, trachelium) dries out twice as fast, and its dome is vented, so
//!   its seedlings damp off half as fast ("keep vented to 60-80 % up: this keeps late ones from dying dry").
//! - Seedlings under a dome damp off ("small seedlings rot fast", "damping off: 10-30 % loss"), and seedlings
//!   on a mat stretch until they are unusable ("leaving it on is the commonest cause of leggy plants"): a
//!   share of them for every day beyond the first few.

use culture::Crop;

use crate::truth::Seed;

/// Slow crops with pelleted or dust-like seed that dries out.
const DRIES_OUT: [&str; 2] = ["eustoma", "trachelium"];
/// Temperature of a lit room, °C.
const ROOM_C: f64 = 18.0;
/// Days that a seedling tolerates the dome.
const DOME_BORNE_DAYS: f64 = 2.0;
/// Days that a seedling tolerates the mat.
const MAT_BORNE_DAYS: f64 = 3.0;

/// How a bench treats seed and seedlings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bench {
    /// Name in the table.
    pub name: &'static str,
    /// Pace off the mat relative to the pace on it; `None`: by thermal time.
    pub off_mat_pace: Option<f64>,
    /// Share of the unemerged seed that would be lost every day off the mat if development stopped
    /// completely; less if the pace falls less.
    pub waiting_cool: f64,
    /// Share of the unemerged seed that is lost every day without the dome.
    pub waiting_undomed: f64,
    /// Share of the seedlings that is lost for every day under the dome beyond the tolerated ones.
    pub standing_domed: f64,
    /// Share of the seedlings that is lost for every day on the mat beyond the tolerated ones.
    pub standing_on_mat: f64,
}

/// The benches on which the policies are compared. The first one is considered likely.
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

/// When dome and mat were removed, in days after sowing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Off {
    /// Dome; infinite while it is on.
    pub dome: f64,
    /// Mat; infinite while it is on.
    pub mat: f64,
}

impl Off {
    /// Neither removed yet.
    pub const NOT_YET: Self = Self {
        dome: f64::INFINITY,
        mat: f64::INFINITY,
    };

    /// Both removed on the same day.
    pub fn on(day: i64) -> Self {
        let day = day as f64;
        Self {
            dome: day,
            mat: day,
        }
    }
}

impl Bench {
    /// The bench with the losses of a crop.
    pub fn for_crop(mut self, crop: &Crop) -> Self {
        if DRIES_OUT.contains(&crop.id().as_str()) {
            self.waiting_undomed *= 2.0;
            self.standing_domed /= 2.0;
        }
        self
    }

    /// Whether unemerged seed behaves the same on another bench.
    pub fn same_before_emergence(&self, other: &Self) -> bool {
        let standing = |bench: &Self| Self {
            name: "",
            standing_domed: 0.0,
            standing_on_mat: 0.0,
            ..*bench
        };
        standing(self) == standing(other)
    }

    /// Pace off the mat relative to the pace on it.
    pub fn pace(&self, crop: &Crop) -> f64 {
        self.off_mat_pace.unwrap_or_else(|| {
            let typical = |name| crop.typical(name).expect("the reference has it");
            let base = typical("base_temp_c");
            let best = typical("germination_soil_temp_c");
            ((ROOM_C.min(best) - base) / (best - base)).clamp(0.1, 1.0)
        })
    }

    /// The day on which a seed emerges, if it does.
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

    /// Worked by hand: halfway at removal from the mat on day 6 and then at half the pace, it emerges on day
    /// 6 + 4 x 2 = 14; eight days off the mat at half of 12 % and four without a dome at 6 % leave 0.94^12 =
    /// 0.476.
    #[test]
    fn unemerged_seed_is_lost_by_the_days() {
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

    /// Emerged on day 10; dome until day 20: eight days too long; mat until day 18: five too long; 0.98^13 =
    /// 0.769.
    #[test]
    fn seedlings_tolerate_dome_and_mat_for_some_days() {
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
