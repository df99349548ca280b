// Puts the page together. `window.inspection` lets a script ask what is shown.

function begin({ facts, history }) {
  units.use(facts.unit);
  const wood = new Wood(facts, history);
  const motions = facts.story.line.length;
  wood.bringTo(motions - 1, 1);
  const cursor = new Cursor(wood, facts.programs);
  const thread = new Thread(facts, wood);
  const inspection = { facts, wood, cursor, thread, ...helpers(facts, wood, cursor) };
  window.inspection = inspection;
  head(facts);
  findingsList(inspection);
  inspection.map = new UnrolledMap(inspection);
  inspection.section = new SectionView(inspection);
  inspection.reading = new Reading(inspection);
  inspection.program = new ProgramList(inspection);
  inspection.times = new Times(inspection);
  inspection.figures = new Figures(inspection);
  panels(inspection);
  inspection.whatIf = WhatIf.open(inspection);
  try {
    inspection.solid = SolidView.open(inspection);
  } catch (error) {
    console.warn(`no solid view: ${error.message}`);
    inspection.solid = null;
  }
  if (!inspection.solid) withoutSolid();
  new Paper(inspection);
  cursor.toMotion(motions - 1, 1, false);
  const { drawing, grid } = facts;
  cursor.toPlace(drawing ? (drawing.fullFrom + drawing.fullTo) / 2 : grid.from + (grid.step * grid.stations) / 2, Math.PI / 2);
  requestAnimationFrame(() => requestAnimationFrame(() => (document.documentElement.dataset.ready = "yes")));
  return inspection;
}

function helpers(facts, wood, cursor) {
  const { story, drawing } = facts;
  const tripOf = (motion) => {
    let [low, high] = [0, story.trips.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (story.trips[middle].to < motion) low = middle + 1;
      else high = middle;
    }
    return low < story.trips.length && story.trips[low].from <= motion ? low : -1;
  };
  // The stretch of motions that belongs to a motion: a trip with the moves that lead to it.
  const stretchOf = (motion) => {
    const { from, to } = facts.programs[cursor.partOf(motion)];
    const next = story.trips.findIndex((trip) => trip.to >= motion);
    const first = next < 0 ? story.trips.length : next;
    const begin = first > 0 ? story.trips[first - 1].to + 1 : 0;
    return [Math.max(begin, from), next < 0 ? to - 1 : Math.min(story.trips[next].to, to - 1)];
  };
  const { programs } = facts;
  const loads = new Map(programs.flatMap((program) => program.loads ?? []).map((load) => [load.motion, load]));
  const loadOf = (motion) => loads.get(motion);
  // Passes are counted in each program.
  const tripsOf = programs.map(({ from, to }) => story.trips.map((_, trip) => trip).filter((trip) => story.trips[trip].from >= from && story.trips[trip].to < to));
  const numbers = new Map(tripsOf.flatMap((trips) => trips.map((trip, i) => [trip, i + 1])));
  const tripNumber = (trip) => numbers.get(trip);
  const tripName = (trip) => {
    const { from, tip, s, rad } = story.trips[trip];
    const part = cursor.partOf(from);
    const name = `pass ${tripNumber(trip)} of ${tripsOf[part].length}`;
    if (!programs[part].threads || !drawing) return `${name}, tip ${units.length(tip)} from the axis`;
    const start = drawing.starts > 1 && inspectionThread() ? ` on start ${inspectionThread().startOf(s, rad)}` : "";
    return `${name}${start}, ${units.length(Math.max(drawing.crest - tip, 0))} deep`;
  };
  const lineName = (motion) => (programs.length > 1 ? `${programs[cursor.partOf(motion)].name}, ` : "") + `line ${story.line[motion]}`;
  const inspectionThread = () => window.inspection?.thread;
  const jump = (finding) => {
    const inProgram = finding.program !== null && finding.line !== null;
    const motion = inProgram ? cursor.motionOfLine(finding.line, finding.program) : cursor.motion;
    const placed = finding.s !== null && finding.thetaDeg !== null;
    cursor.toMotion(motion, 1, !placed);
    if (placed) cursor.toPlace(finding.s, (finding.thetaDeg * Math.PI) / 180);
    if (inProgram) window.inspection.program.chosen = [finding.program, finding.line];
  };
  return { tripOf, stretchOf, loadOf, tripName, tripNumber, lineName, jump };
}

function withoutSolid() {
  document.documentElement.dataset.solid = "no";
  const box = document.getElementById("solid");
  const { sheet } = window.inspection.facts;
  if (sheet) {
    // As a picture, so that the style of the drawing keeps to itself.
    const picture = element("img", "", { alt: "shop drawing of the screw", src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(sheet)}` });
    document.getElementById("sheet").append(picture);
  }
  box.textContent = sheet
    ? "This browser draws no solids (WebGL 2 is missing or switched off). The shop drawing stands here instead; map, section and times work as ever."
    : "This browser draws no solids (WebGL 2 is missing or switched off). Map, section and times work as ever.";
  for (const control of document.querySelectorAll("#solid-panel button, #solid-panel input")) control.disabled = true;
}

function themes() {
  const root = document.documentElement;
  const button = document.getElementById("theme");
  const dark = matchMedia("(prefers-color-scheme: dark)");
  button.addEventListener("click", () => useTheme(root.dataset.theme === "dark" ? "light" : "dark"));
  dark.addEventListener("change", () => useTheme(dark.matches ? "dark" : "light"));
  useTheme(dark.matches ? "dark" : "light");
}

function useTheme(theme) {
  document.documentElement.dataset.theme = theme;
  document.getElementById("theme").setAttribute("aria-pressed", theme === "dark");
  inks.clear();
  const { map, times, solid, section } = window.inspection ?? {};
  map?.drawAll();
  times?.drawLanes();
  solid?.later();
  section?.draw();
}

themes();
unpack().then(begin).catch((error) => {
  document.documentElement.dataset.ready = "failed";
  document.getElementById("about").textContent =
    `This page could not be put together (${error.message}). A browser of 2023 or later is needed.`;
  console.error(error);
});
