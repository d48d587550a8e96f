// Four parts, one at a time; the address says which, and what in it is open.
export function views() {
  const parts = [...document.querySelectorAll("main > section")];
  const links = [...document.querySelectorAll("nav a")];
  const show = (moved) => {
    const id = location.hash.slice(1);
    const target = id && /^[\w-]+$/.test(id) ? document.getElementById(id) : null;
    const now = target?.closest("main > section") ?? parts[0];
    for (const p of parts) p.hidden = p !== now;
    for (const a of links) {
      if (a.hash === `#${now.id}`) a.setAttribute("aria-current", "page"); else a.removeAttribute("aria-current");
    }
    const heading = now.querySelector("h2");
    document.title = `${heading.textContent} · guardcell`;
    const box = target?.closest("details");
    if (box) box.open = true;
    if (!moved) return;
    if (box) { box.scrollIntoView({ block: "start" }); box.querySelector("summary").focus({ preventScroll: true }); return; }
    scrollTo(0, 0);
    heading.focus({ preventScroll: true });
  };
  addEventListener("hashchange", () => show(true));
  // the same link again: back to the top of its part
  for (const a of links) a.addEventListener("click", () => { if (a.hash === location.hash) scrollTo(0, 0); });
  show(false);
}
