"""Writes crates/server/page/example.json, the example the page can load, from demo-data/."""

import csv
import json
import pathlib
import tomllib

root = pathlib.Path(__file__).parents[2]
demo = root / "demo-data"


def read(name: str) -> dict:
    return tomllib.loads((demo / name).read_text())


def rows(name: str) -> list[dict]:
    with open(demo / name, newline="") as file:
        return list(csv.DictReader(file))


FROM, TO = "2026-06-21T11", "2026-06-23T01"
plants = []
for row in rows("collection.csv"):
    plant = {k: v for k, v in row.items() if v}
    for number in ("pot_l", "leaf_area_cm2", "root_feed_mg_week"):
        if number in plant:
            plant[number] = float(plant[number])
    plants.append(plant)
readings = []
for row in rows("conditions.csv"):
    if FROM <= row["time"] <= TO:
        reading = {"time": row["time"], "area": row["area"]}
        reading |= {k: float(v) for k, v in row.items() if k not in reading and v}
        readings.append(reading)
example = {
    "site": read("site.toml"),
    "readings": readings,
    "plants": plants,
    "feed": read("labels/fernhollow-mist-15-5-15.toml"),
    "water": read("water.toml"),
    "at": "2026-06-21T12:00",
    "target": {"mg_l": 300, "volume_l": 4},
}
out = root / "crates/server/page/example.json"
out.write_text(json.dumps(example, ensure_ascii=False, separators=(",", ":")) + "\n")
print(f"{out.relative_to(root)}: {len(plants)} plants, {len(readings)} readings")
