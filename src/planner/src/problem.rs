//! What is to be planned: stems wanted by week, sowings that could give them, and the room that these take.
//!
//! Weeks are counted from 0, the first that can still be planned for.

use serde::{Deserialize, Serialize};

/// Weeks that a problem may span: three years.
pub const WEEKS_MAX: usize = 160;
/// Sowings to choose from, at most.
pub const CHOICES_MAX: usize = 200_000;

/// A planning problem.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Problem {
    /// Weeks that it spans.
    pub weeks: usize,
    /// Everything that can be full.
    pub rooms: Vec<Room>,
    /// Stems wanted.
    pub demands: Vec<Demand>,
    /// Kinds of stems, by the demands that they answer.
    pub classes: Vec<Class>,
    /// Sowings to choose from.
    pub choices: Vec<Choice>,
}

/// Something that can be full: a mat, a shelf, the beds of a tunnel. In trays or in metres of bed.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Room {
    /// What is free in each week, not below 0.
    pub free: Vec<f64>,
}

/// Stems of one kind wanted.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Demand {
    /// Weeks with the stems wanted in them, ascending.
    pub wanted: Vec<(usize, f64)>,
    /// What a stem that is missing counts, in the unit of [`Choice::cost`].
    pub price: f64,
}

/// Stems that answer the same demands.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Class {
    /// Which demands.
    pub answers: Vec<usize>,
    /// Stems by week that come anyway.
    pub comes: Vec<f64>,
}

/// A sowing that could be made, of any size up to a limit.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    /// The kind of stems it gives.
    pub class: usize,
    /// The first week with stems.
    pub first: usize,
    /// Stems of one plant in that week and those after it.
    pub gives: Vec<f64>,
    /// Room that one plant takes.
    pub takes: Vec<Take>,
    /// What one plant costs: seed, room and work.
    pub cost: f64,
    /// What the sowing costs whatever its size.
    pub start: f64,
}

/// Room taken by one plant from one week on and before another.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Take {
    /// Which room.
    pub room: usize,
    /// From the beginning of this week.
    pub from: usize,
    /// To the beginning of this one.
    pub to: usize,
    /// How much, of the room's unit.
    pub each: f64,
}

/// What makes no sense in a problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProblemError {
    /// More weeks or choices than the limits allow.
    TooLarge,
    /// A number that is negative, infinite or none: where.
    Odd(&'static str),
    /// Something refers to a room, week, class or demand that is not there: what.
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
    /// Whether all of it hangs together.
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

    /// The most plants of a choice that room and demands leave a use for; 0 where it serves nothing.
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
