//! A call asked of every row of a table: which columns are read, which are written.

use super::cells::Cells;
use super::convert;
use super::errors::error_fields;
use super::input::{self, Constant};
use super::options::Options;
use super::plan::{Plan, Rows};
use super::shape::{Shape, shape};
use super::worker::Worker;
use crate::fields::{has_path, properties};
use crate::function::{Given, Once, RowFunction, Tabular, answer_schema, tabular};
use crate::path::{self, WHOLE};
use crate::tree::Tree;
use arrow_schema::{DataType, Field, Schema, SchemaRef};
use guardcell::calls::AnyCall;
use guardcell::{Code, Error, Readable, excerpt, pointer, read_request};
use serde_json::{Map, Value};
use std::sync::Arc;

/// The column that holds the whole request as JSON.
pub const REQUEST: &str = "request";

/// A call asked of every row of a table.
#[derive(Clone)]
pub struct Asked(Arc<Plan>);

impl std::fmt::Debug for Asked {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Asked").field("schema", &self.0.schema).finish_non_exhaustive()
    }
}

impl Asked {
    /// Prepares a call for the rows of a table with these columns.
    ///
    /// A column `request` holds whole requests as JSON. Else the columns are those of the fields of
    /// the request, as [`tabular`] calls have them; others are passed along. A number column
    /// `quantity` of `convert` takes its unit from a column or constant `unit`.
    ///
    /// # Errors
    /// [`Code::Missing`] for a field that every row needs, [`Code::Unknown`] for a constant or a
    /// column of the answer that does not exist, [`Code::WrongForm`] for a column whose type no
    /// field has and for a call that needs whole requests, [`Code::Conflict`] for two columns of
    /// one field.
    pub fn new(call: &'static AnyCall, input: &SchemaRef, options: Options) -> Result<Self, Error> {
        let schema = answer_schema(call);
        let Options { columns, mut constants, once, error_column } = options;
        let tabular = tabular(call);
        let request = input.fields().iter().position(|f| f.name() == REQUEST);
        let (rows, usual, read) = match (request, &tabular) {
            (Some(column), _) => {
                input::check(REQUEST, input.field(column).data_type())?;
                let usual = properties(&schema);
                (Rows::Json { call, column, constants }, usual, vec![REQUEST.to_owned()])
            }
            (None, Some(tabular)) => {
                let once = taken(tabular, &mut constants, once)?;
                let function = tabular.function(once).map_err(missing_once)?;
                let (rows, read) = flat(call, input, &function, &constants)?;
                let usual = tabular.usual.iter().map(|c| (*c).to_owned()).collect();
                (rows, usual, read)
            }
            (None, None) => {
                return Err(Error::new(
                    Code::WrongForm,
                    format!("the request of {} is not a row of a table", call.name()),
                    format!("give whole requests as JSON in a column `{REQUEST}`"),
                ));
            }
        };
        let paths = paths(call, columns, usual, &schema)?;
        let passed: Vec<usize> = (0..input.fields().len())
            .filter(|i| !matches!(rows, Rows::Json { column, .. } if column == *i))
            .collect();
        let mut fields: Vec<Field> =
            passed.iter().map(|i| input.field(*i).clone().with_nullable(true)).collect();
        let mut taken: Vec<String> = fields.iter().map(|f| f.name().clone()).collect();
        if let Some(name) = &error_column {
            if taken.contains(name) {
                return Err(Error::new(
                    Code::DuplicateId,
                    format!("there is a column {:?} already", excerpt(name, 60)),
                    "name the column of errors otherwise",
                ));
            }
            taken.push(name.clone());
        }
        let names = path::names(&paths, &taken);
        let answers: Vec<(String, Shape)> = paths
            .into_iter()
            .map(|path| {
                let shape = if path == WHOLE { Shape::Json } else { shape(&schema, &path) };
                (path, shape)
            })
            .collect();
        let columns = names.into_iter().zip(&answers);
        fields.extend(columns.map(|(name, (_, shape))| Field::new(name, shape.data_type(), true)));
        let has_errors = error_column.is_some();
        let error = error_column.map(|n| Field::new(n, DataType::Struct(error_fields()), true));
        fields.extend(error);
        Ok(Self(Arc::new(Plan {
            rows,
            passed,
            answers,
            schema: Arc::new(Schema::new(fields)),
            error_column: has_errors,
            input: Arc::clone(input),
            read,
        })))
    }

    /// The columns of the input.
    #[must_use]
    pub fn input(&self) -> &SchemaRef {
        &self.0.input
    }

    /// The columns of the answers: those of the input but the column `request`, those of the
    /// answer, and that of errors where it is asked for.
    #[must_use]
    pub fn schema(&self) -> &SchemaRef {
        &self.0.schema
    }

    /// The names of the columns that are read.
    #[must_use]
    pub fn read(&self) -> &[String] {
        &self.0.read
    }

    /// Whether a row is a whole request in one column, so that nothing is given once for all rows
    /// but its fields.
    #[must_use]
    pub fn takes_requests(&self) -> bool {
        matches!(self.0.rows, Rows::Json { .. })
    }

    /// How many columns of the input are passed along; those of the answer follow them.
    #[must_use]
    pub fn passed(&self) -> usize {
        self.0.passed.len()
    }

    /// About how many rows one thread should answer at a time: enough that little is lost between
    /// batches, and few enough that all threads have work.
    #[must_use]
    pub fn rows_at_a_time(&self) -> usize {
        match self.0.rows {
            Rows::Json { .. } => 64,
            Rows::Flat { .. } => 256,
            Rows::Convert { .. } => 8192,
        }
    }

    /// What answers batches, on one thread; it remembers units between them.
    #[must_use]
    pub fn worker(&self) -> Worker {
        Worker::new(Arc::clone(&self.0))
    }
}

/// Moves what a call takes once out of the constants.
fn taken(
    tabular: &Tabular,
    constants: &mut Map<String, Value>,
    mut once: Once,
) -> Result<Once, Error> {
    for given in tabular.takes {
        match given {
            Given::Site => put(constants, "site", &mut once.site)?,
            Given::Label => {
                put(constants, "label", &mut once.label)?;
                put(constants, "feed", &mut once.label)?;
            }
            Given::Water => put(constants, "water", &mut once.water)?,
        }
    }
    Ok(once)
}

fn put<T: Readable>(
    constants: &mut Map<String, Value>,
    name: &str,
    into: &mut Option<T>,
) -> Result<(), Error> {
    match constants.remove(name) {
        None | Some(Value::Null) => {}
        Some(value) => {
            let read = read_request(value.to_string().as_bytes());
            *into = Some(read.map_err(|e| e.within(&pointer::key("", name)))?);
        }
    }
    Ok(())
}

fn missing_once(given: Given) -> Error {
    let name = match given {
        Given::Site => "site",
        Given::Label => "label",
        Given::Water => "water",
    };
    Error::new(
        Code::Missing,
        format!("`{name}` is missing; every row needs it"),
        "give it once, for all rows",
    )
    .at(pointer::key("", name))
}

/// Which columns and constants fill which fields.
fn flat(
    call: &AnyCall,
    input: &SchemaRef,
    function: &RowFunction,
    constants: &Map<String, Value>,
) -> Result<(Rows, Vec<String>), Error> {
    let is_field = |name: &str| {
        let first = name.split('.').next().unwrap_or_default();
        function.fields.iter().any(|field| field == first)
    };
    let converts = call.name() == "convert";
    let (mut tree, mut read, mut unit) = (Tree::default(), Vec::new(), None);
    for (i, field) in input.fields().iter().enumerate() {
        let name = field.name();
        if converts && name == convert::UNIT {
            unit = Some(i);
        } else if is_field(name) {
            add(&mut tree, name, i)?;
        } else {
            continue;
        }
        input::check(name, field.data_type())?;
        read.push(name.clone());
    }
    let width = input.fields().len();
    let mut same = Vec::new();
    for (name, value) in constants {
        let Some(constant) = Constant::new(value) else { continue };
        let index = width + same.len();
        if converts && name == convert::UNIT {
            unit = Some(index);
        } else if is_field(name) {
            add(&mut tree, name, index)?;
        } else {
            return Err(Error::new(
                Code::Unknown,
                format!("{} has no field {:?}", call.name(), excerpt(name, 60)),
                format!("the fields are {}", function.fields.join(", ")),
            )
            .at(pointer::key("", name)));
        }
        same.push(constant);
    }
    if let Some(missing) = function.needed.iter().find(|field| !tree.has(field)) {
        return Err(Error::new(
            Code::Missing,
            format!("there is no column `{missing}`"),
            format!(
                "give it as a column, or once for all rows; the fields are {}",
                function.fields.join(", ")
            ),
        )
        .at(pointer::key("", missing)));
    }
    let kernel = converts.then(|| convert::Kernel::new(&tree, unit));
    let beside = unit.filter(|unit| *unit < width);
    let cells = Cells { tree, beside, constants: same };
    let rows = match kernel {
        Some(kernel) => Rows::Convert { kernel, cells },
        None => Rows::Flat { answer: Arc::clone(&function.answer), cells },
    };
    Ok((rows, read))
}

fn add(tree: &mut Tree, name: &str, index: usize) -> Result<(), Error> {
    tree.add(name, index).map_err(|clash| {
        Error::new(
            Code::Conflict,
            format!("{:?} is given more than once", excerpt(&clash.0, 60)),
            "give a field once: the whole in one column, or each part in one of its own",
        )
        .at(pointer::key("", name))
    })
}

/// The columns of the answer that are asked for, each once.
fn paths(
    call: &AnyCall,
    asked: Vec<String>,
    usual: Vec<String>,
    schema: &Value,
) -> Result<Vec<String>, Error> {
    if asked.is_empty() {
        return Ok(usual);
    }
    if let Some(path) = asked.iter().find(|path| *path != WHOLE && !has_path(schema, path)) {
        return Err(Error::new(
            Code::Unknown,
            format!("the answer of {} has no {:?}", call.name(), excerpt(path, 60)),
            format!(
                "name fields of it, with points for those within others, such as {}, or `{WHOLE}` \
                 for the whole",
                usual.join(",")
            ),
        ));
    }
    Ok(asked)
}
