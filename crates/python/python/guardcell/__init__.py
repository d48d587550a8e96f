"""Feeding plants through the leaf: when, how strong, and why.

Every call is a function with typed arguments and a typed answer:

>>> import guardcell
>>> answer = guardcell.convert("120 ppm P2O5", to="ppm P")
>>> answer.message
'120 mg/L P2O5 = 52.371 mg/L P'
>>> f"{answer.value:.2f} {answer.unit} {answer.basis}"
'52.37 mg/L P'

>>> guardcell.genus("Cattleya labiata").name
'Cattleya labiata'

A refusal is a `guardcell.Error` with `code`, `pointer`, `detail` and `hint`:

>>> guardcell.convert("300 ppm", to="mg/L")
Traceback (most recent call last):
    ...
guardcell.error.Error: /quantity: ...

Tables of pyarrow, polars, pandas or DuckDB are answered row by row: see `guardcell.table`.

Everything is pure: the same request gives the same answer, nothing is stored, and times come in with
the request. Other threads run while a call calculates.
"""

from __future__ import annotations

from guardcell import models
from guardcell._native import VERSION as __version__
from guardcell.calls import *  # noqa: F403
from guardcell.calls import __all__ as _calls
from guardcell.error import Error, Place
from guardcell.tables import Prepared, prepare, table
from guardcell.wire import call

__all__ = [
    "Error",
    "Place",
    "Prepared",
    "__version__",
    "call",
    "models",
    "prepare",
    "table",
    *_calls,
]
