// The server of a folder: pairing, what is on its way, and what plain http cannot do.
import { ask, show, words } from "./ask.js";
import { alone } from "./device.js";
import { button } from "./fields.js";

import { entries } from "./journal.js";
import { asked, count, el } from "./make.js";
import { folder, folderTaken, leave, pair, server, status, sync } from "./sync.js";

const NAME = "guardcell-device";
const recall = () => { try { return localStorage.getItem(NAME) ?? ""; } catch { return ""; } };
const retain = (text) => { try { localStorage.setItem(NAME, text); } catch { /* asked again */ } };
const clockOf = (moment) => { try { return asked(moment, Intl.DateTimeFormat().resolvedOptions().timeZone); } catch { return ""; } };
const onlyHere = (n) => `${count(n, "entry", "entries")} only on this device`;

/** What is on its way, in plain words. */
export function inWords() {
  const s = status();
  const wait = s.waiting ? `${count(s.waiting, "entry waits", "entries wait")} for the server` : "";
  const last = s.last ? `last synced ${clockOf(s.last)}` : "not synced yet";
  const refused = s.refused ? `the server refused ${count(s.refused, "entry", "entries")}` : "";
  const state = {
    none: s.waiting ? onlyHere(s.waiting) : entries().length ? "not paired" : "",
    idle: [refused, wait, last].filter(Boolean).join("; "),
    running: "syncing…",
    offline: [wait || "no connection", refused, last].filter(Boolean).join("; "),
    slow: [wait, "the server asks to wait a little"].filter(Boolean).join("; "),
    revoked: ["this device is no longer paired", wait].filter(Boolean).join("; "),
    failed: [s.fault, wait].filter(Boolean).join("; "),
  }[s.phase] ?? "";
  return state && state[0].toUpperCase() + state.slice(1);
}

/** The same in a few letters. */
export function shortly() {
  const s = status();
  if (s.refused) return ["refused", `${s.refused} refused`];
  if (s.phase === "revoked") return ["refused", "not paired"];
  if (s.phase === "running") return ["idle", "syncing…"];
  if (s.phase === "none") return ["none", ""];
  if (s.waiting) return ["wait", `${s.waiting} to send`];
  if (!s.last) return ["wait", "not synced yet"];
  return s.phase === "offline" ? ["wait", "offline"] : ["idle", "synced"];
}

/** What a folder holds, as the page keeps it. */
function values(body) {
  const turns = body.site.feeds?.length || body.site.grower?.rota?.length;
  return { site: body.site, plants: body.plants, labels: body.labels, feed: body.labels.length === 1 && !turns ? body.labels[0] : null, water: body.water ?? null };
}

/** Takes the folder of the server over, where it is new; `take` puts it in place of what is here. */
export async function takeFolder(take) {
  const now = await folder();
  if (!now.isNew) return false;
  await take(values(now.body), `The folder of ${now.body.site.name} is taken over; what was here is kept under Earlier copies.`, "before the folder of the server was taken over");
  await folderTaken(now.text);
  return true;
}

function limits() {
  if (isSecureContext) return null;
  return el("div", { class: "help" }, el("p", {}, "This page came over plain http on a network. It works while it stays open, and:"),
    el("ul", {}, ["It cannot be installed, nor opened without a connection: browsers allow that over https only.", "Whoever is in this network can read what is sent, the token of this device too.", "guardcell serve with --tls-cert and --tls-key speaks https."].map((w) => el("li", {}, w))));
}

function files(told) {
  const save = button("Save the journal as a file", async () => {
    try {
      const { text } = await ask("write_entries", { entries: entries() });
      const a = el("a", { href: URL.createObjectURL(new Blob([text], { type: "application/jsonl" })), download: "journal.jsonl" });
      a.click();
      setTimeout(() => URL.revokeObjectURL(a.href), 1e4);
    } catch (error) { show(told, words(error), true); }
  });
  save.disabled = !entries().length;
  return el("div", { class: "bar" }, save, el("a", { class: "button", href: "#files" }, "Read a journal from a file"));
}

/** Draws the part; `take` as for `takeFolder`, `code` is one that a link brought. */
export function pairing(out, take, code) {
  const told = el("p", { class: "status", role: "status" });
  const mine = server();
  const redraw = () => pairing(out, take);
  async function join(e) {
    e.preventDefault();
    show(told, "Pairing…");
    try {
      const name = e.target.querySelector("#device-name").value.trim() || "phone";
      retain(name);
      await pair(e.target.querySelector("#pair-code").value, name);
      await takeFolder(take);
      await sync();
      redraw();
    } catch (error) { show(told, words(error), true); }
  }
  const form = () => el("form", { onsubmit: join, novalidate: true },
    el("p", { class: "help" }, "Run ", el("code", {}, "guardcell pair"), " in your folder: it shows a code, for ten minutes."),
    el("div", { class: "fields" },
      el("div", {}, el("label", { for: "pair-code" }, "Pairing code"), el("input", { id: "pair-code", type: "text", autocomplete: "off", autocapitalize: "characters", spellcheck: "false", value: code ?? "" })),
      el("div", {}, el("label", { for: "device-name" }, "Name of this device"), el("input", { id: "device-name", type: "text", autocomplete: "off", maxlength: "64", value: recall() || "phone" }))),
    el("p", {}, el("button", { type: "submit", class: "main" }, "Pair this device")));
  const known = () => [
    el("p", {}, el("strong", {}, mine.site), `, as “${mine.name}”.`),
    el("div", { class: "bar" },
      mine.revoked ? null : button("Sync now", () => sync(), { class: "main" }),
      mine.revoked ? null : button("Take the folder over again", async () => {
        try { await folderTaken(""); await takeFolder(take); redraw(); } catch (error) { show(told, words(error), true); }
      }),
      button("Forget this server", async () => { await leave(); redraw(); })),
    mine.revoked ? el("p", { class: "status wrong" }, "The server took back the token of this device. All entries are still here; pair again to send them.") : null,
  ];
  out.replaceChildren(...[
    el("p", { class: "says", id: "sync-says" }, inWords()),
    mine ? known() : null,
    alone && !mine ? el("p", { class: "help" }, "This page came from a host of files, which keeps no folder. To pair, open the address that guardcell pair shows.") : null,
    !alone && (!mine || mine.revoked) ? form() : null,
    told, files(told), limits(),
  ].flat().filter(Boolean));
}

