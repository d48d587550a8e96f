"""Asks `guardcell mcp` with a client that others wrote (the package mcp of PyPI), both in the way
that begins with `initialize` and in the one that does not. Started by run.sh.

Usage: client.py PROGRAM ROOT
"""

import asyncio
import json
import pathlib
import subprocess
import sys
import tempfile

from mcp import Client, StdioServerParameters

program, root = sys.argv[1], pathlib.Path(sys.argv[2])


def server(*args: str) -> StdioServerParameters:
    return StdioServerParameters(command=program, args=["mcp", *args], cwd=root)


def here(*args: str) -> dict:
    done = subprocess.run([program, *args, "--json"], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


async def tools(mode: str) -> int:
    """The client checks each answer against the schema that the tool declares."""
    async with Client(server("--dir", "demo-data"), mode=mode) as client:
        listed = (await client.list_tools()).tools
        assert all(tool.annotations.read_only_hint for tool in listed), mode
        for tool in listed:
            # The first example of a request is that of the registry.
            schema = json.loads((root / f"schemas/{tool.name}.request.schema.json").read_text())
            result = await client.call_tool(tool.name, schema["examples"][0])
            assert not result.is_error, f"{mode}: {tool.name}: {result.content}"
            assert json.loads(result.content[0].text) == result.structured_content, tool.name
        same = await client.call_tool("convert", {"quantity": "120 ppm P2O5", "to": "ppm P"})
        assert same.structured_content == here("convert", "120 ppm P2O5", "--to", "ppm P")
        refused = await client.call_tool("air", {"temp_c": 25, "rh_percent": 140})
        error = json.loads(refused.content[0].text)
        assert refused.is_error and error["code"] == "out-of-range", refused
        assert error["pointer"] == "/rh_percent", error
        uris = [str(resource.uri) for resource in (await client.list_resources()).resources]
        assert "guardcell://folder/site.toml" in uris, uris
        for uri in uris:
            read = await client.read_resource(uri)
            name = uri.removeprefix("guardcell://folder/")
            assert read.contents[0].text == (root / "demo-data" / name).read_text(), uri
        return len(listed)


async def recording() -> None:
    """One tool more, which writes to the journal that is named."""
    with tempfile.TemporaryDirectory() as place:
        journal = f"{place}/journal.db"
        async with Client(server("--journal", journal), mode="legacy") as client:
            [record] = [t for t in (await client.list_tools()).tools if t.name == "record"]
            assert record.annotations.read_only_hint is False
            entry = {
                "at": "2026-06-21T22:10:00+01:00",
                "site": "Fernhollow",
                "event": {"kind": "note"},
                "note": "Shutters down at ten.",
            }
            result = await client.call_tool("record", entry)
            assert result.structured_content["sequence"] == 1, result
            [latest] = (await client.read_resource("guardcell://journal/latest")).contents
            assert json.loads(latest.text)[0]["note"] == entry["note"]


async def cancelling() -> None:
    """A client that gives up costs the server nothing more than that: it answers at once again."""
    schema = json.loads((root / "schemas/advise.request.schema.json").read_text())
    request = schema["examples"][0]
    plant = request["plants"][0]
    request["plants"] = [plant | {"id": f"p{i}"} for i in range(3000)]
    async with Client(server(), mode="legacy") as client:
        for _ in range(8):
            try:
                await client.call_tool("advise", request, read_timeout_seconds=0.05)
            except Exception:  # the client's own timeout
                pass
        begun = asyncio.get_running_loop().time()
        answer = await client.call_tool("air", {"temp_c": 25, "rh_percent": 50})
        waited = asyncio.get_running_loop().time() - begun
        assert not answer.is_error and waited < 20, waited


async def main() -> None:
    for mode in ("legacy", "auto"):
        print(f"{mode}: {await tools(mode)} tools answer their examples, resources are the files")
    await recording()
    print("an entry is recorded where a journal is named")
    await cancelling()
    print("requests that were given up are stopped")


asyncio.run(asyncio.wait_for(main(), 300))
