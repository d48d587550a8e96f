// The first start: seven fields and one button to a first answer.
import { ask, show, words } from "./ask.js";
import { complain, live } from "./fields.js";
import { replace, state } from "./keep.js";
import { el, inZone } from "./make.js";
import { plant } from "./plants.js";

const number = (text) => (text.trim() === "" ? undefined : Number(text.trim().replace(",", ".").replace("−", "-")));

/** Where there is nothing yet; `done` is called once there is enough for an answer, `example` loads one. */
export function wizard(out, done, example) {
  const input = (key, label, more = {}) => {
    const node = el("input", { id: `first-${key}`, type: "text", autocomplete: "off", ...more });
    node.dataset.key = key;
    return el("div", { class: more.class }, el("label", { for: `first-${key}` }, label), node);
  };
  const pick = (key, label, list) => el("div", {}, el("label", { for: `first-${key}` }, label), el("select", { id: `first-${key}` }, list.map(([v, t]) => el("option", { value: v }, t))));
  const status = el("p", { class: "status", role: "status" });
  const form = el("form", { class: "wizard", novalidate: true },
    el("h3", {}, "A first answer"),
    el("p", { class: "help" }, "Seven fields; everything else can be added later, or read from files."),
    el("div", { class: "fields" },
      input("name", "A plant of yours", { class: "wide", placeholder: "Phalaenopsis amabilis" }),
      pick("setting", "Grown", [["potted", "in a pot"], ["mounted", "mounted"], ["basket", "in a basket"], ["landscape", "planted out"]]),
      pick("shelter", "In a", [["room", "room"], ["glass", "glasshouse"], ["outdoors", "place outdoors"]]),
      input("latitude_deg", "Latitude, ° north", { inputmode: "decimal" }), input("longitude_deg", "Longitude, ° east", { inputmode: "decimal" }),
      input("temp_c", "Temperature now, °C", { inputmode: "decimal" }), input("rh_percent", "Humidity now, %", { inputmode: "decimal" })),
    el("div", { class: "bar" }, el("button", { type: "submit", class: "main" }, "Show the answer"),
      el("button", { type: "button", onclick: () => {
        navigator.geolocation?.getCurrentPosition((p) => { form.querySelector("#first-latitude_deg").value = p.coords.latitude.toFixed(2); form.querySelector("#first-longitude_deg").value = p.coords.longitude.toFixed(2); },
          () => show(status, "This device does not tell where it is; enter the figures.", true));
      } }, "Where I am")),
    status,
    el("div", { class: "or" }, el("p", { class: "help" }, "Or:"), el("a", { class: "button", href: "#files" }, "Read your files"), el("a", { class: "button", href: "#server" }, "Pair with your server"), el("button", { type: "button", onclick: example }, "Try an invented house")));
  const text = (key) => form.querySelector(`#first-${key}`).value;

  /** What is typed so far is asked of the models that know what can be right. */
  async function check() {
    const [lat, lon] = [number(text("latitude_deg")), number(text("longitude_deg"))];
    const [temp, rh] = [number(text("temp_c")), number(text("rh_percent"))];
    if (temp !== undefined) await ask("air", { temp_c: temp, rh_percent: rh ?? 50 });
    if (rh !== undefined && temp === undefined) await ask("air", { temp_c: 20, rh_percent: rh });
    if (lat !== undefined || lon !== undefined) await ask("day", { latitude_deg: lat ?? 0, longitude_deg: lon ?? 0, time_zone: state.site.time_zone, date: new Date().toISOString().slice(0, 10) });
  }
  live(form, check);
  form.onsubmit = async (e) => {
    e.preventDefault();
    try {
      const missing = ["name", "latitude_deg", "longitude_deg", "temp_c", "rh_percent"].find((k) => !text(k).trim() || (k !== "name" && !Number.isFinite(number(text(k)))));
      if (missing) {
        const node = form.querySelector(`#first-${missing}`);
        node.setAttribute("aria-invalid", "true");
        node.focus();
        show(status, `${node.labels[0].textContent}: ${text(missing).trim() ? "this is not a number" : "it is empty"}.`, true);
        return;
      }
      await check();
      const site = { ...state.site, latitude_deg: number(text("latitude_deg")), longitude_deg: number(text("longitude_deg")), areas: [{ ...state.site.areas[0], shelter: text("shelter") }] };
      const reading = { time: inZone(Math.floor(Date.now() / 1000) * 1000, site.time_zone), temp_c: number(text("temp_c")), rh_percent: number(text("rh_percent")) };
      await replace({ site, readings: [reading], series: false }, "before the first start");
      Object.assign(plant(text("name").trim()), { setting: text("setting") });
      done();
    } catch (error) { complain(form, error); show(status, words(error), true); }
  };
  out.replaceChildren(form);
}
