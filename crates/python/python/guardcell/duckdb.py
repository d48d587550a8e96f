"""Calls in SQL of DuckDB: `guardcell.duckdb.register`."""

from __future__ import annotations

import importlib
import inspect
from collections.abc import Mapping, Sequence
from typing import Any


def register(
    connection: Any,
    name: str,
    fields: Mapping[str, str],
    *,
    function: str | None = None,
    columns: Sequence[str] = (),
    error_column: str = "error",
    **constants: Any,
) -> None:
    """Makes a call a function of SQL.

    Its arguments are the fields of the request in the order given, each with its type in SQL, and
    its answer is a structure with the columns of the answer and the error:

        guardcell.duckdb.register(con, "convert", {"quantity": "VARCHAR", "to": "VARCHAR"})
        con.sql("select unnest(guardcell_convert(quantity, 'ppm P')) from 'lab.parquet'")

    DuckDB hands out at most 2048 rows at a time. For a whole table `guardcell.table` with a relation
    of DuckDB takes less time, and uses all cores.

    :param function: the name in SQL; `guardcell_` and the name of the call if not given
    :raises guardcell.Error: if the fields are not those that every row needs
    """
    import guardcell

    pa: Any = importlib.import_module("pyarrow")
    duckdb: Any = importlib.import_module("duckdb")
    # Types in SQL as types of Arrow: DuckDB knows best.
    casts = ", ".join(f'NULL::{kind} AS "{field}"' for field, kind in fields.items())
    given = connection.sql(f"SELECT {casts} LIMIT 0")
    schema = pa.table(given).schema
    prepared = guardcell.prepare(
        name, schema, columns=columns, error_column=error_column, **constants
    )
    answers = pa.schema(prepared)
    made = [field for field in answers if field.name not in fields]
    empty = pa.schema(made).empty_table()
    kinds = connection.from_arrow(empty).types
    result = duckdb.struct_type({field.name: kind for field, kind in zip(made, kinds)})

    def answer(*arguments: Any) -> Any:
        rows = pa.table(list(arguments), names=list(fields)).cast(schema)
        table = pa.table(prepared.table(rows, threads=1)).combine_chunks()
        columns = [_one(table.column(field.name)) for field in made]
        return pa.StructArray.from_arrays(columns, fields=made)

    def _one(column: Any) -> Any:
        chunks = column.chunks
        return chunks[0] if len(chunks) == 1 else pa.concat_arrays(chunks)

    # DuckDB counts the parameters.
    parameters = [
        inspect.Parameter(f"field_{i}", inspect.Parameter.POSITIONAL_ONLY)
        for i in range(len(fields))
    ]
    setattr(answer, "__signature__", inspect.Signature(parameters))
    connection.create_function(
        function or f"guardcell_{name}",
        answer,
        given.types,
        result,
        type="arrow",
        null_handling="special",
    )
