//! Asking a broker of MQTT 3.1.1: bounded in time, number and size of messages, silent about what
//! must not be printed.
//!
//! The packets are those of `rumqttc`; the connection is blocking and over the TLS of the rest of
//! the program. Subscriptions are of quality 0: a message that is lost is followed by the next.

mod connection;
mod fault;
mod tls;

use crate::address::MQTT;
use crate::map::MqttMap;
use crate::options::Options;
use crate::secret::{self, Secrets};
use crate::source::mqtt::{Message, counts, topics};
use connection::Connection;
use fault::Fault;
use guardcell::Error;
use jiff::Timestamp;
use percent_encoding::percent_decode_str;
use rumqttc::mqttbytes::QoS;
use rumqttc::mqttbytes::v4::{
    Connect, ConnectReturnCode, Packet, Subscribe, SubscribeFilter, SubscribeReasonCode,
};
use std::path::Path;
use std::time::{Duration, Instant};
use url::Url;

/// The messages of a map's topics, and how its broker is called in messages.
pub(crate) struct Heard {
    pub(crate) messages: Vec<Message>,
    /// The topic that every other begins with.
    pub(crate) base: String,
    pub(crate) place: String,
}

/// Listens to the topics of a map until each has given a value, or its time is over.
pub(crate) fn hear(map: &MqttMap, folder: &Path, options: &Options<'_>) -> Result<Heard, Error> {
    let mut secrets = Secrets::default();
    let mut url = secret::url(&map.url, &MQTT, options.environment, &mut secrets)?;
    let secure = url.scheme() == "mqtts";
    if url.port().is_none() {
        // The ports that IANA lists for mqtt and secure-mqtt.
        let _ = url.set_port(Some(if secure { 8883 } else { 1883 }));
    }
    let login = match (&map.user, &map.password) {
        (Some(user), password) => {
            let mut text =
                |text: &str, key| secret::text(text, key, options.environment, &mut secrets);
            let user = text(user, "user")?;
            let password = text(password.as_deref().unwrap_or_default(), "password")?;
            Some((user, password))
        }
        _ => None,
    };
    let base = base(&url);
    let place = secrets.hide(&format!(
        "{}://{}:{}/{base}",
        url.scheme(),
        url.host_str().unwrap_or_default(),
        url.port().unwrap_or_default()
    ));
    let said = |fault: Fault| {
        let error = fault.at(&place);
        let (detail, hint) = (secrets.hide(error.detail()), secrets.hide(error.hint()));
        error.with_detail(detail).with_hint(hint)
    };
    let tls = match (secure, &map.ca_file) {
        (true, ca) => Some(tls::config(ca.as_deref().map(|f| folder.join(f)).as_deref())?),
        (false, _) => None,
    };
    let deadline = Instant::now() + Duration::from_secs_f64(map.wait_s);
    let topics = topics(map, &base)?;
    let mut connection = Connection::open(&url, tls, deadline, map).map_err(said)?;
    connected(&mut connection, login).map_err(said)?;
    let early = subscribed(&mut connection, &topics).map_err(said)?;
    let messages = listened(&mut connection, map, &base, (&topics, early)).map_err(said)?;
    connection.close();
    Ok(Heard { messages, base, place })
}

/// The topic in the path of an address.
fn base(url: &Url) -> String {
    let path = percent_decode_str(url.path()).decode_utf8_lossy();
    path.trim_matches('/').to_owned()
}

fn connected(connection: &mut Connection, login: Option<(String, String)>) -> Result<(), Fault> {
    // Without a name of its own the broker gives one for a clean session.
    let mut connect = Connect::new("");
    // No more than is waited: a ping is never due.
    connect.keep_alive = 0;
    if let Some((user, password)) = login {
        connect.set_login(user, password);
    }
    connection.send(&Packet::Connect(connect))?;
    match connection.next()? {
        Some(Packet::ConnAck(ack)) => match ack.code {
            ConnectReturnCode::Success => Ok(()),
            code => Err(Fault::NotAccepted(code)),
        },
        Some(_) => Err(Fault::NotMqtt("it does not begin with CONNACK".into())),
        None => Err(Fault::Silent),
    }
}

/// Subscribes, and gives what came before the acknowledgement: kept messages may.
fn subscribed(connection: &mut Connection, topics: &[String]) -> Result<Vec<Packet>, Fault> {
    let filters = topics.iter().map(|t| SubscribeFilter { path: t.clone(), qos: QoS::AtMostOnce });
    let mut subscribe = Subscribe::new_many(filters);
    subscribe.pkid = 1;
    connection.send(&Packet::Subscribe(subscribe))?;
    let mut early = Vec::new();
    loop {
        match connection.next()? {
            Some(Packet::SubAck(ack)) => {
                let refused = ack.return_codes.iter().zip(topics);
                let refused = refused.filter(|(code, _)| **code == SubscribeReasonCode::Failure);
                let refused: Vec<&str> = refused.map(|(_, topic)| topic.as_str()).collect();
                return match refused.first() {
                    Some(topic) => Err(Fault::TopicRefused((*topic).to_owned())),
                    None => Ok(early),
                };
            }
            Some(packet) => early.push(packet),
            None => return Err(Fault::Silent),
        }
    }
}

fn listened(
    connection: &mut Connection,
    map: &MqttMap,
    base: &str,
    (topics, early): (&[String], Vec<Packet>),
) -> Result<Vec<Message>, Fault> {
    let mut messages: Vec<Message> = Vec::new();
    let mut early = early.into_iter();
    let mut waiting: Vec<&String> = topics.iter().collect();
    while !waiting.is_empty() && messages.len() < map.messages_most as usize {
        let packet = match early.next() {
            Some(packet) => packet,
            None => match connection.next()? {
                Some(packet) => packet,
                None => break,
            },
        };
        let Packet::Publish(publish) = packet else { continue };
        let message = Message {
            topic: publish.topic,
            payload: publish.payload.to_vec(),
            retained: publish.retain,
            arrived: Timestamp::now(),
        };
        if counts(map, base, &message) {
            waiting.retain(|t| **t != message.topic);
        }
        if topics.contains(&message.topic) {
            messages.push(message);
        }
    }
    Ok(messages)
}
