//! A planning problem: stems wanted by week, possible sowings, and the room they take.
//!
//! Weeks are counted from 0, the first that can still be planned for.

use serde::{Deserialize, Serialize};

/// The longest time span in weeks: three years.
pub const WEEKS_MAX: usize = 160;
/// The largest number of possible sowings.
pub const CHOICES_MAX: usize = 200_000;

/// A planning problem.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Problem {
    /// Number of weeks.
    pub weeks: usize,
    /// Everything that can be full.
    pub rooms: Vec<Room>,
    /// Stems wanted.
    pub demands: Vec<Demand>,
    /// Classes of stems, by the demands they serve.
    pub classes: Vec<Class>,
    /// Possible sowings.
    pub choices: Vec<Choice>,
}

/// Something that can be full, in trays or metres of bed: a mat, a shelf, the beds of a tunnel.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Room {
    /// What is free in each week, not negative.
    pub free: Vec<f64>,
}

/// Stems of one kind wanted.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Demand {
    /// Weeks with the stems wanted in them, ascending.
    pub wanted: Vec<(usize, f64)>,
    /// Cost of a missing stem, in the unit of [`Choice::cost`].
    pub price: f64,
}

/// Stems that serve the same demands.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Class {
    /// Indices of the demands.
    pub answers: Vec<usize>,
    /// Stems by week that come anyway.
    pub comes: Vec<f64>,
}

/// A possible sowing, of any size up to a limit.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    /// Class of its stems.
    pub class: usize,
    /// The first week with stems.
    pub first: usize,
    /// Stems per plant in that week and those after it.
    pub gives: Vec<f64>,
    /// Room per plant.
    pub takes: Vec<Take>,
    /// Cost per plant: seed, room and work.
    pub cost: f64,
    /// Fixed cost of the sowing.
    pub start: f64,
}

/// Room taken by one plant.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Take {
    /// Index of the room.
    pub room: usize,
    /// First week.
    pub from: usize,
    /// First week after it.
    pub to: usize,
    /// How much, in the unit of the room.
    pub each: f64,
}

/// Why a problem is invalid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProblemError {
    /// More weeks or choices than the limits allow.
    TooLarge,
    /// The named field is negative or not finite.
    Odd(&'static str),
    /// The named index is out of range.
    Missing(&'static str),
}

impl core::fmt::Display for ProblemError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::TooLarge => write!(f, "too many weeks or choices"),
            Self::Odd(field) => write!(f, "{field} is not a number of zero or more"),
            Self::Missing(what) => write!(f, "{what} that is not there"),
        }
    }
}

impl core::error::Error for ProblemError {}

impl Problem {
    /// Checks all fields.
    ///
    /// # Errors
    /// The first [`ProblemError`] found.
    pub fn check(&self) -> Result<(), ProblemError> {
        if self.weeks > WEEKS_MAX || self.choices.len() > CHOICES_MAX {
            return Err(ProblemError::TooLarge);
        }
        let sound = |field, numbers: &[f64]| {
            let good = numbers.iter().all(|n| n.is_finite() && *n >= 0.0);
            if good {
                Ok(())
            } else {
                Err(ProblemError::Odd(field))
            }
        };
        let there = |what, place: usize, count: usize| {
            if place < count {
                Ok(())
            } else {
                Err(ProblemError::Missing(what))
            }
        };
        for room in &self.rooms {
            sound("free", &room.free)?;
            there("free", self.weeks, room.free.len() + 1)?;
        }
        for demand in &self.demands {
            sound("price", &[demand.price])?;
            for (week, stems) in &demand.wanted {
                there("week", *week, self.weeks)?;
                sound("wanted", &[*stems])?;
            }
        }
        for class in &self.classes {
            sound("comes", &class.comes)?;
            there("comes", self.weeks, class.comes.len() + 1)?;
            for demand in &class.answers {
                there("demand", *demand, self.demands.len())?;
            }
        }
        for choice in &self.choices {
            there("class", choice.class, self.classes.len())?;
            sound("gives", &choice.gives)?;
            sound("cost", &[choice.cost, choice.start])?;
            for take in &choice.takes {
                there("room", take.room, self.rooms.len())?;
                there("week", take.to, self.weeks + 1)?;
                there("week", take.from, take.to + 1)?;
                sound("each", &[take.each])?;
            }
        }
        Ok(())
    }

    /// The largest useful number of plants of a choice, by room and demand; 0 if it serves no demand.
    pub fn most(&self, choice: &Choice) -> f64 {
        let mut useful = 0.0f64;
        let answers = self
            .classes
            .get(choice.class)
            .map_or(&[][..], |class| &class.answers);
        for (n, gives) in choice.gives.iter().enumerate() {
            if *gives <= 0.0 {
                continue;
            }
            let week = choice.first + n;
            let wanted: f64 = answers
                .iter()
                .filter_map(|demand| self.demands.get(*demand))
                .map(|demand| demand.in_week(week))
                .sum();
            useful = useful.max(wanted / gives);
        }
        choice.takes.iter().fold(useful, |most, take| {
            let Some(room) = self.rooms.get(take.room).filter(|_| take.each > 0.0) else {
                return most;
            };
            let free = room.free.get(take.from..take.to).unwrap_or_default();
            free.iter()
                .fold(most, |most, free| most.min(free / take.each))
        })
    }
}

impl Demand {
    /// Stems wanted in a week.
    pub fn in_week(&self, week: usize) -> f64 {
        self.wanted
            .binary_search_by_key(&week, |(week, _)| *week)
            .ok()
            .and_then(|place| self.wanted.get(place))
            .map_or(0.0, |(_, stems)| *stems)
    }
}
