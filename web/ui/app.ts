// All pages work without this script; it saves reloads and opens what a link
// names.
import { VerdictFilter } from "./verdict-filter";
import { openNamed } from "./open-named";

customElements.define("verdict-filter", VerdictFilter);
addEventListener("hashchange", openNamed);
openNamed();
