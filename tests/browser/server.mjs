// A server of guardcell on a free port of this machine.
import { spawn } from "node:child_process";

/** Starts it; gives its address and how to end it. */
export async function serve(program, more = [], bind = "127.0.0.1:0") {
  const child = spawn(program, ["serve", "--bind", bind, "--log", "none", ...more], { stdio: ["ignore", "ignore", "pipe"] });
  const address = await new Promise((found, failed) => {
    let text = "";
    child.stderr.on("data", (chunk) => {
      text += chunk;
      const url = /http:\/\/[\d.:]+\//.exec(text);
      if (url) found(url[0]);
    });
    child.on("error", failed);
    child.on("exit", (code) => failed(new Error(`the server ended with ${code}: ${text}`)));
  });
  return { address, stop() { child.removeAllListeners("exit"); child.kill("SIGTERM"); } };
}
