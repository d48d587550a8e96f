/*
 * guardcell: feeding plants through the leaf. Every call by its name, JSON in and out.
 *
 * Made from crates/capi/src/ with `cargo xtask header`; do not edit.
 */

#ifndef GUARDCELL_H
#define GUARDCELL_H

#include <stddef.h>
#include <stdint.h>

/*
 The text is the answer, as JSON.
 */
#define GUARDCELL_ANSWER 0

/*
 The request was refused; the text is the error, as JSON.
 */
#define GUARDCELL_REFUSED 1

/*
 A fault of guardcell itself; the text is the error, as JSON. Please report the request.
 */
#define GUARDCELL_FAULT 2

/*
 There was no place to put the text: `text` was a null pointer. Nothing was calculated.
 */
#define GUARDCELL_NO_PLACE 3

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

/*
 Answers a call.

 `name` is the name of the call, such as "convert", with a NUL at its end. `request` is JSON in
 UTF-8, `length` bytes of it; no NUL is needed behind it. `*text` receives the answer or the error,
 JSON in UTF-8 with a NUL at its end; give it to guardcell_free(). `*text_length` receives its
 length in bytes without the NUL, unless `text_length` is a null pointer.

 An error has the fields `code`, `pointer` (JSON Pointer into the request), `detail` and `hint`.
 A null pointer for `name` or `request` is refused with the code `missing`, a request that is not
 UTF-8 or not JSON with `malformed-json`.

 It may be called from many threads at once, and keeps nothing of its arguments.

 Returns GUARDCELL_ANSWER, GUARDCELL_REFUSED, GUARDCELL_FAULT or GUARDCELL_NO_PLACE.

 # Safety
 `name` is null or ends with a NUL; `request` is null or has `length` readable bytes; `text` and
 `text_length` are null or may be written.
 */
int32_t guardcell_call(const char *name,
                       const char *request,
                       size_t length,
                       char **text,
                       size_t *text_length);

/*
 Frees a text of guardcell_call(). A null pointer does nothing.

 # Safety
 `text` is null or a text of guardcell_call() that was not freed before and not changed.
 */
void guardcell_free(char *text);

/*
 The version of guardcell, with a NUL at its end; never freed.
 */
const char *guardcell_version(void);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* GUARDCELL_H */
