//! How deeply JSON is nested, found without parsing it.

/// Whether arrays and objects are nested more deeply than `limit`.
pub(super) fn exceeds(json: &[u8], limit: usize) -> bool {
    let (mut depth, mut in_string, mut escaped) = (0_usize, false, false);
    for &byte in json {
        if in_string {
            match byte {
                _ if escaped => escaped = false,
                b'\\' => escaped = true,
                b'"' => in_string = false,
                _ => {}
            }
            continue;
        }
        match byte {
            b'"' => in_string = true,
            b'{' | b'[' => {
                depth += 1;
                if depth > limit {
                    return true;
                }
            }
            b'}' | b']' => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::exceeds;

    #[test]
    fn brackets_in_strings_do_not_count() {
        assert!(!exceeds(br#"{"a": "[[[[\"[[[["}"#, 1));
        assert!(exceeds(b"[[[", 2));
        assert!(!exceeds(b"[[],[],[]]", 2));
    }
}
