"""Calls on Dask: `guardcell.dask.map`."""

from __future__ import annotations

import importlib
from collections.abc import Sequence
from typing import Any


def map(
    frame: Any,
    name: str,
    *,
    columns: Sequence[str] = (),
    error_column: str | None = "error",
    **constants: Any,
) -> Any:
    """Answers a call for every row of a data frame of Dask, partition by partition.

    The answer is a data frame with the columns of the input, those of the answer, and a column for
    the error of a row; its columns are of Arrow, and the index is that of the input. Each task works
    on one core. The other arguments are those of `guardcell.table`.

    :raises guardcell.Error: if the frame has not what every row needs
    """
    asking = {"columns": columns, "error_column": error_column, **constants}
    # What a partition without rows gives has the columns of all.
    meta = _answers(frame._meta, name, asking)
    return frame.map_partitions(_answers, name, asking, meta=meta)


def _answers(rows: Any, name: str, asking: dict[str, Any]) -> Any:
    # Imported where the worker runs.
    import guardcell

    pa: Any = importlib.import_module("pyarrow")
    pd: Any = importlib.import_module("pandas")
    source = pa.Table.from_pandas(rows, preserve_index=False)
    made = pa.table(guardcell.table(name, source, threads=1, **asking))
    answers = made.to_pandas(types_mapper=pd.ArrowDtype)
    answers.index = rows.index
    return answers
