//! `pair`: a code for a device, the devices, and the end of one.

mod qr;

use crate::args;
use crate::error::argument;
use crate::home::{Home, show};
use crate::print::{Out, text};
use guardcell::Error;
use guardcell_folder::layout;
use guardcell_journal::{CODE_LASTS, Device, Devices};
use guardcell_server::PLAIN_HTTP;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde::Serialize;
use std::path::Path;

#[derive(Serialize)]
struct Code<'a> {
    code: &'a str,
    until: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    link: Option<&'a str>,
}

pub(crate) fn run(args: &args::Pair, home: &Home, out: &mut Out) -> Result<(), Error> {
    let Some(root) = home.root() else {
        return Err(argument(
            "--dir",
            format!("neither this folder nor a parent has a {}", layout::SITE),
            "go to your folder, name it with --dir, or make one with `guardcell init`",
        ));
    };
    let path = root.join(layout::DEVICES);
    if args.list {
        return list(&path, &zone(home), out);
    }
    if let Some(name) = &args.revoke {
        let none = || argument("--revoke", "no device is paired", "see `guardcell pair --list`");
        let mut devices = Devices::open_existing(&path)?.ok_or_else(none)?;
        devices.revoke(name).map_err(|e| of_flag(e, "--revoke"))?;
        return said(out, &format!("{name:?} is no longer paired."), "revoked", name);
    }
    let address = args.address.as_deref().map(checked).transpose()?;
    // The site must be there before a device asks for it.
    home.site(None)?;
    let mut devices = Devices::open(&path)?;
    let new = devices
        .new_code(args.name.as_deref(), Timestamp::now())
        .map_err(|e| of_flag(e, "--name"))?;
    let link = address.as_ref().map(|address| format!("{address}/#pair={}", new.code));
    if out.json() {
        let until = new.until.to_string();
        return out.value(&Code { code: &new.code, until, link: link.as_deref() });
    }
    let until = new.until.to_zoned_datetime(zone(home)).strftime("%H:%M");
    out.line(format!("Code: {}", new.code));
    out.wrapped(
        "",
        &format!(
            "It works once, until {until} ({} minutes), for {}.",
            CODE_LASTS.as_mins(),
            show(root)
        ),
    );
    out.line("");
    out.raw(&qr::drawn(link.as_deref().unwrap_or(&new.code))?);
    out.line("");
    match (&link, &address) {
        (Some(link), _) => out.line(link),
        (None, _) => out.wrapped(
            "",
            "The QR holds the code alone; with --address URL it opens the page of your server as well.",
        ),
    }
    if address.is_some_and(|address| is_plain(&address)) {
        out.wrapped("", PLAIN_HTTP);
    }
    Ok(())
}

fn list(path: &Path, zone: &TimeZone, out: &mut Out) -> Result<(), Error> {
    let devices = match Devices::open_existing(path)? {
        Some(devices) => devices.list()?,
        None => Vec::new(),
    };
    if out.json() {
        return out.value(&devices);
    }
    if devices.is_empty() {
        out.line("No device is paired.");
        return Ok(());
    }
    let widest = devices.iter().map(|d| d.name.chars().count()).max().unwrap_or(0);
    for Device { name, created, seen } in &devices {
        let pad = " ".repeat(widest - name.chars().count());
        out.line(format!(
            "{name}{pad}  paired {}  last seen {}",
            when(created, zone),
            when(seen, zone)
        ));
    }
    out.line(text::count(devices.len(), "device", "devices"));
    Ok(())
}

/// The time zone of the site; UTC where the site cannot be read.
fn zone(home: &Home) -> TimeZone {
    let site = home.site(None).ok();
    site.and_then(|site| TimeZone::get(&site.time_zone).ok()).unwrap_or(TimeZone::UTC)
}

/// A time as the clocks of the site show it.
fn when(time: &str, zone: &TimeZone) -> String {
    time.parse::<Timestamp>().map_or_else(
        |_| time.to_owned(),
        |t| t.to_zoned_datetime(zone.clone()).strftime("%Y-%m-%d %H:%M").to_string(),
    )
}

fn said(out: &mut Out, line: &str, field: &str, name: &str) -> Result<(), Error> {
    if out.json() {
        return out.value(&serde_json::json!({ field: name }));
    }
    out.line(line);
    Ok(())
}

/// An error at the flag that it is about; files are not about flags.
fn of_flag(e: Error, flag: &str) -> Error {
    if e.pointer().is_empty() { e } else { e.without_pointer().of_argument(flag) }
}

/// An address without its last slash.
fn checked(address: &str) -> Result<String, Error> {
    let rest = address.strip_prefix("https://").or_else(|| address.strip_prefix("http://"));
    let plain = |c: char| c.is_ascii_graphic() && !matches!(c, '#' | '?' | '"' | '<' | '>' | '\\');
    match rest {
        Some(rest) if !rest.trim_matches('/').is_empty() && rest.chars().all(plain) => {
            Ok(address.trim_end_matches('/').to_owned())
        }
        _ => Err(argument(
            "--address",
            format!("{address:?} is not the address of a server"),
            "write it as the device reaches it, such as https://greenhouse.local:8427",
        )),
    }
}

/// Whether what is sent there can be read on a network.
fn is_plain(address: &str) -> bool {
    let Some(rest) = address.strip_prefix("http://") else { return false };
    let host = rest.split(['/', ':']).next().unwrap_or_default();
    !(host.eq_ignore_ascii_case("localhost")
        || host.starts_with("127.")
        || rest.starts_with("[::1]"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_those_of_servers() {
        assert_eq!(checked("https://house.local:8427/").unwrap(), "https://house.local:8427");
        assert_eq!(checked("http://[::1]:8427").unwrap(), "http://[::1]:8427");
        for wrong in
            ["", "house.local", "https://", "https:///", "ftp://x", "https://x/#a", "http://a b"]
        {
            assert!(checked(wrong).is_err(), "{wrong}");
        }
        assert!(is_plain("http://192.168.1.7:8427"));
        for safe in
            ["https://house.local", "http://127.0.0.1:1", "http://localhost", "http://[::1]:8"]
        {
            assert!(!is_plain(safe), "{safe}");
        }
    }
}
