// The wood at a moment of the cut: for every cell its radius and the motion that cut it last. A moment is a motion and
// the share of it that has been run.

class Wood {
  constructor(facts, history) {
    this.grid = facts.grid;
    this.story = facts.story;
    this.history = history;
    const { rows, stations, radiusStep, blank } = facts.grid;
    this.blank = Uint16Array.from(blank, (mm) => Math.round(mm / radiusStep));
    // Cuts of each cell that have been made so far, as the place behind the last of them.
    this.made = history.first.slice(0, rows * stations);
    this.radius = new Uint16Array(rows * stations);
    this.moment = { motion: -1, share: 1 };
    for (let row = 0; row < rows; row++) this.radius.fill(this.blank[row], row * stations, (row + 1) * stations);
  }

  // Brings the wood to a moment, forwards or backwards.
  bringTo(motion, share) {
    const { first, motion: by, radius: to } = this.history;
    const { rows, stations } = this.grid;
    const { made, radius, blank } = this;
    const run = share < 1 ? this.runOf(motion) : null;
    // Cuts of motions before this one are made; its own where the cutter has passed.
    const whole = run ? motion - 1 : motion;
    for (let row = 0, cell = 0; row < rows; row++) {
      for (let column = 0; column < stations; column++, cell++) {
        const start = first[cell];
        const end = first[cell + 1];
        if (start === end) continue;
        let at = made[cell];
        while (at < end && by[at] <= whole) at++;
        while (at > start && by[at - 1] > whole) at--;
        if (run && at < end && by[at] === motion && run(row, column) <= share) {
          while (at < end && by[at] === motion) at++;
        }
        if (at !== made[cell]) {
          made[cell] = at;
          radius[cell] = at > first[cell] ? to[at - 1] : blank[row];
        }
      }
    }
    this.moment = { motion, share };
  }

  // The share of a motion at which the cutter passes a cell.
  runOf(motion) {
    const { from, to } = this.ends(motion);
    const { rows, stations, step, from: origin } = this.grid;
    const turn = to.rad - from.rad;
    const way = to.s - from.s;
    const round = 2 * Math.PI;
    if (Math.abs(turn) < 1e-9) {
      return Math.abs(way) < 1e-9 ? () => 1 : (row, column) => clamp((origin + step * column - from.s) / way, 0, 1);
    }
    return (row, column) => {
      const angle = (round * row) / rows;
      const along = Math.abs(way) < 1e-9 ? from.rad : from.rad + ((origin + step * column - from.s) / way) * turn;
      const turns = Math.abs(way) < 1e-9 ? Math.ceil((along - angle) / round) : Math.round((along - angle) / round);
      return clamp((angle + round * turns - from.rad) / turn, 0, 1);
    };
  }

  // Where a motion begins and ends in the frame of the blank.
  ends(motion) {
    const [first, last] = this.strokesOf(motion);
    const s = this.story.stroke;
    return {
      from: { s: s.fromS[first], rad: s.fromRad[first], tip: s.fromTip[first], beside: s.fromBeside[first] },
      to: { s: s.toS[last], rad: s.toRad[last], tip: s.toTip[last], beside: s.toBeside[last] },
    };
  }

  strokesOf(motion) {
    if (!this.strokeStart) {
      const motions = this.story.line.length;
      this.strokeStart = new Uint32Array(motions + 1);
      for (const m of this.story.stroke.motion) this.strokeStart[m + 1]++;
      for (let m = 0; m < motions; m++) this.strokeStart[m + 1] += this.strokeStart[m];
    }
    return [this.strokeStart[motion], this.strokeStart[motion + 1] - 1];
  }

  // Where the cutter stands at a moment.
  stand(motion, share) {
    const s = this.story.stroke;
    if (motion < 0) {
      return { s: s.fromS[0], rad: s.fromRad[0], tip: s.fromTip[0], beside: s.fromBeside[0] };
    }
    const [first, last] = this.strokesOf(motion);
    const at = clamp(share, 0, 1) * (last - first + 1);
    const stroke = Math.min(first + Math.floor(at), last);
    const part = at - (stroke - first);
    const mix = (from, to) => from[stroke] + (to[stroke] - from[stroke]) * part;
    return {
      s: mix(s.fromS, s.toS),
      rad: mix(s.fromRad, s.toRad),
      tip: mix(s.fromTip, s.toTip),
      beside: mix(s.fromBeside, s.toBeside),
    };
  }

  radiusAt(row, column) {
    return this.radius[row * this.grid.stations + column] * this.grid.radiusStep;
  }

  // The motion that cut a cell last, or -1.
  cutBy(row, column) {
    const cell = row * this.grid.stations + column;
    return this.made[cell] > this.history.first[cell] ? this.history.motion[this.made[cell] - 1] : -1;
  }

  column(s) {
    return clamp(Math.round((s - this.grid.from) / this.grid.step), 0, this.grid.stations - 1);
  }

  row(rad) {
    const { rows } = this.grid;
    return ((Math.round((rad / (2 * Math.PI)) * rows) % rows) + rows) % rows;
  }

  station(column) {
    return this.grid.from + this.grid.step * column;
  }

  angle(row) {
    return (2 * Math.PI * row) / this.grid.rows;
  }
}

function clamp(value, least, most) {
  return Math.min(Math.max(value, least), most);
}
