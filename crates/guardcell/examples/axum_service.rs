//! Every call of guardcell inside one's own axum service: `POST /garden/NAME` with a request as JSON.
//!
//! Run with `cargo run -p guardcell --example axum_service`; `-- --once` asks itself once and stops.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

use axum::Router;
use axum::body::{Body, Bytes};
use axum::extract::Path;
use axum::http::{Request, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::post;
use tower::ServiceExt as _;

async fn answer(Path(name): Path<String>, body: Bytes) -> Response {
    let Some(call) = guardcell::calls::find(&name) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    // Calculations take from microseconds to seconds: keep them off the threads of the runtime.
    let done = tokio::task::spawn_blocking(move || call.run(&body)).await;
    let (status, json) = match done {
        Ok(Ok(answer)) => (StatusCode::OK, answer),
        Ok(Err(error)) => {
            (StatusCode::UNPROCESSABLE_ENTITY, serde_json::to_vec(&error).unwrap_or_default())
        }
        Err(_) => return StatusCode::INTERNAL_SERVER_ERROR.into_response(),
    };
    (status, [(header::CONTENT_TYPE, "application/json")], json).into_response()
}

#[tokio::main]
async fn main() -> Result<(), Box<dyn std::error::Error>> {
    let service = Router::new().route("/garden/{name}", post(answer));
    if std::env::args().any(|word| word == "--once") {
        let request =
            Request::post("/garden/air").body(Body::from(r#"{"temp_c": 22, "rh_percent": 65}"#))?;
        let response = service.oneshot(request).await?;
        let body = axum::body::to_bytes(response.into_body(), 1 << 20).await?;
        println!("{}", String::from_utf8(body.to_vec())?);
        return Ok(());
    }
    let listener = tokio::net::TcpListener::bind("127.0.0.1:8080").await?;
    println!("http://{}/garden/air", listener.local_addr()?);
    axum::serve(listener, service).await?;
    Ok(())
}
