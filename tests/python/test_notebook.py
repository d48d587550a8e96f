"""The notebook of the guide: every cell runs, and draws what it says."""

import json
import os
import pathlib

DOCS = pathlib.Path(__file__).resolve().parents[2] / "docs"


def test_a_year_is_drawn() -> None:
    os.environ["MPLBACKEND"] = "Agg"
    notebook = json.loads((DOCS / "a-year.ipynb").read_text())
    cells = ["".join(c["source"]) for c in notebook["cells"] if c["cell_type"] == "code"]
    names: dict = {}
    before = os.getcwd()
    os.chdir(DOCS)
    try:
        for number, cell in enumerate(cells):
            exec(compile(cell, f"cell {number}", "exec"), names)
    finally:
        os.chdir(before)
    pyplot = names["plt"]
    figures = [pyplot.figure(number) for number in pyplot.get_fignums()]
    assert [len(figure.axes) for figure in figures] == [3, 1, 1]
    assert all(figure.axes[0].has_data() for figure in figures)
    # 38.5° N: the longest day is about 14 h 50 min, the shortest 9 h 30 min (USNO: sunrise equation
    # with -0.833°, declination 23.44°).
    sun, hour = names["sun"].to_pylist(), names["hour"]
    lengths = [hour(day["sunset"]) - hour(day["sunrise"]) for day in sun]
    assert abs(max(lengths) - 14.83) < 0.1 and abs(min(lengths) - 9.5) < 0.1
    assert len(names["rounds"]) + len(names["looks"]) > 600 and names["white"]
