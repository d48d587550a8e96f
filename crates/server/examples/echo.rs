//! The least that axum can do: the bytes of a file for every path, to hold the server against.
//! Usage: `echo PORT FILE`.

use axum::Router;
use axum::http::header;
use axum::routing::get;
use bytes::Bytes;

#[tokio::main]
async fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let (Some(port), Some(file)) = (args.next(), args.next()) else {
        return Err("usage: echo PORT FILE".into());
    };
    let bytes = Bytes::from(std::fs::read(file)?);
    let answer = move || {
        let bytes = bytes.clone();
        async move { ([(header::CONTENT_TYPE, "application/json")], bytes) }
    };
    let listener = tokio::net::TcpListener::bind(("127.0.0.1", port.parse()?)).await?;
    axum::serve(listener, Router::new().fallback(get(answer.clone()).post(answer))).await?;
    Ok(())
}
