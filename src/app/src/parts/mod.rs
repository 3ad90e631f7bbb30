//! What screens are made of. Each part looks as the style sheet's catalogue of classes has it and takes its words from the
//! catalogue of words.

pub mod banners;
pub mod caution;
pub mod demo_door;
pub mod empty;
pub mod field;
pub mod form;
pub mod frame;
pub mod hand_on;
pub mod icon;
pub mod notice;
pub mod read;
pub mod saver;
pub mod section;
pub mod sheet;
pub mod slip;
pub mod stems_week;
pub mod stepper;
pub mod table;
pub mod typed;
pub mod why;
pub mod words;

pub use caution::{Caution, FoldedCaution};
pub use demo_door::DemoDoor;
pub use empty::{Drawing, Empty};
pub use field::{AreaField, DateField, NumberField, SelectField, TextField, Tick, WeekField};
pub use form::{Choice, Picked};
pub use frame::{Back, Frame};
pub use icon::Icon;
pub use notice::{Notice, NoticeKind};
pub use saver::{SaveButton, SaveProblem, Saver};
pub use section::{Contents, ContentsLine, Section};
pub use sheet::Sheet;
pub use stems_week::{StemsBar, WeekNumber};
pub use stepper::Stepper;
pub use table::{Column, Table, TableRow};
pub use typed::Typed;
pub use why::Why;
pub use words::Words;
