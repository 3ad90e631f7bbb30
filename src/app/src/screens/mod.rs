//! One file or folder a place.

pub mod beds;
pub mod bench;
pub mod cooler;
pub mod due;
pub mod family;
pub mod hazard;
pub mod paste;
pub mod petal;
pub mod record_log;
pub mod season;
pub mod shed;
pub mod task_list;
pub mod today;
pub mod tonight;
pub mod wanted;

pub use beds::{BedsScreen, PlantingScreen};
pub use bench::{BenchScreen, CountScreen, FindScreen, LabelsScreen, SowScreen, TrayScreen};
pub use cooler::{AvailableScreen, CoolerScreen, OrderScreen, PasteOrdersScreen, PickScreen};
pub use season::{Planning, SeasonScreen};
pub use shed::ShedScreen;
pub use today::TodayScreen;
