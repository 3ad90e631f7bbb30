//! What was seen in one cell.

/// What was seen in one cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Mark {
    /// Not looked at.
    #[default]
    Unseen,
    /// Looked at, nothing up.
    Empty,
    /// One seedling up.
    Up,
    /// Two or more seedlings up.
    Two,
    /// Lost: emptied, spilled, or its seedling dead.
    Lost,
}

impl Mark {
    /// All of them, with those a grower sets first.
    pub const ALL: [Self; 5] = [Self::Up, Self::Empty, Self::Two, Self::Lost, Self::Unseen];

    /// Its letter in a written map.
    pub fn letter(self) -> char {
        match self {
            Self::Unseen => 'n',
            Self::Empty => 'e',
            Self::Up => 'u',
            Self::Two => 'd',
            Self::Lost => 'l',
        }
    }

    /// The mark of a letter.
    pub fn of_letter(letter: char) -> Option<Self> {
        Self::ALL.into_iter().find(|mark| mark.letter() == letter)
    }

    /// The key of its word.
    pub fn key(self) -> &'static str {
        match self {
            Self::Unseen => "mark.unseen",
            Self::Empty => "mark.empty",
            Self::Up => "mark.up",
            Self::Two => "mark.two",
            Self::Lost => "mark.lost",
        }
    }

    /// Whether a seedling stands there.
    pub fn is_up(self) -> bool {
        matches!(self, Self::Up | Self::Two)
    }
}
