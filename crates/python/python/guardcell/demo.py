"""Plans a round of the Fernhollow Conservatory, an invented house, on a midsummer evening, and prints
it.

Start it with `python -m guardcell.demo`.
"""

from __future__ import annotations

import json

import guardcell
from guardcell import _native


def evening() -> guardcell.models.RoundResponse:
    """The round that is planned at six in the evening of midsummer's day.

    >>> evening().site
    'Fernhollow Conservatory'
    """
    request = json.loads(_native.example("round") or "{}")
    request["at"] = "2026-06-21T18:00:00+00:00"
    return guardcell.round(**request)


def sheet(plan: guardcell.models.RoundResponse) -> str:
    """The plan as lines to read."""
    lines = [f"{plan.site}, {plan.from_[:16]} to {plan.to[:16]} UTC"]
    if plan.bucket is not None:
        bucket = plan.bucket
        lines.append(
            f"bucket: {bucket.water_l:.2f} L, {bucket.feed_strength_mg_l:.0f} mg/L {bucket.product}"
        )
    for sitting in plan.sittings:
        lines.append(f"{sitting.start[11:16]} to {sitting.end[11:16]}, {sitting.part_of_day}")
        for step in sitting.steps:
            for group in step.groups:
                plants = ", ".join(plant.id for plant in group.plants)
                lines.append(f"  {step.feed_strength_mg_l:.0f} mg/L for {plants}")
    for alone in plan.alone:
        plants = ", ".join(plant.id for plant in alone.plants)
        lines.append(f"{alone.verdict}: {plants}: {alone.reason.message}")
    return "\n".join(lines)


if __name__ == "__main__":
    print(sheet(evening()))
