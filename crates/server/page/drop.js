// Files dropped anywhere on the page.
import { taken } from "./fields.js";

export function dropped(take, failed) {
  const files = (e) => [...(e.dataTransfer?.items ?? [])].some((i) => i.kind === "file");
  addEventListener("dragover", (e) => { if (files(e)) { e.preventDefault(); document.body.classList.add("dropping"); } });
  addEventListener("dragleave", (e) => { if (!e.relatedTarget) document.body.classList.remove("dropping"); });
  addEventListener("drop", async (e) => {
    document.body.classList.remove("dropping");
    if (!files(e)) return;
    e.preventDefault();
    try { await take(await taken([...e.dataTransfer.files])); } catch (error) { failed(error); }
  });
}
