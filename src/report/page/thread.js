// The drawn thread on the page: which radius the drawing wants at a place, and how far the wood is off it.

class Thread {
  constructor(facts, wood) {
    this.drawing = facts.drawing;
    this.grid = facts.grid;
    if (!this.drawing) return;
    const { lead, starts, section } = this.drawing;
    this.pitch = lead / starts;
    this.cells = 512;
    this.radius = new Float64Array(this.cells + 1);
    this.square = new Float64Array(this.cells + 1);
    for (let i = 0; i <= this.cells; i++) this.radius[i] = this.sectionRadius(section, ((this.pitch / 2) * i) / this.cells);
    for (let i = 0; i <= this.cells; i++) {
      const [a, b] = [Math.max(i - 1, 0), Math.min(i + 1, this.cells)];
      const slope = (this.radius[b] - this.radius[a]) / (((b - a) * this.pitch) / 2 / this.cells);
      this.square[i] = 1 / Math.hypot(1, slope);
    }
    this.shift = this.shiftOf(wood);
  }

  // Radius that the drawing asks of a place beside the thread: of a turned or milled stretch. Null where it asks none.
  turnedRadius(s, rad) {
    const stretch = this.drawing?.stretches.find(({ points, threaded }) => !threaded && s >= points[0][0] && s <= points.at(-1)[0]);
    if (!stretch) return null;
    if (stretch.flats) {
      const [count, fromAxis] = stretch.flats;
      const corner = (2 * Math.PI) / count;
      return Math.min(fromAxis / Math.cos(rad - corner * Math.round(rad / corner)), stretch.points[0][1]);
    }
    for (let i = 1; i < stretch.points.length; i++) {
      const [[s0, r0], [s1, r1]] = [stretch.points[i - 1], stretch.points[i]];
      if (s <= s1) return s1 > s0 ? r0 + ((r1 - r0) * (s - s0)) / (s1 - s0) : r1;
    }
    return stretch.points.at(-1)[1];
  }

  // Radius of the drawn groove at a distance from its middle.
  sectionRadius(section, distance) {
    const { crest } = this.drawing;
    if (distance <= section[0][1]) return section[0][0];
    for (let i = 1; i < section.length; i++) {
      const [[r0, b0], [r1, b1]] = [section[i - 1], section[i]];
      if (distance <= b1) return r0 + ((r1 - r0) * (distance - b0)) / (b1 - b0);
    }
    return crest;
  }

  // How far the grooves of the finished wood stand from where the first start passes the nose face at angle 0: a
  // program may put them elsewhere, and only their shape is looked at here.
  shiftOf(wood) {
    const { rows, stations } = this.grid;
    const { crest, fullFrom, fullTo } = this.drawing;
    let [x, y] = [0, 0];
    for (let row = 0; row < rows; row += 4) {
      for (let column = wood.column(fullFrom + this.pitch); column < wood.column(fullTo - this.pitch); column += 2) {
        const depth = Math.max(crest - wood.radiusAt(row, column), 0);
        const phase = (2 * Math.PI * this.along(wood.station(column), wood.angle(row))) / this.pitch;
        x += depth * Math.cos(phase);
        y += depth * Math.sin(phase);
      }
    }
    const shift = (Math.atan2(y, x) / (2 * Math.PI)) * this.pitch;
    return Math.abs(shift) > 0.25 ? shift : 0;
  }

  along(s, rad) {
    return s - (this.drawing.hand * this.drawing.lead * rad) / (2 * Math.PI);
  }

  // Where the drawing asks for full thread.
  isFull(s) {
    return !!this.drawing?.stands && s >= this.drawing.fullFrom && s <= this.drawing.fullTo;
  }

  cellOf(s, rad) {
    const off = this.along(s, rad) - this.shift;
    const distance = Math.abs(off - this.pitch * Math.round(off / this.pitch));
    return Math.min((distance / (this.pitch / 2)) * this.cells, this.cells);
  }

  drawnRadius(s, rad) {
    const at = this.cellOf(s, rad);
    const low = Math.min(Math.floor(at), this.cells - 1);
    return this.radius[low] + (this.radius[low + 1] - this.radius[low]) * (at - low);
  }

  // How far a radius is off the drawing, square to the section; positive where wood is left.
  deviation(s, rad, radius) {
    const at = this.cellOf(s, rad);
    const low = Math.min(Math.floor(at), this.cells - 1);
    const wanted = this.radius[low] + (this.radius[low + 1] - this.radius[low]) * (at - low);
    // Of the two slopes beside a corner the gentler counts, as in the proof.
    return (radius - wanted) * Math.min(this.square[low], this.square[low + 1]);
  }

  // Which start a helix belongs to that passes a place, from 1.
  startOf(s, rad) {
    const { starts } = this.drawing;
    const off = Math.round((this.along(s, rad) - this.shift) / this.pitch);
    // Turned ahead by one start, a helix stands that much farther back.
    const start = -off * this.drawing.hand;
    return (((start % starts) + starts) % starts) + 1;
  }
}
