// The page: asks for the day and the round, and ties the parts together.
import { get, post, tell, words } from "./ask.js";
import { feed, feedOrNone, place, plants, water, waterOrNone } from "./forms.js";
import { forget, link, load, replace, save, state } from "./keep.js";
import { names } from "./names.js";
import { ribbon } from "./ribbon.js";
import { sheet } from "./sheet.js";

const $ = (id) => document.getElementById(id);

function draw() {
  feed($("feed-form"), $("feed-status"), $("recipe"));
  water($("water-form"), $("water-status"), $("water-answer"));
  place($("place-form"));
  plants($("plants-form"));
  $("at").value = state.at ?? "";
}

/** The offset of a zone at a local time, so that the server need not guess. */
function withOffset(local, zone) {
  const guess = new Date(`${local}:00Z`);
  const name = new Intl.DateTimeFormat("en-GB", { timeZone: zone, timeZoneName: "longOffset" }).formatToParts(guess).find((p) => p.type === "timeZoneName").value;
  return `${local}:00${name === "GMT" ? "+00:00" : name.slice(3)}`;
}

function request() {
  const r = { site: state.site, plants: state.plants, hours: state.readings.length > 1 ? 36 : 12 };
  const now = new Date();
  r.at = state.at ? (state.at.length === 10 ? state.at : withOffset(state.at, state.site.time_zone)) : now.toISOString().slice(0, 19) + "Z";
  r.readings = state.readings.length > 1 ? state.readings : state.readings.map((x) => ({ ...x, time: r.at.length === 10 ? now.toISOString().slice(0, 19) + "Z" : r.at }));
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
    const days = await Promise.all(dates.map((date) => post("v1/days", { latitude_deg, longitude_deg, time_zone, date, light: a.light ?? "sun", ...lamps })));
    return [a.id, days.flatMap((d) => d.lit)];
  };
  return new Map(await Promise.all(areas.filter((a) => advice.plants.some((p) => p.area === a.id)).map(of)));
}

async function ask() {
  tell($("day-status"), "Asking…");
  let r;
  try {
    r = request();
    const advice = await post("v1/advice", r);
    $("ribbon").replaceChildren(...ribbon(advice, await light(advice), r.readings, state.site.areas[0]));
    const fed = advice.plants.filter((p) => p.verdict === "feed").length;
    tell($("day-status"), `${fed} of ${advice.plants.length} plants may be fed.`);
  } catch (error) {
    $("ribbon").replaceChildren();
    tell($("day-status"), error instanceof RangeError ? "The time zone is not known; write it like Europe/London." : words(error), true);
    return;
  }
  if (!r.feed) {
    $("sheet").replaceChildren();
    tell($("round-status"), "Enter the label of the feed below, then ask again.");
    return;
  }
  try {
    const plan = await post("v1/rounds", r);
    $("sheet").replaceChildren(...sheet(plan));
    tell($("round-status"), "Ticks are kept on this device.");
  } catch (error) {
    $("sheet").replaceChildren();
    tell($("round-status"), words(error), true);
  }
}

$("ask").addEventListener("click", ask);
$("at").addEventListener("change", (e) => { state.at = e.target.value; save(); });
$("print").addEventListener("click", () => window.print());
$("example").addEventListener("click", async () => {
  try {
    replace(await get("example.json"));
    draw();
    await ask();
  } catch (error) { tell($("day-status"), words(error), true); }
});
$("share").addEventListener("click", async () => {
  const address = await link();
  try {
    await navigator.clipboard.writeText(address);
    tell($("day-status"), "The link is copied: it holds all that was entered.");
  } catch {
    history.replaceState(null, "", address);
    tell($("day-status"), "The address of this page now holds all that was entered: copy it.");
  }
});
$("forget").addEventListener("click", () => {
  forget();
  draw();
  for (const id of ["ribbon", "sheet", "recipe", "water-answer"]) $(id).replaceChildren();
  tell($("day-status"), "Forgotten.");
});

const online = () => { $("offline").hidden = navigator.onLine; };
addEventListener("online", online);
addEventListener("offline", online);
online();

const from = await load();
draw();
names();
if (from === "link") tell($("day-status"), "Loaded from the link. Ask when ready.");
if (from === "broken link") tell($("day-status"), "The link is damaged and was not read; ask for it again.", true);
if (from !== "broken link" && state.plants.length && state.readings.length) ask();
document.documentElement.dataset.ready = "yes";

if ("serviceWorker" in navigator) navigator.serviceWorker.register("worker.js").catch(() => { /* without it the page needs the network */ });
