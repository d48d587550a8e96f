// Runs the engine beside the page. After a fault of the engine this worker is not used again.
import init, { call, draw } from "./engine.js";

const ready = init().then(() => self.postMessage({ ready: true }), (error) => { self.postMessage({ unable: String(error) }); throw error; });

self.onmessage = async ({ data: { turn, name, json, picture } }) => {
  try { await ready; } catch { return; }
  try {
    self.postMessage({ turn, answer: picture ? draw(name, json) : call(name, json) });
  } catch (error) {
    // what is refused comes as data; a trap as an error
    self.postMessage(error instanceof Error || typeof error?.code !== "string" ? { turn, broken: String(error) } : { turn, refused: error });
  }
};
