//! JSON Pointers (RFC 6901).

/// Appends a field name to a pointer, escaped.
///
/// ```
/// assert_eq!(guardcell_error::pointer::key("/plants/0", "a/b~c"), "/plants/0/a~1b~0c");
/// ```
#[must_use]
pub fn key(pointer: &str, name: &str) -> String {
    format!("{pointer}/{}", escape(name))
}

/// Appends an index to a pointer.
///
/// ```
/// assert_eq!(guardcell_error::pointer::index("/plants", 3), "/plants/3");
/// ```
#[must_use]
pub fn index(pointer: &str, index: usize) -> String {
    format!("{pointer}/{index}")
}

/// A name as one token of a pointer.
///
/// ```
/// assert_eq!(guardcell_error::pointer::escape("m/s"), "m~1s");
/// ```
#[must_use]
pub fn escape(name: &str) -> String {
    name.replace('~', "~0").replace('/', "~1")
}

/// A token of a pointer as the name it stands for.
///
/// ```
/// assert_eq!(guardcell_error::pointer::unescape("m~1s"), "m/s");
/// ```
#[must_use]
pub fn unescape(token: &str) -> String {
    token.replace("~1", "/").replace("~0", "~")
}

/// The tokens of a pointer, unescaped.
///
/// ```
/// let tokens: Vec<_> = guardcell_error::pointer::tokens("/a~1b/0").collect();
/// assert_eq!(tokens, ["a/b", "0"]);
/// ```
pub fn tokens(pointer: &str) -> impl Iterator<Item = String> + '_ {
    pointer.split('/').skip(1).map(unescape)
}
