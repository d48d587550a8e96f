//! The list of calls, and calling one by its name.
//!
//! Everything that other programs can ask is in [`ALL`]. The HTTP server, the client, `batch`, the
//! API description, the schemas and their tests follow from it: a new function is a
//! [`Call`] in its crate and one line here.

pub use guardcell_call::{Call, Group, Work};
use guardcell_error::{Code, Error, excerpt};

/// What the path of a call ends with where it answers many requests, one a line.
pub const STREAM: &str = "/stream";

/// The one list. A line names the module of the facade and the type that implements [`Call`]; the
/// order is that of the documentation.
macro_rules! calls {
    ($($module:ident::$call:ident;)*) => {
        $(#[doc(inline)] pub use crate::$module::calls::$call;)*

        /// Every call, in the order of the documentation.
        pub static ALL: &[AnyCall] = &[$(AnyCall::new::<$call>()),*];

        $(
            impl Listed for $call {
                fn any() -> &'static AnyCall {
                    static ANY: AnyCall = AnyCall::new::<$call>();
                    &ANY
                }
            }
        )*
    };
}

calls! {
    advice::Advise;
    advice::Round;
    advice::Rescue;
    advice::StrengthChart;
    advice::DayRibbon;
    solution::Recipe;
    solution::Water;
    solution::Solution;
    solution::Meter;
    solution::Acid;
    solution::Tank;
    units::Convert;
    film::Air;
    film::Film;
    clock::Day;
    reference::Genus;
    reference::Search;
    reference::Catalogue;
    ledger::Threshold;
    ledger::Review;
    ledger::Ledger;
    ledger::Adherence;
    ledger::Entry;
    ledger::Given;
    ledger::DeviceJournal;
}

/// A call whose types are hidden: what a face needs that serves every call alike.
///
/// ```
/// let convert = guardcell::calls::find("convert").unwrap();
/// assert_eq!(convert.path(), "conversions");
/// let answer = convert.run(br#"{"quantity": "120 ppm P2O5", "to": "ppm P"}"#)?;
/// assert!(answer.starts_with(b"{"));
/// # Ok::<(), guardcell::Error>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct AnyCall {
    name: &'static str,
    path: &'static str,
    group: Group,
    summary: &'static str,
    description: &'static str,
    example: &'static str,
    prepare: Prepare,
    draw: Option<Prepare>,
    #[cfg(feature = "schema")]
    schemas: Schemas,
}

/// Reads a request and states what it costs.
type Prepare = fn(&[u8]) -> Result<Prepared, Error>;

/// How the schemas of a call are added to a generator.
#[cfg(feature = "schema")]
#[derive(Clone, Copy, Debug)]
struct Schemas {
    request: Definition,
    response: Definition,
}

#[cfg(feature = "schema")]
type Definition = fn(&mut schemars::SchemaGenerator, Form) -> schemars::Schema;

/// Whether a schema is wanted as a document of its own or as a reference to a definition.
#[cfg(feature = "schema")]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// With its definitions, for a file of its own.
    Document,
    /// A reference to a definition that the generator keeps.
    Reference,
}

/// A call that faces can serve: with the feature `schema` its types have schemas.
#[cfg(feature = "schema")]
pub trait Served: Call<Request: schemars::JsonSchema, Response: schemars::JsonSchema> {}
#[cfg(feature = "schema")]
impl<C: Call<Request: schemars::JsonSchema, Response: schemars::JsonSchema>> Served for C {}

/// A call that faces can serve.
#[cfg(not(feature = "schema"))]
pub trait Served: Call {}
#[cfg(not(feature = "schema"))]
impl<C: Call> Served for C {}

/// A call of [`ALL`].
pub trait Listed: Call {
    /// The call with its types hidden. Unlike [`AnyCall::new`] it compiles nothing again.
    fn any() -> &'static AnyCall;
}

impl AnyCall {
    /// The call of this type, for calls that are not in [`ALL`].
    #[must_use]
    pub const fn new<C: Served>() -> Self {
        Self {
            name: C::NAME,
            path: C::PATH,
            group: C::GROUP,
            summary: C::SUMMARY,
            description: C::DESCRIPTION,
            example: C::EXAMPLE,
            prepare: Prepared::of::<C>,
            draw: if C::PICTURE.is_some() { Some(Prepared::drawn::<C>) } else { None },
            #[cfg(feature = "schema")]
            schemas: Schemas { request: schema::<C::Request>, response: schema::<C::Response> },
        }
    }

    /// The name by which programs call it, snake_case.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        self.name
    }

    /// The path of the HTTP API behind `/v1/`.
    #[must_use]
    pub const fn path(&self) -> &'static str {
        self.path
    }

    /// The part of the documentation to which it belongs.
    #[must_use]
    pub const fn group(&self) -> Group {
        self.group
    }

    /// One line: what it answers.
    #[must_use]
    pub const fn summary(&self) -> &'static str {
        self.summary
    }

    /// A paragraph: what it needs, what it does, how far the answer can be trusted.
    #[must_use]
    pub const fn description(&self) -> &'static str {
        self.description
    }

    /// An example request as JSON.
    #[must_use]
    pub const fn example(&self) -> &'static str {
        self.example
    }

    /// Answers a request given as JSON with the response as JSON.
    ///
    /// # Errors
    /// As [`read_request`](crate::read_request) and the function itself.
    pub fn run(&self, request: &[u8]) -> Result<Vec<u8>, Error> {
        self.prepare(request)?.run()
    }

    /// Reads a request given as JSON, and states what it costs before anything is calculated.
    ///
    /// # Errors
    /// As [`read_request`](crate::read_request); [`Code::TooMany`] for more work than
    /// [`Work::MOST`].
    ///
    /// ```
    /// let air = guardcell::calls::find("air").unwrap();
    /// let prepared = air.prepare(br#"{"temp_c": 22, "rh_percent": 65}"#)?;
    /// assert!(prepared.work().steps() < 10_000);
    /// assert!(prepared.run()?.starts_with(b"{"));
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn prepare(&self, request: &[u8]) -> Result<Prepared, Error> {
        (self.prepare)(request)
    }

    /// Whether the answer can be drawn.
    #[must_use]
    pub const fn can_draw(&self) -> bool {
        self.draw.is_some()
    }

    /// Reads a request given as JSON, to be answered with a picture (SVG); `None` where the answer
    /// cannot be drawn.
    ///
    /// ```
    /// let chart = guardcell::calls::find("day_ribbon").unwrap();
    /// let picture = chart.draw(chart.example().as_bytes()).unwrap()?.run()?;
    /// assert!(picture.starts_with(b"<svg"));
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn draw(&self, request: &[u8]) -> Option<Result<Prepared, Error>> {
        self.draw.map(|draw| draw(request))
    }

    /// The schema of the request.
    #[cfg(feature = "schema")]
    pub fn request_schema(
        &self,
        generator: &mut schemars::SchemaGenerator,
        form: Form,
    ) -> schemars::Schema {
        (self.schemas.request)(generator, form)
    }

    /// The schema of the response.
    #[cfg(feature = "schema")]
    pub fn response_schema(
        &self,
        generator: &mut schemars::SchemaGenerator,
        form: Form,
    ) -> schemars::Schema {
        (self.schemas.response)(generator, form)
    }
}

/// The call of this name.
#[must_use]
pub fn find(name: &str) -> Option<&'static AnyCall> {
    ALL.iter().find(|call| call.name == name)
}

/// The call of this name, or the refusal that names all of them.
///
/// # Errors
/// [`Code::UnknownCall`] if no call has this name.
///
/// ```
/// let error = guardcell::calls::named("genie").unwrap_err();
/// assert_eq!(error.code(), guardcell::Code::UnknownCall);
/// assert!(error.hint().contains("genus"));
/// ```
pub fn named(name: &str) -> Result<&'static AnyCall, Error> {
    one_of(&[ALL], name)
}

/// The call of this name, from several lists: a host may offer more than [`ALL`].
///
/// # Errors
/// [`Code::UnknownCall`] if none of the lists has it.
///
/// ```
/// use guardcell::calls::{ALL, one_of};
/// assert_eq!(one_of(&[ALL], "air")?.path(), "air");
/// assert!(one_of(&[ALL], "weather").unwrap_err().hint().contains("air"));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn one_of(lists: &[&'static [AnyCall]], name: &str) -> Result<&'static AnyCall, Error> {
    let all = || lists.iter().copied().flatten();
    all().find(|call| call.name == name).ok_or_else(|| {
        let names: Vec<&str> = all().map(AnyCall::name).collect();
        Error::new(
            Code::UnknownCall,
            format!("unknown call {:?}", excerpt(name, 60)),
            format!("use one of {}", names.join(", ")),
        )
    })
}

/// Answers a request given as JSON with the response as JSON.
///
/// # Errors
/// [`Code::UnknownCall`] if no call has this name; else as [`AnyCall::run`].
///
/// ```
/// let answer = guardcell::call("air", r#"{"temp_c": 22, "rh_percent": 65}"#)?;
/// assert!(answer.contains("dew_point_c"));
///
/// let error = guardcell::call("air", r#"{"temp_c": 22, "rh_percent": 140}"#).unwrap_err();
/// assert_eq!(error.pointer(), "/rh_percent");
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn call(name: &str, request: &str) -> Result<String, Error> {
    let answer = named(name)?.run(request.as_bytes())?;
    String::from_utf8(answer).map_err(|e| Error::internal("the answer is not UTF-8").caused_by(e))
}

/// A request that was read and may be answered.
pub struct Prepared {
    work: Work,
    run: Box<dyn FnOnce() -> Result<Vec<u8>, Error> + Send>,
}

impl Prepared {
    /// A calculation that costs this much and answers with these bytes.
    #[must_use]
    pub fn new(work: Work, run: impl FnOnce() -> Result<Vec<u8>, Error> + Send + 'static) -> Self {
        Self { work, run: Box::new(run) }
    }

    /// A request for `C` given as JSON, to be answered with JSON.
    fn of<C: Served>(request: &[u8]) -> Result<Self, Error> {
        Self::answered::<C>(request, json)
    }

    /// The same, to be answered with a picture.
    fn drawn<C: Served>(request: &[u8]) -> Result<Self, Error> {
        Self::answered::<C>(request, |response| match C::PICTURE {
            Some(svg) => Ok(svg(response).into_bytes()),
            None => json(response),
        })
    }

    fn answered<C: Served>(
        request: &[u8],
        write: fn(&C::Response) -> Result<Vec<u8>, Error>,
    ) -> Result<Self, Error> {
        let request: C::Request = crate::request::read(request, Some(C::NAME))?;
        let work = C::work(&request);
        work.check()?;
        Ok(Self::new(work, move || write(&C::run(&request)?)))
    }

    /// What it costs.
    #[must_use]
    pub const fn work(&self) -> Work {
        self.work
    }

    /// Answers it.
    ///
    /// # Errors
    /// As the function itself.
    pub fn run(self) -> Result<Vec<u8>, Error> {
        (self.run)()
    }
}

impl std::fmt::Debug for Prepared {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Prepared").field("work", &self.work).finish_non_exhaustive()
    }
}

fn json<T: serde::Serialize>(response: &T) -> Result<Vec<u8>, Error> {
    let mut out = Stoppable(Vec::with_capacity(1024));
    serde_json::to_writer(&mut out, response)
        .map_err(|e| Error::internal("the answer cannot be written as JSON").caused_by(e))?;
    Ok(out.0)
}

/// Bytes whose writing can be stopped: an answer of many plants takes a while to write.
struct Stoppable(Vec<u8>);

impl std::io::Write for Stoppable {
    #[inline]
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        // Each time the buffer is about to grow is often enough, and costs nothing.
        if self.0.capacity() - self.0.len() < bytes.len() {
            guardcell_call::checkpoint();
            // `reserve` would double it whatever is asked for.
            self.0.reserve_exact(bytes.len().max(GROWTH.min(self.0.len())));
        }
        self.0.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    #[inline]
    fn write_all(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        self.write(bytes).map(|_| ())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

/// The most that a buffer grows by at once, bytes: between two looks at the stop, and unused at its
/// end.
const GROWTH: usize = 1 << 20;

#[cfg(feature = "schema")]
fn schema<T: schemars::JsonSchema>(
    generator: &mut schemars::SchemaGenerator,
    form: Form,
) -> schemars::Schema {
    match form {
        Form::Document => generator.root_schema_for::<T>(),
        Form::Reference => generator.subschema_for::<T>(),
    }
}
