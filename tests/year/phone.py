"""A paired phone, as any program can be one: it records without a connection, sends what was not
acknowledged, and reads the journal from its cursor (docs/guide/src/devices.md)."""

import http.client
import json
import random


class Phone:
    def __init__(self, name, seed, online):
        """`online`: the share of days on which it reaches the server."""
        self.name, self.online = name, online
        self.rng = random.Random(f"phone {name} {seed}")
        self.token = None
        self.waiting = []  # drafts, oldest first
        self.acknowledged = {}  # id: draft
        self.shared = {}  # id: entry
        self.refused = []
        self.cursor = "0"
        self.made = 0

    def record(self, draft):
        self.made += 1
        draft = {"id": f"{self.name}-{self.made}", **draft}
        self.waiting.append(draft)
        return draft["id"]

    def pair(self, port, code):
        status, answer = self._ask(port, "POST", "/v1/pair", {"code": code, "name": self.name})
        assert status == 200, answer
        self.token = answer["token"]

    def _ask(self, port, method, path, body=None):
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        try:
            headers = {"content-type": "application/json"}
            if self.token:
                headers["authorization"] = f"Bearer {self.token}"
            connection.request(method, path, None if body is None else json.dumps(body), headers)
            response = connection.getresponse()
            return response.status, json.loads(response.read() or b"null")
        finally:
            connection.close()

    def send(self, port):
        """One turn of sending; some answers are lost on the way, and some entries go twice."""
        if not self.waiting:
            return
        batch = self.waiting[:500]
        if self.rng.random() < 0.2:
            batch = batch + batch[:3] if len(batch) < 490 else batch
        if self.rng.random() < 0.2:
            batch = batch + list(self.acknowledged.values())[-3:]
        status, answer = self._ask(port, "POST", "/v1/journal/entries", {"entries": batch})
        if status != 200:
            raise Refused(status, answer)
        if self.rng.random() < 0.1:
            return  # the answer was lost: it is sent again another day
        for result in answer["results"]:
            draft = next((d for d in self.waiting if d["id"] == result["id"]), None)
            if draft is None:
                continue
            if result["outcome"] in ("accepted", "known"):
                self.acknowledged[draft["id"]] = draft
            else:
                self.refused.append((draft, result["error"]))
            self.waiting.remove(draft)

    def read(self, port):
        """Reads to the end of the journal."""
        while True:
            status, page = self._ask(port, "GET", f"/v1/journal/entries?since={self.cursor}")
            if status != 200:
                raise Refused(status, page)
            if page["restarted"]:
                # another journal: whether it has them shows at the end of its pages
                self.acknowledged.update((i, draft(e)) for i, e in self.shared.items())
                self.shared = {}
            for entry in page["entries"]:
                self.shared[entry["id"]] = entry
                self.acknowledged.pop(entry["id"], None)
            self.waiting = [d for d in self.waiting if d["id"] not in self.shared]
            self.cursor = page["cursor"]
            if not page["more"]:
                break
        # What was acknowledged and is not there: a backup was restored. It goes again.
        self.waiting[:0] = self.acknowledged.values()
        self.acknowledged = {}

    def sync(self, port):
        """True where all went through."""
        try:
            self.send(port)
            self.read(port)
            return True
        except OSError:
            return False


def draft(entry):
    """An entry as it is sent: the journal stamps it anew."""
    return {key: value for key, value in entry.items() if key != "recorded"}


class Refused(Exception):
    def __init__(self, status, problem):
        super().__init__(f"{status} {problem}")
        self.status, self.problem = status, problem
