"""What must hold: counted under a name each, so that a year that fails says all that failed."""

import collections


class Checks:
    def __init__(self):
        self.asked = collections.Counter()
        self.failed = collections.defaultdict(list)

    def holds(self, name, condition, what=""):
        self.asked[name] += 1
        if not condition:
            self.failed[name].append(str(what))
        return condition

    def table(self):
        for name in sorted(self.asked):
            bad = self.failed.get(name, [])
            verdict = f"BROKEN {len(bad)} times: {bad[0][:900]}" if bad else "holds"
            yield f"  {name:<62} {self.asked[name]:>6}  {verdict}"


def percent(part, whole):
    return 100.0 * part / whole if whole else 0.0
