// What if: the same passes with another spindle speed, feed, wood or edge. The formulas are those of the crate
// (src/pressure.rs), the numbers in them are written into the page by it, and a test holds both together.

// A pass as it is reckoned with other answers: spindle speed, feed as a share of the programmed one, density, edge.
function reckon(model, met, { rpm, times, density, edge }) {
  const speed = met.speed * times;
  const feed = speed / (met.edges * rpm);
  const chip = met.contact > 0 ? (feed * met.area) / met.contact : 0;
  const asked = { feed, chip, least: leastChip(model, density, edge) };
  if (density === null) return asked;
  const thin = (model.atChipMm / Math.max(chip, model.thinnestMm)) ** model.fall;
  const pressure = ((model.pressureNMm2 * density) / model.atDensity) * model.grainRound * model.wear[edge] * thin;
  const force = ((pressure * feed * met.edges) / (2 * Math.PI)) * met.overRadius;
  const side = force * Math.hypot(1, model.thrustShare[edge]);
  const power = (pressure * met.area * speed) / 60 / 1000;
  const bends = (perNewton) => (perNewton === null ? undefined : side * perNewton);
  return { ...asked, pressure, force, side, power, torque: (side * met.arm) / 1000, bend: bends(met.bend), cutterBend: bends(met.cutterBend) };
}

// Thinnest mean chip that does not burn.
function leastChip(model, density, edge) {
  const [light, dense] = model.lightToDense;
  const share = density === null ? 1 : clamp((density - light) / (dense - light), 0, 1);
  return model.edgeRadiusMm[edge] * (2 + share);
}

class WhatIf {
  // Null where nothing was proved: then no loads are known.
  static open(inspection) {
    const { facts } = inspection;
    if (facts.programs.some(({ loads }) => loads?.some(({ reckoned }) => reckoned))) return new WhatIf(inspection);
    document.getElementById("whatif-panel").remove();
    return null;
  }

  constructor(inspection) {
    Object.assign(this, inspection);
    this.given = this.facts.whatIf;
    this.met = this.facts.story.line.map((_, motion) => this.loadOf(motion)?.reckoned ?? null);
    this.found = new Map();
    this.part = this.cursor.part;
    const [name, density, fromMemory] = this.asked.timber;
    this.woods = [[`${name} (job)`, density, fromMemory], ...this.given.woods];
    const get = (id) => document.getElementById(id);
    this.asks = { rpm: get("ask-rpm"), feed: get("ask-feed"), wood: get("ask-wood"), edge: get("ask-edge") };
    Object.assign(this.asks.feed, { min: 0.2, max: 3, step: 0.01 });
    this.woods.forEach(([wood, value], i) => this.asks.wood.append(new Option(`${wood}${value === null ? " (density not known)" : `, ${value.toFixed(0)} kg/m\u00b3`}`, i)));
    this.given.edges.forEach((edge, i) => this.asks.edge.append(new Option(edge, i)));
    get("whatif-back").addEventListener("click", () => this.back());
    for (const ask of Object.values(this.asks)) ask.addEventListener("input", () => this.draw());
    get("whatif-memory").textContent = `Estimates, each within half to double of what is shown. From memory: ${this.given.fromMemory.join(". ")}.`;
    this.cursor.onChange((what) => what.has("moment") && this.follow());
    this.back();
  }

  // The program that is asked about: the one at the cursor, or the nearest before or after it of which loads are known.
  get asked() {
    return this.facts.programs[this.part];
  }

  // Another program is another cutter and another speed: the questions begin anew.
  follow() {
    if (this.cursor.part === this.part) return this.draw();
    this.part = this.cursor.part;
    this.back();
  }

  get rpm() {
    const { from, to } = this.asked;
    return this.met.slice(from, to).find((met) => met)?.rpm ?? 0;
  }

  back() {
    const [least, top] = this.asked.rpm;
    Object.assign(this.asks.rpm, { min: Math.min(least, this.rpm), max: Math.max(top, this.rpm), step: 100, value: this.rpm });
    Object.assign(this.asks.feed, { value: 1 });
    this.asks.wood.value = 0;
    this.asks.edge.value = this.asked.edge;
    this.draw();
  }

  get answers() {
    const wood = this.woods[+this.asks.wood.value];
    return { rpm: +this.asks.rpm.value, times: +this.asks.feed.value, density: wood[1], edge: +this.asks.edge.value };
  }

  get programmed() {
    return { rpm: this.rpm, times: 1, density: this.asked.timber[1], edge: this.asked.edge };
  }

  reckon(motion, answers) {
    return this.met[motion] && reckon(this.given.model, this.met[motion], answers);
  }

  // Running time: feed moves shrink with the feed until an axis runs at its top speed, rapid moves stay as they are.
  minutes(times) {
    const { rapid, minutes, least } = this.facts.story;
    const { from, to } = this.asked;
    let sum = 0;
    for (let m = from; m < to; m++) sum += rapid[m] ? minutes[m] : Math.max(minutes[m] / times, Math.min(least[m], minutes[m]));
    return sum;
  }

  // Whether some feed move that cuts would ask more of an axis than it can do.
  tooFast(times) {
    const { cuts, rapid, minutes, least } = this.facts.story;
    const { from, to } = this.asked;
    return minutes.some((length, m) => m >= from && m < to && cuts[m] && !rapid[m] && length / times < least[m] * 0.999);
  }

  // The motion of a stretch that takes most power (or, without a density, the thickest chip).
  hardest(from, to, answers) {
    const weight = (m) => {
      const strain = this.reckon(m, answers);
      return strain ? strain.power ?? strain.chip : -1;
    };
    // A program may have very many motions, and the same answers are asked for again with every move of the cursor.
    const asked = [from, to, ...Object.values(answers)].join();
    if (this.found.has(asked)) return this.found.get(asked);
    let [most, least] = [-1, -Infinity];
    for (let m = from; m <= to; m++) {
      if (!this.met[m]) continue;
      const here = weight(m);
      if (here > least) [most, least] = [m, here];
    }
    if (this.found.size > 500) this.found.clear();
    this.found.set(asked, most);
    return most;
  }

  draw() {
    const { answers, programmed } = this;
    const { trips } = this.facts.story;
    const { from, to, feed: [slow, fast] } = this.asked;
    const all = this.hardest(from, to - 1, programmed);
    const panel = document.getElementById("whatif-panel");
    panel.dataset.known = all < 0 ? "no" : "yes";
    if (all < 0) {
      document.getElementById("whatif-of").textContent = `of ${this.asked.name} no loads are known`;
      return;
    }
    const trip = this.tripOf(this.cursor.motion);
    const here = trip < 0 ? all : this.hardest(trips[trip].from, trips[trip].to, programmed);
    const shown = here < 0 ? all : here;
    document.getElementById("whatif-of").textContent = `${this.lineName(shown)}, ${this.tripName(this.tripOf(shown))}`;
    document.getElementById("ask-rpm-is").textContent = `${answers.rpm.toFixed(0)} rev/min`;
    const speeds = slow < fast ? `${units.speed(slow * answers.times)} to ${units.speed(fast * answers.times)}` : units.speed(fast * answers.times);
    document.getElementById("ask-feed-is").textContent = `${(100 * answers.times).toFixed(0)} %, ${speeds}`;
    this.asks.rpm.setAttribute("aria-valuetext", document.getElementById("ask-rpm-is").textContent);
    this.asks.feed.setAttribute("aria-valuetext", document.getElementById("ask-feed-is").textContent);
    const strains = [this.reckon(shown, programmed), this.reckon(shown, answers), this.reckon(this.hardest(from, to - 1, answers), answers)];
    this.table(strains, answers, this.met[shown].most);
  }

  table(strains, answers, tears) {
    const [, , worst] = strains;
    const { model } = this.given;
    const { spindleW, holdingNm } = this.asked;
    const cells = (name, show) => strains.map((strain) => (strain[name] === undefined ? "not known" : show(strain[name])));
    const fine = (mm) => units.length(mm, 1);
    const newtons = (n) => `${n.toFixed(0)} N`;
    const watts = (w) => `${w.toFixed(0)} W`;
    const turning = (nm) => `${nm.toFixed(2)} N m`;
    const most = Math.max(strains[1].chip, 0);
    const torn = tears === null ? ["", ""] : [worst.feed > tears || strains[1].feed > tears ? "care" : "", `tears above ${fine(tears)}`];
    const limit = (given, value, show, what, key) =>
      given === null
        ? ["", `not given in the machine file (${key})`]
        : [value * model.band > given ? (value > given ? "stop" : "care") : "", `${what} ${show(given)}`];
    const bent = (value, most) => [(value ?? 0) * model.band > most ? "care" : "", `it may by ${fine(most)}`];
    const rows = [
      ["chip, mean", cells("chip", fine), [most < strains[1].least ? "care" : "", `burns below ${fine(strains[1].least)}`]],
      ["feed per edge", cells("feed", fine), torn],
      ["force aside", cells("side", newtons), ["", ""]],
      ["power at the cutter", cells("power", watts), limit(spindleW, worst.power ?? 0, watts, "the spindle gives", "spindle.power")],
      ["torque on A", cells("torque", turning), limit(holdingNm, worst.torque ?? 0, turning, "the chuck holds", "a.holding_torque")],
      ["blank bends", cells("bend", fine), bent(worst.bend, this.given.bends)],
      ["cutter bends", cells("cutterBend", fine), bent(worst.cutterBend, this.given.cutterBends)],
      ["running time", [units.minutes(this.minutes(1)), units.minutes(this.minutes(answers.times)), ""], this.tooFast(answers.times) ? ["stop", "an axis is at its top speed"] : ["", "rapid moves stay as they are"]],
    ];
    const head = element("tr");
    for (const name of ["", "as programmed", "what if", "hardest pass then", "limit"]) head.append(element("th", name, { scope: "col" }));
    const table = document.getElementById("whatif-says");
    table.replaceChildren(element("thead"), element("tbody"));
    table.tHead.append(head);
    for (const [what, values, [sign, words]] of rows) {
      const row = table.tBodies[0].insertRow();
      row.append(element("th", what, { scope: "row" }));
      for (const value of values) row.insertCell().textContent = value;
      const cell = row.insertCell();
      if (sign) cell.append(signIcon(sign));
      cell.append(words);
    }
  }
}
