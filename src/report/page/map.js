// The blank unrolled: station across, angle up. Below, the wood in colours; above, path, findings and cursor.

const PAINTS = {
  depth: "depth",
  deviation: "off the drawing",
  pass: "pass that cut last",
};

class UnrolledMap {
  constructor(inspection) {
    Object.assign(this, inspection);
    this.box = document.getElementById("map");
    this.base = document.getElementById("map-wood");
    this.over = document.getElementById("map-marks");
    const { stations, rows, from, step } = this.facts.grid;
    this.image = new ImageData(stations, rows);
    this.pixels = new Uint32Array(this.image.data.buffer);
    this.sheet = Object.assign(document.createElement("canvas"), { width: stations, height: rows });
    const air = this.facts.story.stroke.toS.reduce((least, s) => Math.min(least, s), from);
    this.whole = [Math.max(air, from - 60), from + step * (stations - 1)];
    this.view = [...this.whole];
    this.paint = "depth";
    this.scale();
    this.controls();
    this.cursor.onChange((what) => {
      if (what.has("moment")) this.drawWood();
      this.drawMarks();
    });
  }

  // What the ends of the colours stand for, the same at every moment.
  scale() {
    const { drawing, grid } = this.facts;
    let least = Infinity;
    for (const radius of this.wood.radius) least = Math.min(least, radius);
    this.top = drawing ? drawing.crest : Math.max(...grid.blank);
    this.deepest = Math.max(this.top - least * grid.radiusStep, 0.1);
    this.within = drawing ? drawing.formWithin : 0;
  }

  controls() {
    const choice = document.getElementById("paint");
    for (const [paint, words] of Object.entries(PAINTS)) {
      if (paint === "deviation" && !this.facts.drawing?.stands) continue;
      const label = document.createElement("label");
      const input = Object.assign(document.createElement("input"), { type: "radio", name: "paint", value: paint });
      input.checked = paint === this.paint;
      input.addEventListener("change", () => this.show(paint));
      label.append(input, ` ${words}`);
      choice.append(label);
    }
    const on = (id, act) => document.getElementById(id).addEventListener("click", act);
    on("map-closer", () => this.zoom(0.5, this.cursor.s));
    on("map-wider", () => this.zoom(2, this.cursor.s));
    on("map-whole", () => this.zoom(Infinity, 0));
    this.box.addEventListener("keydown", (event) => this.key(event));
    this.box.addEventListener("pointerdown", (event) => {
      this.box.setPointerCapture(event.pointerId);
      this.point(event);
    });
    this.box.addEventListener("pointermove", (event) => event.buttons & 1 && this.point(event));
    this.box.addEventListener("wheel", (event) => {
      if (!event.ctrlKey && !event.shiftKey) return;
      event.preventDefault();
      this.zoom(event.deltaY + event.deltaX > 0 ? 1.25 : 0.8, this.sAt(event.offsetX));
    }, { passive: false });
    new ResizeObserver(() => this.resize()).observe(this.box);
  }

  show(paint) {
    this.paint = paint;
    for (const input of document.querySelectorAll("#paint input")) input.checked = input.value === paint;
    this.drawAll();
  }

  key(event) {
    const [along, round] = event.shiftKey ? [10, Math.PI / 6] : [1, Math.PI / 60];
    const step = along * this.facts.grid.step * 2;
    const moves = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, round], ArrowDown: [0, -round] };
    if (moves[event.key]) {
      this.cursor.toPlace(this.cursor.s + moves[event.key][0], this.cursor.rad + moves[event.key][1]);
    } else if (event.key === "Enter") {
      const by = this.wood.cutBy(this.cursor.row, this.cursor.column);
      this.cursor.toMotion(by, 1, false);
    } else if (event.key === "+" || event.key === "-") {
      this.zoom(event.key === "+" ? 0.5 : 2, this.cursor.s);
    } else {
      return;
    }
    event.preventDefault();
  }

  point(event) {
    const bounds = this.box.getBoundingClientRect();
    const [x, y] = [event.clientX - bounds.left, event.clientY - bounds.top];
    const hit = this.spots?.find((spot) => Math.hypot(spot.x - x, spot.y - y) < 10);
    if (hit && event.type === "pointerdown") this.jump(hit.finding);
    else this.cursor.toPlace(this.sAt(x), this.radAt(y));
  }

  zoom(times, about) {
    const [from, to] = this.view;
    const width = Math.min((to - from) * times, this.whole[1] - this.whole[0]);
    const share = (about - from) / (to - from);
    const start = clamp(about - clamp(share, 0, 1) * width, this.whole[0], this.whole[1] - width);
    this.view = [start, start + Math.max(width, 10)];
    this.drawAll();
  }

  resize(wide = this.box.clientWidth, high = this.box.clientHeight, dots = Math.max(window.devicePixelRatio, 1)) {
    if (!wide || !high) return;
    this.area = [wide, high];
    this.plot = { left: 42, top: 18, right: wide - 12, bottom: high - 22 };
    for (const canvas of [this.base, this.over]) {
      canvas.width = Math.round(wide * dots);
      canvas.height = Math.round(high * dots);
      canvas.getContext("2d").setTransform(dots, 0, 0, dots, 0, 0);
    }
    this.drawAll();
  }

  x(s) {
    const { left, right } = this.plot;
    return left + ((s - this.view[0]) / (this.view[1] - this.view[0])) * (right - left);
  }
  sAt(x) {
    const { left, right } = this.plot;
    return this.view[0] + ((x - left) / (right - left)) * (this.view[1] - this.view[0]);
  }
  // The lowest row of cells is drawn whole, so angle 0 stands half a cell above the edge.
  y(rad) {
    const { top, bottom } = this.plot;
    const turn = rad / (2 * Math.PI) + 0.5 / this.facts.grid.rows;
    return bottom - (turn - Math.floor(turn)) * (bottom - top);
  }
  radAt(y) {
    const { top, bottom } = this.plot;
    return ((bottom - y) / (bottom - top) - 0.5 / this.facts.grid.rows) * 2 * Math.PI;
  }

  drawAll() {
    if (!this.plot) return;
    this.drawWood();
    this.drawMarks();
    this.legend();
  }

  // Writes the colours of one row of cells.
  painter() {
    const { stations, rows, radiusStep } = this.facts.grid;
    const { radius, made, history } = this.wood;
    const { pixels } = this;
    const bare = pixel(rgb(ink("bare")));
    if (this.paint === "deviation") {
      return (row, to) => {
        const rad = (2 * Math.PI * row) / rows;
        for (let column = 0, cell = row * stations; column < stations; column++, cell++) {
          const s = this.wood.station(column);
          const off = this.thread.isFull(s) ? this.thread.deviation(s, rad, radius[cell] * radiusStep) : NaN;
          pixels[to + column] = Number.isNaN(off) ? bare : cividis[clamp(Math.round((off / this.within / 2 + 0.5) * 255), 0, 255)];
        }
      };
    }
    if (this.paint === "pass") {
      const colourOf = Uint32Array.from(this.facts.story.line, (_, motion) => {
        const trip = this.tripOf(motion);
        return trip < 0 ? bare : pixel(rgb(category(this.tripNumber(trip) - 1)));
      });
      return (row, to) => {
        for (let column = 0, cell = row * stations; column < stations; column++, cell++) {
          pixels[to + column] = made[cell] > history.first[cell] ? colourOf[history.motion[made[cell] - 1]] : bare;
        }
      };
    }
    const top = this.top / radiusStep;
    this.shades ??= Uint32Array.from({ length: 65536 }, (_, steps) => cividis[clamp(Math.round(((top - steps) * 255 * radiusStep) / this.deepest), 0, 255)]);
    const { shades } = this;
    return (row, to) => {
      for (let column = 0, cell = row * stations; column < stations; column++, cell++) pixels[to + column] = shades[radius[cell]];
    };
  }

  drawWood() {
    if (!this.plot) return;
    const { stations, rows } = this.facts.grid;
    const paint = this.painter();
    for (let row = 0; row < rows; row++) paint(row, (rows - 1 - row) * stations);
    this.sheet.getContext("2d").putImageData(this.image, 0, 0);
    const { left, top, right, bottom } = this.plot;
    const context = this.base.getContext("2d");
    context.clearRect(0, 0, ...this.area);
    context.save();
    context.beginPath();
    context.rect(left, top, right - left, bottom - top);
    context.fillStyle = ink("well");
    context.fill();
    context.clip();
    context.imageSmoothingEnabled = this.paint !== "pass";
    context.imageSmoothingQuality = "high";
    const { from, step } = this.facts.grid;
    const [a, b] = [this.x(from - step / 2), this.x(from + step * (stations - 0.5))];
    context.drawImage(this.sheet, a, top, b - a, bottom - top);
    context.restore();
    this.axes(context);
  }

  axes(context) {
    const { left, top, right, bottom } = this.plot;
    context.font = ink("small-type");
    context.fillStyle = context.strokeStyle = ink("quiet");
    context.lineWidth = 1;
    context.textAlign = "center";
    context.textBaseline = "top";
    const step = roundStep(this.view[1] - this.view[0], 12);
    for (let s = Math.ceil(this.view[0] / step) * step; s <= this.view[1]; s += step) {
      const x = Math.round(this.x(s)) + 0.5;
      line(context, x, bottom, x, bottom + 4);
      context.fillText(units.mark(s, step), x, bottom + 7);
    }
    context.textAlign = "right";
    context.textBaseline = "middle";
    for (const degrees of [0, 90, 180, 270]) {
      const y = this.y((degrees * Math.PI) / 180);
      line(context, left - 4, y, left, y);
      context.fillText(`${degrees}\u00b0`, left - 7, y);
    }
    context.textBaseline = "alphabetic";
    this.borders(context);
  }

  // Where the parts of the screw begin and end, named above the map.
  borders(context) {
    const { top, bottom, left, right } = this.plot;
    const { drawing, setup } = this.facts;
    const parts = drawing
      ? [["nose", 0], ["full thread", drawing.fullFrom, drawing.fullTo], [drawing.relief ? "relief" : "run-out", drawing.fullTo, drawing.runOutTo], ["plain head", drawing.runOutTo, drawing.head], ["waste", drawing.head, setup.chuck.face]]
      : [["X0", 0]];
    context.textAlign = "center";
    for (const [name, from, to = from] of parts) {
      const [a, b] = [this.x(from), this.x(to)];
      const middle = (Math.max(a, left) + Math.min(b, right)) / 2;
      const wide = context.measureText(name).width;
      if (from === to) {
        // Beside its line, over the waste.
        if (a - wide - 5 >= left && a <= right) context.fillText(name, a - wide / 2 - 4, top - 6);
      } else if (b - a > wide + 8 && middle > left && middle < right) {
        context.fillText(name, middle, top - 6);
      }
      for (const x of [a, b]) {
        if (x > left && x < right) line(context, Math.round(x) + 0.5, top - 14, Math.round(x) + 0.5, top);
      }
    }
  }

  drawMarks() {
    if (!this.plot) return;
    const { left, top, right, bottom } = this.plot;
    const context = this.over.getContext("2d");
    context.clearRect(0, 0, ...this.area);
    context.save();
    context.beginPath();
    context.rect(left, top, right - left, bottom - top);
    context.clip();
    this.path(context);
    this.spots = this.facts.findings
      .filter((finding) => finding.s !== null && finding.thetaDeg !== null)
      .map((finding) => ({ finding, x: this.x(finding.s), y: this.y((finding.thetaDeg * Math.PI) / 180) }));
    for (const { finding, x, y } of this.spots) drawSign(context, finding.severity, x, y, 8);
    const [x, y] = [this.x(this.cursor.s), this.y(this.cursor.rad)];
    for (const [wide, colour, shown] of [[2.5, ink("halo"), 0.5], [1, ink("cursor"), 1]]) {
      context.lineWidth = wide;
      context.strokeStyle = colour;
      context.globalAlpha = shown;
      line(context, x, top, x, y - 7);
      line(context, x, y + 7, x, bottom);
      line(context, left, y, x - 7, y);
      line(context, x + 7, y, right, y);
      context.beginPath();
      context.arc(x, y, 5, 0, 2 * Math.PI);
      context.lineWidth = wide * 1.6;
      context.stroke();
    }
    context.restore();
  }

  // The trip of the present moment: what has been run drawn full, what is to come thin, moves in the air in dashes.
  path(context) {
    const { motion, share } = this.cursor;
    if (motion < 0) return;
    const { stroke, rapid } = this.facts.story;
    const [from, to] = this.stretchOf(motion);
    const first = this.wood.strokesOf(from)[0];
    const last = this.wood.strokesOf(to)[1];
    for (const air of [0, 1]) {
      const [all, run] = [new Path2D(), new Path2D()];
      for (let i = first; i <= last; i++) {
        const m = stroke.motion[i];
        if (rapid[m] !== air) continue;
        const cut = m < motion ? 1 : m > motion ? 0 : share;
        this.stroke(all, i, 0, 1);
        if (cut > 0) this.stroke(run, i, 0, cut);
      }
      context.setLineDash(air ? [3, 4] : []);
      const drawn = air ? ink("ink") : ink("cursor");
      for (const [path, wide, colour] of [[all, 1, ink("to-come")], [run, 3, ink("halo")], [run, 1.5, drawn]]) {
        context.lineWidth = wide;
        context.strokeStyle = colour;
        context.stroke(path);
      }
      context.setLineDash([]);
    }
  }

  // Adds a stroke to a path.
  stroke(path, i, from, to) {
    const { stroke } = this.facts.story;
    const sOf = (share) => stroke.fromS[i] + (stroke.toS[i] - stroke.fromS[i]) * share;
    const radOf = (share) => stroke.fromRad[i] + (stroke.toRad[i] - stroke.fromRad[i]) * share;
    const turn = stroke.toRad[i] - stroke.fromRad[i];
    // Cut where the line leaves the map at the top or the bottom and comes back at the other side.
    const edge = -Math.PI / this.facts.grid.rows;
    const shares = [from, to];
    if (turn !== 0) {
      const turns = [radOf(from), radOf(to)].map((rad) => (rad - edge) / (2 * Math.PI));
      for (let k = Math.ceil(Math.min(...turns)); k <= Math.max(...turns); k++) {
        shares.push((edge + 2 * Math.PI * k - stroke.fromRad[i]) / turn);
      }
      shares.sort((a, b) => a - b);
    }
    for (let k = 1; k < shares.length; k++) {
      const inside = this.y(radOf((shares[k - 1] + shares[k]) / 2));
      const half = ((radOf(shares[k]) - radOf(shares[k - 1])) / 4 / Math.PI) * (this.plot.bottom - this.plot.top);
      path.moveTo(this.x(sOf(shares[k - 1])), inside + half);
      path.lineTo(this.x(sOf(shares[k])), inside - half);
    }
  }

  legend() {
    const box = document.getElementById("legend");
    if (this.paint === "pass") {
      const most = this.facts.story.trips.reduce((most, _, trip) => Math.max(most, this.tripNumber(trip)), 0);
      const chips = Array.from({ length: Math.min(most, 8) }, (_, i) => `<i style="background:${category(i)}"></i>${i + 1}`);
      const more = most > 8 ? " and again" : "";
      box.innerHTML = `<span class="chips">${chips.join(" ")}${more}</span>`;
      return;
    }
    const [low, high] = this.paint === "depth"
      ? [units.length(0), `${units.length(this.deepest)} below the ${this.facts.drawing ? "crest" : "blank"}`]
      : [`${units.length(-this.within)} too deep`, `${units.length(this.within)} left`];
    box.innerHTML = `<span>${low}</span><i class="ramp" style="background:linear-gradient(90deg,${CIVIDIS.join()})"></i><span>${high}</span>`;
  }
}

function line(context, x0, y0, x1, y1) {
  context.beginPath();
  context.moveTo(x0, y0);
  context.lineTo(x1, y1);
  context.stroke();
}

// Findings by shape as well as colour: an octagon stops, a triangle wants thought, a circle notes.
function signOutline(severity, x, y, size) {
  const [corners, turn] = { stop: [8, Math.PI / 8], care: [3, -Math.PI / 2], note: [24, 0] }[severity];
  const radius = severity === "care" ? size * 1.2 : size;
  return Array.from({ length: corners }, (_, i) => {
    const angle = turn + (2 * Math.PI * i) / corners;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });
}

function drawSign(context, severity, x, y, size) {
  context.beginPath();
  for (const [px, py] of signOutline(severity, x, y, size)) context.lineTo(px, py);
  context.closePath();
  context.fillStyle = ink(severity);
  context.fill();
  context.lineWidth = 1.5;
  // Amber is too light for a light page: it gets an edge of its own.
  context.strokeStyle = ink(severity === "care" ? "care-edge" : "halo");
  context.stroke();
}
