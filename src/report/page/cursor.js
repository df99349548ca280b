// The one cursor: a moment of the cut and a place on the blank. Whoever shows something listens; changes of one turn of
// the event loop are shown together, in the next frame.

class Cursor {
  constructor(wood, programs) {
    this.wood = wood;
    this.programs = programs;
    const minutes = wood.story.minutes;
    this.start = new Float64Array(minutes.length + 1);
    minutes.forEach((length, i) => (this.start[i + 1] = this.start[i] + length));
    this.total = this.start[minutes.length];
    this.motion = minutes.length - 1;
    this.share = 1;
    this.s = 0;
    this.rad = 0;
    this.listeners = [];
    this.waiting = new Set();
    this.scriptMs = 0;
  }

  // `what` is "moment" or "place"; the listener is told which of them changed.
  onChange(listener) {
    this.listeners.push(listener);
  }

  tell(what) {
    if (!this.waiting.size) requestAnimationFrame(() => this.flush());
    this.waiting.add(what);
  }

  flush() {
    const what = this.waiting;
    if (!what.size) return;
    this.waiting = new Set();
    const begun = performance.now();
    if (what.has("moment")) this.wood.bringTo(this.motion, this.share);
    for (const listener of this.listeners) listener(what);
    this.scriptMs = performance.now() - begun;
  }

  get minutes() {
    return this.motion < 0 ? 0 : this.start[this.motion] + (this.start[this.motion + 1] - this.start[this.motion]) * this.share;
  }

  // To a time; the place follows the cutter.
  toMinutes(minutes) {
    const time = clamp(minutes, 0, this.total);
    let [low, high] = [0, this.start.length - 1];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (this.start[middle] <= time) low = middle;
      else high = middle;
    }
    const length = this.start[low + 1] - this.start[low];
    this.toMotion(time <= 0 ? -1 : low, length > 0 ? (time - this.start[low]) / length : 1);
  }

  // To a share of a motion; -1 is the blank before anything moves.
  toMotion(motion, share = 1, follow = true) {
    this.motion = clamp(motion, -1, this.start.length - 2);
    this.share = this.motion < 0 ? 1 : share;
    this.tell("moment");
    if (follow) {
      const stand = this.wood.stand(this.motion, this.share);
      this.toPlace(stand.s, stand.rad);
    }
  }

  toPlace(s, rad) {
    const { from, step, stations } = this.wood.grid;
    this.s = clamp(s, from, from + step * (stations - 1));
    this.rad = rad - 2 * Math.PI * Math.floor(rad / (2 * Math.PI));
    this.tell("place");
  }

  // The last motion of a line of a program, or of the nearest line before it that moves; lines may run more than once.
  motionOfLine(line, part = this.part) {
    const lines = this.wood.story.line;
    const { from, to } = this.programs[part];
    let found = from - 1;
    let nearest = 0;
    for (let m = from; m < to; m++) {
      if (lines[m] > line || lines[m] < nearest) continue;
      nearest = lines[m];
      found = m;
    }
    return found;
  }

  // Which program a motion belongs to.
  partOf(motion) {
    return Math.max(this.programs.findIndex((program) => motion < program.to), 0);
  }

  get part() {
    return this.partOf(this.motion);
  }

  // The program at the cursor.
  get program() {
    return this.programs[this.part];
  }

  get line() {
    return this.motion < 0 ? 0 : this.wood.story.line[this.motion];
  }

  get row() {
    return this.wood.row(this.rad);
  }

  get column() {
    return this.wood.column(this.s);
  }
}
