// The cut in time: what the cutter does, how fast it goes through the wood and how much wood it takes away.

class Times {
  constructor(inspection) {
    Object.assign(this, inspection);
    this.box = document.getElementById("times");
    this.canvas = document.getElementById("times-lanes");
    this.slider = document.getElementById("moment");
    this.slider.max = this.cursor.total;
    this.lanes = this.lanesOf();
    this.box.classList.toggle("bare", !this.lanes.length);
    this.controls();
    this.cursor.onChange((what) => what.has("moment") && this.draw());
    new ResizeObserver(() => this.resize()).observe(this.box);
  }

  lanesOf() {
    const load = (name) => this.facts.story.line.map((_, motion) => this.loadOf(motion)?.[name] ?? 0);
    if (!this.facts.programs.some(({ loads }) => loads)) return [];
    return [
      { name: "feed along the wood", values: load("speed"), show: units.speed },
      { name: "wood taken away", values: load("rate"), show: units.rate },
    ].map((lane) => ({ ...lane, most: lane.values.reduce((most, value) => Math.max(most, value), 1e-9) }));
  }

  controls() {
    const on = (id, act) => document.getElementById(id).addEventListener("click", act);
    const { cursor } = this;
    this.slider.addEventListener("input", () => cursor.toMinutes(+this.slider.value));
    this.slider.addEventListener("keydown", (event) => {
      const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 };
      if (steps[event.key]) this.step(steps[event.key]);
      else if (event.key === "PageUp" || event.key === "PageDown") this.trip(event.key === "PageUp" ? 1 : -1);
      else if (event.key === "Home") cursor.toMotion(-1);
      else if (event.key === "End") cursor.toMotion(Infinity);
      else return;
      event.preventDefault();
    });
    on("go-start", () => cursor.toMotion(-1));
    on("go-back", () => this.step(-1));
    on("go-on", () => this.step(1));
    on("go-end", () => cursor.toMotion(Infinity));
    on("go-play", () => (this.playing ? this.rest() : this.play()));
    this.canvas.addEventListener("pointerdown", (event) => {
      const { left, right } = this.plot;
      cursor.toMinutes(((event.offsetX - left) / (right - left)) * cursor.total);
    });
  }

  // To the end of this line, or of the line before or after.
  step(by) {
    const { cursor } = this;
    if (by < 0 && cursor.share < 1) cursor.toMotion(cursor.motion - 1);
    else cursor.toMotion(cursor.motion + (cursor.share < 1 ? 0 : by));
  }

  trip(by) {
    const { trips } = this.facts.story;
    const { motion } = this.cursor;
    const next = by > 0 ? trips.find((trip) => trip.to > motion) : trips.findLast((trip) => trip.to < motion);
    this.cursor.toMotion(next ? next.to : by > 0 ? Infinity : -1);
  }

  play() {
    if (this.cursor.minutes >= this.cursor.total - 1e-9) this.cursor.toMotion(-1);
    this.playing = true;
    this.button();
    let before = performance.now();
    const frame = (now) => {
      if (!this.playing) return;
      this.cursor.toMinutes(this.cursor.minutes + ((now - before) / 1000) * (this.cursor.total / RUN_SECONDS));
      before = now;
      if (this.cursor.minutes >= this.cursor.total - 1e-9) this.rest();
      else requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  }

  rest() {
    this.playing = false;
    this.button();
  }

  button() {
    const button = document.getElementById("go-play");
    button.textContent = this.playing ? "rest" : "run";
    button.setAttribute("aria-pressed", this.playing);
  }

  resize(wide = this.box.clientWidth, high = this.canvas.clientHeight, dots = Math.max(window.devicePixelRatio, 1)) {
    if (!wide || !high) return;
    this.area = [wide, high];
    this.canvas.width = Math.round(wide * dots);
    this.canvas.height = Math.round(high * dots);
    this.canvas.getContext("2d").setTransform(dots, 0, 0, dots, 0, 0);
    this.plot = { left: 138, right: wide - 14 };
    // The middle of the thumb runs along the lanes.
    this.slider.style.marginLeft = `${this.plot.left - 9}px`;
    this.slider.style.width = `${this.plot.right - this.plot.left + 18}px`;
    this.drawLanes();
    this.draw();
  }

  x(minutes) {
    return this.plot.left + (minutes / Math.max(this.cursor.total, 1e-9)) * (this.plot.right - this.plot.left);
  }

  // What stays the same while the cut goes on.
  drawLanes() {
    if (!this.plot) return;
    const context = this.canvas.getContext("2d");
    const [wide, high] = this.area;
    context.clearRect(0, 0, wide, high);
    context.font = ink("small-type");
    this.moves(context);
    this.lanes.forEach((lane, i) => this.lane(context, lane, 30 + i * 36, 28));
    this.axis(context, high);
    this.programs(context, high);
    this.findings(context);
  }

  // Where one program ends and the cutter is changed for the next.
  programs(context, high) {
    const { programs } = this.facts;
    context.strokeStyle = ink("ink");
    for (const { from } of programs.slice(1)) {
      const x = Math.round(this.x(this.cursor.start[from])) + 0.5;
      context.setLineDash([2, 3]);
      line(context, x, 0, x, high - 20);
    }
    context.setLineDash([]);
  }

  draw() {
    const { cursor } = this;
    this.slider.value = cursor.minutes;
    const trip = this.tripOf(cursor.motion);
    const words = cursor.motion < 0
      ? "the blank before the cut"
      : `${this.lineName(cursor.motion)}, ${units.minutes(cursor.minutes)} of ${units.minutes(cursor.total)}${trip < 0 ? "" : `, ${this.tripName(trip)}`}`;
    document.getElementById("now").textContent = words;
    this.slider.setAttribute("aria-valuetext", words);
    if (this.plot) document.getElementById("needle").style.transform = `translateX(${this.x(cursor.minutes).toFixed(1)}px)`;
  }

  moves(context) {
    const { rapid, cuts, line: lines } = this.facts.story;
    this.label(context, "moves", 11);
    for (let m = 0; m < lines.length; m++) {
      const [a, b] = [this.x(this.cursor.start[m]), this.x(this.cursor.start[m + 1])];
      const high = cuts[m] ? 14 : rapid[m] ? 3 : 7;
      context.fillStyle = ink(cuts[m] ? "cutting" : rapid[m] ? "rapid" : "air");
      context.fillRect(a, 10 - high / 2, Math.max(b - a - (cuts[m] ? 0.5 : 0), 0.5), high);
    }
    context.textAlign = "center";
    context.textBaseline = "middle";
    context.fillStyle = ink("on-cutting");
    this.facts.story.trips.forEach((trip, i) => {
      const [a, b] = [this.x(this.cursor.start[trip.from]), this.x(this.cursor.start[trip.to + 1])];
      if (b - a > 16) context.fillText(this.tripNumber(i), (a + b) / 2, 10.5);
    });
  }

  lane(context, { name, values, most, show }, top, high) {
    this.label(context, name, top + 9, show(most));
    context.beginPath();
    context.moveTo(this.plot.left, top + high);
    values.forEach((value, m) => {
      const y = top + high - (value / most) * (high - 2);
      context.lineTo(this.x(this.cursor.start[m]), y);
      context.lineTo(this.x(this.cursor.start[m + 1]), y);
    });
    context.lineTo(this.plot.right, top + high);
    context.fillStyle = ink("lane");
    context.fill();
    context.strokeStyle = ink("lane-edge");
    context.lineWidth = 1;
    context.stroke();
  }

  label(context, name, y, most = "") {
    context.textAlign = "left";
    context.textBaseline = "middle";
    context.fillStyle = ink("ink");
    context.fillText(name, 2, y);
    context.fillStyle = ink("quiet");
    if (most) context.fillText(`to ${most}`, 2, y + 14);
  }

  axis(context, high) {
    const y = high - 19;
    const nice = [0.1, 0.25, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 240].find((step) => this.cursor.total / step <= 12) ?? 480;
    context.strokeStyle = context.fillStyle = ink("quiet");
    context.textAlign = "center";
    context.textBaseline = "top";
    for (let t = 0; t <= this.cursor.total; t += nice) {
      line(context, this.x(t), y, this.x(t), y + 4);
      context.fillText(`${+t.toFixed(2)}`, this.x(t), y + 6);
    }
    context.textAlign = "left";
    context.fillText("minutes", 2, y + 6);
  }

  findings(context) {
    for (const finding of this.facts.findings) {
      if (finding.program === null || finding.line === null) continue;
      const motion = this.cursor.motionOfLine(finding.line, finding.program);
      drawSign(context, finding.severity, this.x(this.cursor.start[motion + 1]), 10, 5);
    }
  }
}

// A run through the whole cut takes so long.
const RUN_SECONDS = 40;
