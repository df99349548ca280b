// The section along the axis at the cursor: the wood as it stands, the drawn outline, and the cutter when it is there.

class SectionView {
  constructor(inspection) {
    Object.assign(this, inspection);
    this.box = document.getElementById("section");
    const { drawing, grid } = this.facts;
    const top = Math.max(...grid.blank);
    let least = Infinity;
    for (const radius of this.wood.radius) least = Math.min(least, radius);
    const low = drawing ? drawing.root : least * grid.radiusStep;
    const depth = Math.max(top - low, 2);
    this.range = [Math.max(low - 0.55 * depth, 0), top + 0.5 * depth];
    this.cursor.onChange(() => this.draw());
    new ResizeObserver(() => this.draw()).observe(this.box);
  }

  draw(wide = this.box.clientWidth, high = this.box.clientHeight) {
    if (!wide || !high) return;
    const left = 46;
    const [rLow, rHigh] = this.range;
    // One scale both ways, so that angles look as they are.
    const scale = (high - 24) / (rHigh - rLow);
    const half = (wide - left - 6) / scale / 2;
    const view = { left, right: wide - 6, top: 6, bottom: high - 18, scale, from: this.cursor.s - half, to: this.cursor.s + half };
    view.x = (s) => left + (s - view.from) * scale;
    view.y = (r) => 6 + (rHigh - r) * scale;
    const parts = [this.hatch(), this.woodShape(view), this.levels(view), this.outline(view), this.cutter(view), this.cross(view)];
    this.box.innerHTML = `<svg width="${wide}" height="${high}" role="img" aria-label="${this.words()}">${parts.join("")}</svg>`;
    document.getElementById("section-at").textContent =
      `along the axis at ${units.degrees(this.wood.angle(this.cursor.row))}`;
  }

  words() {
    const { row, column } = this.cursor;
    return `section along the axis at ${units.degrees(this.wood.angle(row))}: the wood reaches ${units.length(this.wood.radiusAt(row, column))} from the axis at station ${units.length(this.cursor.s)}`;
  }

  hatch() {
    return `<defs><pattern id="hatching" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V7" class="hatching"/></pattern></defs>`;
  }

  woodShape(view) {
    const { grid } = this.facts;
    const first = this.wood.column(view.from - grid.step);
    const last = this.wood.column(view.to + grid.step);
    const row = this.cursor.row;
    let edge = "";
    for (let column = first; column <= last; column++) {
      edge += `${column === first ? "M" : "L"}${view.x(this.wood.station(column)).toFixed(1)} ${view.y(this.wood.radiusAt(row, column)).toFixed(2)}`;
    }
    const start = view.x(this.wood.station(first)).toFixed(1);
    const body = `${edge}V${view.bottom}H${start}Z`;
    // At the ends of the wood the outline goes down to the axis.
    const ends = `${first === 0 ? `M${start} ${view.y(this.wood.radiusAt(row, 0)).toFixed(2)}V${view.bottom}` : ""}${last === grid.stations - 1 ? `M${view.x(this.wood.station(last)).toFixed(1)} ${view.y(this.wood.radiusAt(row, last)).toFixed(2)}V${view.bottom}` : ""}`;
    const clip = `<clipPath id="section-clip"><rect x="${view.left}" y="${view.top}" width="${view.right - view.left}" height="${view.bottom - view.top}"/></clipPath>`;
    return `${clip}<g clip-path="url(#section-clip)"><path d="${body}" class="cut-wood"/><path d="${body}" fill="url(#hatching)"/><path d="${edge}${ends}" class="edge"/></g>`;
  }

  levels(view) {
    const { drawing } = this.facts;
    const levels = drawing ? [["crest", drawing.crest], ["root", drawing.root]] : [["blank", Math.max(...this.facts.grid.blank)]];
    const marks = levels.map(([name, r]) => {
      const y = view.y(r).toFixed(1);
      // The crest's words stand above its line and the root's below, so that they part however shallow the thread.
      const below = name === "root" ? 11 : -15;
      return `<path d="M${view.left} ${y}H${view.right}" class="level"/><text x="${view.left - 6}" y="${+y + below}" class="end">${name}</text><text x="${view.left - 6}" y="${+y + below + 12}" class="end">${units.number(r)}</text>`;
    });
    const step = roundStep(view.to - view.from, 5);
    for (let s = Math.ceil(view.from / step) * step; s <= view.to; s += step) {
      const x = view.x(s).toFixed(1);
      marks.push(`<path d="M${x} ${view.bottom}v4" class="tick"/><text x="${x}" y="${view.bottom + 15}" class="mid">${units.mark(s, step)}</text>`);
    }
    marks.push(`<text x="${view.left - 6}" y="${view.bottom + 15}" class="end">${units.name}</text>`);
    return marks.join("");
  }

  // The drawn groove, where the drawing asks for one.
  outline(view) {
    if (!this.facts.drawing) return "";
    const rad = this.wood.angle(this.cursor.row);
    let path = "";
    let on = false;
    for (let x = view.left; x <= view.right; x += 1) {
      const s = view.from + (x - view.left) / view.scale;
      const radius = this.thread.isFull(s) ? this.thread.drawnRadius(s, rad) : this.thread.turnedRadius(s, rad);
      if (radius !== null) path += `${on ? "L" : "M"}${x} ${view.y(radius).toFixed(2)}`;
      on = radius !== null;
    }
    return `<path d="${path}" class="drawn"/>`;
  }

  // The cutter's outline while it stands over this row.
  cutter(view) {
    const stand = this.wood.stand(this.cursor.motion, this.cursor.share);
    const off = Math.abs(Math.sin((stand.rad - this.wood.angle(this.cursor.row)) / 2));
    if (this.cursor.motion < 0 || off > Math.PI / this.facts.grid.rows) return "";
    const points = cutterProfile(this.cursor.program.cutter).filter(([, r], i, all) => i < all.length && r >= 0);
    const side = (sign) => points.map(([z, r]) => `${view.x(stand.s + sign * r).toFixed(1)} ${view.y(stand.tip + z).toFixed(1)}`);
    return `<g clip-path="url(#section-clip)"><path d="M${[...side(-1).reverse(), ...side(1)].join("L")}Z" class="cutter"/></g>`;
  }

  cross(view) {
    const x = view.x(this.cursor.s).toFixed(1);
    const y = view.y(this.wood.radiusAt(this.cursor.row, this.cursor.column)).toFixed(1);
    return `<path d="M${x} ${view.top}V${view.bottom}" class="cross"/><circle cx="${x}" cy="${y}" r="4" class="here"/>`;
  }
}

// Heights above the tip and radii of cutter, shank and collet, upwards.
function cutterProfile(cutter) {
  const slope = Math.tan((cutter.angle * Math.PI) / 360);
  const points = [];
  if (cutter.tip.ball > 0) {
    const { ball } = cutter.tip;
    const last = Math.PI / 2 - (cutter.angle * Math.PI) / 360;
    for (let i = 0; i <= 6; i++) {
      const turn = (last * i) / 6;
      points.push([ball * (1 - Math.cos(turn)), ball * Math.sin(turn)]);
    }
  } else {
    points.push([0, 0], [0, cutter.tip.flat]);
  }
  const [foot, radius] = points.at(-1);
  const rim = slope > 0 ? Math.min(foot + (cutter.radius - radius) / slope, cutter.length) : foot;
  points.push([rim, slope > 0 ? radius + (rim - foot) * slope : cutter.radius], [cutter.length, slope > 0 ? radius + (rim - foot) * slope : cutter.radius]);
  points.push([cutter.length, cutter.shank], [cutter.stickOut, cutter.shank], [cutter.stickOut, cutter.collet], [cutter.stickOut + 14, cutter.collet]);
  return points;
}
