// Photos: the file stays on this device, its name goes into the journal.
import { Fault } from "./fault.js";
import { get, put } from "./store.js";
import { el } from "./make.js";

const MOST_BYTES = 12 << 20;

/** A name that says whose it is and from which day. */
export function photoName(ids, file) {
  const ending = /\.(\w{1,5})$/.exec(file.name)?.[1] ?? "jpg";
  return `${(ids[0] ?? "photo").replace(/[^\w-]/g, "_").slice(0, 40)}-${new Date().toISOString().slice(0, 19).replace(/[T:]/g, "-")}.${ending}`;
}

/** Keeps a file under a name; gives the name. */
export async function keepPhoto(name, file) {
  if (file.size > MOST_BYTES) throw new Fault("The photo is larger than 12 MB.");
  await put("photos", name, file);
  return name;
}

/** A photo drawn, where this device has it; the policy of the page loads no picture from elsewhere. */
export async function photo(name) {
  const file = await get("photos", name);
  if (!file) return el("p", { class: "help" }, `${name} is on another device.`);
  try {
    const picture = await createImageBitmap(file);
    const scale = Math.min(1, 900 / picture.width);
    const canvas = el("canvas", { width: Math.round(picture.width * scale), height: Math.round(picture.height * scale), class: "photo", role: "img", "aria-label": `Photo ${name}` });
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    return canvas;
  } catch { return el("p", { class: "help" }, `${name} cannot be shown here.`); }
}

