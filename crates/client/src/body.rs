//! Bodies: requests as lossless JSON, answers read within bounds.

use crate::bounds::Bounds;
use crate::cause::while_reading;
use crate::failure::{answer_too_large, unsendable};
use guardcell::Error;
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::io::Read;

/// A request as JSON. JSON has only finite numbers, and others would be dropped silently, so the
/// text is read back and compared.
pub(crate) fn json<Q>(request: &Q) -> Result<Vec<u8>, Error>
where
    Q: Serialize + DeserializeOwned + PartialEq,
{
    let bytes = serde_json::to_vec(request).map_err(|e| unsendable(&e.to_string()))?;
    match serde_json::from_slice::<Q>(&bytes) {
        Ok(back) if back == *request => Ok(bytes),
        _ => Err(unsendable("it holds a number that is not finite")),
    }
}

/// The whole answer.
pub(crate) fn read_within(
    mut from: impl Read,
    url: &str,
    bounds: &Bounds,
) -> Result<Vec<u8>, Error> {
    let mut bytes = Vec::new();
    from.by_ref()
        .take(bounds.most_bytes.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(|e| while_reading(&e, url, bounds.timeout))?;
    if bytes.len() as u64 > bounds.most_bytes {
        return Err(answer_too_large(url, bounds.most_bytes));
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell::film::AirRequest;

    #[test]
    fn a_number_that_json_cannot_carry_is_not_sent() {
        let request = |p| {
            let text = r#"{"temp_c": 20, "rh_percent": 50}"#;
            let mut request: AirRequest = serde_json::from_str(text).unwrap();
            request.pressure_kpa = Some(p);
            request
        };
        assert!(json(&request(101.325)).is_ok());
        for p in [f64::NAN, f64::INFINITY] {
            assert!(json(&request(p)).is_err(), "{p}");
        }
    }
}
