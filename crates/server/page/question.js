// What is asked: the advice and the round, with what the journal knows.
import { around } from "./air.js";
import { ask, words } from "./ask.js";
import { feedOrNone, waterOrNone } from "./feed.js";
import { entries } from "./journal.js";
import { state } from "./keep.js";
import { inZone, withOffset } from "./make.js";

const HOURS = { series: 36, reading: 12 };

/** The request without a journal, for one area or for all. */
export function request(now, area = "") {
  const at = state.at ? withOffset(state.at.length === 10 ? `${state.at}T12:00` : state.at, state.site.time_zone) : inZone(Math.floor(now / 1000) * 1000, state.site.time_zone);
  const hours = state.series ? HOURS.series : HOURS.reading;
  // one label that is entered here is the feed, whatever the file of the place names
  const { feed: named, ...grower } = state.site.grower;
  const site = feedOrNone() ? { ...state.site, grower } : state.site;
  const r = { site, plants: area ? state.plants.filter((p) => p.area === area) : state.plants, at, hours, readings: around(Date.parse(at), hours) };
  if (feedOrNone()) r.feed = feedOrNone();
  if (waterOrNone()) r.water = waterOrNone();
  return r;
}

/** Asks for the day and the round. */
export async function answer(area) {
  const moment = Date.now();
  const r = request(moment, area);
  const own = entries().filter((e) => e.site === state.site.name);
  const situation = await ask("with_journal", { request: r, entries: own, labels: r.feed ? [] : state.labels });
  const told = { moment, area, zone: state.site.time_zone, areas: state.site.areas, situation, advice: await ask("advise", situation.request), plan: null };
  if (situation.request.feed || situation.request.plain_water) {
    try { told.plan = await ask("round", situation.request); } catch (error) { told.refused = words(error); }
  }
  return told;
}
