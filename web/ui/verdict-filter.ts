// <verdict-filter> wraps the links that show one verdict only. Without script
// the server answers them; with it they hide rows in place, keep the address
// current and offer to open every calculation at once.
export class VerdictFilter extends HTMLElement {
  connectedCallback(): void {
    this.addEventListener("click", (e) => this.choose(e));
    this.querySelector("nav")?.append(this.openAll());
  }

  private choose(e: MouseEvent): void {
    const link = (e.target as Element).closest<HTMLAnchorElement>("a[data-verdict]");
    if (!link || e.metaKey || e.ctrlKey || e.shiftKey) return;
    e.preventDefault();
    history.replaceState(null, "", link.href);
    show(link.dataset.verdict ?? "");
  }

  private openAll(): HTMLButtonElement {
    const b = document.createElement("button");
    b.type = "button";
    let open = false;
    const name = () => (b.textContent = open ? "close all" : "open all");
    name();
    b.addEventListener("click", () => {
      open = !open;
      for (const f of document.querySelectorAll<HTMLDetailsElement>("details.finding")) f.open = open;
      name();
    });
    return b;
  }
}

// show hides every finding of another verdict, and places left with none.
export function show(verdict: string): void {
  for (const a of document.querySelectorAll<HTMLElement>("verdict-filter a[data-verdict]")) {
    if (a.dataset.verdict === verdict) a.setAttribute("aria-current", "true");
    else a.removeAttribute("aria-current");
  }
  for (const f of document.querySelectorAll<HTMLElement>("details.finding")) {
    f.hidden = verdict !== "" && f.dataset.verdict !== verdict;
  }
  for (const p of document.querySelectorAll<HTMLElement>("section.place")) {
    const all = p.querySelectorAll<HTMLElement>("details.finding");
    if (all.length > 0) p.hidden = Array.from(all).every((f) => f.hidden);
  }
}
