//! Addresses and headers as a map writes them, checked without asking anybody.

use crate::error::in_map;
use guardcell::Error;
use std::collections::BTreeMap;
#[cfg(not(target_family = "wasm"))]
use url::Url;

/// Headers that a map may not set.
const FORBIDDEN: [&str; 6] =
    ["host", "connection", "content-length", "transfer-encoding", "upgrade", "accept-encoding"];

/// Fills every `${NAME}` of a text; `put` gets the name and gives its value.
pub(crate) fn filled(
    text: &str,
    key: &str,
    put: &dyn Fn(&str) -> Result<String, Error>,
) -> Result<String, Error> {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("${") {
        let name = after.split_once('}').filter(|(name, _)| {
            !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_')
        });
        let Some((name, after)) = name else {
            return Err(in_map(
                key,
                "\"${\" is not followed by the name of a variable and \"}\"",
                "write it like ${GREENHOUSE_TOKEN}",
            ));
        };
        out.push_str(before);
        out.push_str(&put(name)?);
        rest = after;
    }
    out.push_str(rest);
    Ok(out)
}

/// The schemes that an address may have, and what would be right.
pub(crate) struct Schemes {
    names: [&'static str; 2],
    wrong: &'static str,
    right: &'static str,
    /// Where a user and a password belong.
    user: &'static str,
}

pub(crate) const HTTP: Schemes = Schemes {
    names: ["http", "https"],
    wrong: "this is not an address of http or https",
    right: "write one such as https://example.org/v1/air",
    user: "send it in `headers`, with ${NAME} from the environment",
};

pub(crate) const MQTT: Schemes = Schemes {
    names: ["mqtt", "mqtts"],
    wrong: "this is not an address of mqtt or mqtts",
    right: "write one such as mqtts://broker.example.org/greenhouse",
    user: "state `user` and `password`, with ${NAME} from the environment",
};

/// Checks an address as far as it can be without its variables.
pub(crate) fn check_url(key: &str, text: &str, schemes: &Schemes) -> Result<(), Error> {
    let sample = filled(text, key, &|_| Ok("x".into()))?;
    if text.starts_with("${") {
        return Ok(());
    }
    well_formed(&sample, key, schemes)
}

#[cfg(not(target_family = "wasm"))]
fn well_formed(text: &str, key: &str, schemes: &Schemes) -> Result<(), Error> {
    parsed(text, key, schemes).map(|_| ())
}

/// Where nothing is asked, the parser of addresses with its tables of characters is not worth its
/// size: only the scheme is looked at.
#[cfg(target_family = "wasm")]
fn well_formed(text: &str, key: &str, schemes: &Schemes) -> Result<(), Error> {
    let scheme = text.split_once("://").map_or("", |(scheme, _)| scheme);
    if schemes.names.contains(&scheme) {
        return Ok(());
    }
    let _ = schemes.user;
    Err(in_map(key, schemes.wrong, schemes.right))
}

#[cfg(not(target_family = "wasm"))]
pub(crate) fn parsed(text: &str, key: &str, schemes: &Schemes) -> Result<Url, Error> {
    // Neither the text nor what the parser says of it is repeated: a variable may stand in it.
    let url = Url::parse(text)
        .map_err(|e| in_map(key, format!("this is not an address ({e})"), schemes.right))?;
    if !schemes.names.contains(&url.scheme()) || url.host_str().is_none_or(str::is_empty) {
        return Err(in_map(key, schemes.wrong, schemes.right));
    }
    if !url.username().is_empty() || url.password().is_some() {
        return Err(in_map(key, "the address contains a user or password", schemes.user));
    }
    Ok(url)
}

/// The name of a header in small letters: a token (RFC 9110, section 5.6.2) that a map may set.
pub(crate) fn header_name(name: &str) -> Result<String, Error> {
    let fault = |detail: &str| {
        in_map(name, detail, "write a name such as Authorization").within("/headers")
    };
    let token = |b: u8| b.is_ascii_alphanumeric() || b"!#$%&'*+-.^_`|~".contains(&b);
    if name.is_empty() || !name.bytes().all(token) {
        return Err(fault("this is not the name of a header"));
    }
    let lower = name.to_ascii_lowercase();
    if FORBIDDEN.contains(&lower.as_str()) {
        return Err(fault("this header is set by the program"));
    }
    Ok(lower)
}

/// Checks headers as far as they can be without their variables.
pub(crate) fn check_headers(headers: &BTreeMap<String, String>) -> Result<(), Error> {
    for (name, value) in headers {
        header_name(name)?;
        filled(value, name, &|_| Ok("x".into())).map_err(|f| f.within("/headers"))?;
    }
    Ok(())
}
