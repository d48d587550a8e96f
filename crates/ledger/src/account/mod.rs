//! The ledger: what each plant got, week by week, what is due, and what the practice table says.

mod answer;
mod growth;
mod growth_picture;
mod picture;
mod plant;
mod weeks;

pub use answer::{
    GrowthMonth, Ledger, LedgerRequest, PhotoTaken, PlantLedger, PlantWeek, ProductGiven,
};
pub use weeks::ledger;
pub(crate) use weeks::of;
