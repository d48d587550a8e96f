// Sharing what is entered as a link.
import { show } from "./ask.js";
import { link } from "./keep.js";

export async function share(values, status) {
  const address = await link(values);
  try {
    await navigator.clipboard.writeText(address);
    show(status, "The link is copied.");
  } catch {
    history.replaceState(null, "", address);
    show(status, "The address of this page is now the link: copy it.");
  }
}
