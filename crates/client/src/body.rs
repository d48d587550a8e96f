//! Bodies: requests as JSON that says all they hold, answers read within bounds.

use crate::builder::Bounds;
use crate::cause::while_reading;
use crate::error::ClientError;
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::io::Read;

/// A request as JSON. JSON has no numbers that are not finite and would leave them out without a
/// word, so what was written is read back and compared.
pub(crate) fn json<Q>(request: &Q) -> Result<Vec<u8>, ClientError>
where
    Q: Serialize + DeserializeOwned + PartialEq,
{
    let unsendable = |e: serde_json::Error| ClientError::Unsendable(e.to_string());
    let bytes = serde_json::to_vec(request).map_err(unsendable)?;
    let back: Q = serde_json::from_slice(&bytes).map_err(unsendable)?;
    if back == *request {
        Ok(bytes)
    } else {
        Err(ClientError::Unsendable("it holds a number that is not finite".into()))
    }
}

/// The whole of an answer.
pub(crate) fn read_within(
    mut from: impl Read,
    url: &str,
    bounds: &Bounds,
) -> Result<Vec<u8>, ClientError> {
    let mut bytes = Vec::new();
    from.by_ref()
        .take(bounds.most_bytes.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(|e| while_reading(&e, url, bounds.timeout))?;
    if bytes.len() as u64 > bounds.most_bytes {
        return Err(ClientError::TooLarge { url: url.to_owned(), limit: bounds.most_bytes });
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell::film::AirRequest;

    #[test]
    fn a_number_that_json_cannot_carry_is_not_sent() {
        let request = |p| AirRequest { temp_c: 20.0, rh_percent: 50.0, pressure_kpa: Some(p) };
        assert!(json(&request(101.325)).is_ok());
        for p in [f64::NAN, f64::INFINITY] {
            assert!(matches!(json(&request(p)), Err(ClientError::Unsendable(_))), "{p}");
        }
    }
}
