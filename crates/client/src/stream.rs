//! Answers to any number of requests, in bounded memory.

use crate::body::json;
use crate::cause::while_reading;
use crate::client::{Client, expect_media};
use crate::failure::{answer_too_large, broken_off, not_guardcell};
use guardcell::Error;
use guardcell::calls::{Call, STREAM};
use reqwest::blocking::Response;
use reqwest::header::CONTENT_TYPE;
use serde::Deserialize;
use std::collections::VecDeque;
use std::io::{BufRead, BufReader, Read};
use std::iter::Fuse;
use std::marker::PhantomData;
use url::Url;

const MEDIA: &str = "application/x-ndjson";

/// Requests are sent together up to this size, or one alone where it is larger: it keeps what is
/// held in memory small and the server busy.
const CHUNK_BYTES: usize = 256 << 10;

#[derive(Deserialize)]
struct Line<R> {
    line: u64,
    answer: Option<R>,
    problem: Option<Error>,
}

/// The answers to a stream of requests: one for each, in order. If the connection is lost, the last
/// item is that error.
pub struct AnswerStream<'c, C: Call, I: Iterator<Item = C::Request>> {
    call: PhantomData<fn() -> C>,
    client: &'c Client,
    url: Url,
    requests: Fuse<I>,
    /// Taken from the iterator, but too large for the last chunk.
    ahead: Option<Result<Vec<u8>, Error>>,
    /// Requests not answered yet: `None` for one that was sent, the error for one that cannot be.
    asked: VecDeque<Option<Error>>,
    answers: Option<BufReader<Response>>,
    /// The line of the next answer within its chunk.
    line: u64,
    over: bool,
}

impl<C: Call, I: Iterator<Item = C::Request>> std::fmt::Debug for AnswerStream<'_, C, I> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("AnswerStream").field("url", &self.url.as_str()).finish_non_exhaustive()
    }
}

impl Client {
    /// Answers of a call to any number of requests, in their order. Requests are taken from the iterator as
    /// answers are taken from the stream, some 256 KiB of them ahead.
    ///
    /// A request that is refused gives an error of its own and the stream goes on; after any other
    /// error it ends.
    ///
    /// ```no_run
    /// use guardcell::calls::Advise;
    /// # fn requests() -> Vec<guardcell::advice::AdviceRequest> { Vec::new() }
    /// let client = guardcell_client::Client::new("http://127.0.0.1:8427")?;
    /// for answer in client.stream::<Advise, _>(requests()) {
    ///     match answer {
    ///         Ok(advice) => println!("{} plants", advice.plants.len()),
    ///         Err(e) => eprintln!("{e}"),
    ///     }
    /// }
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn stream<C: Call, I>(&self, requests: I) -> AnswerStream<'_, C, I::IntoIter>
    where
        C::Request: PartialEq,
        I: IntoIterator<Item = C::Request>,
    {
        AnswerStream {
            call: PhantomData,
            client: self,
            url: self.at(&format!("v1/{}{STREAM}", C::PATH)),
            requests: requests.into_iter().fuse(),
            ahead: None,
            asked: VecDeque::new(),
            answers: None,
            line: 0,
            over: false,
        }
    }
}

impl<C, I> Iterator for AnswerStream<'_, C, I>
where
    C: Call<Request: PartialEq>,
    I: Iterator<Item = C::Request>,
{
    type Item = Result<C::Response, Error>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.over {
            return None;
        }
        if self.asked.is_empty()
            && let Err(e) = self.ask()
        {
            self.over = true;
            return Some(Err(e));
        }
        match self.asked.pop_front()? {
            Some(unsendable) => Some(Err(unsendable)),
            None => {
                // An inner error refuses one request; an outer one means that the connection is lost.
                let answer = self.answer();
                self.over = answer.is_err();
                Some(answer.unwrap_or_else(Err))
            }
        }
    }
}

impl<C, I> AnswerStream<'_, C, I>
where
    C: Call<Request: PartialEq>,
    I: Iterator<Item = C::Request>,
{
    /// Sends the next requests together. The body is complete before it is sent, so that the
    /// answers can be read while the rest of it is still on its way.
    fn ask(&mut self) -> Result<(), Error> {
        let mut body = Vec::new();
        loop {
            let line = match self.ahead.take() {
                Some(line) => line,
                None => match self.requests.next() {
                    Some(request) => json(&request)
                        .map_err(|unsendable| C::run(&request).err().unwrap_or(unsendable)),
                    None => break,
                },
            };
            match line {
                Ok(line) if !body.is_empty() && body.len() + line.len() >= CHUNK_BYTES => {
                    self.ahead = Some(Ok(line));
                    break;
                }
                Ok(line) => {
                    body.extend_from_slice(&line);
                    body.push(b'\n');
                    self.asked.push_back(None);
                }
                Err(e) => self.asked.push_back(Some(e)),
            }
        }
        self.line = 0;
        self.answers = None;
        if body.is_empty() {
            return Ok(());
        }
        let response = self.client.send(&self.url, || {
            self.client.http.post(self.url.clone()).header(CONTENT_TYPE, MEDIA).body(body.clone())
        })?;
        expect_media(&self.url, &response, MEDIA)?;
        self.answers = Some(BufReader::new(response));
        Ok(())
    }

    fn answer(&mut self) -> Result<Result<C::Response, Error>, Error> {
        let url = self.url.as_str();
        let bounds = &self.client.bounds;
        let broken = |why: &str| broken_off(url, why);
        let answers = self.answers.as_mut().ok_or_else(|| broken("there is no answer"))?;
        let mut bytes = Vec::new();
        answers
            .by_ref()
            .take(bounds.most_bytes.saturating_add(1))
            .read_until(b'\n', &mut bytes)
            .map_err(|e| while_reading(&e, url, bounds.timeout))?;
        if bytes.len() as u64 > bounds.most_bytes {
            return Err(answer_too_large(url, bounds.most_bytes));
        }
        if !bytes.ends_with(b"\n") {
            return Err(broken("fewer answers came than requests were sent"));
        }
        self.line += 1;
        let form = |found: String| not_guardcell(&self.url, &found);
        let line: Line<C::Response> = serde_json::from_slice(&bytes)
            .map_err(|e| form(format!("a line of its answer has another form ({e})")))?;
        if line.line != self.line {
            return Err(form(format!("line {} came for line {}", line.line, self.line)));
        }
        match (line.answer, line.problem) {
            (Some(answer), None) => Ok(Ok(answer)),
            (None, Some(refused)) => Ok(Err(refused)),
            _ => Err(form("a line of its answer has neither answer nor problem".into())),
        }
    }
}
