"""Calls on Apache Spark: `guardcell.spark.map`.

The package must be installed where the workers run; it is compiled, so that it cannot come as a zip
of Python files. See the guide.
"""

from __future__ import annotations

import importlib
from collections.abc import Iterator, Sequence
from typing import Any


def map(
    frame: Any,
    name: str,
    *,
    columns: Sequence[str] = (),
    error_column: str | None = "error",
    **constants: Any,
) -> Any:
    """Answers a call for every row of a data frame of Spark (`mapInArrow`).

    The answer is a data frame with the columns of the input, those of the answer, and a column for
    the error of a row. Each task works on one core. The other arguments are those of
    `guardcell.table`.

    :raises guardcell.Error: if the frame has not what every row needs
    """
    import guardcell

    types: Any = importlib.import_module("pyspark.sql.pandas.types")
    pa: Any = importlib.import_module("pyarrow")
    asking: dict[str, Any] = {"columns": columns, "error_column": error_column, **constants}
    prepared = guardcell.prepare(name, types.to_arrow_schema(frame.schema), **asking)

    def answers(batches: Iterator[Any]) -> Iterator[Any]:
        # Imported where the worker runs.
        import guardcell

        arrow: Any = importlib.import_module("pyarrow")
        first = next(batches, None)
        if first is None:
            return

        def rows() -> Iterator[Any]:
            yield first
            yield from batches

        source = arrow.RecordBatchReader.from_batches(first.schema, rows())
        made = guardcell.table(name, source, threads=1, **asking)
        yield from arrow.RecordBatchReader.from_stream(made)

    return frame.mapInArrow(answers, types.from_arrow_schema(pa.schema(prepared)))
