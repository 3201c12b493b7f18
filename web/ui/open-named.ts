import { show } from "./verdict-filter";

// openNamed opens the finding, or the document, that holds what the address
// names, and brings it into view, also when the filter hides it.
export function openNamed(): void {
  const id = decodeURIComponent(location.hash.slice(1));
  const named = id ? document.getElementById(id) : null;
  const fold = named?.closest("details");
  if (!named || !fold) return;
  if (fold.hidden) show("");
  fold.open = true;
  if (named === fold) fold.querySelector("summary")?.focus({ preventScroll: true });
  named.scrollIntoView({ block: named === fold ? "start" : "center" });
}
