#!/usr/bin/env python3
"""Plays a year in the Fernhollow Conservatory through the real program.

    tests/year/run.py [--days 365] [--seeds 1,2,3,4,5] [--wide 1] [--keep FOLDER] [--story] PROGRAM

Needs nothing but Python and Linux. Prints, for each seed, what held and how often it was asked; fails
where something broke. `--wide 3` plays a house with three times the plants; `--story` writes the
chapter of the guide from the first seed.
"""

import argparse
import pathlib
import shutil
import statistics
import sys
import tempfile
import time

import story
from checks import percent
from house import ROOT
from year import Year


def reliability(years, settled):
    """The chance stated against what was there, slips of the pen left out, in bins; in the days after
    a change in which a house still learns, or later. White comes by the day: all leaves of a dry one,
    so that the looks of one day count as little more than one."""
    looks = [look for year in years for look in year.looks if year.settled(look[0]) == settled]
    for low, high in ((0, 0.02), (0.02, 0.04), (0.04, 0.06), (0.06, 0.08), (0.08, 0.12)):
        inside = [k for k in looks if low <= k[1] < high]
        if inside:
            told = statistics.mean(k[1] for k in inside)
            seen = sum(k[3] for k in inside)
            days = len({k[0] for k in inside})
            yield (f"  stated {100 * told:4.1f} %   seen {percent(seen, len(inside)):4.1f} % of "
                   f"{len(inside)} looks on {days} days")


def tell(year):
    guide = ROOT / "docs/guide/src"
    figures = {"strength": "a-year-strength.svg", "threshold": "a-year-threshold.svg"}
    (guide / figures["strength"]).write_text(story.picture(year), encoding="utf-8")
    end = f"{year.date():%Y-%m-%d}"
    year.run("history", "threshold", "--at", end, "--svg", guide / figures["threshold"])
    (guide / "a-year.md").write_text(story.chapter(year, figures), encoding="utf-8")


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("program", type=pathlib.Path)
    options.add_argument("--days", type=int, default=365)
    options.add_argument("--seeds", default="1")
    options.add_argument("--wide", type=int, default=1)
    options.add_argument("--keep", type=pathlib.Path, help="keep the folders here")
    options.add_argument("--story", action="store_true", help="write the chapter of the guide")
    options = options.parse_args()
    program = options.program.resolve()
    optimised = "/debug/" not in str(program)
    base = options.keep or pathlib.Path(tempfile.mkdtemp(prefix="year-"))
    broken, years = False, []
    try:
        for seed in map(int, options.seeds.split(",")):
            began = time.monotonic()
            folder = base / f"seed-{seed}"
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir(parents=True)
            year = Year(program, folder, seed, options.days, options.wide, optimised)
            try:
                year.play()
            finally:
                year.server.kill()
            years.append(year)
            broken |= bool(year.checks.failed)
            print(f"seed {seed}: {options.days} days in {time.monotonic() - began:.0f} s, "
                  f"{len(year.entries)} entries, {len(year.looks)} looks, threshold "
                  f"{year.truth.threshold:.3f} g/m²")
            for line in year.checks.table():
                print(line)
            for name, chance, white, asked in year.spans():
                print(f"  after {name}: true chance {100 * chance:.1f} %, white {100 * white:.1f} % "
                      f"of {asked} looks")
            for verb, cpu in sorted(year.run.cpu.items()):
                print(f"  {verb:<16} {len(cpu):>5} times, processor {1000 * statistics.median(cpu):.0f} ms, "
                      f"most {1000 * max(cpu):.0f} ms")
            sys.stdout.flush()
            if options.story and len(years) == 1:
                tell(year)
        for settled, when in ((False, "within 30 days of a change"), (True, "later")):
            print(f"chance stated and white seen, all seeds, {when}")
            for line in reliability(years, settled):
                print(line)
    finally:
        if not options.keep:
            shutil.rmtree(base, ignore_errors=True)
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
