"""The one error: code, pointer, detail, hint, place."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where in a text a fault lies. Lines and columns count from 1, columns in characters."""

    argument: str | None = None
    file: str | None = None
    line: int | None = None
    column: int | None = None


class Error(Exception):
    """A request that is refused. Use the fields; never parse the sentences.

    >>> import guardcell
    >>> try:
    ...     guardcell.air(25, 140)
    ... except guardcell.Error as e:
    ...     print(e.code, e.pointer)
    out-of-range /rh_percent
    """

    code: str
    """The kind of the fault, such as `out-of-range`; all of them are in `/problems` of a server."""
    pointer: str
    """JSON Pointer (RFC 6901) to the fault in the request; empty for the whole request."""
    detail: str
    """What is wrong."""
    hint: str
    """What would be right."""
    place: Place | None
    """Where in the text, for a request that is no JSON."""

    def __init__(
        self, code: str, pointer: str, detail: str, hint: str, place: Place | None = None
    ) -> None:
        super().__init__(code, pointer, detail, hint, place)
        self.code = code
        self.pointer = pointer
        self.detail = detail
        self.hint = hint
        self.place = place

    def __str__(self) -> str:
        at = f"{self.pointer}: " if self.pointer else ""
        return f"{at}{self.detail}; {self.hint} ({self.code})"
