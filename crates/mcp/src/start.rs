//! Serving: tools and resources behind one handler, from a program that is not asynchronous.

use crate::lines::Lines;
use crate::record::Recorder;
use crate::resources::Folder;
use crate::room::Room;
use crate::tools;
use guardcell::{Code, Error, excerpt};
use rmcp::model::{
    CallToolRequestParams, CallToolResponse, CallToolResult, ContentBlock, CustomRequest,
    CustomResult, ErrorCode, ErrorData, Implementation, ListResourcesResult, ListToolsResult,
    PaginatedRequestParams, ReadResourceRequestParams, ReadResourceResponse, ReadResourceResult,
    ServerCapabilities, ServerConfig, Tool,
};
use rmcp::service::RequestContext;
use rmcp::{RoleServer, ServerHandler, ServiceExt as _};
use std::path::PathBuf;
use std::sync::Arc;

/// What is served.
#[derive(Debug, Clone, Default)]
pub struct Config {
    /// The grower's folder whose files are resources.
    pub folder: Option<PathBuf>,
    /// The journal that entries are recorded in. Without it nothing is written, and the journal of
    /// the folder is only read.
    pub journal: Option<PathBuf>,
}

/// Serves on standard input and output until standard input ends and everything is answered.
///
/// # Errors
/// [`Code::Io`] if the runtime cannot be started; [`Code::Usage`] if what comes in is not the
/// protocol; as [`guardcell_journal::Journal::open`] for the journal that is named.
pub fn serve(config: Config) -> Result<(), Error> {
    let handler = Handler::new(config)?;
    let runtime =
        tokio::runtime::Builder::new_multi_thread().enable_all().build().map_err(|e| {
            let detail = format!("the runtime cannot be started: {e}");
            Error::new(Code::Io, detail, "check the limits on threads and memory").caused_by(e)
        })?;
    let served = runtime.block_on(async {
        let lines = Lines::new(tokio::io::stdin(), tokio::io::stdout());
        let running = match handler.serve(lines).await {
            Ok(running) => running,
            // Nothing was asked.
            Err(rmcp::service::ServerInitializeError::ConnectionClosed(_)) => return Ok(()),
            Err(e) => {
                let detail = format!("the client did not begin as the protocol asks: {e}");
                return Err(Error::new(
                    Code::Usage,
                    detail,
                    "start `guardcell mcp` from a client of the Model Context Protocol",
                ));
            }
        };
        // How it ended is for a log; what was asked is answered.
        let _ = running.waiting().await;
        Ok(())
    });
    // A thread that waits for standard input is not waited for.
    runtime.shutdown_background();
    served
}

/// Answers the requests of one client.
#[derive(Clone)]
pub(crate) struct Handler {
    tools: Arc<Vec<Tool>>,
    folder: Option<Arc<Folder>>,
    recorder: Option<Arc<Recorder>>,
    room: Room,
}

impl Handler {
    pub(crate) fn new(config: Config) -> Result<Self, Error> {
        let recorder = config.journal.clone().map(Recorder::new).transpose()?;
        let mut listed = tools::of_calls();
        listed.extend(recorder.as_ref().map(|_| Recorder::tool()));
        let folder = Folder::new(config.folder, config.journal);
        Ok(Self {
            tools: Arc::new(listed),
            folder: folder.map(Arc::new),
            recorder: recorder.map(Arc::new),
            room: Room::new(),
        })
    }
}

impl ServerHandler for Handler {
    fn get_info(&self) -> ServerConfig {
        let builder = ServerCapabilities::builder().enable_tools();
        let capabilities = match &self.folder {
            Some(_) => builder.enable_resources().build(),
            None => builder.build(),
        };
        ServerConfig::new(capabilities)
            .with_server_info(Implementation::new("guardcell", env!("CARGO_PKG_VERSION")))
            .with_instructions(INSTRUCTIONS)
    }

    async fn list_tools(
        &self,
        _: Option<PaginatedRequestParams>,
        _: RequestContext<RoleServer>,
    ) -> Result<ListToolsResult, ErrorData> {
        Ok(ListToolsResult::with_all_items(self.tools.as_ref().clone()))
    }

    async fn call_tool(
        &self,
        request: CallToolRequestParams,
        context: RequestContext<RoleServer>,
    ) -> Result<CallToolResponse, ErrorData> {
        let arguments = request.arguments.unwrap_or_default();
        let recorder = self.recorder.clone().filter(|_| request.name == Recorder::NAME);
        let work: Box<dyn FnOnce() -> Result<Vec<u8>, Error> + Send> = if let Some(r) = recorder {
            Box::new(move || r.record(&arguments))
        } else {
            // A name that is not offered is a fault of the protocol, not of a tool.
            let call = guardcell::calls::named(&request.name).map_err(|e| fault(&e))?;
            Box::new(move || tools::answer(call, &arguments))
        };
        let result = match self.room.run(context.ct.cancelled(), work).await {
            Some(Ok(answer)) => answered(&answer),
            Some(Err(e)) => refused(&e),
            // Nobody waits for it: it is not sent.
            None => return Err(ErrorData::internal_error("the request was cancelled", None)),
        };
        Ok(CallToolResponse::from(result))
    }

    async fn list_resources(
        &self,
        _: Option<PaginatedRequestParams>,
        _: RequestContext<RoleServer>,
    ) -> Result<ListResourcesResult, ErrorData> {
        let Some(folder) = self.folder.clone() else { return Err(no_folder()) };
        let listed = blocking(move || folder.list()).await?;
        Ok(ListResourcesResult::with_all_items(listed))
    }

    async fn read_resource(
        &self,
        request: ReadResourceRequestParams,
        _: RequestContext<RoleServer>,
    ) -> Result<ReadResourceResponse, ErrorData> {
        let Some(folder) = self.folder.clone() else { return Err(no_folder()) };
        let read = blocking(move || folder.read(&request.uri)).await?;
        Ok(ReadResourceResponse::from(ReadResourceResult::new(vec![read])))
    }

    /// What is no request of the protocol: another method, or parameters of another form.
    async fn on_custom_request(
        &self,
        request: CustomRequest,
        _: RequestContext<RoleServer>,
    ) -> Result<CustomResult, ErrorData> {
        let method = excerpt(&request.method, 60);
        if METHODS.contains(&request.method.as_str()) {
            let detail = format!("the parameters of {method} do not have their form");
            let hint = "a tool takes its `name` and an object of `arguments`, a resource its `uri`";
            return Err(fault(&Error::new(Code::WrongForm, detail, hint).at("/params")));
        }
        let detail = format!("there is no method {method:?}");
        let hint = format!("use one of {}", METHODS.join(", "));
        let data = serde_json::to_value(Error::new(Code::NotFound, detail.as_str(), hint)).ok();
        Err(ErrorData::new(ErrorCode::METHOD_NOT_FOUND, detail, data))
    }
}

/// The methods that this server answers.
const METHODS: [&str; 4] = ["tools/list", "tools/call", "resources/list", "resources/read"];

/// What an assistant reads first.
const INSTRUCTIONS: &str = "guardcell works out how to feed plants through the leaf. Every tool is \
    a pure calculation: time, place and air are part of the request, and field names end in their \
    unit. A refusal names the field at fault as a JSON Pointer and says what would be right. Read \
    the resources, where there are any, for the grower's own site, plants, waters and labels. The \
    product's own label, local rules and licensed practice come before any answer.";

/// The answer of a tool: the JSON of every face as text, and the same as structured content.
fn answered(answer: &[u8]) -> CallToolResult {
    let text = String::from_utf8_lossy(answer).into_owned();
    let mut result = CallToolResult::success(vec![ContentBlock::text(text)]);
    result.structured_content = serde_json::from_slice(answer).ok();
    result
}

/// A refusal. It is no structured content: that would have to match the schema of the answer.
fn refused(e: &Error) -> CallToolResult {
    CallToolResult::error(vec![ContentBlock::text(
        serde_json::to_string(e).unwrap_or_else(|_| e.to_string()),
    )])
}

fn no_folder() -> ErrorData {
    fault(&Error::new(
        Code::NotFound,
        "no folder is served",
        "start `guardcell mcp` in a folder with a site.toml, or name it with --dir",
    ))
}

/// A fault of the protocol, with the structured error as its data.
fn fault(e: &Error) -> ErrorData {
    let data = serde_json::to_value(e).ok();
    match e.code() {
        Code::NotFound => ErrorData::resource_not_found(e.detail().to_owned(), data),
        Code::Internal => ErrorData::internal_error(e.detail().to_owned(), data),
        _ => ErrorData::invalid_params(e.detail().to_owned(), data),
    }
}

/// Reads files without holding up other requests.
async fn blocking<T: Send + 'static>(
    run: impl FnOnce() -> Result<T, Error> + Send + 'static,
) -> Result<T, ErrorData> {
    match tokio::task::spawn_blocking(run).await {
        Ok(Ok(value)) => Ok(value),
        Ok(Err(e)) => Err(fault(&e)),
        Err(_) => Err(fault(&Error::internal("the request broke off"))),
    }
}
