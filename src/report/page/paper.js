// Getting ready for paper: the panels are drawn again at the width of a sheet, and canvases are laid down as pictures,
// since not every browser prints what a canvas holds.

class Paper {
  constructor({ map, section, times }) {
    Object.assign(this, { map, section, times, laid: [] });
    window.addEventListener("beforeprint", () => this.begin());
    window.addEventListener("afterprint", () => this.end());
  }

  begin() {
    this.end();
    this.theme = document.documentElement.dataset.theme;
    useTheme("light");
    const { map, times, section } = this;
    map.resize(PAPER_WIDE, 122, 2);
    times.resize(PAPER_WIDE, 116, 2);
    section.draw(PAPER_WIDE, 88);
    this.lay(map.box, [map.base, map.over]);
    this.lay(times.box, [times.canvas]);
    this.shorten();
  }

  // One finding is told whole; of several the first of each kind, and how many more there are of it.
  shorten() {
    const list = document.getElementById("findings");
    const told = [...list.children].filter((item) => item.className !== "follows");
    list.classList.toggle("several", told.length > 1);
    if (told.length < 2) return;
    const kinds = new Map();
    for (const item of told) kinds.set(item.dataset.code, [...(kinds.get(item.dataset.code) ?? []), item]);
    let over = 0;
    [...kinds.values()].forEach(([first, ...others], i) => {
      for (const item of others) item.classList.add("over");
      if (i >= PAPER_FINDINGS) {
        first.classList.add("over");
        over += 1 + others.length;
      } else if (others.length) {
        this.note(first.querySelector(".title").nextSibling, ` (and ${others.length} more of this kind)`, "span");
      }
    });
    if (over) this.note(list, `and ${over} more: open the page to read ${over > 1 ? "them" : "it"}`, "li");
  }

  note(box, text, name) {
    const note = element(name, text, { class: "paper" });
    box.append(note);
    this.laid.push(note);
  }

  lay(box, canvases) {
    const [{ width, height }] = canvases;
    const flat = Object.assign(document.createElement("canvas"), { width, height });
    const context = flat.getContext("2d");
    for (const canvas of canvases) context.drawImage(canvas, 0, 0);
    const picture = element("img", "", { class: "paper", alt: "", src: flat.toDataURL() });
    box.append(picture);
    this.laid.push(picture);
  }

  end() {
    if (!this.laid.length) return;
    for (const laid of this.laid.splice(0)) laid.remove();
    for (const item of document.querySelectorAll("#findings .over")) item.classList.remove("over");
    useTheme(this.theme);
    for (const panel of [this.map, this.times]) panel.resize();
    this.section.draw();
  }
}

// Width of an A4 sheet less its margins, in CSS pixels (96 to the inch).
const PAPER_WIDE = 718;
// Kinds of findings that a sheet has room for.
const PAPER_FINDINGS = 3;
