"""Calls over the rows of tables of Arrow: pyarrow, polars, pandas, DuckDB, and whatever else has
`__arrow_c_stream__`.

A row is read by the names of its columns: those named like fields of the request fill them, nested
ones with points (`plant.name`), the others are passed along. A column `request` holds whole requests
as JSON instead, for every call.
"""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from typing import Any

from guardcell import _native
from guardcell.wire import plain, refusal, text


def table(
    name: str,
    data: Any,
    *,
    columns: Sequence[str] = (),
    error_column: str | None = None,
    threads: int | None = None,
    **constants: Any,
) -> _native.Answers:
    """Answers a call for every row of a table, in order, on all cores.

    The answers are a stream of Arrow that any reader takes: they are made as they are read, so that
    no table has to be held whole. They have the columns of the input and those of the answer; a row
    that cannot be answered has nulls there. `errors` of the answers is a second table, with `row`
    (from 1), `code`, `pointer`, `detail` and `hint`; it is complete when the answers have been read.

    :param name: the call
    :param data: the rows
    :param columns: what to write of an answer, such as `value` or `plants.0.verdict`, or `.` for
        the whole as JSON; the usual columns of the call if none are named, and all fields of the
        answer where a row is a whole request
    :param error_column: a column of the answers for the error of a row
    :param threads: how many rows may be in work at once; all cores if not given. Within an engine
        that runs a worker on every core, give 1.
    :param constants: fields of the request that are the same for every row, such as `site`
    :raises guardcell.Error: if the table has not what every row needs
    :raises TypeError: if the data is no table of Arrow
    """
    answers, refused = _native.table(
        name, data, _asking(columns, error_column, constants), _cores(threads)
    )
    if answers is None:
        raise refusal(json.loads(refused or b"{}"))
    return answers


def prepare(
    name: str,
    schema: Any,
    *,
    columns: Sequence[str] = (),
    error_column: str | None = None,
    **constants: Any,
) -> Prepared:
    """Prepares a call for many tables with the same columns, as engines hand them out.

    :param schema: names and types of the columns: an object with `__arrow_c_schema__`
    :raises guardcell.Error: if the table has not what every row needs
    """
    asked, refused = _native.prepare(name, schema, _asking(columns, error_column, constants))
    if asked is None:
        raise refusal(json.loads(refused or b"{}"))
    return Prepared(asked)


class Prepared:
    """A call that is ready for tables with the same columns."""

    def __init__(self, asked: _native.Asked) -> None:
        self._asked = asked

    def table(self, data: Any, threads: int | None = None) -> _native.Answers:
        """Answers every row of a table, as `guardcell.table` does."""
        return self._asked.table(data, _cores(threads))

    def __arrow_c_schema__(self) -> object:
        """The columns of the answers."""
        return self._asked.__arrow_c_schema__()


def _asking(
    columns: Sequence[str], error_column: str | None, constants: dict[str, Any]
) -> bytes:
    if isinstance(columns, str):
        columns = columns.split(",")
    # `from` is a word of Python: its field is `from_`, as everywhere in the package.
    fields = {name.rstrip("_"): value for name, value in constants.items() if value is not None}
    return text(
        {
            "columns": list(columns),
            "error_column": error_column,
            "constants": plain(fields, ""),
        }
    )


def _cores(threads: int | None) -> int:
    if threads is not None:
        if threads < 1:
            raise ValueError("threads: give at least 1")
        return threads
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
