//! The functions that C calls: pointers in, pointers out, and nothing else.

use crate::answer::Ended;
use std::ffi::{CStr, CString, c_char};

/// The text is the answer, as JSON.
pub const ANSWER: i32 = 0;
/// The request was refused; the text is the error, as JSON.
pub const REFUSED: i32 = 1;
/// A fault of guardcell itself; the text is the error, as JSON. Please report the request.
pub const FAULT: i32 = 2;
/// There was no place to put the text: `text` was a null pointer. Nothing was calculated.
pub const NO_PLACE: i32 = 3;

/// The version, with a NUL at its end.
const VERSION: &CStr =
    match CStr::from_bytes_with_nul(concat!(env!("CARGO_PKG_VERSION"), "\0").as_bytes()) {
        Ok(version) => version,
        Err(_) => c"unknown",
    };

/// Answers a call.
///
/// `name` is the name of the call, such as "convert", with a NUL at its end. `request` is JSON in
/// UTF-8, `length` bytes of it; no NUL is needed behind it. `*text` receives the answer or the error,
/// JSON in UTF-8 with a NUL at its end; give it to guardcell_free(). `*text_length` receives its
/// length in bytes without the NUL, unless `text_length` is a null pointer.
///
/// An error has the fields `code`, `pointer` (JSON Pointer into the request), `detail` and `hint`.
/// A null pointer for `name` or `request` is refused with the code `missing`, a request that is not
/// UTF-8 or not JSON with `malformed-json`.
///
/// It may be called from many threads at once, and keeps nothing of its arguments.
///
/// Returns GUARDCELL_ANSWER, GUARDCELL_REFUSED, GUARDCELL_FAULT or GUARDCELL_NO_PLACE.
///
/// # Safety
/// `name` is null or ends with a NUL; `request` is null or has `length` readable bytes; `text` and
/// `text_length` are null or may be written.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn guardcell_call(
    name: *const c_char,
    request: *const c_char,
    length: usize,
    text: *mut *mut c_char,
    text_length: *mut usize,
) -> i32 {
    if text.is_null() {
        return NO_PLACE;
    }
    let name = if name.is_null() {
        None
    } else {
        // SAFETY: not null, and the caller promises that a NUL ends it.
        Some(unsafe { CStr::from_ptr(name) }.to_bytes())
    };
    // More bytes than any memory holds are not read.
    let length = length.min(isize::MAX.unsigned_abs());
    let request = if request.is_null() {
        None
    } else {
        // SAFETY: not null, at most isize::MAX bytes, and the caller promises that they are readable.
        Some(unsafe { std::slice::from_raw_parts(request.cast::<u8>(), length) })
    };
    let ended = Ended::of(name, request);
    let code = match &ended {
        Ended::Answer(_) => ANSWER,
        Ended::Refused(_) => REFUSED,
        Ended::Fault(_) => FAULT,
    };
    // JSON holds no NUL.
    let owned = CString::new(ended.into_text()).unwrap_or_default();
    if !text_length.is_null() {
        // SAFETY: not null, and the caller promises that it may be written.
        unsafe { text_length.write(owned.as_bytes().len()) };
    }
    // SAFETY: not null, and the caller promises that it may be written.
    unsafe { text.write(owned.into_raw()) };
    code
}

/// Frees a text of guardcell_call(). A null pointer does nothing.
///
/// # Safety
/// `text` is null or a text of guardcell_call() that was not freed before and not changed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn guardcell_free(text: *mut c_char) {
    if !text.is_null() {
        // SAFETY: the caller promises that it came from `CString::into_raw` and is freed once.
        drop(unsafe { CString::from_raw(text) });
    }
}

/// The version of guardcell, with a NUL at its end; never freed.
#[unsafe(no_mangle)]
pub extern "C" fn guardcell_version() -> *const c_char {
    VERSION.as_ptr()
}
