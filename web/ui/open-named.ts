import { show } from "./verdict-filter";

// openNamed opens the finding that the address names and brings it into view,
// also when the filter hides it.
export function openNamed(): void {
  const id = decodeURIComponent(location.hash.slice(1));
  const f = id ? document.getElementById(id) : null;
  if (!(f instanceof HTMLDetailsElement)) return;
  if (f.hidden) show("");
  f.open = true;
  f.scrollIntoView({ block: "start" });
  f.querySelector("summary")?.focus({ preventScroll: true });
}
