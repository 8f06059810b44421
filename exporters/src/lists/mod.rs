//! Lists: what is cut, what is screwed in, what is bought. Every number is counted from parts, features and joints.

mod buying_list;
mod checklist;
mod cut_parts;
mod cutting_list;
mod finish_rows;
mod hardware;
mod options;
mod summary;
mod table;

pub use buying_list::{BuyingListCsv, BuyingListOptions};
pub use checklist::Checklist;
pub use cutting_list::{CuttingListCsv, CuttingListJson};
pub use hardware::HardwareCsv;
pub use options::{ListOptions, ListUnits};
pub use summary::{SummaryOptions, SummaryText, summary};
