// A server of files and nothing else, as any host of static sites is.
import { createReadStream, existsSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join, normalize } from "node:path";

const TYPES = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml", ".png": "image/png", ".json": "application/json", ".wasm": "application/wasm", ".webmanifest": "application/manifest+json" };

/** Serves a folder below /garden/, as a site that has not the whole host. */
export async function site(folder) {
  const server = createServer((request, response) => {
    const path = normalize(new URL(request.url, "http://x").pathname);
    const file = join(folder, path.replace(/^\/garden\//, "").replace(/^$/, "index.html"));
    if (!path.startsWith("/garden/") || !existsSync(file) || !statSync(file).isFile()) { response.writeHead(404); response.end(); return; }
    response.writeHead(200, { "content-type": TYPES[extname(file)] ?? "application/octet-stream" });
    createReadStream(file).pipe(response);
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
  return { address: `http://127.0.0.1:${server.address().port}/garden/`, stop: () => { server.closeAllConnections(); server.close(); } };
}
