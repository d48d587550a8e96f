// What was entered: kept on this device, shared as a link whose fragment never goes to a server.
const KEY = "guardcell";

const nothing = () => ({
  site: { name: "My plants", latitude_deg: null, longitude_deg: null, time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    areas: [{ id: "here", name: "Here", shelter: "room", light: "sun" }], grower: { mister_ml: 1000, scale_g: 0.1 } },
  readings: [], plants: [], feed: null, water: null, at: "",
  target: { mg_l: 300, volume_l: 2 },
});

export const state = nothing();

function take(values) {
  if (typeof values !== "object" || values === null) return;
  for (const key of Object.keys(nothing())) if (key in values) state[key] = values[key];
}

export function save() {
  try { localStorage.setItem(KEY, JSON.stringify(state)); } catch { /* a full or closed store: nothing is kept */ }
}

export function replace(values) {
  take({ ...nothing(), ...values });
  save();
}

export function forget() {
  try { localStorage.removeItem(KEY); } catch { /* as above */ }
  take(nothing());
}

async function through(stream, bytes) {
  return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
}

/** The address of this page with everything that was entered. */
export async function link() {
  const packed = await through(new CompressionStream("deflate-raw"), new TextEncoder().encode(JSON.stringify(state)));
  let text = "";
  for (const byte of packed) text += String.fromCharCode(byte);
  const code = btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
  return `${location.origin}${location.pathname}#with=${code}`;
}

/** Reads the link this page was opened by, else what was kept. Says where it came from. */
export async function load() {
  const code = /^#with=([\w-]+)$/.exec(location.hash)?.[1];
  if (code) {
    history.replaceState(null, "", location.pathname);
    try {
      const packed = Uint8Array.from(atob(code.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
      take(JSON.parse(new TextDecoder().decode(await through(new DecompressionStream("deflate-raw"), packed))));
      save();
      return "link";
    } catch { return "broken link"; }
  }
  try { take(JSON.parse(localStorage.getItem(KEY))); } catch { /* nothing kept, or not ours */ }
  return "device";
}

/** Ticks of a sheet, kept by the plan they belong to. */
export function ticks(plan) {
  const key = `${KEY}-ticks`;
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(key)) ?? {}; } catch { /* none */ }
  const set = new Set(kept.plan === plan ? kept.set : []);
  return {
    has: (id) => set.has(id),
    put(id, on) {
      if (on) set.add(id); else set.delete(id);
      try { localStorage.setItem(key, JSON.stringify({ plan, set: [...set] })); } catch { /* not kept */ }
    },
  };
}
