"""Calls over the rows of tables: pyarrow, polars, pandas and DuckDB in and out, errors, threads."""

import json
import os
import threading
import time

import duckdb
import guardcell
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest
from guardcell import _native, calls


def lab(rows: int) -> pa.Table:
    """Conversions, every eleventh of which cannot be done."""
    units = ["ppm P2O5", "°dH", "°F", "mS/cm at 18 °C"]
    targets = ["ppm P", "mg/L CaCO3", "°C", "mS/cm at 25 °C"]
    quantity = [f"{i % 997}.{i % 10} {units[i * 7 % 4]}" for i in range(rows)]
    quantity[::11] = ["300 ppm"] * len(quantity[::11])
    to = [targets[i * 7 % 4] for i in range(rows)]
    return pa.table({"id": pa.array(range(rows), pa.int64()), "quantity": quantity, "to": to})


def one_by_one(table: pa.Table) -> list[float | None]:
    values: list[float | None] = []
    for row in table.to_pylist():
        try:
            values.append(guardcell.convert(row["quantity"], row["to"]).value)
        except guardcell.Error:
            values.append(None)
    return values


@pytest.fixture(scope="module")
def table() -> pa.Table:
    return lab(2000)


@pytest.fixture(scope="module")
def values(table: pa.Table) -> list[float | None]:
    return one_by_one(table)


def test_pyarrow(table: pa.Table, values: list[float | None]) -> None:
    answers = guardcell.table("convert", table)
    got = pa.table(answers)
    assert got.column_names == ["id", "quantity", "to", "value", "unit", "basis", "notes"]
    assert got["value"].to_pylist() == values
    assert got["id"].to_pylist() == list(range(2000))
    assert got.schema.field("notes").type == pa.list_(pa.field("item", pa.string()))
    errors = pa.table(answers.errors)
    assert errors.column_names == ["row", "code", "pointer", "detail", "hint"]
    assert errors["row"].to_pylist() == [i + 1 for i in range(0, 2000, 11)]
    assert set(errors["code"].to_pylist()) == {"ambiguous-ppm"}
    assert set(errors["pointer"].to_pylist()) == {"/quantity"}
    assert len(answers.errors) == len(errors)


def test_polars(table: pa.Table, values: list[float | None]) -> None:
    answers = guardcell.table("convert", pl.from_arrow(table))
    got = pl.DataFrame(answers)
    assert got["value"].to_list() == values
    assert pl.DataFrame(answers.errors).height == len(range(0, 2000, 11))
    words = pl.DataFrame(table).with_columns(pl.col("to").cast(pl.Categorical))
    assert pl.DataFrame(guardcell.table("convert", words))["value"].to_list() == values


def test_pandas(table: pa.Table, values: list[float | None]) -> None:
    frame = table.to_pandas()
    got = pa.table(guardcell.table("convert", frame)).to_pandas()
    assert [None if pd.isna(v) else v for v in got["value"]] == values


def test_duckdb(table: pa.Table, values: list[float | None]) -> None:
    source, sink = duckdb.connect(), duckdb.connect()
    source.register("lab", table)
    answers = guardcell.table("convert", source.sql("select * from lab order by id"))  # noqa: F841
    got = sink.sql("select value from answers").fetchall()
    assert [value for (value,) in got] == values


@pytest.mark.parametrize("threads", [1, 2, 7])
def test_any_number_of_threads_gives_the_same_rows(
    table: pa.Table, values: list[float | None], threads: int
) -> None:
    big = pa.concat_tables([table] * 20)
    got = pa.table(guardcell.table("convert", big, threads=threads))
    assert got["value"].to_pylist() == values * 20
    errors = guardcell.table("convert", big, threads=threads)
    pa.table(errors)
    rows = pa.table(errors.errors)["row"].to_pylist()
    assert rows == [i + 1 for i in range(40_000) if i % 2000 % 11 == 0]


@pytest.mark.parametrize("kind", [pa.string(), pa.large_string(), pa.string_view()])
def test_every_kind_of_text(kind: pa.DataType) -> None:
    given = pa.table({"quantity": pa.array(["2 kg", None], kind)})
    got = pa.table(guardcell.table("convert", given, to="g"))
    assert got["value"].to_pylist() == [2000.0, None]


def test_numbers_with_their_unit_once() -> None:
    # 1 °dH is 10 mg CaO a litre: 17.848 mg/L CaCO3 (CaO 56.077, CaCO3 100.086; IUPAC 2021).
    given = pa.table({"quantity": [1.0, 14.0]})
    got = pa.table(guardcell.table("convert", given, unit="°dH", to="mg/L CaCO3"))
    assert got["value"].to_pylist() == pytest.approx([17.848, 14 * 17.848], rel=1e-4)


def test_a_stream_made_by_python(table: pa.Table, values: list[float | None]) -> None:
    seen = []

    def rows():
        for batch in table.to_batches(max_chunksize=100):
            seen.append(batch.num_rows)
            yield batch

    source = pa.RecordBatchReader.from_batches(table.schema, rows())
    reader = pa.RecordBatchReader.from_stream(guardcell.table("convert", source))
    first = reader.read_next_batch()
    # What is not asked for is not made.
    assert first.num_rows == 100 and len(seen) == 1
    rest = reader.read_all()
    assert first["value"].to_pylist() + rest["value"].to_pylist() == values


@pytest.mark.parametrize("name", calls.__all__)
def test_every_call_answers_whole_requests(name: str) -> None:
    request = json.dumps(json.loads(_native.example(name)))
    given = pa.table({"request": [request, "nothing", request], "shelf row": [1, 2, 3]})
    answers = guardcell.table(name, given, columns=["."])
    got = pa.table(answers)
    assert got.column_names == ["shelf row", "answer"]
    wanted = guardcell.call(name, request)
    first, second, third = got["answer"].to_pylist()
    assert json.loads(first) == wanted and second is None and third == first
    errors = pa.table(answers.errors).to_pylist()
    assert [(e["row"], e["code"]) for e in errors] == [(2, "malformed-json")]
    typed = pa.table(guardcell.table(name, given)).to_pylist()[0]
    for field, value in wanted.items():
        if isinstance(value, (str, bool)):
            assert typed[field] == value
        elif isinstance(value, (int, float)):
            assert typed[field] == pytest.approx(value, abs=0)


def test_plants_with_the_site_once() -> None:
    request = json.loads(_native.example("advise"))
    once = {name: request[name] for name in ("site", "feed", "water") if name in request}
    plants = [plant for plant in request["plants"]]
    air = request["readings"][0]
    rows = [
        {
            **{f"plant.{k}": v if isinstance(v, str) else json.dumps(v) for k, v in plant.items()},
            **{f"reading.{k}": v for k, v in air.items() if not isinstance(v, (dict, list))},
            "at": request["at"],
        }
        for plant in plants
    ]
    got = pa.table(guardcell.table("advise", pa.Table.from_pylist(rows), **once)).to_pylist()
    for plant, row in zip(plants, got, strict=True):
        one = {**once, "plants": [plant], "readings": [air], "at": request["at"]}
        wanted = guardcell.call("advise", one)["plants"][0]
        assert row["verdict"] == wanted["verdict"]
        assert row["feed_strength_mg_l"] == wanted.get("feed_strength_mg_l")


def test_the_error_of_a_row_as_a_column(table: pa.Table) -> None:
    got = pa.table(guardcell.table("convert", table, error_column="error"))
    errors = got["error"].to_pylist()
    assert [e is not None for e in errors] == [i % 11 == 0 for i in range(2000)]
    assert errors[0]["code"] == "ambiguous-ppm" and errors[0]["hint"]


def test_many_tables_of_one_call(table: pa.Table, values: list[float | None]) -> None:
    prepared = guardcell.prepare("convert", table.schema, columns="value,unit")
    assert pa.schema(prepared).names == ["id", "quantity", "to", "value", "unit"]
    for part in (table.slice(0, 500), table.slice(500)):
        got = pa.table(prepared.table(part))
        assert got["value"].to_pylist() == values[part["id"][0].as_py() :][: len(part)]
    with pytest.raises(Exception, match="other columns"):
        pa.table(prepared.table(table.select(["quantity", "to"])))


def test_what_cannot_be_asked() -> None:
    lab = pa.table({"quantity": ["2 kg"]})
    with pytest.raises(guardcell.Error) as refused:
        guardcell.table("convert", lab)
    assert (refused.value.code, refused.value.pointer) == ("missing", "/to")
    with pytest.raises(guardcell.Error) as refused:
        guardcell.table("genie", lab)
    assert refused.value.code == "unknown-call"
    with pytest.raises(guardcell.Error) as refused:
        guardcell.table("convert", lab, to="g", tow="g")
    assert (refused.value.code, refused.value.pointer) == ("unknown-name", "/tow")
    with pytest.raises(guardcell.Error) as refused:
        guardcell.table("convert", lab, to=float("nan"))
    assert refused.value.code == "out-of-range"
    with pytest.raises(guardcell.Error) as refused:
        guardcell.table("rescue", pa.table({"name": ["x"], "from": ["2026-06-21"]}))
    assert refused.value.pointer == "/site"
    with pytest.raises(TypeError, match="__arrow_c_stream__"):
        guardcell.table("convert", [1])
    with pytest.raises(ValueError, match="threads"):
        guardcell.table("convert", lab, to="g", threads=0)


def test_answers_are_read_once_and_errors_after_them(table: pa.Table) -> None:
    answers = guardcell.table("convert", table)
    with pytest.raises(RuntimeError, match="read them first"):
        pa.table(answers.errors)
    # A second look at the columns does no harm.
    assert pa.RecordBatchReader.from_stream(answers).schema == pa.schema(answers)
    pa.table(answers)
    with pytest.raises(Exception, match="read already"):
        pa.table(answers)
    assert len(pa.table(answers.errors)) == len(pa.table(answers.errors)) > 0


def test_a_fault_of_the_source_is_passed_on(table: pa.Table) -> None:
    def rows():
        yield from table.slice(0, 100).to_batches()
        raise OSError("the disk is gone")

    source = pa.RecordBatchReader.from_batches(table.schema, rows())
    with pytest.raises(Exception, match="the disk is gone"):
        pa.table(guardcell.table("convert", source))


def test_other_threads_run_while_rows_are_answered() -> None:
    request = json.dumps(json.loads(_native.example("advise")))
    given = pa.table({"request": [request] * 300})
    ticks, done = 0, threading.Event()

    def tick() -> None:
        nonlocal ticks
        while not done.is_set():
            ticks += 1
            time.sleep(0.001)

    ticker = threading.Thread(target=tick)
    ticker.start()
    begun = time.monotonic()
    # DuckDB holds the lock of the interpreter while it reads; pyarrow does not.
    for read in (pa.table, lambda answers: duckdb.sql("select count(*) from answers").fetchall()):
        read(guardcell.table("advise", given, columns=["plants.0.verdict"]))
    took = time.monotonic() - begun
    done.set()
    ticker.join()
    assert ticks > max(5, took * 20), (ticks, took)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
def test_a_process_that_forks_goes_on(table: pa.Table) -> None:
    wanted = pa.table(guardcell.table("convert", table))["value"].to_pylist()
    child = os.fork()
    if child == 0:
        again = pa.table(guardcell.table("convert", table, threads=2))["value"].to_pylist()
        os._exit(0 if again == wanted else 1)
    deadline = time.monotonic() + 60
    while time.monotonic() < deadline:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            assert status == 0
            return
        time.sleep(0.02)
    os.kill(child, 9)
    os.waitpid(child, 0)
    pytest.fail("the child did not end")


def test_sql_of_duckdb(table: pa.Table, values: list[float | None]) -> None:
    import guardcell.duckdb

    con = duckdb.connect()
    con.register("lab", table)
    fields = {"quantity": "VARCHAR", "to": "VARCHAR"}
    guardcell.duckdb.register(con, "convert", fields)
    sql = 'select id, unnest(guardcell_convert(quantity, "to")) from lab order by id'
    got = con.sql(sql).fetchall()
    assert [row[1] for row in got] == values
    assert got[0][-1]["code"] == "ambiguous-ppm"
    guardcell.duckdb.register(con, "air", {"temp_c": "DOUBLE"}, function="moist", rh_percent=50)
    # ASHRAE Handbook of Fundamentals 2017, chapter 1, table 3: 3.1693 kPa at 25 °C.
    ((moist,),) = con.sql("select moist(25.0).saturation_pressure_pa").fetchall()
    assert moist == pytest.approx(3169.3, rel=1e-3)
