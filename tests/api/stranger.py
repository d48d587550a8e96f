"""Asks a server with a client that was generated from its description, and compares the answers
with those of the program. Started by stranger.sh.

Usage: stranger.py PROGRAM URL ROOT WORK
"""

import csv
import json
import pathlib
import re
import subprocess
import sys
import tomllib

from guardcell_stranger import Client, models
from guardcell_stranger.api.advice import advise, rescue, round_, strength_chart
from guardcell_stranger.api.model import air, convert, day, film
from guardcell_stranger.api.solution import acid, meter, recipe, solution, tank, water
from guardcell_stranger.api.taxa import genus, get_catalogue, look_up_names, look_up_taxon

program, url, root, work = sys.argv[1], sys.argv[2], *map(pathlib.Path, sys.argv[3:])
client = Client(base_url=url)


def examples(name: str) -> list[dict]:
    """The examples of a call, from the schema of its request."""
    return json.loads((root / f"schemas/{name}.request.schema.json").read_text())["examples"]


def model(schema: dict) -> type:
    return getattr(models, schema["title"])


def local(*args: str) -> dict:
    done = subprocess.run([program, *args, "--json"], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def same(what: str, here, there) -> None:
    """The answers agree, except that a field without a value may be null or omitted."""

    def bare(value):
        if isinstance(value, dict):
            return {k: bare(v) for k, v in value.items() if v is not None}
        if isinstance(value, (list, tuple)):
            return [bare(v) for v in value]
        return value

    def differ(a, b, at: str = "") -> str | None:
        if isinstance(a, dict) and isinstance(b, dict):
            found = (differ(a.get(k), b.get(k), f"{at}/{k}") for k in sorted(a.keys() | b.keys()))
        elif isinstance(a, list) and isinstance(b, list) and len(a) == len(b):
            found = (differ(x, y, f"{at}/{i}") for i, (x, y) in enumerate(zip(a, b)))
        else:
            return None if a == b else f"{at}: {json.dumps(a)} here, {json.dumps(b)} there"
        return next((d for d in found if d), None)

    difference = differ(bare(here), bare(there))
    assert difference is None, f"{what}: {difference}"
    print(f"{what}: the same")


# What the generator could not read is known: streams of lines, and the text that Prometheus reads.
log = (work / "generator.log").read_text()
left_out = re.findall(r"WARNING parsing (\S+ \S+) within", log)
assert all(path == "GET /metrics" or path.endswith("/stream") for path in left_out), log
assert "Unable to process schema" not in log, log

# The demo situation, from its files: the request is the one that the program builds of them.
demo = root / "demo-data"
days_of_june = [
    line
    for i, line in enumerate((demo / "conditions.csv").read_text().splitlines())
    if i == 0 or line.startswith("2026-06-2")
]
(work / "conditions.csv").write_text("\n".join(days_of_june) + "\n")
situation = [
    "--collection", str(demo / "collection.csv"), "--label", str(demo / "labels/fernhollow-mist-15-5-15.toml"),
    "--water", str(demo / "water.toml"), "--site", str(demo / "site.toml"),
    "--conditions", str(work / "conditions.csv"), "--at", "2026-06-21",
]


def table(path: pathlib.Path, numbers: set[str]) -> list[dict]:
    rows = []
    for row in csv.DictReader(path.open(newline="")):
        row = {k.strip(): v.strip() for k, v in row.items() if v and v.strip()}
        rows.append({k: float(v) if k in numbers else v for k, v in row.items()})
    return rows


plants = table(demo / "collection.csv", {"leaf_area_cm2", "pot_l", "root_feed_mg_week"})
readings = table(work / "conditions.csv", {"temp_c", "rh_percent", "air_m_s", "radiation_w_m2"})
toml = lambda name: tomllib.loads((demo / name).read_text())  # noqa: E731
request = models.AdviceRequest.from_dict(
    json.loads(
        json.dumps(
            {
                "site": toml("site.toml"),
                "water": toml("water.toml"),
                "feed": toml("labels/fernhollow-mist-15-5-15.toml"),
                "plants": plants,
                "readings": readings,
                "at": "2026-06-21",
                "hours": 36,
            },
            default=str,
        )
    )
)
answer = advise.sync(client=client, body=request)
assert isinstance(answer, models.AdviceResponse), answer
same("advice on the demo collection", local("advise", *situation), answer.to_dict())
answer = round_.sync(client=client, body=request)
assert isinstance(answer, models.RoundResponse), answer
same("the round of the demo collection", local("round", *situation), answer.to_dict())

# Each other call: typed request in, typed answer out, and back to the JSON that was sent.
for name, call in [
    ("advise", advise),
    ("rescue", rescue),
    ("recipe", recipe),
    ("water", water),
    ("solution", solution),
    ("meter", meter),
    ("acid", acid),
    ("tank", tank),
    ("convert", convert),
    ("air", air),
    ("film", film),
    ("day", day),
    ("strength_chart", strength_chart),
    ("genus", genus),
]:
    request_model, response_model = (
        model(json.loads((root / f"schemas/{name}.{kind}.schema.json").read_text()))
        for kind in ("request", "response")
    )
    for example in examples(name):
        request = request_model.from_dict(json.loads(json.dumps(example)))
        same(f"{name} there and back", example, request.to_dict())
        detailed = call.sync_detailed(client=client, body=request)
        assert detailed.status_code == 200, detailed.content
        assert isinstance(detailed.parsed, response_model), detailed.parsed
        same(name, json.loads(detailed.content), detailed.parsed.to_dict())

taxon = look_up_taxon.sync("Cattleya labiata", client=client)
same("genus", local("genus", "Cattleya labiata"), taxon.to_dict())
assert look_up_names.sync(client=client, query="cattl").matches[0].name == "Cattleya"
assert len(get_catalogue.sync(client=client).names) > 1000

# A refusal is typed as well.
problem = air.sync(client=client, body=models.AirRequest(temp_c=22, rh_percent=140))
assert isinstance(problem, models.Problem), problem
assert problem.pointer == "/rh_percent" and problem.status == 422, problem
print("a refusal: typed, with its pointer")
