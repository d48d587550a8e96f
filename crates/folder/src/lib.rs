//! A grower's folder, as the grower writes it: the place, the plants, the labels, the waters and the
//! readings of the air, each a file that a person can edit.
//!
//! ```text
//! site.toml  collection.csv  labels/  waters/  conditions/  journal.db
//! ```
//!
//! Nothing here reads a file: every function takes a text and the name of its file, which errors
//! carry with line and column. So the command line, the page and the bindings read the same files
//! the same way.
//!
//! ```
//! let text = "id,name,area,setting,standing\nA1,Vanda,house,hanging,ordinary\n";
//! let error = guardcell_folder::collection("collection.csv", text).unwrap_err();
//! let place = error.place().unwrap();
//! assert_eq!((place.file.as_deref(), place.line), (Some("collection.csv"), Some(2)));
//! assert_eq!(error.hint(), "write one of mounted, basket, potted, landscape");
//! ```

pub mod calls;
mod collection;
mod contents;
mod fault;
pub mod init;
mod label;
pub mod layout;
mod lines;
mod readings;
mod rota;
mod site;
mod situation;
mod table;
mod tasks;
mod time;
mod water;

pub use collection::{Collection, collection};
pub use contents::Contents;
pub use label::{LABEL_ENDINGS, choose, choose_one, labels};
pub use lines::{EntryLines, entry_lines, lines_of_entries};
pub use readings::{Readings, readings};
pub use rota::{
    Gives, Turn, WATER, feeds, has_turns, product_named, take_turn, turn, usual_feed,
    usual_product, with_supplements,
};
pub use site::site;
pub use situation::{Learned, Situation, SituationRequest, TaskNow, TurnNow, situation};
pub use tasks::{Task, TaskKind, tasks};
pub use water::water;
