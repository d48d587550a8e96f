"""The Python package: every call typed and plain, refusals, threads, the demo."""

import json
import math
import pathlib
import subprocess
import sys
import threading
import time

import guardcell
import pytest
from guardcell import _native, calls, models, wire
from guardcell.demo import evening, sheet


def request_of(name: str) -> dict:
    return json.loads(_native.example(name))


def bare(value):
    """Without what is null: a dataclass has None where the wire has nothing."""
    if isinstance(value, dict):
        return {k: bare(v) for k, v in value.items() if v is not None}
    if isinstance(value, list):
        return [bare(v) for v in value]
    return value


@pytest.mark.parametrize("name", calls.__all__)
def test_the_typed_answer_holds_all_of_the_plain_one(name: str) -> None:
    request = request_of(name)
    plain = guardcell.call(name, request)
    named = {f"{k}_" if k in ("from", "with") else k: v for k, v in request.items()}
    typed = getattr(guardcell, name)(**named)
    assert type(typed).__module__ == "guardcell.models"
    assert bare(json.loads(wire.text(wire.plain(typed, "")))) == bare(plain)


@pytest.mark.parametrize("name", calls.__all__)
def test_functions_say_what_the_registry_says(name: str) -> None:
    document = getattr(guardcell, name).__doc__
    assert ":raises guardcell.Error:" in document and len(document) > 200


def test_dataclasses_are_requests_too() -> None:
    request = wire.decoder(models.AdviceRequest)(request_of("advise"))
    assert isinstance(request.site, models.SiteDescription)
    assert isinstance(request.plants[0], models.PlantEntry)
    # 38.5 degrees came as 38.5, and -28.0 is a float whatever the text was.
    assert isinstance(request.site.longitude_deg, float)
    typed = guardcell.advise(request.site, request.readings, request.plants, request.at, feed=request.feed, water=request.water)
    assert typed == guardcell.advise(**request_of("advise"))
    assert guardcell.call("advise", request) == guardcell.call("advise", request_of("advise"))


def test_a_choice_of_forms_is_decoded_by_its_mark() -> None:
    entry = guardcell.entry(**request_of("entry"))
    assert isinstance(entry.event, models.EventOutputRound)
    assert entry.event.window is not None and entry.event.window.from_.startswith("2026-06-21")


def test_a_known_value() -> None:
    # P2O5 is 43.64 % P by mass (atomic weights of IUPAC 2021: P 30.974, O 15.999).
    answer = guardcell.convert("120 ppm P2O5", to="ppm P")
    assert answer.value == pytest.approx(120 * 2 * 30.974 / (2 * 30.974 + 5 * 15.999), rel=1e-4)


def test_refusals_carry_their_fields() -> None:
    with pytest.raises(guardcell.Error) as refused:
        guardcell.air(25, 140)
    e = refused.value
    assert (e.code, e.pointer, e.place) == ("out-of-range", "/rh_percent", None)
    assert e.detail and e.hint and "out-of-range" in str(e)
    with pytest.raises(guardcell.Error) as refused:
        guardcell.call("air", "{\n \"temp_c\": }")
    assert refused.value.code == "malformed-json"
    assert refused.value.place is not None and refused.value.place.line == 2
    with pytest.raises(guardcell.Error) as refused:
        guardcell.call("genie", {})
    assert refused.value.code == "unknown-call" and "genus" in refused.value.hint


@pytest.mark.parametrize("odd", [math.nan, math.inf, -math.inf])
def test_what_json_cannot_hold_is_refused_with_its_place(odd: float) -> None:
    with pytest.raises(guardcell.Error) as refused:
        guardcell.film(20, odd)
    assert (refused.value.code, refused.value.pointer) == ("out-of-range", "/rh_percent")


@pytest.mark.parametrize("name", ["", "a\0b", "\ud800", "é" * 1000])
def test_odd_names_are_unknown(name: str) -> None:
    with pytest.raises(guardcell.Error) as refused:
        guardcell.call(name, {})
    assert refused.value.code == "unknown-call"


def test_odd_texts_are_refused() -> None:
    for text in ["\ud800", "", "\0", b"\xff", "[" * 100_000]:
        with pytest.raises(guardcell.Error):
            guardcell.call("air", text)


def test_errors_can_be_sent_to_another_process() -> None:
    import pickle

    with pytest.raises(guardcell.Error) as refused:
        guardcell.air(25, 140)
    again = pickle.loads(pickle.dumps(refused.value))
    assert (again.code, again.pointer, str(again)) == ("out-of-range", "/rh_percent", str(refused.value))


def test_other_threads_run_while_a_call_calculates() -> None:
    request = request_of("advise")
    plant = request["plants"][0]
    request["plants"] = [plant | {"id": f"p{i}"} for i in range(2000)]
    body = json.dumps(request)
    ticks = 0
    done = threading.Event()

    def tick() -> None:
        nonlocal ticks
        while not done.is_set():
            ticks += 1
            time.sleep(0.001)

    ticker = threading.Thread(target=tick)
    ticker.start()
    before = ticks
    begun = time.monotonic()
    ok, _ = _native.answer("advise", body.encode())
    took = time.monotonic() - begun
    during = ticks - before
    done.set()
    ticker.join()
    # A call that held the lock would leave the ticker a tick or two.
    assert ok and during > max(3, took * 20), (during, took)


def test_threads_get_the_same_answers() -> None:
    expected = guardcell.air(25, 50)
    answers: list[models.AirResponse] = []
    threads = [
        threading.Thread(target=lambda: answers.extend(guardcell.air(25, 50) for _ in range(50)))
        for _ in range(4)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(answers) == 200 and all(answer == expected for answer in answers)


def test_the_demo_plans_an_evening() -> None:
    text = subprocess.run(
        [sys.executable, "-m", "guardcell.demo"], capture_output=True, text=True, check=True
    ).stdout
    assert text.startswith("Fernhollow Conservatory, 2026-06-21T18:00")
    assert "FH-001" in text and "FH-014" in text
    assert sheet(evening()) + "\n" == text


def test_types_ship_with_the_package() -> None:
    folder = pathlib.Path(guardcell.__file__).parent
    assert (folder / "py.typed").exists() and (folder / "_native.pyi").exists()
    assert guardcell.__version__ == _native.VERSION
