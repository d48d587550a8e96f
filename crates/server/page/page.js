// The page: asks for the day and the round, and ties the parts together.
import { air, around, summary } from "./air.js";
import { ask as call, cached, Refused, show, there, words } from "./ask.js";
import { alone, here } from "./device.js";
import { feed, feedOrNone, water, waterOrNone } from "./feed.js";
import { files } from "./fields.js";
import { canPutBack, forget, fresh, isEmpty, keepAnswer, keptAnswer, link, load, putBack, remember, replace, save, settle, state } from "./keep.js";
import { ACCEPT, loaded } from "./load.js";
import { count, el, inZone, withOffset } from "./make.js";
import { names } from "./names.js";
import { place } from "./place.js";
import { plant, plants } from "./plants.js";
import { asked, onWidth, ribbon } from "./ribbon.js";
import { sheet } from "./sheet.js";
import { views } from "./views.js";

const $ = (id) => document.getElementById(id);
const HOURS = { series: 36, reading: 12 };
let shown = null;

/** What a first answer needs, and what makes it better. */
function needs() {
  const s = state.site;
  const part = (name) => el("a", { href: `#${name.toLowerCase()}` }, name);
  const list = [
    [Number.isFinite(s.latitude_deg) && Number.isFinite(s.longitude_deg), part("Place"), "where you are"],
    [state.plants.some((p) => p.name), part("Plants"), "what you grow"],
    [state.readings.length > 0, el("a", { href: "#air", onclick: (e) => { e.preventDefault(); $("air").open = true; $("air-temp").focus(); } }, "Air"), "one reading, or a file"],
    [feedOrNone(), part("Feed"), "its label; the round needs it"],
    [waterOrNone(), part("Water"), "yours; else pure water is assumed"],
  ].filter(([done]) => !done);
  $("needs").replaceChildren(...(list.length ? [el("p", {}, "Still to enter"), el("ul", {}, list.map(([, link, what]) => el("li", {}, link, el("span", {}, what))))] : []));
  $("air-now").textContent = summary();
}

function offer(what) {
  $("undo-words").textContent = what;
  $("undo").hidden = !canPutBack();
}

/** Keeps what is here before something of it goes. */
function keep(what) {
  remember();
  offer(what);
}

function draw(open) {
  feed($("feed-form"), $("feed-status"), $("recipe"));
  water($("water-form"), $("water-status"), $("water-answer"));
  place($("place-form"), $("place-status"), () => { plants($("plants-form"), $("plants-status"), keep); air($("air-form"), $("air-status"), needs); needs(); }, keep);
  plants($("plants-form"), $("plants-status"), keep, open);
  air($("air-form"), $("air-status"), needs);
  $("at").value = state.at ? (state.at.length === 10 ? `${state.at}T12:00` : state.at) : "";
  needs();
}

function request(now) {
  const at = state.at ? withOffset($("at").value, state.site.time_zone) : inZone(Math.floor(now / 1000) * 1000, state.site.time_zone);
  const hours = state.series ? HOURS.series : HOURS.reading;
  // one label is entered here: it is the feed, whatever the file of the place names
  const { feed: named, ...grower } = state.site.grower;
  const r = { site: { ...state.site, grower }, plants: state.plants, at, hours, readings: around(Date.parse(at), hours) };
  if (feedOrNone()) r.feed = feedOrNone();
  if (waterOrNone()) r.water = waterOrNone();
  return r;
}

/** When each area with plants has light, over the days looked at. */
async function light(advice) {
  const { latitude_deg, longitude_deg, time_zone, areas } = state.site;
  const dates = [];
  for (let d = Date.parse(`${advice.from.slice(0, 10)}T00:00Z`); d <= Date.parse(`${advice.to.slice(0, 10)}T00:00Z`); d += 864e5) dates.push(new Date(d).toISOString().slice(0, 10));
  const of = async (a) => {
    const lamps = a.lamps?.length ? { lamps: a.lamps } : {};
    const days = await Promise.all(dates.map((date) => call("day", { latitude_deg, longitude_deg, time_zone, date, light: a.light ?? "sun", ...lamps })));
    return [a.id, days.flatMap((d) => d.lit)];
  };
  return Promise.all(areas.filter((a) => advice.plants.some((p) => p.area === a.id)).map(of));
}

/** Shows an answer, new or kept. */
function showAnswer(answer) {
  shown = answer;
  $("ribbon").replaceChildren(...ribbon(answer));
  const fed = answer.advice.plants.filter((p) => p.verdict === "feed").length;
  const at = Date.now() - answer.moment < 6e4 ? "" : ` Asked ${asked(answer.moment, answer.zone)}; ask again for a fresh answer.`;
  show($("day-status"), `${fed} of ${count(answer.advice.plants.length, "plant")} may be fed.${at}`);
  $("print").disabled = !answer.plan;
  if (answer.plan) $("sheet").replaceChildren(...sheet(answer.plan, answer.areas, answer.zone, (done, all) => show($("round-status"), `${done} of ${all} ticked; ticks are kept on this device.`)));
  else { $("sheet").replaceChildren(); show($("round-status"), answer.refused ?? "Enter the label of the feed (Feed), then ask again.", Boolean(answer.refused)); }
}

async function ask() {
  show($("day-status"), "Asking…");
  $("ask").disabled = true;
  try {
    if (!state.plants.length) { show($("day-status"), "Enter a plant first (Plants).", true); return; }
    const moment = Date.now();
    const r = request(moment);
    const answer = { moment, zone: state.site.time_zone, areas: state.site.areas, readings: r.readings, advice: await call("advise", r), plan: null };
    answer.lit = await light(answer.advice);
    if (r.feed) {
      try { answer.plan = await call("round", r); } catch (error) { answer.refused = words(error); }
    }
    showAnswer(answer);
    keepAnswer(answer);
  } catch (error) {
    // without a connection the last answer stays in sight
    if (error instanceof Refused || !shown) { shown = null; $("ribbon").replaceChildren(); $("sheet").replaceChildren(); show($("round-status"), "The sheet follows from the day: ask first."); $("print").disabled = true; }
    show($("day-status"), error instanceof RangeError ? "The time zone is not known; write it like Europe/London (Place)." : words(error), true);
  } finally { $("ask").disabled = false; }
}

async function share(values, status) {
  const address = await link(values);
  try {
    await navigator.clipboard.writeText(address);
    show(status, "The link is copied.");
  } catch {
    history.replaceState(null, "", address);
    show(status, "The address of this page is now the link: copy it.");
  }
}

/** Takes files of this device; what was here can be put back. */
function opener(status) {
  return files("Load files", ACCEPT, async (list) => {
    show(status, "Reading…");
    const { values, said } = await loaded(list);
    if (!replace(values)) { show(status, "The file is not of the right form: a place needs its areas, a collection its plants.", true); return; }
    draw();
    offer(said);
    const last = values.readings && Date.parse(state.readings.at(-1).time);
    const over = last && !state.at && last < Date.now() ? " The readings end before now: choose a time within them under Starting (Day)." : "";
    show(status, said + over);
  }, (error) => show(status, words(error), true));
}

for (const [id, status] of [["air-files", "air-status"], ["plants-files", "plants-status"], ["place-files", "place-status"], ["feed-files", "feed-status"], ["water-files", "water-status"]]) $(id).replaceChildren(opener($(status)));
$("ask").addEventListener("click", ask);
$("at").addEventListener("change", (e) => { state.at = e.target.value; save(); });
$("print").addEventListener("click", () => window.print());
$("example").addEventListener("click", async () => {
  try {
    replace({ ...fresh(), series: true, ...await cached("example.json") });
    draw();
    offer("The example is loaded.");
    await ask();
  } catch (error) { show($("day-status"), words(error), true); }
});
$("share").addEventListener("click", () => {
  let readings = state.readings;
  try { readings = request(Date.now()).readings; } catch { /* a wrong time zone: share what there is */ }
  share({ ...state, readings }, $("day-status"));
});
for (const id of ["feed", "water"]) $(`share-${id}`).addEventListener("click", () => share({ feed: state.feed, water: state.water, target: state.target }, $(`${id}-status`)));
$("forget").addEventListener("click", () => {
  replace(fresh());
  draw();
  for (const id of ["ribbon", "sheet", "recipe", "water-answer"]) $(id).replaceChildren();
  shown = null;
  offer("Everything is emptied.");
  show($("day-status"), "Emptied.");
});
$("undo-back").addEventListener("click", () => { putBack(); draw(); $("undo").hidden = true; show($("day-status"), "Put back. Ask when ready."); });
$("undo-keep").addEventListener("click", () => {
  settle();
  $("undo").hidden = true;
  // emptied for good: nothing stays on the device
  if (isEmpty()) { forget(); draw(); }
});
addEventListener("guardcell-changed", () => { if (shown) show($("day-status"), "Something was changed since this answer: ask again."); needs(); });
onWidth(() => { if (shown) showAnswer(shown); });

addEventListener("guardcell-reach", (e) => { $("offline").hidden = e.detail; });
if (here()) $("until").remove();
addEventListener("online", there);
addEventListener("offline", () => { $("offline").hidden = here() || alone; });
there();

const from = await load();
draw();
views();
names((name) => { const p = plant(name); draw(p.id); location.hash = "#plants"; });
if (from === "link") offer("A link was opened: what it holds took the place of yours.");
const ready = state.plants.length && state.readings.length;
const last = from === "device" ? keptAnswer() : null;
if (from === "broken link") show($("day-status"), "The link is damaged and was not read; ask for it again.", true);
else if (last?.advice && last.areas) { try { showAnswer(last); } catch { if (ready) ask(); } } else if (ready) ask();
document.documentElement.dataset.ready = "yes";

if ("serviceWorker" in navigator) navigator.serviceWorker.register("worker.js").catch(() => { /* without it the page needs the network */ });
