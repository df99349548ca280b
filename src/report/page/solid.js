// The carved wood as a solid that can be turned in the hand. Draws when something has changed, never on its own.

class SolidView {
  // Null when this browser draws no solids.
  static open(inspection) {
    const box = document.getElementById("solid");
    const canvas = document.createElement("canvas");
    const gl = canvas.getContext("webgl2", { antialias: true, preserveDrawingBuffer: true });
    if (!gl || gl.getParameter(gl.MAX_TEXTURE_SIZE) < inspection.facts.grid.stations) return null;
    box.append(canvas);
    return new SolidView(inspection, box, canvas, gl);
  }

  constructor(inspection, box, canvas, gl) {
    Object.assign(this, inspection, { box, canvas, gl });
    this.programs = {
      wood: linked(gl, WOOD_VERTEX, WOOD_FRAGMENT),
      body: linked(gl, BODY_VERTEX, BODY_FRAGMENT),
      path: linked(gl, PATH_VERTEX, PATH_FRAGMENT),
    };
    gl.enable(gl.DEPTH_TEST);
    this.makeTable();
    this.path = gl.createBuffer();
    this.frames = 0;
    // Until a frame has been timed, the machine is taken to be slow.
    this.slow = true;
    this.roll = 0;
    this.look("quarter");
    this.controls();
    this.cursor.onChange((what) => what.has("moment") && this.later(true));
    new ResizeObserver(() => this.resize()).observe(box);
  }

  makeTable() {
    const { gl } = this;
    const { stations, rows } = this.facts.grid;
    this.table = gl.createTexture();
    gl.bindTexture(gl.TEXTURE_2D, this.table);
    gl.texStorage2D(gl.TEXTURE_2D, 1, gl.R16UI, stations, rows);
    for (const side of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.texParameteri(gl.TEXTURE_2D, side, gl.NEAREST);
    gl.pixelStorei(gl.UNPACK_ALIGNMENT, 2);
  }

  controls() {
    for (const button of document.querySelectorAll("[data-look]")) {
      button.addEventListener("click", () => {
        this.byHand = false;
        this.look(button.dataset.look);
        this.later();
      });
    }
    this.showPath = document.getElementById("show-path");
    this.showCutter = document.getElementById("show-cutter");
    this.onMachine = document.getElementById("on-machine");
    for (const box of [this.showPath, this.showCutter, this.onMachine]) box.addEventListener("change", () => this.later());
    this.box.addEventListener("pointerdown", (event) => {
      this.box.setPointerCapture(event.pointerId);
      this.drag = [event.clientX, event.clientY];
    });
    this.box.addEventListener("pointermove", (event) => {
      if (!(event.buttons & 3) || !this.drag) return;
      const [dx, dy] = [event.clientX - this.drag[0], event.clientY - this.drag[1]];
      this.drag = [event.clientX, event.clientY];
      if (event.shiftKey || event.buttons & 2) this.slide(dx, dy);
      else this.turn(dx * 0.008, dy * 0.008);
    });
    this.box.addEventListener("contextmenu", (event) => event.preventDefault());
    this.box.addEventListener("wheel", (event) => {
      event.preventDefault();
      this.come(Math.exp(clamp(event.deltaY, -200, 200) * 0.0015));
    }, { passive: false });
    this.box.addEventListener("keydown", (event) => {
      const turns = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] };
      if (turns[event.key]) this.turn(...turns[event.key]);
      else if (event.key === "+" || event.key === "=") this.come(0.8);
      else if (event.key === "-") this.come(1.25);
      else return;
      event.preventDefault();
    });
  }

  turn(yaw, pitch) {
    this.byHand = true;
    this.yaw += yaw;
    this.pitch = clamp(this.pitch + pitch, -1.55, 1.55);
    this.later();
  }

  come(times) {
    this.byHand = true;
    this.distance = clamp(this.distance * times, this.thick * 1.2, this.long * 6);
    this.later();
  }

  slide(dx, dy) {
    this.byHand = true;
    const { right, up } = this.camera();
    const scale = this.distance / this.canvas.clientHeight / 2;
    this.target = this.target.map((value, i) => value - right[i] * dx * scale + up[i] * dy * scale);
    this.later();
  }

  look(from) {
    const { grid } = this.facts;
    this.looked = from;
    this.distance ??= 1;
    this.long = grid.step * (grid.stations - 1);
    this.thick = Math.max(...grid.blank) * 2;
    this.target = [grid.from + this.long / 2, 0, 0];
    const stand = this.wood.stand(this.cursor.motion, this.cursor.share);
    const looks = { quarter: [-0.42, 0.4], side: [0, 0], end: [-1.25, 0.28], near: [-0.35, 0.5] };
    [this.yaw, this.pitch] = looks[from];
    this.roll = from === "near" ? 0.5 - stand.rad : 0;
    this.distance = from === "end" || from === "near" ? this.thick * 3.4 : this.distanceOfWhole();
    if (from === "end") this.target = [grid.from + this.thick * 0.6, 0, 0];
    if (from === "near") this.target = [clamp(stand.s, grid.from, grid.from + this.long), 0, 0];
  }

  // The distance at which all of the wood, and a little of the chuck, is in sight.
  distanceOfWhole() {
    const { back, right, up } = this.camera();
    const high = Math.tan(VIEW_ANGLE / 2) * 0.94;
    const wide = high * (this.canvas.clientWidth / Math.max(this.canvas.clientHeight, 1) || 3);
    const along = (axis, corner) => axis.reduce((sum, value, i) => sum + value * corner[i], 0);
    let distance = 0;
    for (const x of [-this.long / 2 - this.thick * 0.7, this.long / 2 + this.thick * 0.3]) {
      for (const [y, z] of [[1, 1], [1, -1], [-1, 1], [-1, -1]]) {
        const corner = [x, (y * this.thick) / 2, (z * this.thick) / 2];
        const out = Math.max(Math.abs(along(right, corner)) / wide, Math.abs(along(up, corner)) / high);
        distance = Math.max(distance, out + along(back, corner));
      }
    }
    return distance;
  }

  camera() {
    const [cy, sy, cp, sp] = [Math.cos(this.yaw), Math.sin(this.yaw), Math.cos(this.pitch), Math.sin(this.pitch)];
    const back = [sy * cp, sp, cy * cp];
    const right = [cy, 0, -sy];
    const up = cross(back, right);
    const eye = this.target.map((value, i) => value + back[i] * this.distance);
    return { back, right, up, eye };
  }

  matrix() {
    const { back: behind, right, up, eye } = this.camera();
    const seen = [right, up, behind];
    const look = new Float32Array(16);
    seen.forEach((axis, row) => {
      for (let i = 0; i < 3; i++) look[i * 4 + row] = axis[i];
      look[12 + row] = -(axis[0] * eye[0] + axis[1] * eye[1] + axis[2] * eye[2]);
    });
    look[15] = 1;
    const near = Math.max(this.distance - this.long * 1.2, this.thick * 0.1, 1);
    const far = this.distance + this.long * 1.5;
    const f = 1 / Math.tan(VIEW_ANGLE / 2);
    const wide = this.canvas.width / this.canvas.height;
    const lens = new Float32Array([f / wide, 0, 0, 0, 0, f, 0, 0, 0, 0, (far + near) / (near - far), -1, 0, 0, (2 * far * near) / (near - far), 0]);
    const roll = this.onMachine?.checked ? -this.wood.stand(this.cursor.motion, this.cursor.share).rad : this.roll;
    const [c, s] = [Math.cos(roll), Math.sin(roll)];
    // What the shaders compare with the wood is turned back with it.
    const back = ([x, y, z]) => [x, y * c + z * s, z * c - y * s];
    return {
      view: times(times(lens, look), new Float32Array([1, 0, 0, 0, 0, c, s, 0, 0, -s, c, 0, 0, 0, 0, 1])),
      eye: back(eye),
      key: back([-0.339, 0.776, 0.533]),
      side: back([0.742, 0.212, 0.636]),
      sky: back([0, 1, 0]),
    };
  }

  resize() {
    const dots = Math.min(window.devicePixelRatio || 1, 2);
    this.canvas.width = Math.round(this.box.clientWidth * dots);
    this.canvas.height = Math.round(this.box.clientHeight * dots);
    // What was not turned by hand goes on fitting into its frame.
    if (!this.byHand) this.look(this.looked);
    this.later();
  }

  // Draws in the next frame; a slow machine gets a coarser picture at once and the fine one when things rest.
  later(woodChanged = false) {
    this.woodChanged ||= woodChanged;
    clearTimeout(this.resting);
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      this.draw(this.slow ? 3 : 1);
      if (this.slow) this.resting = setTimeout(() => this.draw(1), 250);
    });
  }

  draw(skip) {
    const { gl } = this;
    if (!this.canvas.width || !this.canvas.height) return;
    const begun = performance.now();
    if (this.woodChanged || this.frames === 0) this.fillTable();
    gl.viewport(0, 0, this.canvas.width, this.canvas.height);
    gl.clearColor(...rgb(ink("well")).map((value) => value / 255), 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    const look = this.matrix();
    this.drawWood(look, skip);
    this.drawBodies(look);
    if (this.showPath.checked) this.drawPath(look);
    this.frames++;
    if (this.frames === 1) {
      gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
      this.slow = performance.now() - begun > SLOW_MS;
    }
  }

  fillTable() {
    const { gl } = this;
    const { stations, rows } = this.facts.grid;
    gl.bindTexture(gl.TEXTURE_2D, this.table);
    gl.texSubImage2D(gl.TEXTURE_2D, 0, 0, 0, stations, rows, gl.RED_INTEGER, gl.UNSIGNED_SHORT, this.wood.radius);
    this.woodChanged = false;
  }

  drawWood({ view, eye, key, side, sky }, skip) {
    const { gl } = this;
    const { stations, rows, from, step, radiusStep, blank } = this.facts.grid;
    const { program, at } = this.programs.wood;
    const { drawing, wood } = this.facts;
    const top = drawing ? drawing.crest : Math.max(...blank);
    gl.useProgram(program);
    gl.bindTexture(gl.TEXTURE_2D, this.table);
    gl.uniform1i(at("wood"), 0);
    gl.uniform2i(at("size"), stations, rows);
    gl.uniform2i(at("skip"), skip, skip > 1 ? 2 : 1);
    gl.uniform3f(at("along"), from, step, radiusStep);
    gl.uniformMatrix4fv(at("view"), false, view);
    gl.uniform3fv(at("light"), rgb(wood.light).map((value) => value / 255));
    gl.uniform3fv(at("dark"), rgb(wood.dark).map((value) => value / 255));
    for (const [name, way] of Object.entries({ eye, key, side, sky })) gl.uniform3fv(at(name), way);
    gl.uniform2f(at("depths"), drawing ? drawing.root : top * 0.8, top);
    gl.uniform1f(at("slant"), drawing ? (drawing.hand * drawing.lead) / rows / step : 0);
    gl.uniform1i(at("cap"), 0);
    const bands = rows / (skip > 1 ? 2 : 1);
    const lean = drawing ? Math.abs((drawing.lead / rows / step) * (skip > 1 ? 2 : 1)) : 0;
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 2 * (Math.ceil((stations - 1 + lean) / skip) + 1), bands);
    gl.uniform1i(at("cap"), 1);
    gl.drawArrays(gl.TRIANGLES, 0, 3 * bands);
  }

  drawBodies(look) {
    const { chuck, centre, blank } = this.facts.setup;
    const { cutter } = this.cursor.program;
    const steel = [0.62, 0.64, 0.66];
    const long = Math.max(blank.to - chuck.face, 25);
    this.body(look, [[0, 0], [0, chuck.radius], [long, chuck.radius], [long, 0]], alongMatrix(chuck.face), [0.4, 0.42, 0.44]);
    if (centre) {
      const point = centre.radius / Math.tan((centre.angle * Math.PI) / 360);
      this.body(look, [[-3, 0], [point - 3, centre.radius], [point + 22, centre.radius], [point + 22, 0]], alongMatrix(blank.from, -1), steel);
    }
    if (!this.showCutter.checked) return;
    const stand = this.wood.stand(this.cursor.motion, this.cursor.share);
    this.body(look, cutterProfile(cutter), standMatrix(stand), [0.74, 0.76, 0.78]);
  }

  body({ view, eye, key, sky }, profile, stand, tone) {
    const { gl } = this;
    const { program, at } = this.programs.body;
    gl.useProgram(program);
    gl.uniformMatrix4fv(at("view"), false, view);
    gl.uniformMatrix4fv(at("stand"), false, stand);
    gl.uniform2fv(at("profile"), new Float32Array(profile.flat()));
    for (const [name, way] of Object.entries({ tone, eye, key, sky })) gl.uniform3fv(at(name), way);
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 2 * 49, profile.length - 1);
  }

  // The trip of the present moment, up to where the cutter stands.
  drawPath({ view }) {
    const { gl } = this;
    const { motion, share } = this.cursor;
    if (motion < 0) return;
    const { rapid, stroke } = this.facts.story;
    const [from] = this.stretchOf(motion);
    const { program, at } = this.programs.path;
    gl.useProgram(program);
    gl.uniformMatrix4fv(at("view"), false, view);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.path);
    const slot = gl.getAttribLocation(program, "point");
    gl.enableVertexAttribArray(slot);
    gl.vertexAttribPointer(slot, 4, gl.FLOAT, false, 0, 0);
    const last = this.wood.strokesOf(motion)[1];
    // Strokes that go on from each other in the same manner are drawn as one line.
    for (let i = this.wood.strokesOf(from)[0]; i <= last; ) {
      const air = rapid[stroke.motion[i]];
      const parts = [];
      for (; i <= last && rapid[stroke.motion[i]] === air; i++) parts.push(this.points(i, stroke.motion[i] === motion ? share : 1));
      const points = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
      let [filled, way] = [0, 0];
      for (const part of parts) {
        points.set(part, filled);
        for (let k = 3; k < part.length; k += 4) points[filled + k] += way;
        filled += part.length;
        way = points[filled - 1];
      }
      gl.uniform3fv(at("tone"), rgb(ink(air ? "quiet" : "cursor")).map((value) => value / 255));
      gl.uniform1i(at("dashed"), air);
      gl.bufferData(gl.ARRAY_BUFFER, points, gl.STREAM_DRAW);
      gl.drawArrays(gl.LINE_STRIP, 0, points.length / 4);
    }
    gl.disableVertexAttribArray(slot);
  }

  points(i, share) {
    const { stroke: s } = this.facts.story;
    const turn = s.toRad[i] - s.fromRad[i];
    const count = Math.max(1, Math.ceil(Math.abs(turn * share) / 0.09));
    const points = new Float32Array(4 * (count + 1));
    let way = 0;
    for (let k = 0; k <= count; k++) {
      const part = (share * k) / count;
      const stand = {
        s: s.fromS[i] + (s.toS[i] - s.fromS[i]) * part,
        rad: s.fromRad[i] + turn * part,
        tip: s.fromTip[i] + (s.toTip[i] - s.fromTip[i]) * part + 0.2,
        beside: s.fromBeside[i] + (s.toBeside[i] - s.fromBeside[i]) * part,
      };
      const [x, y, z] = [stand.s, ...acrossOf(stand)];
      if (k > 0) way += Math.hypot(x - points[4 * k - 4], y - points[4 * k - 3], z - points[4 * k - 2]);
      points.set([x, y, z, way], 4 * k);
    }
    return points;
  }
}

const VIEW_ANGLE = 0.5;
// A frame that takes longer than this is drawn coarser while things move.
const SLOW_MS = 45;

// The tip's place across the axis: angle 0 is up, a quarter turn on is towards the viewer.
function acrossOf({ rad, tip, beside }) {
  const [c, s] = [Math.cos(rad), Math.sin(rad)];
  return [tip * c - beside * s, tip * s + beside * c];
}

// From a body that stands on its tip to its place on the blank.
function standMatrix(stand) {
  const [c, s] = [Math.cos(stand.rad), Math.sin(stand.rad)];
  const [y, z] = acrossOf(stand);
  return new Float32Array([1, 0, 0, 0, 0, c, s, 0, 0, -s, c, 0, stand.s, y, z, 1]);
}

// From a body that stands on its tip to one that lies along the axis, pointing from `at` towards the head (or the nose).
function alongMatrix(at, way = 1) {
  return new Float32Array([0, -way, 0, 0, way, 0, 0, 0, 0, 0, 1, 0, at, 0, 0, 1]);
}

function cross(a, b) {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

// Product of two matrices, columns first.
function times(a, b) {
  const product = new Float32Array(16);
  for (let column = 0; column < 4; column++) {
    for (let row = 0; row < 4; row++) {
      for (let k = 0; k < 4; k++) product[column * 4 + row] += a[k * 4 + row] * b[column * 4 + k];
    }
  }
  return product;
}

function linked(gl, vertex, fragment) {
  const program = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(shader));
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(program));
  const places = new Map();
  const at = (name) => {
    if (!places.has(name)) places.set(name, gl.getUniformLocation(program, name));
    return places.get(name);
  };
  return { program, at };
}
