//! Conversions of a table.

use super::cells;
use super::columns;
use super::fault::Fault;
use super::function::Table;
use guardcell::units::convert::{ConvertRequest, convert};
use guardcell_server::Fault as _;
use std::sync::Arc;

/// What answers rows, with the columns named.
pub(crate) fn rows(paths: Arc<[String]>) -> Table {
    Box::new(move || {
        let paths = Arc::clone(&paths);
        Box::new(move |tree, cells, out| {
            let request: ConvertRequest = cells::read(tree, cells)?;
            let answer = convert(&request).map_err(|e| Fault::by_column(e.into_problem()))?;
            let answer =
                serde_json::to_value(&answer).map_err(|e| Fault::row(e.to_string(), ""))?;
            for path in paths.iter() {
                out.push(b',');
                columns::write(columns::at(&answer, path), out)
                    .map_err(|e| Fault::row(e.to_string(), ""))?;
            }
            Ok(())
        })
    })
}
