"""Reads a calendar of `guardcell rescue --ics` with a parser that knows nothing of guardcell.

    python3 -m venv /tmp/ics && /tmp/ics/bin/pip install icalendar==7.3.2
    guardcell rescue Phalaenopsis --site demo-data/site.toml --area shelf --from 2026-06-01 \
        --days 28 --ics soaks.ics --json > plan.json
    /tmp/ics/bin/python tests/oracle/check_ics.py soaks.ics plan.json

Needs the general-purpose library `icalendar` of PyPI (RFC 5545). Exits 1 where the calendar is
not the plan.
"""

import datetime
import json
import sys

import icalendar


def main(calendar_path: str, plan_path: str) -> int:
    raw = open(calendar_path, "rb").read()
    faults = []
    for number, line in enumerate(raw.split(b"\r\n"), 1):
        if len(line) > 75 or b"\n" in line or b"\r" in line:
            faults.append(f"line {number}: folding or line end (RFC 5545, 3.1)")
    calendar = icalendar.Calendar.from_ical(raw)
    for key in ("VERSION", "PRODID"):
        if key not in calendar:
            faults.append(f"{key} is missing (3.6)")
    plan = json.load(open(plan_path, encoding="utf-8"))
    soaks = plan.get("plan", plan)["soaks"]
    events = list(calendar.walk("VEVENT"))
    if len(events) != len(soaks):
        faults.append(f"{len(events)} events for {len(soaks)} soaks")
    uids = set()
    for event, soak in zip(events, soaks):
        if event.errors:
            faults.append(f"{event.get('UID')}: {event.errors}")
        uids.add(str(event["UID"]))
        for key, field in (("DTSTART", "start"), ("DTEND", "end")):
            there = event.decoded(key)
            planned = datetime.datetime.fromisoformat(soak[field])
            if there != planned:
                faults.append(f"{event['UID']}: {key} {there} is not {planned}")
        if event.decoded("DTSTAMP").tzinfo is None:
            faults.append(f"{event['UID']}: DTSTAMP is not in UTC (3.8.7.2)")
        for key in ("SUMMARY", "DESCRIPTION"):
            if not str(event.get(key, "")).strip():
                faults.append(f"{event['UID']}: {key} is blank")
    if len(uids) != len(events):
        faults.append("duplicate UID (3.8.4.7)")
    for fault in faults:
        print(fault)
    print(f"icalendar {icalendar.__version__}: {len(events)} events, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
