// The page: ties the parts together.
import { air, summary } from "./air.js";
import { areas } from "./areas.js";
import { ask as call, cached, show, there, words } from "./ask.js";
import { alone, here } from "./device.js";
import { dropped } from "./drop.js";
import { earlier } from "./earlier.js";
import { feed, feedOrNone, water, waterOrNone } from "./feed.js";
import { files } from "./fields.js";
import { journal } from "./history.js";
import { begin as beginJournal, destroy, entries, newId, record, settle as settled, waiting } from "./journal.js";
import { canPutBack, forget, fresh, isEmpty, keepAnswer, keptAnswer, load, putBack, remember, replace, save, settle, state } from "./keep.js";
import { ACCEPT, loaded } from "./load.js";
import { asked, count } from "./make.js";
import { names } from "./names.js";
import { inWords, pairing, shortly, takeFolder } from "./pairing.js";
import { days } from "./picture.js";
import { place } from "./place.js";
import { plant, plants } from "./plants.js";
import { answer, request } from "./question.js";
import { menu, sheet as entrySheet } from "./record.js";
import { share } from "./share.js";
import { sheet } from "./sheet.js";
import { begin as beginSync, server, sync } from "./sync.js";
import { due, looked, now } from "./today.js";
import { verdicts } from "./verdicts.js";
import { views } from "./views.js";
import { wizard } from "./wizard.js";

const $ = (id) => document.getElementById(id);
let shown = null;
let only = "";
let asking = 0;
let behind = false;

const ready = () => state.plants.length > 0 && state.readings.length > 0;

function offer(what) {
  $("undo-words").textContent = what;
  $("undo").hidden = !canPutBack();
}

/** Copies what is here before something of it goes. */
async function keep(what) {
  await remember(what, true);
  offer(what);
}

/** Takes values in place of what is here. */
async function take(values, said, why = "before files were read", foreign = false) {
  if (!await replace(values, why, foreign)) return false;
  draw();
  offer(said);
  if (ready()) ask();
  return true;
}

function small() {
  const s = state.site;
  const product = feedOrNone()?.name ?? (state.labels.length ? count(state.labels.length, "label") : "not entered");
  for (const [id, text] of [["air-now", summary()], ["feed-now", product], ["water-now", waterOrNone() ? state.water.name ?? "entered" : "pure water is assumed"],
    ["place-now", Number.isFinite(s.latitude_deg) ? `${s.name ?? ""}, ${count(s.areas.length, "area")}` : "not entered"], ["site-name", s.name && s.name !== "My plants" ? s.name : "guardcell"],
    ["at-now", state.at ? state.at.replace("T", " ") : "now"]]) $(id).textContent = text;
}

const drawCopies = () => earlier($("copies-now"), $("copies-list"), async (text) => { await putBack(JSON.parse(text)); draw(); offer("A copy is put back."); if (ready()) ask(); });

function drawJournal() {
  journal($("entries"), $("journal-status"));
  $("journal-now").textContent = entries().length ? count(entries().length, "entry", "entries") : "nothing recorded yet";
  drawSync();
}

function drawSync() {
  const [kind, text] = shortly();
  $("sync-now").textContent = text;
  $("sync-now").className = `chip ${kind}`;
  const says = inWords();
  $("server-now").textContent = says || "not paired";
  const line = $("sync-says");
  if (line) line.textContent = says;
}

function draw(open) {
  feed($("feed-form"), $("feed-status"), $("recipe"));
  water($("water-form"), $("water-status"), $("water-answer"));
  place($("place-form"), $("place-status"), () => { drawPlants(); air($("air-form"), $("air-status"), small); small(); }, keep);
  drawPlants(open);
  air($("air-form"), $("air-status"), small);
  $("at").value = state.at ? (state.at.length === 10 ? `${state.at}T12:00` : state.at) : "";
  if (!state.site.areas.some((a) => a.id === only)) only = "";
  for (const id of ["today-areas", "round-areas"]) areas($(id), only, (id) => { only = id; draw(); ask(); });
  small();
  drawCopies();
  firstStart();
}

/** Where no plant is entered, the page begins with what a first answer needs. */
function firstStart() {
  const empty = !state.plants.length;
  if (empty === document.body.classList.contains("first")) return;
  document.body.classList.toggle("first", empty);
  if (empty) wizard($("start"), () => { draw(); ask(); }, example); else $("start").replaceChildren();
}

const drawPlants = (open) => plants($("plants-form"), $("plants-status"), keep, () => shown?.advice.plants ?? [], open);

/** Shows an answer, new or kept. */
function showAnswer(told) {
  shown = told;
  $("now").replaceChildren(...now(told));
  $("tasks").replaceChildren(...due(told.situation?.tasks, act));
  $("ribbon").replaceChildren(...verdicts(told));
  const fed = told.advice.plants.filter((p) => p.verdict === "feed").length;
  $("day-now").textContent = `${fed} of ${told.advice.plants.length} may be fed`;
  const old = Date.now() - told.moment < 6e4 ? "" : ` Asked ${asked(told.moment, told.zone)}; ask again for a fresh answer.`;
  show($("day-status"), `${fed} of ${count(told.advice.plants.length, "plant")} may be fed, ${looked(told.advice)}.${old}`);
  $("print").disabled = !told.plan;
  const open = [...document.querySelectorAll("details.sitting")].map((d) => d.open);
  if (told.plan) $("sheet").replaceChildren(...sheet(told.plan, told.areas, told.zone, (done, all) => show($("round-status"), `${done} of ${all} ticked; ticks are kept on this device.`)));
  else { $("sheet").replaceChildren(); show($("round-status"), told.refused ?? "Enter the label of the feed (House), then ask again.", Boolean(told.refused)); }
  [...document.querySelectorAll("details.sitting")].forEach((d, i) => { d.open ||= open[i] ?? false; });
  if ($("picture").open) drawPicture();
}

const drawPicture = () => { if (shown?.situation) days($("drawn"), shown.situation.request, shown.areas); };

/** Nothing is shown, and what is still being worked out belongs to what is no longer here. */
function nothingShown() {
  shown = null;
  asking += 1;
  $("ask").disabled = false;
  for (const id of ["now", "tasks", "ribbon", "drawn", "sheet"]) $(id).replaceChildren();
  show($("round-status"), "The sheet follows from the day: ask first.");
  $("print").disabled = true;
}

async function ask() {
  if (!state.plants.length) { show($("day-status"), "Enter a plant first.", true); return; }
  const mine = (asking += 1);
  behind = false;
  show($("day-status"), "Asking…");
  $("ask").disabled = true;
  try {
    const told = await answer(only);
    // what was asked later is what counts
    if (mine !== asking) return;
    keepAnswer(told);
    showAnswer(told);
    if (behind) outdated();
  } catch (error) {
    if (mine !== asking) return;
    // without a connection the last answer stays in sight
    if (error.problem || !shown) nothingShown();
    show($("day-status"), error instanceof RangeError ? "The time zone is not known; write it like Europe/London (House, Place)." : words(error), true);
  } finally { if (mine === asking) $("ask").disabled = false; }
}

/** Does what a task asks for. */
function act(task) {
  const kind = { soak: "soak", look: "residue", wipe: "wipe", flush: "flush", rescue: "response", count: "growth", own: "done" }[task.task];
  entrySheet(kind, { plants: task.plants, done: task.task === "own" ? task : undefined });
}

/** Takes files of this device; what was here can be put back. */
async function opened(list, status) {
  try {
    show(status, "Reading…");
    const { values: { entries: read, ...values }, said } = await loaded(list);
    if (read) await record(read.map((e) => ({ ...e, id: e.id ?? newId(), recorded: e.recorded ?? new Date().toISOString() })));
    if (Object.keys(values).length && !await take(values, said)) { show(status, "The file is not of the right form: a place needs its areas, a collection its plants.", true); return; }
    const last = values.readings && Date.parse(state.readings.at(-1).time);
    const over = last && !state.at && last < Date.now() ? " The readings end before now: choose a time within them (Today, Another time)." : "";
    show(status, said + over);
  } catch (error) { show(status, words(error), true); }
}

async function example() {
  try {
    await take({ ...fresh(), series: true, ...await cached("example.json") }, "The example is loaded.", "before the example was loaded", true);
  } catch (error) { show($("day-status"), words(error), true); }
}

const opener = (status) => files("Choose files", ACCEPT, (list) => opened(list, status), (error) => show(status, words(error), true));
for (const [id, status] of [["air-files", "air-status"], ["house-files", "files-status"]]) $(id).replaceChildren(opener($(status)));
dropped((list) => { location.hash = "#files"; opened(list, $("files-status")); }, (error) => { location.hash = "#files"; show($("files-status"), words(error), true); });
$("ask").addEventListener("click", ask);
$("record").addEventListener("click", menu);
$("at").addEventListener("change", (e) => { state.at = e.target.value; save(); small(); ask(); });
$("picture").addEventListener("toggle", (e) => { if (e.target.open) drawPicture(); });
$("print").addEventListener("click", () => window.print());
// paper has no parts that are closed
let closed = [];
addEventListener("beforeprint", () => { closed = [...document.querySelectorAll("details.sitting:not([open])")]; for (const d of closed) d.open = true; });
addEventListener("afterprint", () => { for (const d of closed) d.open = false; });
$("example").addEventListener("click", async () => { await example(); location.hash = "#today"; });
$("share").addEventListener("click", () => {
  let { readings } = state;
  try { ({ readings } = request(Date.now())); } catch { /* a wrong time zone: share what there is */ }
  share({ ...state, readings }, $("device-status"));
});
$("share-feed").addEventListener("click", () => share({ feed: state.feed, water: state.water, target: state.target }, $("feed-status")));
$("forget").addEventListener("click", async () => {
  await replace(fresh(), "before all was emptied");
  draw();
  nothingShown();
  offer("Everything is emptied.");
  show($("day-status"), "");
  show($("device-status"), "Emptied. The journal stays until it is deleted.");
});
let sure = false;
$("forget-journal").addEventListener("click", async () => {
  if (!sure) { sure = true; show($("device-status"), `${count(entries().length, "entry", "entries")} will be gone from this device${waiting() ? `, ${waiting()} of them are on no server` : ""}. Press again to delete.`, true); return; }
  sure = false;
  await destroy();
  show($("device-status"), "The journal on this device is deleted.");
});
$("undo-back").addEventListener("click", async () => { await putBack(); draw(); $("undo").hidden = true; if (ready()) ask(); else show($("day-status"), "Put back. Ask when ready."); });
$("undo-keep").addEventListener("click", async () => {
  settle();
  $("undo").hidden = true;
  // emptied for good: nothing of it stays on the device
  if (isEmpty()) { await forget(); draw(); }
});
const outdated = () => show($("day-status"), "Something was changed since this answer: ask again.");
addEventListener("guardcell-changed", () => { behind = true; if (shown) outdated(); small(); firstStart(); });
addEventListener("guardcell-journal", drawJournal);
addEventListener("guardcell-sync", drawSync);
addEventListener("guardcell-recorded", async ({ detail }) => {
  if (detail.says) show($("day-status"), detail.says);
  const before = shown;
  await sync();
  // a round that is being ticked stays as it is on paper
  if (!detail.quiet && before && ready()) { await ask(); if (detail.says) show($("day-status"), detail.says); }
});
addEventListener("guardcell-reach", (e) => { $("offline").hidden = e.detail; });
if (here()) $("until").remove();
addEventListener("online", () => { there(); settled().then(sync); });
addEventListener("offline", () => { $("offline").hidden = here() || alone; });
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") sync(); });
there();

const code = /^#pair=([\w-]{4,64})$/.exec(location.hash)?.[1];
if (code) history.replaceState(null, "", `${location.pathname}#server`);
await Promise.all([beginJournal(), beginSync()]);
const from = await load();
draw();
drawJournal();
const over = (values, said, why) => take(values, said, why, true);
pairing($("pairing"), over, code);
addEventListener("guardcell-sync", () => { if (!$("pairing").contains(document.activeElement)) pairing($("pairing"), over); });
views();
names((name) => { const p = plant(name); draw(p.id); location.hash = "#plants"; });
if (from === "link") offer("A link was opened: what it holds took the place of yours, which is kept under Earlier copies (House).");
const last = from === "device" ? keptAnswer() : null;
if (from === "broken link") show($("day-status"), "The link is damaged and was not read; ask for it again.", true);
else if (last?.advice && last.areas) { try { showAnswer(last); } catch { if (ready()) ask(); } } else if (ready()) ask();
settled();
if (server()) sync().then(() => takeFolder(over)).catch(() => { /* the next meeting finds it */ });
document.documentElement.dataset.ready = "yes";

if ("serviceWorker" in navigator) navigator.serviceWorker.register("worker.js").catch(() => { /* without it the page needs the network */ });
