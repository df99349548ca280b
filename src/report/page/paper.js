// Getting ready for paper: the panels are drawn again at the width of a sheet, and canvases are laid down as pictures,
// since not every browser prints what a canvas holds.

class Paper {
  constructor({ map, section, times }) {
    Object.assign(this, { map, section, times, pictures: [] });
    window.addEventListener("beforeprint", () => this.begin());
    window.addEventListener("afterprint", () => this.end());
  }

  begin() {
    this.end();
    this.theme = document.documentElement.dataset.theme;
    useTheme("light");
    const { map, times, section } = this;
    map.resize(PAPER_WIDE, 144, 2);
    times.resize(PAPER_WIDE, 126, 2);
    section.draw(PAPER_WIDE, 92);
    this.lay(map.box, [map.base, map.over]);
    this.lay(times.box, [times.canvas]);
  }

  lay(box, canvases) {
    const [{ width, height }] = canvases;
    const flat = Object.assign(document.createElement("canvas"), { width, height });
    const context = flat.getContext("2d");
    for (const canvas of canvases) context.drawImage(canvas, 0, 0);
    const picture = element("img", "", { class: "paper", alt: "", src: flat.toDataURL() });
    box.append(picture);
    this.pictures.push(picture);
  }

  end() {
    if (!this.pictures.length) return;
    for (const picture of this.pictures.splice(0)) picture.remove();
    useTheme(this.theme);
    for (const panel of [this.map, this.times]) panel.resize();
    this.section.draw();
  }
}

// Width of an A4 sheet less its margins, in CSS pixels (96 to the inch).
const PAPER_WIDE = 718;
