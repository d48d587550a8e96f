"""Every call with each of its lists made as long as the server takes it: what memory that costs."""

import copy
import datetime
import json
import re

BODY = 4 * 1024 * 1024 - 4096
TIMED = re.compile(r"^\d{4}-\d\d-\d\dT\d\d:\d\d")
DAY = re.compile(r"^\d{4}-\d\d-\d\d$")


def lists(value, path=()):
    """The places of all lists that hold something."""
    if isinstance(value, dict):
        for key, part in value.items():
            yield from lists(part, (*path, key))
    elif isinstance(value, list) and value:
        yield path
        yield from lists(value[0], (*path, 0))


def at(value, path):
    for key in path:
        value = value[key]
    return value


def another(item, i):
    """An item like this one that is not a duplicate of it."""
    if not isinstance(item, dict):
        return item
    item = dict(item)
    for key, value in item.items():
        if not isinstance(value, str):
            continue
        if key in ("id", "name", "plant") and i:
            item[key] = f"{value} {i}"
        elif TIMED.match(value):
            time = datetime.datetime.fromisoformat(value.replace("Z", "+00:00"))
            item[key] = (time + datetime.timedelta(minutes=i)).isoformat()
        elif DAY.match(value):
            day = datetime.date.fromisoformat(value) + datetime.timedelta(days=i % 300)
            item[key] = day.isoformat()
    return item


def grown(example, path, count):
    """The example with so many items in one list."""
    request = copy.deepcopy(example)
    items = at(request, path)
    items[:] = [another(items[i % len(items)], i) for i in range(count)]
    return json.dumps(request, separators=(",", ":")).encode()


def fitting(example, path):
    """How many items a body holds."""
    few, many = (len(grown(example, path, n)) for n in (100, 1100))
    return max(1, int(1000 * (BODY - few) / max(many - few, 1)))


def longest(server, route, example, path):
    """The most items that are answered, found by halving."""
    count = fitting(example, path)
    while count > 1:
        status = server.send(route, grown(example, path, count), timeout=60)
        if status in (200, 503):
            return count, status
        count //= 2
    return 1, 200
