//! A blocking connection that carries packets of MQTT and ends at a moment.

use super::fault::Fault;
use crate::error::FetchFault;
use crate::http::resolve;
use crate::map::MqttMap;
use bytes::BytesMut;
use rumqttc::mqttbytes::Error as Malformed;
use rumqttc::mqttbytes::v4::Packet;
use rustls::pki_types::ServerName;
use rustls::{ClientConfig, ClientConnection, StreamOwned};
use std::io::{self, Read, Write};
use std::net::TcpStream;
use std::sync::Arc;
use std::time::{Duration, Instant};
use url::Url;

/// The bytes of a topic and of the frame around a message.
const FRAME_BYTES: usize = 70_000;
/// No request is larger: a topic has at most 65,535 bytes.
const SENT_BYTES: usize = 16 * 1024 * 1024;

enum Stream {
    Plain(TcpStream),
    Tls(Box<StreamOwned<ClientConnection, TcpStream>>),
}

impl Stream {
    fn socket(&self) -> &TcpStream {
        match self {
            Self::Plain(s) => s,
            Self::Tls(s) => &s.sock,
        }
    }
}

pub(super) struct Connection {
    stream: Stream,
    deadline: Instant,
    most_bytes: usize,
    most_kib: f64,
    unread: BytesMut,
}

impl Connection {
    /// Connects to the first address that answers.
    pub(super) fn open(
        url: &Url,
        tls: Option<Arc<ClientConfig>>,
        deadline: Instant,
        map: &MqttMap,
    ) -> Result<Self, Fault> {
        let addresses = resolve(url, map.wait_s).map_err(|e| match e {
            FetchFault::NameResolution { host, detail } => Fault::Unresolved { host, detail },
            other => Fault::Connect(format!("{other:?}")),
        })?;
        let mut failed = Fault::Silent;
        let mut socket = None;
        for address in addresses {
            let Some(left) = left(deadline) else { break };
            match TcpStream::connect_timeout(&address, left) {
                Ok(s) => {
                    socket = Some(s);
                    break;
                }
                Err(e) => failed = Fault::of(&e),
            }
        }
        let Some(socket) = socket else { return Err(failed) };
        let _ = socket.set_nodelay(true);
        let stream = match tls {
            None => Stream::Plain(socket),
            Some(config) => {
                let host = url.host_str().unwrap_or_default().trim_matches(['[', ']']).to_owned();
                let name = ServerName::try_from(host)
                    .map_err(|_| Fault::Tls("the name of the broker is not one".into()))?;
                let client =
                    ClientConnection::new(config, name).map_err(|e| Fault::Tls(e.to_string()))?;
                Stream::Tls(Box::new(StreamOwned::new(client, socket)))
            }
        };
        Ok(Self {
            stream,
            deadline,
            most_bytes: (map.message_most_kib * 1024.0) as usize,
            most_kib: map.message_most_kib,
            unread: BytesMut::new(),
        })
    }

    pub(super) fn send(&mut self, packet: &Packet) -> Result<(), Fault> {
        let mut bytes = BytesMut::new();
        packet.write(&mut bytes, SENT_BYTES).map_err(|e| Fault::NotMqtt(e.to_string()))?;
        let Some(left) = left(self.deadline) else { return Err(Fault::Silent) };
        let socket = self.stream.socket();
        let timed = socket.set_write_timeout(Some(left)).and(socket.set_read_timeout(Some(left)));
        timed.map_err(|e| Fault::of(&e))?;
        let sent = match &mut self.stream {
            Stream::Plain(s) => s.write_all(&bytes).and_then(|()| s.flush()),
            Stream::Tls(s) => s.write_all(&bytes).and_then(|()| s.flush()),
        };
        sent.map_err(|e| Fault::of(&e))
    }

    /// The next packet; none when the time is over.
    pub(super) fn next(&mut self) -> Result<Option<Packet>, Fault> {
        loop {
            match Packet::read(&mut self.unread, self.most_bytes + FRAME_BYTES) {
                Ok(Packet::Publish(p)) if p.payload.len() > self.most_bytes => {
                    return Err(Fault::TooLarge { most_kib: self.most_kib });
                }
                Ok(packet) => return Ok(Some(packet)),
                Err(Malformed::InsufficientBytes(_)) => {}
                Err(Malformed::PayloadSizeLimitExceeded(_)) => {
                    return Err(Fault::TooLarge { most_kib: self.most_kib });
                }
                Err(e) => return Err(Fault::NotMqtt(e.to_string())),
            }
            if !self.fill()? {
                return Ok(None);
            }
        }
    }

    /// Reads what has come; false when the time is over.
    fn fill(&mut self) -> Result<bool, Fault> {
        let Some(left) = left(self.deadline) else { return Ok(false) };
        self.stream.socket().set_read_timeout(Some(left)).map_err(|e| Fault::of(&e))?;
        let mut chunk = [0; 16 * 1024];
        let read = match &mut self.stream {
            Stream::Plain(s) => s.read(&mut chunk),
            Stream::Tls(s) => s.read(&mut chunk),
        };
        match read {
            Ok(0) => Err(Fault::BrokenOff("the broker closed it".into())),
            Ok(n) => {
                self.unread.extend_from_slice(chunk.get(..n).unwrap_or_default());
                Ok(true)
            }
            Err(e) if matches!(e.kind(), io::ErrorKind::WouldBlock | io::ErrorKind::TimedOut) => {
                Ok(false)
            }
            Err(e) if e.kind() == io::ErrorKind::Interrupted => Ok(true),
            Err(e) => Err(Fault::of(&e)),
        }
    }

    /// Takes leave; nobody waits for it.
    pub(super) fn close(mut self) {
        let _ = self.send(&Packet::Disconnect);
    }
}

/// The time to a moment, if there is any.
fn left(deadline: Instant) -> Option<Duration> {
    deadline.checked_duration_since(Instant::now()).filter(|d| !d.is_zero())
}
