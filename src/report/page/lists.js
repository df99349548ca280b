// What is said in words: the head of the page, the reading at the cursor, the program, the findings, the figures.

function element(name, text = "", attributes = {}) {
  const made = document.createElement(name);
  made.textContent = text;
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function head(facts) {
  const { setup, programs, wood } = facts;
  document.documentElement.style.setProperty("--wood-tone", wood.light);
  const [{ cutter, file }] = programs;
  const what = programs.length > 1 ? [`${programs.length} programs: ${programs.map(({ name }) => name).join(", ")}`] : [cutter.title, file];
  const about = [wood.name, `on ${setup.machine}`, ...what].filter(Boolean);
  document.getElementById("about").textContent = about.join("  \u00b7  ");
  const verdict = document.getElementById("verdict");
  const [words, kind] = { true: ["proved", "good"], false: ["not proved, do not cut", "stop"] }[facts.proved] ?? ["cut shown, nothing proved", "care"];
  verdict.textContent = words;
  verdict.classList.add(kind);
  document.getElementById("foot").textContent =
    `${facts.tool}. Lengths in ${units.name}, angles in degrees round the blank, times in minutes. F is read as ${setup.feed}. ` +
    `The wood is shown on a grid of ${units.length(facts.grid.step, 1)} by ${(360 / facts.grid.rows).toFixed(0)}\u00b0${facts.proved === null ? "" : "; the figures were measured on a finer one"}. ` +
    "A proof sees geometry, travel and speed, not grain, clamps or a dull cutter: read safety.md first.";
}

class Reading {
  constructor(inspection) {
    Object.assign(this, inspection);
    this.box = document.getElementById("reading");
    this.cursor.onChange(() => this.draw());
  }

  draw() {
    const { row, column } = this.cursor;
    const { drawing, grid } = this.facts;
    const radius = this.wood.radiusAt(row, column);
    const s = this.wood.station(column);
    const top = drawing ? drawing.crest : Math.max(...grid.blank);
    const by = this.wood.cutBy(row, column);
    const deep = by < 0 ? "" : `, ${units.length(Math.max(top - radius, 0))} deep`;
    const parts = [`station ${units.length(this.cursor.s)}`, units.degrees(this.cursor.rad), `radius ${units.length(radius)}${deep}`];
    if (this.thread.isFull(s)) {
      const off = this.thread.deviation(s, this.wood.angle(row), radius);
      parts.push(`${units.length(Math.abs(off), 1)} ${off < 0 ? "too deep" : "proud"}`);
    }
    parts.push(by < 0 ? "not cut" : `cut by ${this.lineName(by)}`);
    this.box.textContent = parts.join("  \u00b7  ");
  }
}

// The program's text. Of a very long one only the lines about the present one stand on the page.
class ProgramList {
  constructor(inspection) {
    Object.assign(this, inspection);
    this.box = document.getElementById("program");
    this.texts = this.facts.programs.map(({ text }) => text.split(/\r\n|\n|\r/));
    for (const lines of this.texts) if (lines.at(-1) === "") lines.pop();
    this.signs = this.texts.map(() => new Map());
    for (const { program, line, severity } of this.facts.findings) {
      if (program !== null && !this.signs[program].has(line)) this.signs[program].set(line, severity);
    }
    this.which = document.getElementById("program-which");
    this.facts.programs.forEach(({ name }, i) => this.which.append(new Option(name, i)));
    this.which.hidden = this.texts.length < 2;
    this.which.addEventListener("change", () => this.open(+this.which.value));
    this.box.addEventListener("click", (event) => {
      const line = event.target.closest("[data-line]");
      if (line) this.choose(+line.dataset.line);
    });
    this.box.addEventListener("keydown", (event) => this.key(event));
    this.cursor.onChange((what) => what.has("moment") && this.draw());
    this.take(this.cursor.part);
  }

  // Puts a program's lines on the page.
  take(part) {
    this.part = part;
    this.lines = this.texts[part];
    this.which.value = part;
    document.getElementById("program-file").textContent = `${this.facts.programs[part].file}, ${this.lines.length} lines`;
    this.at = null;
    this.fill(1);
  }

  // To where a program is done.
  open(part) {
    this.cursor.toMotion(this.facts.programs[part].to - 1);
  }

  choose(line) {
    const to = clamp(line, 1, this.lines.length);
    this.cursor.toMotion(this.cursor.motionOfLine(to, this.part));
    this.chosen = [this.part, to];
    this.cursor.tell("moment");
  }

  key(event) {
    const steps = { ArrowUp: -1, ArrowDown: 1, PageUp: -12, PageDown: 12, Home: -Infinity, End: Infinity };
    if (!steps[event.key]) return;
    event.preventDefault();
    this.choose((this.at ?? 1) + steps[event.key]);
  }

  fill(about) {
    const from = this.lines.length <= WHOLE_PROGRAM ? 1 : clamp(about - WHOLE_PROGRAM / 2, 1, this.lines.length - WHOLE_PROGRAM + 1);
    this.from = Math.round(from);
    this.to = Math.min(this.from + WHOLE_PROGRAM - 1, this.lines.length);
    const list = document.createDocumentFragment();
    for (let number = this.from; number <= this.to; number++) {
      const text = this.lines[number - 1];
      const row = element("div", "", { role: "option", id: `line-${number}`, "data-line": number, "aria-selected": "false" });
      if (/^\s*[(;%]/.test(text)) row.className = "remark";
      const sign = this.signs[this.part].get(number);
      row.append(element("i", number, { "aria-hidden": "true" }), sign ? signIcon(sign) : element("b"), element("span", text));
      list.append(row);
    }
    this.box.replaceChildren(list);
  }

  draw() {
    const [part, chosen] = this.chosen ?? [this.cursor.part, this.cursor.line];
    this.chosen = null;
    if (part !== this.part) this.take(part);
    const before = document.getElementById(`line-${this.at}`);
    before?.setAttribute("aria-selected", "false");
    this.at = clamp(chosen, 1, this.lines.length);
    if (this.at < this.from || this.at > this.to) this.fill(this.at);
    const row = document.getElementById(`line-${this.at}`);
    row.setAttribute("aria-selected", "true");
    this.box.setAttribute("aria-activedescendant", row.id);
    const [top, bottom] = [row.offsetTop - this.box.scrollTop, row.offsetTop + row.offsetHeight - this.box.scrollTop];
    if (top < 24 || bottom > this.box.clientHeight - 24) this.box.scrollTop = row.offsetTop - this.box.clientHeight * 0.4;
  }
}

// Lines that a page holds at once.
const WHOLE_PROGRAM = 2000;

function signIcon(severity) {
  const corners = signOutline(severity, 8, severity === "care" ? 9.5 : 8, 6.5);
  const points = corners.map((at) => at.map((v) => v.toFixed(1)).join()).join(" ");
  const icon = element("b", "", { class: "sign" });
  icon.innerHTML = `<svg width="16" height="16" viewBox="0 0 16 16" role="img" aria-label="${severity}"><polygon points="${points}" class="${severity}"/></svg>`;
  return icon;
}

function findingsList(inspection) {
  const { facts } = inspection;
  document.getElementById("findings-count").textContent = facts.count;
  const list = document.getElementById("findings");
  for (const finding of facts.findings) {
    const item = element("li", "", { class: finding.follows ? "follows" : "", "data-code": finding.code });
    const button = element("button", "", { type: "button", class: "finding" });
    const several = facts.programs.length > 1;
    const place = finding.program === null ? finding.file : several ? facts.programs[finding.program].name : "";
    const where = finding.line === null ? "" : `${place ? `${place}, ` : ""}line ${finding.line}`;
    const title = element("span", "", { class: "title" });
    title.append(element("strong", `${finding.severity}: ${finding.code}`), element("span", where, { class: "quiet" }));
    const words = element("span", "", { class: "words" });
    words.append(title, element("span", finding.message));
    if (finding.place) words.append(element("span", finding.place, { class: "quiet" }));
    if (finding.follows) words.append(element("span", `follows from ${finding.follows}: mend that first`, { class: "quiet" }));
    if (finding.help) words.append(element("span", `Way out: ${finding.help}`, { class: "help" }));
    button.append(signIcon(finding.severity), words);
    button.addEventListener("click", () => inspection.jump(finding));
    item.append(button);
    list.append(item);
  }
}

// What was measured on the program at the cursor.
class Figures {
  constructor({ facts, cursor }) {
    Object.assign(this, { facts, cursor, box: document.getElementById("figures") });
    if (!facts.programs.some(({ figures }) => figures)) {
      document.getElementById("figures-panel").remove();
      return;
    }
    cursor.onChange((what) => what.has("moment") && this.draw());
    this.draw();
  }

  draw() {
    const { part } = this.cursor;
    if (part === this.part) return;
    this.part = part;
    const { figures, name } = this.facts.programs[part];
    document.getElementById("figures-of").textContent = this.facts.programs.length > 1 ? `after ${name}` : "";
    this.box.replaceChildren(...besides(["", "measured", "sure to", "drawing"], figures));
  }
}

// Two tables side by side: a screen is wide, and a sheet of paper is short.
function besides(heads, rows) {
  const half = Math.ceil(rows.length / 2);
  return [rows.slice(0, half), rows.slice(half)].map((part) => tableOf(heads, part));
}

function tableOf(heads, rows) {
  const table = element("table");
  const top = element("tr");
  for (const name of heads) top.append(element("th", name, { scope: "col" }));
  if (heads.some(Boolean)) table.createTHead().append(top);
  const body = table.createTBody();
  // Numbers stand to the right, a column of words to the left.
  const words = heads.map((_, i) => rows.some((row) => /^[a-z]{4}/.test(row[i] ?? "") && row[i] !== "none"));
  for (const [what, ...cells] of rows) {
    const row = body.insertRow();
    row.append(element("th", what, { scope: "row" }));
    cells.forEach((text, i) => {
      const cell = row.insertCell();
      cell.textContent = text;
      if (words[i + 1]) cell.className = "words";
    });
  }
  return table;
}

// What is known of the wood, and of the nut through the year.
function panels({ facts }) {
  const main = document.querySelector("main");
  facts.panels.forEach(({ title, says, heads, rows, notes, picture }, i) => {
    const panel = element("section", "", { class: "panel known", "aria-labelledby": `known-${i}` });
    const bar = element("div", "", { class: "bar" });
    bar.append(element("h2", title, { id: `known-${i}` }));
    panel.append(bar, ...says.map((words) => element("p", words)));
    if (picture) {
      const pictures = element("div", "", { class: "pictures" });
      // It was drawn by the tool, with nothing in it that somebody typed.
      pictures.innerHTML = picture;
      panel.append(pictures);
    }
    if (rows.length) panel.append(tableOf(heads, rows));
    if (notes.length) panel.append(element("p", notes.join(" "), { class: "quiet small" }));
    main.append(panel);
  });
}
