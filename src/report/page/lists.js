// What is said in words: the head of the page, the reading at the cursor, the program, the findings, the figures.

function element(name, text = "", attributes = {}) {
  const made = document.createElement(name);
  made.textContent = text;
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function head(facts) {
  const { setup, program, wood } = facts;
  document.documentElement.style.setProperty("--wood-tone", wood.light);
  const about = [wood.name, `on ${setup.machine}`, setup.cutter.title, program.name].filter(Boolean);
  document.getElementById("about").textContent = about.join("  \u00b7  ");
  const verdict = document.getElementById("verdict");
  const [words, kind] = { true: ["proved", "good"], false: ["not proved, do not cut", "stop"] }[facts.proved] ?? ["cut shown, nothing proved", "care"];
  verdict.textContent = words;
  verdict.classList.add(kind);
  document.getElementById("foot").textContent =
    `${facts.tool}. Lengths in ${units.name}, angles in degrees round the blank, times in minutes. F is read as ${setup.feed}. ` +
    `The wood is shown on a grid of ${units.length(facts.grid.step, 1)} by ${(360 / facts.grid.rows).toFixed(0)}\u00b0; the figures were measured on a finer one. ` +
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
    const { drawing, grid, story } = this.facts;
    const radius = this.wood.radiusAt(row, column);
    const s = this.wood.station(column);
    const top = drawing ? drawing.crest : Math.max(...grid.blank);
    const parts = [
      `station ${units.length(this.cursor.s)}`,
      units.degrees(this.cursor.rad),
      `radius ${units.length(radius)}, ${units.length(Math.max(top - radius, 0))} deep`,
    ];
    if (this.thread.isFull(s)) {
      const off = this.thread.deviation(s, this.wood.angle(row), radius);
      parts.push(`${units.length(Math.abs(off), 1)} ${off < 0 ? "too deep" : "proud"}`);
    }
    const by = this.wood.cutBy(row, column);
    parts.push(by < 0 ? "not cut" : `cut by line ${story.line[by]}`);
    this.box.textContent = parts.join("  \u00b7  ");
  }
}

// The program's text. Of a very long one only the lines about the present one stand on the page.
class ProgramList {
  constructor(inspection) {
    Object.assign(this, inspection);
    this.box = document.getElementById("program");
    this.lines = this.facts.program.text.split(/\r\n|\n|\r/);
    if (this.lines.at(-1) === "") this.lines.pop();
    document.getElementById("program-file").textContent = `${this.facts.program.name}, ${this.lines.length} lines`;
    this.signs = new Map();
    for (const finding of this.facts.findings) {
      if (finding.inProgram && !this.signs.has(finding.line)) this.signs.set(finding.line, finding.severity);
    }
    this.box.addEventListener("click", (event) => {
      const line = event.target.closest("[data-line]");
      if (line) this.choose(+line.dataset.line);
    });
    this.box.addEventListener("keydown", (event) => this.key(event));
    this.cursor.onChange((what) => what.has("moment") && this.draw());
    this.fill(1);
  }

  choose(line) {
    const to = clamp(line, 1, this.lines.length);
    this.cursor.toMotion(this.cursor.motionOfLine(to));
    this.chosen = to;
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
      const sign = this.signs.get(number);
      row.append(element("i", number, { "aria-hidden": "true" }), sign ? signIcon(sign) : element("b"), element("span", text));
      list.append(row);
    }
    this.box.replaceChildren(list);
  }

  draw() {
    const chosen = this.chosen ?? this.cursor.line;
    this.chosen = null;
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
    const item = element("li", "", { class: finding.follows ? "follows" : "" });
    const button = element("button", "", { type: "button", class: "finding" });
    const where = finding.line === null ? "" : `${finding.inProgram ? "" : `${finding.file}, `}line ${finding.line}`;
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

function figuresTable({ facts }) {
  const box = document.getElementById("figures");
  if (!facts.figures) {
    document.getElementById("figures-panel").remove();
    return;
  }
  // Two tables side by side: a screen is wide, and a sheet of paper is short.
  const half = Math.ceil(facts.figures.length / 2);
  for (const part of [facts.figures.slice(0, half), facts.figures.slice(half)]) {
    const table = element("table");
    const top = element("tr");
    for (const name of ["", "measured", "sure to", "drawing"]) top.append(element("th", name, { scope: "col" }));
    table.createTHead().append(top);
    const body = table.createTBody();
    for (const [what, ...cells] of part) {
      const row = body.insertRow();
      row.append(element("th", what, { scope: "row" }));
      for (const cell of cells) row.insertCell().textContent = cell;
    }
    box.append(table);
  }
}
