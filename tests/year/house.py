"""The folder of the house, and the program that is asked about it."""

import csv
import json
import os
import pathlib
import resource
import shutil
import signal
import socket
import subprocess
import time

import air

ROOT = pathlib.Path(__file__).resolve().parents[2]
DEMO = ROOT / "demo-data"

# Written on labels as they come with plants; the area and setting are where they found a place.
BOUGHT = {
    60: ("FH-101", "Epi. ciliare", "house", "mounted", "ordinary", "medium"),
    110: ("FH-102", "Masd. veitchiana x coccinea", "shelf", "potted", "ordinary", "small"),
    150: ("FH-103", "NoID Phalaenopsis", "shelf", "potted", "ordinary", "medium"),
    205: ("FH-104", "Prosthechea sp.", "house", "mounted", "ordinary", "small"),
    260: ("FH-105", "Encyclia cochleata", "house", "basket", "established", "medium"),
}
# Litres of the pots that a ceiling is kept for.
POTS = {"FH-007": 2.0, "FH-009": 0.6, "FH-012": 0.6, "FH-036": 0.8, "FH-040": 0.5, "FH-043": 0.7}


FEEDS = """
[[feeds]]
name = "bloom"
product = "Fernhollow Bloom 10-30-20"
with = [{ product = "Fernhollow Drop 6-2-5", amount = 0.3 }]
"""


class Ran:
    def __init__(self, code, out, err, cpu_s):
        self.code, self.out, self.err, self.cpu_s = code, out, err, cpu_s

    def json(self):
        return json.loads(self.out)


class Program:
    """Runs the program in a folder; every failure must be one JSON object with its fields."""

    def __init__(self, path, folder, checks):
        self.path, self.folder, self.checks = path, folder, checks
        self.cpu = {}

    def __call__(self, *args, may_fail=False, preexec=None, json_out=True):
        command = [self.path, *map(str, args), "--dir", str(self.folder)]
        if json_out:
            command.append("--json")
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        done = subprocess.run(command, capture_output=True, text=True, timeout=300,
                              preexec_fn=preexec, check=False)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        verb = " ".join(a for a in map(str, args[:2]) if a.isalpha()) or "today"
        self.cpu.setdefault(verb, []).append(cpu)
        if done.returncode not in (0, 1) or (done.returncode == 1 and not done.stdout):
            if json_out:
                self._structured(command, done)
            if not may_fail:
                raise SystemExit(f"{' '.join(map(str, command))}: {done.returncode}\n{done.stderr}")
        return Ran(done.returncode, done.stdout, done.stderr, cpu)

    def _structured(self, command, done):
        try:
            problem = json.loads(done.stderr)
            right = all(problem.get(key) for key in ("code", "detail", "hint"))
        except ValueError:
            right = False
        self.checks.holds("every message is structured", right,
                          f"{' '.join(command[1:4])}: {done.stderr[:200]}")


class Server:
    """`guardcell serve` in the folder; it can be killed and started again."""

    def __init__(self, program, folder):
        self.program, self.folder = program, folder
        with socket.socket() as s:
            s.bind(("127.0.0.1", 0))
            self.port = s.getsockname()[1]
        self.process = None

    def start(self):
        self.process = subprocess.Popen(
            [self.program, "serve", "--bind", f"127.0.0.1:{self.port}", "--dir", str(self.folder)],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        for _ in range(500):
            try:
                socket.create_connection(("127.0.0.1", self.port), timeout=5).close()
                return
            except OSError:
                time.sleep(0.02)
        raise SystemExit("the server does not start")

    def kill(self):
        if self.process:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()
            self.process = None

    def memory_mib(self):
        status = pathlib.Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        return int(status.split("VmRSS:")[1].split()[0]) / 1024


class House:
    """Site, collection, water, feed and air as files, changed over the year as a grower would."""

    def __init__(self, folder, wide=1):
        """`wide`: how many times the collection is there, for larger houses."""
        self.folder = folder
        folder.mkdir(parents=True)
        for name in ("site.toml", "water.toml", "tap.toml", "rain.toml"):
            shutil.copy(DEMO / name, folder / name)
        shutil.copytree(DEMO / "labels", folder / "labels")
        (folder / "conditions").mkdir()
        with open(DEMO / "collection.csv", encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        self.plants = {}
        for copy in range(wide):
            for row in rows:
                row = dict(row)
                row["id"] += "" if copy == 0 else f"-{copy}"
                row["pot_l"] = POTS.get(row["id"], "")
                self.plants[row["id"]] = row
        self.save()

    def save(self):
        fields = ["id", "name", "area", "setting", "standing", "size", "growth", "leaf", "pot_l",
                  "notes"]
        with open(self.folder / "collection.csv", "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, fields)
            writer.writeheader()
            writer.writerows(self.plants.values())

    def buy(self, day):
        if day not in BOUGHT:
            return None
        number, name, area, setting, standing, size = BOUGHT[day]
        self.plants[number] = {"id": number, "name": name, "area": area, "setting": setting,
                               "standing": standing, "size": size, "growth": "active", "leaf": "",
                               "pot_l": "", "notes": ""}
        self.save()
        return number

    def stand(self, plant, **fields):
        self.plants[plant].update(fields)
        self.save()

    def edit_site(self, old, new):
        path = self.folder / "site.toml"
        text = path.read_text(encoding="utf-8")
        assert old in text, old
        path.write_text(text.replace(old, new), encoding="utf-8")

    def feed_in_turn(self):
        """From here on a bloom feed with a supplement, three turns of it and one of water."""
        self.edit_site('feed = "Fernhollow Mist 15-5-15"',
                       'rota = ["bloom", "bloom", "bloom", "water"]')
        with open(self.folder / "site.toml", "a", encoding="utf-8") as file:
            file.write(FEEDS)

    def take_water(self, name):
        shutil.copy(DEMO / name, self.folder / "water.toml")

    def take_air(self, logger, forecast, now):
        """Both as files, as programs of the loggers and of the weather would leave them."""
        for name, rows in (("logger.csv", logger.rows(now)), ("forecast.csv", forecast.rows(now))):
            scratch = self.folder / f"{name}.new"
            air.write(scratch, rows)
            os.replace(scratch, self.folder / "conditions" / name)
