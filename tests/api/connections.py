"""Opens ten thousand connections to a server and watches its memory.

Usage: connections.py PATH-OF-GUARDCELL [CONNECTIONS]. A third says nothing, a third sends half a
head, a third sends a head and half a body. The server must keep within its bound, go on answering,
and give the memory's worth of places back.
"""

import pathlib
import re
import resource
import socket
import subprocess
import sys
import time

program, count = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 10_000
MOST_MIB = 256
resource.setrlimit(resource.RLIMIT_NOFILE, (min(count + 500, resource.getrlimit(resource.RLIMIT_NOFILE)[1]),) * 2)
server = subprocess.Popen([program, "serve", "--bind", "127.0.0.1:0", "--log", "none"], stderr=subprocess.PIPE, text=True)
port = int(re.search(r":(\d+)/", server.stderr.readline())[1])


def memory() -> float:
    status = pathlib.Path(f"/proc/{server.pid}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1024


def healthy(patience: float) -> float:
    """Seconds until the server answers a new connection."""
    start = time.monotonic()
    while True:
        try:
            with socket.create_connection(("127.0.0.1", port), timeout=patience) as s:
                s.sendall(b"GET /v1/taxa/Vanda HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n")
                if s.recv(64).startswith(b"HTTP/1.1 200"):
                    return time.monotonic() - start
        except OSError:
            pass
        assert time.monotonic() - start < patience, "the server does not answer"
        time.sleep(0.2)


healthy(10)
before = peak = memory()
says = [b"", b"GET / HTTP/1.1\r\nhost: loc", b"POST /v1/air HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: 90\r\n\r\n{\"temp_c\""]
held, refused = [], 0
for i in range(count):
    try:
        s = socket.create_connection(("127.0.0.1", port), timeout=10)
        s.sendall(says[i % 3])
        held.append(s)
    except OSError:
        refused += 1
    if i % 500 == 0:
        peak = max(peak, memory())
peak = max(peak, memory())
print(f"{len(held)} connections, {refused} refused: {before:.0f} MiB before, {peak:.0f} MiB at most")
waited = healthy(40)
print(f"a new connection was answered after {waited:.1f} s")
for s in held:
    s.close()
healthy(5)
after = memory()
assert server.poll() is None, "the server is gone"
server.terminate()
assert server.wait(40) == 0
print(f"{after:.0f} MiB after they closed")
assert peak < MOST_MIB, f"more than {MOST_MIB} MiB"
