//! What can go wrong between the program and a broker.

use guardcell::{Code, Error};
use rumqttc::mqttbytes::v4::ConnectReturnCode;
use std::io;

/// What happened.
#[derive(Debug)]
pub(super) enum Fault {
    /// The name has no address.
    Unresolved { host: String, detail: String },
    /// Nothing listens there.
    Refused,
    /// No connection, for another reason.
    Connect(String),
    /// No trusted, encrypted connection.
    Tls(String),
    /// Connected, and no answer within the time.
    Silent,
    /// The connection ended.
    BrokenOff(String),
    /// What answers is not a broker.
    NotMqtt(String),
    /// The broker does not accept the connection.
    NotAccepted(ConnectReturnCode),
    /// The broker does not hand out a topic.
    TopicRefused(String),
    /// A message is larger than allowed.
    TooLarge { most_kib: f64 },
}

impl Fault {
    /// The fault of reading or writing.
    pub(super) fn of(e: &io::Error) -> Self {
        let inner = e.get_ref().and_then(|inner| inner.downcast_ref::<rustls::Error>());
        if let Some(tls) = inner {
            return Self::Tls(match tls {
                rustls::Error::InvalidMessage(_) => {
                    format!("what answers there is not TLS ({tls})")
                }
                other => other.to_string(),
            });
        }
        match e.kind() {
            io::ErrorKind::ConnectionRefused => Self::Refused,
            io::ErrorKind::WouldBlock | io::ErrorKind::TimedOut => Self::Silent,
            _ => Self::BrokenOff(e.to_string()),
        }
    }

    /// The fault at a broker whose name is already safe to show.
    pub(super) fn at(self, place: &str) -> Error {
        let (code, detail, hint) = match self {
            Self::Unresolved { host, detail } => (
                Code::Network,
                format!("the name {host:?} cannot be resolved ({detail})"),
                "check its spelling and the network".to_owned(),
            ),
            Self::Refused => (
                Code::Network,
                "the connection was refused".into(),
                "check that the broker runs and the port is right".into(),
            ),
            Self::Connect(detail) => (
                Code::Network,
                format!("no connection ({detail})"),
                "check the address and the network".into(),
            ),
            Self::Tls(detail) => (
                Code::Network,
                format!("no secure connection (TLS): {detail}"),
                "check the certificate and `ca_file`, or that the port speaks TLS".into(),
            ),
            Self::Silent => (
                Code::Network,
                "the broker does not answer within the time".into(),
                "check that a broker of MQTT listens there, or raise `wait_s`".into(),
            ),
            Self::BrokenOff(detail) => (
                Code::Network,
                format!("the connection ended ({detail})"),
                "check that the broker takes connections with and without TLS as `url` says".into(),
            ),
            Self::NotMqtt(detail) => (
                Code::Remote,
                format!("what answers is not a broker of MQTT 3.1.1: {detail}"),
                "check the port".into(),
            ),
            Self::NotAccepted(code) => not_accepted(code),
            Self::TopicRefused(topic) => (
                Code::Remote,
                format!("the broker does not hand out the topic {topic:?}"),
                "check the topic, and what the user may read".into(),
            ),
            Self::TooLarge { most_kib } => (
                Code::Remote,
                format!("a message is larger than {most_kib} KiB"),
                "name the topic of readings, or raise `message_most_kib` if that is right".into(),
            ),
        };
        Error::new(code, detail, hint).in_file(place)
    }
}

fn not_accepted(code: ConnectReturnCode) -> (Code, String, String) {
    let (why, hint) = match code {
        ConnectReturnCode::BadUserNamePassword | ConnectReturnCode::NotAuthorized => (
            "user or password are not accepted",
            "check `user`, `password` and that their variables are set",
        ),
        ConnectReturnCode::RefusedProtocolVersion => {
            ("it does not speak MQTT 3.1.1", "ask who runs it")
        }
        ConnectReturnCode::BadClientId => {
            ("it takes no client without a name", "allow clients without a name")
        }
        _ => ("it is not available", "try again later"),
    };
    (Code::Remote, format!("the broker does not accept the connection: {why}"), hint.into())
}
