#!/usr/bin/env python3
"""Runs a random sample of the mutants of cargo-mutants, compiled once.

    switched.py TREE sample CRATE COUNT SEED     the names of the sample, in order
    switched.py TREE build CRATE:COUNT... SEED   all samples in one program, each behind a switch
    switched.py TREE run CRATE [FILE]            every mutant of a crate, or those named in a file

TREE is the small workspace that tree.sh writes. The mutants, their names and their texts are those
of `cargo mutants --list --json`. The sample is the first COUNT of them in the order of the SHA-256
of seed and name. Each mutated body is put beside the true one, behind a number in the environment;
what does not compile is unviable and left out. What cannot have a switch (a constant, a `const
fn`) is left out too and counted.
"""

import hashlib, json, os, re, resource, subprocess, sys
from pathlib import Path

SWITCH = """
pub(crate) fn mutant_is(number: u32) -> bool {
    static ON: std::sync::OnceLock<u32> = std::sync::OnceLock::new();
    let read = || std::env::var("MUTANT").ok().and_then(|v| v.parse().ok()).unwrap_or(0);
    *ON.get_or_init(read) == number
}
"""
# Unit tests of the crate, its own integration tests, and the checks that belong to it.
TESTED = {
    "clock": ["guardcell-clock", "checks-clock"],
    "film": ["guardcell-film", "checks-film"],
    "advice": ["guardcell-advice", "checks-advice"],
    "ledger": ["guardcell-ledger", "checks-ledger"],
}


def listed(tree, crate):
    """All mutants of a crate, from the true sources."""
    known = tree / f"mutants-{crate}.json"
    if not known.exists():
        command = ["cargo", "mutants", "--list", "--json", "-p", f"guardcell-{crate}"]
        known.write_text(subprocess.run(command, cwd=tree, check=True, capture_output=True, text=True).stdout)
    return json.loads(known.read_text())


def sample(tree, crate, count, seed):
    order = lambda m: hashlib.sha256(f"{seed} {m['name']}".encode()).hexdigest()
    return sorted(listed(tree, crate), key=order)[:count]


def offset(text, place):
    """The place in the text of a line and a column that count from 1."""
    lines = text.split("\n")
    return sum(len(l) + 1 for l in lines[: place["line"] - 1]) + place["column"] - 1


def bounds(text, span):
    return offset(text, span["start"]), offset(text, span["end"])


def body_of(text, mutant):
    """Where the body of the function of a mutant lies, or why it cannot have a switch."""
    function = mutant["function"]
    if function is None:
        return None, "constant"
    start, end = bounds(text, function["span"])
    name = function["function_name"].split("::")[-1]
    head = re.compile(r"(?:\bconst\s+)?\bfn\s+" + re.escape(name) + r"\b").search(text, start, end)
    if head is None:
        return None, "no function"
    if head.group().startswith("const"):
        return None, "const fn"
    return (text.index("{", head.end()), text.rindex("}", start, end) + 1), None


def switched(text, mutants):
    """The text with every mutant behind its number, and the lines that belong to each."""
    bodies = [(body_of(text, m)[0], m) for m in mutants]
    outer = [b for b, _ in bodies if not any(o[0] < b[0] and b[1] < o[1] for o, _ in bodies)]
    out, at, lines = "", 0, {}
    for begin, end in sorted(set(outer)):
        out += text[at:begin] + "{\n"
        for body, m in bodies:
            if not (begin <= body[0] and body[1] <= end):
                continue
            s, e = bounds(text, m["span"])
            changed = text[begin:s] + m["replacement"] + text[e:end]
            first = out.count("\n") + 1
            out += f"if crate::mutant_is({m['number']}) {changed}\nelse\n"
            lines[m["number"]] = (first, out.count("\n"))
        out += text[begin:end] + "\n}"
        at = end
    return out + text[at:], lines


def write(tree, chosen):
    """Writes the sources with the switches of the chosen mutants."""
    where, files = {}, {m["file"] for m in chosen} | {f"crates/{c}/src/lib.rs" for c in TESTED}
    # Also those whose last mutant was left out.
    files |= {str(f.relative_to(tree / "true")) for f in (tree / "true").rglob("*.rs")}
    for file in files:
        true = tree / "true" / file
        if not true.exists():
            true.parent.mkdir(parents=True, exist_ok=True)
            true.write_text((tree / file).read_text())
        text, lines = switched(true.read_text(), [m for m in chosen if m["file"] == file])
        for number, (first, last) in lines.items():
            where[number] = (file, first, last)
        text += SWITCH if file.endswith("/lib.rs") else ""
        if (tree / file).read_text() != text:
            (tree / file).write_text(text)
    return where


def errors(tree):
    """The places of the errors of a check, each with its code."""
    command = ["cargo", "check", "--lib", "--message-format=json", "--keep-going"]
    for crate in TESTED:
        command += ["-p", f"guardcell-{crate}"]
    ran = subprocess.run(command, cwd=tree, capture_output=True, text=True)
    found = []
    for line in ran.stdout.splitlines():
        message = json.loads(line).get("message")
        if not isinstance(message, dict) or message.get("level") != "error":
            continue
        code = (message.get("code") or {}).get("code", "")
        spans = message["spans"] + [s for c in message["children"] for s in c["spans"]]
        # What a macro was expanded for.
        for s in spans:
            spans += [s["expansion"]["span"]] if s.get("expansion") else []
        found.append((code, message["message"], [(s["file_name"], s["line_start"]) for s in spans]))
    return ran.returncode, found


def build(tree, wanted, seed):
    chosen, left = [], []
    for crate, count in wanted:
        for m in sample(tree, crate, count, seed):
            m["number"] = len(chosen) + len(left) + 1
            true = tree / "true" / m["file"]
            text = (true if true.exists() else tree / m["file"]).read_text()
            m["why"] = body_of(text, m)[1]
            (chosen if m["why"] is None else left).append(m)
    while True:
        where = write(tree, chosen)
        code, found = errors(tree)
        if code == 0:
            break
        bad = {}
        for kind, said, places in found:
            for number, (file, first, last) in where.items():
                if any(f == file and first <= line <= last for f, line in places):
                    bad[number] = f"unviable {kind} {said}"
        if not bad:
            sys.exit("\n".join(f"{k} {s} {p}" for k, s, p in found))
        print(f"{len(bad)} do not compile", flush=True)
        for m in chosen:
            m["why"] = bad.get(m["number"])
        left += [m for m in chosen if m["why"]]
        chosen = [m for m in chosen if not m["why"]]
    keep = ("number", "name", "package", "why")
    every = [{k: m[k] for k in keep} for m in sorted(chosen + left, key=lambda m: m["number"])]
    (tree / "sample.json").write_text(json.dumps(every, indent=1, ensure_ascii=False))
    print(f"{len(chosen)} viable, {len(left)} left out")


def programs(tree, crate):
    command = ["cargo", "test", "--no-run", "--lib", "--tests", "--message-format=json"]
    for package in TESTED[crate]:
        command += ["-p", package]
    ran = subprocess.run(command, cwd=tree, check=True, stdout=subprocess.PIPE, text=True)
    found = []
    for line in ran.stdout.splitlines():
        message = json.loads(line)
        if message.get("executable") and message["profile"]["test"]:
            found.append((Path(message["executable"]), Path(message["manifest_path"]).parent))
    return found


def passes(program, folder, number, seconds):
    """Whether the tests of a program pass, and the seconds of CPU they take."""
    env = dict(os.environ, MUTANT=str(number), CARGO_MANIFEST_DIR=str(folder),
               PROPTEST_MAX_SHRINK_ITERS="0", PROPTEST_DISABLE_FAILURE_PERSISTENCE="1", RUST_BACKTRACE="0")
    limit = lambda: resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    try:
        ran = subprocess.run([program, "--quiet"], cwd=folder, env=env, preexec_fn=limit,
                             capture_output=True, timeout=1200)
        passed = ran.returncode == 0
    except subprocess.TimeoutExpired:
        passed = False
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return passed, after.ru_utime - before.ru_utime


def run(tree, crate, only=None):
    mutants = [m for m in json.loads((tree / "sample.json").read_text())
               if m["why"] is None and m["package"] == f"guardcell-{crate}"]
    if only:
        names = set(Path(only).read_text().splitlines())
        mutants = [m for m in mutants if m["name"] in names]
    timed = []
    for program, folder in programs(tree, crate):
        passed, cpu = passes(program, folder, 0, 3600)
        if not passed:
            sys.exit(f"{program} fails without a mutant")
        timed.append((cpu, program, folder))
        print(f"{cpu:6.1f} s {program.name}", flush=True)
    timed.sort(key=lambda t: t[0])
    missed = 0
    for i, m in enumerate(mutants):
        for cpu, program, folder in timed:
            if not passes(program, folder, m["number"], int(20 + 5 * cpu))[0]:
                print(f"caught {m['name']}", flush=True)
                break
        else:
            missed += 1
            print(f"MISSED {m['name']}", flush=True)
    print(f"{crate}: {len(mutants)} viable, {len(mutants) - missed} caught")


tree, verb, *rest = Path(sys.argv[1]).resolve(), *sys.argv[2:]
if verb == "sample":
    print("\n".join(m["name"] for m in sample(tree, rest[0], int(rest[1]), rest[2])))
elif verb == "build":
    build(tree, [(c, int(n)) for c, n in (w.split(":") for w in rest[:-1])], rest[-1])
elif verb == "run":
    run(tree, *rest)
