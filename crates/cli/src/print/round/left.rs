//! Who gets nothing, each reason once, in one or two lines.

use crate::print::{Out, short};
use guardcell::advice::round::Alone;

pub(super) fn print(alone: &[Alone], out: &mut Out) {
    for group in short::groups(alone) {
        out.item("  - ", &format!("{}: {}", group.says(), group.ids.join(", ")));
    }
}
