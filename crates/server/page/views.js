// One part of the page at a time; the address says which.
export function views() {
  const parts = [...document.querySelectorAll("main > section")];
  const links = [...document.querySelectorAll("nav a")];
  const show = (moved) => {
    const now = parts.find((p) => `#${p.id}` === location.hash) ?? parts[0];
    for (const p of parts) p.hidden = p !== now;
    for (const a of links) {
      if (a.hash === `#${now.id}`) a.setAttribute("aria-current", "page"); else a.removeAttribute("aria-current");
    }
    const heading = now.querySelector("h2");
    document.title = `${heading.textContent} · guardcell`;
    if (moved) { scrollTo(0, 0); heading.focus({ preventScroll: true }); }
  };
  addEventListener("hashchange", () => show(true));
  show(false);
}
