"""The same faulty requests through every face: each must refuse with the same code at the same
pointer.

    facade      the table itself, held by a test of the crate that makes it
    http        POST /v1/…
    cli         `guardcell batch CALL`, a request a line
    c           guardcell_call() of the shared library
    mcp         tools/call of `guardcell mcp`
    python      guardcell.call(), as text and, where it is an object, as a mapping

Usage: run.py PROGRAM LIBRARY FAULTS
"""

import ctypes
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import urllib.error
import urllib.request

import guardcell

program, library, table = sys.argv[1:]
faults = [json.loads(line) for line in pathlib.Path(table).read_text().splitlines()]
for fault in faults:
    # The table stands for a byte that is not UTF-8 with U+FFFD.
    fault["bytes"] = fault["body"].encode().replace("\ufffd".encode(), b"\xff")

counts: dict[str, int] = {}
wrong: list[str] = []


def compare(face: str, fault: dict, found: dict | None) -> None:
    counts[face] = counts.get(face, 0) + 1
    expected = (fault["code"], fault["pointer"])
    got = (found.get("code"), found.get("pointer", "")) if found else None
    if got != expected:
        wrong.append(f"{face}: {fault['call']}, {fault['why']}: {got} and not {expected}")


def http() -> None:
    server = subprocess.Popen(
        [program, "serve", "--bind", "127.0.0.1:0", "--log", "none"],
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        url = re.search(r"http://[0-9.:]+", server.stderr.readline())[0].rstrip("/.:")
        for fault in faults:
            request = urllib.request.Request(
                f"{url}/v1/{fault['path']}",
                data=fault["bytes"],
                headers={"content-type": "application/json"},
            )
            try:
                urllib.request.urlopen(request, timeout=60)
                compare("http", fault, None)
            except urllib.error.HTTPError as e:
                compare("http", fault, json.loads(e.read()))
    finally:
        server.terminate()
        server.wait()


def cli() -> None:
    """A line of a file cannot be empty, nor hold an end of line."""
    by_call: dict[str, list[dict]] = {}
    for fault in faults:
        if fault["bytes"] and b"\n" not in fault["bytes"]:
            by_call.setdefault(fault["call"], []).append(fault)
    with tempfile.TemporaryDirectory() as place:
        for call, of_call in by_call.items():
            rows, out, errors = (f"{place}/{call}.{end}" for end in ("ndjson", "out", "errors"))
            pathlib.Path(rows).write_bytes(b"\n".join(f["bytes"] for f in of_call) + b"\n")
            subprocess.run(
                [program, "batch", call, "--input", rows, "--output", out, "--errors", errors, "--quiet"],
                check=False,
                stderr=subprocess.DEVNULL,
            )
            lines = [json.loads(line) for line in pathlib.Path(errors).read_text().splitlines()]
            found = {line["row"]: line for line in lines}
            for row, fault in enumerate(of_call, 1):
                compare("cli", fault, found.get(row))


def c() -> None:
    lib = ctypes.CDLL(library)
    lib.guardcell_call.restype = ctypes.c_int32
    lib.guardcell_call.argtypes = [
        ctypes.c_char_p,
        ctypes.c_char_p,
        ctypes.c_size_t,
        ctypes.POINTER(ctypes.c_void_p),
        ctypes.POINTER(ctypes.c_size_t),
    ]
    lib.guardcell_free.argtypes = [ctypes.c_void_p]
    lib.guardcell_free.restype = None
    for fault in faults:
        text, length = ctypes.c_void_p(), ctypes.c_size_t()
        body = fault["bytes"]
        code = lib.guardcell_call(
            fault["call"].encode(), body, len(body), ctypes.byref(text), ctypes.byref(length)
        )
        answer = json.loads(ctypes.string_at(text, length.value))
        lib.guardcell_free(text)
        # 1 is GUARDCELL_REFUSED.
        compare("c", fault, answer if code == 1 else None)


def mcp() -> None:
    """The arguments of a tool are an object: what is none has no form there."""
    server = subprocess.Popen([program, "mcp"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    def ask(message: str) -> dict:
        server.stdin.write(message.encode() + b"\n")
        server.stdin.flush()
        return json.loads(server.stdout.readline())

    hello = {"protocolVersion": "2025-06-18", "capabilities": {}, "clientInfo": {"name": "t", "version": "1"}}
    ask(json.dumps({"jsonrpc": "2.0", "id": 0, "method": "initialize", "params": hello}))
    server.stdin.write(b'{"jsonrpc": "2.0", "method": "notifications/initialized"}\n')
    for fault in faults:
        if not fault["object"]:
            continue
        name = json.dumps(fault["call"])
        answer = ask(
            '{"jsonrpc": "2.0", "id": 1, "method": "tools/call", "params": {"name": '
            + name + ', "arguments": ' + fault["body"] + "}}"
        )
        result = answer.get("result", {})
        found = json.loads(result["content"][0]["text"]) if result.get("isError") else None
        compare("mcp", fault, found)
    server.stdin.close()
    assert server.wait(60) == 0


def python() -> None:
    for fault in faults:
        forms = [("python text", fault["bytes"])]
        if fault["object"]:
            forms.append(("python mapping", json.loads(fault["body"])))
        for face, request in forms:
            try:
                guardcell.call(fault["call"], request)
                compare(face, fault, None)
            except guardcell.Error as e:
                compare(face, fault, {"code": e.code, "pointer": e.pointer})


def unknown_call() -> None:
    """A call that does not exist: over HTTP it is a path, elsewhere a name."""
    try:
        guardcell.call("no_such_call", {})
        wrong.append("python: an unknown call is answered")
    except guardcell.Error as e:
        assert e.code == "unknown-call", e.code


for face in (http, cli, c, mcp, python, unknown_call):
    face()
calls = {fault["call"] for fault in faults}
codes = sorted({fault["code"] for fault in faults})
print(f"{len(faults)} faulty requests for {len(calls)} calls, {len(codes)} codes: {', '.join(codes)}")
print(", ".join(f"{face} {count}" for face, count in counts.items()))
assert len(faults) >= 50 and len(calls) >= 20 and min(counts.values()) >= 50, counts
if wrong:
    print("\n".join(wrong), file=sys.stderr)
    sys.exit(f"{len(wrong)} refusals differ")
print("the same refusals everywhere")
