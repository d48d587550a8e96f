//! Room in memory for what clients send slowly and read slowly: large bodies and answers.

use axum::body::HttpBody;
use bytes::Bytes;
use guardcell::{Code, Error};
use hyper::body::{Frame, SizeHint};
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::Instant;

/// What is smaller takes no room: there are only so many connections.
const SMALL: usize = 16 << 10;
/// An answer is handed on in pieces of this size.
const PIECE: usize = 64 << 10;

/// So many bytes for all clients together.
#[derive(Clone)]
pub(crate) struct Room(Arc<Semaphore>);

/// A part of the room, given back when dropped.
#[derive(Default)]
pub(crate) struct Taken(Option<OwnedSemaphorePermit>);

impl Room {
    pub(crate) fn new(bytes: usize) -> Self {
        Self(Arc::new(Semaphore::new((bytes >> 10).clamp(1, Semaphore::MAX_PERMITS))))
    }

    /// Makes a part of the room large enough for so many bytes, if there is room left.
    pub(crate) fn grow(&self, taken: &mut Taken, bytes: usize) -> Result<(), Error> {
        let held = taken.0.as_ref().map_or(0, OwnedSemaphorePermit::num_permits);
        let needed = bytes.div_ceil(1 << 10);
        if bytes <= SMALL || needed <= held {
            return Ok(());
        }
        let more = u32::try_from(needed - held).unwrap_or(u32::MAX);
        let more = Arc::clone(&self.0).try_acquire_many_owned(more).map_err(|_| {
            Error::new(
                Code::Busy,
                "the server holds as many large bodies and answers as it may",
                "try again after the time in Retry-After",
            )
        })?;
        match &mut taken.0 {
            Some(taken) => taken.merge(more),
            none => *none = Some(more),
        }
        Ok(())
    }
}

/// An answer that keeps its room until it is read, and is cut off if that takes too long.
pub(crate) struct Answer {
    rest: Bytes,
    until: Instant,
    _taken: Taken,
}

impl Answer {
    pub(crate) fn new(bytes: Bytes, taken: Taken, time: Duration) -> Self {
        Self { rest: bytes, until: Instant::now() + time, _taken: taken }
    }
}

/// The answer was not read in time.
#[derive(Debug)]
pub(crate) struct ReadTooSlowly;

impl std::fmt::Display for ReadTooSlowly {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("the answer was not read in time")
    }
}

impl std::error::Error for ReadTooSlowly {}

impl HttpBody for Answer {
    type Data = Bytes;
    type Error = ReadTooSlowly;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        _: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, ReadTooSlowly>>> {
        if self.rest.is_empty() {
            return Poll::Ready(None);
        }
        if Instant::now() > self.until {
            return Poll::Ready(Some(Err(ReadTooSlowly)));
        }
        let piece = PIECE.min(self.rest.len());
        Poll::Ready(Some(Ok(Frame::data(self.rest.split_to(piece)))))
    }

    fn is_end_stream(&self) -> bool {
        self.rest.is_empty()
    }

    fn size_hint(&self) -> SizeHint {
        SizeHint::with_exact(self.rest.len() as u64)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn room_is_given_back() {
        let room = Room::new(64 << 10);
        let mut held = Taken::default();
        room.grow(&mut held, 100).unwrap();
        assert!(held.0.is_none(), "small bodies take none");
        room.grow(&mut held, 20 << 10).unwrap();
        room.grow(&mut held, 40 << 10).unwrap();
        let mut other = Taken::default();
        let full = room.grow(&mut other, 40 << 10);
        assert_eq!(full.map_err(|e| e.code()), Err(Code::Busy));
        drop(held);
        room.grow(&mut other, 64 << 10).unwrap();
    }

    #[tokio::test]
    async fn an_answer_that_is_not_read_is_cut_off() {
        use http_body_util::BodyExt;
        let bytes = Bytes::from(vec![b'x'; 3 * PIECE]);
        let read = |time| Answer::new(bytes.clone(), Taken::default(), time).collect();
        assert_eq!(read(Duration::from_secs(5)).await.unwrap().to_bytes(), bytes);
        assert!(read(Duration::ZERO).await.is_err());
    }
}
